//! Two zones fitted to a log, and what came of it.

use records::Fault;
use records::facts::{Fitted, Thermostat};
use records::import::HeaterLogged;
use science::physics::calibration::{Choices, Fit, FitFault, Lag, Log, LogFault, Parameter, Record, Share, fit};
use units::{Celsius, Seconds, Watts, When};

use super::certain::{Certainty, range};
use super::log::{LogTable, Row};
use super::{cooling, doubts, shown};
use crate::lines;
use crate::twin::description::strongest_first;
use crate::twin::matched::{Goal, two_zones};
use crate::twin::{Description, Guesses, Model, words};
use crate::what_if::{Amount, Basis, Known, Question, Range, Reckoning, Unit};

/// Fits a log of the enclosure that a question is about. `watts` is the power of the main heater where the record does
/// not tell it, or a meter says another. Gives what came of it, and the record to keep: `None` where the log does not
/// carry one, which the answer says.
///
/// A heater that was not logged is taken to be always on where the description says that it has no thermostat; else only
/// cool-downs are told, for the state of a heater is not guessed from the temperatures that it made.
pub fn fit_log(
    log: &LogTable,
    known: &Known,
    watts: Option<f64>,
) -> Result<(Reckoning, Option<Fitted>), Vec<Fault>> {
    let shortest = lines::low("twin_fit_shortest");
    if log.until().hours_since(log.from) < shortest.value {
        let what = format!("the log is not enough to tell anything: it is {} long", length(log));
        let mend = format!("log {:.0} h or more, best three days, warm side, cool side and room, every 1 to 15 minutes", shortest.value);
        return Err(vec![Fault::new(what, log.file.clone(), mend)]);
    }
    let place = known.place.as_ref();
    let described = place.and_then(|place| {
        Description::recorded(&place.enclosure, &place.heaters, known.household.as_ref(), Vec::new())
    });
    let described = described.as_ref();
    let heaters = place.map(|place| strongest_first(&place.heaters)).unwrap_or_default();
    let main = heaters.first();
    let rated = watts.or_else(|| main.and_then(|heater| heater.watts));
    let is_always_on = main.is_some_and(|heater| heater.thermostat == Some(Thermostat::None));
    let power: Box<dyn Fn(&Row) -> f64> = match (log.heater, rated) {
        (HeaterLogged::Watts, _) => Box::new(|row| row.heater.unwrap_or(f64::NAN)),
        (HeaterLogged::Share | HeaterLogged::OnOff, Some(rated)) => {
            Box::new(move |row| row.heater.unwrap_or(f64::NAN) * rated)
        }
        (HeaterLogged::Share | HeaterLogged::OnOff, None) => {
            let mend = "give the watts on the heater's label (`watts`)";
            let what = "the log tells when the heater was on, and nothing tells its power";
            return Err(vec![Fault::new(what, log.file.clone(), mend)]);
        }
        (HeaterLogged::Not, Some(rated)) if is_always_on => Box::new(move |_| rated),
        (HeaterLogged::Not, _) => return cooling::told(log).map(|answer| (answer, None)),
    };
    if is_swapped(log) {
        let what = "the cool side was warmer than the warm side all along";
        return Err(vec![Fault::new(what, log.file.clone(), "look whether the two columns, or the two thermometers, were swapped")]);
    }
    let powers: Vec<f64> = log.rows.iter().map(power).collect();
    let rated = rated.unwrap_or_else(|| powers.iter().copied().fold(0.0, f64::max));
    let record = |(row, power): (&Row, &f64)| {
        let read = |c: Option<f64>| c.and_then(Celsius::new);
        Some(Record {
            room: Celsius::new(row.room_c)?,
            heater: Watts(*power),
            warm: read(row.warm_c),
            cool: read(row.cool_c),
        })
    };
    let records: Option<Vec<Record>> = log.rows.iter().zip(&powers).map(record).collect();
    let laid = records.ok_or(FitFault::NoMinimum("a room that cannot be".into()));
    let laid = laid.and_then(|records| Log::new(Seconds(log.step_s), records).map_err(FitFault::Log));
    let laid = match laid {
        Err(FitFault::Log(LogFault::NeverHeated)) => return cooling::told(log).map(|answer| (answer, None)),
        other => other.map_err(|fault| vec![refused(log, &fault)])?,
    };
    let share = described.and_then(warm_share);
    let usual = lines::whole("twin_warm_share").map_or(f64::NAN, species::Figure::middle);
    let choices = Choices {
        share: Share::Known(share.unwrap_or(usual)),
        lag: if log.step_s <= 120.0 { Lag::Around(Seconds(120.0)) } else { Lag::None },
    };
    let found = fit(&laid, &choices).map_err(|fault| vec![refused(log, &fault)])?;
    let certainty = Certainty::of(&found).ok_or_else(|| vec![refused(log, &FitFault::Unidentifiable)])?;
    let fitted = record_of(log, &found, &certainty, rated);
    let before = place.filter(|place| place.changed().is_empty()).and_then(|place| place.fitted.as_ref());
    let told = Told {
        log,
        laid: &laid,
        found: &found,
        certainty: &certainty,
        fitted: &fitted,
        described,
        before,
        mean_w: powers.iter().sum::<f64>() / powers.len().max(1) as f64,
        knows_share: share.is_some(),
    };
    let answer = told.answer().ok_or_else(|| vec![refused(log, &FitFault::Unidentifiable)])?;
    let is_believed = ["fit-poor", "fit-open"].iter().all(|key| answer.warning(key).is_none());
    Ok((answer, is_believed.then_some(fitted)))
}

/// Was the cool side, on average, clearly the warmer one?
fn is_swapped(log: &LogTable) -> bool {
    let both: Vec<f64> = log.rows.iter().filter_map(|row| Some(row.cool_c? - row.warm_c?)).collect();
    !both.is_empty() && 0.5 < both.iter().sum::<f64>() / both.len() as f64
}

/// The share that the warm side gets, from the kind of the heater.
fn warm_share(described: &Description) -> Option<f64> {
    Model::new(described, &Guesses::of(described).middle()).ok()?.warm_share()
}

fn refused(log: &LogTable, fault: &FitFault) -> Fault {
    let mend = match fault {
        FitFault::Log(LogFault::Short(_)) => "log at least a day, warm side, cool side and room, every 1 to 15 minutes",
        FitFault::NotWarmer => "look whether warm side and room were swapped, and whether the heater was on",
        FitFault::Log(_) | FitFault::Choice | FitFault::NoMinimum(_) | FitFault::Unidentifiable => {
            "log a day and a night in which the heater switches, with a lower set point by night or two hours off"
        }
    };
    Fault::new(format!("the log is not enough to tell anything: {fault}"), log.file.clone(), mend)
}

/// The record of a fit.
fn record_of(log: &LogTable, found: &Fit, certainty: &Certainty, watts: f64) -> Fitted {
    let sd = |parameter| certainty.kept_pct(found, parameter);
    let zones = &found.model;
    Fitted {
        at: When::exactly(log.until()),
        from: When::exactly(log.from),
        warm_to_room_w_k: zones.warm_to_room_w_k,
        warm_to_room_w_k_sd_pct: sd(Parameter::WarmToRoom),
        cool_to_room_w_k: zones.cool_to_room_w_k,
        cool_to_room_w_k_sd_pct: sd(Parameter::CoolToRoom),
        warm_to_cool_w_k: zones.warm_to_cool_w_k,
        warm_to_cool_w_k_sd_pct: sd(Parameter::WarmToCool),
        warm_kj_k: zones.warm_j_k / 1000.0,
        warm_kj_k_sd_pct: sd(Parameter::WarmCapacity),
        cool_kj_k: zones.cool_j_k / 1000.0,
        cool_kj_k_sd_pct: sd(Parameter::CoolCapacity),
        heater_share: zones.heater_share,
        heater_share_sd_pct: 0.0,
        watts,
        rms_k: found.rms_k,
        log_rows: u32::try_from(log.used).unwrap_or(u32::MAX),
    }
}

/// All that the answer rests on.
pub(super) struct Told<'a> {
    pub log: &'a LogTable,
    pub laid: &'a Log,
    pub found: &'a Fit,
    pub certainty: &'a Certainty,
    pub fitted: &'a Fitted,
    pub described: Option<&'a Description>,
    /// What the log before said, of the enclosure as it still is.
    pub before: Option<&'a Fitted>,
    pub mean_w: f64,
    pub knows_share: bool,
}

impl Told<'_> {
    fn answer(&self) -> Option<Reckoning> {
        let fitted = self.fitted;
        let basis = Basis::Fitted { from: self.log.from, until: self.log.until(), rms_k: fitted.rms_k };
        let mut answer = Reckoning::to(Question::Calibrate, basis);
        let goal = Goal::of_zones(&two_zones(fitted)).ok()?;
        let warm = range(goal.warm_k_w * fitted.watts, self.certainty.warm);
        let cool = range(goal.cool_k_w * fitted.watts, self.certainty.cool);
        let time = range(goal.time_s / 3600.0, self.certainty.time);
        answer.says.push(format!(
            "With its {:.0} W always on, the warm side comes to stand {} over the room and the cool side {}; switched off, a third of that is left after {}.",
            fitted.watts,
            words::kelvin(warm),
            words::kelvin(cool),
            words::hours(time)
        ));
        answer.says.push(format!(
            "Over {} of log the model is {:.1} K off what was measured, on average.",
            length(self.log),
            fitted.rms_k
        ));
        self.amounts(&mut answer, warm, cool, time);
        doubts::warn(self, &mut answer);
        doubts::untold(self, &mut answer);
        shown::curves(&mut answer, self.log, &self.found.model.simulated_c(self.laid, self.found.start_c));
        if let Some(described) = self.described {
            answer.tables.extend(shown::changes(described, fitted.watts, [warm, cool, time]));
        }
        answer.sources = vec![lines::source("twin_fit"), lines::source("twin_warm_share")];
        answer.cautions = vec!["sensors"];
        Some(answer)
    }

    fn amounts(&self, answer: &mut Reckoning, warm: Range, cool: Range, time: Range) {
        let fitted = self.fitted;
        let of = |value: f64, parameter| range(value, self.certainty.of_parameter(self.found, parameter));
        let mut push = |key, says: &str, range, unit| {
            answer.amounts.push(Amount { key, says: says.to_owned(), range, unit, spot: None });
        };
        push("rise-warm", "warm side over the room with the heater always on", warm, Unit::Kelvin);
        push("rise-cool", "cool side over the room with the heater always on", cool, Unit::Kelvin);
        push("cooling-time", "until a third of the warmth is left without heat", time, Unit::Hours);
        let parts = [
            ("warm-to-room", "warm side to the room", fitted.warm_to_room_w_k, Parameter::WarmToRoom),
            ("cool-to-room", "cool side to the room", fitted.cool_to_room_w_k, Parameter::CoolToRoom),
            ("warm-to-cool", "warm side to cool side", fitted.warm_to_cool_w_k, Parameter::WarmToCool),
        ];
        for (key, says, value, parameter) in parts {
            push(key, says, of(value, parameter), Unit::WattsPerKelvin);
        }
        let heats = [
            ("warm-heat", "heat that the warm side holds", fitted.warm_kj_k, Parameter::WarmCapacity),
            ("cool-heat", "heat that the cool side holds", fitted.cool_kj_k, Parameter::CoolCapacity),
        ];
        for (key, says, value, parameter) in heats {
            push(key, says, of(value, parameter), Unit::KilojoulesPerKelvin);
        }
        let mean = Range::exactly(self.mean_w);
        push("mean-power", "what the heater gave on average", mean, Unit::Watts);
        push("left-over", "what the model leaves over", Range::exactly(fitted.rms_k), Unit::Kelvin);
        if 0.0 < self.found.model.lag.seconds() {
            let lag = of(self.found.model.lag.seconds() / 60.0, Parameter::SensorLag);
            push("sensor-lag", "how slowly the thermometers follow", lag, Unit::Minutes);
        }
    }
}

/// How long a log is, in words.
pub(super) fn length(log: &LogTable) -> String {
    words::lasted(log.until().hours_since(log.from))
}
