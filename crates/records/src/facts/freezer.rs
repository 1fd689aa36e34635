//! Frozen prey.

use units::When;

use super::{Prey, Recorded, Sheet};
use crate::fields::{Limits, Reader};

/// Frozen prey of one class bought at one time: how many are left. A later count is a correction.
#[derive(Clone, Debug, PartialEq)]
pub struct FreezerLot {
    /// Class of prey.
    pub class: Prey,
    /// How many are left.
    pub count: u32,
    /// Mass of one item, in g.
    pub mass_g: Option<f64>,
    /// When it was bought.
    pub bought: Option<When>,
}

impl Recorded for FreezerLot {
    fn read(reader: &mut Reader<'_>) -> Option<FreezerLot> {
        let class = reader.choice("class");
        let class = reader.require("class", class);
        let count = reader.count("count", 0, 100_000);
        let count = reader.require("count", count);
        let mass_g = reader.number("mass_g", Limits::new(0.05, 50_000.0, "grams"));
        let bought = reader.when("bought");
        Some(FreezerLot { class: class?, count: count?, mass_g, bought })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.choice("class", Some(self.class));
        sheet.number("count", Some(f64::from(self.count)));
        sheet.number("mass_g", self.mass_g);
        sheet.when("bought", self.bought);
    }
    fn when(&self) -> Option<When> {
        self.bought
    }
}
