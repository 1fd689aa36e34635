//! Writing at the desk: what cannot be is refused, what is odd is asked about, what is kept can be undone.

use std::collections::HashMap;

use records::facts::{Animal, Enclosure, Fitted, Heater, Household, Stay};
use records::{Fact, Fault, Kind, RecordId};
use store::{Act, NewRecord, Stamp, StoreError, Stored};
use units::{Moment, When};

use super::Desk;
use super::fault::DeskError;

/// What was written down.
#[derive(Clone, Debug)]
pub struct Logged {
    /// The records, in the order given.
    pub ids: Vec<RecordId>,
    /// The act of entry, which can be undone; `None` when everything was there already.
    pub act: Option<Act>,
}

impl Desk {
    /// A name for a record that is made now.
    pub fn new_id(&self) -> RecordId {
        store::new_id_random(self.now())
    }

    /// A new record of a fact.
    pub fn new_record(&self, fact: Fact) -> NewRecord {
        NewRecord::new(self.new_id(), fact)
    }

    fn stamp(&self, by: &str) -> Stamp {
        Stamp { recorded_at: self.now(), zone: self.zone.clone(), by: by.to_owned() }
    }

    /// Writes records down as one act, all or none. What cannot be (a date that lies ahead, a weighing before the
    /// animal hatched) is refused with every fault; what is merely odd is the caller's to ask about first
    /// ([`Desk::doubts`]).
    pub fn log(&self, new: &[NewRecord], by: &str) -> Result<Logged, DeskError> {
        let faults = self.refusals(new)?;
        if !faults.is_empty() {
            return Err(DeskError::Faults(faults));
        }
        let before = self.store.position()?;
        let ids = self.store.append(new, &self.stamp(by))?;
        let act = self.store.last_act(Some(by.trim()))?.filter(|act| before.0 < act.batch);
        Ok(Logged { ids, act })
    }

    /// What in these records cannot be.
    pub fn refusals(&self, new: &[NewRecord]) -> Result<Vec<Fault>, DeskError> {
        let now = self.now();
        let is_about_one = |one: &NewRecord| one.animal.is_some();
        let rows = if new.iter().any(is_about_one) { self.store.animals(true)? } else { Vec::new() };
        let mut known: HashMap<RecordId, &Animal> = rows.iter().map(|row| (row.id, &row.animal)).collect();
        // As it is being entered in the same act, else as it is kept.
        known.extend(new.iter().filter_map(|one| match &one.fact {
            Fact::Animal(animal) => Some((one.id, animal)),
            _ => None,
        }));
        let of = |one: &NewRecord| one.animal.and_then(|id| known.get(&id).copied());
        Ok(new.iter().flat_map(|one| care::doubts::refusals(of(one), &one.fact, now, &self.zone)).collect())
    }

    /// What is odd about these records but can be: each asks for a yes. `at` is the moment of asking.
    pub fn doubts(&self, new: &[NewRecord], at: Moment) -> Result<Vec<Fault>, DeskError> {
        let mut doubts = Vec::new();
        for one in new {
            let animal = match (one.animal, one.enclosure) {
                (Some(animal), _) => Some(animal),
                (None, Some(enclosure)) => self
                    .store
                    .animals(false)?
                    .into_iter()
                    .find(|row| row.enclosure == Some(enclosure))
                    .map(|row| row.id),
                (None, None) => None,
            };
            let case = match animal.filter(|_| !matches!(one.fact, Fact::Animal(_))) {
                Some(animal) => self.store.case_of(animal, &self.zone)?,
                None => None,
            };
            let Some(mut case) = case else { continue };
            if let Some(corrected) = one.corrects {
                care::doubts::leave_out(&mut case, corrected);
            }
            doubts.extend(care::doubts::doubts(&case, &one.fact, at));
        }
        doubts.dedup();
        Ok(doubts)
    }

    /// Puts a record in the place of another.
    pub fn correct(&self, id: RecordId, fact: Fact, why: &str, by: &str) -> Result<Logged, DeskError> {
        let Some(old) = self.store.record(id)? else {
            return Err(StoreError::NotFound(id).into());
        };
        let mut new = self.new_record(fact).instead_of(id, why);
        new.animal = old.head.animal;
        new.enclosure = old.head.enclosure;
        self.log(&[new], by)
    }

    /// Takes a record back. It stays in the history with who did it and why.
    pub fn remove(&self, ids: &[RecordId], why: &str, by: &str) -> Result<(), DeskError> {
        Ok(self.store.remove(ids, why, &self.stamp(by))?)
    }

    /// Undoes the newest act that was not undone yet; with `of`, the newest of one person. Gives what was undone.
    pub fn undo(&self, of: Option<&str>, by: &str) -> Result<Act, DeskError> {
        let act = self.store.last_act(of)?.ok_or(StoreError::NothingToUndo)?;
        self.undo_act(&act, by)?;
        Ok(act)
    }

    /// Undoes one act.
    pub fn undo_act(&self, act: &Act, by: &str) -> Result<(), DeskError> {
        Ok(self.store.undo(act, &self.stamp(by))?)
    }

    /// Brings back what was undone last. Gives the undoing that was undone.
    pub fn redo(&self, of: Option<&str>, by: &str) -> Result<Act, DeskError> {
        let act = self.store.last_undone(of)?.ok_or(StoreError::NothingToUndo)?;
        self.undo_act(&act, by)?;
        Ok(act)
    }

    /// The newest act that can be undone; with `of`, of one person.
    pub fn last_act(&self, of: Option<&str>) -> Result<Option<Act>, DeskError> {
        Ok(self.store.last_act(of)?)
    }

    /// What was written down today and holds, newest first.
    pub fn done_today(&self) -> Result<Vec<Stored>, DeskError> {
        let today = self.today();
        Ok(self.store.done_on(today, self.zone.days_later(today, 1))?)
    }

    /// A new animal, in an enclosure where one is given.
    pub fn add_animal(&self, animal: Animal, enclosure: Option<RecordId>, by: &str) -> Result<RecordId, DeskError> {
        let since = animal.arrived.filter(|when| when.precision <= units::Precision::Day);
        let first = self.new_record(Fact::Animal(animal));
        let id = first.id;
        let mut new = vec![first];
        if let Some(enclosure) = enclosure {
            let at = since.unwrap_or_else(|| self.day());
            new.push(self.new_record(Fact::Stay(Stay { at, enclosure })).about(id));
        }
        self.log(&new, by)?;
        Ok(id)
    }

    /// A new enclosure with its heaters.
    pub fn add_enclosure(&self, enclosure: Enclosure, heaters: Vec<Heater>, by: &str) -> Result<RecordId, DeskError> {
        let first = self.new_record(Fact::Enclosure(enclosure));
        let id = first.id;
        let mut new = vec![first];
        new.extend(heaters.into_iter().map(|heater| self.new_record(Fact::Heater(heater)).at(id)));
        self.log(&new, by)?;
        Ok(id)
    }

    /// What holds for the whole household; it replaces what held before.
    pub fn set_household(&self, household: Household, by: &str) -> Result<Logged, DeskError> {
        self.log(&[self.new_record(Fact::Household(household))], by)
    }

    /// Keeps what a log said about an enclosure, so that later answers rest on it. Gives the name of the record.
    pub fn keep_fitted(&self, enclosure: RecordId, fitted: Fitted, by: &str) -> Result<RecordId, DeskError> {
        let new = self.new_record(Fact::Fitted(fitted)).at(enclosure);
        let id = new.id;
        self.log(&[new], by)?;
        Ok(id)
    }

    /// Today as a day without an hour.
    pub fn day(&self) -> When {
        self.zone.day(self.zone.date(self.now()))
    }

    /// The minute that it is.
    pub fn minute(&self) -> When {
        let now = self.now();
        When::exactly(Moment(now.0 - now.0.rem_euclid(60)))
    }

    /// The record, as it stands, that a beginning of its id names.
    pub fn find_record(&self, id: &str) -> Result<Stored, DeskError> {
        let typed = id.trim().to_lowercase();
        let Some(id) = RecordId::read(&typed) else {
            let mend = "give the whole id, as `show` prints it";
            return Err(DeskError::NotFound(Fault::new(format!("`{typed}` is no record"), "the record", mend)));
        };
        Ok(self.store.record(id)?.ok_or(StoreError::NotFound(id))?)
    }

    /// Is this kind of record about an animal, so that one must be named?
    pub fn needs_animal(kind: Kind) -> bool {
        kind.subject() == records::facts::Subject::Animal
            && !matches!(kind, Kind::Planned | Kind::Override | Kind::Note | Kind::Seen)
    }
}
