//! A meal came up.

use records::facts::{Meal, Outcome, SignKind, Stage};
use records::timeline::Entry;
use units::{Moment, When};

use crate::answer::{Action, Code, Finding, Severity, State};
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, days};

/// Rest the gut after a meal came up.
pub const RULE: Rule = Rule {
    key: "after-regurgitation",
    says: "No prey for 14 days after a meal came up, 21 for hatchlings and after a second time; no handling for 14 days.",
    because: "The gut needs time; another meal soon is often brought up as well.",
    sources: &["feed_hold_regurgitation", "handling_after_regurgitation"],
    check,
};

/// A meal was given before the rest was over.
pub const FED_EARLY: Rule = Rule {
    key: "fed-early-after-regurgitation",
    says: "A meal given before the rest after a regurgitation is over.",
    because: "Meals that follow too soon are often brought up as well.",
    sources: &["feed_hold_regurgitation"],
    check: fed_early,
};

fn rest_days(view: &View<'_>, is_second: bool) -> crate::draft::Line {
    if view.is_hatchling() || is_second {
        lines::group("feed_hold_regurgitation", "hatchling, or second event")
    } else {
        lines::group("feed_hold_regurgitation", "default")
    }
}

/// Meals that came up so shortly before the last one that it counts as a second time.
fn shortly_before<'v>(view: &'v View<'_>, last: &Entry<Meal>, up: When) -> Vec<&'v Entry<Meal>> {
    let within = lines::low("regurgitation_repeated_within").value;
    let came_up = |one: &&Entry<Meal>| one.outcome == Outcome::Regurgitated && one.key != last.key;
    view.line.meals.iter().filter(came_up).filter(|one| up.from.days_since(one.at.from) <= within).collect()
}

/// The end of the rest after the last meal that came up.
pub fn rested_from(view: &View<'_>) -> Option<Moment> {
    let (meal, up) = view.last_regurgitation()?;
    let is_second = !shortly_before(view, meal, up).is_empty();
    Some(up.to.plus_days(rest_days(view, is_second).value))
}

fn check(view: &View<'_>, draft: &mut Draft) {
    let Some((meal, up)) = view.last_regurgitation() else { return };
    let all = view.line.meals.iter().filter(|one| one.outcome == Outcome::Regurgitated).count();
    let within = lines::low("regurgitation_repeated_within");
    let others = shortly_before(view, meal, up);
    let is_second = !others.is_empty();
    let third_ever = 3 <= all;
    let rest = rest_days(view, is_second);
    let until = up.to.plus_days(rest.value);
    if until <= view.now {
        return;
    }
    let ago = view.ago(up);
    let why = format!("A meal came up on {} ({ago}); the gut rests for {} days.", view.date_of(up), rest.value);
    draft.state(State::AfterRegurgitation, up.from, Some(until), why.clone());
    draft.hold_until(
        Action::OfferMeal,
        Strength::Regurgitation,
        RULE.key,
        why.clone(),
        up.from,
        until,
        vec![seen(meal)],
    );
    let handle_until = up.to.plus_days(lines::low("handling_after_regurgitation").value);
    if view.now < handle_until {
        for action in [Action::Handle, Action::Move] {
            draft.hold_until(
                action,
                Strength::Regurgitation,
                RULE.key,
                why.clone(),
                up.from,
                handle_until,
                vec![seen(meal)],
            );
        }
    }

    let water_only = format!(
        "Water only until {}; check the warm side, then begin again with a meal of a third to half the usual size.",
        view.date(until)
    );
    if is_second || third_ever {
        let says = format!("A meal came up on {}, not for the first time: {} in all on record.", view.date_of(up), all);
        let does = "Call a reptile veterinarian before the next meal, and keep what came up in a bag in the refrigerator for the visit.";
        let records = others.iter().map(|one| seen(one)).chain([seen(meal)]);
        draft.find(
            Finding::new(Code::RegurgitationRepeated, Severity::Vet, RULE.key, says, does)
                .on(records)
                .by(&within, "d")
                .caution("call-veterinarian"),
        );
        return;
    }
    let (severity, because) = severity(view, meal, up);
    let says = format!("A meal came up on {} ({ago}){because}.", view.date_of(up));
    let does =
        if severity == Severity::Act { water_only } else { format!("Call a reptile veterinarian. {water_only}") };
    let mut finding = Finding::new(Code::Regurgitation, severity, RULE.key, says, does).on([seen(meal)]).by(&rest, "d");
    if severity != Severity::Act {
        finding = finding.caution("call-veterinarian");
    }
    draft.find(finding);
}

fn severity(view: &View<'_>, meal: &Entry<Meal>, up: When) -> (Severity, &'static str) {
    let limp =
        |sign: SignKind| matches!(sign, SignKind::Limp | SignKind::Weak | SignKind::Lethargic | SignKind::NoMovement);
    let signs_since =
        view.line.signs.iter().filter(|one| up.from.days_since(one.at.from) <= 2.0 && one.cleared_at.is_none());
    let mut weak = false;
    for sign in signs_since {
        weak |= limp(sign.sign);
    }
    let light = view.masses.last().is_some_and(|last| last.mass_g < lines::low("regurgitation_small_animal").value);
    let young_boa =
        view.is_constrictor_family() && view.profile.family != "Pythonidae" && view.stage == Some(Stage::Hatchling);
    let losing = view.masses.loss_pct.is_some_and(|loss| lines::low("weight_loss_watch").value <= loss);
    let late = lines::low("vomiting_after").value <= up.from.days_since(meal.at.from);
    if weak {
        (Severity::Urgent, ", and it has been weak since")
    } else if view.is_hatchling() || light || young_boa {
        (Severity::Vet, "; so young or small an animal has little to spare")
    } else if losing {
        (Severity::Vet, ", and it is losing weight")
    } else if late {
        (Severity::Vet, ", days after it was eaten: that is more than a meal that never went down")
    } else {
        (Severity::Act, "")
    }
}

fn fed_early(view: &View<'_>, draft: &mut Draft) {
    let meals = &view.line.meals;
    for (index, meal) in meals.iter().enumerate().rev().take(6).filter(|(_, one)| one.was_eaten()) {
        let before = meals.get(..index).unwrap_or_default();
        let Some(at) = before.iter().rposition(|one| one.outcome == Outcome::Regurgitated) else { return };
        let Some(earlier) = before.get(at) else { return };
        let up = earlier.regurgitated_at.unwrap_or(earlier.at);
        let within = lines::low("regurgitation_repeated_within").value;
        let is_second = before
            .iter()
            .take(at)
            .any(|one| one.outcome == Outcome::Regurgitated && up.from.days_since(one.at.from) <= within);
        let rest = rest_days(view, is_second);
        let gap = meal.at.from.days_since(up.to);
        let recent = view.days_since(meal.at) <= rest.value;
        if gap < rest.value && recent {
            let says = format!(
                "It was fed {} after a meal came up; {} of rest were wanted.",
                days(gap.max(0.0)),
                days(rest.value)
            );
            let does = "Watch for this meal coming up too, offer nothing more until it is digested, and keep the next three meals small.";
            draft.find(
                Finding::new(Code::FedEarlyAfterRegurgitation, Severity::Watch, FED_EARLY.key, says, does)
                    .on([seen(earlier), seen(meal)])
                    .by(&rest, "d"),
            );
            return;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};

    fn came_up(at: &str, extra: &str) -> crate::Answer {
        answer(&format!(
            "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[weighing]]\nat = \"2027-04-20\"\nmass_g = 540\n\
             [[meal]]\nat = \"2027-05-01T20:00\"\nmass_g = 25\noutcome = \"regurgitated\"\nregurgitated_at = \"2027-05-03T07:00\"\n{extra}"
        ))
    }

    #[test]
    fn fourteen_days_to_the_minute() {
        // 14 d is the upper figure of the rule (from memory, after Ross and Marzec 1990): regurgitation holds to its cautious end.
        for (at, held) in [("2027-05-03T08:00", true), ("2027-05-17T06:59", true), ("2027-05-17T07:00", false)] {
            let answer = came_up(at, "");
            let reason =
                answer.hold(Action::OfferMeal).is_some_and(|hold| hold.because.iter().any(|one| one.rule == RULE.key));
            assert_eq!(reason, held, "{at}");
            assert_eq!(answer.is_in(State::AfterRegurgitation), held, "{at}");
        }
    }

    #[test]
    fn a_hatchling_rests_for_three_weeks_and_sees_a_veterinarian() {
        let answer = answer(
            "at = \"2027-05-04T19:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"hatchling\"\n\
             [[meal]]\nat = \"2027-05-01T20:00\"\nprey = \"mouse-pinky\"\noutcome = \"regurgitated\"\nregurgitated_at = \"2027-05-03T07:00\"\n",
        );
        assert_eq!(answer.hold(Action::OfferMeal).unwrap().until, Some(moment("2027-05-24T07:00")));
        assert_eq!(answer.finding(Code::Regurgitation).unwrap().severity, Severity::Vet);
    }

    #[test]
    fn a_second_one_within_sixty_days_is_for_a_veterinarian() {
        let again = |at: &str| {
            format!("[[meal]]\nat = \"{at}\"\nmass_g = 25\noutcome = \"regurgitated\"\nregurgitated_at = \"{at}\"\n")
        };
        for (earlier, repeated) in [("2027-03-05", true), ("2027-03-03", false)] {
            let answer = came_up("2027-05-04T19:00", &again(earlier));
            assert_eq!(answer.finding(Code::RegurgitationRepeated).is_some(), repeated, "{earlier}");
            assert_ne!(answer.finding(Code::Regurgitation).is_some(), repeated, "said once, not twice");
        }
    }

    #[test]
    fn a_meal_too_soon_is_noticed() {
        let fed = "[[meal]]\nat = \"2027-05-09T20:00\"\nmass_g = 12\noutcome = \"taken\"\n";
        assert!(came_up("2027-05-10T19:00", fed).finding(Code::FedEarlyAfterRegurgitation).is_some());
        let later = "[[meal]]\nat = \"2027-05-18T20:00\"\nmass_g = 12\noutcome = \"taken\"\n";
        assert!(came_up("2027-05-19T19:00", later).finding(Code::FedEarlyAfterRegurgitation).is_none());
    }
}
