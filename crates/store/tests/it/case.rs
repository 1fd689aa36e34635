//! The case of an animal, put together from the records.

use records::facts::{Household, Override, Planned, PlannedWhat, Power, Seen};
use records::{Fact, Kind};
use store::{NewRecord, Store, StoreError};

use crate::support::*;

/// Fern in «old» from January on, in «new» from February on; Moss in «old» all the time.
fn house() -> Store {
    let (store, fern) = with_animal();
    let (moss, old, new) = (id(2), id(101), id(102));
    let records = [
        NewRecord::new(moss, Fact::Animal(animal("Moss"))),
        NewRecord::new(old, Fact::Enclosure(enclosure("old", None, None))),
        NewRecord::new(new, Fact::Enclosure(enclosure("new", None, None))),
        NewRecord::new(id(11), moves_in("2026-01-01", old)).about(fern),
        NewRecord::new(id(12), moves_in("2026-02-01", new)).about(fern),
        NewRecord::new(id(13), moves_in("2026-01-01", old)).about(moss),
    ];
    store.append(&records, &stamp()).unwrap();
    store
}

fn case(store: &Store, number: u64) -> records::Case {
    store.case_of(id(number), &lisbon()).unwrap().unwrap()
}

#[test]
fn a_case_holds_what_was_read_where_the_animal_lives_since_it_moved_in() {
    let store = house();
    let new = [
        NewRecord::new(id(20), warm("2026-01-15T20:00", 30.0)).about(id(1)),
        NewRecord::new(id(21), warm("2026-01-20T20:00", 31.0)).at(id(102)),
        NewRecord::new(id(22), warm("2026-02-01", 32.0)).at(id(102)),
        NewRecord::new(id(23), warm("2026-02-03T20:00", 33.0)).about(id(1)),
        NewRecord::new(id(24), water("2026-02-04")).at(id(101)),
    ];
    store.append(&new, &stamp()).unwrap();
    let degrees = |number| -> Vec<_> {
        case(&store, number).timeline.readings.iter().map(|one| one.temperature_c.unwrap()).collect()
    };
    assert_eq!(degrees(1), [32.0, 33.0], "on the day of the move, and noted while looking at it");
    assert_eq!(degrees(2), [30.0], "Fern lived there when it was noted");
    assert_eq!(case(&store, 2).timeline.cleanings.len(), 1);
    assert_eq!(case(&store, 1).timeline.cleanings.len(), 0);
    assert_eq!(case(&store, 1).enclosure.unwrap().name.as_deref(), Some("new"));
}

#[test]
fn an_animal_without_an_enclosure_has_its_own_readings() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(20), warm("2026-01-15T20:00", 30.0)).about(me)], &stamp()).unwrap();
    assert_eq!(case(&store, 1).timeline.readings.len(), 1);
    assert_eq!(case(&store, 1).enclosure, None);
    assert_eq!(store.last(Some(me), "reading").unwrap().unwrap().head.id, id(20));
}

#[test]
fn what_holds_for_everyone_is_in_every_case() {
    let store = house();
    let away = Planned { from: when("2026-04-01"), until: None, sitter: Some(true), what: PlannedWhat::KeeperAway };
    let visit = Planned { what: PlannedWhat::Visit, ..away.clone() };
    let out = Power { from: when("2026-01-05T10:00"), until: Some(when("2026-01-05T12:00")) };
    let reason = "the veterinarian says so".to_owned();
    let value = Override { path: "temperature.night_min_c".into(), low: 20.0, high: 22.0, reason };
    let new = [
        NewRecord::new(id(30), Fact::Planned(away)),
        NewRecord::new(id(31), Fact::Planned(visit)).about(id(2)),
        NewRecord::new(id(32), Fact::Power(out)),
        NewRecord::new(id(33), Fact::Override(value)).about(id(1)),
        NewRecord::new(id(34), Fact::Seen(Seen { at: when("2026-02-02T10:00") })).at(id(102)),
    ];
    store.append(&new, &stamp()).unwrap();
    let (fern, moss) = (case(&store, 1), case(&store, 2));
    assert_eq!((fern.timeline.planned.len(), moss.timeline.planned.len()), (1, 2));
    assert_eq!((fern.timeline.power.len(), moss.timeline.power.len()), (1, 1));
    assert_eq!((fern.overrides.len(), moss.overrides.len()), (1, 0));
    assert_eq!((fern.timeline.seen.len(), moss.timeline.seen.len()), (1, 0));
}

#[test]
fn a_value_of_its_own_holds_for_those_whose_case_has_it() {
    let store = house();
    let own = |low| {
        let path = "temperature.night_min_c".to_owned();
        Fact::Override(Override { path, low, high: 25.0, reason: "the veterinarian says so".into() })
    };
    let new = [
        NewRecord::new(id(30), own(20.0)).about(id(1)),
        NewRecord::new(id(31), own(21.0)).at(id(101)),
        NewRecord::new(id(32), own(22.0)),
        NewRecord::new(id(33), own(23.0)).about(id(2)),
    ];
    store.append(&new, &stamp()).unwrap();
    store.remove(&[id(33)], "", &stamp()).unwrap();
    let all = store.own_values().unwrap();
    for row in store.animals(false).unwrap() {
        let held = all.iter().filter(|own| own.holds_for(row.id, row.enclosure)).map(|own| own.value.low);
        let case = store.case_of(row.id, &lisbon()).unwrap().unwrap();
        let of_case: Vec<f64> = case.overrides.iter().map(|own| own.low).collect();
        assert_eq!(held.collect::<Vec<_>>(), of_case, "{:?}", row.animal.name);
        assert_eq!(of_case.len(), 2, "its own or its enclosure's, and the one that is for all");
    }
}

#[test]
fn keys_name_the_record_that_can_be_opened() {
    let store = house();
    let new = [
        NewRecord::new(id(20), weighing("2026-02-10", 51.0)).about(id(1)),
        NewRecord::new(id(21), weighing("2026-02-03", 50.0)).about(id(1)),
    ];
    store.append(&new, &stamp()).unwrap();
    let mended = NewRecord::new(id(22), weighing("2026-02-03", 49.0)).instead_of(id(21), "");
    store.append(&[mended], &stamp()).unwrap();
    let case = case(&store, 1);
    let keys: Vec<_> = case.timeline.weighings.iter().map(|one| (one.key.index, one.key.id)).collect();
    assert_eq!(keys, [(0, Some(id(22))), (1, Some(id(20)))]);
    assert_eq!((case.animal.key.kind, case.animal.key.id), (Kind::Animal, Some(id(1))));
    assert_eq!(case.enclosure.unwrap().key.id, Some(id(102)));
}

#[test]
fn others_in_the_house_and_in_the_enclosure_are_counted() {
    let store = house();
    let (fern, moss) = (case(&store, 1), case(&store, 2));
    assert_eq!(fern.household.unwrap().other_reptiles, Some(true));
    assert_eq!(fern.enclosure.unwrap().cohabitants, Some(0));
    assert_eq!(moss.enclosure.unwrap().cohabitants, Some(0));
    store.append(&[NewRecord::new(id(40), moves_in("2026-02-20", id(101))).about(id(1))], &stamp()).unwrap();
    assert_eq!(case(&store, 2).enclosure.unwrap().cohabitants, Some(1));

    let (alone, _) = with_animal();
    assert_eq!(case(&alone, 1).household, None);
    let household = Household { other_reptiles: Some(false), ..Household::default() };
    alone.append(&[NewRecord::new(id(2), Fact::Household(household))], &stamp()).unwrap();
    assert_eq!(case(&alone, 1).household.unwrap().other_reptiles, Some(false));
    alone.append(&[NewRecord::new(id(3), Fact::Animal(animal("Moss")))], &stamp()).unwrap();
    assert_eq!(case(&alone, 1).household.unwrap().other_reptiles, Some(true));
}

#[test]
fn an_age_told_in_months_goes_on() {
    let store = Store::in_memory().unwrap();
    let mut young = animal("Fern");
    young.age_months = Some(4.0);
    store.append(&[NewRecord::new(id(1), Fact::Animal(young.clone()))], &stamp()).unwrap();
    let hatched = when("2025-10");
    assert_eq!((case(&store, 1).animal.hatched, case(&store, 1).animal.age_months), (Some(hatched), None));
    young.name = Some("Frond".into());
    let renamed = NewRecord::new(id(2), Fact::Animal(young)).instead_of(id(1), "");
    store.append(&[renamed], &stamp_by("keeper", 200 * 86_400)).unwrap();
    assert_eq!(case(&store, 1).animal.hatched, Some(hatched), "it was told when it was first written");
    assert_eq!(store.animals(true).unwrap()[0].animal.age_months, Some(4.0), "the record is as it was written");
}

#[test]
fn each_case_is_the_case_and_the_store_can_be_used_meanwhile() {
    let store = house();
    store.append(&[NewRecord::new(id(20), weighing("2026-02-10", 51.0)).about(id(1))], &stamp()).unwrap();
    let mut seen = Vec::new();
    let mut each = |animal, found: records::Case| {
        assert_eq!(found, case(&store, if animal == id(1) { 1 } else { 2 }));
        store.set_setting("seen", Some("yes"))?;
        seen.push(animal);
        Ok(())
    };
    store.each_case(&lisbon(), &mut each).unwrap();
    assert_eq!(seen, [id(1), id(2)]);
    let stop = store.each_case(&lisbon(), &mut |_, _| Err(StoreError::NothingToUndo));
    assert!(matches!(stop, Err(StoreError::NothingToUndo)));
}

#[test]
fn nobody_has_no_case() {
    let store = house();
    assert_eq!(store.case_of(id(101), &lisbon()).unwrap(), None);
    assert_eq!(store.case_of(id(999), &lisbon()).unwrap(), None);
}
