//! A death.

use records::facts::{EndingWhat, SignKind};

use crate::answer::{Action, Code, Finding, Severity};
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::has_others;
use crate::signs;
use crate::view::View;

/// It has died: nothing is due any more; where others live, the cause matters.
pub const RULE: Rule = Rule {
    key: "death",
    says: "For an animal that has died nothing is due; in the first days what to do with the body is said, and where others live, that they count as exposed.",
    because: "An examination within a day can tell what the others need.",
    sources: &["death_recent"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if !view.is_dead() {
        return;
    }
    let sign = view.line.signs.iter().rev().find(|one| one.sign == SignKind::Dead && one.cleared_at.is_none());
    let ending = view.line.endings.iter().rev().find(|one| one.what == EndingWhat::Died);
    let records: Vec<_> = sign.map(seen).into_iter().chain(ending.map(seen)).collect();
    let Some(at) = sign.map(|one| one.at).into_iter().chain(ending.map(|one| one.at)).min() else { return };

    let recent = lines::low("death_recent");
    let others = has_others(view);
    let (severity, does) = if recent.value < view.days_since(at) {
        (Severity::Note, "Its record stays as it is; note the cause if it becomes known.".to_owned())
    } else if others {
        let does = "Cool the body in a sealed bag and ask a reptile veterinarian for an examination within a day; until the cause is known the others count as exposed, and nothing enters or leaves the room.";
        (Severity::Act, does.to_owned())
    } else {
        let meaning = signs::meaning(SignKind::Dead, None);
        (
            meaning.map_or(Severity::Watch, |meaning| meaning.severity),
            meaning.map_or_else(String::new, |meaning| meaning.does.to_owned()),
        )
    };
    let says = format!("It died on {}.", view.date_of(at));
    let finding = Finding::new(Code::Death, severity, RULE.key, says, does).on(records.clone()).by(&recent, "d");
    draft.find(if severity == Severity::Note { finding } else { finding.caution("after-death") });
    for action in [Action::OfferMeal, Action::Handle, Action::Move, Action::FullClean] {
        let why = format!("It died on {}.", view.date_of(at));
        draft.hold_open(
            action,
            Strength::Emergency,
            RULE.key,
            why,
            at.from,
            "the record of its death is corrected",
            records.clone(),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn nothing_is_due_for_one_that_has_died() {
        for record in [
            "[[sign]]\nat = \"2027-04-10T06:00\"\nsign = \"dead\"\n",
            "[[ending]]\nat = \"2027-04-10T06:00\"\nwhat = \"died\"\n",
        ] {
            let answer = answer(&format!(
                "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\n[[meal]]\nat = \"2027-03-10\"\noutcome = \"taken\"\n[[sign]]\nat = \"2027-04-09\"\nsign = \"wheezing\"\n{record}"
            ));
            assert_eq!(answer.findings.iter().map(|found| found.code).collect::<Vec<_>>(), [Code::Death], "{record}");
            assert!(answer.due.is_empty() && answer.ahead.is_empty() && answer.missing.is_empty());
            assert!(answer.hold(Action::OfferMeal).is_some());
        }
    }

    #[test]
    fn for_two_days_what_to_do_is_said_and_the_others_are_thought_of() {
        for (at, others, severity) in [
            ("2027-04-10T18:00", false, Severity::Watch),
            ("2027-04-10T18:00", true, Severity::Act),
            ("2027-04-12T06:00", true, Severity::Act),
            ("2027-04-12T06:01", true, Severity::Note),
        ] {
            let answer = answer(&format!(
                "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\n[household]\nother_reptiles = {others}\n[[sign]]\nat = \"2027-04-10T06:00\"\nsign = \"dead\"\n"
            ));
            assert_eq!(answer.finding(Code::Death).map(|found| found.severity), Some(severity), "{at}");
        }
    }
}
