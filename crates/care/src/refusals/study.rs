//! What the records say of its refusals.

use species::Figure;

use super::loss::LossBy;
use super::{Chance, Judged, Loss, Offers, Run, Verdict, checks, loss, run};
use crate::answer::{Action, Answer, Code, SourceRef, Task};
use crate::lines;
use crate::study::{Study, source_list, warnings};
use crate::view::{View, days, month, number, plural};
use crate::what_if::{Amount, Basis, Cell, Checked, Dated, Guess, Range, Reckoning, Step, Table, Unit};

/// The study.
pub fn study(view: &View<'_>, answer: &Answer) -> Reckoning {
    const CODES: [Code; 9] = [
        Code::RefusalRunUnusual,
        Code::RefusalRunUsual,
        Code::FastLong,
        Code::MealOverdue,
        Code::HatchlingNotStarted,
        Code::MassLossVet,
        Code::MassLossWatch,
        Code::RefeedGently,
        Code::MealUnconfirmed,
    ];
    let offers = Offers::of(view);
    let run = Run::of(view, &offers);
    let chance = Chance::of(view, &offers);
    let cost = loss(view);
    let looked = checks(view, answer, &offers);
    let mut to = Reckoning::to(Study::Refusals, Basis::Direct);
    to.says.push(the_run(view, &offers, run.as_ref()));
    if let Some(run) = &run {
        to.says.extend(for_the_animal(run));
        to.says.push(for_the_month(view, run));
        to.says.push(for_the_species(view));
    }
    to.warnings = warnings(answer, &CODES);
    next_offer(&mut to, view, answer, &chance);
    run_in_numbers(&mut to, run.as_ref());
    match &cost {
        Ok(cost) => fast(&mut to, view, cost),
        Err(none) => to.untold.push(none.says().to_owned()),
    }
    to.steps = steps(view, answer, &looked);
    to.checks = looked.into_iter().map(shown).collect();
    to.tables.push(after_refusals(&offers));
    to.tables.extend(by_month(view, &offers));
    let prior = run::prior();
    to.guesses.push(Guess {
        key: "chance-before-its-records",
        says: "how often an offer is taken, before its own records tell".to_owned(),
        range: Range {
            low: 100.0 * (1.0 - prior.quantile(0.9)),
            mid: 100.0 * (1.0 - prior.mean()),
            high: 100.0 * (1.0 - prior.quantile(0.1)),
        },
        unit: Unit::Percent,
        weight: (prior.a + prior.b) / (prior.a + prior.b + offers.0.len() as f64),
        source: lines::source("offer_taken_prior"),
        field: None,
    });
    to.cautions = vec!["no-force-feeding"];
    let of_loss = cost.ok().map(|cost| cost.source);
    let alert = view.refusal_alert_d().map(SourceRef::of);
    to.sources = source_list(
        [lines::source("offer_taken_prior"), lines::source("refusal_unusual"), lines::source("refusal_needs_mass")]
            .into_iter()
            .chain(of_loss)
            .chain(alert),
    );
    to
}

fn the_run(view: &View<'_>, offers: &Offers, run: Option<&Run>) -> String {
    let (all, refused) = (offers.0.len(), offers.0.iter().filter(|offer| !offer.taken).count());
    let Some(run) = run else {
        return match all {
            0 => "No offer is on record.".to_owned(),
            _ => format!(
                "The last offer was taken; of {} on record, {} refused.",
                plural(all as f64, "offer"),
                were(refused)
            ),
        };
    };
    let last = view.meals.last_taken.and_then(|index| view.line.meals.get(index));
    let since = last.map_or("no meal is on record".to_owned(), |meal| {
        format!("the last meal was taken on {}, {} ago", view.date_of(meal.at), days(view.days_since(meal.at)))
    });
    let count = if run.length == 1 {
        "The last offer was refused".to_owned()
    } else {
        format!("The last {} offers were refused", run.length)
    };
    let line = lines::high("refusal_unusual").value;
    let verdict = match &run.animal {
        None => "too few offers before it are on record to tell whether that is unusual".to_owned(),
        Some(judged) => {
            let chance = percent(judged.in_a_year_pct);
            let held = format!("a year of its offers holds so long a run with a chance of {chance}");
            if run.is_unusual(line) {
                format!("unusual for this animal: {held}")
            } else if judged.in_a_year_pct < line {
                format!("by its own offers it would be unusual ({held}), but the season or an earlier run explains it")
            } else {
                format!("not unusual for this animal: {held}")
            }
        }
    };
    format!("{count}; {since}; {verdict}.")
}

fn percent(value: f64) -> String {
    if value < 1.0 { "under 1 %".to_owned() } else { format!("{value:.0} %") }
}

fn were(count: usize) -> String {
    match count {
        0 => "none was".to_owned(),
        1 => "one was".to_owned(),
        more => format!("{more} were"),
    }
}

fn against(judged: &Judged, what: &str) -> String {
    format!("of {} {what}, {} refused", plural(judged.offers as f64, "offer"), were(judged.refused))
}

fn for_the_animal(run: &Run) -> Vec<String> {
    let mut says = Vec::new();
    let longest = run.longest_before.map(|(length, _)| format!("its longest run before was {length}"));
    if let Some(judged) = &run.animal {
        let longest = longest.map_or(String::new(), |longest| format!("; {longest}"));
        says.push(format!("This animal: {}{longest}.", against(judged, "before")));
    }
    const LUCK_PCT: f64 = 5.0;
    if run.clustered_pct.is_some_and(|percent| percent < LUCK_PCT) {
        says.push("Its refusals come in runs, more than luck would have it: a chance reckoned offer by offer makes a run look rarer than it is.".to_owned());
    }
    says
}

fn for_the_month(view: &View<'_>, run: &Run) -> String {
    let now = month(view.zone.date(view.now).month());
    match &run.month {
        Some(judged) => format!(
            "This month: {}; the next {} would all be refused with a chance of {}.",
            against(judged, &format!("round {now} in earlier years")),
            run.length,
            percent(judged.next_pct)
        ),
        None => format!("This month: too few offers round {now} of earlier years are on record."),
    }
}

fn for_the_species(view: &View<'_>) -> String {
    let fasting = &view.profile.fasting;
    let season = if crate::season::in_season(view) {
        format!("its kind is known to pause now ({})", fasting.season)
    } else if fasting.seasons.is_empty() {
        "no season is known in which its kind pauses".to_owned()
    } else {
        format!("its kind pauses at another time ({})", fasting.season)
    };
    let typical = fasting.typical_d.first().map_or(String::new(), |typical: &Figure| {
        format!("; a pause of {} to {} days is usual for it", number(typical.low), number(typical.high))
    });
    let alert = view
        .refusal_alert_d()
        .map_or(String::new(), |alert| format!("; outside that {} without a meal ask for a look", days(alert.low)));
    format!("This species: {season}{typical}{alert}.")
}

/// Units of a chance from 0 to 1 in %.
fn in_percent(middle: f64, [low, high]: [f64; 2]) -> Range {
    Range { low: 100.0 * low, mid: 100.0 * middle, high: 100.0 * high }
}

fn next_offer(to: &mut Reckoning, view: &View<'_>, answer: &Answer, chance: &Chance) {
    let planned = answer.due.iter().chain(&answer.ahead).find(|due| due.task == Task::OfferMeal);
    let open = answer.hold(Action::OfferMeal).is_some_and(|hold| hold.until.is_none());
    if let Some(planned) = planned.filter(|_| !open) {
        let at = planned.from.max(view.now);
        let (middle, between) = chance.taken_between(view, at, 0);
        let range = in_percent(middle, between);
        to.says.push(format!(
            "The next offer, on {}, is taken with a chance of {:.0} % ({:.0} to {:.0}).",
            view.date(at),
            range.mid,
            range.low,
            range.high
        ));
        to.amounts.push(Amount::new("next-offer-taken", "chance that the next offer is taken", range, Unit::Percent));
        let (middle, between) = chance.taken_between(view, at, 1);
        to.amounts.push(Amount::new(
            "offer-after-that-taken",
            "chance that the one after it is taken, if that is refused too",
            in_percent(middle, between),
            Unit::Percent,
        ));
    }
    if let Some(range) = answer.forecasts.next_meal {
        to.dates.push(Dated { key: "next-meal", says: "the next meal likely taken".to_owned(), range });
    }
}

fn run_in_numbers(to: &mut Reckoning, run: Option<&Run>) {
    let Some(run) = run else { return };
    let of = |key, says: &str, value: f64, unit| Amount::new(key, says, Range::exactly(value), unit);
    to.amounts.push(of("refused-in-a-row", "offers refused in a row", run.length as f64, Unit::Number));
    if let Some(judged) = &run.animal {
        let says = "chance that a year of its offers holds so long a run";
        to.amounts.push(of("run-in-a-year", says, judged.in_a_year_pct, Unit::Percent));
    }
    if let Some(judged) = &run.month {
        let says = "chance that so many offers in a row are refused at this time of the year";
        to.amounts.push(of("run-at-this-time", says, judged.next_pct, Unit::Percent));
    }
}

fn fast(to: &mut Reckoning, view: &View<'_>, cost: &Loss) {
    to.amounts.push(Amount::new("loss-a-day", "mass it is expected to lose a day", cost.pct_d, Unit::Percent));
    to.amounts.push(Amount::new(
        "loss-so-far",
        "expected to be lost since the fast began",
        cost.so_far_pct,
        Unit::Percent,
    ));
    if let Some(weighed) = cost.weighed_pct {
        let says = "lost by the scale, against its best of the last year";
        to.amounts.push(Amount::new("loss-weighed", says, Range::exactly(weighed.max(0.0)), Unit::Percent));
    }
    match cost.days_to_tenth {
        Some(range) => {
            to.amounts.push(Amount::new("days-to-a-tenth", "until a tenth is lost, at this rate", range, Unit::Days));
        }
        None if cost.weighed_pct.is_some_and(|lost| lines::low("weight_loss_vet").value <= lost) => {
            to.untold.push("A tenth is lost already: call a reptile veterinarian.".to_owned());
        }
        None => to.untold.push("When a tenth would be lost: its own weighings do not fall for certain.".to_owned()),
    }
    let by = match &cost.by {
        LossBy::OwnWeighings(count) => format!("its own {} of the fast", plural(*count as f64, "weighing")),
        LossBy::ItsSpecies(_) => "fasting animals of its species".to_owned(),
        LossBy::AllSpecies => {
            "a rat snake, a ball python and a rattlesnake, whose rates lie apart by three times".to_owned()
        }
    };
    to.says.push(format!(
        "By {by} it loses {} % a day ({} to {}), counted from {}.",
        rate(cost.pct_d.mid),
        rate(cost.pct_d.low),
        rate(cost.pct_d.high),
        view.date(cost.begins)
    ));
    if let Some((degrees, is_assumed)) = cost.body_c.filter(|_| !matches!(cost.by, LossBy::OwnWeighings(_))) {
        let off = lines::low("energy_body_temperature");
        let off_c = if is_assumed { 2.0 * off.value } else { off.value };
        let says = if is_assumed {
            "body temperature: nothing was read, so the profile's"
        } else {
            "body temperature from the readings"
        };
        to.guesses.push(Guess {
            key: "body-temperature",
            says: says.to_owned(),
            range: Range { low: degrees - off_c, mid: degrees, high: degrees + off_c },
            unit: Unit::Celsius,
            weight: if is_assumed { 0.3 } else { 0.1 },
            source: off.source,
            field: None,
        });
    }
}

/// A small rate to two digits.
fn rate(value: f64) -> String {
    if value < 0.1 { format!("{value:.3}") } else { format!("{value:.2}") }
}

fn shown(check: super::Check) -> Checked {
    Checked {
        key: check.key,
        asks: check.asks.to_owned(),
        verdict: check.verdict.says(),
        stands_out: check.verdict != Verdict::Clear,
        says: check.says,
        does: check.does,
        source: check.source,
    }
}

/// One thing at a time: measure what is not known, change the first that may be why, then offer, then call.
fn steps(view: &View<'_>, answer: &Answer, looked: &[super::Check]) -> Vec<Step> {
    let mut steps = Vec::new();
    if view.meals.refusals.is_empty() {
        return steps;
    }
    if let Some(first) = looked.iter().find(|one| one.verdict == Verdict::MayBeWhy)
        && let Some(does) = &first.does
    {
        steps.push(Step {
            at: None,
            does: does.clone(),
            because: "One thing at a time: of two that were changed nobody learns which it was.".to_owned(),
        });
    }
    let unknown: Vec<&str> =
        looked.iter().filter(|one| one.verdict == Verdict::NotKnown).filter_map(|one| one.does.as_deref()).collect();
    if let Some(first) = unknown.first() {
        steps.push(Step { at: None, does: (*first).to_owned(), because: "It is not on record.".to_owned() });
    }
    let planned = answer.due.iter().chain(&answer.ahead).find(|due| due.task == Task::OfferMeal);
    if let Some(planned) = planned {
        let at = planned.from.max(view.now);
        steps.push(Step { at: None, does: format!("Offer again on {}.", view.date(at)), because: planned.why.clone() });
    }
    let (watch, vet) = (lines::low("weight_loss_watch"), lines::low("weight_loss_vet"));
    steps.push(Step {
        at: None,
        does: format!("Weigh it every week; from {} % lighter on call a reptile veterinarian.", number(vet.value)),
        because: format!("Up to {} % it may wait.", number(watch.value)),
    });
    steps
}

fn after_refusals(offers: &Offers) -> Table {
    let rows = Chance::after_refusals(offers).into_iter().map(|step| {
        let what = match step.refused {
            0 => "a meal taken".to_owned(),
            1 => "one refusal".to_owned(),
            2 => "two refusals".to_owned(),
            _ => "three or more".to_owned(),
        };
        let [low, high] = step.between_pct;
        vec![
            Cell::Says(what),
            Cell::Is(Range::exactly(step.offers as f64), Unit::Number),
            Cell::Is(Range::exactly(step.taken as f64), Unit::Number),
            Cell::Is(Range { low, mid: step.chance_pct, high }, Unit::Percent),
        ]
    });
    Table::new(
        "after-refusals",
        "how often an offer was taken, by what came before it",
        [
            ("after", "after"),
            ("offers", "offers"),
            ("taken", "taken"),
            ("chance", "chance, drawn toward all its offers"),
        ],
        rows.collect(),
    )
}

/// Offers by month; only with a year of them.
fn by_month(view: &View<'_>, offers: &Offers) -> Option<Table> {
    let first = offers.0.first()?;
    if view.days_since(first.at) < lines::group("refusal_season_own", "records over at least").value {
        return None;
    }
    let rows = (1..=12i8).filter_map(|number| {
        let of: Vec<_> = offers.0.iter().filter(|offer| offer.month == number).collect();
        let refused = of.iter().filter(|offer| !offer.taken).count();
        (!of.is_empty()).then(|| {
            vec![
                Cell::Says(month(number).to_owned()),
                Cell::Is(Range::exactly(of.len() as f64), Unit::Number),
                Cell::Is(Range::exactly(refused as f64), Unit::Number),
            ]
        })
    });
    Some(Table::new(
        "by-month",
        "offers and refusals by month, all years together",
        [("month", "month"), ("offers", "offers"), ("refused", "refused")],
        rows.collect(),
    ))
}
