//! What to do on a feeding evening, in order.

use records::facts::Thawing as Way;
use units::Moment;

use super::assumed::Assumed;
use super::schedule::Worked;
use super::timetable::{Planned, Timetable};
use crate::lines;
use crate::view::{celsius, number};
use crate::what_if::Step;

/// All steps, those with a clock time in its order, what closes the evening last.
pub(super) fn of(made: &Timetable, all: &[Worked], assumed: &Assumed) -> Vec<Step> {
    let is_straight = super::course::is_straight(made.way);
    let mut steps = Vec::new();
    if !is_straight {
        steps.extend(together(made, |one| one.take_out).map(|(at, lots)| take_out(at, &lots, made.way, assumed)));
    }
    steps.extend(together(made, |one| one.bath_from).map(|(at, lots)| bath(at, &lots, made, assumed)));
    steps.extend(together(made, |one| one.bath_until).map(|(at, lots)| {
        let waits = all.iter().map(|one| one.course.offer_s).fold(0.0, f64::max) / 60.0;
        Step {
            at: Some(at),
            does: format!("Take {lots} out of the bath and pat dry with paper."),
            because: format!(
                "The surface comes down while the warmth evens out; at most {waits:.0} minutes until the offering."
            ),
        }
    }));
    steps.push(offer(made));
    let closing = together(made, |one| one.offer_until.unwrap_or(one.discard_by));
    steps.extend(closing.filter(|(at, _)| made.feed_at < *at).map(|(at, lots)| Step {
        at: Some(at),
        does: format!("Offer {lots} no later than now."),
        because: format!(
            "Below {} at the surface it is taken less readily.",
            celsius(lines::low("prey_surface_temp").value)
        ),
    }));
    steps.extend(together(made, |one| one.discard_by).map(|(at, lots)| Step {
        at: Some(at),
        does: format!("Bin what is left of {lots}; never freeze it again."),
        because: "Bacteria have had their time, and nothing here is cooked.".to_owned(),
    }));
    steps.sort_by_key(|step| step.at);
    steps.push(Step {
        at: None,
        does: "Wash the bowl, the tongs, the surfaces and your hands with soap.".to_owned(),
        because: "Freezing does not make prey clean; its bowl and its place are never those of human food.".to_owned(),
    });
    steps
}

/// Lots that have the same time, in words, by that time.
fn together(made: &Timetable, at: impl Fn(&Planned) -> Moment) -> impl Iterator<Item = (Moment, String)> {
    let mut times: Vec<(Moment, Vec<String>)> = Vec::new();
    for one in &made.planned {
        match times.iter_mut().find(|(there, _)| *there == at(one)) {
            Some((_, lots)) => lots.push(one.lot.says()),
            None => times.push((at(one), vec![one.lot.says()])),
        }
    }
    times.into_iter().map(|(at, lots)| (at, listed(&lots)))
}

/// «a», «a and b», «a, b and c».
pub(super) fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

fn take_out(at: Moment, lots: &str, way: Way, assumed: &Assumed) -> Step {
    let around = celsius(assumed.around(way).0.range.mid);
    let (does, because) = match way {
        Way::CoolWater => (
            format!("Take {lots} out of the freezer and into cool water of {around}, {}.", wrapped(assumed)),
            format!("Fresh cool water every {} minutes keeps it going.", number(lines::low("thaw_water").value)),
        ),
        Way::Room => (
            format!("Take {lots} out of the freezer, side by side on a rack in a closed box, away from food."),
            "No longer than it needs: the outside is warm long before the core.".to_owned(),
        ),
        _ => (
            format!(
                "Take {lots} out of the freezer and into the refrigerator, side by side in a closed box at the bottom."
            ),
            format!("Away from human food; best a refrigerator of its own, at {around} or colder."),
        ),
    };
    Step { at: Some(at), does, because }
}

fn wrapped(assumed: &Assumed) -> &'static str {
    if assumed.is_bagged { "in a bag with the air pressed out" } else { "without a bag" }
}

fn bath(at: Moment, lots: &str, made: &Timetable, assumed: &Assumed) -> Step {
    let from = if super::course::is_straight(made.way) {
        format!("Take {lots} out of the freezer and straight")
    } else {
        format!("Feel belly and head of {lots}: no hard core left. Then")
    };
    Step {
        at: Some(at),
        does: format!(
            "{from} into the warm bath, {} l of water at {} by the thermometer, {}.",
            number(made.water_l),
            celsius(assumed.water_c.range.mid),
            wrapped(assumed)
        ),
        because: format!(
            "Warm through, not hot outside; never over {}.",
            celsius(lines::low("prey_surface_max").value)
        ),
    }
}

fn offer(made: &Timetable) -> Step {
    let (low, high) = (lines::low("prey_surface_temp"), lines::high("prey_surface_temp"));
    let lots: Vec<String> = made.planned.iter().map(|one| one.lot.says()).collect();
    Step {
        at: Some(made.feed_at),
        does: format!("Offer {} on long tongs.", listed(&lots)),
        because: format!(
            "The surface is at {} to {}; check it, and feel once more that nothing inside is cold.",
            number(low.value),
            celsius(high.value)
        ),
    }
}
