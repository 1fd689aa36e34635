//! Two zones fitted to a log, and what came of it.

use records::Fault;
use records::facts::{Fitted, Thermostat};
use records::import::HeaterLogged;
use science::physics::calibration::{Choices, Doubt, Fit, FitFault, Lag, Log, LogFault, Parameter, Record, Share, fit};
use units::{Celsius, Seconds, Watts, When};

use super::log::{LogTable, Row};
use super::{cooling, shown};
use crate::answer::Severity;
use crate::lines;
use crate::twin::matched::{Goal, two_zones};
use crate::twin::{Description, Guesses, Model, words};
use crate::what_if::{Amount, Basis, Question, Range, Reckoning, Unit, Warning};

/// The 90th percentile of a normal distribution, in standard deviations.
const TENTH_Z: f64 = 1.281_552;

/// Fits a log of an enclosure. `watts` is the power on the heater's label where the description does not tell it, or
/// tells it wrong. Gives what came of it, and the record to keep: `None` where the log does not carry one, which the
/// answer says.
///
/// A heater that was not logged is taken to be always on where the description says that it has no thermostat; else only
/// cool-downs are told, for the state of a heater is not guessed from the temperatures that it made.
pub fn fit_log(
    log: &LogTable,
    described: Option<&Description>,
    watts: Option<f64>,
) -> Result<(Reckoning, Option<Fitted>), Vec<Fault>> {
    let main = described.and_then(|described| described.heaters.first());
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
    let fitted = record_of(log, &found, rated);
    let mean_w = powers.iter().sum::<f64>() / powers.len().max(1) as f64;
    let told =
        Told { log, laid: &laid, found: &found, fitted: &fitted, described, mean_w, knows_share: share.is_some() };
    let answer = told.answer().ok_or_else(|| vec![refused(log, &FitFault::Unidentifiable)])?;
    let is_believed = answer.warning("fit-poor").is_none();
    Ok((answer, is_believed.then_some(fitted)))
}

/// The share that the warm side gets, from the kind of the heater.
fn warm_share(described: &Description) -> Option<f64> {
    let plain = Description { fitted: None, ..described.clone() };
    Model::new(&plain, &Guesses::of(&plain).middle()).ok()?.warm_share()
}

fn refused(log: &LogTable, fault: &FitFault) -> Fault {
    let mend = match fault {
        FitFault::Log(LogFault::Short(_)) => "log at least a day, warm side, cool side and room, every 1 to 15 minutes",
        FitFault::NotWarmer => "look whether warm side and room were swapped, and whether the heater was on",
        FitFault::Log(_) | FitFault::Choice | FitFault::NoMinimum(_) | FitFault::Unidentifiable => {
            "log a day and a night in which the heater switches, with a lower set point by night or two hours off"
        }
    };
    Fault::new(format!("the log cannot be fitted: {fault}"), log.file.clone(), mend)
}

/// The record of a fit. Residuals that follow each other hold less than as many that do not: deviations are wider by
/// √((1 + r)/(1 − r)), r being their correlation with the ones before them.
///
/// Source: effective number of samples of a first-order autoregression; Box, Jenkins and Reinsel, Time Series Analysis.
fn record_of(log: &LogTable, found: &Fit, watts: f64) -> Fitted {
    let follows = found.autocorrelation.into_iter().fold(0.0, f64::max).min(0.99);
    let wider = ((1.0 + follows) / (1.0 - follows)).sqrt();
    let sd = |parameter| 100.0 * wider * found.deviation(parameter).unwrap_or(0.0);
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
struct Told<'a> {
    log: &'a LogTable,
    laid: &'a Log,
    found: &'a Fit,
    fitted: &'a Fitted,
    described: Option<&'a Description>,
    mean_w: f64,
    knows_share: bool,
}

/// A quantity of a fit, with the range that its deviations leave when each is drawn by itself, as later answers do.
fn ranged(fitted: &Fitted, of: impl Fn(&Fitted) -> Option<f64>) -> Option<Range> {
    let mid = of(fitted)?;
    let moved: [fn(&mut Fitted); 5] = [
        |one| one.warm_to_room_w_k *= 1.0 + one.warm_to_room_w_k_sd_pct / 100.0,
        |one| one.cool_to_room_w_k *= 1.0 + one.cool_to_room_w_k_sd_pct / 100.0,
        |one| one.warm_to_cool_w_k *= 1.0 + one.warm_to_cool_w_k_sd_pct / 100.0,
        |one| one.warm_kj_k *= 1.0 + one.warm_kj_k_sd_pct / 100.0,
        |one| one.cool_kj_k *= 1.0 + one.cool_kj_k_sd_pct / 100.0,
    ];
    let mut variance = 0.0;
    for by in moved {
        let mut one = fitted.clone();
        by(&mut one);
        variance += (of(&one)? / mid).ln().powi(2);
    }
    let factor = (TENTH_Z * variance.sqrt()).exp();
    Some(Range { low: mid / factor, mid, high: mid * factor })
}

fn goal(fitted: &Fitted) -> Option<Goal> {
    Goal::of_zones(&two_zones(fitted)).ok()
}

impl Told<'_> {
    fn answer(&self) -> Option<Reckoning> {
        let fitted = self.fitted;
        let basis = Basis::Fitted { from: self.log.from, until: self.log.until(), rms_k: fitted.rms_k };
        let mut answer = Reckoning::to(Question::Calibrate, basis);
        let warm = ranged(fitted, |one| Some(goal(one)?.warm_k_w * one.watts))?;
        let cool = ranged(fitted, |one| Some(goal(one)?.cool_k_w * one.watts))?;
        let time = ranged(fitted, |one| Some(goal(one)?.time_s / 3600.0))?;
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
        self.doubts(&mut answer);
        self.identified(&mut answer);
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
        let of = |value: f64, sd_pct: f64| {
            let factor = (TENTH_Z * sd_pct / 100.0).exp();
            Range { low: value / factor, mid: value, high: value * factor }
        };
        let mut push = |key, says: &str, range, unit| {
            answer.amounts.push(Amount { key, says: says.to_owned(), range, unit, spot: None });
        };
        push("rise-warm", "warm side over the room with the heater always on", warm, Unit::Kelvin);
        push("rise-cool", "cool side over the room with the heater always on", cool, Unit::Kelvin);
        push("cooling-time", "until a third of the warmth is left without heat", time, Unit::Hours);
        let parts = [
            ("warm-to-room", "warm side to the room", fitted.warm_to_room_w_k, fitted.warm_to_room_w_k_sd_pct),
            ("cool-to-room", "cool side to the room", fitted.cool_to_room_w_k, fitted.cool_to_room_w_k_sd_pct),
            ("warm-to-cool", "warm side to cool side", fitted.warm_to_cool_w_k, fitted.warm_to_cool_w_k_sd_pct),
        ];
        for (key, says, value, sd_pct) in parts {
            push(key, says, of(value, sd_pct), Unit::WattsPerKelvin);
        }
        let heats = [
            ("warm-heat", "heat that the warm side holds", fitted.warm_kj_k, fitted.warm_kj_k_sd_pct),
            ("cool-heat", "heat that the cool side holds", fitted.cool_kj_k, fitted.cool_kj_k_sd_pct),
        ];
        for (key, says, value, sd_pct) in heats {
            push(key, says, of(value, sd_pct), Unit::KilojoulesPerKelvin);
        }
        let mean = Range::exactly(self.mean_w);
        push("mean-power", "what the heater gave on average", mean, Unit::Watts);
        push("left-over", "what the model leaves over", Range::exactly(fitted.rms_k), Unit::Kelvin);
        if 0.0 < self.found.model.lag.seconds() {
            let lag = of(
                self.found.model.lag.seconds() / 60.0,
                100.0 * self.found.deviation(Parameter::SensorLag).unwrap_or(0.0),
            );
            push("sensor-lag", "how slowly the thermometers follow", lag, Unit::Minutes);
        }
    }

    /// Reasons not to believe it.
    fn doubts(&self, answer: &mut Reckoning) {
        for doubt in self.found.doubts() {
            let warning = match doubt {
                Doubt::Rms(rms_k) => Warning {
                    key: "fit-poor",
                    severity: Severity::Watch,
                    says: format!("The model is {rms_k:.1} K off on average, more than it may be: it is not kept."),
                    does: "Look whether a thermometer was moved, a door stood open or the sun came in, and log again."
                        .into(),
                    source: Some(lines::source("twin_fit")),
                    caution: None,
                },
                Doubt::Autocorrelation(_) => Warning {
                    key: "fit-follows",
                    severity: Severity::Note,
                    says:
                        "What is left over comes in waves: something slow is not in the model, so its ranges are wider."
                            .into(),
                    does: "Look at the curve of what is left over; a door, the sun or a second heater show in it."
                        .into(),
                    source: Some(lines::source("twin_fit")),
                    caution: None,
                },
            };
            answer.warnings.push(warning);
        }
        answer.warnings.sort_by_key(|one| std::cmp::Reverse(one.severity));
    }

    /// What the log tells and what it does not, in plain words.
    fn identified(&self, answer: &mut Reckoning) {
        answer.untold.extend(self.log.notes.iter().cloned());
        for (first, second, _) in self.found.moving_together() {
            if let (Some(first), Some(second)) = (name(first), name(second)) {
                answer.untold.push(format!("{first} and {second} apart: this log tells only the two together."));
            }
        }
        let fitted = self.fitted;
        let widest = fitted.warm_kj_k_sd_pct.max(fitted.cool_kj_k_sd_pct);
        if 15.0 < widest {
            answer.untold.push(format!(
                "How much heat it holds, to better than {widest:.0} %: a log with two hours off, or a lower set point by night, tells it."
            ));
            answer.steps.push(crate::what_if::Step {
                at: None,
                does: "Leave the heater off for two hours while it is logged, with the animal elsewhere or in a warm room, and not after a meal.".into(),
                because: "Only while it cools does a log tell how much heat an enclosure holds.".into(),
            });
        }
        let percent = 100.0 * fitted.heater_share;
        answer.untold.push(if self.knows_share {
            format!("Which share of the heat goes to the warm side: {percent:.0} % are taken from the kind of heater, for a log cannot tell it from the ways to the room.")
        } else {
            format!("Which share of the heat goes to the warm side: {percent:.0} % are taken, as the kind of heater is not known.")
        });
        if self.log.heater != HeaterLogged::Watts {
            answer.untold.push(format!(
                "What the heater really draws: {:.0} W are taken from its label. Should it be another, temperatures, time on and cooling stay right, but watts and cost are off by as much; a plug meter tells.",
                fitted.watts
            ));
        }
        if self.log.heater == HeaterLogged::Not {
            answer.untold.push("When the heater was on: it has no thermostat, so it was taken as always on.".into());
        }
    }
}

fn name(parameter: Parameter) -> Option<&'static str> {
    match parameter {
        Parameter::WarmToRoom => Some("The way from the warm side to the room"),
        Parameter::CoolToRoom => Some("the way from the cool side to the room"),
        Parameter::WarmToCool => Some("the way from the warm to the cool side"),
        Parameter::WarmCapacity => Some("the heat in the warm side"),
        Parameter::CoolCapacity => Some("the heat in the cool side"),
        Parameter::HeaterShare => Some("the share of the heater"),
        Parameter::SensorLag => Some("the lag of the thermometers"),
        Parameter::WarmStart | Parameter::CoolStart => None,
    }
}

/// How long a log is, in words.
pub(super) fn length(log: &LogTable) -> String {
    words::lasted(log.until().hours_since(log.from))
}
