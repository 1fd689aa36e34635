//! What the store does not take.

use records::Fact;
use records::facts::{FreezerLot, Prey};
use store::{NewRecord, Stamp, Store, StoreError};
use units::Zone;

use crate::support::*;

fn refusal(store: &Store, new: &[NewRecord]) -> String {
    store.append(new, &stamp()).unwrap_err().to_string()
}

#[test]
fn all_of_an_act_is_kept_or_nothing() {
    let (store, me) = with_animal();
    let good = NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me);
    let bad = NewRecord::new(id(3), weighing("2026-02-01", 50.0)).about(id(99));
    assert!(matches!(store.append(&[good, bad], &stamp()), Err(StoreError::NotFound(of)) if of == id(99)));
    assert_eq!(store.record(id(2)).unwrap(), None);
    assert_eq!(store.position().unwrap().0, 1);
    assert_eq!(store.last(Some(me), "weighing").unwrap(), None);
}

#[test]
fn a_record_is_about_the_right_thing() {
    let (store, me) = with_animal();
    let there = id(5);
    store.append(&[NewRecord::new(there, Fact::Enclosure(enclosure("A", None, None)))], &stamp()).unwrap();
    let new = |fact| NewRecord::new(id(9), fact);
    let lot = Fact::FreezerLot(FreezerLot { class: Prey::Chick, count: 3, mass_g: None, bought: None });
    let cases = [
        (new(weighing("2026-02-01", 50.0)), "this weighing is about no animal yet"),
        (new(weighing("2026-02-01", 50.0)).at(there), "this weighing is about no animal yet"),
        (new(water("2026-02-01")), "this cleaning is about nothing yet"),
        (new(lot).about(me), "this freezer lot concerns the whole household"),
        (new(fitted("2026-02-01", 20.0)), "this fitted belongs to an enclosure"),
        (new(fitted("2026-02-01", 20.0)).about(me), "this fitted belongs to an enclosure"),
    ];
    for (record, says) in cases {
        assert_eq!(refusal(&store, &[record]), says);
    }
    let swapped = new(weighing("2026-02-01", 50.0)).about(there);
    assert!(matches!(store.append(&[swapped], &stamp()), Err(StoreError::NotFound(_))));
    let nowhere = new(moves_in("2026-02-01", me)).about(me);
    assert!(matches!(store.append(&[nowhere], &stamp()), Err(StoreError::NotFound(_))));
}

#[test]
fn sent_twice_is_kept_once() {
    let (store, me) = with_animal();
    let new = [
        NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me),
        NewRecord::new(id(3), weighing("2026-02-02", 51.0)).about(me),
    ];
    store.append(&new[..1], &stamp()).unwrap();
    assert_eq!(store.append(&new, &stamp_by("Ines", 5)).unwrap(), [id(2), id(3)]);
    store.append(&new, &stamp()).unwrap();
    assert_eq!(masses(&store, me), [50.0, 51.0]);
    let other = NewRecord::new(id(2), weighing("2026-02-01", 99.0)).about(me);
    assert!(matches!(store.append(&[other], &stamp()), Err(StoreError::IdTaken(of)) if of == id(2)));
    let renamed = NewRecord::new(me, Fact::Animal(animal("Moss")));
    assert!(matches!(store.append(&[renamed], &stamp()), Err(StoreError::IdTaken(_))));
}

#[test]
fn somebody_writes_and_in_a_zone_with_a_name() {
    let (store, _) = with_animal();
    let new = [NewRecord::new(id(2), Fact::Enclosure(enclosure("A", None, None)))];
    assert_eq!(store.append(&new, &stamp_by("  ", 0)).unwrap_err().to_string(), "nobody is named as the writer");
    let clock_only = Stamp { zone: Zone::none(), ..stamp() };
    store.append(&new, &clock_only).unwrap();
    assert!(!store.record(id(2)).unwrap().unwrap().head.zone.is_known());
}

#[test]
fn nothing_written_is_nothing_done() {
    let (store, _) = with_animal();
    assert_eq!(store.append(&[], &stamp()).unwrap(), []);
    store.remove(&[], "", &stamp()).unwrap();
    assert_eq!(store.position().unwrap().0, 1);
}

#[test]
fn a_file_is_imported_once_unless_that_was_undone() {
    let (store, me) = with_animal();
    let from_file = |number| NewRecord {
        fingerprint: Some("f1".into()),
        ..NewRecord::new(id(number), weighing("2026-02-01", 50.0)).about(me)
    };
    assert!(!store.import_seen("f1").unwrap());
    store.append(&[from_file(2), from_file(3)], &stamp()).unwrap();
    assert!(store.import_seen("f1").unwrap());
    assert!(!store.import_seen("f2").unwrap());
    store.undo(&store.last_act(None).unwrap().unwrap(), &stamp()).unwrap();
    assert!(!store.import_seen("f1").unwrap());
}

#[test]
fn every_refusal_says_what_to_do() {
    let (store, me) = with_animal();
    let errors = [
        store.append(&[NewRecord::new(id(2), weighing("2026-02-01", -1.0)).about(me)], &stamp()).unwrap_err(),
        store.remove(&[id(44)], "", &stamp()).unwrap_err(),
        Store::open(std::path::Path::new("/nowhere/at/all"), store::Access::Read).unwrap_err(),
    ];
    let shown: Vec<String> = errors.iter().map(|error| format!("{error}\n  mend: {}", error.mend())).collect();
    insta::assert_snapshot!(shown.join("\n"), @r"
    `mass_g` cannot be -1
      mend: give it in grams, between 0.1 and 250000; leave it out when it is not known
    there is no record 019ca945-0a00-7000-8000-00000000002c
      mend: look it up in the list
    there are no records in /nowhere/at/all
      mend: name the right folder, or begin by adding an animal
    ");
}
