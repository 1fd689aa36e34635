//! The answer in words, numbers, curves and a table.

use records::facts::Thawing as Way;
use units::Moment;

use super::course::Course;
use super::schedule::{self, Worked};
use super::spread::{self, Spread};
use super::steps::listed;
use super::timetable::{self, Planned, Timetable, When};
use super::typed::{Asked, way_says};
use super::warnings::{self, Plan};
use super::words::{clock, half_degrees, lasting, lasting_about};
use crate::lines;
use crate::view::{capital, celsius, number};
use crate::what_if::{Amount, Basis, Cell, Curve, Known, Limit, Point, Question, Range, Reckoning, Table, Unit};

/// Cautions that belong to every answer.
const CAUTIONS: [&str; 2] = ["prey-handling", "hygiene"];
/// General rules whose sources the answer names.
const RESTS_ON: [&str; 6] =
    ["prey_surface_temp", "thaw_water", "thaw_growth", "thaw_room_max", "thawed_fridge_max", "uneaten_remove"];

/// The answer; `None` where the prey never thaws.
pub(super) fn answer(mut asked: Asked, known: &Known) -> Option<Reckoning> {
    let mut to = Reckoning::to(Question::Thaw, Basis::Direct);
    to.cautions = CAUTIONS.to_vec();
    for rule in RESTS_ON {
        let source = lines::source(rule);
        if !to.sources.contains(&source) {
            to.sources.push(source);
        }
    }
    if let Some(warning) = warnings::refrozen(&asked) {
        to.says.push("Do not feed it: it was thawed once before.".to_owned());
        to.warnings.push(warning);
        return Some(to);
    }
    // Hot water and the microwave are never planned for: a safe way stands in their place.
    let way = asked.way.filter(|way| !matches!(way, Way::HotWater | Way::Microwave));
    let told = asked.assumed.water_c;
    if warnings::is_hot(&asked) {
        asked.assumed.water_c = super::Taken::told_or(None, "thaw_bath");
    }
    let when = When { now: known.now, feed_at: asked.feed_at, zone: &known.zone };
    let (made, all) = timetable::worked(&asked.lots, &when, &asked.assumed, way)?;
    let spreads: Vec<Spread> = all.iter().map(spread::of).collect::<Option<_>>()?;
    to.says = says(&made, &all, &spreads, known);
    let (largest, spread) = largest(&all, &spreads)?;
    to.amounts = amounts(&made, largest, spread);
    to.curves = curves(largest);
    to.limits = limits();
    to.tables = vec![table(&made, &all, &spreads, known)];
    to.untold = vec![
        "Whether the core of this one is warm: nothing but a hand on belly and head, or a probe, can tell.".to_owned(),
    ];
    to.guesses.clone_from(&spread.guesses);
    asked.assumed.water_c = told;
    to.warnings = warnings::of(&Plan { asked: &asked, made: &made, all: &all, spreads: &spreads, known });
    for caution in to.warnings.iter().filter_map(|one| one.caution) {
        if !to.cautions.contains(&caution) {
            to.cautions.push(caution);
        }
    }
    to.steps = made.steps;
    Some(to)
}

fn largest<'a>(all: &'a [Worked], spreads: &'a [Spread]) -> Option<(&'a Worked, &'a Spread)> {
    all.iter().zip(spreads).max_by(|(a, _), (b, _)| a.lot.mass_g.mid.total_cmp(&b.lot.mass_g.mid))
}

fn says(made: &Timetable, all: &[Worked], spreads: &[Spread], known: &Known) -> Vec<String> {
    let at = |moment: Moment| clock(moment, known.now, &known.zone);
    let Some((one, spread)) = largest(all, spreads) else { return Vec::new() };
    let Some(clock) = made.planned.iter().find(|planned| planned.lot == one.lot) else { return Vec::new() };
    let what = one.lot.says();
    let mut says = vec![if super::course::is_straight(made.way) {
        format!(
            "Take {what} out of the freezer and straight into the warm bath at {} for {}: thawed in {}.",
            at(clock.take_out),
            lasting_about(spread.needed_s),
            lasting_about(spread.thawed_s)
        )
    } else {
        format!(
            "Take {what} out of the freezer at {} for a feeding at {}: {} it thaws in {}, and the warm bath takes {}.",
            at(clock.take_out),
            at(made.feed_at),
            way_says(made.way),
            lasting_about(spread.thawed_s),
            lasting_about(spread.needed_s)
        )
    }];
    let (low, high) = (lines::low("prey_surface_temp").value, lines::high("prey_surface_temp").value);
    let offered = format!(
        "When it is offered its surface is at about {}, its core at {} ({} to {})",
        half_degrees(spread.surface_c.mid),
        half_degrees(spread.core_c.mid),
        number((spread.core_c.low * 2.0).round() / 2.0),
        number((spread.core_c.high * 2.0).round() / 2.0)
    );
    let coolest = celsius(low);
    let stays = if spread.window_s.mid.is_infinite() {
        format!("in this room the surface does not fall below {coolest}")
    } else if spread.window_s.mid < 60.0 {
        format!("that is too cool, {coolest} is wanted")
    } else {
        format!("the surface stays above {coolest} for {}", lasting_about(spread.window_s))
    };
    says.push(format!("{offered}; {stays}."));
    if made.planned.len() > 1 {
        let order: Vec<String> =
            made.planned.iter().map(|planned| format!("{} at {}", planned.lot.says(), at(planned.take_out))).collect();
        says.push(format!("Out of the freezer, in this order: {}.", listed(&order)));
    }
    if let Some(earliest) = clock.earliest_out {
        says.push(format!(
            "It may come out earlier, from {} on: thawed prey keeps {} hours in the refrigerator.",
            at(earliest),
            number(lines::low("thawed_fridge_max").value)
        ));
    }
    says.push(format!(
        "What is left is binned at {}; {} to {} is what the surface should show when it is offered.",
        at(clock.discard_by),
        number(low),
        celsius(high)
    ));
    says.iter().map(|one| capital(one)).collect()
}

fn scaled(range: Range, by: f64) -> Range {
    Range { low: range.low * by, mid: range.mid * by, high: range.high * by }
}

fn amounts(made: &Timetable, one: &Worked, spread: &Spread) -> Vec<Amount> {
    const MINUTE: f64 = 1.0 / 60.0;
    const HOUR: f64 = 1.0 / 3600.0;
    let course = &one.course;
    let (from, to) = (lines::low("thaw_growth_from").value, lines::high("prey_surface_temp").value);
    let spent = |over: f64, up_to: f64| {
        Range::exactly(schedule::spent_s(&course.history, course.at_offer.s, over, up_to) * MINUTE)
    };
    let (fine, limit) = (lines::low("thaw_growth").value, lines::high("thaw_growth").value);
    let mut amounts = vec![
        Amount::new(
            "take-out-ahead",
            "out of the freezer before the offering",
            scaled(spread.ahead_s, HOUR),
            Unit::Hours,
        ),
        Amount::new("core-thawed-after", "core at 0 °C after", scaled(spread.thawed_s, HOUR), Unit::Hours),
        Amount::new("bath-minutes", "in the warm bath", scaled(spread.needed_s, MINUTE), Unit::Minutes),
        Amount::new("bath-litres", "water in the warm bath, for all", Range::exactly(made.water_l), Unit::Litres),
        Amount::new("core-at-offering", "core when it is offered", spread.core_c, Unit::Celsius),
        Amount::new("surface-at-offering", "surface when it is offered", spread.surface_c, Unit::Celsius),
        Amount::new(
            "window-minutes",
            format!(
                "from the offering until the surface falls below {}",
                celsius(lines::low("prey_surface_temp").value)
            ),
            scaled(spread.window_s, MINUTE),
            Unit::Minutes,
        ),
        Amount::new(
            "minutes-over-5",
            format!("surface between {} and {} before it is offered", number(from), celsius(to)),
            spent(from, to),
            Unit::Minutes,
        ),
        Amount::new(
            "minutes-over-32",
            format!("surface over {} before it is offered", celsius(to)),
            spent(to, f64::INFINITY),
            Unit::Minutes,
        ),
        Amount::new(
            "growth",
            format!(
                "growth at the surface until then, powers of ten: fine up to {}, discarded over {}",
                number(fine),
                number(limit)
            ),
            spread.growth,
            Unit::Log10,
        ),
    ];
    if let Some(planned) = made.planned.iter().find(|planned| planned.lot == one.lot) {
        let hours = planned.discard_by.hours_since(made.feed_at);
        amounts.push(Amount::new("discard-after", "binned after the offering", Range::exactly(hours), Unit::Hours));
    }
    amounts
}

/// Surface, core and medium of a lot, a point for every few minutes.
fn curves(one: &Worked) -> Vec<Curve> {
    let course: &Course = &one.course;
    let medium = match one.frame.way {
        Way::Fridge => "refrigerator, bath, room",
        Way::CoolWater => "cool water, bath, room",
        Way::Room => "room, bath, room",
        _ => "bath, room",
    };
    let what = one.lot.says();
    let curve = |key, says: String, of: fn(&super::course::At) -> f64| Curve {
        key,
        says,
        unit: Unit::Celsius,
        points: course
            .history
            .iter()
            .enumerate()
            .filter(|(index, at)| at.s <= course.at_offer.s + 3600.0 && (index % 2 == 0 || *index < course.before_bath))
            .map(|(_, at)| Point { minutes: at.s / 60.0, range: Range::exactly(of(at)) })
            .collect(),
    };
    vec![
        curve("surface", format!("surface of {what}"), |at| at.surface),
        curve("core", format!("core of {what}"), |at| at.core),
        curve("medium", medium.to_owned(), |at| at.medium),
    ]
}

fn limits() -> Vec<Limit> {
    let limit =
        |says: &str, line: crate::draft::Line| Limit { says: says.to_owned(), value: line.value, source: line.source };
    vec![
        limit("coolest surface to offer", lines::low("prey_surface_temp")),
        limit("warmest surface to offer", lines::high("prey_surface_temp")),
        limit("bacteria grow from here", lines::low("thaw_growth_from")),
    ]
}

fn table(made: &Timetable, all: &[Worked], spreads: &[Spread], known: &Known) -> Table {
    let at = |moment: Moment| Cell::Says(clock(moment, known.now, &known.zone));
    let row = |planned: &Planned| {
        let (one, spread) = all.iter().zip(spreads).find(|(one, _)| one.lot == planned.lot)?;
        Some(vec![
            Cell::Says(planned.lot.says()),
            at(planned.take_out),
            Cell::Is(scaled(spread.thawed_s, 1.0 / 3600.0), Unit::Hours),
            at(planned.bath_from),
            Cell::Says(lasting(one.course.bath_s)),
            Cell::Is(spread.core_c, Unit::Celsius),
            Cell::Is(spread.surface_c, Unit::Celsius),
            Cell::Is(scaled(spread.window_s, 1.0 / 60.0), Unit::Minutes),
            Cell::Is(spread.growth, Unit::Log10),
            at(planned.discard_by),
        ])
    };
    Table::new(
        "evening",
        format!("Prey for {}", clock(made.feed_at, known.now, &known.zone)),
        [
            ("prey", "prey"),
            ("take-out", "out of the freezer"),
            ("thawed-after", "core at 0 °C after"),
            ("bath-from", "into the bath"),
            ("bath", "in the bath"),
            ("core", "core when offered"),
            ("surface", "surface when offered"),
            ("window", "warm enough for"),
            ("growth", "growth"),
            ("discard", "binned at"),
        ],
        made.planned.iter().filter_map(row).collect(),
    )
}
