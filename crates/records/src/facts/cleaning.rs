//! Chores.

use units::When;

use super::{Recorded, Sheet};
use crate::choices;
use crate::fields::Reader;

choices!(
    /// A chore.
    CleaningTask, "chore", {
        /// Bowl emptied, cleaned and filled.
        Water = "water",
        /// Waste, shed skin and wet patches taken out.
        Spot = "spot",
        /// Floor replaced, everything disinfected.
        Full = "full",
    }
);

/// A chore done.
#[derive(Clone, Debug, PartialEq)]
pub struct Cleaning {
    /// When.
    pub at: When,
    /// Which.
    pub task: CleaningTask,
}

impl Recorded for Cleaning {
    fn read(reader: &mut Reader<'_>) -> Option<Cleaning> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let task = reader.choice("task");
        let task = reader.require("task", task);
        Some(Cleaning { at: at?, task: task? })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.choice("task", Some(self.task));
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}
