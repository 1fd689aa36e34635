//! Amounts and dates as people type them: `24g`, `0.9oz`, `88F`, `48in`, `yesterday`.
//!
//! A bare number is in the unit that its field names (`mass_g`, `set_c`); another unit is written with the number. It
//! is turned into the unit of the field as on the page, and what was kept is always shown.

use records::Fault;
use records::fields::read_number;
use units::{Moment, Zone};
use web::amount::{converted, rounded, split};

/// What a field measures, told by the end of its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Quantity {
    Mass,
    Temperature,
    Length,
    Thickness,
    Share,
    Minutes,
    Hours,
    Power,
}

impl Quantity {
    fn of(key: &str) -> Option<Quantity> {
        let end = key.rsplit('_').next().unwrap_or(key);
        Some(match (key, end) {
            ("minutes" | "minutes_left", _) => Quantity::Minutes,
            ("hours" | "every_hours", _) => Quantity::Hours,
            ("watts", _) => Quantity::Power,
            (_, "g") => Quantity::Mass,
            (_, "c") => Quantity::Temperature,
            (_, "cm") => Quantity::Length,
            (_, "mm") => Quantity::Thickness,
            (_, "pct") => Quantity::Share,
            _ => return None,
        })
    }

    /// The units that can be written, for a message.
    fn units(self) -> &'static str {
        match self {
            Quantity::Mass => "g, kg, oz or lb",
            Quantity::Temperature => "C or F",
            Quantity::Length => "cm, mm, m, in or ft",
            Quantity::Thickness => "mm, cm or in",
            Quantity::Share => "%",
            Quantity::Minutes | Quantity::Hours => "min, h or d",
            Quantity::Power => "W",
        }
    }

    /// The unit of its fields.
    fn unit(self) -> &'static str {
        match self {
            Quantity::Mass => "g",
            Quantity::Temperature => "°C",
            Quantity::Length => "cm",
            Quantity::Thickness => "mm",
            Quantity::Share => "%",
            Quantity::Minutes => "min",
            Quantity::Hours => "h",
            Quantity::Power => "W",
        }
    }
}

/// A value as its field takes it: a number with a unit of its own is turned into that of the field, everything else
/// stays as it was typed.
pub fn stored(key: &str, text: &str) -> Result<String, Fault> {
    let text = text.trim();
    let Some(quantity) = Quantity::of(key) else { return Ok(text.to_owned()) };
    if text.is_empty() || read_number(text).is_some() {
        return Ok(text.to_owned());
    }
    let Some((number, sign)) = split(text) else { return Ok(text.to_owned()) };
    match converted(number, sign, quantity.unit()) {
        Some(value) => Ok(rounded(value)),
        None => Err(Fault::new(
            format!("`{text}` has no unit that fits `{key}`"),
            format!("--{}", key.replace('_', "-")),
            format!("write the number alone, or with {}", quantity.units()),
        )),
    }
}

/// Is this the name of a field that holds a date (or several)?
pub fn is_date(key: &str) -> bool {
    key == "at"
        || key.ends_with("_at")
        || matches!(
            key,
            "from"
                | "until"
                | "given"
                | "frozen_on"
                | "bought"
                | "hatched"
                | "arrived"
                | "complete_since"
                | "quarantine_from"
        )
}

/// A date as its field takes it: `now`, `today`, `yesterday`, `19:30` (today) and `yesterday 19:30` are put as dates,
/// everything else stays as it was typed.
pub fn date(text: &str, zone: &Zone, now: Moment) -> String {
    let day = |back: i64| zone.date(zone.days_later(now, -back)).to_string();
    let text = text.trim();
    let (first, rest) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let rest = rest.trim();
    let dated = |day: String, clock: &str| if clock.is_empty() { day } else { format!("{day}T{clock}") };
    match first {
        "now" if rest.is_empty() => minute(zone, now),
        "today" if rest.is_empty() || is_clock(rest) => dated(day(0), rest),
        "yesterday" if rest.is_empty() || is_clock(rest) => dated(day(1), rest),
        clock if rest.is_empty() && is_clock(clock) => dated(day(0), &padded(clock)),
        _ if is_clock(rest) => format!("{first}T{}", padded(rest)),
        _ => text.to_owned(),
    }
}

/// A moment to the minute, without its offset: clock time of `zone`.
pub fn minute(zone: &Zone, at: Moment) -> String {
    let clock = zone.clock(at);
    format!("{}T{:02}:{:02}", clock.date(), clock.hour(), clock.minute())
}

fn is_clock(text: &str) -> bool {
    let Some((hour, minute)) = text.split_once(':') else { return false };
    (1..=2).contains(&hour.len())
        && minute.len() == 2
        && hour.chars().chain(minute.chars()).all(|one| one.is_ascii_digit())
}

fn padded(clock: &str) -> String {
    if clock.len() == 4 { format!("0{clock}") } else { clock.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_written_with_the_number_is_turned_into_that_of_the_field() {
        for (key, typed, kept) in [
            ("mass_g", "24", "24"),
            ("mass_g", "24g", "24"),
            ("mass_g", "24 g", "24"),
            ("mass_g", "1.2kg", "1200"),
            ("mass_g", "0.9oz", "25.515"),
            ("mass_g", "2lb", "907.185"),
            ("temperature_c", "88F", "31.111"),
            ("temperature_c", "31,5 °C", "31.5"),
            ("set_c", "-4F", "-20"),
            ("length_cm", "1.2m", "120"),
            ("length_cm", "48in", "121.92"),
            ("total_length_cm", "4ft", "121.92"),
            ("thickness_mm", "4mm", "4"),
            ("thickness_mm", "0.25in", "6.35"),
            ("lid_covered_pct", "60%", "60"),
            ("night_set_c", "80F", "26.667"),
            ("humidity_pct", "55%", "55"),
            ("minutes", "1h", "60"),
            ("every_hours", "2d", "48"),
            ("outcome", "taken", "taken"),
            ("mass_g", "many", "many"),
        ] {
            assert_eq!(stored(key, typed).as_deref(), Ok(kept), "{key} {typed}");
        }
    }

    #[test]
    fn a_unit_of_something_else_is_refused() {
        for (key, typed) in [
            ("thickness_mm", "4ft"),
            ("mass_g", "24cm"),
            ("temperature_c", "31g"),
            ("length_cm", "5F"),
            ("watts", "20h"),
        ] {
            let fault = stored(key, typed).unwrap_err();
            assert!(fault.what.contains(typed) && fault.mend.contains("the number alone"), "{fault}");
        }
    }

    #[test]
    fn words_for_days_are_dates() {
        let zone = Zone::named("Europe/Lisbon").unwrap();
        let now = zone.read("2026-03-14T19:30").unwrap().from;
        for (typed, kept) in [
            ("now", "2026-03-14T19:30"),
            ("today", "2026-03-14"),
            ("yesterday", "2026-03-13"),
            ("yesterday 21:05", "2026-03-13T21:05"),
            ("8:15", "2026-03-14T08:15"),
            ("2026-03-01 7:00", "2026-03-01T07:00"),
            ("2026-03-01", "2026-03-01"),
            ("soon", "soon"),
        ] {
            assert_eq!(date(typed, &zone, now), kept, "{typed}");
        }
    }
}
