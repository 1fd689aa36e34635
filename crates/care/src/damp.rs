//! How damp the air was over a span of days.

use records::facts::{Means, Spot};
use units::Moment;

use crate::answer::Evidence;
use crate::draft::seen;
use crate::view::View;
use crate::warmth::may_be_swapped;

/// Where the humidity of the air is read, best first: the cool end is where the animal spends its day, the warm end
/// is drier at the same moisture.
pub const AIR_SPOTS: [Spot; 5] = [Spot::CoolAir, Spot::Hide, Spot::CoolSurface, Spot::WarmAir, Spot::WarmSurface];

/// Where the humidity was read, in words.
pub fn at(spot: Spot) -> &'static str {
    match spot {
        Spot::CoolAir | Spot::CoolSurface => "at the cool end",
        Spot::Hide => "in the hide",
        Spot::HumidHide => "in the humid hide",
        _ => "at the warm end",
    }
}

/// Relative humidity at one spot over a span of days.
#[derive(Clone, Debug, PartialEq)]
pub struct Damp {
    /// Where it was read.
    pub spot: Spot,
    /// How many readings there are.
    pub readings: usize,
    /// Their mean, a reading over many hours weighing as many, %.
    pub mean_pct: f64,
    /// The lowest, %.
    pub low_pct: f64,
    /// The highest, %.
    pub high_pct: f64,
    /// Some of the records, the latest first.
    pub records: Vec<Evidence>,
}

impl Damp {
    /// Readings between two moments at the best spot that has any. A value that may stand in the place of a temperature
    /// is left out.
    pub fn between(view: &View<'_>, from: Moment, to: Moment) -> Option<Damp> {
        let readings = &view.line.readings;
        let first = readings.partition_point(|one| one.at.to < from);
        let span = || readings.get(first..).unwrap_or_default().iter().take_while(|one| one.at.from <= to);
        let usable = |one: &&records::Entry<records::facts::Reading>| {
            one.humidity_pct.is_some() && matches!(one.means, Means::SpotCheck | Means::Mean) && !may_be_swapped(one)
        };
        let spot = *AIR_SPOTS.iter().find(|spot| span().filter(usable).any(|one| one.spot == **spot))?;
        let (mut sum, mut weight, mut count) = (0.0, 0.0, 0);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut records = Vec::new();
        for one in span().filter(usable).filter(|one| one.spot == spot) {
            let percent = one.humidity_pct.unwrap_or_default();
            let hours = one.hours.unwrap_or(1.0).clamp(1.0, 24.0);
            sum += hours * percent;
            weight += hours;
            count += 1;
            low = low.min(percent);
            high = high.max(percent);
            records.push(seen(one));
        }
        records.reverse();
        records.truncate(4);
        Some(Damp { spot, readings: count, mean_pct: sum / weight, low_pct: low, high_pct: high, records })
    }
}
