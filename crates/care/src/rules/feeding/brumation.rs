//! A planned winter rest.

use records::facts::PlannedWhat;

use crate::answer::{Action, State};
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::View;

/// No food round a planned winter rest.
pub const RULE: Rule = Rule {
    key: "winter-rest",
    says: "No meal from 14 days before a winter rest until a week after full heat is back; not for species that do not rest.",
    because: "Food left in a cold gut rots.",
    sources: &["brumation_empty_before", "brum_first_meal", "brum_never"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    let bears = view.profile.brumation.relevance != "none";
    let before = lines::low("brumation_empty_before").value;
    let after = lines::low("brum_first_meal").value;
    for plan in view.line.planned.iter().filter(|plan| plan.what == PlannedWhat::Brumation) {
        let ends = plan.ends();
        let first_meal = ends.plus_days(after);
        let starts = plan.from.from.plus_days(-before);
        if view.now < starts || first_meal <= view.now {
            continue;
        }
        if !bears {
            draft.assume(format!(
                "A winter rest is planned, but {} does not rest: the plan silences nothing.",
                view.profile.scientific_name
            ));
            continue;
        }
        let span = format!(
            "the winter rest from {} to {}",
            view.date(plan.from.from),
            view.date(plan.until.unwrap_or(plan.from).from)
        );
        let why = format!(
            "No meal round {span}: the gut must be empty in the cold, and warm for a week before it works again."
        );
        draft.hold_until(Action::OfferMeal, Strength::Plan, RULE.key, why, starts, first_meal, vec![seen(plan)]);
        if plan.from.from <= view.now && view.now < ends {
            draft.state(State::Brumating, plan.from.from, Some(ends), format!("In {span}."));
            for action in [Action::Handle, Action::Move] {
                draft.hold_until(
                    action,
                    Strength::Plan,
                    RULE.key,
                    format!("It rests: {span}. Look, give water, weigh, and leave it be."),
                    plan.from.from,
                    ends,
                    vec![seen(plan)],
                );
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};

    fn planned(species: &str, at: &str) -> crate::Answer {
        answer(&format!(
            "at = \"{at}\"\n[animal]\nspecies = \"{species}\"\nstage = \"adult\"\n\
             [[planned]]\nfrom = \"2027-12-01\"\nuntil = \"2028-02-10\"\nwhat = \"brumation\"\n"
        ))
    }

    #[test]
    fn meals_are_held_from_two_weeks_before_to_a_week_after() {
        for (at, held, resting) in [
            ("2027-11-16T23:00", false, false),
            ("2027-11-17T00:00", true, false),
            ("2027-12-01T00:00", true, true),
            ("2028-02-10T23:00", true, true),
            ("2028-02-17T23:00", true, false),
            ("2028-02-18T00:00", false, false),
        ] {
            let answer = planned("corn_snake", at);
            let hold =
                answer.hold(Action::OfferMeal).filter(|hold| hold.because.iter().any(|one| one.rule == RULE.key));
            assert_eq!(hold.is_some(), held, "{at}");
            assert_eq!(answer.is_in(State::Brumating), resting, "{at}");
            if let Some(hold) = hold {
                assert_eq!(hold.until, Some(moment("2028-02-18T00:00")), "{at}");
            }
        }
    }

    #[test]
    fn a_tropical_species_has_no_winter_rest() {
        let answer = planned("ball_python", "2027-12-20T12:00");
        assert!(!answer.is_in(State::Brumating));
        assert!(answer.assumed.iter().any(|said| said.contains("silences nothing")));
    }
}
