//! Papers that may be wanted. No legal advice: the authority is asked.

use crate::answer::{Code, Finding, Severity, State, Sure};
use crate::draft::{Draft, undated};
use crate::rules::Rule;
use crate::rules::arrival::arrived;
use crate::view::View;

/// An animal from the wild may need a permit.
pub const RULE: Rule = Rule {
    key: "permit",
    says: "For an animal taken from the wild the authority is asked whether it may be kept: a word more while it is new.",
    because: "Native animals are protected in many places, and the lists change.",
    sources: &["permit_ask"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() || view.case.animal.wild_caught != Some(true) {
        return;
    }
    let place = view
        .household()
        .and_then(|house| house.region.as_deref())
        .map(|region| format!(" in {region}"))
        .unwrap_or_default();
    let says = "It comes from the wild, and no permit is on record.";
    let does = format!(
        "Ask the wildlife authority{place} whether it may be kept and what papers it needs, and set it free only if and where the authority says so."
    );
    let is_new = arrived(view).is_none() || draft.is_in(State::Settling) || draft.is_in(State::Quarantine);
    let severity = if is_new { Severity::Watch } else { Severity::Note };
    let finding = Finding::new(Code::PermitMissing, severity, RULE.key, says, does)
        .on([undated(view.case.animal.key)])
        .sure(Sure::Possible);
    draft.find(finding.caution("law"));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn only_for_an_animal_from_the_wild_the_authority_is_asked() {
        for (wild, told) in [
            ("wild_caught = true\n", Some(Severity::Watch)),
            ("wild_caught = true\narrived = \"2027-06-10\"\n", Some(Severity::Watch)),
            ("wild_caught = true\narrived = \"2025-06-10\"\n", Some(Severity::Note)),
            ("wild_caught = false\n", None),
            ("", None),
        ] {
            let answer = answer(&format!(
                "at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"Pantherophis obsoletus\"\n{wild}[household]\nregion = \"Ohio\"\n"
            ));
            assert_eq!(answer.finding(Code::PermitMissing).map(|found| found.severity), told, "{wild}");
            if let Some(found) = answer.finding(Code::PermitMissing) {
                assert!(found.does.contains("Ohio"));
            }
        }
    }
}
