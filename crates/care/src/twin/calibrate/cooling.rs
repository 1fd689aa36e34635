//! What a log tells without its heater: how fast both sides cool, and how they stand to each other.

use records::Fault;
use science::physics::calibration::{Decay, decay};
use units::Seconds;

use super::log::{LogTable, Row, length};
use super::shown;
use crate::lines;
use crate::twin::words;
use crate::what_if::{Amount, Basis, Question, Range, Reckoning, Step, Unit};

/// In the first half hour of a cool-down the air alone cools, s.
const AIR_ALONE_S: f64 = 1_800.0;
/// A cool-down that is fitted goes on for at least this long, s, and falls by at least so much, K.
const LEAST_S: f64 = 7_200.0;
const LEAST_FALL_K: f64 = 2.0;
/// A reading this much above the lowest so far ends a fall, K: more than the noise of a thermometer.
const RISE_K: f64 = 0.3;
/// What is closer to the room than this tells more of the thermometer than of the enclosure, K.
const LEAST_EXCESS_K: f64 = 0.5;

/// The mean of both sides over the room.
fn excess(row: &Row) -> Option<f64> {
    Some(f64::midpoint(row.warm_c?, row.cool_c?) - row.room_c)
}

/// The cool-down that tells most: of those that are long and deep enough the one that falls furthest.
fn best(log: &LogTable) -> Option<Decay> {
    let read: Vec<(f64, f64)> = log
        .rows
        .iter()
        .enumerate()
        .filter_map(|(place, row)| Some((place as f64 * log.step_s, excess(row)?)))
        .collect();
    let mut found: Option<(f64, Decay)> = None;
    let mut begin = 0;
    while begin < read.len() {
        let mut lowest = f64::INFINITY;
        let falls = |(_, value): &&(f64, f64)| {
            let goes_on = *value < lowest + RISE_K && LEAST_EXCESS_K < *value;
            lowest = lowest.min(*value);
            goes_on
        };
        let run: Vec<(f64, f64)> = read.iter().skip(begin).take_while(falls).copied().collect();
        begin += run.len().max(1);
        let (Some(first), Some(last)) = (run.first(), run.last()) else { continue };
        // Before it falls it may have stood still: it begins where it was highest last.
        let top = run.iter().rfind(|(_, value)| first.1 - RISE_K <= *value).copied().unwrap_or(*first);
        let fall = top.1 - last.1;
        if last.0 - top.0 < LEAST_S || fall < LEAST_FALL_K {
            continue;
        }
        let points: Vec<(Seconds, f64)> = run
            .iter()
            .filter(|(time, _)| top.0 + AIR_ALONE_S <= *time)
            .map(|(time, value)| (Seconds(time - top.0), *value))
            .collect();
        if let Some(decay) = decay(&points).filter(|_| found.is_none_or(|(before, _)| before < fall)) {
            found = Some((fall, decay));
        }
    }
    found.map(|(_, decay)| decay)
}

/// The answer where the heater's power is not known.
pub(super) fn told(log: &LogTable) -> Result<Reckoning, Vec<Fault>> {
    let mut answer = Reckoning::to(Question::Calibrate, Basis::Direct);
    let ratio = log.rows.iter().filter_map(|row| {
        let (warm, cool) = (row.warm_c? - row.room_c, row.cool_c? - row.room_c);
        (LEAST_EXCESS_K < warm).then_some(cool / warm)
    });
    let ratio = Range::of(ratio);
    let cooling = best(log);
    if ratio.is_none() && cooling.is_none() {
        let mend = "look whether warm side and room were swapped, and whether the heater was on";
        return Err(vec![Fault::new("the warm side never was warmer than the room", log.file.clone(), mend)]);
    }
    match cooling {
        Some(decay) => {
            let (hours, sd) = (decay.time_constant.seconds() / 3600.0, decay.deviation.seconds() / 3600.0);
            let range = Range { low: (hours - 1.281_552 * sd).max(0.0), mid: hours, high: hours + 1.281_552 * sd };
            answer.says.push(format!(
                "Without heat a third of the warmth is left after {}: that is all that this log of {} tells of heat.",
                words::hours(range),
                length(log)
            ));
            let says = "until a third of the warmth is left without heat".to_owned();
            answer.amounts.push(Amount::new("cooling-time", says, range, Unit::Hours));
        }
        None => answer.says.push(format!(
            "Not enough to tell: this log of {} says neither when the heater was on nor how the enclosure cools.",
            length(log)
        )),
    }
    if let Some(ratio) = ratio {
        let percent = Range { low: 100.0 * ratio.low, mid: 100.0 * ratio.mid, high: 100.0 * ratio.high };
        answer
            .says
            .push(format!("The cool side stands {} as far over the room as the warm side.", words::percent(percent)));
        let says = "cool side over the room, of the warm side over the room".to_owned();
        answer.amounts.push(Amount::new("cool-of-warm", says, percent, Unit::Percent));
    }
    answer.untold.extend(log.notes.iter().cloned());
    answer.untold.push("What a watt does: for that the log needs a column of the heater, `heater_w` (watts), `heater_pct` (share of its power) or `heater_on` (1 and 0).".into());
    answer.steps.push(Step {
        at: None,
        does: "Log again with a plug meter, or write down when the heater switches.".into(),
        because: "From temperatures alone a weak heater in a tight box looks like a strong one in a leaky box.".into(),
    });
    shown::measured(&mut answer, log);
    answer.sources = vec![lines::source("twin_fit")];
    answer.cautions = vec!["sensors"];
    Ok(answer)
}
