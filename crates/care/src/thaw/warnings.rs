//! What must not be overlooked when prey is thawed.

use records::facts::Thawing as Way;
use units::Moment;

use super::course::{is_straight, target_c};
use super::schedule::{self, Worked};
use super::spread::Spread;
use super::timetable::{self, Timetable, When};
use super::typed::{Asked, way_says};
use super::words::{clock, half_degrees, lasting, lasting_about};
use crate::answer::{Severity, SourceRef};
use crate::draft::Line;
use crate::lines;
use crate::view::{capital, celsius, grams, number, times};
use crate::what_if::{Known, Warning};

/// What was planned, for the warnings about it.
pub(super) struct Plan<'a> {
    pub asked: &'a Asked,
    pub made: &'a Timetable,
    pub all: &'a [Worked],
    pub spreads: &'a [Spread],
    pub known: &'a Known,
}

fn warning(key: &'static str, severity: Severity, says: String, does: String, source: SourceRef) -> Warning {
    Warning { key, severity, says, does, source: Some(source), caution: None }
}

impl Warning {
    fn with_caution(self, caution: &'static str) -> Warning {
        Warning { caution: Some(caution), ..self }
    }
}

/// All that stand, the gravest first.
pub(super) fn of(plan: &Plan<'_>) -> Vec<Warning> {
    let mut found: Vec<Warning> = [
        refrozen(plan.asked),
        microwave(plan.asked),
        hot_water(plan.asked),
        growth(plan),
        warm_too_long(plan),
        too_late(plan),
        room_thawing(plan),
        fridge_warm(plan),
        over_night(plan),
        bath_hot(plan.asked),
        bath_cool(plan),
        bath_small(plan),
        stacked(plan),
    ]
    .into_iter()
    .flatten()
    .collect();
    found.sort_by_key(|one| std::cmp::Reverse(one.severity));
    found
}

/// Thawed once before: nothing is planned for it.
pub(super) fn refrozen(asked: &Asked) -> Option<Warning> {
    asked.is_refrozen.then(|| {
        let says = "Prey that was thawed once and frozen again is not fit to be fed: what grew in it is still there.";
        let does = "Bin it, and thaw fresh prey.";
        warning("refrozen", Severity::Act, says.into(), does.into(), lines::source("no_refreeze"))
            .with_caution("prey-handling")
    })
}

fn microwave(asked: &Asked) -> Option<Warning> {
    (asked.way == Some(Way::Microwave)).then(|| {
        let says = "A microwave makes scalding spots beside a frozen core, and the body bursts.";
        let does = "Leave it out; the times here are for a safe way.";
        warning("microwave", Severity::Act, says.into(), does.into(), lines::source("thaw_no_microwave"))
            .with_caution("prey-hot")
    })
}

/// The bath as it was told is hot water.
pub(super) fn is_hot(asked: &Asked) -> bool {
    asked.assumed.water_c.is_told && lines::low("thaw_bath_hot").value <= asked.assumed.water_c.range.mid
}

fn hot_water(asked: &Asked) -> Option<Warning> {
    let line = lines::low("thaw_bath_hot");
    (asked.way == Some(Way::HotWater) || is_hot(asked)).then(|| {
        let says = format!(
            "Water of {} or more cooks the outside while the core is still cold, and scalds hands.",
            celsius(line.value)
        );
        let usual = celsius(
            lines::rule("thaw_bath").and_then(|rule| rule.figure.as_ref()).map_or(f64::NAN, species::Figure::middle),
        );
        let does = format!("Mix it down to {usual} by the thermometer; the times here are for that.");
        warning("hot-water", Severity::Act, says, does, line.source).with_caution("hot-water")
    })
}

fn bath_hot(asked: &Asked) -> Option<Warning> {
    let line = lines::high("prey_surface_max");
    let water = asked.assumed.water_c;
    (water.is_told && line.value < water.range.mid && !is_hot(asked)).then(|| {
        let says = format!(
            "In water of {} the surface comes out hotter than {}.",
            celsius(water.range.mid),
            celsius(line.value)
        );
        let does = "Let it cool until the surface is right, by the thermometer, before it is offered.";
        warning("bath-too-hot", Severity::Watch, says, does.into(), line.source).with_caution("prey-hot")
    })
}

fn bath_cool(plan: &Plan<'_>) -> Option<Warning> {
    let line = lines::high("prey_surface_temp");
    let setting = plan.all.first()?.setting;
    (target_c(&setting) < line.value).then(|| {
        let says =
            format!("A bath of {} cannot bring the surface to {}.", celsius(setting.water_c), celsius(line.value));
        let usual = lines::low("thaw_bath");
        let does = format!("Draw it at {} or a little more.", celsius(usual.value));
        warning("bath-too-cool", Severity::Watch, says, does, line.source)
    })
}

fn bath_small(plan: &Plan<'_>) -> Option<Warning> {
    let line = lines::high("prey_surface_temp");
    let litres = plan.asked.assumed.water_l?;
    let coldest = plan.all.iter().map(|one| one.course.after_bath).min_by(|a, b| a.mean.total_cmp(&b.mean))?;
    let enough = schedule::litres_needed(&plan.asked.lots, &plan.asked.assumed, plan.made.way)?;
    (coldest.mean < line.value && litres < enough).then(|| {
        let says = format!(
            "{} l of water are too little: they cool to {}, and the prey comes out at {}.",
            number(litres),
            half_degrees(coldest.medium),
            half_degrees(coldest.mean)
        );
        let does = format!("Take {} l, or change the water for fresh warm water once.", number(enough));
        warning("bath-too-small", Severity::Watch, says, does, line.source)
    })
}

fn room_thawing(plan: &Plan<'_>) -> Option<Warning> {
    let line = lines::group("thaw_room_max", "room thawing, heaviest prey");
    let heaviest = plan.asked.lots.iter().map(|lot| lot.mass_g.mid).fold(0.0, f64::max);
    (plan.made.way == Way::Room && line.value < heaviest).then(|| {
        let says = format!(
            "Prey of {} is too large to thaw in room air; up to {} it may do.",
            grams(heaviest),
            grams(line.value)
        );
        let does = "Take the refrigerator, or cool water in a bag: its outside spoils before the core has thawed.";
        warning("room-thawing", Severity::Act, says, does.into(), line.source).with_caution("prey-handling")
    })
}

fn growth(plan: &Plan<'_>) -> Option<Warning> {
    let (fine, limit) = (lines::low("thaw_growth"), lines::high("thaw_growth"));
    let worst = plan.spreads.iter().map(|one| one.growth.mid).fold(0.0, f64::max);
    let (severity, line, does): (Severity, Line, &str) = if limit.value < worst {
        (Severity::Act, limit, "Do not feed what was thawed like this; take a way that keeps the outside cold.")
    } else if fine.value < worst {
        (Severity::Note, fine, "Offer it at once and keep nothing of it.")
    } else {
        return None;
    };
    let says = format!(
        "Until the offering bacteria at the surface can grow {}-fold; the line is {}-fold.",
        number(10f64.powf(worst)),
        number(10f64.powf(line.value))
    );
    Some(warning("growth", severity, says, does.into(), line.source).with_caution("prey-handling"))
}

fn warm_too_long(plan: &Plan<'_>) -> Option<Warning> {
    let (cool, warm) =
        (lines::group("thaw_room_max", "surface 5-32 C"), lines::group("thaw_room_max", "surface above 32 C"));
    let (from, to) = (lines::low("thaw_growth_from").value, lines::high("prey_surface_temp").value);
    let longest = |over: f64, up_to: f64| {
        let spent = |one: &Worked| schedule::spent_s(&one.course.history, one.course.at_offer.s, over, up_to);
        plan.all.iter().map(spent).fold(0.0, f64::max)
    };
    let (in_cool, in_warm) = (longest(from, to), longest(to, f64::INFINITY));
    let (spent, line, where_) = if warm.value * 3600.0 < in_warm {
        (in_warm, warm, format!("over {}", celsius(to)))
    } else if cool.value * 3600.0 < in_cool {
        (in_cool, cool, format!("between {} and {}", number(from), celsius(to)))
    } else {
        return None;
    };
    let says = format!(
        "Its surface is {where_} for {} before it is offered; {} is the limit.",
        lasting(spent),
        lasting(line.value * 3600.0)
    );
    let does = "Thaw it in the refrigerator first, and keep the bath short.";
    Some(warning("warm-too-long", Severity::Watch, says, does.into(), line.source).with_caution("prey-handling"))
}

fn fridge_warm(plan: &Plan<'_>) -> Option<Warning> {
    let line = lines::low("thaw_fridge_warmest");
    let fridge = plan.asked.assumed.fridge_c;
    (plan.made.way == Way::Fridge && fridge.is_told && line.value < fridge.range.mid).then(|| {
        let says = format!(
            "A refrigerator at {} is too warm to keep prey: {} is the limit.",
            celsius(fridge.range.mid),
            celsius(line.value)
        );
        let does = "Set it colder before prey lies in it overnight.";
        warning("fridge-too-warm", Severity::Watch, says, does.into(), line.source).with_caution("prey-handling")
    })
}

fn over_night(plan: &Plan<'_>) -> Option<Warning> {
    let line = lines::low("thaw_night");
    let (slowest, spread) =
        plan.all.iter().zip(plan.spreads).max_by(|(a, _), (b, _)| a.surely_thawed_s.total_cmp(&b.surely_thawed_s))?;
    (plan.made.way == Way::Fridge && line.value * 3600.0 < slowest.surely_thawed_s).then(|| {
        let says = format!(
            "A night in the refrigerator is not enough for {}: {}.",
            slowest.lot.says(),
            lasting_about(spread.thawed_s)
        );
        let does = "Take it out a day ahead, as the steps say, or finish it in cool water.";
        warning("longer-than-a-night", Severity::Note, says, does.into(), line.source)
    })
}

fn too_late(plan: &Plan<'_>) -> Option<Warning> {
    let (made, asked, known) = (plan.made, plan.asked, plan.known);
    (made.asked_for < made.feed_at).then(|| {
        let at = |moment: Moment| clock(moment, known.now, &known.zone);
        let says = format!(
            "For {} it is too late {}: begun now, it is ready at {}.",
            at(made.asked_for),
            way_says(made.way),
            at(made.feed_at)
        );
        let does = match faster(asked, made, known.now) {
            Some((way, start)) => {
                format!("{} there is time: out of the freezer at {}.", capital(way_says(way)), at(start))
            }
            None => match sooner(asked, made, known) {
                Some(ready) => {
                    format!("{}, begun now, it is ready at {}.", capital(way_says(Way::CoolWater)), at(ready))
                }
                None => "Feed then, or tomorrow; hurry heats the outside and leaves the core cold.".to_owned(),
            },
        };
        warning("too-late", Severity::Watch, says, does, lines::source("thaw_water"))
    })
}

/// A faster way that is in time, with its start; straight into the warm bath only where nothing grows.
fn faster(asked: &Asked, made: &Timetable, now: Moment) -> Option<(Way, Moment)> {
    let ways = [Way::CoolWater, Way::WarmWater].into_iter().filter(|way| *way != made.way && !is_straight(made.way));
    ways.into_iter().find_map(|way| {
        let all = timetable::work_out_all(&asked.lots, &asked.assumed, way)?;
        let start = timetable::latest_start(&all, made.asked_for);
        let grown = |one: &Worked| schedule::growth(&one.course.history, one.course.at_offer.s);
        let fine = lines::low("thaw_growth").value;
        let is_safe = !is_straight(way) || all.iter().all(|one| grown(one) <= fine);
        (now <= start && is_safe).then_some((way, start))
    })
}

/// When cool water, begun now, has it ready; `None` where that is no sooner.
fn sooner(asked: &Asked, made: &Timetable, known: &Known) -> Option<Moment> {
    let when = When { now: known.now, feed_at: made.asked_for, zone: &known.zone };
    let (cool, _) = timetable::worked(&asked.lots, &when, &asked.assumed, Some(Way::CoolWater))?;
    (cool.feed_at < made.feed_at).then_some(cool.feed_at)
}

fn stacked(plan: &Plan<'_>) -> Option<Warning> {
    let factor = plan.all.iter().map(|one| one.frame.stack).fold(1.0, f64::max);
    (1.0 < factor).then(|| {
        let says = format!("Pieces that lie on each other thaw as one body: it takes {} times as long.", times(factor));
        let does = "Lay them side by side, with air or water between them.";
        warning("stacked", Severity::Note, says, does.into(), lines::source("thaw_shape"))
    })
}
