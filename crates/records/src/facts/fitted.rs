//! What a log of temperatures said about an enclosure.

use units::When;

use super::{Recorded, Sheet};
use crate::fields::{Limits, Reader};

const CONDUCTANCE: Limits = Limits::new(1e-4, 1_000.0, "watts per kelvin");
const CAPACITY: Limits = Limits::new(1e-3, 100_000.0, "kilojoules per kelvin");
const DEVIATION: Limits = Limits::new(0.0, 10_000.0, "% of the value");

/// Two halves of an enclosure, warm and cool, as a log of their temperatures shows them. Reckoned, never typed: it is
/// kept so that later answers rest on it. Of several the one whose log ends last holds.
///
/// Conductances and capacities are known only in proportion to the heater's power: they hold for `watts`. Each value
/// has its standard deviation in % of itself; 0 where the value was told and not fitted.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// End of the log.
    pub at: When,
    /// Beginning of the log.
    pub from: When,
    /// From the warm half to the room, in W/K.
    pub warm_to_room_w_k: f64,
    /// Its standard deviation, in %.
    pub warm_to_room_w_k_sd_pct: f64,
    /// From the cool half to the room, in W/K.
    pub cool_to_room_w_k: f64,
    /// Its standard deviation, in %.
    pub cool_to_room_w_k_sd_pct: f64,
    /// From the warm half to the cool one, in W/K.
    pub warm_to_cool_w_k: f64,
    /// Its standard deviation, in %.
    pub warm_to_cool_w_k_sd_pct: f64,
    /// Heat that the warm half holds, in kJ/K.
    pub warm_kj_k: f64,
    /// Its standard deviation, in %.
    pub warm_kj_k_sd_pct: f64,
    /// Heat that the cool half holds, in kJ/K.
    pub cool_kj_k: f64,
    /// Its standard deviation, in %.
    pub cool_kj_k_sd_pct: f64,
    /// Share of the heater's power that reaches the warm half, 0 to 1.
    pub heater_share: f64,
    /// Its standard deviation, in %.
    pub heater_share_sd_pct: f64,
    /// The rated power that the heater was taken to have, in W.
    pub watts: f64,
    /// Standard deviation of what the fit leaves over, in K.
    pub rms_k: f64,
    /// How many rows of the log were used.
    pub log_rows: u32,
}

impl Recorded for Fitted {
    fn read(reader: &mut Reader<'_>) -> Option<Fitted> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let from = reader.day("from");
        let from = reader.require("from", from);
        let mut number = |key: &'static str, limits| {
            let number = reader.number(key, limits);
            reader.require(key, number)
        };
        let warm_to_room_w_k = number("warm_to_room_w_k", CONDUCTANCE);
        let warm_to_room_w_k_sd_pct = number("warm_to_room_w_k_sd_pct", DEVIATION);
        let cool_to_room_w_k = number("cool_to_room_w_k", CONDUCTANCE);
        let cool_to_room_w_k_sd_pct = number("cool_to_room_w_k_sd_pct", DEVIATION);
        let warm_to_cool_w_k = number("warm_to_cool_w_k", CONDUCTANCE);
        let warm_to_cool_w_k_sd_pct = number("warm_to_cool_w_k_sd_pct", DEVIATION);
        let warm_kj_k = number("warm_kj_k", CAPACITY);
        let warm_kj_k_sd_pct = number("warm_kj_k_sd_pct", DEVIATION);
        let cool_kj_k = number("cool_kj_k", CAPACITY);
        let cool_kj_k_sd_pct = number("cool_kj_k_sd_pct", DEVIATION);
        let heater_share = number("heater_share", Limits::new(0.0, 1.0, "a share of the power"));
        let heater_share_sd_pct = number("heater_share_sd_pct", DEVIATION);
        let watts = number("watts", Limits::new(0.5, 5_000.0, "watts"));
        let rms_k = number("rms_k", Limits::new(0.0, 50.0, "kelvin"));
        let log_rows = reader.count("log_rows", 1, 100_000_000);
        let log_rows = reader.require("log_rows", log_rows);
        if let (Some(at), Some(from)) = (at, from)
            && at.to <= from.from
        {
            reader.object("from", "the log ended before it began", "swap the two dates");
            return None;
        }
        Some(Fitted {
            at: at?,
            from: from?,
            warm_to_room_w_k: warm_to_room_w_k?,
            warm_to_room_w_k_sd_pct: warm_to_room_w_k_sd_pct?,
            cool_to_room_w_k: cool_to_room_w_k?,
            cool_to_room_w_k_sd_pct: cool_to_room_w_k_sd_pct?,
            warm_to_cool_w_k: warm_to_cool_w_k?,
            warm_to_cool_w_k_sd_pct: warm_to_cool_w_k_sd_pct?,
            warm_kj_k: warm_kj_k?,
            warm_kj_k_sd_pct: warm_kj_k_sd_pct?,
            cool_kj_k: cool_kj_k?,
            cool_kj_k_sd_pct: cool_kj_k_sd_pct?,
            heater_share: heater_share?,
            heater_share_sd_pct: heater_share_sd_pct?,
            watts: watts?,
            rms_k: rms_k?,
            log_rows: log_rows?,
        })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.when("from", Some(self.from));
        sheet.number("warm_to_room_w_k", Some(self.warm_to_room_w_k));
        sheet.number("warm_to_room_w_k_sd_pct", Some(self.warm_to_room_w_k_sd_pct));
        sheet.number("cool_to_room_w_k", Some(self.cool_to_room_w_k));
        sheet.number("cool_to_room_w_k_sd_pct", Some(self.cool_to_room_w_k_sd_pct));
        sheet.number("warm_to_cool_w_k", Some(self.warm_to_cool_w_k));
        sheet.number("warm_to_cool_w_k_sd_pct", Some(self.warm_to_cool_w_k_sd_pct));
        sheet.number("warm_kj_k", Some(self.warm_kj_k));
        sheet.number("warm_kj_k_sd_pct", Some(self.warm_kj_k_sd_pct));
        sheet.number("cool_kj_k", Some(self.cool_kj_k));
        sheet.number("cool_kj_k_sd_pct", Some(self.cool_kj_k_sd_pct));
        sheet.number("heater_share", Some(self.heater_share));
        sheet.number("heater_share_sd_pct", Some(self.heater_share_sd_pct));
        sheet.number("watts", Some(self.watts));
        sheet.number("rms_k", Some(self.rms_k));
        sheet.number("log_rows", Some(f64::from(self.log_rows)));
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}
