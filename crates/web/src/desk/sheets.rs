//! What the desk hands out: one animal, one enclosure, the places of the walk.

use std::collections::HashMap;

use care::Answer;
use care::growth::past::Past;
use care::rounds::{Brief, Passed, Place};
use records::choice::Choice;
use records::facts::{CleaningTask, Reading, Spot};
use records::{Case, Fact, RecordId};
use species::Found;
use store::{AnimalRow, EnclosureRow, Store, StoreError, Stored};
use units::Moment;

use super::reckon::Kept;

/// Everything about one animal.
#[derive(Clone, Debug)]
pub struct AnimalSheet {
    /// The animal and where it is.
    pub row: AnimalRow,
    /// All that is known of it and bears on it.
    pub case: Case,
    /// What it needs now, what must wait, and why.
    pub answer: Answer,
    /// How the models of its growth did so far.
    pub past: Past,
    /// What was written down about it, newest first, with what was corrected or removed since.
    pub history: Vec<Stored>,
}

/// Everything about one enclosure.
#[derive(Clone, Debug)]
pub struct EnclosureSheet {
    /// The enclosure, its heaters and who lives in it.
    pub row: EnclosureRow,
    /// The animals in it with what their answers say.
    pub animals: Vec<Resident>,
    /// The latest reading at each spot.
    pub readings: Vec<Latest>,
    /// Every chore and when it was last done.
    pub chores: Vec<Chore>,
    /// What was written down about it, newest first.
    pub history: Vec<Stored>,
}

/// An animal of an enclosure with what its answer says.
#[derive(Clone, Debug)]
pub struct Resident {
    /// The animal.
    pub row: AnimalRow,
    /// Its last mass in g.
    pub mass_g: Option<f64>,
    /// What its answer says.
    pub brief: Brief,
}

/// The latest reading at a spot.
#[derive(Clone, Debug, PartialEq)]
pub struct Latest {
    /// Where.
    pub spot: Spot,
    /// The latest temperature there.
    pub temperature: Option<(RecordId, Reading)>,
    /// The latest humidity there.
    pub humidity: Option<(RecordId, Reading)>,
}

/// A chore and when it was last done.
#[derive(Clone, Debug)]
pub struct Chore {
    /// Which.
    pub task: CleaningTask,
    /// The last record of it.
    pub last: Option<Stored>,
}

/// The walk, enclosure by enclosure; `rows` stand in walking order.
pub(super) fn places(rows: Vec<AnimalRow>, mut kept: HashMap<RecordId, Kept>) -> Vec<Place> {
    let mut places: Vec<Place> = Vec::new();
    for row in rows {
        let Some(Kept { mass_g, brief, .. }) = kept.remove(&row.id) else { continue };
        let id = row.enclosure.map(|id| id.to_string());
        let species = common_name(&row.animal.species);
        let name = row.animal.name.unwrap_or_else(|| species.clone());
        let passed = Passed { id: row.id.to_string(), name, species, mass_g, brief };
        match places.last_mut().filter(|place| place.id == id) {
            Some(place) => place.animals.push(passed),
            None => {
                let unnamed = if id.is_some() { "enclosure without a name" } else { "no enclosure recorded" };
                let name = row.enclosure_name.unwrap_or_else(|| unnamed.to_owned());
                places.push(Place { id, name, room: row.room.unwrap_or_default(), animals: vec![passed] });
            }
        }
    }
    places
}

/// A species as a keeper says it: its first common name; as it was given where no profile is its own.
pub fn common_name(given: &str) -> String {
    match species::library().find(given) {
        Found::One(profile) => profile.common_names.first().unwrap_or(&profile.scientific_name).clone(),
        _ => given.to_owned(),
    }
}

/// The latest reading at each spot up to `at`; `history` is newest first.
pub(super) fn latest(history: &[Stored], at: Moment) -> Vec<Latest> {
    let mut out: Vec<Latest> = Vec::new();
    for stored in history.iter().filter(|stored| stored.head.is_current()) {
        let Fact::Reading(reading) = &stored.fact else { continue };
        if at < reading.at.from {
            continue;
        }
        let index = out.iter().position(|one| one.spot == reading.spot).unwrap_or_else(|| {
            out.push(Latest { spot: reading.spot, temperature: None, humidity: None });
            out.len() - 1
        });
        let Some(there) = out.get_mut(index) else { continue };
        let found = || Some((stored.head.id, reading.clone()));
        if reading.temperature_c.is_some() && there.temperature.is_none() {
            there.temperature = found();
        }
        if reading.humidity_pct.is_some() && there.humidity.is_none() {
            there.humidity = found();
        }
    }
    out.sort_by_key(|one| one.spot);
    out
}

/// Every chore of an enclosure with its last record.
pub(super) fn chores(store: &Store, enclosure: RecordId) -> Result<Vec<Chore>, StoreError> {
    let chore = |task: &CleaningTask| {
        let last = store.last(Some(enclosure), &format!("cleaning-{}", task.key()))?;
        Ok(Chore { task: *task, last })
    };
    CleaningTask::ALL.iter().map(chore).collect()
}
