//! Numbers of a reckoning in words: rounded as a keeper would, the middle first and the range beside it.
//!
//! A long time is said in hours or days, a heavy mass in kilograms; an end that is not there is said in words.

use care::what_if::{Range, Unit};

use crate::wording::{STAY, number};

/// The sign of a unit as it stands beside a number; empty for a count and for money.
pub fn sign(unit: Unit) -> &'static str {
    match unit {
        Unit::Celsius => "°C",
        Unit::Kelvin => "K",
        Unit::Watts => "W",
        Unit::KilowattHours => "kWh",
        Unit::WattHours => "Wh",
        Unit::Money | Unit::Number => "",
        Unit::Percent | Unit::Humidity => "%",
        Unit::Hours => "h",
        Unit::Minutes => "min",
        Unit::Grams => "g",
        Unit::GramsPerDay => "g a day",
        Unit::GramsPerWeek => "g a week",
        Unit::Kilojoules => "kJ",
        Unit::KilojoulesPerDay => "kJ a day",
        Unit::Days => "days",
        Unit::Litres => "l",
        Unit::Centimetres => "cm",
        Unit::Millimetres => "mm",
        Unit::WattsPerKelvin => "W/K",
        Unit::KilojoulesPerKelvin => "kJ/K",
        Unit::PerHour => "an hour",
        Unit::Log10 => "powers of ten",
    }
}

/// How numbers of one row are written: all in one unit and with the same decimals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    factor: f64,
    digits: usize,
    sign: &'static str,
    /// «4.20», not «4.2».
    keeps_zeros: bool,
}

fn decimals(size: f64) -> usize {
    match size {
        size if size < 1.0 => 2,
        size if size < 20.0 => 1,
        _ => 0,
    }
}

fn of_time(hours: f64) -> Scale {
    const LONGEST_IN_MINUTES: f64 = 1.75;
    const LONGEST_IN_HOURS: f64 = 48.0;
    match hours {
        hours if hours < LONGEST_IN_MINUTES => {
            Scale { factor: 60.0, digits: usize::from(hours * 60.0 < 3.0), sign: "min", keeps_zeros: false }
        }
        hours if hours < LONGEST_IN_HOURS => {
            Scale { factor: 1.0, digits: usize::from(hours < 10.0), sign: "h", keeps_zeros: false }
        }
        hours => Scale { factor: 1.0 / 24.0, digits: usize::from(hours < 240.0), sign: "days", keeps_zeros: false },
    }
}

impl Scale {
    /// The scale for numbers about as large as `size`.
    pub fn of(unit: Unit, size: f64) -> Scale {
        let size = size.abs();
        let plain = |digits| Scale { factor: 1.0, digits, sign: sign(unit), keeps_zeros: false };
        match unit {
            Unit::Celsius | Unit::Kelvin => plain(1),
            Unit::Percent if size < 1.0 => plain(2),
            Unit::Percent if size < 5.0 => plain(1),
            Unit::Percent | Unit::Humidity | Unit::Days => plain(0),
            Unit::Money => Scale { keeps_zeros: true, ..plain(2) },
            Unit::Watts | Unit::WattHours => plain(usize::from(size < 3.0)),
            Unit::Hours => of_time(size),
            Unit::Minutes => Scale { factor: of_time(size / 60.0).factor / 60.0, ..of_time(size / 60.0) },
            Unit::Grams if 1_000.0 <= size => Scale { factor: 1e-3, digits: 2, sign: "kg", keeps_zeros: false },
            Unit::Centimetres if 100.0 <= size => Scale { factor: 1e-2, digits: 2, sign: "m", keeps_zeros: false },
            Unit::Grams
            | Unit::GramsPerDay
            | Unit::GramsPerWeek
            | Unit::Kilojoules
            | Unit::KilojoulesPerDay
            | Unit::Centimetres
            | Unit::KilowattHours
            | Unit::Litres
            | Unit::Millimetres
            | Unit::WattsPerKelvin
            | Unit::KilojoulesPerKelvin
            | Unit::PerHour
            | Unit::Log10
            | Unit::Number => plain(decimals(size)),
        }
    }

    /// The scale of a range: that of its middle, or of the end that is there.
    pub fn of_range(range: Range, unit: Unit) -> Scale {
        let ends = [range.mid, range.low, range.high];
        // Where the middle is near nothing, the ends say how large the numbers are.
        if range.low < 0.0 && 0.0 < range.high {
            let largest = ends.into_iter().filter(|value| value.is_finite()).fold(0.0f64, |a, b| a.max(b.abs()));
            return Scale::of(unit, largest);
        }
        Scale::of(unit, ends.into_iter().find(|value| value.is_finite()).unwrap_or(0.0))
    }

    /// A number without its unit.
    pub fn bare(self, value: f64) -> String {
        let text = number(value * self.factor, self.digits);
        match text.split_once('.') {
            Some((_, decimals)) if self.keeps_zeros && decimals.len() == 1 => format!("{text}0"),
            _ => text,
        }
    }

    fn with_unit(self, number: &str) -> String {
        if self.sign.is_empty() { number.to_owned() } else { format!("{number}{STAY}{}", self.sign) }
    }

    /// A number with its unit.
    pub fn says(self, value: f64) -> String {
        self.with_unit(&self.bare(value))
    }
}

fn is_time(unit: Unit) -> bool {
    matches!(unit, Unit::Hours | Unit::Minutes)
}

/// One number with its unit.
pub fn value(value: f64, unit: Unit) -> String {
    Scale::of(unit, value).says(value)
}

/// The middle: «32.5 °C», «more than 48 h» where it has no end, «never» where it never comes.
pub fn middle(range: Range, unit: Unit) -> String {
    let scale = Scale::of_range(range, unit);
    match range {
        Range { mid, .. } if mid.is_finite() => scale.says(mid),
        Range { mid, low, .. } if mid == f64::INFINITY && low.is_finite() => format!("more than {}", scale.says(low)),
        Range { mid, high, .. } if mid == f64::NEG_INFINITY && high.is_finite() => {
            format!("less than {}", scale.says(high))
        }
        Range { mid, .. } if mid.is_nan() => "not known".to_owned(),
        _ if is_time(unit) => "never".to_owned(),
        _ => "without end".to_owned(),
    }
}

/// The range beside a middle, without the unit where the middle names it: «31–34», «6 or more»; `None` where the
/// number is known exactly or the middle says it all.
pub fn spread(range: Range, unit: Unit) -> Option<String> {
    let scale = Scale::of_range(range, unit);
    if !range.mid.is_finite() {
        return None;
    }
    match (range.low.is_finite(), range.high.is_finite()) {
        (true, true) => {
            let (low, high) = (scale.bare(range.low), scale.bare(range.high));
            // A minus sign and a dash would run into each other.
            let joint = if high.starts_with('\u{2212}') || low.starts_with('\u{2212}') { " to " } else { "–" };
            (low != high).then(|| format!("{low}{joint}{high}"))
        }
        (true, false) => Some(format!("{} or more", scale.bare(range.low))),
        (false, true) => Some(format!("{} or less", scale.bare(range.high))),
        (false, false) => None,
    }
}

/// The middle with its range: «32.5 °C (31–34)».
pub fn full(range: Range, unit: Unit) -> String {
    match spread(range, unit) {
        Some(spread) => format!("{} ({spread})", middle(range, unit)),
        None => middle(range, unit),
    }
}

/// The range alone, with its unit: «31–34 °C».
pub fn between(range: Range, unit: Unit) -> String {
    match spread(range, unit) {
        Some(spread) => Scale::of_range(range, unit).with_unit(&spread),
        None => middle(range, unit),
    }
}

/// A share of the spread: «about 40 % of the spread», «under 1 %».
pub fn share(weight: f64) -> String {
    match weight * 100.0 {
        share if share < 0.5 => format!("under 1{STAY}%"),
        share => format!("{}{STAY}%", number(share, 0)),
    }
}

/// A time since a start, in minutes: «40 min», «6.5 h», «3 days».
pub fn elapsed(minutes: f64) -> String {
    match minutes {
        0.0 => "at the start".to_owned(),
        minutes if minutes < 60.0 => format!("{}{STAY}min", number(minutes, 0)),
        minutes if minutes < 2_880.0 => format!("{}{STAY}h", number(minutes / 60.0, 1)),
        minutes => format!("{}{STAY}days", number(minutes / 1_440.0, 1)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(low: f64, mid: f64, high: f64) -> Range {
        Range { low, mid, high }
    }

    #[test]
    fn numbers_are_rounded_as_a_keeper_would_and_keep_their_unit() {
        const INF: f64 = f64::INFINITY;
        for (given, unit, says) in [
            (range(31.04, 32.46, 34.0), Unit::Celsius, "32.5 °C (31–34)"),
            (range(38.2, 45.4, 61.0), Unit::Watts, "45 W (38–61)"),
            (range(0.25, 0.5, 1.0), Unit::Hours, "30 min (15–60)"),
            (range(4.0, 6.5, 9.25), Unit::Hours, "6.5 h (4–9.2)"),
            (range(60.0, 72.0, 96.0), Unit::Hours, "3 days (2.5–4)"),
            (range(240.0, 390.0, 500.0), Unit::Minutes, "6.5 h (4–8.3)"),
            (range(6.0, INF, INF), Unit::Hours, "more than 6 h"),
            (range(6.0, 9.0, INF), Unit::Hours, "9 h (6 or more)"),
            (range(INF, INF, INF), Unit::Hours, "never"),
            (range(INF, INF, INF), Unit::Watts, "without end"),
            (range(-4.0, -2.0, 1.0), Unit::Kelvin, "−2 K (−4 to 1)"),
            (range(1_200.0, 1_500.0, 1_800.0), Unit::Grams, "1.5 kg (1.2–1.8)"),
            (range(4.2, 4.2, 4.2), Unit::Money, "4.20"),
            (range(f64::NAN, f64::NAN, f64::NAN), Unit::Watts, "not known"),
        ] {
            assert_eq!(full(given, unit).replace(STAY, " "), says);
        }
    }

    #[test]
    fn a_range_alone_carries_its_unit() {
        assert_eq!(between(range(31.0, 32.0, 34.0), Unit::Celsius), "31–34\u{a0}°C");
        assert_eq!(between(Range::exactly(3.0), Unit::Millimetres), "3\u{a0}mm");
        assert_eq!(share(0.001), "under 1\u{a0}%");
    }
}
