//! What is seen in the mouth.

use super::tell;
use crate::answer::{Code, Severity};
use crate::draft::Draft;
use crate::rules::Rule;
use crate::signs::{Signs, Told};
use crate::view::View;
use records::facts::SignKind;

/// Swollen gums, cheesy matter or a swollen jaw: a veterinarian.
pub const RULE: Rule = Rule {
    key: "mouth",
    says: "Red gums, cheesy matter, mucus or a swollen jaw: a veterinarian, and apart from others.",
    because: "A sore mouth stops an animal from eating and spreads to the jaw.",
    sources: &["mouth_signs"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    tell(view, draft, RULE.key, Code::Mouth, smell);
}

/// A foul smell beside it belongs to it.
fn smell(told: &mut Told, signs: &Signs<'_>) {
    if let Some(smell) = signs.get(SignKind::FoulSmell) {
        told.raise(Severity::Vet, "with a foul smell", "Have it seen by a reptile veterinarian within a day or two, leave the mouth alone, and keep it apart from others.");
        told.on(smell.evidence());
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;

    #[test]
    fn slight_redness_is_watched_closely_the_rest_is_seen() {
        for (signs, severity) in [
            (&[("red-mouth", "slight")][..], Severity::Act),
            (&[("red-mouth", "slight"), ("foul-smell", "")], Severity::Vet),
            (&[("red-mouth", "")], Severity::Vet),
            (&[("pus-in-mouth", "slight")], Severity::Vet),
            (&[("jaw-swelling", "")], Severity::Vet),
        ] {
            assert_eq!(with(signs, "", Code::Mouth), Some(severity), "{signs:?}");
        }
    }

    #[test]
    fn the_smell_is_not_told_a_second_time() {
        assert_eq!(with(&[("pus-in-mouth", ""), ("foul-smell", "")], "", Code::Stools), None);
        assert_eq!(with(&[("foul-smell", "")], "", Code::Stools), Some(Severity::Watch));
    }
}
