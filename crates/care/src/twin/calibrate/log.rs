//! A log in even steps.

use records::Fault;
use records::import::{Answers, ClimateLog, HeaterLogged, LogRow, climate_log};
use units::{Moment, Zone};

use crate::twin::words;

/// One step of a log.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Air of the warm side, °C; `None` in a gap.
    pub warm_c: Option<f64>,
    /// Air of the cool side, °C.
    pub cool_c: Option<f64>,
    /// The room, °C.
    pub room_c: f64,
    /// The heater over the step that begins here, as [`LogTable::heater`] counts it.
    pub heater: Option<f64>,
}

/// A log in even steps, gaps kept as gaps.
#[derive(Clone, Debug, PartialEq)]
pub struct LogTable {
    /// The name of its file.
    pub file: String,
    /// When its first step begins.
    pub from: Moment,
    /// Its step, s.
    pub step_s: f64,
    /// Its steps.
    pub rows: Vec<Row>,
    /// What it tells of the heater.
    pub heater: HeaterLogged,
    /// How many rows of the file are in it.
    pub used: usize,
    /// What was done with it, in sentences.
    pub notes: Vec<String>,
}

impl LogTable {
    /// When its last step begins.
    pub fn until(&self) -> Moment {
        self.from.plus_hours(self.step_s * self.rows.len().saturating_sub(1) as f64 / 3600.0)
    }

    /// Minutes of a step since the start.
    pub fn minutes(&self, place: usize) -> f64 {
        place as f64 * self.step_s / 60.0
    }
}

/// How long a log is, in words.
pub(super) fn length(log: &LogTable) -> String {
    words::lasted(log.until().hours_since(log.from))
}

/// Steps of a log are whole minutes from one to a quarter of an hour, s.
const SHORTEST_S: f64 = 60.0;
const LONGEST_S: f64 = 900.0;
/// A log of more steps is averaged over longer ones: a month at 5 min tells all that one at 1 min does.
const MOST_STEPS: f64 = 8_640.0;
/// A temperature is read between two rows that are no further apart than this many steps: beyond is a gap.
const GAP_STEPS: f64 = 2.5;
/// Room and heater are carried over a gap up to this, s: the room is slow. A longer one ends the part that is used.
const CARRIED_S: f64 = 7_200.0;

/// Reads a log (see [`records::import::climate_log`]) and lays it out in even steps. Where room or heater are missing for
/// more than two hours the longest part without such a hole is used, and it is said. All faults are told at once.
pub fn read_log(name: &str, bytes: &[u8], zone: &Zone, answers: &Answers) -> Result<LogTable, Vec<Fault>> {
    let log = climate_log(name, bytes, answers, zone)?;
    let fault = |what: String, mend: &str| vec![Fault::new(what, name, mend)];
    let step_s = step_s(&log.rows).ok_or_else(|| {
        fault("the log holds a single row".into(), "log at least a day, with a row every few minutes")
    })?;
    if LONGEST_S < step_s {
        let what = format!("its rows are {:.0} min apart", step_s / 60.0);
        return Err(fault(what, "log every 1 to 15 minutes: what happens between rows cannot be seen"));
    }
    let mut notes = Vec::new();
    if !log.unused.is_empty() {
        notes.push(format!("Columns that are not needed: {}.", log.unused.join(", ")));
    }
    let part = longest_part(&log);
    let span_s = part.first().zip(part.last()).map_or(0, |(first, last)| last.at.0 - first.at.0) as f64;
    let step_s = if span_s <= MOST_STEPS * step_s { step_s } else { (span_s / MOST_STEPS / 60.0).ceil() * 60.0 };
    let left_out = log.rows.len() - part.len();
    if 0 < left_out {
        notes.push(format!(
            "{left_out} rows are left out: for more than two hours the room or the heater was not logged, and the longest part without such a hole is used."
        ));
    }
    let table = even(&log, part, step_s, notes);
    table.ok_or_else(|| {
        fault("the room was never logged".into(), "log the room beside the enclosure, at the height of its middle")
    })
}

/// The usual distance of two rows, s, in whole minutes.
fn step_s(rows: &[LogRow]) -> Option<f64> {
    let mut steps: Vec<i64> = rows.windows(2).filter_map(|pair| Some(pair.last()?.at.0 - pair.first()?.at.0)).collect();
    steps.sort_unstable();
    let usual = *steps.get(steps.len() / 2)? as f64;
    Some(((usual / 60.0).round() * 60.0).max(SHORTEST_S))
}

fn is_heater_missing(log: &ClimateLog, row: &LogRow) -> bool {
    log.heater != HeaterLogged::Not && row.heater.is_none()
}

/// The longest run of rows in which room and heater are known at least every two hours.
fn longest_part(log: &ClimateLog) -> &[LogRow] {
    let known = |row: &LogRow| row.room_c.is_some() && !is_heater_missing(log, row);
    let places: Vec<usize> = (0..log.rows.len()).filter(|place| log.rows.get(*place).is_some_and(known)).collect();
    let at = |place: usize| log.rows.get(place).map_or(0, |row| row.at.0);
    let mut best = (0, 0);
    let mut begin = places.first().copied().unwrap_or(0);
    for pair in places.windows(2) {
        let &[before, after] = pair else { continue };
        if CARRIED_S < (at(after) - at(before)) as f64 {
            begin = after;
        }
        if at(best.1) - at(best.0) < at(after) - at(begin) {
            best = (begin, after);
        }
    }
    log.rows.get(best.0..=best.1).unwrap_or_default()
}

/// Readings of one quantity with their seconds since the start.
fn channel(rows: &[LogRow], of: fn(&LogRow) -> Option<f64>) -> Vec<(f64, f64)> {
    let start = rows.first().map_or(0, |row| row.at.0);
    rows.iter().filter_map(|row| Some(((row.at.0 - start) as f64, of(row)?))).collect()
}

fn even(log: &ClimateLog, part: &[LogRow], step_s: f64, notes: Vec<String>) -> Option<LogTable> {
    let (first, last) = (part.first()?, part.last()?);
    let warm = channel(part, |row| row.warm_c);
    let cool = channel(part, |row| row.cool_c);
    let room = channel(part, |row| row.room_c);
    let heater = channel(part, |row| row.heater);
    let count = ((last.at.0 - first.at.0) as f64 / step_s).floor() as usize + 1;
    let row = |place: usize| {
        let at = place as f64 * step_s;
        Some(Row {
            warm_c: read_at(&warm, at, step_s, GAP_STEPS * step_s),
            cool_c: read_at(&cool, at, step_s, GAP_STEPS * step_s),
            room_c: read_at(&room, at, step_s, f64::INFINITY)?,
            heater: held(&heater, at, at + step_s),
        })
    };
    let rows: Vec<Row> = (0..count).map_while(row).collect();
    if rows.is_empty() {
        return None;
    }
    let used = part.len();
    Some(LogTable { file: log.file.clone(), from: first.at, step_s, rows, heater: log.heater, used, notes })
}

/// The value at a time: the mean of the readings around it where there are several, else on the line between the two
/// beside it, where they are no further apart than `gap`.
fn read_at(channel: &[(f64, f64)], at: f64, step_s: f64, gap: f64) -> Option<f64> {
    let begin = channel.partition_point(|(time, _)| *time < at - step_s / 2.0);
    let end = channel.partition_point(|(time, _)| *time < at + step_s / 2.0);
    let around = channel.get(begin..end)?;
    if 1 < around.len() {
        return Some(around.iter().map(|(_, value)| value).sum::<f64>() / around.len() as f64);
    }
    let after = channel.partition_point(|(time, _)| *time < at);
    let next = channel.get(after);
    if let Some((time, value)) = next
        && *time == at
    {
        return Some(*value);
    }
    match (after.checked_sub(1).and_then(|place| channel.get(place)), next) {
        (Some((t0, y0)), Some((t1, y1))) => (t1 - t0 <= gap).then(|| y0 + (y1 - y0) * (at - t0) / (t1 - t0)),
        // Before the first and after the last it is held for half a step.
        (Some((time, value)), None) | (None, Some((time, value))) => {
            ((at - time).abs() <= step_s / 2.0 || gap.is_infinite()).then_some(*value)
        }
        (None, None) => None,
    }
}

/// The mean over a span of a quantity that stays as it is from row to row.
fn held(channel: &[(f64, f64)], from: f64, to: f64) -> Option<f64> {
    let first = channel.partition_point(|(time, _)| *time <= from).saturating_sub(1);
    let mut sum = 0.0;
    for (place, (time, value)) in channel.iter().enumerate().skip(first) {
        if to <= *time {
            break;
        }
        let end = channel.get(place + 1).map_or(to, |(next, _)| next.min(to));
        // What was before the first row is as in it.
        let begin = if place == first { from } else { time.max(from) };
        sum += value * (end - begin).max(0.0);
    }
    (!channel.is_empty()).then(|| sum / (to - from))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<LogTable, Vec<Fault>> {
        read_log("log.csv", text.as_bytes(), &Zone::none(), &Answers::default())
    }

    fn log(rows: &[(&str, &str)]) -> String {
        let rows: Vec<String> = rows.iter().map(|(time, cells)| format!("2026-03-14T{time}:00,{cells}\n")).collect();
        format!("time,warm_c,cool_c,room_c,heater_on\n{}", rows.concat())
    }

    #[test]
    fn an_even_log_stays_as_it_is() {
        let table = read(&log(&[("10:00", "30,25,20,1"), ("10:05", "31,25,20,0"), ("10:10", "30,24,21,1")])).unwrap();
        assert_eq!((table.step_s, table.used, table.rows.len()), (300.0, 3, 3));
        let second = table.rows[1];
        assert_eq!(
            (second.warm_c, second.cool_c, second.room_c, second.heater),
            (Some(31.0), Some(25.0), 20.0, Some(0.0))
        );
        assert_eq!(table.until().hours_since(table.from), 1.0 / 6.0);
        assert!(table.notes.is_empty());
    }

    #[test]
    fn uneven_rows_are_read_on_the_line_between_them_and_the_heater_is_weighed_by_its_time() {
        let table = read(&log(&[
            ("10:00", "30,25,20,1"),
            ("10:04", "32,25,20,0"),
            ("10:10", "32,25,20,1"),
            ("10:15", "32,25,20,1"),
        ]))
        .unwrap();
        // At 10:05 the line from 32 to 32; on for 4 of the first 5 minutes.
        assert_eq!(table.rows[1].warm_c, Some(32.0));
        assert!((table.rows[0].heater.unwrap() - 0.8).abs() < 1e-12 && table.rows[1].heater == Some(0.0));
    }

    #[test]
    fn several_rows_in_a_step_are_averaged() {
        let rows: Vec<String> =
            (0..60).map(|k| format!("2026-03-14T10:{:02}:{:02},{},25,20,1\n", k / 6, k % 6 * 10, 30 + k % 2)).collect();
        let table = read(&format!("time,warm_c,cool_c,room_c,heater_on\n{}", rows.concat())).unwrap();
        assert_eq!((table.step_s, table.rows.len()), (60.0, 10));
        assert_eq!(table.rows[5].warm_c, Some(30.5));
    }

    #[test]
    fn a_month_of_minutes_is_averaged_over_five() {
        let start = 1_773_500_400i64;
        let row = |minute: i64| {
            let time = Zone::none().write(Moment(start + 60 * minute));
            format!("{time},{},25,20,{}\n", 30 + minute % 5, i64::from(minute % 5 < 2))
        };
        let rows: String = (0..30 * 1440).map(row).collect();
        let table = read(&format!("time,warm_c,cool_c,room_c,heater_on\n{rows}")).unwrap();
        assert_eq!((table.step_s, table.rows.len(), table.used), (300.0, 8_640, 43_200));
        let row = table.rows[100];
        assert!((row.heater.unwrap() - 0.4).abs() < 1e-9 && (row.warm_c.unwrap() - 32.0).abs() < 0.51, "{row:?}");
    }

    #[test]
    fn a_gap_stays_a_gap_and_a_long_hole_ends_the_part_that_is_used() {
        let gap = read(&log(&[
            ("10:00", "30,25,20,1"),
            ("10:05", "30,25,20,1"),
            ("10:30", "30,25,20,1"),
            ("10:35", ",25,20,1"),
            ("10:40", "30,25,20,1"),
        ]))
        .unwrap();
        let warm: Vec<bool> = gap.rows.iter().map(|row| row.warm_c.is_some()).collect();
        assert_eq!(warm, [true, true, false, false, false, false, true, true, true]);
        let hole = read(&log(&[
            ("10:00", "30,25,20,1"),
            ("10:05", "30,25,20,1"),
            ("12:10", "30,25,20,1"),
            ("12:15", "30,25,20,1"),
            ("12:20", "30,25,20,1"),
        ]))
        .unwrap();
        assert_eq!((hole.used, hole.rows.len()), (3, 3));
        assert!(hole.notes[0].starts_with("2 rows are left out"), "{:?}", hole.notes);
    }

    #[test]
    fn what_cannot_be_laid_out_is_told() {
        for (rows, part) in [
            (vec![("10:00", "30,25,20,1")], "single row"),
            (vec![("10:00", "30,25,20,1"), ("10:20", "30,25,20,1"), ("10:40", "30,25,20,1")], "20 min apart"),
            (vec![("10:00", "30,25,,1"), ("10:05", "30,25,,1")], "room was never logged"),
        ] {
            let faults = read(&log(&rows)).unwrap_err();
            assert!(faults[0].what.contains(part), "{faults:?}");
        }
    }
}
