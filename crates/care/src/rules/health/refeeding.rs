//! The first meals after starvation, a long absence, or a long fast with loss of mass.

use crate::answer::{Code, Finding, Severity};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::{is_gone, missing_before};
use crate::signs::Signs;
use crate::view::{View, days, number};
use records::facts::SignKind;

/// Small meals first.
pub const RULE: Rule = Rule {
    key: "refeed-gently",
    says: "After starvation, a month or more of absence, or a long fast with a tenth of its mass lost: warmth and water, a veterinarian where it is that grave, then three small meals.",
    because: "A full meal can kill an animal that has had none for long.",
    sources: &["absence_long", "refeed_meals", "weight_loss_vet"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let signs = Signs::of(view);
    let meals = number(lines::low("refeed_meals").value);
    let slowly = format!("then {meals} small meals, each a third to half of the usual, before a full one");
    if let Some(thin) = signs.of_code(Code::Emaciation).first() {
        let says = format!("It is starved: its first {meals} meals must be small.");
        let does = format!("Warmth and water first, then what the reptile veterinarian says, {slowly}.");
        draft.find(told(Severity::Act, says, does, &lines::low("refeed_meals"), "meals").on(thin.evidence()));
        return;
    }
    if let Some((severity, away_d, records)) = long_away(view) {
        let says = format!("It was away for {} with no meal on record since before.", days(away_d));
        let does = match severity {
            Severity::Vet => format!(
                "Weigh it, give water and its own warmth, have it seen by a reptile veterinarian before the first meal, {slowly}."
            ),
            _ => format!("Weigh it, give water and its own warmth, {slowly}."),
        };
        let line = if severity == Severity::Vet { lines::high("absence_long") } else { lines::low("absence_long") };
        let finding = told(severity, says, does, &line, "d").on(records);
        draft.find(if severity == Severity::Vet { finding.caution("call-veterinarian") } else { finding });
        return;
    }
    let Some(last) = view.meals.last_taken.and_then(|index| view.line.meals.get(index)) else { return };
    let (fast, lost) = (lines::high("refusal_general").value, lines::low("weight_loss_vet"));
    let without_d = view.days_since(last.at);
    if let Some(loss) = view.masses.loss_pct.filter(|loss| lost.value <= *loss && fast <= without_d) {
        let says = format!(
            "Nothing eaten for {} and {} % lighter: its first {meals} meals must be small.",
            days(without_d),
            number(loss)
        );
        let does = format!("Ask a reptile veterinarian before the first meal, {slowly}.");
        draft.find(told(Severity::Act, says, does, &lost, "%").on([seen(last)]));
    }
}

fn told(severity: Severity, says: String, does: String, line: &Line, unit: &'static str) -> Finding {
    Finding::new(Code::RefeedGently, severity, RULE.key, says, does).by(line, unit).caution("refeeding")
}

/// Back after a long absence, and not yet fed as often as wanted: how grave, how many days, the records.
fn long_away(view: &View<'_>) -> Option<(Severity, f64, Vec<crate::answer::Evidence>)> {
    let found = view.line.signs.iter().rev().find(|one| one.sign == SignKind::Found)?;
    let missing = missing_before(view, found)?;
    let away_d = found.at.from.days_since(missing.at.from);
    let line = lines::low("absence_long");
    if away_d < line.value || lines::low("refeed_window").value <= view.days_since(found.at) {
        return None;
    }
    let since = view.meals.eaten.iter().filter(|meal| meal.stayed && found.at.from <= meal.at.from).count() as f64;
    if lines::low("refeed_meals").value <= since {
        return None;
    }
    // One that has eaten and kept it down is over the worst.
    let grave = lines::high("absence_long").value <= away_d && since == 0.0;
    Some((if grave { Severity::Vet } else { Severity::Act }, away_d, vec![seen(missing), seen(found)]))
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;
    use crate::testing::answer;

    fn back(missing: &str, rest: &str) -> Option<Severity> {
        let text = format!(
            "at = \"2027-06-20T19:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[sign]]\nat = \"{missing}\"\nsign = \"missing\"\n\
             [[sign]]\nat = \"2027-06-18T12:00\"\nsign = \"found\"\n{rest}"
        );
        answer(&text).finding(Code::RefeedGently).map(|found| found.severity)
    }

    #[test]
    fn a_long_absence_means_small_meals_and_a_very_long_one_a_veterinarian() {
        for (missing, severity) in [
            ("2027-05-19T13:00", None),
            ("2027-05-19T12:00", Some(Severity::Act)),
            ("2027-03-20T13:00", Some(Severity::Act)),
            ("2027-03-20T12:00", Some(Severity::Vet)),
        ] {
            assert_eq!(back(missing, ""), severity, "missing since {missing}");
        }
    }

    #[test]
    fn a_meal_that_stayed_down_is_the_worst_over() {
        assert_eq!(
            back("2026-06-01T12:00", "[[meal]]\nat = \"2027-06-19\"\noutcome = \"taken\"\n"),
            Some(Severity::Act)
        );
    }

    #[test]
    fn a_starved_animal_begins_with_small_meals() {
        assert_eq!(with(&[("spine-showing", "severe")], "", Code::RefeedGently), Some(Severity::Act));
        assert_eq!(with(&[("spine-showing", "slight")], "", Code::RefeedGently), None);
    }

    #[test]
    fn a_long_fast_counts_with_a_tenth_of_the_mass_gone() {
        let fasting = |now_g: f64, ate: &str| {
            let rest = format!(
                "[[weighing]]\nat = \"2027-01-02\"\nmass_g = 500\n[[weighing]]\nat = \"2027-04-09\"\nmass_g = {now_g}\n[[meal]]\nat = \"{ate}\"\nmass_g = 25\noutcome = \"taken\"\n"
            );
            with(&[], &rest, Code::RefeedGently)
        };
        assert_eq!(fasting(450.0, "2027-01-10"), Some(Severity::Act));
        assert_eq!(fasting(451.0, "2027-01-10"), None);
        assert_eq!(fasting(450.0, "2027-03-01"), None);
    }
}
