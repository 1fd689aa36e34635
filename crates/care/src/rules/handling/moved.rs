//! Lifted out or carried off with a meal inside.

use records::facts::{CleaningTask, Outcome, PlannedWhat};
use units::When;

use super::peace_h;
use crate::answer::{Code, Evidence, Finding, Severity};
use crate::draft::{Draft, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::view::{View, number};

/// A full clean, a journey or a new enclosure soon after a meal.
pub const RULE: Rule = Rule {
    key: "moved-soon-after-meal",
    says: "A full clean, a journey or a move to another enclosure while a meal lies inside is spoken of for a week; it is for acting on when the meal came up.",
    because: "Being lifted out with a meal inside is as bad as being handled.",
    sources: &["handling_after_meal", "handling_after_large_meal", "handled_lately"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) || draft.found(Code::HandledDuringHold).is_some() {
        return;
    }
    let cleans = view
        .line
        .cleanings
        .iter()
        .filter(|one| one.task == CleaningTask::Full)
        .map(|one| (one.at, "The full clean", seen(one)));
    let moves = view.line.planned.iter().filter_map(|plan| {
        let what = match plan.what {
            PlannedWhat::Transport => "The journey",
            PlannedWhat::MovingHouse => "The move of house",
            PlannedWhat::EnclosureChange => "The move to another enclosure",
            _ => return None,
        };
        (plan.from.from <= view.now).then(|| (plan.from, what, seen(plan)))
    });
    let since = view.now.plus_days(-lines::low("handled_lately").value);
    let latest = cleans
        .chain(moves)
        .filter(|(at, _, _)| since < at.to)
        .filter_map(|(at, what, record)| Some((at, what, record, inside(view, at)?)));
    let Some((at, what, record, meal)) = latest.max_by_key(|(at, ..)| *at) else { return };
    let came_up = meal.up.is_some();
    let mut says = format!(
        "{what} on {} came {} h after a meal; {} h of peace were wanted",
        view.date_of(at),
        number(meal.so_far.floor()),
        number(meal.hours.ceil())
    );
    if let Some(up) = meal.up {
        says.push_str(&format!(", and the meal came up on {}", view.date_of(up)));
    }
    says.push('.');
    let severity = if came_up { Severity::Act } else { Severity::Watch };
    let does = "Leave it in peace now, watch for the meal coming up, and do the next full clean the day before a meal.";
    let line = lines::low("handling_after_meal").with(meal.hours);
    draft.find(
        Finding::new(Code::MovedSoonAfterMeal, severity, RULE.key, says, does).on([record, meal.record]).by(&line, "h"),
    );
}

struct Inside {
    hours: f64,
    so_far: f64,
    up: Option<When>,
    record: Evidence,
}

/// The meal that lay inside at that time, where both are known well enough to tell which came first.
fn inside(view: &View<'_>, at: When) -> Option<Inside> {
    let eaten = view.meals.eaten.iter().rev().find(|eaten| eaten.at.to <= at.from)?;
    let hours = peace_h(eaten);
    let meal = view.line.meals.get(eaten.index)?;
    let up = meal.regurgitated_at.filter(|_| meal.outcome == Outcome::Regurgitated);
    let still = at.from < eaten.at.to.plus_hours(hours) && up.is_none_or(|up| at.from <= up.from);
    still.then(|| Inside { hours, so_far: at.from.hours_since(eaten.at.to), up, record: seen(meal) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn told(rest: &str) -> Option<Severity> {
        let text = format!(
            "at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[meal]]\nat = \"2027-06-08T18:00\"\noutcome = \"taken\"\n{rest}"
        );
        answer(&text).finding(Code::MovedSoonAfterMeal).map(|found| found.severity)
    }

    #[test]
    fn a_full_clean_within_two_days_of_a_meal() {
        for (at, severity) in [
            ("2027-06-08T17:00", None),
            ("2027-06-10T17:59", Some(Severity::Watch)),
            ("2027-06-10T18:00", None),
            ("2027-06-08", None),
        ] {
            assert_eq!(told(&format!("[[cleaning]]\nat = \"{at}\"\ntask = \"full\"\n")), severity, "{at}");
        }
        assert_eq!(
            told("[[cleaning]]\nat = \"2027-06-09T12:00\"\ntask = \"spot\"\n"),
            None,
            "a spot clean lifts nobody out"
        );
    }

    #[test]
    fn a_new_enclosure_within_two_days_of_a_meal() {
        for (day, severity) in [("2027-06-09", Some(Severity::Watch)), ("2027-06-11", None)] {
            assert_eq!(
                told(&format!("[[planned]]\nfrom = \"{day}\"\nwhat = \"enclosure-change\"\n")),
                severity,
                "{day}"
            );
        }
    }
}
