//! Corrections, removals and undoing: what holds now, and what stays to be read.

use records::facts::Outcome;
use records::{Fact, Kind};
use store::{ActWhat, NewRecord, Store, StoreError};
use units::Moment;

use crate::support::*;

#[test]
fn a_correction_shows_and_what_stood_before_stays() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(2), weighing("2026-02-01", 1420.0)).about(me)], &stamp()).unwrap();
    let mended = NewRecord::new(id(3), weighing("2026-02-01", 142.0)).instead_of(id(2), "a slip");
    store.append(&[mended], &stamp_by("Ines", 60)).unwrap();
    assert_eq!(masses(&store, me), [142.0]);
    let [animal_record, old, new] = &sorted(store.history(me).unwrap())[..] else { panic!("three records") };
    assert_eq!(animal_record.head.kind, Kind::Animal);
    assert_eq!((old.head.id, old.head.corrected_by), (id(2), Some(id(3))));
    assert_eq!(old.fact, weighing("2026-02-01", 1420.0));
    assert_eq!((new.head.corrects, new.head.why.as_deref()), (Some(id(2)), Some("a slip")));
    assert_eq!((new.head.by.as_str(), new.head.animal), ("Ines", Some(me)), "it is about the same animal");
    assert!(new.head.is_current() && !old.head.is_current());
}

#[test]
fn the_newest_of_two_corrections_holds_whichever_record_it_names() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(2), weighing("2026-02-01", 1.0)).about(me)], &stamp()).unwrap();
    for (number, corrects, mass_g) in [(3, 2, 2.0), (4, 2, 3.0), (5, 3, 4.0)] {
        let mended = NewRecord::new(id(number), weighing("2026-02-01", mass_g)).instead_of(id(corrects), "again");
        store.append(&[mended], &stamp()).unwrap();
        assert_eq!(masses(&store, me), [mass_g]);
    }
}

#[test]
fn a_correction_can_move_a_record_to_the_right_animal() {
    let (store, me) = with_animal();
    let other = id(9);
    store.append(&[NewRecord::new(other, Fact::Animal(animal("Moss")))], &stamp()).unwrap();
    store.append(&[NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me)], &stamp()).unwrap();
    let moved = NewRecord::new(id(3), weighing("2026-02-01", 50.0)).about(other).instead_of(id(2), "it was Moss");
    store.append(&[moved], &stamp()).unwrap();
    assert_eq!((masses(&store, me), masses(&store, other)), (vec![], vec![50.0]));
    assert_eq!(store.last(Some(me), "weighing").unwrap(), None);
    store.undo(&store.last_act(None).unwrap().unwrap(), &stamp()).unwrap();
    assert_eq!((masses(&store, me), masses(&store, other)), (vec![50.0], vec![]));
    assert!(store.last(Some(me), "weighing").unwrap().is_some());
}

#[test]
fn only_a_record_of_the_same_kind_replaces_another() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me)], &stamp()).unwrap();
    let wrong = NewRecord::new(id(3), meal("2026-02-01", Outcome::Taken)).instead_of(id(2), "");
    let refused = store.append(&[wrong], &stamp()).unwrap_err();
    assert_eq!(refused.to_string(), "a meal cannot replace a weighing");
    let nothing = NewRecord::new(id(3), weighing("2026-02-01", 5.0)).instead_of(id(77), "");
    assert!(matches!(store.append(&[nothing], &stamp()), Err(StoreError::NotFound(of)) if of == id(77)));
}

#[test]
fn the_name_of_an_animal_stays_when_it_is_corrected() {
    let (store, me) = with_animal();
    let renamed = NewRecord::new(id(2), Fact::Animal(animal("Frond"))).instead_of(me, "spelling");
    store.append(&[renamed], &stamp()).unwrap();
    let again = NewRecord::new(id(3), Fact::Animal(animal("Froned"))).instead_of(id(2), "spelling");
    store.append(&[again], &stamp()).unwrap();
    let all = store.animals(true).unwrap();
    assert_eq!((all.len(), all[0].id, all[0].animal.name.as_deref()), (1, me, Some("Froned")));
    store.append(&[NewRecord::new(id(4), weighing("2026-02-01", 50.0)).about(me)], &stamp()).unwrap();
    assert_eq!(masses(&store, me), [50.0]);
    let about_a_correction = NewRecord::new(id(5), weighing("2026-02-01", 50.0)).about(id(2));
    assert!(matches!(store.append(&[about_a_correction], &stamp()), Err(StoreError::NotFound(_))));
}

#[test]
fn what_is_removed_does_not_show_and_says_who_when_and_why() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me)], &stamp()).unwrap();
    let mended = NewRecord::new(id(3), weighing("2026-02-01", 51.0)).instead_of(id(2), "");
    store.append(&[mended], &stamp()).unwrap();
    store.remove(&[id(3)], "another animal's", &stamp_by("Ines", 99)).unwrap();
    assert_eq!(masses(&store, me), [0.0; 0], "the record that it corrected does not come up again");
    let removed = store.record(id(2)).unwrap().unwrap().head.removed.unwrap();
    assert_eq!((removed.by.as_str(), removed.at), ("Ines", Moment(NOON.0 + 99)));
    assert_eq!(removed.why.as_deref(), Some("another animal's"));
    assert_eq!(store.history(me).unwrap().len(), 3);
    let mended = NewRecord::new(id(4), weighing("2026-02-01", 52.0)).instead_of(id(3), "");
    assert!(matches!(store.append(&[mended], &stamp()), Err(StoreError::Gone(of)) if of == id(3)));
    store.remove(&[id(3)], "again", &stamp()).unwrap();
    assert_eq!(store.record(id(3)).unwrap().unwrap().head.removed.unwrap().by, "Ines", "once is enough");
}

#[test]
fn undoing_twice_goes_back_two_acts() {
    let (store, me) = with_animal();
    for (number, mass_g) in [(2, 50.0), (3, 51.0)] {
        let new = NewRecord::new(id(number), weighing("2026-02-01", mass_g)).about(me);
        let seen = NewRecord::new(id(number + 10), meal("2026-02-01", Outcome::Taken)).about(me);
        store.append(&[new, seen], &stamp()).unwrap();
    }
    let act = store.last_act(None).unwrap().unwrap();
    assert_eq!((act.what, act.words().as_str()), (ActWhat::Entry, "weighing, meal"));
    assert_eq!((act.ids.clone(), act.at, act.by.as_str()), (vec![id(3), id(13)], NOON, "keeper"));
    store.undo(&act, &stamp()).unwrap();
    assert_eq!(masses(&store, me), [50.0]);
    assert!(matches!(store.undo(&act, &stamp()), Err(StoreError::NothingToUndo)), "once is enough");
    store.undo(&store.last_act(None).unwrap().unwrap(), &stamp()).unwrap();
    assert_eq!(masses(&store, me), [0.0; 0]);
    assert!(store.case_of(me, &lisbon()).unwrap().unwrap().timeline.meals.is_empty());
    store.undo(&store.last_act(None).unwrap().unwrap(), &stamp()).unwrap();
    assert_eq!(store.animals(true).unwrap(), [], "the animal was the first entry");
    assert_eq!(store.last_act(None).unwrap(), None);
    assert_eq!(store.history(me).unwrap().len(), 5, "nothing is lost");
}

#[test]
fn an_undoing_can_be_undone() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me)], &stamp()).unwrap();
    for _ in 0..3 {
        store.undo(&store.last_act(None).unwrap().unwrap(), &stamp()).unwrap();
        assert_eq!(masses(&store, me), [0.0; 0]);
        let undone = store.last_undone(None).unwrap().unwrap();
        assert_eq!((undone.what, &undone.ids), (ActWhat::Undoing, &vec![id(2)]));
        store.undo(&undone, &stamp()).unwrap();
        assert_eq!(masses(&store, me), [50.0]);
        assert_eq!(store.last_undone(None).unwrap(), None);
    }
    assert!(store.verify().unwrap().is_sound());
}

#[test]
fn undoing_a_correction_lets_the_older_record_stand_again() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me)], &stamp()).unwrap();
    for (number, mass_g) in [(3, 51.0), (4, 52.0)] {
        let mended = NewRecord::new(id(number), weighing("2026-02-01", mass_g)).instead_of(id(2), "");
        store.append(&[mended], &stamp()).unwrap();
    }
    for before in [51.0, 50.0] {
        store.undo(&store.last_act(None).unwrap().unwrap(), &stamp()).unwrap();
        assert_eq!(masses(&store, me), [before]);
    }
    assert_eq!(store.record(id(2)).unwrap().unwrap().head.corrected_by, None);
}

#[test]
fn undoing_a_removal_puts_the_whole_story_back() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me)], &stamp()).unwrap();
    let mended = NewRecord::new(id(3), weighing("2026-02-01", 51.0)).instead_of(id(2), "");
    store.append(&[mended], &stamp()).unwrap();
    store.remove(&[id(2)], "", &stamp()).unwrap();
    let act = store.last_act(None).unwrap().unwrap();
    assert_eq!((act.what, act.words().as_str()), (ActWhat::Removal, "weighing"));
    store.undo(&act, &stamp()).unwrap();
    assert_eq!(masses(&store, me), [51.0]);
    assert_eq!(store.record(id(2)).unwrap().unwrap().head.corrected_by, Some(id(3)));
}

#[test]
fn each_person_undoes_their_own_last_act() {
    let (store, me) = with_animal();
    for (number, by) in [(2, "Ines"), (3, "Rui")] {
        let new = NewRecord::new(id(number), weighing("2026-02-01", number as f64)).about(me);
        store.append(&[new], &stamp_by(by, 0)).unwrap();
    }
    let act = store.last_act(Some("Ines")).unwrap().unwrap();
    assert_eq!(act.ids, [id(2)]);
    store.undo(&act, &stamp_by("Ines", 5)).unwrap();
    assert_eq!(masses(&store, me), [3.0]);
    assert_eq!(store.last_act(Some("Ines")).unwrap(), None);
    assert_eq!(store.last_act(Some("nobody")).unwrap(), None);
}

#[test]
fn an_animal_goes_only_with_its_records() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me)], &stamp()).unwrap();
    let refused = store.remove(&[me], "entered by mistake", &stamp());
    assert!(matches!(refused, Err(StoreError::InUse { id: of, others: 1 }) if of == me));
    assert_eq!(masses(&store, me), [50.0]);
    store.remove(&[id(2), me], "entered by mistake", &stamp()).unwrap();
    assert_eq!(store.animals(true).unwrap(), []);
    let late = NewRecord::new(id(3), weighing("2026-02-02", 50.0)).about(me);
    assert!(matches!(store.append(&[late], &stamp()), Err(StoreError::NotFound(_))));
}

#[test]
fn an_enclosure_that_someone_lived_in_stays() {
    let (store, me) = with_animal();
    let there = id(5);
    let new = [
        NewRecord::new(there, Fact::Enclosure(enclosure("A", None, None))),
        NewRecord::new(id(6), moves_in("2026-02-01", there)).about(me),
    ];
    store.append(&new, &stamp()).unwrap();
    assert!(matches!(store.remove(&[there], "", &stamp()), Err(StoreError::InUse { others: 1, .. })));
    store.remove(&[there, id(6)], "", &stamp()).unwrap();
    assert_eq!(store.enclosures().unwrap(), []);
    assert_eq!(store.animals(true).unwrap()[0].enclosure, None);
}

#[test]
fn what_is_put_back_needs_its_animal() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me)], &stamp()).unwrap();
    store.remove(&[id(2)], "", &stamp()).unwrap();
    let act = store.last_act(None).unwrap().unwrap();
    store.remove(&[me], "", &stamp()).unwrap();
    assert!(matches!(store.undo(&act, &stamp()), Err(StoreError::Gone(of)) if of == me));
}

#[test]
fn a_second_record_of_the_household_replaces_the_first() {
    let store = Store::in_memory().unwrap();
    for (number, room_c) in [(1, 20.0), (2, 21.0)] {
        let household = records::facts::Household { room_c: Some(room_c), ..Default::default() };
        store.append(&[NewRecord::new(id(number), Fact::Household(household))], &stamp()).unwrap();
    }
    let (which, household) = store.household().unwrap().unwrap();
    assert_eq!((which, household.room_c), (id(2), Some(21.0)));
    assert_eq!(store.record(id(1)).unwrap().unwrap().head.corrected_by, Some(id(2)));
}

#[test]
fn what_was_written_today_is_listed_while_it_holds() {
    let (store, me) = with_animal();
    for (number, later_s) in [(2, 0), (3, 100), (4, 200)] {
        let new = NewRecord::new(id(number), weighing("2026-02-01", 50.0)).about(me);
        store.append(&[new], &stamp_by("Ines", later_s)).unwrap();
    }
    store.remove(&[id(3)], "", &stamp_by("Ines", 150)).unwrap();
    let listed = |from, to| -> Vec<_> {
        let done = store.done_on(Moment(NOON.0 + from), Moment(NOON.0 + to)).unwrap();
        done.iter().map(|one| one.head.id).collect()
    };
    assert_eq!(listed(0, 201), [id(4), id(2), me]);
    assert_eq!(listed(1, 200), []);
}

fn sorted(mut history: Vec<store::Stored>) -> Vec<store::Stored> {
    history.sort_by_key(|one| one.head.seq);
    history
}
