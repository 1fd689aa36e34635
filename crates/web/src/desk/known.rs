//! What is on record when a what-if question is asked.

use care::what_if::{Known, Place};
use records::RecordId;
use store::EnclosureRow;
use units::Moment;

use super::{Desk, DeskError};

fn place(row: EnclosureRow) -> Place {
    Place {
        heaters: row.heaters.into_iter().map(|heater| heater.it).collect(),
        enclosure: row.enclosure,
        ..Place::default()
    }
}

impl Desk {
    /// What is on record at `at`, for a question about an enclosure where one is named.
    pub fn known(&self, enclosure: Option<RecordId>, at: Moment) -> Result<Known, DeskError> {
        let mut known = Known::nothing(at, self.zone().clone());
        if let Some(id) = enclosure {
            let row = self.store().enclosures()?.into_iter().find(|row| row.id == id);
            known.place = Some(place(row.ok_or_else(|| DeskError::no_enclosure(&id.to_string()))?));
        }
        Ok(known)
    }

    /// The same with all enclosures.
    pub fn known_all(&self, at: Moment) -> Result<Known, DeskError> {
        let all = self.store().enclosures()?.into_iter().map(place).collect();
        Ok(Known { all, ..self.known(None, at)? })
    }
}
