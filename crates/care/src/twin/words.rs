//! Numbers in the sentences of an answer, rounded as a keeper would say them.

use records::choice::Choice;
use records::facts::Spot;

use crate::what_if::Range;

/// «31.5 °C (30–33)», to half a degree.
pub fn degrees(range: Range) -> String {
    let half = |c: f64| {
        let rounded = (c * 2.0).round() / 2.0;
        if rounded.fract() == 0.0 { format!("{rounded:.0}") } else { format!("{rounded:.1}") }
    };
    span(range, "\u{a0}°C", half)
}

/// «4 K (3–5)», to half a kelvin.
pub fn kelvin(range: Range) -> String {
    degrees(range).replace("°C", "K")
}

/// «45 W (36–56)», to a whole watt.
pub fn watts(range: Range) -> String {
    span(range, "\u{a0}W", |w| format!("{w:.0}"))
}

/// «12 h (8–17)» from 90 minutes up, else «50 min (35–70)».
pub fn hours(range: Range) -> String {
    if range.mid < 1.5 {
        let minutes = |h: f64| format!("{:.0}", rounded_minutes(h * 60.0));
        span(range, "\u{a0}min", minutes)
    } else {
        span(range, "\u{a0}h", |h| if h < 10.0 { plain(h, 0.5) } else { format!("{h:.0}") })
    }
}

/// How long a log is: «14 h», «3 days».
pub fn lasted(hours: f64) -> String {
    if hours < 36.0 { format!("{hours:.0}\u{a0}h") } else { format!("{:.0}\u{a0}days", hours / 24.0) }
}

/// «55 % (47–63)».
pub fn percent(range: Range) -> String {
    span(range, "\u{a0}%", |value| format!("{value:.0}"))
}

/// «80 g (60–110)», to two digits.
pub fn grams(range: Range) -> String {
    span(range, "\u{a0}g", two_digits)
}

fn rounded_minutes(minutes: f64) -> f64 {
    if minutes < 20.0 { minutes.round() } else { (minutes / 5.0).round() * 5.0 }
}

fn plain(value: f64, step: f64) -> String {
    let rounded = (value / step).round() * step;
    if rounded.fract() == 0.0 { format!("{rounded:.0}") } else { format!("{rounded:.1}") }
}

fn two_digits(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value:.0}");
    }
    let step = 10f64.powf(value.abs().log10().floor() - 1.0).max(1.0);
    format!("{:.0}", (value / step).round() * step)
}

fn span(range: Range, unit: &str, word: impl Fn(f64) -> String) -> String {
    if range.mid.is_finite() && !range.high.is_finite() {
        return format!("{}{unit} ({} or more)", word(range.mid), word(range.low));
    }
    let end = |value: f64| if value.is_finite() { word(value) } else { "more".to_owned() };
    let (low, mid, high) = (end(range.low), end(range.mid), end(range.high));
    if low == high {
        format!("{mid}{unit}")
    } else {
        format!("{mid}{unit} ({low}–{high})").replace("–-", " to −")
    }
}

/// A spot in words.
pub fn spot(spot: Spot) -> String {
    spot.words()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_keeper_hears_no_false_digits() {
        let range = |low, mid, high| Range { low, mid, high };
        for (said, words) in [
            (degrees(range(29.8, 31.44, 33.1)), "31.5\u{a0}°C (30–33)"),
            (watts(range(36.4, 44.6, 56.2)), "45\u{a0}W (36–56)"),
            (hours(range(0.4, 0.61, 1.2)), "35\u{a0}min (25–70)"),
            (hours(range(8.2, 12.4, 17.0)), "12\u{a0}h (8–17)"),
            (grams(range(63.0, 84.4, 117.0)), "84\u{a0}g (63–120)"),
            (degrees(Range::exactly(25.0)), "25\u{a0}°C"),
            (hours(range(5.0, 9.0, f64::INFINITY)), "9\u{a0}h (5 or more)"),
        ] {
            assert_eq!(said, words);
        }
    }
}
