//! The others of an animal's species in the household, as its condition and its growth are held against them.

use std::collections::HashMap;

use care::condition::{Kin, Relative};
use records::{Fact, RecordId};
use species::Found;
use store::AnimalRow;
use units::Moment;

use super::Desk;
use super::fault::DeskError;

/// So many are looked at, the first on record.
const MOST: usize = 400;

impl Desk {
    /// The others of its species on record, with what they weighed and measured up to `at`; those that left or died too.
    pub fn kin(&self, id: RecordId, at: Moment) -> Result<Kin, DeskError> {
        let rows = self.store.animals(true)?;
        let Some(key) = rows.iter().find(|row| row.id == id).and_then(|row| self.key_of(&row.animal.species)) else {
            return Ok(Kin::default());
        };
        let alike = |row: &&AnimalRow| row.id != id && self.key_of(&row.animal.species).as_ref() == Some(&key);
        let others: Vec<&AnimalRow> = rows.iter().filter(alike).take(MOST).collect();
        let ids: Vec<RecordId> = others.iter().map(|row| row.id).collect();
        let mut bodies: HashMap<RecordId, Vec<Fact>> = self.store.bodies_of(&ids)?.into_iter().collect();
        let relative = |row: &AnimalRow| {
            let mut one = Relative {
                name: row.animal.name.clone(),
                hatched: row.animal.hatched,
                sex: row.animal.sex,
                ..Relative::default()
            };
            for fact in bodies.remove(&row.id).unwrap_or_default() {
                match fact {
                    Fact::Weighing(it) if !it.estimated && it.at.from <= at => {
                        one.weighed.push((it.at.from, it.mass_g))
                    }
                    Fact::Measurement(it) if it.at.from <= at => {
                        one.measured.extend(it.total_length_cm.map(|length| (it.at.from, length)));
                    }
                    _ => {}
                }
            }
            one
        };
        Ok(Kin(others.into_iter().map(relative).collect()))
    }

    /// The profile that a name of a species stands for; the name itself where none does.
    fn key_of(&self, name: &str) -> Option<String> {
        match self.species(name) {
            Found::One(profile) => Some(profile.key.clone()),
            Found::None { .. } => Some(name.to_lowercase()),
            Found::Ask { .. } => None,
        }
    }
}
