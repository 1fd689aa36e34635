//! Balance, tremor, the head thrown back.

use records::facts::Prey;

use super::{CALL_NOW, tell, weak_as_well};
use crate::answer::{Code, Severity};
use crate::draft::{Draft, seen};
use crate::rules::Rule;
use crate::view::View;

/// Signs of the nerves are urgent.
pub const RULE: Rule = Rule {
    key: "nerves",
    says: "Star-gazing, trembling, loss of coordination or of righting: a veterinarian now, and apart from others.",
    because: "Heat, cold, poison, want of a vitamin or something catching can be behind it, and hours count.",
    sources: &["neuro"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    tell(view, draft, RULE.key, Code::Neurological, |told, signs| {
        weak_as_well(told, signs, Severity::Urgent, CALL_NOW);
        // Frozen fish without the vitamin it lacks does this: the veterinarian wants to know.
        if let Some(meal) = view.line.meals.iter().rev().find(|meal| meal.prey == Some(Prey::Fish) && meal.was_eaten())
        {
            told.beside("it is fed fish: say so");
            told.on([seen(meal)]);
            told.caution("fish-diet");
        }
    });
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;

    #[test]
    fn signs_of_the_nerves_are_urgent() {
        for (signs, severity) in [
            (&[("star-gazing", "")][..], Severity::Urgent),
            (&[("cannot-right-itself", "slight")], Severity::Urgent),
            (&[("tremor", "slight")], Severity::Vet),
            (&[("tremor", "slight"), ("weak", "")], Severity::Urgent),
            (&[("uncoordinated", "marked")], Severity::Urgent),
        ] {
            assert_eq!(with(signs, "", Code::Neurological), Some(severity), "{signs:?}");
        }
    }

    #[test]
    fn a_diet_of_fish_is_said_with_it() {
        use crate::testing::answer;
        let told = |prey: &str| {
            let text = format!(
                "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"Thamnophis sirtalis\"\n[[meal]]\nat = \"2027-04-02\"\nprey = \"{prey}\"\noutcome = \"taken\"\n\
                 [[sign]]\nat = \"2027-04-10\"\nsign = \"tremor\"\n"
            );
            answer(&text).finding(Code::Neurological).unwrap().says.contains("fish")
        };
        assert!(told("fish"));
        assert!(!told("earthworm"));
    }
}
