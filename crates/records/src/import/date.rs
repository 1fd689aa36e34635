//! Dates as people write them. Where 03/04/2025 may be the third of April or the fourth of March, both are kept until
//! the table (or the keeper) settles it.

use jiff::civil::{Date, DateTime, Time};
use units::{Precision, When, Zone};

use super::answers::DateOrder;
use super::words::fold;

/// A date as far as its own signs tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Written {
    /// It can mean one thing.
    Sure(When),
    /// It means one thing where the day comes first and another, or nothing, where the month does.
    Ordered { day_first: Option<Date>, month_first: Option<Date>, clock: Option<Time> },
}

impl Written {
    /// The order of day and month that it shows to be in use, where it shows one.
    pub fn settles(self) -> Option<DateOrder> {
        match self {
            Written::Ordered { day_first: Some(_), month_first: None, .. } => Some(DateOrder::DayFirst),
            Written::Ordered { day_first: None, month_first: Some(_), .. } => Some(DateOrder::MonthFirst),
            _ => None,
        }
    }

    /// Does it wait for the order of day and month?
    pub fn is_open(self) -> bool {
        matches!(self, Written::Ordered { day_first: Some(_), month_first: Some(_), .. })
    }

    /// When it was in this order of day and month; `None` where the order is needed and open, or does not fit.
    pub fn when(self, order: Option<DateOrder>, zone: &Zone) -> Option<When> {
        match self {
            Written::Sure(when) => Some(when),
            Written::Ordered { day_first, month_first, clock } => {
                let date = match order? {
                    DateOrder::DayFirst => day_first?,
                    DateOrder::MonthFirst => month_first?,
                };
                Some(at(date, clock, zone))
            }
        }
    }

    /// Is the hour midnight? `None` where no hour is written.
    pub fn is_midnight(self, zone: &Zone) -> Option<bool> {
        match self {
            Written::Sure(when) => when.has_hour().then(|| zone.clock(when.from).time() == Time::midnight()),
            Written::Ordered { clock, .. } => clock.map(|clock| clock == Time::midnight()),
        }
    }

    /// Is it known at least to the day?
    pub fn is_day(self) -> bool {
        match self {
            Written::Sure(when) => when.precision <= Precision::Day,
            Written::Ordered { .. } => true,
        }
    }
}

/// A day, or the minute of one.
pub(super) fn at(date: Date, clock: Option<Time>, zone: &Zone) -> When {
    match clock {
        Some(clock) => When::exactly(zone.moment(DateTime::from_parts(date, clock))),
        None => zone.day(date),
    }
}

/// No date that a person writes is longer.
const LONGEST: usize = 64;
/// Dates of years outside are slips: no record of an animal in care is older, none can be that late.
const YEARS: std::ops::RangeInclusive<i16> = 1900..=2200;

/// Reads a cell that is a date, with an hour or without. `None` when it is anything else.
pub(super) fn read(text: &str, zone: &Zone) -> Option<Written> {
    let text = text.trim();
    if LONGEST < text.len() {
        return None;
    }
    if let Some(when) = zone.read(text) {
        return YEARS.contains(&zone.date(when.from).year()).then_some(Written::Sure(when));
    }
    let folded = fold(text);
    let (date, clock) = apart(&folded)?;
    let parts: Vec<&str> = date.split(['/', '.', '-', ' ', ',']).filter(|part| !part.is_empty()).collect();
    let parts: Vec<&str> = parts.into_iter().filter(|part| !is_filler(part)).collect();
    let numbers: Option<Vec<i16>> = parts.iter().map(|part| digits(part)).collect();
    let written = match (numbers.as_deref(), parts.as_slice()) {
        (Some(&[first, second, third]), [a, b, c]) => numeric([first, second, third], [a, b, c], clock, zone)?,
        (_, [one]) if one.len() == 8 => compact(one, clock, zone)?,
        (Some(&[month, year]), [_, b]) if b.len() == 4 && clock.is_none() => {
            Written::Sure(zone.month(year, month.try_into().ok()?)?)
        }
        (None, parts) => named(parts, clock, zone)?,
        _ => return None,
    };
    let years = match written {
        Written::Sure(when) => YEARS.contains(&zone.date(when.from).year()),
        Written::Ordered { day_first, month_first, .. } => {
            day_first.or(month_first).is_some_and(|date| YEARS.contains(&date.year()))
        }
    };
    years.then_some(written)
}

/// Reads an hour of the clock: `19:30`, `7:30 pm`, `7pm`, `19h30`.
pub(super) fn clock(text: &str) -> Option<Time> {
    if LONGEST < text.len() {
        return None;
    }
    let folded = fold(text.trim()).replace("uhr", " ");
    let mut rest = folded.trim();
    let mut half = None;
    for (word, afternoon) in [("a.m.", false), ("p.m.", true), ("am", false), ("pm", true)] {
        if let Some(before) = rest.strip_suffix(word) {
            half = Some(afternoon);
            rest = before.trim_end();
            break;
        }
    }
    let parts: Vec<&str> = rest.split([':', 'h', '.']).collect();
    let two = |part: &&str| (1..=2).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
    let (hour, minute) = match parts.as_slice() {
        [hour, minute] if two(hour) && minute.len() == 2 && two(minute) => (hour, minute.parse().ok()?),
        // The seconds are not kept: nothing that a keeper sees is known so well.
        [hour, minute, second] if [hour, minute, second].into_iter().all(two) && second.parse::<i8>().ok()? < 60 => {
            (hour, minute.parse().ok()?)
        }
        [hour, ""] if two(hour) && rest.ends_with('h') => (hour, 0),
        [hour] if two(hour) && half.is_some() => (hour, 0),
        _ => return None,
    };
    let hour: i8 = hour.parse().ok()?;
    let hour = match half {
        None => hour,
        Some(_) if !(1..=12).contains(&hour) => return None,
        Some(afternoon) => hour % 12 + if afternoon { 12 } else { 0 },
    };
    Time::new(hour, minute, 0, 0).ok()
}

/// Takes the hour of the clock off a date. `None` when there is something like an hour that is none.
fn apart(text: &str) -> Option<(String, Option<Time>)> {
    let Some(colon) = text.find(':') else {
        return Some((text.to_owned(), None));
    };
    let before = text.get(..colon)?;
    let start = before.rfind([' ', 't']).map_or(0, |at| at + 1);
    let clock = clock(text.get(start..)?)?;
    let date = before.get(..start)?.trim_end_matches([' ', 't', ',']);
    Some((date.to_owned(), Some(clock)))
}

fn digits(part: &str) -> Option<i16> {
    let short = part.len() <= 4 && part.bytes().all(|b| b.is_ascii_digit());
    if short { part.parse().ok() } else { None }
}

fn is_filler(part: &str) -> bool {
    const WEEKDAYS: [&str; 46] = [
        "mon",
        "tue",
        "tues",
        "wed",
        "thu",
        "thur",
        "thurs",
        "fri",
        "sat",
        "sun",
        "monday",
        "tuesday",
        "wednesday",
        "thursday",
        "friday",
        "saturday",
        "sunday",
        "mo",
        "di",
        "mi",
        "do",
        "fr",
        "sa",
        "so",
        "montag",
        "dienstag",
        "mittwoch",
        "donnerstag",
        "freitag",
        "samstag",
        "sonntag",
        "lundi",
        "mardi",
        "mercredi",
        "jeudi",
        "vendredi",
        "samedi",
        "dimanche",
        "lun",
        "mie",
        "jue",
        "vie",
        "sab",
        "dom",
        "mer",
        "ven",
    ];
    WEEKDAYS.contains(&part) || matches!(part, "of" | "the" | "de" | "den" | "le" | "el" | "il")
}

/// Three numbers. With the year in front the month follows; otherwise either order may be meant.
fn numeric(numbers: [i16; 3], parts: [&str; 3], clock: Option<Time>, zone: &Zone) -> Option<Written> {
    let [first, second, third] = numbers;
    let date = |year: i16, month: i16, day: i16| Date::new(year, month.try_into().ok()?, day.try_into().ok()?).ok();
    let short = |part: &str| part.len() <= 2;
    match parts.map(str::len) {
        [4, _, _] if short(parts[1]) && short(parts[2]) => {
            Some(Written::Sure(at(date(first, second, third)?, clock, zone)))
        }
        [_, _, 4 | 2] if short(parts[0]) && short(parts[1]) => {
            let year = if parts[2].len() == 4 { third } else { of_two_digits(third) };
            match (date(year, second, first), date(year, first, second)) {
                (Some(one), Some(other)) if one == other => Some(Written::Sure(at(one, clock, zone))),
                // A year of two digits stands in front only where nothing else can be meant.
                (None, None) if parts.map(str::len) == [2, 2, 2] => {
                    Some(Written::Sure(at(date(of_two_digits(first), second, third)?, clock, zone)))
                }
                (None, None) => None,
                (day_first, month_first) => Some(Written::Ordered { day_first, month_first, clock }),
            }
        }
        _ => None,
    }
}

/// POSIX (strptime, %y): 69 to 99 are of the twentieth century, 0 to 68 of the next.
fn of_two_digits(year: i16) -> i16 {
    if year < 69 { 2000 + year } else { 1900 + year }
}

/// `20260314`.
fn compact(text: &str, clock: Option<Time>, zone: &Zone) -> Option<Written> {
    let whole: u32 = if text.bytes().all(|b| b.is_ascii_digit()) { text.parse().ok()? } else { return None };
    let year = i16::try_from(whole / 10_000).ok()?;
    let (month, day) = (i8::try_from(whole / 100 % 100).ok()?, i8::try_from(whole % 100).ok()?);
    Some(Written::Sure(at(Date::new(year, month, day).ok()?, clock, zone)))
}

/// A month by its name, with a day and a year around it, or with a year alone.
fn named(parts: &[&str], clock: Option<Time>, zone: &Zone) -> Option<Written> {
    let ordinal = |part: &str| -> Option<i16> {
        let bare = ["st", "nd", "rd", "th", "er"].into_iter().find_map(|end| part.strip_suffix(end)).unwrap_or(part);
        digits(bare).filter(|_| bare.len() <= 4)
    };
    let place = parts.iter().position(|part| month(part).is_some())?;
    let month = month(parts.get(place)?)?;
    let numbers: Vec<(i16, usize)> = parts
        .iter()
        .enumerate()
        .filter(|(at, _)| *at != place)
        .map(|(_, part)| ordinal(part).map(|number| (number, part.len())))
        .collect::<Option<_>>()?;
    let day_of = |year: i16, day: i16| {
        let date = Date::new(year, month, day.try_into().ok()?).ok()?;
        Some(Written::Sure(at(date, clock, zone)))
    };
    match numbers.as_slice() {
        [(year, 4), (day, 1..=4)] if *day <= 31 => day_of(*year, *day),
        [(day, _), (year, 4)] if *day <= 31 => day_of(*year, *day),
        [(day, _), (year, 2)] if *day <= 31 => day_of(of_two_digits(*year), *day),
        [(year, 4)] if clock.is_none() => zone.month(*year, month).map(Written::Sure),
        _ => None,
    }
}

fn month(part: &str) -> Option<i8> {
    Some(match part {
        "january" | "jan" | "januar" | "janner" | "janvier" | "janv" | "enero" | "ene" | "gennaio" | "gen"
        | "januari" | "janeiro" => 1,
        "february" | "feb" | "februar" | "fevrier" | "fevr" | "fev" | "febrero" | "febbraio" | "februari"
        | "fevereiro" => 2,
        "march" | "mar" | "marz" | "maerz" | "mrz" | "mars" | "marzo" | "maart" | "mrt" | "marco" => 3,
        "april" | "apr" | "avril" | "avr" | "abril" | "abr" | "aprile" => 4,
        "may" | "mai" | "mayo" | "maggio" | "mag" | "mei" | "maio" | "maj" => 5,
        "june" | "jun" | "juni" | "juin" | "junio" | "giugno" | "giu" | "junho" => 6,
        "july" | "jul" | "juli" | "juillet" | "juil" | "julio" | "luglio" | "lug" | "julho" => 7,
        "august" | "aug" | "aout" | "agosto" | "ago" | "augustus" | "augusti" => 8,
        "september" | "sep" | "sept" | "septembre" | "septiembre" | "settembre" | "set" | "setembro" => 9,
        "october" | "oct" | "oktober" | "okt" | "octobre" | "octubre" | "ottobre" | "ott" | "outubro" | "out" => 10,
        "november" | "nov" | "novembre" | "noviembre" | "novembro" => 11,
        "december" | "dec" | "dezember" | "dez" | "decembre" | "diciembre" | "dic" | "dicembre" | "dezembro" => 12,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str, order: Option<DateOrder>) -> Option<String> {
        let zone = Zone::none();
        Some(zone.write_when(read(text, &zone)?.when(order, &zone)?))
    }

    #[test]
    fn what_can_mean_one_day_is_read_at_once() {
        for (text, expected) in [
            ("2026-03-04", "2026-03-04"),
            ("2026/3/4", "2026-03-04"),
            ("2026.03.04", "2026-03-04"),
            ("20260304", "2026-03-04"),
            ("4 Mar 2026", "2026-03-04"),
            ("Mar 4, 2026", "2026-03-04"),
            ("4. März 2026", "2026-03-04"),
            ("4-Mar-26", "2026-03-04"),
            ("Wed 4th March 2026", "2026-03-04"),
            ("4 de marzo de 2026", "2026-03-04"),
            ("1er août 2026", "2026-08-01"),
            ("05/05/2026", "2026-05-05"),
            ("98/03/04", "1998-03-04"),
            ("2026", "2026"),
            ("2026-03", "2026-03"),
            ("03/2026", "2026-03"),
            ("March 2026", "2026-03"),
            ("2026-03-04 19:30", "2026-03-04T19:30"),
            ("2026-03-04T07:05:59", "2026-03-04T07:05"),
            ("2026-03-04 7:30 pm", "2026-03-04T19:30"),
            ("4 Mar 2026, 12:05 am", "2026-03-04T00:05"),
        ] {
            assert_eq!(shown(text, None).as_deref(), Some(expected), "{text}");
        }
    }

    #[test]
    fn day_and_month_wait_for_their_order() {
        for text in ["03/04/2026", "3.4.2026", "03-04-26", "3/4/26"] {
            assert_eq!(shown(text, None), None, "{text}");
            assert_eq!(shown(text, Some(DateOrder::DayFirst)).as_deref(), Some("2026-04-03"), "{text}");
            assert_eq!(shown(text, Some(DateOrder::MonthFirst)).as_deref(), Some("2026-03-04"), "{text}");
        }
        let zone = Zone::none();
        assert_eq!(read("13/04/2026", &zone).and_then(Written::settles), Some(DateOrder::DayFirst));
        assert_eq!(read("04/13/2026 19:30", &zone).and_then(Written::settles), Some(DateOrder::MonthFirst));
        assert_eq!(shown("13/04/2026", Some(DateOrder::MonthFirst)), None);
    }

    #[test]
    fn what_is_no_date_is_refused() {
        for text in [
            "",
            "soon",
            "32/01/2026",
            "13/13/2026",
            "30/02/2026",
            "2026-02-30",
            "45000",
            "1/2",
            "12.5",
            "20261301",
            "4 Mar",
            "Mar",
            "0026-03-04",
            "31 Feb 2026",
            "2026-03-04 25:00",
            "1/2/3/4",
            "Mar 2026 19:30",
            "a/b/c",
            "5 g",
        ] {
            assert_eq!(read(text, &Zone::none()), None, "{text}");
        }
    }

    #[test]
    fn hours_are_read() {
        for (text, expected) in [
            ("19:30", "19:30"),
            ("7:30pm", "19:30"),
            ("7 pm", "19:00"),
            ("19h30", "19:30"),
            ("12 AM", "00:00"),
            ("19.30 Uhr", "19:30"),
        ] {
            assert_eq!(clock(text).map(|time| time.strftime("%H:%M").to_string()).as_deref(), Some(expected), "{text}");
        }
        for text in ["25:00", "19:60", "13 pm", "evening", "", "7", "7:5"] {
            assert_eq!(clock(text), None, "{text}");
        }
    }
}
