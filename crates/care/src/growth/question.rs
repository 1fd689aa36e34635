//! The question about growth: what it is likely to weigh and measure, on the ration of late or on another.

use records::fields::{Limits, Reader};
use records::{Case, Fault, Fields};

use super::energy::NoBudget;
use super::forecast::{Assumes, Growth, Point};
use super::length::{From, Lengths};
use super::prior::Z;
use super::{adult_size, past, steps};
use crate::answer::Severity;
use crate::lines;
use crate::view::{View, celsius, days, grams, number, plural};
use crate::what_if::{
    Amount, Basis, Cell, Curve, Entry, Field, Group, Guess, Known, Question, Range, Reckoning, Table, Unit, Warning,
};

/// What it asks for.
pub fn fields() -> Vec<Field> {
    vec![
        Field::new("ration", "Prey a week", Entry::Number(Unit::Grams), Group::Question)
            .hint("left open: as much as of late"),
        Field::new("mass", "Mass to reach", Entry::Number(Unit::Grams), Group::Question)
            .hint("for the date on which it is likely to weigh so much"),
    ]
}

struct Asked {
    ration_g_per_week: Option<f64>,
    mass_g: Option<f64>,
}

/// The answer.
pub fn answer(typed: &dyn Fields, known: &Known) -> Result<Reckoning, Vec<Fault>> {
    let mut reader = Reader::new(typed, &known.zone);
    let asked = Asked {
        ration_g_per_week: reader.number("ration", Limits::new(0.0, 20_000.0, "g")),
        mass_g: reader.number("mass", Limits::new(1.0, 200_000.0, "g")),
    };
    let faults = reader.finish();
    if !faults.is_empty() {
        return Err(faults);
    }
    let Some(case) = &known.animal else {
        return Err(vec![Fault::new("no animal is named", typed.place("animal"), "name one that is on record")]);
    };
    let (profile, _) = crate::assess::profile(&case.animal, &case.overrides)?;
    let view = View::new(case, &profile, known.now);
    let mut answer = Reckoning::to(Question::Growth, Basis::Direct);
    match Growth::of(&view, asked.ration_g_per_week) {
        Ok(growth) => reckon(&mut answer, &view, &growth, &asked),
        Err(refusal) => {
            answer.says.push(format!("No forecast of its mass would be honest: {}", lower(refusal.says())));
        }
    }
    earlier(&mut answer, case, &view);
    Ok(answer)
}

fn lower(text: &str) -> String {
    crate::view::small(text)
}

fn range(of: [f64; 3]) -> Range {
    let [low, mid, high] = of;
    Range { low, mid, high }
}

/// «430 g (391 to 473 g)».
fn about(of: [f64; 3]) -> String {
    let [low, mid, high] = of.map(grams);
    let bare = low.strip_suffix(" g").filter(|_| high.ends_with(" g")).unwrap_or(&low);
    format!("{mid} ({bare} to {high})")
}

fn reckon(answer: &mut Reckoning, view: &View<'_>, growth: &Growth, asked: &Asked) {
    let Some(at_90) = growth.at(90.0) else { return };
    answer.says.push(format!(
        "On {} it is likely to weigh about {}, {}",
        view.date(growth.now.plus_days(90.0)),
        about(at_90),
        lower(&growth.assumed())
    ));
    gains(answer, growth);
    reaches(answer, view, growth, asked);
    amounts(answer, growth);
    let lengths = Lengths::of(view, growth);
    match &lengths {
        Some(lengths) => length(answer, view, lengths),
        None => answer.untold.push(
            "Its length: measure it, near a weighing; its kind has no line of mass against length here.".to_owned(),
        ),
    }
    outgrows(answer, view, growth, lengths.as_ref());
    match adult_size(view, &growth.weighings) {
        Ok(size) => {
            answer.says.push(format!(
                "Its own {} run toward about {}; it is at {:.0} % of that.",
                plural(size.weighings as f64, "weighing"),
                about(size.mass_g),
                100.0 * size.share_now
            ));
            answer.amounts.push(Amount::new(
                "adult-mass",
                "mass that its curve runs toward",
                range(size.mass_g),
                Unit::Grams,
            ));
        }
        Err(why) => answer.untold.push(why.says().to_owned()),
    }
    rests_on(answer, growth);
    rations(answer, view, growth);
    weeks(answer, view, growth);
    unsure(answer, growth);
    left_out(answer, view, growth);
    answer.curves.push(curve("mass", "mass", Unit::Grams, &growth.curve));
    answer.curves.extend(lengths.iter().map(|lengths| curve("length", "length", Unit::Centimetres, &lengths.curve)));
    answer.sources.extend(growth.prior.sources.iter().cloned());
    answer.sources.extend(["energy_resting", "energy_tissue", "length_exponent"].map(lines::source));
    answer.sources.sort_by(|a, b| a.key.cmp(&b.key));
    answer.sources.dedup();
}

/// How fast it grows now.
fn gains(answer: &mut Reckoning, growth: &Growth) {
    const MONTH_D: f64 = 30.0;
    let (_, per_year) = growth.trend.growth_per_year();
    let percent = 100.0 * ((per_year * MONTH_D / crate::age::YEAR_D).exp() - 1.0);
    let word = if percent < 0.0 { "loses" } else { "gains" };
    let says = format!("Now it {word} about {} % in thirty days.", number(percent.abs()));
    answer.says.push(says);
}

/// When it weighs what was asked for.
fn reaches(answer: &mut Reckoning, view: &View<'_>, growth: &Growth, asked: &Asked) {
    let Some(mass_g) = asked.mass_g else { return };
    match steps::reaching(growth, mass_g) {
        Some(dates) => {
            let latest = match dates.latest {
                Some(latest) => format!("to {}", view.date(latest)),
                None => "or much later".to_owned(),
            };
            answer.says.push(format!(
                "It is likely to weigh {} from {} on ({} {latest}).",
                grams(mass_g),
                view.date(dates.likely),
                view.date(dates.soonest)
            ));
        }
        None if mass_g <= growth.mass_g() => answer.says.push(format!("It weighs {} already.", grams(mass_g))),
        None => answer
            .untold
            .push(format!("When it weighs {}: too far ahead to tell, or not to be reached so.", grams(mass_g))),
    }
}

fn amounts(answer: &mut Reckoning, growth: &Growth) {
    let keys = ["mass-now", "mass-30-days", "mass-60-days", "mass-90-days", "mass-180-days"];
    for (key, ahead) in keys.into_iter().zip(super::SHOWN_D) {
        let says = if ahead == 0.0 { "mass now".to_owned() } else { format!("mass in {}", days(ahead)) };
        answer.amounts.extend(growth.at(ahead).map(|at| Amount::new(key, says, range(at), Unit::Grams)));
    }
    if let Ok(budget) = &growth.budget {
        let of = |z: f64| {
            let k = (z * budget.factor.deviation).exp();
            7.0 * k * budget.maintenance_g_per_day(growth.mass_g())
        };
        let says = "prey a week that keeps its mass as it is";
        answer.amounts.push(Amount::new("maintenance-ration", says, range([-Z, 0.0, Z].map(of)), Unit::Grams));
    }
}

fn length(answer: &mut Reckoning, view: &View<'_>, lengths: &Lengths) {
    if let (Some(now), Some(later)) = (lengths.at(0.0), lengths.at(90.0)) {
        answer.amounts.push(Amount::new("length-now", "length now", range(now), Unit::Centimetres));
        answer.amounts.push(Amount::new("length-90-days", "length in 90 days", range(later), Unit::Centimetres));
    }
    let says = match lengths.from {
        From::Measured { at, length_cm, mass_g } => format!(
            "Its length is reckoned from the {length_cm:.0} cm of {}, when it weighed {}, mass rising as length to the power {}.",
            view.date(at),
            grams(mass_g),
            number(lengths.exponent)
        ),
        From::Species => {
            "Its length is reckoned from its mass by the line of its kind: a tape tells better.".to_owned()
        }
    };
    answer.says.push(says);
}

fn outgrows(answer: &mut Reckoning, view: &View<'_>, growth: &Growth, lengths: Option<&Lengths>) {
    let dates = |dates: crate::answer::DateRange| {
        format!("{} ({} to {})", view.date(dates.mid), view.date(dates.low), view.date(dates.high))
    };
    if let Some(prey) = steps::prey(view, growth) {
        answer.says.push(format!("Its prey of now is likely to be small for it from {} on.", dates(prey)));
    }
    if let Some(enclosure) = lengths.and_then(|lengths| steps::enclosure(view, growth, lengths)) {
        answer.says.push(format!("Its enclosure is likely to be short for it from {} on.", dates(enclosure)));
    }
}

/// Which models, and how much each counts.
fn rests_on(answer: &mut Reckoning, growth: &Growth) {
    let kind = if growth.prior.is_of_the_species { "its species" } else { "its family" };
    answer.says.push(format!(
        "It rests on {} over {}, meals inside taken off, and on how {kind} grows: relative growth slows toward the adult mass (Gompertz).",
        plural(growth.weighings.list.len() as f64, "weighing"),
        days(growth.weighings.span_d())
    ));
    let budget = match &growth.budget {
        Ok(budget) => budget,
        Err(why) => {
            let (says, is_grave) = no_budget(*why);
            if is_grave {
                answer.warnings.push(Warning {
                    key: "meals-missing",
                    severity: Severity::Watch,
                    says,
                    does: "Look for a meal that was not written down, or a slip of the scale.".to_owned(),
                    source: Some(lines::source("energy_gain_cannot_be")),
                    caution: None,
                });
            } else {
                answer.untold.push(says);
            }
            return;
        }
    };
    let share = |share: f64| format!("{:.0} %", 100.0 * share);
    let off = match (growth.blend.trend_off, growth.blend.energy_off) {
        (Some(trend), Some(energy)) => format!(
            "; from weighing to weighing they were {} and {} off, over {}",
            share(trend),
            share(energy),
            plural(growth.blend.compared as f64, "weighing")
        ),
        _ => String::new(),
    };
    answer.says.push(format!(
        "The trend of its weighings counts for {}, what it eats at {} for {}{off}.",
        share(1.0 - growth.blend.energy),
        celsius(budget.body_c),
        share(growth.blend.energy)
    ));
}

/// Why there is no budget, in a sentence, and whether something is wrong with the records.
fn no_budget(why: NoBudget) -> (String, bool) {
    let plain = |text: &str| (format!("By what it eats: {text}."), false);
    match why {
        NoBudget::FewMeals => plain("too few meals are on record; four over six weeks are needed"),
        NoBudget::MealsWithoutMass => plain("too many meals are on record without a mass or a class"),
        NoBudget::NoTemperature => plain("no temperature of the last two weeks is on record"),
        NoBudget::Temperature { body_c } => {
            plain(&format!("at {} the budget of energy does not serve", celsius(body_c)))
        }
        NoBudget::Light => plain("it is lighter than the animals from which the budget of energy was read"),
        NoBudget::MissingMeals { gained_g, eaten_g, days: over } => (
            format!("It gained {} in {} on {} of prey: more than can be.", grams(gained_g), days(over), grams(eaten_g)),
            true,
        ),
    }
}

/// Rations side by side.
fn rations(answer: &mut Reckoning, view: &View<'_>, growth: &Growth) {
    let Some(budget) = growth.budget_for_change(view) else { return };
    let keeps = 7.0 * budget.maintenance_g_per_day(growth.mass_g());
    let own = match growth.assumes {
        Assumes::Asked(weekly) => Some(weekly),
        Assumes::Recent(ration) => Some(ration.g_per_week()),
        Assumes::AsBefore => None,
    };
    let mut tried: Vec<(f64, String)> = vec![
        (0.5 * keeps, format!("{}, half of what keeps its mass", grams(0.5 * keeps))),
        (keeps, format!("{}, which keeps its mass", grams(keeps))),
        (2.0 * keeps, format!("{}, twice that", grams(2.0 * keeps))),
    ];
    tried.extend(own.filter(|own| 0.0 < *own).map(|own| {
        let word = if matches!(growth.assumes, Assumes::Asked(_)) { "as asked" } else { "as of late" };
        (own, format!("{}, {word}", grams(own)))
    }));
    tried.sort_by(|a, b| a.0.total_cmp(&b.0));
    let row = |(weekly, says): (f64, String)| {
        let on = Growth::of(view, Some(weekly)).ok()?;
        let at = |ahead: f64| on.at(ahead).map_or(Cell::Nothing, |at| Cell::Is(range(at), Unit::Grams));
        Some(vec![Cell::Says(says), at(90.0), at(180.0)])
    };
    answer.tables.push(Table::new(
        "rations",
        "on another ration",
        [("ration", "prey a week"), ("mass-90-days", "in 90 days"), ("mass-180-days", "in 180 days")],
        tried.into_iter().filter_map(row).collect(),
    ));
}

/// What it ate, week by week.
fn weeks(answer: &mut Reckoning, view: &View<'_>, growth: &Growth) {
    const WEEKS: usize = 8;
    if growth.intake.meals.is_empty() {
        return;
    }
    let exactly = |value: f64, unit: Unit| Cell::Is(Range::exactly(value), unit);
    let row = |(at, week): (usize, super::Ration)| {
        let from = growth.now.plus_days(-7.0 * (at + 1) as f64);
        let share = 100.0 * week.total_g / growth.mass_g();
        vec![
            Cell::Says(format!("from {}", view.date(from))),
            exactly(week.meals as f64, Unit::Number),
            exactly(week.total_g, Unit::Grams),
            exactly(share, Unit::Percent),
        ]
    };
    answer.tables.push(Table::new(
        "intake",
        "what it ate, week by week",
        [("week", "week"), ("meals", "meals"), ("prey", "prey"), ("share", "of its mass now")],
        growth.intake.weeks(growth.now, WEEKS).into_iter().enumerate().map(row).collect(),
    ));
    let missing = growth.intake.of_unknown_mass;
    if 0 < missing {
        let meals = plural(missing as f64, "meal");
        answer.untold.push(format!("{meals} of the last fourteen months without a mass or a class."));
    }
}

/// Where the spread of the forecast of 90 days comes from.
fn unsure(answer: &mut Reckoning, growth: &Growth) {
    let (Ok(budget), Assumes::Recent(ration)) = (&growth.budget, growth.assumes) else { return };
    let Some([low, _, high]) = growth.at(90.0) else { return };
    let all = ((high / low).ln() / (2.0 * Z)).powi(2);
    let (varies, mass_g) = (growth.ration_varies(90.0), growth.mass_g());
    let parts = budget.spread(mass_g, ration.g_per_day(), varies, 90.0);
    let weight = |part: f64| ((growth.blend.energy * part).powi(2) / all).min(1.0);
    let around = |middle: f64, off: f64| Range { low: middle - Z * off, mid: middle, high: middle + Z * off };
    let kelvin = lines::low("energy_body_temperature").value;
    let factor = |z: f64| (budget.factor.mean + z * budget.factor.deviation).exp();
    let gain = lines::low("energy_gain_spread");
    let weekly = ration.g_per_week();
    let guess = |key, says: &str, range, unit, part, rule: &str| Guess {
        key,
        says: says.to_owned(),
        range,
        unit,
        weight: weight(part),
        source: lines::source(rule),
        field: None,
    };
    let mut guesses = vec![
        guess(
            "body-temperature",
            "body temperature",
            around(budget.body_c, kelvin),
            Unit::Celsius,
            parts.warmth,
            "energy_body_temperature",
        ),
        guess(
            "energy-factor",
            "share of the resting rate that it spends",
            range([-Z, 0.0, Z].map(factor)),
            Unit::Number,
            parts.factor,
            "energy_factor",
        ),
        Guess {
            field: Some("ration"),
            ..guess(
                "ration",
                "prey a week in the months ahead",
                around(weekly, weekly * varies.min(1.0 / Z)),
                Unit::Grams,
                parts.ration,
                "energy_ration_varies",
            )
        },
        guess(
            "gain-per-prey",
            "how far its gain per gram of prey may lie off, in g",
            around(0.0, gain.value),
            Unit::Number,
            parts.gain,
            "energy_gain_spread",
        ),
    ];
    guesses.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    answer.guesses = guesses;
}

/// Weighings that were left out, each with its reason; the old ones together.
fn left_out(answer: &mut Reckoning, view: &View<'_>, growth: &Growth) {
    let old = growth.weighings.left_out.iter().filter(|(_, why)| *why == super::LeftOut::Old).count();
    for (record, why) in growth.weighings.left_out.iter().filter(|(_, why)| *why != super::LeftOut::Old) {
        let when = record.at.map_or(String::new(), |at| format!(" {}", view.on_date(at)));
        answer.untold.push(format!("The weighing{when} is left out: {}.", why.says()));
    }
    if 0 < old {
        let weighings = plural(old as f64, "weighing");
        answer.untold.push(format!("{weighings} are left out of the course: older than fourteen months."));
    }
}

/// How good earlier forecasts were.
fn earlier(answer: &mut Reckoning, case: &Case, view: &View<'_>) {
    let score = past::score(case, view.profile, view.now);
    let Some(says) = score.says() else { return };
    answer.says.push(says);
    let row = |one: &past::Foretold| {
        vec![
            Cell::Says(view.date(one.made.plus_days(-1.0))),
            Cell::Says(view.date(one.for_day)),
            Cell::Is(range(one.mass_g), Unit::Grams),
            Cell::Is(Range::exactly(one.weighed_g), Unit::Grams),
        ]
    };
    answer.tables.push(Table::new(
        "earlier",
        "earlier forecasts and what came",
        [("made", "made on"), ("for", "for"), ("foretold", "foretold"), ("weighed", "weighed")],
        score.list.iter().map(row).collect(),
    ));
}

fn curve(key: &'static str, says: &str, unit: Unit, points: &[Point]) -> Curve {
    /// Beyond this the curve serves dates only.
    const SHOWN_D: f64 = 180.0;
    const MINUTES_A_DAY: f64 = 1440.0;
    let point = |point: &Point| crate::what_if::Point {
        minutes: MINUTES_A_DAY * point.days,
        range: range([point.low, point.mid, point.high].map(f64::exp)),
    };
    let shown = points.iter().filter(|one| one.days <= SHOWN_D).map(point).collect();
    Curve { key, says: says.to_owned(), unit, points: shown }
}
