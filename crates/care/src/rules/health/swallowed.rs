//! Something in the mouth or swallowed that is no prey.

use records::facts::SignKind;

use super::{tell, weak_as_well};
use crate::answer::{Code, Severity};
use crate::draft::Draft;
use crate::rules::Rule;
use crate::view::View;

/// Bedding in the mouth, a thing swallowed.
pub const RULE: Rule = Rule {
    key: "foreign-object",
    says: "Bedding in the mouth: water and a look, packed full a veterinarian now; a thing swallowed: a veterinarian now.",
    because: "What blocks the throat stops the breath; what is swallowed cannot always pass.",
    sources: &["foreign_body", "substrate_bad"],
    check,
};

const CALL: &str = "Call a reptile veterinarian now: the airway must be free; pull nothing out of the throat, and keep it level and quiet.";

fn check(view: &View<'_>, draft: &mut Draft) {
    tell(view, draft, RULE.key, Code::ForeignObject, |told, signs| {
        if let Some(gaping) = signs.get(SignKind::OpenMouthBreathing) {
            told.raise(Severity::Urgent, "and it breathes with its mouth open", CALL);
            told.on(gaping.evidence());
        }
        weak_as_well(told, signs, Severity::Urgent, CALL);
    });
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;
    use crate::answer::Action;
    use crate::testing::answer;

    #[test]
    fn how_grave_a_foreign_object_is() {
        for (signs, severity) in [
            (&[("bedding-in-mouth", "slight")][..], Severity::Act),
            (&[("bedding-in-mouth", "")], Severity::Vet),
            (&[("bedding-in-mouth", "severe")], Severity::Urgent),
            (&[("bedding-in-mouth", "slight"), ("open-mouth-breathing", "slight")], Severity::Urgent),
            (&[("swallowed-object", "")], Severity::Urgent),
        ] {
            assert_eq!(with(signs, "", Code::ForeignObject), Some(severity), "{signs:?}");
        }
    }

    #[test]
    fn no_meal_until_it_is_out() {
        let text = "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\n[[sign]]\nat = \"2027-04-10\"\nsign = \"swallowed-object\"\n";
        assert_eq!(answer(text).hold(Action::OfferMeal).map(|hold| hold.until), Some(None));
    }
}
