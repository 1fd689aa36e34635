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

/// A household with an animal (1) in an enclosure (2), and a record (3) about the right one of them.
fn about(fact: Fact) -> [NewRecord; 4] {
    let new = match fact.kind() {
        Kind::Animal | Kind::Enclosure => NewRecord::new(id(3), fact),
        kind => match kind.subject() {
            Subject::Animal => NewRecord::new(id(3), fact).about(id(1)),
            Subject::Enclosure => NewRecord::new(id(3), fact).at(id(2)),
            Subject::Household => NewRecord::new(id(3), fact),
        },
    };
    [
        NewRecord::new(id(1), Fact::Animal(animal("Fern"))),
        NewRecord::new(id(2), Fact::Enclosure(enclosure("A", None, None))),
        NewRecord::new(id(4), moves_in("1970-01-01", id(2))).about(id(1)),
        new,
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(600) })]

    #[test]
    fn any_record_comes_back_as_it_was_written(
        (zone, fact) in (0..3usize).prop_flat_map(|at| {
            let zone = zones()[at].clone();
            (Just(zone.clone()), facts::fact(&zone))
        })
    ) {
        let store = Store::in_memory().unwrap();
        let stamp = Stamp { recorded_at: NOON, zone: zone.clone(), by: "keeper".into() };
        store.append(&about(fact.clone()), &stamp).unwrap();
        let back = store.record(id(3)).unwrap().unwrap();
        prop_assert_eq!(&back.fact, &fact);
        prop_assert_eq!(back.head.happened, fact.when());
        prop_assert_eq!(&back.head.zone, &zone);
        prop_assert!(back.head.is_current());
        prop_assert!(store.verify().unwrap().is_sound());
    }
}

#[test]
fn every_word_that_can_be_chosen_can_be_kept() {
    let store = Store::in_memory().unwrap();
    let mut new = about(water("2026-01-01")).to_vec();
    let mut number = 10;
    let mut add = |new: &mut Vec<NewRecord>, fact: Fact, animal: bool| {
        number += 1;
        let record = NewRecord::new(id(number), fact);
        new.push(if animal { record.about(id(1)) } else { record.at(id(2)) });
    };
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
                let animal = kind.subject() == Subject::Animal && *kind != Kind::Animal;
                let fact = fact.unwrap();
                match kind {
                    Kind::Animal | Kind::Enclosure | Kind::FreezerLot => {
                        new.push(NewRecord::new(id(10_000 + new.len() as u64), fact));
                    }
                    _ => add(&mut new, fact, animal),
                }
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
        Kind::Enclosure => vec![("lid", keys::<Lid>())],
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
