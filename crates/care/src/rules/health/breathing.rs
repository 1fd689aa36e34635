//! Breathing that is heard or seen.

use super::{CALL_NOW, tell, weak_as_well};
use crate::answer::{Code, Severity};
use crate::draft::Draft;
use crate::rules::Rule;
use crate::view::View;

/// Breathing that can be heard or seen is a matter for a veterinarian; with weakness, now.
pub const RULE: Rule = Rule {
    key: "breathing",
    says: "An open mouth, bubbles, a wheeze or crust at the nose: a veterinarian within a day or two; with an open mouth or weakness now.",
    because: "A healthy snake breathes unseen and unheard, and a snake cannot cough.",
    sources: &["resp_signs"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    tell(view, draft, RULE.key, Code::Breathing, |told, signs| {
        if Severity::Vet <= told.severity {
            weak_as_well(told, signs, Severity::Urgent, CALL_NOW);
        }
    });
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;

    #[test]
    fn weakness_makes_it_urgent() {
        for (signs, severity) in [
            (&[("nose-crust", "slight")][..], Severity::Act),
            (&[("nose-crust", "slight"), ("weak", "")], Severity::Act),
            (&[("wheezing", "")], Severity::Vet),
            (&[("nose-bubbles", "")], Severity::Vet),
            (&[("nose-bubbles", ""), ("lethargic", "slight")], Severity::Vet),
            (&[("nose-bubbles", ""), ("lethargic", "marked")], Severity::Urgent),
            (&[("wheezing", "marked"), ("weak", "slight")], Severity::Urgent),
            (&[("open-mouth-breathing", "")], Severity::Urgent),
        ] {
            assert_eq!(with(signs, "", Code::Breathing), Some(severity), "{signs:?}");
        }
        assert_eq!(with(&[], "", Code::Breathing), None);
    }
}
