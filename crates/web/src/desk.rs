//! The desk: the join of store, rules and clock, behind pages and commands alike.
//!
//! It is blocking; a handler calls it on a thread for such work. No threshold, no SQL and no HTML stands here: the
//! store keeps, `care` judges, `render` words. Start with [`Desk::open`] and [`Desk::rounds`].

mod entry;
mod fault;
mod kin;
mod known;
mod reckon;
mod sheets;
#[cfg(test)]
mod tests;

use std::path::Path;

use care::growth::past::Past;
use care::rounds::Rounds;
use records::{Case, Fault, RecordId};
use species::Found;
use store::{AnimalRow, EnclosureRow, Store};
use units::{Moment, Zone};

pub use entry::Logged;
pub use fault::DeskError;
pub use sheets::{AnimalSheet, Chore, EnclosureSheet, Latest, Resident, common_name};
pub use store::Access;

/// The setting under which the zone of the household stands.
pub const ZONE: &str = "zone";

/// Store, rules and clock in one.
#[derive(Debug)]
pub struct Desk {
    store: Store,
    zone: Zone,
    standing: Option<Moment>,
}

impl Desk {
    /// Opens the household in `folder`. Its zone is the one given, else the one in its settings, else the machine's.
    pub fn open(folder: &Path, access: Access, zone: Option<Zone>) -> Result<Desk, DeskError> {
        Desk::on(Store::open(folder, access)?, zone)
    }

    /// A household in memory, for trying things out.
    pub fn in_memory(zone: Option<Zone>) -> Result<Desk, DeskError> {
        Desk::on(Store::in_memory()?, zone)
    }

    fn on(store: Store, zone: Option<Zone>) -> Result<Desk, DeskError> {
        let zone = match zone {
            Some(zone) => zone,
            None => match store.setting(ZONE)? {
                Some(name) => Zone::named(&name).ok_or_else(|| {
                    let mend = "set a zone such as Europe/Lisbon";
                    DeskError::from(Fault::new(format!("there is no time zone `{name}`"), "settings, zone", mend))
                })?,
                None => Desk::zone_of_this_machine(),
            },
        };
        Ok(Desk { store, zone, standing: None })
    }

    /// The zone of this machine, or UTC where it has none that others could look up.
    pub fn zone_of_this_machine() -> Zone {
        let zone = Zone::of_this_machine();
        if zone.name().is_some() { zone } else { Zone::named("UTC").unwrap_or(Zone::none()) }
    }

    /// The same desk with a clock that stands, for tests and for households made up for a moment.
    #[must_use]
    pub fn standing_at(self, now: Moment) -> Desk {
        Desk { standing: Some(now), ..self }
    }

    /// Now. The one question of the pages to the clock.
    #[expect(clippy::disallowed_methods, reason = "the pages ask the clock once, here, and hand the answer on")]
    pub fn now(&self) -> Moment {
        self.standing.unwrap_or_else(|| Moment(jiff::Timestamp::now().as_second()))
    }

    /// 00:00 of today.
    pub fn today(&self) -> Moment {
        self.zone.day_start(self.now())
    }

    /// The zone in which dates are read and shown.
    pub fn zone(&self) -> &Zone {
        &self.zone
    }

    /// What is kept.
    pub fn store(&self) -> &Store {
        &self.store
    }

    /// The walk past every enclosure at `at`. What is kept reckoned is taken as it is; only what is stale, past its
    /// time or newly near a sick animal is assessed.
    pub fn rounds(&self, at: Moment) -> Result<Rounds, DeskError> {
        let rows = self.store.animals(false)?;
        let kept = self.reckon(&rows, at)?;
        Ok(Rounds::new(at, self.zone.clone(), sheets::places(rows, kept)))
    }

    /// Everything about one animal at `at`.
    pub fn animal(&self, id: RecordId, at: Moment) -> Result<AnimalSheet, DeskError> {
        let row = self.row(id)?;
        let case = self.case(id, at)?;
        let answer = care::assess(&case, at)?;
        let history = self.store.history(id)?;
        let past = Past::of(&case, at);
        Ok(AnimalSheet { row, case, answer, past, history })
    }

    /// All that is known of an animal and bears on it at `at`, a sick or dead neighbour among it.
    pub fn case(&self, id: RecordId, at: Moment) -> Result<Case, DeskError> {
        let mut case = self.store.case_of(id, &self.zone)?.ok_or_else(|| DeskError::no_animal(&id.to_string()))?;
        if self.is_exposed(id, at)? {
            reckon::expose(&mut case);
        }
        Ok(case)
    }

    /// Everything about one enclosure at `at`.
    pub fn enclosure(&self, id: RecordId, at: Moment) -> Result<EnclosureSheet, DeskError> {
        let all = self.store.enclosures()?;
        let row = all.into_iter().find(|row| row.id == id).ok_or_else(|| DeskError::no_enclosure(&id.to_string()))?;
        let rows: Vec<AnimalRow> = self.store.animals(false)?;
        let mut kept = self.reckon(&rows, at)?;
        let animals = rows
            .into_iter()
            .filter(|one| one.enclosure == Some(id))
            .filter_map(|row| kept.remove(&row.id).map(|kept| Resident { row, mass_g: kept.mass_g, brief: kept.brief }))
            .collect();
        let history = self.store.history_of_enclosure(id)?;
        let readings = sheets::latest(&history, at);
        let chores = sheets::chores(&self.store, id)?;
        Ok(EnclosureSheet { row, animals, readings, chores, history })
    }

    /// The animal that someone means by a name or an id.
    pub fn find_animal(&self, name_or_id: &str) -> Result<AnimalRow, DeskError> {
        let found = self.store.find_animal(name_or_id)?;
        let here: Vec<&AnimalRow> = found.iter().filter(|row| !row.has_left()).collect();
        match (here.as_slice(), found.as_slice()) {
            ([one], _) => Ok((*one).clone()),
            ([], [one]) => Ok(one.clone()),
            ([], []) => {
                let names: Vec<String> =
                    self.store.animals(true)?.into_iter().filter_map(|row| row.animal.name).collect();
                Err(DeskError::unknown("animal", name_or_id, &names))
            }
            _ => Err(DeskError::several(
                "animals",
                name_or_id,
                found.iter().map(|row| (row.animal.name.as_deref(), row.id)),
            )),
        }
    }

    /// The enclosure that someone means by a name or an id.
    pub fn find_enclosure(&self, name_or_id: &str) -> Result<EnclosureRow, DeskError> {
        let found = self.store.find_enclosure(name_or_id)?;
        match found.as_slice() {
            [one] => Ok(one.clone()),
            [] => {
                let names: Vec<String> =
                    self.store.enclosures()?.into_iter().filter_map(|row| row.enclosure.name).collect();
                Err(DeskError::unknown("enclosure", name_or_id, &names))
            }
            _ => Err(DeskError::several(
                "enclosures",
                name_or_id,
                found.iter().map(|row| (row.enclosure.name.as_deref(), row.id)),
            )),
        }
    }

    /// The profile that a name stands for.
    pub fn species(&self, name: &str) -> Found<'static> {
        species::library().find(name)
    }

    /// The answer to a case file, without any record: at `at`, else at the moment that the case names, else now.
    pub fn assess_text(&self, name: &str, bytes: &[u8], at: Option<Moment>) -> Result<care::Answer, DeskError> {
        let case = records::case_file::read(name, bytes)?;
        // A case without a zone is counted in clock time: what the clock on the wall shows now.
        let now = match case.zone.is_known() {
            true => self.now(),
            false => case.zone.moment(self.zone.clock(self.now())),
        };
        let at = at.or(case.at).unwrap_or(now);
        Ok(care::assess(&case, at)?)
    }

    fn row(&self, id: RecordId) -> Result<AnimalRow, DeskError> {
        let all = self.store.animals(true)?;
        all.into_iter().find(|row| row.id == id).ok_or_else(|| DeskError::no_animal(&id.to_string()))
    }
}
