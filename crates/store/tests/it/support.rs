//! A household to test with.

use records::facts::{Animal, Cleaning, CleaningTask, Enclosure, Fitted, Meal, Outcome, Reading, Spot, Stay, Weighing};
use records::{Fact, RecordId};
use store::{NewRecord, Stamp, Store, new_id};
use units::{Moment, When, Zone};

/// 2026-03-01T12:00Z.
pub const NOON: Moment = Moment(1_772_366_400);

/// A name that is the same in every run.
pub fn id(number: u64) -> RecordId {
    let mut random = [0; 10];
    random[2..].copy_from_slice(&number.to_be_bytes());
    new_id(NOON, random)
}

pub fn lisbon() -> Zone {
    Zone::named("Europe/Lisbon").unwrap()
}

pub fn stamp() -> Stamp {
    Stamp { recorded_at: NOON, zone: lisbon(), by: "keeper".into() }
}

pub fn stamp_by(by: &str, later_s: i64) -> Stamp {
    Stamp { recorded_at: Moment(NOON.0 + later_s), zone: lisbon(), by: by.into() }
}

pub fn when(text: &str) -> When {
    lisbon().read(text).unwrap()
}

pub fn animal(name: &str) -> Animal {
    Animal {
        species: "Pantherophis guttatus".into(),
        family: None,
        name: Some(name.into()),
        hatched: None,
        age_months: None,
        sex: None,
        arrived: None,
        stage: None,
        wild_caught: None,
        used_to_handling: None,
        never_fed: None,
        complete_since: None,
    }
}

pub fn enclosure(name: &str, room: Option<&str>, walk: Option<f64>) -> Enclosure {
    Enclosure { name: Some(name.into()), room: room.map(str::to_owned), walk, ..Enclosure::default() }
}

pub fn weighing(at: &str, mass_g: f64) -> Fact {
    Fact::Weighing(Weighing { at: when(at), mass_g, estimated: false, body_score: None })
}

pub fn meal(at: &str, outcome: Outcome) -> Fact {
    Fact::Meal(Meal {
        at: when(at),
        prey: None,
        mass_g: Some(12.0),
        count: 1,
        outcome,
        regurgitated_at: None,
        state: None,
        surface_c: None,
        minutes_left: None,
        thawed: None,
        frozen_on: None,
        refrozen: false,
    })
}

/// What a log of a week, ended at `at`, said: 0.7 W/K from the warm half to the room, for a heater of `watts`.
pub fn fitted(at: &str, watts: f64) -> Fact {
    let at = when(at);
    Fact::Fitted(Fitted {
        at,
        from: When::exactly(Moment(at.from.0 - 7 * 86_400)),
        warm_to_room_w_k: 0.7,
        warm_to_room_w_k_sd_pct: 6.0,
        cool_to_room_w_k: 0.6,
        cool_to_room_w_k_sd_pct: 7.5,
        warm_to_cool_w_k: 1.9,
        warm_to_cool_w_k_sd_pct: 12.0,
        warm_kj_k: 14.0,
        warm_kj_k_sd_pct: 9.0,
        cool_kj_k: 11.5,
        cool_kj_k_sd_pct: 10.0,
        heater_share: 0.8,
        heater_share_sd_pct: 0.0,
        watts,
        rms_k: 0.21,
        log_rows: 2_016,
    })
}

pub fn water(at: &str) -> Fact {
    Fact::Cleaning(Cleaning { at: when(at), task: CleaningTask::Water })
}

pub fn warm(at: &str, temperature_c: f64) -> Fact {
    Fact::Reading(Reading {
        at: when(at),
        spot: Spot::WarmSurface,
        temperature_c: Some(temperature_c),
        humidity_pct: None,
        period: None,
        means: records::facts::Means::SpotCheck,
        hours: None,
    })
}

pub fn moves_in(at: &str, enclosure: RecordId) -> Fact {
    Fact::Stay(Stay { at: when(at), enclosure })
}

/// A store in memory with one animal.
pub fn with_animal() -> (Store, RecordId) {
    let store = Store::in_memory().unwrap();
    let me = id(1);
    store.append(&[NewRecord::new(me, Fact::Animal(animal("Fern")))], &stamp()).unwrap();
    (store, me)
}

/// The masses that hold now, by the animal's case.
pub fn masses(store: &Store, animal: RecordId) -> Vec<f64> {
    let case = store.case_of(animal, &lisbon()).unwrap().unwrap();
    case.timeline.weighings.iter().map(|one| one.mass_g).collect()
}
