//! What is on record, as a question takes it.

use std::collections::HashMap;

use care::answer::State;
use care::twin::calibrate;
use care::what_if::{Known, Place, Reckoning, Resident};
use records::facts::Fitted;
use records::import::Answers;
use records::{Entry, Fault, Key, Kind, RecordId};
use store::{AnimalRow, EnclosureRow, OwnValue};
use units::Moment;

use super::Desk;
use super::fault::DeskError;
use super::reckon::Kept;

/// How far back readings are handed to a question.
const READINGS_D: f64 = 90.0;

/// What is read once for all enclosures.
struct House {
    rows: Vec<AnimalRow>,
    own: Vec<OwnValue>,
    kept: HashMap<RecordId, Kept>,
}

impl House {
    /// Who is in an enclosure. One that is lent is not, and of one whose species nobody knows there is nothing to say.
    fn residents(&self, enclosure: RecordId) -> Vec<Resident> {
        let is_in = |row: &&AnimalRow| row.enclosure == Some(enclosure) && row.ending.is_none();
        self.rows.iter().filter(is_in).filter_map(|row| self.resident(row)).collect()
    }

    fn resident(&self, row: &AnimalRow) -> Option<Resident> {
        let key = Key { kind: Kind::Animal, index: 0, line: None, id: Some(row.id) };
        let animal = Entry { key, it: row.animal.clone() };
        let own: Vec<_> =
            self.own.iter().filter(|own| own.holds_for(row.id, row.enclosure)).map(|own| own.value.clone()).collect();
        let (profile, _) = care::assess::profile(&animal, &own).ok()?;
        let kept = self.kept.get(&row.id);
        Some(Resident {
            name: animal.it.name,
            profile: profile.into_owned(),
            is_hatchling: kept.is_some_and(|kept| kept.is_hatchling),
            is_digesting: kept.is_some_and(|kept| kept.brief.is(State::Digesting)),
            mass_g: kept.and_then(|kept| kept.mass_g),
        })
    }
}

impl Desk {
    /// What is on record for a question asked at `at` about an enclosure, or about none: the enclosure with who lives
    /// in it and its readings of the last 90 days, the household and its frozen prey. `all` stays empty.
    pub fn known(&self, enclosure: Option<RecordId>, at: Moment) -> Result<Known, DeskError> {
        let mut known = self.known_of_household(at)?;
        let Some(id) = enclosure else { return Ok(known) };
        let row = self.store.enclosures()?.into_iter().find(|row| row.id == id);
        let row = row.ok_or_else(|| DeskError::no_enclosure(&id.to_string()))?;
        let mut rows = self.store.animals(false)?;
        rows.retain(|row| row.enclosure == Some(id));
        let kept = self.kept_of(&rows, at)?;
        let house = House { rows, own: self.store.own_values()?, kept };
        known.place = Some(self.place(row, &house, at)?);
        Ok(known)
    }

    /// What is on record for a question asked at `at` about an animal.
    pub fn known_of_animal(&self, animal: RecordId, at: Moment) -> Result<Known, DeskError> {
        Ok(Known { animal: Some(self.case(animal, at)?), ..self.known_of_household(at)? })
    }

    /// The same, with all enclosures in walking order, for what is done in an order over all of them.
    pub fn known_all(&self, enclosure: Option<RecordId>, at: Moment) -> Result<Known, DeskError> {
        let mut known = self.known_of_household(at)?;
        let rows = self.store.animals(false)?;
        let kept = self.reckon(&rows, at)?;
        let house = House { rows, own: self.store.own_values()?, kept };
        for row in self.store.enclosures()? {
            known.all.push(self.place(row, &house, at)?);
        }
        if let Some(id) = enclosure {
            let place = known.all.iter().find(|place| place.id == Some(id));
            known.place = Some(place.ok_or_else(|| DeskError::no_enclosure(&id.to_string()))?.clone());
        }
        Ok(known)
    }

    /// What a log says about an enclosure, asked now, and the record to keep where the log carries one. `watts` is the
    /// power of its heater where that is told with the log.
    pub fn calibrate(
        &self,
        enclosure: RecordId,
        log: (&str, &[u8]),
        answers: &Answers,
        watts: Option<f64>,
    ) -> Result<(Reckoning, Option<Fitted>), DeskError> {
        let (name, bytes) = log;
        let table = calibrate::read_log(name, bytes, &self.zone, answers)?;
        let now = self.now();
        if now < table.until() {
            let mend = "look at the clock of the logger, and at the order of day and month";
            return Err(vec![Fault::new("the log goes on in the future", name, mend)].into());
        }
        Ok(calibrate::fit_log(&table, &self.known(Some(enclosure), now)?, watts)?)
    }

    fn known_of_household(&self, at: Moment) -> Result<Known, DeskError> {
        Ok(Known {
            household: self.store.household()?.map(|(_, household)| household),
            freezer: self.store.freezer()?.into_iter().map(|lot| lot.it).collect(),
            ..Known::nothing(at, self.zone.clone())
        })
    }

    fn place(&self, row: EnclosureRow, house: &House, at: Moment) -> Result<Place, DeskError> {
        let fitted_as = match &row.fitted {
            Some(fitted) => fitted.key.id.map(|id| self.store.enclosure_when(id)).transpose()?.flatten(),
            None => None,
        };
        Ok(Place {
            id: Some(row.id),
            enclosure: row.enclosure,
            heaters: row.heaters.into_iter().map(|heater| heater.it).collect(),
            residents: house.residents(row.id),
            readings: self.store.readings_of(row.id, at.plus_days(-READINGS_D), at)?,
            fitted: row.fitted.map(|fitted| fitted.it),
            fitted_as,
        })
    }
}
