//! What a log does not tell, and reasons not to believe a fit.

use records::import::HeaterLogged;
use science::physics::calibration::Doubt;

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
    let waves = lines::high("twin_fit_waves").value;
    let doubts = told.found.doubts();
    let follows = doubts.iter().any(|doubt| matches!(doubt, Doubt::Autocorrelation(_)));
    let rms_k = told.found.rms_k;
    if doubts.iter().any(|doubt| matches!(doubt, Doubt::Rms(_))) || (follows && waves < rms_k) {
        answer.warnings.push(warning(
            "fit-poor",
            Severity::Watch,
            format!("The model is {rms_k:.1} K off on average, more than a thermometer is: it is not kept."),
            "Look whether a thermometer was moved, a door stood open or the sun came in, and whether the enclosure is as it is on record; then log again.",
        ));
    } else if follows {
        answer.warnings.push(warning(
            "fit-follows",
            Severity::Note,
            "What is left over comes in waves: something slow is not in the model, so its ranges are wider.".into(),
            "Look at the curve of what is left over; a door, the sun or a second heater show in it.",
        ));
    }
    let most = lines::high("twin_fit_unsure").value;
    let certainty = told.certainty;
    let unsure: Vec<&str> =
        [(certainty.warm.max(certainty.cool), "how far it warms"), (certainty.time, "how fast it cools")]
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
    // Of the factors: ways to the room, flows inside, heat that is held.
    let moves_with = |first, second| told.found.correlation(first, second).is_some_and(|one| 0.95 < one.abs());
    if moves_with(0, 1) {
        answer.untold.push(
            "What goes to the room and what goes from side to side, each by itself: in this log both change together."
                .into(),
        );
    }
    if moves_with(0, 2) || 0.15 < told.certainty.time {
        answer.untold.push("How much heat it holds: only while it cools or warms does a log tell that, and in this one it hardly does.".into());
        answer.steps.push(Step {
            at: None,
            does: LOG_AGAIN.into(),
            because: "Only while it cools does a log tell how much heat an enclosure holds.".into(),
        });
    }
    answer.untold.push("How much of the heat leaves with the air: temperatures tell only the whole. Humidity logged after a misting would tell the air.".into());
    answer.untold.push("How warm surfaces get: a log of the air tells how far the enclosure warms, not how much hotter the spot under the heater is.".into());
    let percent = 100.0 * fitted.heater_share;
    answer.untold.push(format!("Which share of the heat goes to the warm side: {percent:.0} % are taken from the kind of heater, for a log cannot tell it from the ways to the room."));
    if log.heater != HeaterLogged::Watts {
        answer.untold.push(format!(
            "What the heater really draws: {:.0} W are taken from its label. Should it be another, temperatures, time on and cooling stay right, but watts and cost are off by as much; a plug meter tells.",
            fitted.watts
        ));
    }
    if log.heater == HeaterLogged::Not {
        answer.untold.push("When the heater was on: it has no thermostat, so it was taken as always on.".into());
    }
    let others = told.described.heaters.len().saturating_sub(1);
    if 0 < others {
        answer.untold.push(
            "What its other heaters gave: the log has a single heater in it, so the others were taken as off. Log with them off.".into(),
        );
    }
}
