//! Every kind of record, written and read back.

use proptest::prelude::*;
use records::choice::Choice;
use records::facts::Subject;
use records::{Fact, Kind};
use store::{NewRecord, Stamp, Store, StoreError};
use units::Zone;

use crate::facts;
use crate::support::*;

fn zones() -> [Zone; 3] {
    [Zone::none(), lisbon(), Zone::named("America/St_Johns").unwrap()]
}

/// An animal (1) in an enclosure (2).
fn household() -> Store {
    let store = Store::in_memory().unwrap();
    let new = [
        NewRecord::new(id(1), Fact::Animal(animal("Fern"))),
        NewRecord::new(id(2), Fact::Enclosure(enclosure("A", None, None))),
        NewRecord::new(id(3), moves_in("1970-01-01", id(2))).about(id(1)),
    ];
    store.append(&new, &stamp()).unwrap();
    store
}

fn about(number: u64, fact: Fact) -> NewRecord {
    let new = NewRecord::new(id(number), fact);
    match (new.fact.kind(), new.fact.kind().subject()) {
        (Kind::Animal | Kind::Enclosure, _) | (_, Subject::Household) => new,
        (_, Subject::Animal) => new.about(id(1)),
        (_, Subject::Enclosure) => new.at(id(2)),
    }
}

fn zone_and_fact() -> impl Strategy<Value = (Zone, Fact)> {
    (0..3usize).prop_flat_map(|at| {
        let zone = zones()[at].clone();
        (Just(zone.clone()), facts::fact(&zone))
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(80) })]

    #[test]
    fn any_record_comes_back_as_it_was_written(written in proptest::collection::vec(zone_and_fact(), 12)) {
        let store = household();
        for (number, (zone, fact)) in (10..).zip(&written) {
            let stamp = Stamp { recorded_at: NOON, zone: zone.clone(), by: "keeper".into() };
            store.append(&[about(number, fact.clone())], &stamp).unwrap();
        }
        for (number, (zone, fact)) in (10..).zip(&written) {
            let back = store.record(id(number)).unwrap().unwrap();
            prop_assert_eq!(&back.fact, fact);
            prop_assert_eq!(back.head.happened, fact.when());
            prop_assert_eq!(&back.head.zone, zone);
            prop_assert_eq!(back.head.removed, None);
        }
        prop_assert!(store.verify().unwrap().is_sound());
    }
}

#[test]
fn every_word_that_can_be_chosen_can_be_kept() {
    let store = household();
    let mut new = Vec::new();
    for kind in Kind::ALL {
        // One record of each kind with each word, read from the same fields as a form gives them.
        for (key, words) in words(*kind) {
            for word in words {
                let mut pairs = least(*kind);
                pairs.retain(|(name, _)| *name != key);
                pairs.push((key, word.clone()));
                let given = records::fields::Given {
                    pairs: pairs.iter().map(|(k, v)| ((*k).to_owned(), records::Raw::Text(v.clone()))).collect(),
                    origin: "form".into(),
                };
                let zone = lisbon();
                let mut reader = records::Reader::new(&given, &zone);
                let fact = Fact::read(*kind, &mut reader);
                assert_eq!(reader.finish(), [], "{kind} {key} {word}");
                new.push(about(100 + new.len() as u64, fact.unwrap()));
            }
        }
    }
    assert!(150 < new.len());
    store.append(&new, &stamp()).unwrap();
    for record in &new {
        assert_eq!(store.record(record.id).unwrap().unwrap().fact, record.fact);
    }
}

fn keys<T: Choice>() -> Vec<String> {
    T::keys().map(str::to_owned).collect()
}

fn words(kind: Kind) -> Vec<(&'static str, Vec<String>)> {
    use records::facts::*;
    match kind {
        Kind::Animal => vec![("sex", keys::<Sex>()), ("stage", keys::<Stage>())],
        Kind::Enclosure => vec![("lid", keys::<Lid>()), ("stands_on", keys::<Stand>())],
        Kind::Heater => {
            vec![("kind", keys::<HeaterKind>()), ("thermostat", keys::<Thermostat>()), ("probe", keys::<Spot>())]
        }
        Kind::Ending => vec![("what", keys::<EndingWhat>())],
        Kind::Meal => vec![
            ("prey", keys::<Prey>()),
            ("outcome", keys::<Outcome>()),
            ("state", keys::<PreyState>()),
            ("thawed", keys::<Thawing>()),
        ],
        Kind::Shed => vec![("retained", keys::<Retained>())],
        Kind::Cleaning => vec![("task", keys::<CleaningTask>())],
        Kind::Reading => vec![("spot", keys::<Spot>()), ("period", keys::<Period>()), ("means", keys::<Means>())],
        Kind::Sign => vec![("sign", keys::<SignKind>()), ("grade", keys::<Grade>())],
        Kind::Breeding => vec![("what", keys::<BreedingWhat>())],
        Kind::Planned => vec![("what", keys::<PlannedWhat>())],
        Kind::FreezerLot => vec![("class", keys::<Prey>())],
        _ => vec![],
    }
}

fn least(kind: Kind) -> Vec<(&'static str, String)> {
    let pairs: &[(&str, &str)] = match kind {
        Kind::Animal => &[("species", "Python regius")],
        Kind::Heater => &[("kind", "mat")],
        Kind::Ending => &[("at", "2026-01-02"), ("what", "lent")],
        Kind::Meal => &[("at", "2026-01-02"), ("outcome", "taken")],
        Kind::Shed => &[("shed_at", "2026-01-02")],
        Kind::Cleaning => &[("at", "2026-01-02"), ("task", "water")],
        Kind::Reading => &[("at", "2026-01-02"), ("spot", "hide"), ("temperature_c", "30,5")],
        Kind::Sign => &[("at", "2026-01-02"), ("sign", "weak")],
        Kind::Breeding => &[("at", "2026-01-02"), ("what", "laid")],
        Kind::Planned => &[("from", "2026-01-02"), ("what", "show")],
        Kind::FreezerLot => &[("class", "chick"), ("count", "3")],
        _ => &[],
    };
    pairs.iter().map(|(key, value)| (*key, (*value).to_owned())).collect()
}

#[test]
fn what_is_not_kept_is_not_pretended() {
    let (store, me) = with_animal();
    let seconds = units::When::exactly(units::Moment(NOON.0 + 42));
    let seen = Fact::Seen(records::facts::Seen { at: seconds });
    store.append(&[NewRecord::new(id(2), seen).about(me)], &stamp()).unwrap();
    let back = store.record(id(2)).unwrap().unwrap();
    assert_eq!(back.head.happened, Some(units::When::exactly(NOON)), "records are kept to the minute");
    assert_eq!(back.fact.when(), back.head.happened);
}

#[test]
fn a_record_that_could_not_be_read_back_is_refused() {
    let (store, me) = with_animal();
    let refused = store.append(&[NewRecord::new(id(2), weighing("2026-03-01", -5.0)).about(me)], &stamp());
    let Err(StoreError::Faults(faults)) = refused else { panic!("{refused:?}") };
    assert_eq!(faults[0].what, "`mass_g` cannot be -5");
    assert_eq!(store.record(id(2)).unwrap(), None);
}
