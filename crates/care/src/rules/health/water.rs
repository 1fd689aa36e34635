//! Want of water, as it shows on the animal.

use super::tell;
use crate::answer::{Code, Severity};
use crate::draft::Draft;
use crate::rules::Rule;
use crate::signs::Told;
use crate::view::View;

/// Sunken eyes and folds.
pub const RULE: Rule = Rule {
    key: "want-of-water",
    says: "Sunken eyes or skin in folds: water and a humid hide; marked, today; severe, or marked in a hatchling or with weakness, a veterinarian.",
    because: "A small body dries out within days.",
    sources: &["water_change"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    tell(view, draft, RULE.key, Code::Dehydration, |told, signs| {
        let weak = signs.weak();
        if view.is_hatchling() {
            graver(told, "it is a hatchling");
        } else if let Some(first) = weak.first() {
            graver(told, &format!("with it: {}", first.meaning.says));
        }
        told.on(weak.iter().flat_map(|one| one.evidence()));
    });
}

fn graver(told: &mut Told, because: &str) {
    let (to, does) = match told.severity {
        Severity::Note | Severity::Watch => (
            Severity::Act,
            "Give clean water and a humid hide today, measure the humidity, and call a reptile veterinarian if it is no better tomorrow.",
        ),
        Severity::Act => (
            Severity::Vet,
            "Have it seen by a reptile veterinarian today or tomorrow; give clean water and a humid hide at once, and no meal.",
        ),
        Severity::Vet | Severity::Urgent => (
            Severity::Urgent,
            "Call a reptile veterinarian now; give clean water and a humid hide until then, no bath, and no meal.",
        ),
    };
    told.raise(to, because, does);
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;
    use crate::testing::answer;

    #[test]
    fn how_grave_want_of_water_is() {
        for (signs, severity) in [
            (&[("sunken-eyes", "slight")][..], Severity::Watch),
            (&[("wrinkled-skin", "marked")], Severity::Act),
            (&[("wrinkled-skin", "severe")], Severity::Vet),
            (&[("wrinkled-skin", "slight"), ("weak", "")], Severity::Act),
            (&[("sunken-eyes", "marked"), ("weak", "")], Severity::Vet),
            (&[("sunken-eyes", "severe"), ("weak", "")], Severity::Urgent),
        ] {
            assert_eq!(with(signs, "", Code::Dehydration), Some(severity), "{signs:?}");
        }
    }

    #[test]
    fn a_hatchling_is_a_step_graver() {
        for (grade, severity) in [("slight", Severity::Act), ("marked", Severity::Vet), ("severe", Severity::Urgent)] {
            let text = format!(
                "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"hatchling\"\n[[sign]]\nat = \"2027-04-10\"\nsign = \"wrinkled-skin\"\ngrade = \"{grade}\"\n"
            );
            assert_eq!(answer(&text).finding(Code::Dehydration).map(|found| found.severity), Some(severity), "{grade}");
        }
    }
}
