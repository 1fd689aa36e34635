//! Answers that are kept, and reckoned anew only where they no longer hold.
//!
//! Two passes: first every animal by its own records, then those that live beside a sick or dead one. What is kept
//! says whether it was reckoned as such a neighbour, so that a change next door is seen even where nothing of the
//! animal itself changed.

use std::collections::{HashMap, HashSet};

use care::contacts;
use care::rounds::{Brief, RULES_VERSION};
use records::facts::{Household, Stage};
use records::{Case, Entry, Key, Kind, RecordId};
use serde::{Deserialize, Serialize};
use store::{AnimalRow, Reckoned};
use units::Moment;

use super::Desk;
use super::fault::DeskError;

/// What is kept of one animal's answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct Kept {
    /// Was it reckoned as the neighbour of a sick or dead animal?
    pub exposed: bool,
    /// Is it a hatchling?
    pub is_hatchling: bool,
    /// Its last mass in g.
    pub mass_g: Option<f64>,
    /// What Rounds needs of the answer.
    pub brief: Brief,
}

/// So many answers are kept at once.
const BATCH: usize = 200;
/// An answer about a moment this close to the clock (in seconds) is one about now and worth keeping.
const IS_NOW_S: i64 = 900;

/// Marks a case as that of a neighbour of a sick or dead animal.
pub(super) fn expose(case: &mut Case) {
    let key = Key { kind: Kind::Household, index: 0, line: None, id: None };
    case.household.get_or_insert_with(|| Entry { key, it: Household::default() }).it.contacts_sick = Some(true);
}

/// Two animals with the same room can give each other something; where nobody recorded a room, all share one.
fn room(row: &AnimalRow) -> Option<&str> {
    row.room.as_deref()
}

impl Desk {
    /// The version of everything that could change an answer but the records.
    fn rules_version(&self) -> String {
        let zone = self.zone.name().unwrap_or("no zone");
        format!("{RULES_VERSION} {} {zone}", species::library().version())
    }

    /// What the answers of all these animals say at `at`.
    pub(super) fn reckon(&self, rows: &[AnimalRow], at: Moment) -> Result<HashMap<RecordId, Kept>, DeskError> {
        let seen = self.store.position()?;
        let mut kept = self.still_true(None, at)?;
        let wanted: HashSet<RecordId> = rows.iter().map(|row| row.id).collect();
        kept.retain(|id, _| wanted.contains(id));
        let mut anew: HashSet<RecordId> = wanted.iter().filter(|id| !kept.contains_key(id)).copied().collect();
        self.each_case(&anew, &mut |id, case| {
            kept.insert(id, self.answered(&case, at, false));
        })?;
        let exposed = self.exposed(rows, &kept, at)?;
        let turned: HashSet<RecordId> =
            kept.iter().filter(|(id, one)| one.exposed != exposed.contains(id)).map(|(id, _)| *id).collect();
        self.each_case(&turned, &mut |id, mut case| {
            let is_exposed = exposed.contains(&id);
            if is_exposed {
                expose(&mut case);
            }
            kept.insert(id, self.answered(&case, at, is_exposed));
        })?;
        anew.extend(turned);
        self.keep(&anew, &kept, at, seen)?;
        Ok(kept)
    }

    /// Kept answers that still hold at `at`, of these animals or of all.
    fn still_true(&self, animals: Option<&[RecordId]>, at: Moment) -> Result<HashMap<RecordId, Kept>, DeskError> {
        let version = self.rules_version();
        let mut kept = HashMap::new();
        self.store.reckoned(animals, &mut |one| {
            let in_time = one.reckoned_for <= at && one.valid_until.is_none_or(|until| at < until);
            if !one.stale
                && in_time
                && one.rules_version == version
                && let Ok(answer) = serde_json::from_str(&one.answer)
            {
                kept.insert(one.animal, answer);
            }
            Ok(())
        })?;
        Ok(kept)
    }

    fn keep(
        &self,
        anew: &HashSet<RecordId>,
        kept: &HashMap<RecordId, Kept>,
        at: Moment,
        seen: store::Position,
    ) -> Result<(), DeskError> {
        let is_now = (self.now().0 - at.0).abs() <= IS_NOW_S;
        if !is_now || !self.store.is_writable() {
            return Ok(());
        }
        let mut batch = Vec::new();
        for (id, one) in anew.iter().filter_map(|id| kept.get_key_value(id)) {
            let Ok(answer) = serde_json::to_string(one) else { continue };
            batch.push(Reckoned {
                animal: *id,
                answer,
                rules_version: self.rules_version(),
                reckoned_for: at,
                valid_until: Some(one.brief.valid_until),
                stale: false,
            });
            if BATCH <= batch.len() {
                self.store.keep_reckoned(&batch, seen)?;
                batch.clear();
            }
        }
        Ok(self.store.keep_reckoned(&batch, seen)?)
    }

    /// Hands over the cases of these animals, one by one.
    fn each_case(&self, animals: &HashSet<RecordId>, each: &mut dyn FnMut(RecordId, Case)) -> Result<(), DeskError> {
        if animals.is_empty() {
            return Ok(());
        }
        let animals: Vec<RecordId> = animals.iter().copied().collect();
        self.store.each_case_of(&animals, &self.zone, &mut |id, case| {
            each(id, case);
            Ok(())
        })?;
        Ok(())
    }

    /// What an animal's answer says. One that cannot be answered (its species is not known) is on the walk all the
    /// same, with the reason.
    fn answered(&self, case: &Case, at: Moment, exposed: bool) -> Kept {
        let mass_g = case.timeline.as_of(at).weighings.last().map(|one| one.mass_g);
        let (brief, stage) = match care::assess_for_rounds(case, at) {
            Ok(answer) => (Brief::of(&answer), answer.stage),
            Err(faults) => (Brief::unanswered(&faults, at, &self.zone), None),
        };
        let is_hatchling = stage == Some(Stage::Hatchling);
        Kept { exposed, is_hatchling, mass_g, brief }
    }

    /// Who lives beside a sick animal or one that died lately.
    fn exposed(
        &self,
        rows: &[AnimalRow],
        kept: &HashMap<RecordId, Kept>,
        at: Moment,
    ) -> Result<HashSet<RecordId>, DeskError> {
        let sick = rows.iter().filter(|row| kept.get(&row.id).is_some_and(|one| contacts::is_catching(&one.brief)));
        let mut near: Vec<AnimalRow> = sick.cloned().collect();
        let gone = self.store.animals(true)?.into_iter().filter(AnimalRow::has_left);
        near.extend(gone.filter(|row| row.ending.as_ref().is_some_and(|ending| contacts::died_lately(ending, at))));
        let mut sources: HashMap<Option<&str>, Vec<RecordId>> = HashMap::new();
        for row in &near {
            sources.entry(room(row)).or_default().push(row.id);
        }
        let beside =
            |row: &&AnimalRow| sources.get(&room(row)).is_some_and(|there| there.iter().any(|id| *id != row.id));
        Ok(rows.iter().filter(beside).map(|row| row.id).collect())
    }

    /// Does this animal live beside a sick one, or one that died lately?
    pub(super) fn is_exposed(&self, id: RecordId, at: Moment) -> Result<bool, DeskError> {
        let rows = self.store.animals(false)?;
        let Some(place) = rows.iter().find(|row| row.id == id).map(|row| row.room.clone()) else {
            return Ok(false);
        };
        let near: Vec<AnimalRow> = rows.into_iter().filter(|row| row.room == place).collect();
        let kept = self.kept_of(&near, at)?;
        Ok(self.exposed(&near, &kept, at)?.contains(&id))
    }

    /// What the answers of a few animals say at `at`; what is reckoned anew is not kept, since nobody looked whether
    /// they live beside a sick one.
    pub(super) fn kept_of(&self, rows: &[AnimalRow], at: Moment) -> Result<HashMap<RecordId, Kept>, DeskError> {
        let ids: Vec<RecordId> = rows.iter().map(|row| row.id).collect();
        let mut kept = self.still_true(Some(&ids), at)?;
        let anew: HashSet<RecordId> = ids.iter().filter(|id| !kept.contains_key(id)).copied().collect();
        self.each_case(&anew, &mut |one, case| {
            kept.insert(one, self.answered(&case, at, false));
        })?;
        Ok(kept)
    }
}
