//! Records that cannot be true beside others: they were set aside, and the keeper is asked.

use crate::answer::{Code, Evidence, Finding, Severity, Sure};
use crate::draft::Draft;
use crate::rules::Rule;
use crate::view::View;

/// A record that cannot be.
pub const RULE: Rule = Rule {
    key: "record-suspect",
    says: "A record that cannot be true beside another is set aside and asked about.",
    because: "A slip of the pen must not lead to a wrong answer.",
    sources: &["record_set_aside", "length_cannot_be"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    let Some(first) = view.suspects.first() else { return };
    let more = view.suspects.len() - 1;
    let says = match more {
        0 => first.says.clone(),
        1 => format!("{} One more record was set aside.", first.says),
        more => format!("{} {more} more records were set aside.", first.says),
    };
    let does = "Mend the date or the number, or confirm it; until then nothing here rests on it.";
    let mut records: Vec<Evidence> = Vec::new();
    for one in view.suspects.iter().flat_map(|one| one.records.iter().copied()) {
        if !records.contains(&one) {
            records.push(one);
        }
    }
    draft.find(Finding::new(Code::RecordSuspect, Severity::Watch, RULE.key, says, does).on(records).sure(Sure::Likely));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn what_cannot_be_is_asked_about_once() {
        let early =
            "[[weighing]]\nat = \"2024-05-02\"\nmass_g = 310\n[[weighing]]\nat = \"2024-06-02\"\nmass_g = 320\n";
        let right = "[[weighing]]\nat = \"2027-05-02\"\nmass_g = 310\n";
        for (rest, told) in [(early, true), (right, false)] {
            let answer = answer(&format!(
                "at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\nhatched = \"2025-07-10\"\n{rest}"
            ));
            let found = answer.finding(Code::RecordSuspect);
            assert_eq!(found.map(|found| found.severity), told.then_some(Severity::Watch), "{rest}");
            if let Some(found) = found {
                assert_eq!(found.records.len(), 2);
                assert!(found.says.contains("more"), "{}", found.says);
            }
        }
    }
}
