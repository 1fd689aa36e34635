//! Length from mass and back: m ∝ Lᵇ within a species (E6), and the thickness of both (E7).

use std::f64::consts::PI;

use units::Moment;

use super::forecast::{Growth, Point};
use super::prior::{Log, Z};
use crate::answer::ValueRange;
use crate::lines;
use crate::rules::prey;
use crate::view::View;

/// What a length is reckoned from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum From {
    /// The animal's own length, measured then.
    Measured {
        /// When.
        at: Moment,
        /// Total length, cm.
        length_cm: f64,
        /// Its mass then, g.
        mass_g: f64,
    },
    /// The line of mass against length of its species.
    Species,
}

/// What is likely to become of an animal's length.
#[derive(Clone, Debug, PartialEq)]
pub struct Lengths {
    /// What it is reckoned from.
    pub from: From,
    /// Exponent of mass in length.
    pub exponent: f64,
    /// The curve: logarithms of the total length in cm.
    pub curve: Vec<Point>,
    /// Mean cross-section as a share of the widest one: from a tape round the animal, else the usual one.
    pub mean_of_widest: f64,
    body_share: f64,
}

/// The line of a species: mass in g = 10^a L^b, L the total length in cm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// a.
    pub log_mass_at_1_cm: f64,
    /// b.
    pub exponent: f64,
    /// Standard deviation of log10 of the mass.
    pub spread_log: f64,
    /// Total lengths it was read from, cm.
    pub lengths_cm: (f64, f64),
}

impl Line {
    /// Of a species, by the key of its profile; few have one.
    pub fn of(profile: &str) -> Option<Line> {
        let group = lines::rule("length_exponent")?.group(profile)?;
        let number = |key: &str| group.numbers.get(key).copied();
        Some(Line {
            log_mass_at_1_cm: number("log_mass_at_1_cm")?,
            exponent: group.figure.as_ref()?.middle(),
            spread_log: number("spread_log")?,
            lengths_cm: (number("shortest_cm")?, number("longest_cm")?),
        })
    }

    /// Mass in g at a total length in cm.
    pub fn mass_g(&self, length_cm: f64) -> f64 {
        10f64.powf(self.log_mass_at_1_cm + self.exponent * length_cm.log10())
    }

    /// Total length in cm at a mass in g.
    pub fn length_cm(&self, mass_g: f64) -> f64 {
        10f64.powf((mass_g.log10() - self.log_mass_at_1_cm) / self.exponent)
    }
}

impl Lengths {
    /// From the forecast of mass; `None` where neither a length of its own nor a line of its species serves.
    pub fn of(view: &View<'_>, growth: &Growth) -> Option<Lengths> {
        let figure = lines::whole_of_group("length_exponent", &view.profile.key).or(lines::whole("length_exponent"))?;
        let exponent = figure.middle();
        let exponent_off = (figure.high - figure.low) / (2.0 * Z);
        let tape = lines::low("length_spread").value;
        let condition = lines::group("length_spread", "mass at one length").value;
        let may_be_condition = lines::group("length_spread", "share of a change of mass that may be condition").value;
        let (from, start, off, mass) = match measured(view, growth) {
            Some((at, length_cm, mass_g)) => {
                (From::Measured { at, length_cm, mass_g }, length_cm.ln(), tape, mass_g.ln())
            }
            None => {
                let line = Line::of(&view.profile.key)?;
                let mass_g = growth.mass_g();
                let length_cm = line.length_cm(mass_g);
                if length_cm < line.lengths_cm.0 || line.lengths_cm.1 < length_cm {
                    return None;
                }
                let off = line.spread_log * 10f64.ln() / line.exponent;
                (From::Species, length_cm.ln(), off, mass_g.ln())
            }
        };
        let point = |point: &Point| {
            // A snake that loses mass does not grow shorter.
            let gains = |to: f64| ((to - mass) / exponent).max(0.0);
            let (low, mid, high) = (gains(point.low), gains(point.mid), gains(point.high));
            let changed = (point.mid - mass).abs();
            let of_exponent = changed * exponent_off / (exponent * exponent);
            let of_condition = condition.min(changed) / exponent + may_be_condition * changed / exponent;
            let sure = off.hypot(of_exponent).hypot(of_condition);
            let below = (mid - low).hypot(Z * sure);
            let above = (high - mid).hypot(Z * sure);
            let floor = start - Z * off;
            Point {
                days: point.days,
                low: (start + mid - below).max(floor),
                mid: start + mid,
                high: start + mid + above,
            }
        };
        Some(Lengths {
            from,
            exponent,
            curve: growth.curve.iter().map(point).collect(),
            mean_of_widest: own_share(view, growth).unwrap_or(prey::MEAN_OF_WIDEST),
            body_share: prey::body_share(view.profile),
        })
    }

    /// The curve at so many days from now, total length in cm.
    pub fn at(&self, days: f64) -> Option<[f64; 3]> {
        super::forecast::at(&self.curve, days)
    }

    /// What is shown, on the days of the forecast of mass.
    pub fn shown(&self, now: Moment) -> Vec<ValueRange> {
        super::forecast::shown(&self.curve, now)
    }

    /// The widest part in mm at a mass in g and a total length in cm.
    pub fn widest_mm(&self, mass_g: f64, length_cm: f64) -> f64 {
        prey::mean_diameter_mm(mass_g, self.body_share * length_cm) / self.mean_of_widest.sqrt()
    }

    /// Logarithm of the total length now, with its spread.
    pub fn now(&self) -> Option<Log> {
        let first = self.curve.first()?;
        Some(Log { mean: first.mid, deviation: (first.high - first.low) / (2.0 * Z) })
    }
}

/// The last total length that still stands, and what it weighed then.
fn measured(view: &View<'_>, growth: &Growth) -> Option<(Moment, f64, f64)> {
    let (near_d, fresh_d) = (lines::low("length_stands_for").value, lines::high("length_stands_for").value);
    let share = prey::body_share(view.profile);
    let measured = view.line.measurements.iter().rev().filter(|one| view.days_since(one.at) <= fresh_d);
    let (at, length_cm) = measured
        .filter_map(|one| {
            let total = one.total_length_cm.or_else(|| one.snout_vent_cm.map(|snout_vent| snout_vent / share))?;
            Some((one.at.middle(), total))
        })
        .next()?;
    let apart = |one: &&super::Weighed| one.at.days_since(at).abs();
    let nearest = growth.weighings.list.iter().min_by(|a, b| apart(a).total_cmp(&apart(b)))?;
    (apart(&nearest) <= near_d).then_some((at, length_cm, nearest.mass_g))
}

/// Mean cross-section as a share of the widest, from a girth that was measured with a length near a weighing.
fn own_share(view: &View<'_>, growth: &Growth) -> Option<f64> {
    /// Beyond these it is a slip of the tape.
    const CAN_BE: std::ops::RangeInclusive<f64> = 0.4..=0.9;
    let share = prey::body_share(view.profile);
    let near_d = lines::low("length_stands_for").value;
    let read = |one: &records::Entry<records::facts::Measurement>| {
        let girth_cm = one.girth_cm?;
        let snout_vent_cm = one.snout_vent_cm.or_else(|| one.total_length_cm.map(|total| share * total))?;
        let apart = |weighed: &&super::Weighed| weighed.at.days_since(one.at.middle()).abs();
        let nearest = growth.weighings.list.iter().min_by(|a, b| apart(a).total_cmp(&apart(b)))?;
        let widest_mm = 10.0 * girth_cm / PI;
        let of_widest = (prey::mean_diameter_mm(nearest.mass_g, snout_vent_cm) / widest_mm).powi(2);
        (apart(&nearest) <= near_d && CAN_BE.contains(&of_widest)).then_some(of_widest)
    };
    view.line.measurements.iter().rev().find_map(read)
}
