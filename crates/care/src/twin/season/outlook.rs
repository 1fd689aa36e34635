//! How the heater of a described enclosure stands to the year, in shares of the ways in which it may be.

use records::facts::Spot;

use super::cases::{When, Year, guesses};
use super::{over, years};
use crate::lines;
use crate::twin::{Description, Spread};
use crate::what_if::Range;

/// The heater and its room through the year. Shares are those of the ways in which the enclosure may be, %.
#[derive(Clone, Debug, PartialEq)]
pub struct HeaterOutlook {
    /// It falls short of its set point in the coldest week. `None` where its watts are not told.
    pub weak_in_winter_pct: Option<f64>,
    /// Warm surface in the coldest week, by day, °C.
    pub winter_surface_c: Range,
    /// Coolest spot in a night of the coldest week, °C.
    pub winter_night_c: Range,
    /// It is colder there than the coldest night of the species. `None` without a species.
    pub cold_night_pct: Option<f64>,
    /// Coolest spot by day in the warmest week, °C.
    pub summer_coolest_c: Range,
    /// It is warmer there than the cool side of the species. `None` without a species.
    pub hot_in_summer_pct: Option<f64>,
    /// Even the coolest spot is above the line of the species for overheating. `None` without a species.
    pub overheats_pct: Option<f64>,
    /// The heater has nothing to do by day in the warmest week.
    pub rests_in_summer_pct: f64,
}

/// The outlook of a description, over so many sets of values. `None` without a heater.
pub fn outlook(described: &Description, sets: usize) -> Option<HeaterOutlook> {
    if described.heaters.is_empty() {
        return None;
    }
    let spread = Spread::sized(described, guesses(described), sets).ok()?;
    HeaterOutlook::of(described, &years(described, &spread))
}

impl HeaterOutlook {
    pub(super) fn of(described: &Description, years: &[Year]) -> Option<HeaterOutlook> {
        let pct = |is_so: &dyn Fn(&Year) -> bool| {
            100.0 * years.iter().filter(|year| is_so(year)).count() as f64 / years.len().max(1) as f64
        };
        let slack = lines::low("temperature_off").value;
        let temperature = described.profile().map(|profile| &profile.temperature);
        let night = temperature.and_then(|one| one.night_min_c.first());
        let cool = temperature.and_then(|one| one.cool_ambient_c.first());
        let overheat = temperature.and_then(|one| one.overheat_c.first());
        let is_told = described.heaters.first().is_some_and(|main| main.watts.is_some());
        let is_short = |year: &Year| year.is_short(When::WinterDay) || year.is_short(When::WinterNight);
        let summer = |year: &Year| year.coolest_c(When::SummerDay);
        Some(HeaterOutlook {
            weak_in_winter_pct: is_told.then(|| pct(&is_short)),
            winter_surface_c: over(years, |year| year.at(When::WinterDay).spot(Spot::WarmSurface))?,
            winter_night_c: over(years, |year| year.coolest_c(When::WinterNight))?,
            cold_night_pct: night.map(|line| pct(&|year| year.coolest_c(When::WinterNight) < line.low - slack)),
            summer_coolest_c: over(years, summer)?,
            hot_in_summer_pct: cool.map(|line| pct(&|year| line.high + slack < summer(year))),
            overheats_pct: overheat.map(|line| pct(&|year| line.high < summer(year))),
            rests_in_summer_pct: pct(&|year| year.at(When::SummerDay).power_w() < 0.05),
        })
    }
}
