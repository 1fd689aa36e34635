//! Weighings and measurements.

use units::When;

use super::{Recorded, Sheet};
use crate::fields::{Limits, Reader};

/// No snake is known to have weighed more than a quarter of a tonne; what lies above is a slip of the unit.
const MASS_G: Limits = Limits::new(0.1, 250_000.0, "grams");
const LENGTH_CM: Limits = Limits::new(1.0, 1_200.0, "centimetres");
const GIRTH_CM: Limits = Limits::new(0.5, 150.0, "centimetres");

/// The animal on a scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighing {
    /// When.
    pub at: When,
    /// Body mass, with whatever is inside, in g.
    pub mass_g: f64,
    /// Guessed, not weighed.
    pub estimated: bool,
    /// Score of its shape by eye, 1 (emaciated) to 9 (obese).
    pub body_score: Option<u8>,
}

impl Recorded for Weighing {
    fn read(reader: &mut Reader<'_>) -> Option<Weighing> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let mass_g = reader.number("mass_g", MASS_G);
        let mass_g = reader.require("mass_g", mass_g);
        let estimated = reader.flag("estimated").unwrap_or(false);
        let body_score = reader.count("body_score", 1, 9).and_then(|score| u8::try_from(score).ok());
        Some(Weighing { at: at?, mass_g: mass_g?, estimated, body_score })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.number("mass_g", Some(self.mass_g));
        sheet.flag("estimated", self.estimated.then_some(true));
        sheet.number("body_score", self.body_score.map(f64::from));
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}

/// A length or a girth; at least one of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Measurement {
    /// When.
    pub at: When,
    /// From the tip of the snout to the tip of the tail, in cm.
    pub total_length_cm: Option<f64>,
    /// From the tip of the snout to the vent, in cm.
    pub snout_vent_cm: Option<f64>,
    /// Around the widest part, in cm.
    pub girth_cm: Option<f64>,
}

impl Recorded for Measurement {
    fn read(reader: &mut Reader<'_>) -> Option<Measurement> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let total_length_cm = reader.number("total_length_cm", LENGTH_CM);
        let snout_vent_cm = reader.number("snout_vent_cm", LENGTH_CM);
        let girth_cm = reader.number("girth_cm", GIRTH_CM);
        let nothing = total_length_cm.is_none() && snout_vent_cm.is_none() && girth_cm.is_none();
        if nothing && !reader.is_faulty() {
            reader.object("at", "nothing was measured", "add total_length_cm, snout_vent_cm or girth_cm");
        }
        if nothing {
            return None;
        }
        Some(Measurement { at: at?, total_length_cm, snout_vent_cm, girth_cm })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.number("total_length_cm", self.total_length_cm);
        sheet.number("snout_vent_cm", self.snout_vent_cm);
        sheet.number("girth_cm", self.girth_cm);
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}
