//! Stools, straining, smell.

use records::facts::{Grade, SignKind};

use super::eggs;
use crate::answer::{Code, Severity, Task};
use crate::draft::Draft;
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::signs::{Signs, Standing, Told};
use crate::view::{View, capital, number};

/// Blood, worms or repeated watery stools: a sample and a veterinarian.
pub const RULE: Rule = Rule {
    key: "stools",
    says: "Blood in the stool, marked worms, or watery stools twice in a row: a veterinarian, with a fresh sample tested.",
    because: "What a stool carries is seen under a microscope, not by eye.",
    sources: &["quarantine_tests", "stools_repeat"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let signs = Signs::of(view);
    let of_mouth = !signs.of_code(Code::Mouth).is_empty();
    let of_eggs = eggs::laying(view).is_some();
    let mild = |one: &Standing<'_>| one.meaning.severity < Severity::Vet;
    let is_told_elsewhere = |one: &Standing<'_>| match one.sign {
        SignKind::FoulSmell => of_mouth,
        SignKind::Straining => of_eggs,
        SignKind::NoStool => mild(one) && (of_eggs || view.is_brumating()),
        _ => false,
    };
    let list: Vec<&Standing<'_>> =
        signs.of_code(Code::Stools).into_iter().filter(|one| !is_told_elsewhere(one)).collect();
    let Some(mut told) = Told::of(view, Code::Stools, &list) else { return };
    let has = |sign| list.iter().find(|one| one.sign == sign);
    if let Some(watery) = has(SignKind::WateryStool) {
        let repeat = lines::low("stools_repeat");
        if repeat.value <= watery.records.len() as f64 {
            let does = "Have it seen by a reptile veterinarian within a day or two with a fresh sample, and keep water before it.";
            told.raise(Severity::Vet, format!("seen {} times", number(watery.records.len() as f64)), does);
        }
    }
    if has(SignKind::Straining).is_some() && has(SignKind::NoStool).is_some() {
        told.raise(Severity::Vet, "straining without result", "Have it seen by a reptile veterinarian today or tomorrow, and offer no meal until then; do not press on it.");
    }
    let to_test = list.iter().filter(|one| is_to_test(one)).collect::<Vec<_>>();
    if let Some(first) = to_test.first() {
        let why = format!("{} was noted: a fresh sample is tested.", capital(first.meaning.says));
        let records = to_test.iter().flat_map(|one| one.evidence()).collect();
        let since = first.since().unwrap_or(view.now);
        draft.due(Task::FaecalTest, RULE.key, why, view.day_of(since), None, records);
    }
    draft.find(told.finding(RULE.key));
}

fn is_to_test(one: &Standing<'_>) -> bool {
    match one.sign {
        SignKind::BloodyStool | SignKind::WormsInStool => true,
        SignKind::WateryStool => one.grade != Some(Grade::Slight) || 1 < one.records.len(),
        SignKind::FoulSmell => matches!(one.grade, Some(Grade::Marked | Grade::Severe)),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;
    use crate::testing::answer;

    #[test]
    fn how_grave_stools_are() {
        for (signs, severity) in [
            (&[("watery-stool", "slight")][..], Severity::Watch),
            (&[("watery-stool", "")], Severity::Act),
            (&[("watery-stool", "marked")], Severity::Vet),
            (&[("worms-in-stool", "")], Severity::Act),
            (&[("worms-in-stool", "marked")], Severity::Vet),
            (&[("bloody-stool", "slight")], Severity::Vet),
            (&[("no-stool", "")], Severity::Watch),
            (&[("straining", "")], Severity::Act),
            (&[("straining", ""), ("no-stool", "")], Severity::Vet),
        ] {
            assert_eq!(with(signs, "", Code::Stools), Some(severity), "{signs:?}");
        }
    }

    #[test]
    fn a_second_watery_stool_in_a_row_is_for_a_veterinarian() {
        let earlier = |day: &str| format!("[[sign]]\nat = \"{day}\"\nsign = \"watery-stool\"\n");
        assert_eq!(with(&[("watery-stool", "")], &earlier("2027-04-01"), Code::Stools), Some(Severity::Vet));
        assert_eq!(
            with(&[("watery-stool", "")], &earlier("2027-03-20"), Code::Stools),
            Some(Severity::Act),
            "too long ago to be in a row"
        );
    }

    #[test]
    fn a_sample_is_tested() {
        for (sign, grade, due) in [
            ("bloody-stool", "", true),
            ("worms-in-stool", "slight", true),
            ("watery-stool", "slight", false),
            ("watery-stool", "marked", true),
            ("no-stool", "marked", false),
        ] {
            let grade = if grade.is_empty() { String::new() } else { format!("grade = \"{grade}\"\n") };
            let answer = answer(&format!(
                "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\n[[sign]]\nat = \"2027-04-10\"\nsign = \"{sign}\"\n{grade}"
            ));
            assert_eq!(answer.due(Task::FaecalTest).is_some(), due, "{sign} {grade}");
        }
    }
}
