//! A log of the temperatures of one enclosure: a time, the air of the warm and of the cool side, the room, and the heater
//! where it was logged.
//!
//! Each column says in its header what it is and in which unit: `time`, `warm_c` or `warm_f`, `cool_c`, `room_c`, and one
//! of `heater_w` (watts), `heater_pct` (share of its power) and `heater_on` (1 and 0). What the header leaves open is a
//! fault that asks; nothing is guessed, and with one fault nothing is handed out.

use jiff::civil::Time;
use units::{Moment, Zone};

use super::answers::{Answers, DateOrder, Decimal, TemperatureUnit};
use super::date::{self, Written};
use super::number::{self, Figure, Number};
use super::table::{self, Table};
use super::unit::Unit;
use super::words::fold;
use super::{at_most, decode, grid, says};
use crate::fault::Fault;

/// What a log tells of the heater.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeaterLogged {
    /// Nothing.
    Not,
    /// Its power, W.
    Watts,
    /// The share of its power, 0 to 1.
    Share,
    /// Whether it is on, 1 or 0.
    OnOff,
}

/// One row of a log.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogRow {
    /// Its line in the file.
    pub line: u32,
    /// When.
    pub at: Moment,
    /// Air of the warm side, °C; `None` where nothing was read.
    pub warm_c: Option<f64>,
    /// Air of the cool side, °C.
    pub cool_c: Option<f64>,
    /// The room, °C.
    pub room_c: Option<f64>,
    /// The heater, as [`ClimateLog::heater`] counts it.
    pub heater: Option<f64>,
}

/// A log, in order of time.
#[derive(Clone, Debug, PartialEq)]
pub struct ClimateLog {
    /// The name of its file.
    pub file: String,
    /// Its rows.
    pub rows: Vec<LogRow>,
    /// What it tells of the heater.
    pub heater: HeaterLogged,
    /// Headers of columns that were not needed.
    pub unused: Vec<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    Time,
    Clock,
    Warm,
    Cool,
    Room,
    Heater,
}

impl What {
    const TEMPERATURES: [What; 3] = [What::Warm, What::Cool, What::Room];

    fn key(self) -> &'static str {
        match self {
            What::Time => "time",
            What::Clock => "clock",
            What::Warm => "warm",
            What::Cool => "cool",
            What::Room => "room",
            What::Heater => "heater",
        }
    }
}

/// What the words of a header say.
struct Said {
    what: Option<What>,
    is_surface: bool,
    unit: Option<Unit>,
    heater: Option<HeaterLogged>,
}

fn said(header: &str) -> Said {
    let folded = fold(header).replace('%', " pct ");
    let words: Vec<&str> =
        folded.split(|c: char| !c.is_alphanumeric() && c != '°').filter(|one| !one.is_empty()).collect();
    let has = |known: &[&str]| words.iter().any(|word| known.contains(word));
    let unit = words.iter().rev().find_map(|word| Unit::from_word(word));
    let heater = if has(&["on", "state", "onoff", "relay"]) {
        Some(HeaterLogged::OnOff)
    } else if has(&["pct", "percent", "duty"]) {
        Some(HeaterLogged::Share)
    } else if has(&["w", "watt", "watts"]) {
        Some(HeaterLogged::Watts)
    } else {
        None
    };
    let humid = has(&["rh", "humidity", "humid", "dew", "pressure", "hpa"]);
    let what = if has(&["heater", "heat", "heating", "power", "mat", "panel", "lamp", "duty", "relay"]) {
        Some(What::Heater)
    } else if humid {
        None
    } else if has(&["room", "ambient", "outside", "outdoor"]) {
        Some(What::Room)
    } else if has(&["warm", "hot", "basking"]) {
        Some(What::Warm)
    } else if has(&["cool", "cold"]) {
        Some(What::Cool)
    } else if has(&["time", "date", "datetime", "timestamp", "when", "day"]) {
        Some(What::Time)
    } else if has(&["clock", "hour"]) {
        Some(What::Clock)
    } else {
        None
    };
    Said { what, is_surface: has(&["surface", "floor", "spot"]), unit, heater }
}

/// A column that is used.
struct Used {
    column: usize,
    what: What,
    unit: Unit,
}

struct Columns {
    used: Vec<Used>,
    time: usize,
    clock: Option<usize>,
    heater: Option<(usize, HeaterLogged)>,
    unused: Vec<String>,
}

/// Reads a log; clock times without an offset are those of `zone`. Of `answers` only encoding, decimal sign, order of
/// dates and the unit of temperatures are used. All faults are told at once.
pub fn climate_log(name: &str, bytes: &[u8], answers: &Answers, zone: &Zone) -> Result<ClimateLog, Vec<Fault>> {
    understood(name, bytes, answers, zone).map_err(|faults| at_most(faults, name))
}

fn understood(name: &str, bytes: &[u8], answers: &Answers, zone: &Zone) -> Result<ClimateLog, Vec<Fault>> {
    let decoded = decode::decode(name, bytes, answers).map_err(|fault| vec![fault])?;
    let table = table::find(name, grid::lay_out(name, &decoded.text).map_err(|fault| vec![fault])?)?;
    let columns = columns(&table, answers)?;
    let decimal = decimal(&table, &columns, answers)?;
    let order = order(&table, &columns, answers, zone)?;
    let mut faults = Vec::new();
    let mut rows: Vec<LogRow> = table
        .rows
        .iter()
        .filter_map(|row| read_row(&table, &columns, row, (decimal, order, zone), &mut faults))
        .collect();
    // Some loggers write the newest row first.
    if rows.first().zip(rows.last()).is_some_and(|(first, last)| last.at < first.at) {
        rows.reverse();
    }
    for pair in rows.windows(2) {
        if let [before, after] = pair
            && after.at <= before.at
        {
            let (what, mend) = if after.at == before.at {
                ("two rows have the same time", "leave one of them out")
            } else {
                (
                    "the time goes back",
                    "put the rows in order; where the clock was changed, write times with their offset, as +01:00",
                )
            };
            faults.push(Fault::new(what, table.place(after.line, Some(columns.time)), mend));
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let heater = columns.heater.map_or(HeaterLogged::Not, |(_, logged)| logged);
    Ok(ClimateLog { file: name.to_owned(), rows, heater, unused: columns.unused })
}

fn columns(table: &Table, answers: &Answers) -> Result<Columns, Vec<Fault>> {
    let mut faults = Vec::new();
    let mut found: Vec<(usize, What, Said)> = Vec::new();
    let mut unused = Vec::new();
    for (column, header) in table.headers.iter().enumerate() {
        let said = said(header);
        match said.what {
            Some(what) if table.is_named => found.push((column, what, said)),
            _ => unused.push(header.clone()),
        }
    }
    let line = table.rows.first().map_or(1, |row| row.line.saturating_sub(1));
    let is = |what: What, one: &(usize, What, Said)| one.1 == what;
    // «date» and «time» side by side are a day and its hour.
    let times: Vec<usize> = found.iter().filter(|one| is(What::Time, one)).map(|one| one.0).collect();
    if let [first, second] = times.as_slice() {
        let hours = |column: usize| table.filled(column).next().is_some_and(|(_, cell)| date::clock(cell).is_some());
        let clock = if hours(*second) { Some(*second) } else { Some(*first).filter(|column| hours(*column)) };
        for one in found.iter_mut().filter(|one| Some(one.0) == clock) {
            one.1 = What::Clock;
        }
    }
    let mut used = Vec::new();
    let mut time = None;
    let mut clock = None;
    let mut heater = None;
    for what in [What::Time, What::Clock, What::Warm, What::Cool, What::Room, What::Heater] {
        let mut those = found.iter().filter(|one| is(what, one));
        let Some((column, _, said)) = those.next() else {
            if matches!(what, What::Time | What::Warm | What::Cool | What::Room) {
                let key = if what == What::Time { "time".to_owned() } else { format!("{}_c", what.key()) };
                let mend = format!("head it `{key}`; needed are `time`, `warm_c`, `cool_c` and `room_c`");
                faults.push(Fault::new(format!("no column says that it is `{key}`"), table.place(line, None), mend));
            }
            continue;
        };
        if let Some((other, ..)) = those.next() {
            let what =
                format!("two columns may be `{}`: {} and {}", what.key(), table.header(*column), table.header(*other));
            faults.push(Fault::new(what, table.place(line, Some(*other)), "leave one out, or head it otherwise"));
            continue;
        }
        match what {
            What::Time => time = Some(*column),
            What::Clock => clock = Some(*column),
            What::Heater => match said.heater {
                Some(logged) => heater = Some((*column, logged)),
                None => {
                    let mend = "head it `heater_w` (watts), `heater_pct` (share of its power) or `heater_on` (1 and 0)";
                    let what = format!("`{}` does not tell in what it counts", table.header(*column));
                    faults.push(Fault::new(what, table.place(line, Some(*column)), mend));
                }
            },
            What::Warm | What::Cool | What::Room => {
                if said.is_surface {
                    let what = format!("`{}` is a surface, and the sides are told by their air", table.header(*column));
                    let mend = "log the air of both sides, a hand's breadth over the floor and out of the light";
                    faults.push(Fault::new(what, table.place(line, Some(*column)), mend));
                }
                let is_temperature = |unit: &Unit| matches!(unit, Unit::Celsius | Unit::Fahrenheit);
                let below = table.units.get(*column).copied().flatten();
                let told = answers.temperature_unit.map(|unit| match unit {
                    TemperatureUnit::Celsius => Unit::Celsius,
                    TemperatureUnit::Fahrenheit => Unit::Fahrenheit,
                });
                match said.unit.filter(is_temperature).or(below.filter(is_temperature)).or(told) {
                    Some(unit) => used.push(Used { column: *column, what, unit }),
                    None => {
                        let mend = format!("head it `{0}_c` for °C or `{0}_f` for °F", what.key());
                        let what = format!("`{}` does not tell its unit", table.header(*column));
                        faults.push(Fault::new(what, table.place(line, Some(*column)), mend));
                    }
                }
            }
        }
    }
    match time {
        Some(time) if faults.is_empty() => Ok(Columns { used, time, clock, heater, unused }),
        _ => Err(faults),
    }
}

/// Figures of all columns that are used.
fn figures<'a>(table: &'a Table, columns: &'a Columns) -> impl Iterator<Item = (u32, usize, Figure)> + 'a {
    let those = columns.used.iter().map(|one| one.column).chain(columns.heater.map(|(column, _)| column));
    those.flat_map(move |column| {
        table.filled(column).filter_map(move |(row, cell)| Some((row.line, column, number::read(cell)?)))
    })
}

/// The hottest and strongest that a log can hold: a figure above it has decimals.
const LARGEST: f64 = 5_000.0;

fn decimal(table: &Table, columns: &Columns, answers: &Answers) -> Result<Option<Decimal>, Vec<Fault>> {
    if answers.decimal.is_some() {
        return Ok(answers.decimal);
    }
    let mut shown = None;
    let mut open = None;
    for (line, column, figure) in figures(table, columns) {
        for (number, _) in &figure.parts {
            match number {
                Number::Sure { settles, .. } => shown = shown.or(*settles),
                Number::Either { thousands, sign, .. } if LARGEST < thousands.abs() => shown = shown.or(Some(*sign)),
                Number::Either { .. } => open = open.or(Some((line, column))),
            }
        }
    }
    match (shown, open) {
        (None, Some((line, column))) => Err(vec![Fault::new(
            "no figure shows whether the sign parts decimals or thousands",
            table.place(line, Some(column)),
            "say which sign stands before decimals: point or comma",
        )]),
        _ => Ok(shown),
    }
}

fn order(table: &Table, columns: &Columns, answers: &Answers, zone: &Zone) -> Result<Option<DateOrder>, Vec<Fault>> {
    if answers.date_order.is_some() {
        return Ok(answers.date_order);
    }
    let written: Vec<(u32, Written)> =
        table.filled(columns.time).filter_map(|(row, cell)| Some((row.line, date::read(cell, zone)?))).collect();
    let shown = written.iter().find_map(|(_, written)| written.settles());
    match (shown, written.iter().find(|(_, written)| written.is_open())) {
        (None, Some((line, _))) => Err(vec![Fault::new(
            "no date shows whether the day or the month comes first",
            table.place(*line, Some(columns.time)),
            "say which comes first, or write dates as 2026-03-14",
        )]),
        _ => Ok(shown),
    }
}

fn read_row(
    table: &Table,
    columns: &Columns,
    row: &grid::Row,
    (decimal, order, zone): (Option<Decimal>, Option<DateOrder>, &Zone),
    faults: &mut Vec<Fault>,
) -> Option<LogRow> {
    let before = faults.len();
    let mut object = |column: usize, what: String, mend: &str| {
        faults.push(Fault::new(what, table.place(row.line, Some(column)), mend));
    };
    let mut figure = |column: usize, low: f64, high: f64, unit: Option<Unit>| -> Option<f64> {
        let cell = row.cell(column);
        if says::is_nothing(cell) {
            return None;
        }
        let Some(figure) = number::read(cell) else {
            object(
                column,
                format!("`{cell}` is no number"),
                "write digits, or leave the cell empty where nothing was read",
            );
            return None;
        };
        let value = match unit {
            Some(unit) => figure.kept(decimal, Some(unit)),
            None => figure.plain(decimal),
        };
        let value = value.filter(|value| (low..=high).contains(value));
        if value.is_none() {
            object(
                column,
                format!("`{cell}` cannot be"),
                "look at the figure and at the unit of the header; leave the cell empty where nothing was read",
            );
        }
        value
    };
    let mut temperature = |what: What| {
        let one = columns.used.iter().find(|one| one.what == what)?;
        figure(one.column, -40.0, 100.0, Some(one.unit))
    };
    let [warm_c, cool_c, room_c] = What::TEMPERATURES.map(&mut temperature);
    let heater = columns.heater.and_then(|(column, logged)| match logged {
        HeaterLogged::Not => None,
        HeaterLogged::Watts => figure(column, 0.0, LARGEST, None),
        HeaterLogged::Share => figure(column, 0.0, 100.0, None).map(|percent| percent / 100.0),
        HeaterLogged::OnOff => match fold(row.cell(column)).trim() {
            "on" | "true" | "yes" => Some(1.0),
            "off" | "false" | "no" => Some(0.0),
            _ => figure(column, 0.0, 1.0, None),
        },
    });
    let at = moment(table, columns, row, order, zone);
    match at {
        Ok(at) if faults.len() == before => Some(LogRow { line: row.line, at, warm_c, cool_c, room_c, heater }),
        Ok(_) => None,
        Err(fault) => {
            faults.push(fault);
            None
        }
    }
}

fn moment(
    table: &Table,
    columns: &Columns,
    row: &grid::Row,
    order: Option<DateOrder>,
    zone: &Zone,
) -> Result<Moment, Fault> {
    let cell = row.cell(columns.time);
    let fault = |what: String, column: usize| {
        let mend = "write it as 2026-03-14T19:30, or the day and the hour in two columns";
        Fault::new(what, table.place(row.line, Some(column)), mend)
    };
    let when = date::read(cell, zone).and_then(|written| written.when(order, zone));
    let when = when.ok_or_else(|| fault(format!("`{cell}` is no time"), columns.time))?;
    if let Some(column) = columns.clock {
        let text = row.cell(column);
        let clock: Time = date::clock(text).ok_or_else(|| fault(format!("`{text}` is no hour"), column))?;
        return Ok(date::at(zone.date(when.from), Some(clock), zone).from);
    }
    if when.has_hour() { Ok(when.from) } else { Err(fault(format!("`{cell}` has no hour"), columns.time)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<ClimateLog, Vec<Fault>> {
        climate_log("log.csv", text.as_bytes(), &Answers::default(), &Zone::none())
    }

    #[test]
    fn headers_tell_what_a_column_is_and_its_unit() {
        let log = read(
            "Date time;Warm side (°C);Cool side [F];room temp C;Heater duty %;RH %\n\
             2026-03-14 19:30;31,5;77;20,1;40;55\n2026-03-14 19:35;31,7;;20,1;0;55\n",
        )
        .unwrap();
        assert_eq!(log.heater, HeaterLogged::Share);
        assert_eq!(log.unused, ["RH %"]);
        let first = log.rows[0];
        assert!((first.cool_c.unwrap() - 25.0).abs() < 1e-9);
        assert_eq!((first.warm_c, first.room_c, first.heater, first.line), (Some(31.5), Some(20.1), Some(0.4), 2));
        assert_eq!((log.rows[1].cool_c, log.rows[1].at.hours_since(first.at)), (None, 5.0 / 60.0));
    }

    #[test]
    fn a_day_and_its_hour_may_stand_apart_and_the_newest_row_first() {
        let log = read(
            "date,time,warm_c,cool_c,room_c,heater_on\n14/03/2026,19:35,31,25,20,off\n14/03/2026,19:30,32,25,20,1\n",
        )
        .unwrap();
        assert_eq!(log.rows.iter().map(|row| row.heater).collect::<Vec<_>>(), [Some(1.0), Some(0.0)]);
        assert!(log.rows[0].at < log.rows[1].at);
    }

    #[test]
    fn what_the_header_leaves_open_is_asked_and_nothing_is_kept() {
        for (header, part) in [
            ("time,warm,cool_c,room_c", "`warm` does not tell its unit"),
            ("time,warm_c,cool_c,room_c,heater", "`heater` does not tell in what it counts"),
            ("time,warm_c,cool_c,note", "no column says that it is `room_c`"),
            ("time,warm_c,hot_c,cool_c,room_c", "two columns may be `warm`"),
            ("time,warm_surface_c,cool_c,room_c", "is a surface"),
        ] {
            let columns = header.split(',').count() - 1;
            let cells = vec!["20"; columns].join(",");
            let faults = read(&format!("{header}\n2026-03-14 19:30,{cells}\n2026-03-14 19:40,{cells}\n")).unwrap_err();
            assert!(faults.iter().any(|fault| fault.what.contains(part) && !fault.mend.is_empty()), "{faults:#?}");
        }
    }

    #[test]
    fn every_row_that_cannot_be_is_told_with_its_line() {
        let faults = read(
            "time,warm_c,cool_c,room_c,heater_w\n2026-03-14 19:30,31,25,20,40\n2026-03-14 19:35,310,25,20,40\n\
             2026-03-14 19:40,31,warm,20,40\nyesterday,31,25,20,40\n2026-03-14,31,25,20,40\n2026-03-14 19:50,31,25,20,-5\n",
        )
        .unwrap_err();
        let places: Vec<&str> = faults.iter().map(|fault| fault.place.as_str()).collect();
        assert_eq!(
            places,
            [
                "log.csv, line 3, column warm_c",
                "log.csv, line 4, column cool_c",
                "log.csv, line 5, column time",
                "log.csv, line 6, column time",
                "log.csv, line 7, column heater_w"
            ]
        );
        let back = read("time,warm_c,cool_c,room_c\n2026-03-14 19:30,31,25,20\n2026-03-14 19:25,31,25,20\n2026-03-14 19:40,31,25,20\n2026-03-14 19:40,31,25,20\n").unwrap_err();
        assert!(back[0].what.contains("goes back") && back[1].what.contains("same time"), "{back:#?}");
        let open =
            read("time,warm_c,cool_c,room_c\n03/04/2026 19:30,31,25,20\n03/04/2026 19:35,31,25,20\n").unwrap_err();
        assert!(open[0].what.contains("day or the month"));
    }
}
