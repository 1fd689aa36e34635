//! What the records say of its ration.

use science::statistics::normal;

use super::schools::rule_of_thumb_g_week;
use super::{Fed, Needs, School, schools};
use crate::answer::{Answer, Code, SourceRef};
use crate::digestion::prey_mass_g;
use crate::growth::Intake;
use crate::lines;
use crate::rules::prey::names;
use crate::study::{Study, source_list, warnings};
use crate::view::{View, grams, number, plural};
use crate::what_if::{Amount, Basis, Cell, Guess, Range, Reckoning, Table, Unit};

/// One item of prey, as it is mostly given.
struct Item {
    mass_g: f64,
    name: String,
}

/// The study.
pub fn study(view: &View<'_>, answer: &Answer) -> Reckoning {
    const CODES: [Code; 8] = [
        Code::RationHigh,
        Code::RationLow,
        Code::PreyLarge,
        Code::PreySmall,
        Code::PreyStepUp,
        Code::ConditionHeavy,
        Code::ConditionThin,
        Code::RefeedGently,
    ];
    let intake = Intake::of(view);
    let fed = Fed::of(view, &intake);
    let item = item(view, answer);
    let mut to = Reckoning::to(Study::Ration, Basis::Direct);
    let needs = Needs::of(view, &intake);
    match &needs {
        Ok(needs) => {
            hold(&mut to, needs, item.as_ref());
            what_it_eats(&mut to, view, needs, fed.as_ref());
            beyond(&mut to, view, needs);
            to.tables.push(rations(view, needs, fed.as_ref(), item.as_ref()));
            to.tables.extend(in_prey(answer, needs));
            guesses(&mut to, needs);
        }
        Err(none) => {
            to.says.push(none.says());
            to.untold.push(none.says());
            if let Some(fed) = &fed {
                to.says.push(format!("{}.", fed_in_words(fed, None)));
            }
        }
    }
    to.tables.extend(meals(view));
    to.warnings = warnings(answer, &CODES);
    let body_g = view.masses.last().and_then(|last| last.empty_g);
    let plans = schools(view, body_g);
    to.tables.push(side_by_side(&plans, needs.as_ref().ok(), body_g));
    if fed.is_none() {
        to.untold.push(
            "What it was fed of late: four meals with their mass, over two months or more, would tell.".to_owned(),
        );
    }
    let of_plans = plans.into_iter().map(|plan| plan.source);
    to.sources = source_list(
        [lines::source("energy_factor"), lines::source("energy_net"), lines::source("ration_gains")]
            .into_iter()
            .chain(of_plans),
    );
    to
}

/// What it was given last, else what fits.
fn item(view: &View<'_>, answer: &Answer) -> Option<Item> {
    let last = view.meals.eaten.iter().rev().filter(|eaten| eaten.stayed);
    let meal = last.filter_map(|eaten| view.line.meals.get(eaten.index)).find(|meal| prey_mass_g(meal).is_some());
    if let Some(meal) = meal {
        let (total, _) = prey_mass_g(meal)?;
        let mass_g = total / f64::from(meal.count.max(1));
        let name = meal.prey.map_or("piece of prey".to_owned(), |prey| names(prey).0.to_owned());
        return Some(Item { mass_g, name: format!("{name} of {}", grams(mass_g)) });
    }
    let (low, high) = answer.prey.as_ref()?.mass_g?;
    let mass_g = f64::midpoint(low, high);
    Some(Item { mass_g, name: format!("meal of {}", grams(mass_g)) })
}

fn whole(range: Range) -> String {
    let round = |value: f64| if value < 10.0 { format!("{value:.1}") } else { format!("{value:.0}") };
    format!("{} g ({} to {})", round(range.mid), round(range.low), round(range.high))
}

/// With its article.
fn one(name: &str) -> String {
    let an = name.starts_with(['a', 'e', 'i', 'o']);
    format!("{} {name}", if an { "an" } else { "a" })
}

fn hold(to: &mut Reckoning, needs: &Needs, item: Option<&Item>) {
    let ration = needs.maintenance();
    let prey = item.map_or(String::new(), |item| {
        let days = needs.lasts_d(item.mass_g);
        format!(": {} every {:.0} days ({:.0} to {:.0})", one(&item.name), days.mid, days.low, days.high)
    });
    let warm = if needs.warmth_is_assumed { ", as its profile has it," } else { "" };
    to.says.push(format!(
        "To hold its {} at a body temperature of {} °C{warm} it needs {} of prey a week{prey}.",
        grams(needs.body_g),
        number(needs.body_c.round()),
        whole(ration)
    ));
    to.amounts.push(Amount::new("maintenance", "prey that holds its mass", ration, Unit::GramsPerWeek));
    to.amounts.push(Amount::new(
        "maintenance-energy",
        "energy that holds its mass",
        needs.kj_day(),
        Unit::KilojoulesPerDay,
    ));
    let pct = |g: f64| 100.0 * g / needs.body_g;
    let share = Range { low: pct(ration.low), mid: pct(ration.mid), high: pct(ration.high) };
    to.amounts.push(Amount::new("maintenance-share", "that is, of its own mass a week", share, Unit::Percent));
    if let Some(item) = item {
        let says = format!("for which {} holds its mass", one(&item.name));
        to.amounts.push(Amount::new("one-item-lasts", says, needs.lasts_d(item.mass_g), Unit::Days));
    }
}

fn fed_in_words(fed: &Fed, needs: Option<&Needs>) -> String {
    let share =
        needs.map_or(String::new(), |needs| format!(", {} % of its mass", number(100.0 * fed.g_week / needs.body_g)));
    format!(
        "It was fed {:.0} g a week{share} ({} in {:.0} days)",
        fed.g_week,
        plural(fed.meals as f64, "meal"),
        fed.days
    )
}

fn what_it_eats(to: &mut Reckoning, view: &View<'_>, needs: &Needs, fed: Option<&Fed>) {
    let Some(fed) = fed else { return };
    let gain = needs.gain_on(fed.g_week);
    let scale = super::fed::gained_g_week(view, fed.days);
    let change = |g: f64| {
        let size = number((g.abs() * 10.0).round() / 10.0);
        if g < -0.05 { format!("{size} g lost") } else { format!("{size} g gained") }
    };
    let by_scale = scale.map_or(String::new(), |gained| format!("; by the scale {} a week", change(gained)));
    to.says.push(format!(
        "{}: {} a week by the budget (from {} to {}){by_scale}.",
        fed_in_words(fed, Some(needs)),
        change(gain.mid),
        change(gain.low),
        change(gain.high)
    ));
    let of = |key, says: &str, range| Amount::new(key, says, range, Unit::GramsPerWeek);
    to.amounts.push(of("fed", "prey it was fed of late", Range::exactly(fed.g_week)));
    to.amounts.push(Amount::new(
        "fed-energy",
        "energy that leaves it after digestion",
        Range::exactly(fed.g_week * needs.budget.net_kj_per_g / 7.0),
        Unit::KilojoulesPerDay,
    ));
    to.amounts.push(of("gain", "gain that this gives by the budget", gain));
    if let Some(gained) = scale {
        to.amounts.push(of("gain-by-scale", "gain by the scale", Range::exactly(gained)));
    }
}

/// Growth for the young, fattening for the grown.
fn beyond(to: &mut Reckoning, view: &View<'_>, needs: &Needs) {
    let ration = needs.maintenance();
    if view.is_adult() {
        to.says.push(format!(
            "It is grown: what it eats beyond that is laid down; from {:.0} g a week on it is fattened in nine cases of ten.",
            ration.high
        ));
        return;
    }
    let share = lines::low("ration_growth_share").value;
    let gain = needs.body_g * share / 100.0;
    let growth = needs.for_gain(gain);
    to.says.push(format!(
        "It is still growing: for a gain of {} % a week ({} g) it needs {} of prey a week.",
        number(share),
        number(gain),
        whole(growth)
    ));
}

/// The last meals: what was offered, its share of the body, what it brings, and what became of it.
fn meals(view: &View<'_>) -> Option<Table> {
    const LISTED: usize = 12;
    let rodent = lines::low("energy_net").value;
    let row = |(index, meal): (usize, &records::Entry<records::facts::Meal>)| {
        let eaten = view.meals.eaten.iter().find(|eaten| eaten.index == index);
        let mass = prey_mass_g(meal).map(|(mass, _)| mass);
        let body_g = view.masses.list.iter().rev().find(|one| one.at <= meal.at.to).and_then(|one| one.empty_g);
        let share = eaten.and_then(|eaten| eaten.share_pct).or_else(|| Some(100.0 * mass? / body_g?));
        let net = meal.prey.and_then(|prey| lines::whole_of_group("energy_net", records::choice::Choice::key(prey)));
        let kj = mass.filter(|_| eaten.is_some_and(|eaten| eaten.stayed));
        let kj = kj.map(|mass| mass * net.map_or(rodent, species::Figure::middle));
        let number =
            |value: Option<f64>, unit| value.map_or(Cell::Nothing, |value| Cell::Is(Range::exactly(value), unit));
        vec![
            Cell::Says(view.date(meal.at.from)),
            Cell::Says(meal.prey.map_or("prey".to_owned(), |prey| {
                let (one, many) = names(prey);
                if meal.count == 1 { one.to_owned() } else { format!("{} {many}", meal.count) }
            })),
            number(mass, Unit::Grams),
            number(share, Unit::Percent),
            number(kj, Unit::Kilojoules),
            Cell::Says(records::choice::Choice::key(meal.outcome).to_owned()),
        ]
    };
    let rows: Vec<Vec<Cell>> = view.line.meals.iter().enumerate().rev().take(LISTED).map(row).collect();
    (!rows.is_empty()).then(|| {
        Table::new(
            "meals",
            "its last meals, the latest first",
            [
                ("at", "on"),
                ("prey", "prey"),
                ("mass", "mass"),
                ("share", "of its body"),
                ("energy", "left after digestion"),
                ("outcome", "what became of it"),
            ],
            rows,
        )
    })
}

/// Rations of this animal from the least to the most.
fn rations(view: &View<'_>, needs: &Needs, fed: Option<&Fed>, item: Option<&Item>) -> Table {
    let row = |what: String, range: Range| {
        let pct = |g: f64| 100.0 * g / needs.body_g;
        let every = item.map(|item| {
            let days = |g: f64| 7.0 * item.mass_g / g;
            Range { low: days(range.high), mid: days(range.mid), high: days(range.low) }
        });
        vec![
            Cell::Says(what),
            Cell::Is(range, Unit::GramsPerWeek),
            Cell::Is(Range { low: pct(range.low), mid: pct(range.mid), high: pct(range.high) }, Unit::Percent),
            every.map_or(Cell::Nothing, |days| Cell::Is(days, Unit::Days)),
        ]
    };
    let mut rows = vec![row("holds its mass".to_owned(), needs.maintenance())];
    let shares = lines::whole("ration_growth_share").map_or((f64::NAN, f64::NAN), |figure| (figure.low, figure.high));
    if view.is_adult() {
        // A tenth in a year is much for a grown animal.
        let gain = needs.body_g * 0.1 / 52.0;
        rows.push(row("gains a tenth in a year".to_owned(), needs.for_gain(gain)));
        rows.push(row("fattens it, nine cases of ten: from".to_owned(), Range::exactly(needs.maintenance().high)));
    } else {
        for share in [shares.0, f64::midpoint(shares.0, shares.1), shares.1] {
            let gain = needs.body_g * share / 100.0;
            rows.push(row(format!("grows {} % a week", number(share)), needs.for_gain(gain)));
        }
    }
    if let Some(fed) = fed {
        rows.push(row("as it was fed of late".to_owned(), Range::exactly(fed.g_week)));
    }
    let every = item.map_or("every".to_owned(), |item| format!("{} every", one(&item.name)));
    Table::new(
        "rations",
        "rations of this animal",
        [("what", "what it does"), ("ration", "prey"), ("share", "of its mass a week"), ("every", &every)],
        rows,
    )
}

/// For each class of prey that fits, how often one holds its mass.
fn in_prey(answer: &Answer, needs: &Needs) -> Option<Table> {
    let library = species::library();
    let rows: Vec<Vec<Cell>> = answer
        .prey
        .as_ref()?
        .classes
        .iter()
        .filter_map(|class| {
            let figure = library.prey_class(records::choice::Choice::key(*class))?.mass_g.as_ref()?;
            Some(vec![
                Cell::Says(names(*class).0.to_owned()),
                Cell::Is(Range { low: figure.low, mid: figure.middle(), high: figure.high }, Unit::Grams),
                Cell::Is(needs.lasts_d(figure.middle()), Unit::Days),
            ])
        })
        .collect();
    (!rows.is_empty()).then(|| {
        Table::new(
            "in-prey",
            "how long one of them holds its mass",
            [("prey", "prey that fits"), ("mass", "mass of one"), ("lasts", "lasts")],
            rows,
        )
    })
}

/// The schools that disagree.
fn side_by_side(plans: &[School], needs: Option<&Needs>, body_g: Option<f64>) -> Table {
    let ends = |ends: Option<(f64, f64)>, unit: Unit| {
        ends.map_or(Cell::Nothing, |(low, high)| Cell::Is(Range { low, mid: f64::midpoint(low, high), high }, unit))
    };
    let from = |source: &SourceRef| format!("{} ({})", source.key, source.status.key().replace('-', " "));
    let mut rows: Vec<Vec<Cell>> = plans
        .iter()
        .map(|plan| {
            let used = if plan.is_used { ", gone by here" } else { "" };
            vec![
                Cell::Says(format!("{}{used}", plan.stage)),
                ends(plan.every_d, Unit::Days),
                ends(plan.share_pct, Unit::Percent),
                ends(plan.g_week, Unit::GramsPerWeek),
                Cell::Says(from(&plan.source)),
            ]
        })
        .collect();
    if let Some(needs) = needs {
        rows.push(vec![
            Cell::Says("energy budget: holds its mass".to_owned()),
            Cell::Nothing,
            Cell::Nothing,
            Cell::Is(needs.maintenance(), Unit::GramsPerWeek),
            Cell::Says(from(&lines::source("energy_factor"))),
        ]);
    }
    if let Some(body_g) = body_g {
        rows.push(vec![
            Cell::Says("rule of thumb, 10 kcal a day for 1 kg".to_owned()),
            Cell::Nothing,
            Cell::Nothing,
            Cell::Is(Range::exactly(rule_of_thumb_g_week(body_g)), Unit::GramsPerWeek),
            Cell::Says(from(&lines::source("energy_smr"))),
        ]);
    }
    Table::new(
        "schools",
        "schools that do not agree",
        [
            ("who", "for whom"),
            ("every", "a meal every"),
            ("share", "of body mass"),
            ("ration", "comes to"),
            ("from", "from"),
        ],
        rows,
    )
}

fn guesses(to: &mut Reckoning, needs: &Needs) {
    let (factor, warmth) = (needs.spread.factor.powi(2), needs.spread.warmth.powi(2));
    let all = (factor + warmth).max(f64::MIN_POSITIVE);
    let z = normal::quantile(0.9);
    let mid = needs.budget.factor.mean.exp();
    let far = (z * needs.spread.factor).exp();
    let own = if needs.is_its_own() { ", drawn toward its own weighings and meals" } else { "" };
    to.guesses.push(Guess {
        key: "factor",
        says: format!("energy it uses against a resting snake of its mass{own}"),
        range: Range { low: mid / far, mid, high: mid * far },
        unit: Unit::Number,
        weight: factor / all,
        source: lines::source("energy_factor"),
        field: None,
    });
    let kelvin = z * lines::low("energy_body_temperature").value * if needs.warmth_is_assumed { 2.0 } else { 1.0 };
    let from = if needs.warmth_is_assumed { "as its profile has it: nothing was read" } else { "from the readings" };
    to.guesses.push(Guess {
        key: "body-temperature",
        says: format!("its body temperature, {from}"),
        range: Range { low: needs.body_c - kelvin, mid: needs.body_c, high: needs.body_c + kelvin },
        unit: Unit::Celsius,
        weight: warmth / all,
        source: lines::source("energy_body_temperature"),
        field: None,
    });
}
