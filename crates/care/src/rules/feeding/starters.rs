//! Hatchlings that have not begun to eat.

use records::facts::Stage;

use crate::answer::{Code, Finding, Severity};
use crate::draft::{Draft, all_seen, undated};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, days, plural};

/// A hatchling that does not begin to eat.
pub const RULE: Rule = Rule {
    key: "hatchling-not-started",
    says: "A hatchling that has not eaten: watched from 14 days after its first shed, acted on from 21, seen by a veterinarian from 42 or with loss of mass.",
    because: "An adult may fast for months; a hatchling lives on its yolk and then on nothing.",
    sources: &["refusal_needs_mass", "first_shed_after_hatching"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    let never = view.case.animal.never_fed == Some(true) && view.meals.last_taken.is_none();
    let young =
        matches!(view.stage, Some(Stage::Hatchling)) && view.meals.last_taken.is_none() && !view.line.meals.is_empty();
    if !(never || young) {
        return;
    }
    let first_shed = view.line.sheds.iter().find_map(|shed| shed.shed_at);
    let counted_d = match first_shed {
        Some(off) => view.days_since(off),
        None => {
            let Some(age) = view.age else { return };
            age.low - lines::low("first_shed_after_hatching").value
        }
    };
    let refused = view.meals.refusals.len();
    let (watch, act) = (
        lines::group_step("refusal_needs_mass", "hatchling", 0),
        lines::group_step("refusal_needs_mass", "hatchling", 1),
    );
    let vet = lines::low("hatchling_not_started_vet");
    let losing = view.masses.loss_pct.is_some_and(|loss| lines::low("weight_loss_watch").value <= loss);
    let (severity, line) = if vet.value <= counted_d || (act.value <= counted_d && losing) {
        (Severity::Vet, vet)
    } else if act.value <= counted_d {
        (Severity::Act, act)
    } else if watch.value <= counted_d {
        (Severity::Watch, watch)
    } else {
        return;
    };
    let since = if first_shed.is_some() { "after its first shed" } else { "after its first shed was to be expected" };
    let offers = if refused == 0 { String::new() } else { format!("; {}", plural(refused as f64, "refusal")) };
    let says = format!("It has never eaten, {} {since}{offers}.", days(counted_d));
    let does = if severity == Severity::Vet {
        "Have it seen by a reptile veterinarian; no force, and no daily offers."
    } else {
        "Check the heat, offer in a small dark box at dusk every five to seven days, and weigh every week; no force, no daily offers."
    };
    let records = all_seen(view.meals.refusals.iter().filter_map(|index| view.line.meals.get(*index)));
    let records = if records.is_empty() { vec![undated(view.case.animal.key)] } else { records };
    draft.find(
        Finding::new(Code::HatchlingNotStarted, severity, RULE.key, says, does)
            .on(records)
            .by(&line, "d")
            .caution("no-force-feeding"),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn it_is_watched_then_acted_on_then_seen_by_a_veterinarian() {
        for (at, severity) in [
            ("2027-09-13T23:00", None),
            ("2027-09-15T00:00", Some(Severity::Watch)),
            ("2027-09-21T23:00", Some(Severity::Watch)),
            ("2027-09-22T00:00", Some(Severity::Act)),
            ("2027-10-12T23:00", Some(Severity::Act)),
            ("2027-10-13T00:00", Some(Severity::Vet)),
        ] {
            let answer = answer(&format!(
                "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nhatched = \"2027-08-20\"\nnever_fed = true\n[[shed]]\nshed_at = \"2027-08-31\"\npieces = 1\n"
            ));
            assert_eq!(answer.finding(Code::HatchlingNotStarted).map(|found| found.severity), severity, "{at}");
        }
    }

    #[test]
    fn one_that_has_eaten_has_begun() {
        let answer = answer(
            "at = \"2027-10-20T12:00\"\n[animal]\nspecies = \"corn_snake\"\nhatched = \"2027-08-20\"\n[[shed]]\nshed_at = \"2027-08-31\"\n\
             [[meal]]\nat = \"2027-10-15\"\nprey = \"mouse-pinky\"\noutcome = \"taken\"\n",
        );
        assert!(answer.finding(Code::HatchlingNotStarted).is_none());
    }
}
