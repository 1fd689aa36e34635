//! What a log does not tell, and reasons not to believe a fit.

use records::import::HeaterLogged;
use science::physics::calibration::{Doubt, Parameter};

use super::drift::drift;
use super::fit::Told;
use crate::answer::Severity;
use crate::lines;
use crate::what_if::{Reckoning, Step, Warning};

/// Reasons not to believe it, and what changed since the log before.
pub(super) fn warn(told: &Told<'_>, answer: &mut Reckoning) {
    let warning = |key, severity, says: String, does: &str| Warning {
        key,
        severity,
        says,
        does: does.to_owned(),
        source: Some(lines::source("twin_fit")),
        caution: None,
    };
    for doubt in told.found.doubts() {
        answer.warnings.push(match doubt {
            Doubt::Rms(rms_k) => warning(
                "fit-poor",
                Severity::Watch,
                format!("The model is {rms_k:.1} K off on average, more than it may be: it is not kept."),
                "Look whether a thermometer was moved, a door stood open or the sun came in, and log again.",
            ),
            Doubt::Autocorrelation(_) => warning(
                "fit-follows",
                Severity::Note,
                "What is left over comes in waves: something slow is not in the model, so its ranges are wider.".into(),
                "Look at the curve of what is left over; a door, the sun or a second heater show in it.",
            ),
        });
    }
    let most = lines::high("twin_fit_unsure").value;
    let certainty = told.certainty;
    let unsure: Vec<&str> = [
        (certainty.warm.max(certainty.cool), "how far it warms"),
        (certainty.time, "how fast it cools"),
    ]
    .into_iter()
    .filter_map(|(sd, what)| (sd.is_nan() || most < sd).then_some(what))
    .collect();
    if !unsure.is_empty() {
        let what = unsure.join(" nor ");
        let says = format!("Not enough to tell {what} any better than the description does: it is not kept.");
        answer.warnings.push(warning("fit-open", Severity::Watch, says, LOG_AGAIN));
    }
    if let Some(before) = told.before {
        answer.warnings.extend(drift(before, told.fitted).into_iter().map(|one| Warning {
            source: Some(one.line.source),
            ..warning(
                "fit-drift",
                Severity::Watch,
                one.says,
                "Look for an open lid or door, wet substrate, a thermometer that was moved, or a heater that is failing.",
            )
        }));
    }
    answer.warnings.sort_by_key(|one| std::cmp::Reverse(one.severity));
}

const LOG_AGAIN: &str = "Log again with a lower set point by night, or with the heater off for two hours while the animal is elsewhere in the warm and has no meal inside.";

/// What the log tells and what it does not, in plain words.
pub(super) fn untold(told: &Told<'_>, answer: &mut Reckoning) {
    let (log, fitted) = (told.log, told.fitted);
    answer.untold.extend(log.notes.iter().cloned());
    let pairs = told.found.moving_together();
    let together: Vec<&str> = [
        (Parameter::WarmToRoom, "from the warm side to the room"),
        (Parameter::CoolToRoom, "from the cool side to the room"),
        (Parameter::WarmToCool, "from the warm to the cool side"),
        (Parameter::WarmCapacity, "into the warm side"),
        (Parameter::CoolCapacity, "into the cool side"),
        (Parameter::SensorLag, "into the thermometers"),
    ]
    .into_iter()
    .filter_map(|(one, way)| pairs.iter().any(|(a, b, _)| *a == one || *b == one).then_some(way))
    .collect();
    if let [first @ .., last] = together.as_slice()
        && !first.is_empty()
    {
        answer.untold.push(format!(
            "How the heat divides into the ways {} and {last}: this log tells them only together, as it holds no stretch in which one changes without the others. Temperatures, watts and cooling do not hang on it.",
            first.join(", ")
        ));
    }
    let capacity = |parameter| told.certainty.of_parameter(told.found, parameter);
    if 0.15 < capacity(Parameter::WarmCapacity).max(capacity(Parameter::CoolCapacity)) {
        answer.untold.push("How much heat each side holds: only while it cools or warms does a log tell that, and in this one it hardly does.".into());
        answer.steps.push(Step {
            at: None,
            does: LOG_AGAIN.into(),
            because: "Only while it cools does a log tell how much heat an enclosure holds.".into(),
        });
    }
    let percent = 100.0 * fitted.heater_share;
    answer.untold.push(if told.knows_share {
        format!("Which share of the heat goes to the warm side: {percent:.0} % are taken from the kind of heater, for a log cannot tell it from the ways to the room.")
    } else {
        format!("Which share of the heat goes to the warm side: {percent:.0} % are taken, as the kind of heater is not known.")
    });
    if log.heater != HeaterLogged::Watts {
        answer.untold.push(format!(
            "What the heater really draws: {:.0} W are taken from its label. Should it be another, temperatures, time on and cooling stay right, but watts and cost are off by as much; a plug meter tells.",
            fitted.watts
        ));
    }
    if log.heater == HeaterLogged::Not {
        answer.untold.push("When the heater was on: it has no thermostat, so it was taken as always on.".into());
    }
    let others = told.described.map_or(0, |described| described.heaters.len().saturating_sub(1));
    if 0 < others {
        answer.untold.push(
            "What its other heaters gave: the log has a single heater in it, so the others were taken as off. Log with them off.".into(),
        );
    }
}
