//! Blood and wounds.

use records::facts::SignKind;

use super::{CALL_NOW, tell, weak_as_well};
use crate::answer::{Code, Severity};
use crate::draft::Draft;
use crate::rules::Rule;
use crate::view::View;

/// Blood.
pub const BLEEDING: Rule = Rule {
    key: "bleeding",
    says: "Bleeding that is more than a scratch: a veterinarian; when it does not stop, now.",
    because: "So small a body has little blood to lose.",
    sources: &["bleeding"],
    check: |view, draft| {
        tell(view, draft, BLEEDING.key, Code::Bleeding, |told, signs| {
            if Severity::Vet <= told.severity {
                weak_as_well(
                    told,
                    signs,
                    Severity::Urgent,
                    "Press a clean cloth on it without letting go and call a reptile veterinarian now.",
                );
            }
        });
    },
};

/// Wounds, bites, rubbed noses.
pub const INJURY: Rule = Rule {
    key: "injury",
    says: "A wound or a bite stands until it is noted as healed; more than a scratch: a veterinarian, with weakness now.",
    because: "Bites and deep rubs go deeper than they look.",
    sources: &["wounds", "live_prey"],
    check: injury,
};

fn injury(view: &View<'_>, draft: &mut Draft) {
    tell(view, draft, INJURY.key, Code::Injury, |told, signs| {
        let only_rubbed = signs.of_code(Code::Injury).iter().all(|one| one.sign == SignKind::RubbedNose);
        if Severity::Vet <= told.severity && !only_rubbed {
            weak_as_well(told, signs, Severity::Urgent, CALL_NOW);
        }
    });
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;

    #[test]
    fn how_grave_wounds_are() {
        for (signs, severity) in [
            (&[("rubbed-nose", "")][..], Severity::Watch),
            (&[("rubbed-nose", "marked")], Severity::Act),
            (&[("rubbed-nose", "severe")], Severity::Vet),
            (&[("wound", "slight")], Severity::Act),
            (&[("wound", "")], Severity::Vet),
            (&[("wound", "severe"), ("weak", "")], Severity::Urgent),
            (&[("bite-wound", "slight")], Severity::Act),
            (&[("bite-wound", "severe")], Severity::Vet),
        ] {
            assert_eq!(with(signs, "", Code::Injury), Some(severity), "{signs:?}");
        }
    }

    #[test]
    fn how_grave_bleeding_is() {
        for (signs, severity) in [
            (&[("bleeding", "slight")][..], Severity::Act),
            (&[("bleeding", "")], Severity::Vet),
            (&[("bleeding", ""), ("weak", "")], Severity::Urgent),
            (&[("bleeding", "severe")], Severity::Urgent),
        ] {
            assert_eq!(with(signs, "", Code::Bleeding), Some(severity), "{signs:?}");
        }
    }
}
