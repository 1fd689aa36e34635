//! What temperature the animal could have had of late.

use records::facts::{Means, Reading, Spot};
use records::timeline::Entry;
use species::Profile;
use units::{Celsius, Moment};

use crate::answer::Evidence;
use crate::draft::seen;

/// Temperatures of late and the body temperature they allow.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Warmth {
    /// Mean of the warm end, in °C.
    pub warm_c: Option<f64>,
    /// Mean of the cool end, in °C.
    pub cool_c: Option<f64>,
    /// The cool end was not measured: the profile's usual difference stands for it.
    pub cool_is_assumed: bool,
    /// The readings it rests on.
    pub records: Vec<Evidence>,
}

/// How far back readings stand for «of late», in days.
const LATELY_DAYS: f64 = 14.0;

impl Warmth {
    /// From the readings of the last two weeks. The control probe lies at the heater and is not the animal's
    /// temperature; a value that looks like °F is left out.
    pub fn of(readings: &[Entry<Reading>], profile: &Profile, now: Moment) -> Warmth {
        let first = readings.partition_point(|one| one.at.to < now.plus_days(-LATELY_DAYS));
        let recent = readings.get(first..).unwrap_or_default();
        let usable = || {
            recent
                .iter()
                .filter(|one| matches!(one.means, Means::SpotCheck | Means::Mean) && !looks_like_fahrenheit(one))
        };
        let mean = |spots: &[Spot]| {
            let (mut sum, mut weight) = (0.0, 0.0);
            for one in usable().filter(|one| spots.contains(&one.spot)) {
                let Some(degrees) = one.temperature_c else { continue };
                let hours = one.hours.unwrap_or(1.0).clamp(1.0, 24.0);
                sum += degrees * hours;
                weight += hours;
            }
            (0.0 < weight).then(|| sum / weight)
        };
        let surface_over_air = || {
            let surface = profile.temperature.basking_surface_c.first()?.middle();
            Some(surface - profile.temperature.warm_ambient_c.first()?.middle())
        };
        let warm_c =
            mean(&[Spot::WarmAir]).or_else(|| Some(mean(&[Spot::WarmSurface])? - surface_over_air().unwrap_or(0.0)));
        let measured = mean(&[Spot::CoolAir]).or_else(|| mean(&[Spot::CoolSurface])).or_else(|| mean(&[Spot::Room]));
        let usual = || {
            Some(
                profile.temperature.warm_ambient_c.first()?.middle()
                    - profile.temperature.cool_ambient_c.first()?.middle(),
            )
        };
        let assumed = || Some(warm_c? - usual()?);
        let spots = [Spot::WarmAir, Spot::WarmSurface, Spot::CoolAir, Spot::CoolSurface, Spot::Room];
        let records = usable()
            .rev()
            .filter(|one| spots.contains(&one.spot) && one.temperature_c.is_some())
            .take(4)
            .map(seen)
            .collect();
        Warmth { warm_c, cool_c: measured.or_else(assumed), cool_is_assumed: measured.is_none(), records }
    }

    /// Body temperature of an animal that rests where it likes, in °C: cool + share x (warm - cool), share 0.6, after
    /// a meal 0.8 (physiology notes, section 8: an assumption, bounded by the probes). `None` without a warm reading.
    pub fn body_c(&self, after_a_meal: bool) -> Option<f64> {
        let (warm, cool) = (self.warm_c?, self.cool_c?);
        let share = if after_a_meal { 0.8 } else { 0.6 };
        Some(cool + share * (warm - cool))
    }
}

/// Too hot to live in as °C.
const TOO_HOT_TO_LIVE_IN_C: f64 = 50.0;
/// Temperatures that enclosures have.
const USUAL_C: std::ops::RangeInclusive<f64> = 10.0..=45.0;

/// Does a reading at a place of the enclosure look like degrees Fahrenheit? So it does when it is too hot to live in
/// as °C, and a usual temperature as °F.
pub fn looks_like_fahrenheit(reading: &Reading) -> bool {
    let Some(degrees) = reading.temperature_c.filter(|degrees| TOO_HOT_TO_LIVE_IN_C <= *degrees) else { return false };
    Celsius::from_fahrenheit(degrees).is_some_and(|read| USUAL_C.contains(&read.degrees()))
}

/// Could temperature and humidity stand in each other's place? So it may be when the temperature is too hot to live
/// in and the humidity would be a usual temperature.
pub fn may_be_swapped(reading: &Reading) -> bool {
    let hot = reading.temperature_c.is_some_and(|degrees| (TOO_HOT_TO_LIVE_IN_C..=100.0).contains(&degrees));
    hot && reading.humidity_pct.is_some_and(|percent| USUAL_C.contains(&percent))
}
