//! Swellings, and what the shape of the body shows.

use records::facts::SignKind;

use super::tell;
use crate::answer::{Code, Severity};
use crate::draft::{Draft, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::View;

/// A swelling that is no meal.
pub const SWELLING: Rule = Rule {
    key: "swelling",
    says: "A lump, or a swelling in the middle that is no meal and no clutch: a veterinarian.",
    because: "What lies under the skin cannot be told from outside.",
    sources: &["bulge_after_meal"],
    check: swelling,
};

/// The spine stands out, or fat rolls.
pub const CONDITION: Rule = Rule {
    key: "shape",
    says: "A spine that stands out: a veterinarian before any meal; with wounds or weakness now.",
    because: "A starved animal dies of a full meal, and a thin one heals badly.",
    sources: &["bcs_shape"],
    check: condition,
};

fn swelling(view: &View<'_>, draft: &mut Draft) {
    tell(view, draft, SWELLING.key, Code::Swelling, |told, signs| {
        if signs.has(SignKind::Lump) {
            return;
        }
        if view.gravid().is_some() {
            told.lower(
                Severity::Note,
                "she is gravid",
                "Nothing for now; look again after she has laid or given birth.",
            );
            return;
        }
        let least = lines::low("bulge_after_meal").value;
        let meal = view
            .meals
            .last_eaten()
            .filter(|eaten| eaten.stayed && view.days_since(eaten.at) <= eaten.digestion_d.unwrap_or(0.0).max(least));
        if let Some(meal) = meal {
            told.lower(
                Severity::Note,
                format!("it ate on {}", view.date_of(meal.at)),
                "Nothing for now; look again when the meal should be digested, and leave it alone until then.",
            );
            told.on(view.line.meals.get(meal.index).map(seen));
            return;
        }
        if let Some((meal, up)) = view
            .last_regurgitation()
            .filter(|(_, up)| view.days_since(*up) <= lines::low("regurgitation_repeated_within").value)
        {
            told.beside(format!("and a meal came up on {}: say so", view.date_of(up)));
            told.on([seen(meal)]);
        }
    });
}

fn condition(view: &View<'_>, draft: &mut Draft) {
    tell(view, draft, CONDITION.key, Code::Emaciation, |told, signs| {
        let wound = signs.of_code(Code::Injury).into_iter().find(|one| Severity::Vet <= one.meaning.severity);
        if let Some(beside) = wound.or_else(|| signs.weak().into_iter().next()) {
            let does = "Call a reptile veterinarian now; warmth and water until then, and no meal.";
            told.raise(Severity::Urgent, format!("with it: {}", beside.meaning.says), does);
            told.caution("refeeding");
            told.on(beside.evidence());
        }
    });
    for code in [Code::ConditionThin, Code::ConditionHeavy] {
        tell(view, draft, CONDITION.key, code, |_, _| {});
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;

    #[test]
    fn a_swelling_is_seen_unless_it_is_the_last_meal() {
        let meal = |day: &str| format!("[[meal]]\nat = \"{day}\"\noutcome = \"taken\"\n");
        let gravid = "[[breeding]]\nat = \"2027-03-20\"\nwhat = \"gravid\"\n";
        for (sign, rest, severity) in [
            ("lump", String::new(), Severity::Vet),
            ("lump", meal("2027-04-08"), Severity::Vet),
            ("mid-body-swelling", String::new(), Severity::Vet),
            ("mid-body-swelling", meal("2027-04-03"), Severity::Note),
            ("mid-body-swelling", meal("2027-04-01"), Severity::Vet),
            ("mid-body-swelling", gravid.to_owned(), Severity::Note),
        ] {
            assert_eq!(with(&[(sign, "")], &rest, Code::Swelling), Some(severity), "{sign} {rest}");
        }
    }

    #[test]
    fn a_starved_animal_with_wounds_or_weakness_is_urgent() {
        for (signs, severity) in [
            (&[("spine-showing", "marked")][..], Severity::Vet),
            (&[("spine-showing", "severe")], Severity::Vet),
            (&[("spine-showing", "severe"), ("wound", "slight")], Severity::Vet),
            (&[("spine-showing", "severe"), ("wound", "severe")], Severity::Urgent),
            (&[("spine-showing", "marked"), ("weak", "")], Severity::Urgent),
        ] {
            assert_eq!(with(signs, "", Code::Emaciation), Some(severity), "{signs:?}");
        }
        assert_eq!(with(&[("spine-showing", "slight")], "", Code::Emaciation), None);
        assert_eq!(with(&[("spine-showing", "slight")], "", Code::ConditionThin), Some(Severity::Watch));
    }
}
