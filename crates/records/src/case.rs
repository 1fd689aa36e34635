//! A case: all that is known of one animal and of what bears on it.

use units::{Moment, Zone};

use crate::facts::{Animal, Enclosure, FreezerLot, Heater, Household, Override};
use crate::timeline::{Entry, Timeline};

/// All that is known of one animal and of what of its household bears on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// The moment the case asks about, where it names one.
    pub at: Option<Moment>,
    /// The zone of its clock times.
    pub zone: Zone,
    /// The animal.
    pub animal: Entry<Animal>,
    /// Its records.
    pub timeline: Timeline,
    /// The enclosure it lives in.
    pub enclosure: Option<Entry<Enclosure>>,
    /// The heaters of that enclosure.
    pub heaters: Vec<Entry<Heater>>,
    /// The household.
    pub household: Option<Entry<Household>>,
    /// Frozen prey of the household.
    pub freezer: Vec<Entry<FreezerLot>>,
    /// Values of the profile that do not hold for this animal.
    pub overrides: Vec<Entry<Override>>,
}
