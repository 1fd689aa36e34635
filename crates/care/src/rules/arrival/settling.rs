//! New in the house, back after a week or more, or just carried from one place to another: left in peace.

use records::facts::PlannedWhat;

use super::{Began, beginnings, is_gone, known_end};
use crate::answer::{Action, Code, Finding, Severity, State, Task};
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, number};

/// Leave a new animal in peace.
pub const RULE: Rule = Rule {
    key: "settling",
    says: "A new animal, or one that comes back after a week or more, is left in peace: no meal and no handling for seven days; after a journey five.",
    because: "Meals offered to an animal that does not yet know the place are refused or brought up.",
    sources: &["arrival_no_handling", "arrival_no_feeding", "missing_settle"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    if let Some(began) = beginnings(view).pop() {
        settle(view, draft, &began);
    }
    if !draft.is_in(State::Settling) {
        after_a_journey(view, draft);
    }
}

fn settle(view: &View<'_>, draft: &mut Draft, began: &Began) {
    let handling = lines::low("arrival_no_handling");
    let feeding = lines::low("arrival_no_feeding");
    let (from, ended) = (began.at.from, known_end(view, began.at));
    let handle_until = ended.plus_days(handling.value);
    let feed_until = ended.plus_days(feeding.value);
    let until = handle_until.max(feed_until);
    if until <= view.now {
        return;
    }
    let why = format!("{} and settles until {}: water, warmth, hides and quiet.", began.words, view.date(until));
    draft.state(State::Settling, from, Some(until), why);
    let records = vec![began.evidence];
    if view.now < handle_until {
        let why = format!("{}: nobody takes it out for {} days.", began.words, number(handling.value));
        draft.hold_until(Action::Handle, Strength::Plan, RULE.key, why, from, handle_until, records.clone());
    }
    if view.now < feed_until {
        let why = format!("{}: no meal for {} days.", began.words, number(feeding.value));
        draft.hold_until(Action::OfferMeal, Strength::Plan, RULE.key, why, from, feed_until, records);
    }
    let meals = lines::low("arrival_handling_after_meals");
    let first = lines::low("handling_first_session");
    let why = format!(
        "First times in hand: after {} meals taken and kept down, {} minutes, not daily.",
        number(meals.value),
        number(first.value)
    );
    draft.ahead(Task::Handle, RULE.key, why, view.day_of(handle_until), None, vec![began.evidence]);
    planned_out(view, draft, until);
}

/// Something is planned with it before it has settled: the finding is for that alone.
fn planned_out(view: &View<'_>, draft: &mut Draft, until: units::Moment) {
    let is_outing = |what| matches!(what, PlannedWhat::Visit | PlannedWhat::Show);
    let Some(plan) =
        view.line.planned.iter().find(|plan| is_outing(plan.what) && view.now < plan.ends() && plan.from.from < until)
    else {
        return;
    };
    let what = if plan.what == PlannedWhat::Show { "A show" } else { "A visit" };
    let says =
        format!("{what} is planned for {}, while it settles until {}.", view.date_of(plan.from), view.date(until));
    let does = format!("Put it off until after {}, or leave the animal at home.", view.date(until));
    draft.find(
        Finding::new(Code::SettlingIn, Severity::Watch, RULE.key, says, does)
            .on([seen(plan)])
            .by(&lines::low("arrival_no_handling"), "d"),
    );
}

fn after_a_journey(view: &View<'_>, draft: &mut Draft) {
    let peace = lines::low("hold_round_journey");
    let is_journey = |what| matches!(what, PlannedWhat::Transport | PlannedWhat::MovingHouse);
    for plan in view.line.planned.iter().rev().filter(|plan| is_journey(plan.what)) {
        let until = plan.ends().plus_days(peace.value);
        if plan.ends() <= view.now && view.now < until {
            let what = if plan.what == PlannedWhat::Transport { "journey" } else { "move of house" };
            let why = format!(
                "The {what} ended on {}: {} days of peace, until {}.",
                view.date_of(plan.until.unwrap_or(plan.from)),
                number(peace.value),
                view.date(until)
            );
            draft.state(State::Settling, plan.from.from, Some(until), why.clone());
            draft.hold_until(Action::Handle, Strength::Plan, RULE.key, why, plan.from.from, until, vec![seen(plan)]);
            return;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};

    fn held_by(answer: &crate::Answer, action: Action) -> bool {
        answer.hold(action).is_some_and(|hold| hold.because.iter().any(|one| one.rule == RULE.key))
    }

    #[test]
    fn a_new_animal_settles_for_seven_days_after_the_day_it_came() {
        //          at                 settling
        for (at, settling) in [
            ("2027-03-06T09:00", true),
            ("2027-03-11T23:59", true),
            ("2027-03-12T23:59", true),
            ("2027-03-13T00:00", false),
        ] {
            let answer =
                answer(&format!("at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\narrived = \"2027-03-05\"\n"));
            assert_eq!(answer.is_in(State::Settling), settling, "{at}");
            assert_eq!(held_by(&answer, Action::Handle), settling, "{at}");
            assert_eq!(held_by(&answer, Action::OfferMeal), settling, "{at}");
            if let Some(state) = answer.states.iter().find(|one| one.state == State::Settling) {
                assert_eq!(state.until, Some(moment("2027-03-13T00:00")), "a state says its end");
            }
        }
    }

    #[test]
    fn an_hour_of_arrival_counts_to_the_hour() {
        for (at, settling) in [("2027-03-12T14:59", true), ("2027-03-12T15:00", false)] {
            let answer =
                answer(&format!("at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\narrived = \"2027-03-05T15:00\"\n"));
            assert_eq!(answer.is_in(State::Settling), settling, "{at}");
        }
    }

    #[test]
    fn without_a_day_of_arrival_nothing_settles() {
        for arrived in ["", "arrived = \"2027\"\n", "arrived = \"2027-04-01\"\n"] {
            let answer = answer(&format!("at = \"2027-03-06T09:00\"\n[animal]\nspecies = \"corn_snake\"\n{arrived}"));
            assert!(!answer.is_in(State::Settling), "{arrived}");
        }
    }

    #[test]
    fn one_that_was_away_for_a_week_settles_again() {
        for (missing, settling) in [("2027-02-27T10:00", true), ("2027-02-26T10:00", true), ("2027-02-27T11:00", false)]
        {
            let answer = answer(&format!(
                "at = \"2027-03-07T09:00\"\n[animal]\nspecies = \"corn_snake\"\n[[sign]]\nat = \"{missing}\"\nsign = \"missing\"\n\
                 [[sign]]\nat = \"2027-03-06T10:00\"\nsign = \"found\"\n"
            ));
            assert_eq!(answer.is_in(State::Settling), settling, "missing since {missing}");
        }
    }

    #[test]
    fn back_from_elsewhere_it_settles_again() {
        let elsewhere = "[[planned]]\nfrom = \"2027-02-10\"\nuntil = \"2027-03-05\"\nwhat = \"animal-away\"\n";
        let one_night = "[[planned]]\nfrom = \"2027-03-04\"\nuntil = \"2027-03-05\"\nwhat = \"animal-away\"\n";
        let lent =
            "[[ending]]\nat = \"2027-02-01\"\nwhat = \"lent\"\n[[ending]]\nat = \"2027-03-05\"\nwhat = \"returned\"\n";
        for (rest, settling) in [(elsewhere, true), (one_night, false), (lent, true)] {
            let answer = answer(&format!("at = \"2027-03-07T09:00\"\n[animal]\nspecies = \"corn_snake\"\n{rest}"));
            assert_eq!(answer.is_in(State::Settling), settling, "{rest}");
        }
    }

    #[test]
    fn a_journey_is_followed_by_days_of_peace() {
        for (at, settling) in [
            ("2027-03-06T20:00", false),
            ("2027-03-08T09:00", true),
            ("2027-03-12T23:00", true),
            ("2027-03-13T00:00", false),
        ] {
            let answer = answer(&format!(
                "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\n[[planned]]\nfrom = \"2027-03-06\"\nuntil = \"2027-03-07\"\nwhat = \"moving-house\"\n"
            ));
            assert_eq!(answer.is_in(State::Settling), settling, "{at}");
            assert_eq!(held_by(&answer, Action::Handle), settling, "{at}");
        }
    }

    #[test]
    fn the_finding_comes_only_with_an_outing_in_that_time() {
        let told = |plan: &str| {
            answer(&format!(
                "at = \"2027-03-06T09:00\"\n[animal]\nspecies = \"corn_snake\"\narrived = \"2027-03-05\"\n{plan}"
            ))
            .finding(Code::SettlingIn)
            .map(|found| found.severity)
        };
        assert_eq!(told(""), None);
        assert_eq!(told("[[planned]]\nfrom = \"2027-03-09\"\nwhat = \"visit\"\n"), Some(Severity::Watch));
        assert_eq!(told("[[planned]]\nfrom = \"2027-03-14\"\nwhat = \"visit\"\n"), None);
    }

    #[test]
    fn the_first_time_in_hand_lies_ahead_and_is_not_due() {
        let answer =
            answer("at = \"2027-03-06T09:00\"\n[animal]\nspecies = \"corn_snake\"\narrived = \"2027-03-05\"\n");
        assert!(answer.due(Task::Handle).is_none());
        assert!(answer.ahead.iter().any(|one| one.task == Task::Handle && one.from == moment("2027-03-13T00:00")));
    }
}
