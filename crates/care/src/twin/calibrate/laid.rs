//! A log with the power of its heater, ready to be fitted; or why it cannot be.

use records::facts::{Heater, Thermostat};
use records::fields::{Limits, Reader};
use records::import::HeaterLogged;
use records::{Fault, Fields};
use science::physics::calibration::{FitFault, Log, LogFault, Record};
use units::{Celsius, Seconds, Watts, Zone};

use super::log::{LogTable, Row, length};
use crate::lines;

/// A log with its heater's power.
pub(super) struct Laid {
    pub log: Log,
    /// The power that the heater was taken to have, W.
    pub rated: f64,
    /// What it gave on average, W.
    pub mean_w: f64,
    /// The room on average, °C.
    pub room_c: f64,
}

/// Lays a log out with the power of the main heater, `watts` where that is told with the log. `None` where nothing says
/// when the heater was on, or it never was. One that was not logged is taken to be always on where it has no thermostat:
/// else its state is not guessed from the temperatures that it made.
pub(super) fn lay(table: &LogTable, main: Option<&Heater>, watts: Option<f64>) -> Result<Option<Laid>, Vec<Fault>> {
    let fault = |what: String, mend: &str| vec![Fault::new(what, table.file.clone(), mend)];
    let shortest = lines::low("twin_fit_shortest");
    if table.until().hours_since(table.from) < shortest.value {
        let what = format!("the log is not enough to tell anything: it is {} long", length(table));
        let mend = "log warm side, cool side and room every 1 to 15 minutes, for";
        return Err(fault(what, &format!("{mend} {:.0} h at least, better three days", shortest.value)));
    }
    if is_swapped(table) {
        let what = "the cool side was warmer than the warm side all along";
        return Err(fault(what.into(), "look whether the two columns, or the two thermometers, were swapped"));
    }
    let rated = watts.or_else(|| main.and_then(|heater| heater.watts));
    let is_always_on = main.is_some_and(|heater| heater.thermostat == Some(Thermostat::None));
    let power: Box<dyn Fn(&Row) -> f64> = match (table.heater, rated) {
        (HeaterLogged::Watts, _) => Box::new(|row| row.heater.unwrap_or(f64::NAN)),
        (HeaterLogged::Share | HeaterLogged::OnOff, Some(rated)) => {
            Box::new(move |row| row.heater.unwrap_or(f64::NAN) * rated)
        }
        (HeaterLogged::Share | HeaterLogged::OnOff, None) => {
            let what = "the log tells when the heater was on, and nothing tells its power";
            return Err(fault(what.into(), "give the watts on the heater's label (`watts`)"));
        }
        (HeaterLogged::Not, Some(rated)) if is_always_on => Box::new(move |_| rated),
        (HeaterLogged::Not, _) => return Ok(None),
    };
    let powers: Vec<f64> = table.rows.iter().map(power).collect();
    let record = |(row, power): (&Row, &f64)| {
        let read = |c: Option<f64>| c.and_then(Celsius::new);
        let (warm, cool) = (read(row.warm_c), read(row.cool_c));
        Some(Record { room: Celsius::new(row.room_c)?, heater: Watts(*power), warm, cool })
    };
    let records: Vec<Record> = table.rows.iter().zip(&powers).filter_map(record).collect();
    let count = records.len().max(1) as f64;
    let mean_w = powers.iter().sum::<f64>() / count;
    let room_c = records.iter().map(|one| one.room.degrees()).sum::<f64>() / count;
    match Log::new(Seconds(table.step_s), records) {
        Err(LogFault::NeverHeated) => Ok(None),
        Err(other) => Err(refused(table, &FitFault::Log(other))),
        Ok(log) => {
            let rated = rated.unwrap_or_else(|| powers.iter().copied().fold(0.0, f64::max));
            Ok(Some(Laid { log, rated, mean_w, room_c }))
        }
    }
}

/// The power of the heater as it was typed with a log, in `watts`.
pub fn typed_watts(typed: &dyn Fields) -> Result<Option<f64>, Vec<Fault>> {
    let zone = Zone::none();
    let mut reader = Reader::new(typed, &zone);
    let watts = reader.number("watts", Limits::new(0.5, 5_000.0, "watts"));
    let faults = reader.finish();
    if faults.is_empty() { Ok(watts) } else { Err(faults) }
}

/// Was the cool side, on average, clearly the warmer one?
fn is_swapped(table: &LogTable) -> bool {
    let both: Vec<f64> = table.rows.iter().filter_map(|row| Some(row.cool_c? - row.warm_c?)).collect();
    !both.is_empty() && 0.5 < both.iter().sum::<f64>() / both.len() as f64
}

/// Why a log is not fitted, and what to do about it.
pub(super) fn refused(table: &LogTable, fault: &FitFault) -> Vec<Fault> {
    let mend = match fault {
        FitFault::Log(LogFault::Short(_)) => "log at least a day, warm side, cool side and room, every 1 to 15 minutes",
        FitFault::NotWarmer => "look whether warm side and room were swapped, and whether the heater was on",
        FitFault::Log(_) | FitFault::Choice | FitFault::NoMinimum(_) | FitFault::Unidentifiable => {
            "log a day and a night in which the heater switches, with a lower set point by night"
        }
    };
    vec![Fault::new(format!("the log is not enough to tell anything: {fault}"), table.file.clone(), mend)]
}
