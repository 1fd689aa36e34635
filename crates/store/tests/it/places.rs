//! Animals, enclosures, and who lives where.

use records::facts::{Ending, EndingWhat, FreezerLot, Heater, HeaterKind, Prey};
use records::{Fact, RecordId};
use store::{NewRecord, Store};

use crate::support::*;

fn ends(at: &str, what: EndingWhat) -> Fact {
    Fact::Ending(Ending { at: when(at), what, note: None })
}

/// Two rooms, four enclosures, five animals:
/// east/1: Ash, Briar; east/2: Clover; west/10: Dill; nowhere: Elm.
fn house() -> Store {
    let store = Store::in_memory().unwrap();
    let mut new = Vec::new();
    for (number, name, room, walk) in [
        (101, "west 10", "west", None),
        (102, "west 9", "west", None),
        (103, "a", "east", Some(2.0)),
        (104, "b", "east", Some(1.0)),
    ] {
        new.push(NewRecord::new(id(number), Fact::Enclosure(enclosure(name, Some(room), walk))));
    }
    for (number, name, home) in [
        (5, "Elm", None),
        (4, "Dill", Some(101)),
        (3, "Clover", Some(103)),
        (2, "Briar", Some(104)),
        (1, "Ash", Some(104)),
    ] {
        new.push(NewRecord::new(id(number), Fact::Animal(animal(name))));
        let stay = home.map(|home| NewRecord::new(id(number + 50), moves_in("2026-01-01", id(home))).about(id(number)));
        new.extend(stay);
    }
    store.append(&new, &stamp()).unwrap();
    store
}

fn names(rows: &[store::AnimalRow]) -> Vec<&str> {
    rows.iter().filter_map(|row| row.animal.name.as_deref()).collect()
}

#[test]
fn animals_come_in_the_order_of_the_walk() {
    let store = house();
    let rows = store.animals(false).unwrap();
    assert_eq!(names(&rows), ["Ash", "Briar", "Clover", "Dill", "Elm"]);
    assert_eq!((rows[0].room.as_deref(), rows[0].enclosure_name.as_deref()), (Some("east"), Some("b")));
    assert_eq!((rows[4].enclosure, rows[4].room.as_deref()), (None, None));
    let enclosures: Vec<_> = store.enclosures().unwrap().into_iter().filter_map(|row| row.enclosure.name).collect();
    assert_eq!(enclosures, ["b", "a", "west 9", "west 10"]);
}

#[test]
fn an_animal_lives_where_it_moved_last_by_date() {
    let store = house();
    let later = NewRecord::new(id(60), moves_in("2026-02-01", id(102))).about(id(1));
    let entered_late = NewRecord::new(id(61), moves_in("2026-01-15", id(103))).about(id(1));
    store.append(&[later], &stamp()).unwrap();
    store.append(&[entered_late], &stamp()).unwrap();
    let ash = &store.find_animal("ash").unwrap()[0];
    assert_eq!(ash.enclosure, Some(id(102)));
    store.remove(&[id(60)], "", &stamp()).unwrap();
    assert_eq!(store.find_animal("ash").unwrap()[0].enclosure, Some(id(103)));
}

#[test]
fn who_left_for_good_is_listed_only_when_asked_for() {
    let store = house();
    let new = [
        NewRecord::new(id(70), ends("2026-02-01", EndingWhat::Died)).about(id(1)),
        NewRecord::new(id(71), ends("2026-02-01", EndingWhat::Lent)).about(id(2)),
        NewRecord::new(id(72), ends("2026-02-01", EndingWhat::Lent)).about(id(3)),
        NewRecord::new(id(73), ends("2026-02-05", EndingWhat::Returned)).about(id(3)),
    ];
    store.append(&new, &stamp()).unwrap();
    let rows = store.animals(false).unwrap();
    assert_eq!(names(&rows), ["Briar", "Clover", "Dill", "Elm"]);
    assert_eq!(rows[0].ending.as_ref().unwrap().what, EndingWhat::Lent);
    assert_eq!(rows[1].ending, None);
    assert_eq!(store.animals(true).unwrap().len(), 5);
    assert_eq!(store.enclosures().unwrap()[0].animals, [id(2)]);
}

#[test]
fn an_animal_is_found_by_name_id_or_beginning() {
    let store = house();
    assert_eq!(names(&store.find_animal("CLOVER").unwrap()), ["Clover"]);
    assert_eq!(names(&store.find_animal("di").unwrap()), ["Dill"]);
    assert_eq!(names(&store.find_animal(&id(5).to_string()).unwrap()), ["Elm"]);
    assert_eq!(store.find_animal("yew").unwrap(), []);
    assert_eq!(store.find_enclosure("West").unwrap().len(), 2);
    assert_eq!(store.find_enclosure("a").unwrap()[0].id, id(103));
    let twin = NewRecord::new(id(6), Fact::Animal(animal("ash")));
    store.append(&[twin, NewRecord::new(id(70), ends("2026-02-01", EndingWhat::Sold)).about(id(1))], &stamp()).unwrap();
    let both: Vec<RecordId> = store.find_animal("ash").unwrap().iter().map(|row| row.id).collect();
    assert_eq!(both, [id(6), id(1)], "who is here comes first");
}

#[test]
fn neighbours_share_the_room_or_may_do_so() {
    let store = house();
    store.append(&[NewRecord::new(id(70), ends("2026-02-01", EndingWhat::Died)).about(id(2))], &stamp()).unwrap();
    let near = store.neighbours(id(1)).unwrap();
    let near: Vec<_> = near.iter().map(|one| (one.animal, one.same_enclosure, one.same_room)).collect();
    assert_eq!(near, [(id(2), true, true), (id(3), false, true), (id(5), false, false)]);
    let died = store.neighbours(id(3)).unwrap().into_iter().find(|one| one.animal == id(2)).unwrap();
    assert_eq!(died.ending.unwrap().what, EndingWhat::Died);
    store.append(&[NewRecord::new(id(71), ends("2026-02-01", EndingWhat::Sold)).about(id(3))], &stamp()).unwrap();
    assert_eq!(store.neighbours(id(1)).unwrap().len(), 2);
    assert_eq!(store.neighbours(id(99)).unwrap(), []);
}

#[test]
fn an_enclosure_lists_heaters_and_who_lives_in_it() {
    let store = house();
    let heater = Heater::of(HeaterKind::Mat);
    // Noted while looking at Ash, it belongs to the enclosure that Ash lives in.
    store.append(&[NewRecord::new(id(80), Fact::Heater(heater.clone())).about(id(1))], &stamp()).unwrap();
    let first = &store.enclosures().unwrap()[0];
    assert_eq!((first.id, &first.animals), (id(104), &vec![id(1), id(2)]));
    assert_eq!((first.heaters.len(), first.heaters[0].key.id), (1, Some(id(80))));
    assert_eq!(first.heaters[0].it, heater);
}

#[test]
fn the_freezer_lists_lots_oldest_first_by_their_last_count() {
    let store = Store::in_memory().unwrap();
    let lot = |count, bought: &str| {
        Fact::FreezerLot(FreezerLot { class: Prey::MouseHopper, count, mass_g: Some(9.0), bought: Some(when(bought)) })
    };
    let new = [NewRecord::new(id(1), lot(50, "2026-02-01")), NewRecord::new(id(2), lot(20, "2025-11"))];
    store.append(&new, &stamp()).unwrap();
    let counted = NewRecord::new(id(3), lot(19, "2025-11")).instead_of(id(2), "counted");
    store.append(&[counted], &stamp()).unwrap();
    let lots: Vec<_> = store.freezer().unwrap().iter().map(|lot| (lot.key.id, lot.key.index, lot.count)).collect();
    assert_eq!(lots, [(Some(id(3)), 0, 19), (Some(id(1)), 1, 50)]);
}

/// The watts that the last log of an enclosure was fitted with.
fn watts(store: &Store, enclosure: RecordId) -> Option<f64> {
    let rows = store.enclosures().unwrap();
    rows.into_iter().find(|row| row.id == enclosure).unwrap().fitted.map(|fitted| fitted.it.watts)
}

#[test]
fn of_several_logs_the_one_that_ends_last_holds() {
    let store = house();
    assert_eq!(watts(&store, id(104)), None);
    let new = [
        NewRecord::new(id(80), fitted("2026-02-14T12:00", 20.0)).at(id(104)),
        NewRecord::new(id(81), fitted("2026-01-14T12:00", 30.0)).at(id(104)),
        NewRecord::new(id(82), fitted("2026-02-14T12:00", 40.0)).at(id(103)),
    ];
    store.append(&new[..1], &stamp()).unwrap();
    store.append(&new[1..], &stamp()).unwrap();
    assert_eq!((watts(&store, id(104)), watts(&store, id(103))), (Some(20.0), Some(40.0)));
    let again = NewRecord::new(id(83), fitted("2026-02-14T12:00", 25.0)).at(id(104));
    store.append(&[again], &stamp()).unwrap();
    assert_eq!(watts(&store, id(104)), Some(25.0), "of two that end together the newest");
    assert_eq!(store.last(Some(id(104)), "fitted").unwrap().unwrap().head.id, id(83));
    store.undo(&store.last_act(None).unwrap().unwrap(), &stamp()).unwrap();
    assert_eq!(watts(&store, id(104)), Some(20.0));
    store.remove(&[id(80)], "the probe had fallen", &stamp()).unwrap();
    assert_eq!(watts(&store, id(104)), Some(30.0));
    let history = store.history_of_enclosure(id(104)).unwrap();
    assert_eq!(history.iter().filter(|stored| matches!(stored.fact, Fact::Fitted(_))).count(), 3, "all are told of");
}

#[test]
fn an_enclosure_is_told_as_it_stood_when_its_log_was_kept() {
    let store = house();
    let heater = |watts| Fact::Heater(Heater { watts: Some(watts), ..Heater::of(HeaterKind::Panel) });
    let named = |name| Fact::Enclosure(enclosure(name, Some("east"), None));
    store.append(&[NewRecord::new(id(70), heater(80.0)).at(id(104))], &stamp()).unwrap();
    store.append(&[NewRecord::new(id(71), heater(20.0)).at(id(104))], &stamp()).unwrap();
    store.remove(&[id(71)], "typed twice", &stamp()).unwrap();
    store.append(&[NewRecord::new(id(80), fitted("2026-02-14T12:00", 80.0)).at(id(104))], &stamp()).unwrap();
    store.append(&[NewRecord::new(id(72), heater(60.0)).instead_of(id(70), "a new one")], &stamp()).unwrap();
    store.append(&[NewRecord::new(id(73), named("c")).instead_of(id(104), "renamed")], &stamp()).unwrap();
    store.append(&[NewRecord::new(id(81), fitted("2026-02-20T12:00", 60.0)).at(id(104))], &stamp()).unwrap();
    let told = |record| {
        let (enclosure, heaters) = store.enclosure_when(id(record)).unwrap().unwrap();
        (enclosure.name.unwrap(), heaters.iter().map(|one| one.watts.unwrap()).collect::<Vec<_>>())
    };
    assert_eq!(told(80), ("b".to_owned(), vec![80.0]));
    assert_eq!(told(81), ("c".to_owned(), vec![60.0]));
    // What is taken back later was there all the same.
    store.remove(&[id(72)], "it was the old one after all", &stamp()).unwrap();
    assert_eq!(told(81), ("c".to_owned(), vec![60.0]));
    assert_eq!((store.enclosure_when(id(1)).unwrap(), store.enclosure_when(id(99)).unwrap()), (None, None));
}

#[test]
fn readings_of_an_enclosure_are_those_of_a_span_oldest_first() {
    let store = house();
    let new = [
        NewRecord::new(id(80), warm("2026-02-10T20:00", 31.0)).at(id(104)),
        NewRecord::new(id(81), warm("2026-02-01T20:00", 30.0)).about(id(1)),
        NewRecord::new(id(82), warm("2025-11-01T20:00", 28.0)).at(id(104)),
        NewRecord::new(id(83), warm("2026-02-20T20:00", 33.0)).at(id(104)),
        NewRecord::new(id(84), warm("2026-02-09T20:00", 29.0)).at(id(103)),
        NewRecord::new(id(85), warm("2026-02-09T20:00", 35.0)).at(id(104)),
    ];
    store.append(&new, &stamp()).unwrap();
    store.remove(&[id(85)], "read wrongly", &stamp()).unwrap();
    let span = |from: &str, to: &str| -> Vec<f64> {
        let readings = store.readings_of(id(104), when(from).from, when(to).from).unwrap();
        readings.into_iter().filter_map(|one| one.temperature_c).collect()
    };
    assert_eq!(span("2026-02-01T20:00", "2026-02-10T20:00"), [30.0, 31.0], "both ends are part of it");
    assert_eq!(span("2025-01-01", "2026-03-01"), [28.0, 30.0, 31.0, 33.0]);
    assert_eq!(span("2026-02-11", "2026-02-12"), [0.0; 0]);
}
