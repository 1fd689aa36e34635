//! What is on record when a question is asked.

use records::facts::{Enclosure, Fitted, FreezerLot, Heater, Household, Reading};
use records::{Case, RecordId};
use species::Profile;
use units::{Moment, Zone};

use crate::twin::changed;

/// An animal that lives in an enclosure.
#[derive(Clone, Debug)]
pub struct Resident {
    /// What it is called.
    pub name: Option<String>,
    /// What it needs, with the household's own values.
    pub profile: Profile,
    /// A hatchling.
    pub is_hatchling: bool,
    /// A meal is being digested.
    pub is_digesting: bool,
    /// Body mass, where it is known, g.
    pub mass_g: Option<f64>,
}

/// An enclosure with what is in it.
#[derive(Clone, Debug, Default)]
pub struct Place {
    /// Its id; `None` where it is not on record.
    pub id: Option<RecordId>,
    /// The enclosure as it is recorded.
    pub enclosure: Enclosure,
    /// Its heaters.
    pub heaters: Vec<Heater>,
    /// Who lives in it.
    pub residents: Vec<Resident>,
    /// Readings of late, oldest first.
    pub readings: Vec<Reading>,
    /// What the last log said about it.
    pub fitted: Option<Fitted>,
    /// The enclosure and its heaters as they were on record when that was kept; `None` where they are as they were.
    pub fitted_as: Option<(Enclosure, Vec<Heater>)>,
}

impl Place {
    /// What it is called: the code on its door.
    pub fn name(&self) -> Option<&str> {
        self.enclosure.name.as_deref()
    }

    /// What is another than when what the last log said was kept: where anything is, that does not hold any more.
    pub fn changed(&self) -> Vec<String> {
        let Some((enclosure, heaters)) = &self.fitted_as else { return Vec::new() };
        let mut changed = changed::otherwise(enclosure, &self.enclosure);
        changed.extend(changed::other_heaters(heaters, &self.heaters));
        changed
    }
}

/// What is on record when a question is asked. Empty where it is asked about something that is not there yet.
#[derive(Clone, Debug)]
pub struct Known {
    /// The moment of the question.
    pub now: Moment,
    /// The zone of clock times.
    pub zone: Zone,
    /// The enclosure that is asked about.
    pub place: Option<Place>,
    /// All enclosures, for what is done in an order over all of them.
    pub all: Vec<Place>,
    /// The animal that is asked about, with all that is known of it.
    pub animal: Option<Case>,
    /// The household.
    pub household: Option<Household>,
    /// Frozen prey.
    pub freezer: Vec<FreezerLot>,
}

impl Known {
    /// Nothing is on record.
    pub fn nothing(now: Moment, zone: Zone) -> Known {
        Known { now, zone, place: None, all: Vec::new(), animal: None, household: None, freezer: Vec::new() }
    }
}
