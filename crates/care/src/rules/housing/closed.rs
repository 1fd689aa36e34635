//! Closed: locks and gaps.

use crate::answer::{Code, Evidence, Finding, Severity};
use crate::draft::{Draft, seen, undated};
use crate::lines;
use crate::rules::Rule;
use crate::view::View;

/// An enclosure that keeps its animal.
pub const RULE: Rule = Rule {
    key: "closed",
    says: "An enclosure locks and has no gap.",
    because: "A snake gets through wherever its head does, and it tries every night.",
    sources: &["enclosure_closed"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() {
        return;
    }
    let Some(enclosure) = view.enclosure() else { return };
    let (gaps, no_lock) = (enclosure.gaps == Some(true), enclosure.locks == Some(false));
    let what = match (gaps, no_lock) {
        (true, true) => "The enclosure has gaps and does not lock",
        (true, false) => "The enclosure has gaps",
        (false, true) => "The enclosure does not lock",
        (false, false) => return,
    };
    let escape = view.line.signs.iter().rev().find(|sign| sign.sign == records::facts::SignKind::Missing);
    let says = match escape {
        Some(escape) => format!("{what}, and the animal was missing on {}.", view.date(escape.at.from)),
        None => format!("{what}: a snake gets through wherever its head does."),
    };
    let does = if gaps {
        "Close every gap for good today, with what it cannot push out (tape is no repair and tears skin), and look at the lock after every opening."
    } else {
        "Fit a lock or a stop today, and look at it after every opening."
    };
    let records: Vec<Evidence> = std::iter::once(undated(enclosure.key)).chain(escape.map(seen)).collect();
    draft.find(
        Finding::new(Code::LidInsecure, Severity::Act, RULE.key, says, does)
            .on(records)
            .from(lines::source("enclosure_closed"))
            .caution("escape"),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn said(enclosure: &str) -> Option<Severity> {
        let text = format!(
            "at = \"2027-05-04T12:00\"\n[animal]\nspecies = \"ball_python\"\nstage = \"adult\"\n[enclosure]\n{enclosure}\n"
        );
        answer(&text).finding(Code::LidInsecure).map(|one| one.severity)
    }

    #[test]
    fn a_lock_and_no_gaps_are_wanted() {
        for (enclosure, expected) in [
            ("locks = true\ngaps = false", None),
            ("locks = true", None),
            ("length_cm = 90", None),
            ("locks = false", Some(Severity::Act)),
            ("gaps = true", Some(Severity::Act)),
            ("locks = true\ngaps = true", Some(Severity::Act)),
        ] {
            assert_eq!(said(enclosure), expected, "{enclosure}");
        }
    }

    #[test]
    fn a_past_escape_is_its_evidence() {
        let answer = answer(
            "at = \"2027-05-04T12:00\"\n[animal]\nspecies = \"ball_python\"\nstage = \"adult\"\n[enclosure]\ngaps = true\n\
             [[sign]]\nat = \"2027-05-01\"\nsign = \"missing\"\n[[sign]]\nat = \"2027-05-02\"\nsign = \"found\"\n",
        );
        let finding = answer.finding(Code::LidInsecure).unwrap();
        assert_eq!(finding.records.len(), 2);
        assert!(finding.says.contains("1 May 2027"), "{}", finding.says);
    }
}
