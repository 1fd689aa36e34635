//! Readings and power cuts.

use units::When;

use super::{Recorded, Sheet};
use crate::choices;
use crate::fields::{Limits, Reader};

choices!(
    /// A place where something is measured.
    Spot, "spot", {
        WarmSurface = "warm-surface", WarmAir = "warm-air", CoolSurface = "cool-surface", CoolAir = "cool-air",
        Hide = "hide", HumidHide = "humid-hide", Water = "water", Room = "room", Outdoors = "outdoors",
        /// The thermostat's own probe: not the animal's temperature.
        ControlProbe = "control-probe",
    }
);

choices!(
    /// By day or by night.
    Period, "period", { Day = "day", Night = "night" }
);

choices!(
    /// What a figure stands for.
    Means, "meaning of a figure", {
        SpotCheck = "spot-check", Mean = "mean", Minimum = "minimum", Maximum = "maximum",
    }
);

const TEMPERATURE_C: Limits = Limits::new(-90.0, 200.0, "°C");
const HUMIDITY_PCT: Limits = Limits::new(0.0, 100.0, "% relative humidity");
const HOURS: Limits = Limits::new(0.0, 8_784.0, "hours");

/// A temperature or humidity (or both) at a spot.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// When (for a figure over a span: its end or middle, as the keeper writes it).
    pub at: When,
    /// Where.
    pub spot: Spot,
    /// In °C.
    pub temperature_c: Option<f64>,
    /// Relative humidity in %.
    pub humidity_pct: Option<f64>,
    /// By day or by night, where it is told.
    pub period: Option<Period>,
    /// What the figure stands for.
    pub means: Means,
    /// The span that the figure covers, in hours.
    pub hours: Option<f64>,
}

impl Recorded for Reading {
    fn read(reader: &mut Reader<'_>) -> Option<Reading> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let spot = reader.choice("spot");
        let spot = reader.require("spot", spot);
        let temperature_c = reader.number("temperature_c", TEMPERATURE_C);
        let humidity_pct = reader.number("humidity_pct", HUMIDITY_PCT);
        let period = reader.choice("period");
        let means = reader.choice("means").unwrap_or(Means::SpotCheck);
        let hours = reader.number("hours", HOURS);
        if temperature_c.is_none() && humidity_pct.is_none() {
            if !reader.is_faulty() {
                reader.object("spot", "nothing was read", "add temperature_c or humidity_pct");
            }
            return None;
        }
        Some(Reading { at: at?, spot: spot?, temperature_c, humidity_pct, period, means, hours })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.choice("spot", Some(self.spot));
        sheet.number("temperature_c", self.temperature_c);
        sheet.number("humidity_pct", self.humidity_pct);
        sheet.choice("period", self.period);
        sheet.choice("means", (self.means != Means::SpotCheck).then_some(self.means));
        sheet.number("hours", self.hours);
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}

/// A power cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Power {
    /// Out since.
    pub from: When,
    /// Back since; `None` while it is out.
    pub until: Option<When>,
}

impl Recorded for Power {
    fn read(reader: &mut Reader<'_>) -> Option<Power> {
        let from = reader.day("from");
        let from = reader.require("from", from);
        let until = reader.day("until");
        if let (Some(from), Some(until)) = (from, until)
            && until.to < from.from
        {
            reader.object("until", "the power came back before it went", "mend one of the two dates");
            return None;
        }
        Some(Power { from: from?, until })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("from", Some(self.from));
        sheet.when("until", self.until);
    }
    fn when(&self) -> Option<When> {
        Some(self.from)
    }
}
