//! What is on record, as a question takes it.

use std::collections::HashMap;

use care::answer::State;
use care::what_if::{Known, Place, Resident};
use records::{Entry, Key, Kind, RecordId};
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

    fn known_of_household(&self, at: Moment) -> Result<Known, DeskError> {
        Ok(Known {
            household: self.store.household()?.map(|(_, household)| household),
            freezer: self.store.freezer()?.into_iter().map(|lot| lot.it).collect(),
            ..Known::nothing(at, self.zone.clone())
        })
    }

    fn place(&self, row: EnclosureRow, house: &House, at: Moment) -> Result<Place, DeskError> {
        Ok(Place {
            id: Some(row.id),
            enclosure: row.enclosure,
            heaters: row.heaters.into_iter().map(|heater| heater.it).collect(),
            residents: house.residents(row.id),
            readings: self.store.readings_of(row.id, at.plus_days(-READINGS_D), at)?,
            fitted: row.fitted.map(|fitted| fitted.it),
        })
    }
}
