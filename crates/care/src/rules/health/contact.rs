//! Others that are sick, and others that may catch it.

use crate::answer::{Action, Code, Finding, Severity, Task};
use crate::draft::{Draft, Strength, undated};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::{by_household, cohabitants, is_gone};
use crate::signs::Signs;
use crate::view::View;

/// A neighbour is sick or has died, or a sick one shares the enclosure.
pub const RULE: Rule = Rule {
    key: "contact",
    says: "Where a neighbour is sick or has died, an animal without signs is seen by a veterinarian, handled last or not at all, and shares nothing; and a sick one does not share an enclosure.",
    because: "What one has, another may carry for weeks before it shows.",
    sources: &["quarantine_all_in_all_out", "neuro"],
    check,
};

const ENDS_WITH: &str = "a reptile veterinarian has spoken";

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let others = cohabitants(view);
    if view.household().is_some_and(|house| house.contacts_sick == Some(true)) {
        let shared = if others == 0 { "" } else { ", and it shares its enclosure" };
        let says = format!("A neighbour is sick or has died{shared}: this one counts as exposed.");
        let does = "Have it seen by a reptile veterinarian before it shows signs, do it last in the round with washed hands, and let nothing be shared or moved between rooms.";
        let finding = Finding::new(Code::ContactExposed, Severity::Vet, RULE.key, says, does)
            .on(by_household(view))
            .from(lines::source("quarantine_all_in_all_out"));
        draft.find(finding.caution("quarantine"));
        let why = "Exposed to a sick neighbour: what it may have travels on hands, so no handling and no sharing.";
        draft.hold_open(Action::Handle, Strength::Quarantine, RULE.key, why, view.now, ENDS_WITH, by_household(view));
        if 0 < others {
            draft.due(
                Task::Isolate,
                RULE.key,
                "It shares an enclosure with others, and a neighbour is sick: apart until a veterinarian has spoken.",
                view.today(),
                None,
                by_household(view),
            );
        }
        return;
    }
    // A quarantine that is shared is told as that.
    if draft.found(Code::QuarantineBreach).is_some() {
        return;
    }
    let signs = Signs::of(view);
    let catching: Vec<_> =
        signs.iter().filter(|one| one.meaning.contagious || (one.meaning.weak && one.meaning.ill)).collect();
    if let (Some(first), true) = (catching.first(), 0 < others) {
        let says = format!(
            "It shares its enclosure with {} while it shows signs of illness ({}).",
            company(others),
            first.meaning.says
        );
        let does =
            "Give it an enclosure of its own in another room today, and watch the others: they count as exposed.";
        let records = catching
            .iter()
            .flat_map(|one| one.evidence())
            .chain(view.enclosure().map(|enclosure| undated(enclosure.key)));
        let finding = Finding::new(Code::ContactExposed, Severity::Act, RULE.key, says, does)
            .on(records)
            .from(lines::source("quarantine_all_in_all_out"));
        draft.find(finding.caution("quarantine"));
    }
}

fn company(others: u32) -> String {
    if others == 1 { "another".to_owned() } else { format!("{others} others") }
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;
    use crate::testing::answer;

    #[test]
    fn a_sick_neighbour_means_a_veterinarian_and_hands_off() {
        for (sick, severity) in [("true", Some(Severity::Vet)), ("false", None)] {
            let answer = answer(&format!(
                "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"ball_python\"\n[household]\nother_reptiles = true\ncontacts_sick = {sick}\n"
            ));
            assert_eq!(answer.finding(Code::ContactExposed).map(|found| found.severity), severity);
            assert_eq!(answer.hold(Action::Handle).is_some(), severity.is_some());
            assert_eq!(answer.due(Task::VetVisit).is_some(), severity.is_some());
            assert!(answer.hold(Action::OfferMeal).is_none(), "without signs of its own it eats");
        }
    }

    #[test]
    fn a_sick_one_does_not_share() {
        for (signs, others, severity) in [
            (&[("wheezing", "")][..], 1, Some(Severity::Act)),
            (&[("wheezing", "")], 0, None),
            (&[("rubbed-nose", "")], 1, None),
            (&[("limp", "")], 2, Some(Severity::Act)),
        ] {
            assert_eq!(
                with(signs, &format!("[enclosure]\ncohabitants = {others}\n"), Code::ContactExposed),
                severity,
                "{signs:?} {others}"
            );
        }
    }
}
