//! Answers that are kept, and what makes them stale.

use records::facts::{Ending, EndingWhat, FreezerLot, Prey, Sign, SignKind};
use records::{Fact, RecordId};
use store::{NewRecord, Position, Reckoned, Store};
use units::Moment;

use crate::support::*;

fn answer(animal: RecordId) -> Reckoned {
    Reckoned {
        animal,
        answer: format!("{{\"for\":\"{animal}\"}}"),
        rules_version: "r1".into(),
        reckoned_for: NOON,
        valid_until: Some(Moment(NOON.0 + 3_600)),
        stale: false,
    }
}

/// Four animals: 1 and 2 share an enclosure, 3 stands in the same room, 4 in another; all answers are kept.
fn house() -> Store {
    let store = Store::in_memory().unwrap();
    let mut new = Vec::new();
    for (number, room) in [(101, "east"), (103, "east"), (104, "west")] {
        new.push(NewRecord::new(id(number), Fact::Enclosure(enclosure("e", Some(room), None))));
    }
    for (number, home) in [(1, 101), (2, 101), (3, 103), (4, 104)] {
        new.push(NewRecord::new(id(number), Fact::Animal(animal("a"))));
        new.push(NewRecord::new(id(number + 50), moves_in("2026-01-01", id(home))).about(id(number)));
    }
    store.append(&new, &stamp()).unwrap();
    keep_all(&store);
    store
}

fn keep_all(store: &Store) {
    let all: Vec<_> = (1..=4).map(|number| answer(id(number))).collect();
    store.keep_reckoned(&all, store.position().unwrap()).unwrap();
    assert_eq!(stale(store), [0; 0]);
}

/// The numbers of the animals whose answer must be reckoned anew at noon.
fn stale(store: &Store) -> Vec<u64> {
    let stale = store.next_stale("r1", NOON, 100).unwrap();
    (1..=200).filter(|number| stale.contains(&id(*number))).collect()
}

#[test]
fn a_record_makes_stale_what_rests_on_it_and_nothing_else() {
    let sign = |sign| Fact::Sign(Sign { at: when("2026-02-01"), sign, grade: None, cleared_at: None, note: None });
    let left = Fact::Ending(Ending { at: when("2026-02-01"), what: EndingWhat::Sold, note: None });
    let lot = Fact::FreezerLot(FreezerLot { class: Prey::Chick, count: 1, mass_g: None, bought: None });
    let renamed = NewRecord::new(id(90), Fact::Enclosure(enclosure("f", Some("east"), None))).instead_of(id(103), "");
    let cases: [(NewRecord, &[u64]); 8] = [
        (NewRecord::new(id(90), weighing("2026-02-01", 50.0)).about(id(1)), &[1]),
        (NewRecord::new(id(90), water("2026-02-01")).at(id(101)), &[1, 2]),
        (NewRecord::new(id(90), warm("2026-02-01", 31.0)).about(id(3)), &[3]),
        (NewRecord::new(id(90), sign(SignKind::MitesSeen)).about(id(1)), &[1, 2, 3]),
        (NewRecord::new(id(90), moves_in("2026-02-01", id(104))).about(id(3)), &[1, 2, 3, 4]),
        (NewRecord::new(id(90), left).about(id(4)), &[]),
        (NewRecord::new(id(90), lot), &[1, 2, 3, 4]),
        (renamed, &[1, 2, 3]),
    ];
    for (record, expected) in cases {
        let store = house();
        store.append(std::slice::from_ref(&record), &stamp()).unwrap();
        assert_eq!(stale(&store), expected, "{record:?}");
        keep_all_but_gone(&store);
        store.undo(&store.last_act(None).unwrap().unwrap(), &stamp()).unwrap();
        let back = stale(&store);
        assert!(expected.iter().all(|number| back.contains(number)), "undone: {record:?}");
    }
}

fn keep_all_but_gone(store: &Store) {
    let all: Vec<_> = (1..=4).map(|number| answer(id(number))).collect();
    store.keep_reckoned(&all, store.position().unwrap()).unwrap();
}

#[test]
fn what_was_written_while_reckoning_keeps_the_answer_stale() {
    let store = house();
    let seen = store.position().unwrap();
    store.append(&[NewRecord::new(id(90), weighing("2026-02-01", 50.0)).about(id(1))], &stamp()).unwrap();
    store.keep_reckoned(&[answer(id(1)), answer(id(2))], seen).unwrap();
    assert_eq!(stale(&store), [1]);
    let mut kept = Vec::new();
    let mut each = |one: Reckoned| {
        kept.push(one.stale);
        Ok(())
    };
    store.reckoned(Some(&[id(2), id(1)]), &mut each).unwrap();
    assert_eq!(kept, [false, true]);
}

#[test]
fn an_answer_is_stale_past_its_time_before_it_and_under_other_rules() {
    let store = house();
    let count = |rules, later_s| store.next_stale(rules, Moment(NOON.0 + later_s), 100).unwrap().len();
    assert_eq!(count("r1", 0), 0);
    assert_eq!(count("r1", 3_599), 0);
    assert_eq!(count("r1", 3_600), 4);
    assert_eq!(count("r1", -1), 4);
    assert_eq!(count("r2", 0), 4);
    assert_eq!(store.next_stale("r2", NOON, 3).unwrap().len(), 3);
    let forever = Reckoned { valid_until: None, ..answer(id(1)) };
    store.keep_reckoned(&[forever], store.position().unwrap()).unwrap();
    assert_eq!(count("r1", 1_000_000), 3);
}

#[test]
fn a_new_animal_has_no_answer_yet_and_a_removed_one_none_any_more() {
    let store = house();
    store.append(&[NewRecord::new(id(5), Fact::Animal(animal("new")))], &stamp()).unwrap();
    assert_eq!(stale(&store), [5]);
    store.keep_reckoned(&[answer(id(5))], store.position().unwrap()).unwrap();
    store.undo(&store.last_act(None).unwrap().unwrap(), &stamp()).unwrap();
    store.keep_reckoned(&[answer(id(5))], store.position().unwrap()).unwrap();
    let mut kept = 0;
    let mut each = |_: Reckoned| {
        kept += 1;
        Ok(())
    };
    store.reckoned(None, &mut each).unwrap();
    assert_eq!(kept, 4);
}

#[test]
fn the_second_animal_of_a_house_bears_on_the_first() {
    let (store, me) = with_animal();
    store.keep_reckoned(&[answer(me)], store.position().unwrap()).unwrap();
    store.append(&[NewRecord::new(id(2), Fact::Animal(animal("Moss")))], &stamp()).unwrap();
    assert_eq!(stale(&store), [1, 2]);
}

#[test]
fn what_is_last_is_kept_by_date_and_can_be_made_anew() {
    let store = house();
    let new = [
        NewRecord::new(id(90), water("2026-02-03")).at(id(101)),
        NewRecord::new(id(91), water("2026-02-01")).about(id(1)),
        NewRecord::new(id(92), meal("2026-02-01", records::facts::Outcome::Taken)).about(id(1)),
        NewRecord::new(id(93), meal("2026-02-08", records::facts::Outcome::Refused)).about(id(1)),
    ];
    store.append(&new, &stamp()).unwrap();
    let last = |subject, what| store.last(Some(subject), what).unwrap().map(|stored| stored.head.id);
    let check = || {
        assert_eq!(last(id(101), "cleaning-water"), Some(id(90)));
        assert_eq!(last(id(101), "cleaning"), Some(id(90)));
        assert_eq!(last(id(101), "cleaning-full"), None);
        assert_eq!(last(id(1), "meal"), Some(id(93)));
        assert_eq!(last(id(1), "meal-taken"), Some(id(92)));
        assert_eq!(last(id(2), "meal"), None);
    };
    check();
    let rebuilt = store.rebuild().unwrap();
    check();
    // Enclosures 3, animals 4, stays 4; cleaning, cleaning-water, meal, meal-taken.
    assert_eq!((rebuilt.last, rebuilt.animals), (15, 4));
    assert_eq!(stale(&store), [1, 2, 3, 4], "answers are reckoned anew");
    store.remove(&[id(90)], "", &stamp()).unwrap();
    assert_eq!(last(id(101), "cleaning-water"), Some(id(91)));
}

#[test]
fn answers_come_in_pages_and_the_store_can_be_used_meanwhile() {
    let store = Store::in_memory().unwrap();
    let new: Vec<_> = (1..=250).map(|number| NewRecord::new(id(number), Fact::Animal(animal("a")))).collect();
    store.append(&new, &stamp()).unwrap();
    let all: Vec<_> = (1..=250).map(|number| answer(id(number))).collect();
    store.keep_reckoned(&all, store.position().unwrap()).unwrap();
    let mut kept = Vec::new();
    let mut each = |one: Reckoned| {
        store.set_setting("reached", Some(&one.animal.to_string()))?;
        kept.push(one);
        Ok(())
    };
    store.reckoned(None, &mut each).unwrap();
    assert_eq!(kept, all);
}

#[test]
fn settings_are_kept_until_they_are_cleared() {
    let store = Store::in_memory().unwrap();
    store.set_setting("units", Some("metric")).unwrap();
    store.set_setting("zone", Some("Europe/Lisbon")).unwrap();
    store.set_setting("units", Some("imperial")).unwrap();
    assert_eq!(store.setting("units").unwrap().as_deref(), Some("imperial"));
    store.set_setting("units", None).unwrap();
    assert_eq!(store.setting("units").unwrap(), None);
    assert_eq!(store.settings().unwrap(), [("zone".to_owned(), "Europe/Lisbon".to_owned())]);
    assert_eq!(store.position().unwrap(), Position(0), "a setting is no record");
}
