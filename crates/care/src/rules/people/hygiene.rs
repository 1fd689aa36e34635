//! Young children, or others at risk, in the house.

use crate::answer::{Code, Finding, Severity};
use crate::draft::Draft;
use crate::rules::Rule;
use crate::rules::arrival::by_household;
use crate::view::View;

/// Clean hands where somebody is at risk.
pub const RULE: Rule = Rule {
    key: "hygiene",
    says: "Where young children or others at risk live, hands are washed after every touch of animal, water, enclosure or prey.",
    because: "Healthy snakes shed Salmonella, and the young fall ill from it without touching the animal.",
    sources: &["hands_washed"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() || view.household().is_none_or(|house| house.young_children != Some(true)) {
        return;
    }
    let loose = view.missing_since().is_some();
    let severity = if loose { Severity::Watch } else { Severity::Note };
    let says = if loose {
        "Young children, or others at risk, live in the house, and the snake is loose in it."
    } else {
        "Young children, or others at risk, live in the house."
    };
    let does = "Wash hands with soap after every touch of the animal, its water, its enclosure or its prey; the children do not handle it alone, and it stays out of kitchen and nursery.";
    let mut finding = Finding::new(Code::Hygiene, severity, RULE.key, says, does).on(by_household(view));
    finding = finding.caution("hygiene");
    draft.find(finding);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn young_children_are_a_note_and_a_loose_snake_makes_it_a_word_more() {
        let missing = "[[sign]]\nat = \"2027-06-12T08:00\"\nsign = \"missing\"\n";
        for (children, rest, severity) in
            [("true", "", Some(Severity::Note)), ("false", "", None), ("true", missing, Some(Severity::Watch))]
        {
            let answer = answer(&format!(
                "at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\n[household]\nyoung_children = {children}\n{rest}"
            ));
            assert_eq!(answer.finding(Code::Hygiene).map(|found| found.severity), severity, "{children} {rest}");
        }
        let silent = answer("at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\n");
        assert!(silent.finding(Code::Hygiene).is_none());
    }

    #[test]
    fn it_names_its_source() {
        let answer = answer(
            "at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\n[household]\nyoung_children = true\n",
        );
        let found = answer.finding(Code::Hygiene).unwrap();
        assert_eq!(found.source[0].key, "cdc-sheet");
        assert!(found.caution.is_some());
    }
}
