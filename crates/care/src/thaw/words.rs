//! Times as a keeper says them.

use units::{Moment, Zone};

use crate::view::{month, number};
use crate::what_if::Range;

/// «19:30» today, «19:30 tomorrow», «19:30 on 14 Mar 2026».
pub(super) fn clock(at: Moment, now: Moment, zone: &Zone) -> String {
    let time = zone.clock(at);
    let hour = format!("{:02}:{:02}", time.hour(), time.minute());
    let day = zone.date(at);
    if day == zone.date(now) {
        hour
    } else if day == zone.date(zone.days_later(now, 1)) {
        format!("{hour} tomorrow")
    } else {
        format!("{hour} on {} {} {}", day.day(), month(day.month()), day.year())
    }
}

/// Whole minutes, from two hours on half hours.
pub(super) fn lasting(seconds: f64) -> String {
    if seconds < 7200.0 { minutes(seconds) } else { format!("{} hours", number(half_hours(seconds))) }
}

/// «7 hours (5.5 to 9)», «24 minutes (18 to 35)».
pub(super) fn lasting_about(range: Range) -> String {
    if !range.mid.is_finite() {
        return "for as long as the room is so warm".to_owned();
    }
    let (low, high) = if range.mid < 7200.0 {
        (format!("{:.0}", range.low / 60.0), format!("{:.0}", range.high / 60.0))
    } else {
        (number(half_hours(range.low)), number(half_hours(range.high)))
    };
    let high = if range.high.is_finite() { format!("to {high}") } else { "or more".to_owned() };
    format!("{} ({low} {high})", lasting(range.mid))
}

fn minutes(seconds: f64) -> String {
    crate::view::plural((seconds / 60.0).round(), "minute")
}

fn half_hours(seconds: f64) -> f64 {
    (seconds / 1800.0).round() / 2.0
}

/// Degrees to the half.
pub(super) fn half_degrees(degrees: f64) -> String {
    crate::view::celsius((degrees * 2.0).round() / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_keeper_reads_whole_minutes_and_half_hours() {
        let range = |low: f64, mid: f64, high: f64| Range { low: low * 60.0, mid: mid * 60.0, high: high * 60.0 };
        for (range, says) in [
            (range(18.2, 24.4, 35.0), "24 minutes (18 to 35)"),
            (range(330.0, 421.0, 541.0), "7 hours (5.5 to 9)"),
            (range(1.0, f64::INFINITY, f64::INFINITY), "for as long as the room is so warm"),
            (range(10.0, 20.0, f64::INFINITY), "20 minutes (10 or more)"),
        ] {
            assert_eq!(lasting_about(range), says);
        }
    }

    #[test]
    fn a_time_says_its_day_where_that_is_not_today() {
        let zone = Zone::named("Europe/Lisbon").unwrap();
        let at = |text: &str| zone.read(text).unwrap().from;
        let now = at("2026-03-14T16:00");
        for (when, says) in [
            ("2026-03-14T19:30", "19:30"),
            ("2026-03-15T07:05", "07:05 tomorrow"),
            ("2026-03-16T07:05", "07:05 on 16 Mar 2026"),
        ] {
            assert_eq!(clock(at(when), now, &zone), says);
        }
    }
}
