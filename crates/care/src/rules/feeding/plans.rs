//! What is planned stands against a meal: visits, journeys, the keeper's absence.

use records::facts::{Planned, PlannedWhat};
use records::timeline::Entry;

use crate::answer::{Action, State};
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::View;

/// No meal shortly before what is planned.
pub const RULE: Rule = Rule {
    key: "plan",
    says: "No meal from 48 h before a visit, a show, a veterinarian or the keeper's absence; from 5 days before a journey or a move until 5 days after.",
    because: "A meal on the way comes up; and in an empty house nobody sees that it did.",
    sources: &["hold_before_visit", "hold_round_journey"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    for plan in &view.line.planned {
        let Some((from, until, why)) = hold(view, plan) else { continue };
        if from <= view.now && view.now < until {
            draft.hold_until(Action::OfferMeal, Strength::Plan, RULE.key, why, from, until, vec![seen(plan)]);
        }
        let elsewhere = plan.what == PlannedWhat::AnimalAway && plan.from.from <= view.now && view.now < plan.ends();
        if elsewhere {
            draft.state(State::Away, plan.from.from, Some(plan.ends()), "It is planned to be elsewhere.");
        }
    }
}

/// From when until when a plan stands against a meal, and why.
pub fn hold(view: &View<'_>, plan: &Entry<Planned>) -> Option<(units::Moment, units::Moment, String)> {
    let (starts, ends) = (plan.from.from, plan.ends());
    let visit_h = lines::low("hold_before_visit").value;
    let soon = |name: &str| {
        format!("{name} is planned from {}: no meal in the {visit_h:.0} h before.", view.date_of(plan.from))
    };
    Some(match plan.what {
        PlannedWhat::Visit => (starts.plus_hours(-visit_h), ends, soon("A visit")),
        PlannedWhat::Show => (starts.plus_hours(-visit_h), ends, soon("A show")),
        PlannedWhat::VetVisit => (starts.plus_hours(-visit_h), ends, soon("A visit to the veterinarian")),
        PlannedWhat::AnimalAway => (starts.plus_hours(-visit_h), ends, soon("A stay elsewhere")),
        PlannedWhat::KeeperAway => {
            let feeds = plan.sitter == Some(true) && is_long(view, plan);
            let until = if feeds { starts } else { ends };
            let why = if feeds {
                format!(
                    "The keeper leaves on {}: no meal in the {visit_h:.0} h before; after that the sitter feeds.",
                    view.date_of(plan.from)
                )
            } else {
                format!(
                    "The keeper is away from {}: no meal in the {visit_h:.0} h before, since a meal can come up two days later, and none until the return.",
                    view.date_of(plan.from)
                )
            };
            (starts.plus_hours(-visit_h), until, why)
        }
        PlannedWhat::Transport | PlannedWhat::MovingHouse | PlannedWhat::EnclosureChange => {
            let giant = view.is_giant();
            let before = if giant { lines::high("hold_round_journey") } else { lines::low("hold_round_journey") };
            let after = lines::low("hold_round_journey").value;
            let name = match plan.what {
                PlannedWhat::Transport => "A journey",
                PlannedWhat::MovingHouse => "A move of house",
                _ => "A move to another enclosure",
            };
            let why = format!(
                "{name} from {}: empty for {:.0} days before it, and {after:.0} days of peace after it.",
                view.date_of(plan.from),
                before.value
            );
            (starts.plus_days(-before.value), ends.plus_days(after), why)
        }
        PlannedWhat::Brumation => return None,
    })
}

/// Is the absence so long that somebody must feed?
fn is_long(view: &View<'_>, plan: &Entry<Planned>) -> bool {
    let intervals = lines::low("sitter_feeds_from").value;
    let interval_d = view.feeding().map_or(f64::INFINITY, |feeding| feeding.interval_d.high);
    intervals * interval_d < plan.ends().days_since(plan.from.from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn held(plan: &str, at: &str) -> bool {
        let answer = answer(&format!(
            "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[meal]]\nat = \"2027-03-01\"\noutcome = \"taken\"\n{plan}"
        ));
        answer.hold(Action::OfferMeal).is_some_and(|hold| hold.because.iter().any(|one| one.rule == RULE.key))
    }

    #[test]
    fn each_plan_holds_a_meal_for_its_own_time() {
        let plan =
            |what: &str| format!("[[planned]]\nfrom = \"2027-04-10\"\nuntil = \"2027-04-12\"\nwhat = \"{what}\"\n");
        //        plan             first held            last free before      free again after
        for (what, first, before, again) in [
            ("visit", "2027-04-08T00:00", "2027-04-07T23:00", "2027-04-13T00:00"),
            ("vet-visit", "2027-04-08T00:00", "2027-04-07T23:00", "2027-04-13T00:00"),
            ("keeper-away", "2027-04-08T00:00", "2027-04-07T23:00", "2027-04-13T00:00"),
            ("transport", "2027-04-05T00:00", "2027-04-04T23:00", "2027-04-18T00:00"),
            ("enclosure-change", "2027-04-05T00:00", "2027-04-04T23:00", "2027-04-18T00:00"),
        ] {
            assert!(held(&plan(what), first), "{what} at {first}");
            assert!(!held(&plan(what), before), "{what} at {before}");
            assert!(!held(&plan(what), again), "{what} at {again}");
        }
    }

    #[test]
    fn over_a_long_absence_the_sitter_feeds() {
        let plan =
            "[[planned]]\nfrom = \"2027-04-10\"\nuntil = \"2027-06-20\"\nwhat = \"keeper-away\"\nsitter = true\n";
        assert!(held(plan, "2027-04-09T12:00"));
        assert!(!held(plan, "2027-04-20T12:00"));
        assert!(held(&plan.replace("true", "false"), "2027-04-20T12:00"));
    }
}
