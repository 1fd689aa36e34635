//! Moments with their zone, and how precisely they are known.

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan};

/// Seconds in an hour.
pub const HOUR_S: i64 = 3_600;
/// Seconds in a day of 24 hours.
pub const DAY_S: i64 = 86_400;

/// An instant: whole seconds since 1970-01-01T00:00Z. What a clock on the wall showed then needs a [`Zone`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
#[serde(transparent)]
pub struct Moment(pub i64);

impl Moment {
    /// Later by `hours` of 60 minutes, rounded to the second.
    #[must_use]
    pub fn plus_hours(self, hours: f64) -> Moment {
        Moment(self.0.saturating_add((hours * HOUR_S as f64).round() as i64))
    }

    /// Later by `days` of 24 hours, rounded to the second. For days of the calendar ask [`Zone::days_later`].
    #[must_use]
    pub fn plus_days(self, days: f64) -> Moment {
        self.plus_hours(days * 24.0)
    }

    /// How long ago `earlier` was, in hours; negative when it lies ahead.
    pub fn hours_since(self, earlier: Moment) -> f64 {
        (self.0 - earlier.0) as f64 / HOUR_S as f64
    }

    /// How long ago `earlier` was, in days of 24 hours; negative when it lies ahead.
    pub fn days_since(self, earlier: Moment) -> f64 {
        (self.0 - earlier.0) as f64 / DAY_S as f64
    }
}

/// How precisely a date is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Precision {
    /// To the minute (or better).
    Minute,
    /// Only the day.
    Day,
    /// Only the month.
    Month,
    /// Only the year.
    Year,
}

impl Precision {
    /// The word under which it is stored.
    pub fn key(self) -> &'static str {
        match self {
            Precision::Minute => "minute",
            Precision::Day => "day",
            Precision::Month => "month",
            Precision::Year => "year",
        }
    }

    /// The inverse of [`Precision::key`].
    pub fn from_key(key: &str) -> Option<Precision> {
        [Precision::Minute, Precision::Day, Precision::Month, Precision::Year].into_iter().find(|p| p.key() == key)
    }
}

/// When something happened, as precisely as it is known: the span from the first to the last moment that it can have
/// been. Known to the minute, both are the same; known to the day, they are its 00:00 and the 00:00 of the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct When {
    /// The earliest moment it can have been.
    pub from: Moment,
    /// The latest moment it can have been.
    pub to: Moment,
    /// How it was told.
    pub precision: Precision,
}

impl When {
    /// A moment known to the minute.
    pub fn exactly(moment: Moment) -> When {
        When { from: moment, to: moment, precision: Precision::Minute }
    }

    /// The middle of the span.
    pub fn middle(self) -> Moment {
        Moment(self.from.0 + (self.to.0 - self.from.0) / 2)
    }

    /// The moment that a question about it means: the moment itself, or the last minute of the day (month, year), so
    /// that everything noted on that day counts.
    pub fn asked(self) -> Moment {
        if self.has_hour() { self.from } else { Moment(self.to.0 - 60) }
    }

    /// Is an hour known?
    pub fn has_hour(self) -> bool {
        self.precision == Precision::Minute
    }
}

/// The zone in which clock times are read. Without one, clock times are counted as they stand and written without
/// an offset.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Zone(Option<TimeZone>);

impl Zone {
    /// Clock time without a zone.
    pub const fn none() -> Zone {
        Zone(None)
    }

    /// A zone of the IANA database, such as `Europe/Lisbon`; `None` when there is no such zone.
    pub fn named(name: &str) -> Option<Zone> {
        TimeZone::get(name).ok().map(|zone| Zone(Some(zone)))
    }

    /// The zone of this machine, or UTC where it has none. (Reads settings of the system: for the edges only.)
    pub fn of_this_machine() -> Zone {
        Zone(Some(TimeZone::system()))
    }

    /// Is a zone known?
    pub fn is_known(&self) -> bool {
        self.0.is_some()
    }

    /// Its name, where it has one.
    pub fn name(&self) -> Option<&str> {
        self.0.as_ref().and_then(TimeZone::iana_name)
    }

    /// The moment at which a clock in this zone shows `clock`. In the hour that a clock skips in spring the moment
    /// after the gap, in the hour it repeats in autumn the earlier one (RFC 5545, section 3.3.5).
    pub fn moment(&self, clock: DateTime) -> Moment {
        let zone = self.0.clone().unwrap_or(TimeZone::UTC);
        let seconds = zone.to_ambiguous_timestamp(clock).compatible().map_or(0, Timestamp::as_second);
        Moment(seconds)
    }

    /// What a clock in this zone shows at `moment`.
    pub fn clock(&self, moment: Moment) -> DateTime {
        let stamp = Timestamp::from_second(moment.0).unwrap_or(Timestamp::UNIX_EPOCH);
        match &self.0 {
            Some(zone) => zone.to_datetime(stamp),
            None => TimeZone::UTC.to_datetime(stamp),
        }
    }

    /// The day of the calendar at `moment`.
    pub fn date(&self, moment: Moment) -> Date {
        self.clock(moment).date()
    }

    /// 00:00 of the day that `moment` lies in.
    pub fn day_start(&self, moment: Moment) -> Moment {
        self.start_of(self.date(moment))
    }

    /// 00:00 of a day (or the first moment after it where the clock skips that hour).
    pub fn start_of(&self, date: Date) -> Moment {
        self.moment(date.to_datetime(Time::midnight()))
    }

    /// The same time of the clock `days` days of the calendar later.
    pub fn days_later(&self, moment: Moment, days: i64) -> Moment {
        self.moment(self.clock(moment).saturating_add(days.days()))
    }

    /// A day of the calendar as a span.
    pub fn day(&self, date: Date) -> When {
        let next = date.saturating_add(1.day());
        When { from: self.start_of(date), to: self.start_of(next), precision: Precision::Day }
    }

    /// A month of the calendar as a span. `None` when there is no such month.
    pub fn month(&self, year: i16, month: i8) -> Option<When> {
        let first = Date::new(year, month, 1).ok()?;
        let next = first.saturating_add(1.month());
        Some(When { from: self.start_of(first), to: self.start_of(next), precision: Precision::Month })
    }

    /// A year of the calendar as a span. `None` when there is no such year.
    pub fn year(&self, year: i16) -> Option<When> {
        let first = Date::new(year, 1, 1).ok()?;
        let next = first.saturating_add(1.year());
        Some(When { from: self.start_of(first), to: self.start_of(next), precision: Precision::Year })
    }

    /// Reads ISO 8601: `2026`, `2026-03`, `2026-03-14`, `2026-03-14T19:30`, with seconds, with `Z` or an offset.
    /// `None` when it is none of these.
    pub fn read(&self, text: &str) -> Option<When> {
        let text = text.trim();
        let digits = |part: &str| part.bytes().all(|b| b.is_ascii_digit());
        match text.len() {
            4 if digits(text) => return self.year(text.parse().ok()?),
            7 if digits(text.get(..4)?) && text.as_bytes().get(4) == Some(&b'-') => {
                return self.month(text.get(..4)?.parse().ok()?, text.get(5..)?.parse().ok()?);
            }
            10 => return Some(self.day(text.parse().ok()?)),
            _ => {}
        }
        if text.as_bytes().get(4) != Some(&b'-') {
            return None;
        }
        if let Ok(stamp) = text.parse::<Timestamp>() {
            return Some(When::exactly(Moment(stamp.as_second())));
        }
        let clock: DateTime = text.parse().ok()?;
        Some(When::exactly(self.moment(clock)))
    }

    /// Writes a moment as ISO 8601 to the minute, with its offset where the zone is known.
    pub fn write(&self, moment: Moment) -> String {
        let clock = self.clock(moment);
        let mut text = format!(
            "{:04}-{:02}-{:02}T{:02}:{:02}",
            clock.year(),
            clock.month(),
            clock.day(),
            clock.hour(),
            clock.minute()
        );
        if let Some(zone) = &self.0 {
            let stamp = Timestamp::from_second(moment.0).unwrap_or(Timestamp::UNIX_EPOCH);
            let offset_s = zone.to_offset(stamp).seconds();
            let sign = if offset_s < 0 { '-' } else { '+' };
            let minutes = offset_s.unsigned_abs() / 60;
            text.push_str(&format!("{sign}{:02}:{:02}", minutes / 60, minutes % 60));
        }
        text
    }

    /// Writes what is known and no more: a day as a day, a month as a month.
    pub fn write_when(&self, when: When) -> String {
        let date = self.date(when.from);
        match when.precision {
            Precision::Minute => self.write(when.from),
            Precision::Day => date.to_string(),
            Precision::Month => format!("{:04}-{:02}", date.year(), date.month()),
            Precision::Year => format!("{:04}", date.year()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_is_read_is_written_the_same() {
        let lisbon = Zone::named("Europe/Lisbon").unwrap();
        for (zone, text) in [
            (&Zone::none(), "2026-03-14T19:30"),
            (&Zone::none(), "2026-03-14"),
            (&Zone::none(), "2026-03"),
            (&Zone::none(), "2026"),
            (&lisbon, "2026-03-14T19:30+00:00"),
            (&lisbon, "2026-07-14T19:30+01:00"),
            (&lisbon, "2026-07-14"),
        ] {
            let when = zone.read(text).unwrap();
            assert_eq!(zone.write_when(when), text);
        }
    }

    #[test]
    fn what_is_no_date_is_refused() {
        for text in
            ["", "tomorrow", "2026-13", "2026-02-30", "14.03.2026", "2026-03-14T25:00", "99999", "20a6", "2026/03"]
        {
            assert!(Zone::none().read(text).is_none(), "{text:?}");
        }
    }

    #[test]
    fn a_day_when_the_clocks_change_is_23_or_25_hours_long() {
        // European Union, Directive 2000/84/EC: the last Sundays of March and October at 01:00 UTC.
        let berlin = Zone::named("Europe/Berlin").unwrap();
        for (day, hours) in [("2026-03-29", 23.0), ("2026-10-25", 25.0), ("2026-06-01", 24.0)] {
            let when = berlin.read(day).unwrap();
            assert_eq!(when.to.hours_since(when.from), hours, "{day}");
        }
    }

    #[test]
    fn a_question_about_a_day_means_the_whole_day() {
        let zone = Zone::none();
        for (asked, meant) in [("2026-03-14", "2026-03-14T23:59"), ("2026-03-14T19:30", "2026-03-14T19:30")] {
            assert_eq!(zone.write(zone.read(asked).unwrap().asked()), meant);
        }
    }

    #[test]
    fn the_hour_that_the_clock_skips_is_moved_past_the_gap() {
        let berlin = Zone::named("Europe/Berlin").unwrap();
        let skipped = berlin.read("2026-03-29T02:30").unwrap();
        assert_eq!(berlin.write(skipped.from), "2026-03-29T03:30+02:00");
    }

    proptest! {
        #[test]
        fn a_clock_time_survives_the_way_there_and_back(seconds in 0i64..4_000_000_000) {
            let zone = Zone::named("America/Anchorage").unwrap();
            let moment = Moment(seconds - seconds % 60);
            let back = zone.read(&zone.write(moment)).unwrap();
            prop_assert_eq!(back.from, moment);
        }

        #[test]
        fn reading_any_text_never_panics(text in ".{0,24}") {
            let _ = Zone::none().read(&text);
        }
    }
}
