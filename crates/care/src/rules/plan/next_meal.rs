//! The next meal: when, and why then.

use records::facts::Outcome;
use species::Figure;
use units::Moment;

use super::round_plans;
use crate::answer::{Action, Code, Task};
use crate::draft::{Draft, Line, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::arrived;
use crate::rules::feeding::rested_from;
use crate::view::{View, number};

/// When the next meal stands.
pub const RULE: Rule = Rule {
    key: "next-meal",
    says: "The next meal stands at the middle of the stage's interval after the last one taken, never before it is digested and a day more, and not within days of a refusal.",
    because: "Regular, not hasty: a refusal is not a missed meal.",
    sources: &["feed_interval_floor", "arrival_retry", "retry_adult_constrictor", "first_meal_after_arrival"],
    check,
};

/// No handling shortly before a meal.
pub const NOT_BEFORE: Rule = Rule {
    key: "before-meal",
    says: "No handling in the 24 h before a meal that is due.",
    because: "An animal that was carried about often refuses.",
    sources: &["handle_before_meal"],
    check: not_before,
};

/// The next meal.
#[derive(Clone, Debug, PartialEq)]
pub struct NextMeal {
    /// 00:00 of its day.
    pub from: Moment,
    /// The latest day that is still usual.
    pub by: Moment,
    /// The earliest day on which it would still be right: the low end of the interval, or what else stands against it.
    pub floor: Moment,
    /// Why then.
    pub why: String,
}

/// The next meal, whatever holds it. `None` when no meal and no offer is known.
pub fn next_meal(view: &View<'_>) -> Option<NextMeal> {
    let feeding = view.feeding()?;
    let Some(last) = view.meals.last_taken.and_then(|index| view.line.meals.get(index)) else {
        return after_the_last_offer(view);
    };
    let interval = &feeding.interval_d;
    let middle = Line::middle(interval);
    let mut from = view.day_of(last.at.from.plus_days(middle.value));
    let mut why = format!(
        "Last meal on {}; {} to {} d is usual at its stage, {} in the middle",
        view.date_of(last.at),
        number(interval.low),
        number(interval.high),
        number(middle.value)
    );
    let mut floor = view.day_of(last.at.from.plus_days(interval.low));
    let digested =
        view.meals.last_eaten().and_then(|eaten| eaten.digestion_d.map(|days| eaten.at.to.plus_days(days + 1.0)));
    floor = digested.map_or(floor, |digested| floor.max(view.day_of(digested.plus_days(1.0))));
    if let Some(digested) = digested.filter(|digested| from < *digested) {
        from = view.day_of(digested.plus_days(1.0));
        why.push_str("; the last one needs longer to digest");
    }
    let by = view.day_of(last.at.from.plus_days(interval.high + 1.0)).max(from);
    let offered = view.line.meals.iter().rev().find(|meal| matches!(meal.outcome, Outcome::Refused | Outcome::Left));
    if let Some(offer) = offered.filter(|offer| last.at.from < offer.at.from) {
        let retry = Line::low(retry_d(view)?);
        let again = view.day_of(offer.at.from.plus_days(retry.value));
        floor = floor.max(again);
        if from < again {
            from = again;
            why.push_str(&format!(
                "; refused on {}, so not within {} d of that",
                view.date_of(offer.at),
                number(retry.value)
            ));
        }
    }
    let unseen = view.meals.unconfirmed.last().and_then(|index| view.line.meals.get(*index));
    if let Some(offer) = unseen.filter(|offer| last.at.from < offer.at.from) {
        let again = view.day_of(offer.at.from.plus_days(lines::low("arrival_retry").value));
        floor = floor.max(again);
        if from < again {
            from = again;
            why.push_str("; prey is gone that nobody saw eaten, so wait until that is settled");
        }
    }
    if let Some((meal, up)) = view.last_regurgitation().filter(|(meal, _)| view.days_since(meal.at) <= 90.0) {
        if let Some(rested) = rested_from(view).filter(|rested| last.at.from < up.from && from < *rested) {
            from = rested;
            floor = floor.max(rested);
            why.push_str("; a meal came up since, and the gut has rested");
        }
        let since = view.line.meals.iter().filter(|one| up.to <= one.at.from && one.was_eaten()).count();
        let gap = lines::low("feed_regurgitation_gap").value;
        let again = view.day_of(last.at.from.plus_days(gap));
        if (1..3).contains(&since) && from < again && meal.at.from < last.at.from {
            from = again;
            floor = floor.max(again);
            why.push_str(&format!("; the first three meals after a regurgitation are {gap:.0} d apart"));
        }
    }
    Some(NextMeal { from, by: by.max(from), floor, why: format!("{why}.") })
}

/// Days from a refusal to the next offer.
pub fn retry_d(view: &View<'_>) -> Option<&'static Figure> {
    let grown_constrictor = view.is_adult() && view.is_constrictor_family();
    lines::rule(if grown_constrictor { "retry_adult_constrictor" } else { "arrival_retry" })?.figure.as_ref()
}

/// Nothing that was taken is on record: again some days after the last offer, not daily.
fn after_the_last_offer(view: &View<'_>) -> Option<NextMeal> {
    let (offer, retry) = (view.line.meals.last()?, retry_d(view)?);
    let from = view.day_of(offer.at.from.plus_days(retry.low));
    let by = view.day_of(offer.at.from.plus_days(retry.high + 1.0)).max(from);
    let why = format!(
        "Nothing taken is on record; last offered on {}, and not again within {} d of that.",
        view.date_of(offer.at),
        number(retry.low)
    );
    Some(NextMeal { from, by, floor: from, why })
}

/// In a pause that is usual for it offers come at a multiple of the usual gap.
fn in_its_pause(view: &View<'_>, draft: &Draft, next: &mut NextMeal) -> Option<()> {
    draft.found(Code::RefusalRunUsual)?;
    let offer = view.meals.refusals.last().and_then(|index| view.line.meals.get(*index))?;
    let gap = lines::low("pause_gap").value * view.feeding()?.interval_d.middle();
    let again = view.day_of(offer.at.from.plus_days(gap));
    if next.from < again {
        next.from = again;
        next.by = next.by.max(again);
        next.floor = again;
        next.why.push_str(" It pauses as its kind does, so offers are fewer.");
    }
    Some(())
}

fn check(view: &View<'_>, draft: &mut Draft) {
    let mut found = next_meal(view);
    if let Some(next) = &mut found {
        in_its_pause(view, draft, next);
    }
    let held = draft.held_until(Action::OfferMeal);
    let Some(mut next) = found else {
        // No meal is known: when a hold ends that a new animal began with, the first one is to be offered.
        if let Some(Some(until)) = held.filter(|_| is_new(view)) {
            let why = "The first meal that is known here: none is on record.".to_owned();
            draft.ahead(Task::OfferMeal, RULE.key, why, view.day_of(until.plus_days(0.99)), None, Vec::new());
        } else if held.is_none() && is_new(view) {
            let why = "None is on record since it came, and the days of peace are over.".to_owned();
            draft.due(Task::OfferMeal, RULE.key, why, view.today(), None, Vec::new());
        }
        return;
    };
    let last = view.meals.last_taken.and_then(|index| view.line.meals.get(index));
    let records: Vec<_> = last.or_else(|| view.line.meals.last()).map(seen).into_iter().collect();
    match held {
        // The end of the hold is unknown: no date is promised.
        Some(None) => {}
        Some(Some(until)) => {
            if next.from < until {
                next.from = until;
                next.by = next.by.max(until);
                next.why.push_str(" Held until then.");
            }
            let floor = next.floor.max(until);
            round_plans::fit(view, &mut next, floor);
            draft.ahead(Task::OfferMeal, RULE.key, next.why, next.from, Some(next.by), records);
        }
        None => {
            let floor = next.floor;
            round_plans::fit(view, &mut next, floor);
            if next.from <= view.now {
                draft.due(Task::OfferMeal, RULE.key, next.why, next.from, Some(next.by), records);
            } else {
                draft.ahead(Task::OfferMeal, RULE.key, next.why, next.from, Some(next.by), records);
            }
        }
    }
}

/// Did it come so lately that its first meal here is to be offered? Later, meals that nobody noted are asked for.
fn is_new(view: &View<'_>) -> bool {
    let asked = lines::low("first_meal_after_arrival").value;
    arrived(view).is_some_and(|at| view.days_since(at) <= asked)
}

fn not_before(view: &View<'_>, draft: &mut Draft) {
    if draft.held_until(Action::OfferMeal).is_some() {
        return;
    }
    let meal = draft
        .due
        .iter()
        .chain(&draft.ahead)
        .find(|due| due.task == Task::OfferMeal)
        .map(|due| (due.from, due.records.clone()));
    let Some((from, records)) = meal else { return };
    let before = lines::low("handle_before_meal").value;
    let starts = from.plus_hours(-before);
    if starts <= view.now {
        let why = format!(
            "A meal is due{}: an animal in peace eats better.",
            if view.now < from { format!(" on {}", view.date(from)) } else { String::new() }
        );
        draft.hold_open(
            Action::Handle,
            Strength::Plan,
            NOT_BEFORE.key,
            why,
            starts,
            "the meal has been offered",
            records,
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};

    fn adult_corn(at: &str, lines: &str) -> crate::Answer {
        answer(&format!("at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{lines}"))
    }
    const FED: &str = "[[meal]]\nat = \"2027-05-01\"\noutcome = \"taken\"\n";

    #[test]
    fn it_is_due_from_midnight_of_the_middle_day() {
        // corn snake, adult: 10 to 18 d, 14 in the middle
        for (at, due) in [("2027-05-14T23:59", false), ("2027-05-15T00:00", true)] {
            let answer = adult_corn(at, FED);
            assert_eq!(answer.due(Task::OfferMeal).is_some(), due, "{at}");
            let planned = answer.due.iter().chain(&answer.ahead).find(|one| one.task == Task::OfferMeal).unwrap();
            assert_eq!(planned.from, moment("2027-05-15T00:00"));
        }
    }

    #[test]
    fn a_refusal_is_not_a_missed_meal() {
        let refused = format!("{FED}[[meal]]\nat = \"2027-05-16\"\noutcome = \"refused\"\n");
        for (at, due) in [("2027-05-20T23:00", false), ("2027-05-21T00:00", true)] {
            assert_eq!(
                adult_corn(at, &refused).due(Task::OfferMeal).is_some(),
                due,
                "{at}: five days after the refusal"
            );
        }
    }

    #[test]
    fn a_meal_that_nobody_saw_eaten_is_not_counted() {
        let unseen = format!("{FED}[[meal]]\nat = \"2027-05-16\"\noutcome = \"unseen\"\n");
        assert!(
            adult_corn("2027-05-22T12:00", &unseen).due(Task::OfferMeal).is_some(),
            "due from the last certain meal"
        );
    }

    #[test]
    fn handling_waits_for_the_meal() {
        for (at, held) in [("2027-05-13T23:00", false), ("2027-05-14T00:00", true), ("2027-05-15T20:00", true)] {
            assert_eq!(adult_corn(at, FED).hold(Action::Handle).is_some(), held, "{at}");
        }
    }

    #[test]
    fn no_date_is_promised_while_a_hold_is_open() {
        let answer = adult_corn("2027-05-20T12:00", &format!("{FED}[[shed]]\nblue_at = \"2027-05-19\"\n"));
        assert!(answer.due(Task::OfferMeal).is_none() && answer.ahead.iter().all(|one| one.task != Task::OfferMeal));
    }

    #[test]
    fn the_facts_of_the_trade_hold_in_the_ordinary_case() {
        // Interval between meals, common practice: hatchling 5 d, juvenile and adult 7 d, old adult 10 d. The profile
        // wins where it says otherwise; no profile offers a hatchling less often than every two weeks.
        let fact = species::library().trade_fact("meal-interval").unwrap();
        let days: Vec<(&str, f64)> =
            fact.groups.iter().map(|one| (one.group.as_str(), one.figure.as_ref().unwrap().low)).collect();
        assert_eq!(days, [("hatchling", 5.0), ("juvenile", 7.0), ("adult", 7.0), ("aged", 10.0)]);
        let hatchling = species::library().profile("corn_snake").unwrap().feeding.hatchling.as_ref().unwrap();
        assert!((5.0..=7.0).contains(&hatchling.interval_d.middle()), "{}", hatchling.interval_d.middle());
    }

    #[test]
    fn where_nothing_was_ever_taken_the_last_offer_counts() {
        let refused = "[[meal]]\nat = \"2027-05-16\"\noutcome = \"refused\"\n";
        for (at, due) in [("2027-05-20T23:00", false), ("2027-05-21T00:00", true)] {
            let answer = adult_corn(at, refused);
            assert_eq!(answer.due(Task::OfferMeal).is_some(), due, "{at}");
            assert_ne!(answer.ahead.iter().any(|one| one.task == Task::OfferMeal), due, "{at}");
        }
    }

    #[test]
    fn a_new_animal_is_offered_its_first_meal_and_of_an_old_one_it_is_asked() {
        // came on 1 May: seven days of peace after that day, then thirty days in which the first meal is due
        for (at, due) in [
            ("2027-05-08T23:00", false),
            ("2027-05-09T00:00", true),
            ("2027-05-31T23:00", true),
            ("2027-06-01T12:00", false),
        ] {
            let text = format!(
                "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\narrived = \"2027-05-01\"\n"
            );
            assert_eq!(answer(&text).due(Task::OfferMeal).is_some(), due, "{at}");
        }
    }

    #[test]
    fn after_one_that_came_up_the_next_is_due_when_the_gut_has_rested() {
        let up = format!(
            "{FED}[[meal]]\nat = \"2027-05-15T20:00\"\noutcome = \"regurgitated\"\nregurgitated_at = \"2027-05-17T06:00\"\n"
        );
        for (at, due) in [("2027-05-31T05:59", false), ("2027-05-31T06:00", true)] {
            assert_eq!(
                adult_corn(at, &up).due(Task::OfferMeal).map(|due| due.from),
                due.then(|| moment("2027-05-31T06:00")),
                "{at}"
            );
        }
    }
}
