//! Signs of illness: what was seen, how grave it is beside everything else, and whom to call. Never a diagnosis.
//!
//! What a sign means by itself is in the table of the species data ([`crate::signs`]); the rules here say what raises
//! or lowers it.

mod body;
mod breathing;
mod burn;
mod contact;
mod death;
mod eggs;
mod eye;
mod illness;
mod mites;
mod mouth;
mod nerves;
mod refeeding;
mod stools;
mod strength;
mod swallowed;
mod treatment;
mod water;
mod wounds;

use super::Rule;
use crate::answer::{Code, Severity};
use crate::draft::Draft;
use crate::rules::arrival::is_gone;
use crate::signs::{Signs, Told};
use crate::view::View;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[
    death::RULE,
    breathing::RULE,
    mouth::RULE,
    burn::RULE,
    mites::RULE,
    nerves::RULE,
    strength::RULE,
    eggs::RULE,
    eggs::PROLAPSE,
    stools::RULE,
    body::SWELLING,
    body::CONDITION,
    refeeding::RULE,
    wounds::BLEEDING,
    wounds::INJURY,
    water::RULE,
    eye::RULE,
    swallowed::RULE,
    contact::RULE,
    treatment::RULE,
    illness::RULE,
];

/// The finding of one code with what stands beside it; nothing for an animal that is dead or missing.
fn tell(
    view: &View<'_>,
    draft: &mut Draft,
    rule: &'static str,
    code: Code,
    beside: impl FnOnce(&mut Told, &Signs<'_>),
) {
    if is_gone(view) {
        return;
    }
    let signs = Signs::of(view);
    if let Some(mut told) = Told::of(view, code, &signs.of_code(code)) {
        beside(&mut told, &signs);
        if view.is_brumating() && Severity::Vet <= told.severity {
            told.beside("its winter rest ends with this: it is warmed over days, as the veterinarian says");
            told.from(crate::lines::source("brum_never"));
        }
        draft.find(told.finding(rule));
    }
}

/// «it is weak as well»: raises what is grave beside failing strength.
fn weak_as_well(told: &mut Told, signs: &Signs<'_>, to: Severity, does: &str) {
    let weak = signs.weak();
    if let Some(first) = weak.first() {
        let words = first.meaning.says;
        told.raise(to, format!("with it: {words}"), does);
        told.on(weak.iter().flat_map(|one| one.evidence()));
    }
}

/// What every call for help now begins with.
const CALL_NOW: &str = "Call a reptile veterinarian now; until then keep it in its own warmth, level and quiet.";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;
    use records::choice::Choice;
    use records::facts::{Grade, SignKind};

    /// The severity of a finding for an adult corn snake with these signs (sign, grade), seen this morning.
    pub(super) fn with(signs: &[(&str, &str)], rest: &str, code: Code) -> Option<Severity> {
        let mut text = "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n".to_owned();
        for (sign, grade) in signs {
            text.push_str(&format!("[[sign]]\nat = \"2027-04-10T08:00\"\nsign = \"{sign}\"\n"));
            if !grade.is_empty() {
                text.push_str(&format!("grade = \"{grade}\"\n"));
            }
        }
        answer(&format!("{text}{rest}")).finding(code).map(|found| found.severity)
    }

    #[test]
    fn every_sign_of_every_grade_has_its_meaning() {
        for sign in SignKind::ALL {
            for grade in Grade::ALL.iter().map(|grade| Some(*grade)).chain([None]) {
                let meaning = crate::signs::meaning(*sign, grade);
                let meaning = meaning.unwrap_or_else(|| panic!("{sign} has no row in signs.toml"));
                assert!(!meaning.says.is_empty() && meaning.does.ends_with('.'), "{sign}");
                assert!(
                    meaning.caution.is_none_or(|key| species::library().caution(key).is_some()),
                    "{sign}: its caution is not in cautions.toml"
                );
                assert!(
                    species::library().source(&meaning.source.key).is_some(),
                    "{sign}: its source is not in sources.toml"
                );
            }
        }
    }

    /// The keys of cautions in the text of every rule, with the file.
    fn caution_keys(folder: &std::path::Path, keys: &mut Vec<(String, String)>) {
        const CALL: &str = "caution(\"";
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                caution_keys(&path, keys);
            } else if path.extension().is_some_and(|end| end == "rs") {
                let text = std::fs::read_to_string(&path).unwrap();
                let called = text.split(CALL).skip(1).filter_map(|rest| rest.split('"').next());
                keys.extend(called.map(|key| (key.to_owned(), path.display().to_string())));
            }
        }
    }

    #[test]
    fn every_caution_that_a_rule_names_is_in_the_data() {
        let mut keys = Vec::new();
        caution_keys(&std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/rules"), &mut keys);
        keys.retain(|(key, _)| key.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-') && !key.is_empty());
        assert!(20 < keys.len(), "the rules name cautions");
        for (key, file) in keys {
            assert!(species::library().caution(&key).is_some(), "{file}: there is no caution `{key}`");
        }
    }

    #[test]
    fn every_row_of_the_table_can_be_read() {
        for row in &species::library().signs {
            assert!(SignKind::from_key(&row.sign).is_some(), "{}", row.sign);
            assert!(
                row.grade.as_deref().is_none_or(|grade| Grade::from_key(grade).is_some()),
                "{}: {:?}",
                row.sign,
                row.grade
            );
            assert!(
                row.code.as_deref().is_none_or(|code| Code::from_key(code).is_some()),
                "{}: {:?}",
                row.sign,
                row.code
            );
            assert!(
                row.severity.as_deref().is_none_or(|severity| Severity::from_key(severity).is_some()),
                "{}",
                row.sign
            );
            assert_eq!(row.code.is_some(), row.severity.is_some(), "{}: a finding has a severity", row.sign);
        }
    }

    #[test]
    fn a_graver_grade_is_never_milder() {
        for sign in SignKind::ALL {
            let of = |grade| crate::signs::meaning(*sign, Some(grade)).map(|meaning| meaning.severity);
            assert!(of(Grade::Slight) <= of(Grade::Marked) && of(Grade::Marked) <= of(Grade::Severe), "{sign}");
        }
    }

    #[test]
    fn every_sign_that_means_something_is_told() {
        for sign in SignKind::ALL {
            let Some(code) = crate::signs::meaning(*sign, None).and_then(|meaning| meaning.code) else { continue };
            let text = format!(
                "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[sign]]\nat = \"2027-04-10T08:00\"\nsign = \"{sign}\"\n"
            );
            let told = answer(&text);
            let found = told.finding(code).unwrap_or_else(|| panic!("{sign} should lead to {code}"));
            assert!(!found.says.is_empty() && !found.does.is_empty() && !found.source.is_empty(), "{sign}");
            assert!(!found.records.is_empty(), "{sign}: a finding names its record");
        }
    }

    #[test]
    fn a_sign_stands_for_its_days_and_until_it_is_gone() {
        //    sign        days it stands (table), then gone
        for (sign, code, last, first_free) in [
            ("wheezing", Code::Breathing, "2027-04-15T23:59", "2027-04-16T00:00"),
            ("mites-seen", Code::Mites, "2027-05-31T23:59", "2027-06-01T00:00"),
        ] {
            for (at, stands) in [(last, true), (first_free, false)] {
                let text = format!(
                    "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\n[[sign]]\nat = \"2027-04-01\"\nsign = \"{sign}\"\n"
                );
                assert_eq!(answer(&text).finding(code).is_some(), stands, "{sign} at {at}");
                let gone = format!("{text}cleared_at = \"2027-04-09\"\n");
                assert!(answer(&gone).finding(code).is_none(), "{sign}, noted as gone");
            }
        }
    }

    #[test]
    fn a_wound_stands_until_it_is_noted_as_healed() {
        for sign in ["wound", "bite-wound"] {
            for (cleared, stands) in [("", true), ("cleared_at = \"2028-03-31\"\n", false)] {
                let text = format!(
                    "at = \"2028-04-01T12:00\"\n[animal]\nspecies = \"corn_snake\"\n[[sign]]\nat = \"2027-04-01\"\nsign = \"{sign}\"\n{cleared}"
                );
                assert_eq!(answer(&text).finding(Code::Injury).is_some(), stands, "{sign} {cleared}");
            }
        }
    }

    #[test]
    fn the_latest_record_says_how_marked_it_is() {
        let text = "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\n[[sign]]\nat = \"2027-04-02\"\nsign = \"wrinkled-skin\"\ngrade = \"severe\"\n\
                    [[sign]]\nat = \"2027-04-09\"\nsign = \"wrinkled-skin\"\ngrade = \"slight\"\n";
        assert_eq!(answer(text).finding(Code::Dehydration).map(|found| found.severity), Some(Severity::Watch));
    }

    #[test]
    fn two_wounds_are_two_wounds() {
        let text = "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\n[[sign]]\nat = \"2027-04-02\"\nsign = \"wound\"\ngrade = \"severe\"\n\
                    [[sign]]\nat = \"2027-04-09\"\nsign = \"wound\"\ngrade = \"slight\"\n";
        assert_eq!(answer(text).finding(Code::Injury).map(|found| found.severity), Some(Severity::Vet));
    }

    #[test]
    fn a_note_changes_nothing() {
        let plain = with(&[("wheezing", "slight")], "", Code::Breathing);
        let noted = with(&[("wheezing", "slight")], "note = \"gasping, nearly dead\"\n", Code::Breathing);
        assert_eq!(plain, noted);
    }

    #[test]
    fn illness_ends_a_winter_rest() {
        let rest = "[[planned]]\nfrom = \"2027-03-01\"\nuntil = \"2027-05-01\"\nwhat = \"brumation\"\n";
        for (rest, said) in [(rest, true), ("", false)] {
            let text = format!(
                "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[sign]]\nat = \"2027-04-10\"\nsign = \"wheezing\"\n{rest}"
            );
            assert_eq!(answer(&text).finding(Code::Breathing).unwrap().says.contains("winter rest"), said);
        }
    }

    #[test]
    fn no_finding_names_a_disease() {
        for row in &species::library().signs {
            for word in ["infection", "pneumonia", "stomatitis", "scale rot", "septic", "virus", "parasit", "impaction"]
            {
                assert!(
                    !row.says.to_lowercase().contains(word) && !row.does.to_lowercase().contains(word),
                    "{}: {word}",
                    row.sign
                );
            }
        }
    }

    proptest::proptest! {
        #![proptest_config(proptest::prelude::ProptestConfig::with_cases(200))]

        /// Whatever is seen at once: every finding is told once, in a sentence, with source and record; an ill animal
        /// gets no meal; a veterinarian is called where a finding asks for one.
        #[test]
        fn any_signs_together_give_a_whole_answer(
            signs in proptest::collection::vec((0..SignKind::ALL.len(), 0_usize..4, 0_i64..20), 1..7),
            others in proptest::bool::ANY,
        ) {
            let now = crate::testing::moment("2027-04-20T18:00");
            let zone = units::Zone::none();
            let mut text = format!("at = \"2027-04-20T18:00\"\n[animal]\nspecies = \"ball_python\"\nstage = \"adult\"\n[household]\nother_reptiles = {others}\n");
            for (sign, grade, days_ago) in &signs {
                let day = zone.date(now.plus_days(-(*days_ago as f64)));
                text.push_str(&format!("[[sign]]\nat = \"{day}\"\nsign = \"{}\"\n", SignKind::ALL[*sign]));
                if let Some(grade) = Grade::ALL.get(*grade) {
                    text.push_str(&format!("grade = \"{grade}\"\n"));
                }
            }
            let answer = answer(&text);
            let mut codes: Vec<Code> = answer.findings.iter().map(|found| found.code).collect();
            codes.sort();
            codes.dedup();
            proptest::prop_assert_eq!(codes.len(), answer.findings.len(), "said twice");
            for found in &answer.findings {
                proptest::prop_assert!(found.says.ends_with('.') && found.does.ends_with('.'), "{}: {} {}", found.code, found.says, found.does);
                proptest::prop_assert!(!found.source.is_empty() && !found.rule.is_empty(), "{} names no source", found.code);
            }
            let case = crate::testing::case(&text);
            let profile = species::library().profile("ball_python").unwrap();
            let view = View::new(&case, profile, now);
            if !is_gone(&view) {
                let ill = Signs::of(&view).iter().any(|one| one.meaning.ill && Severity::Vet <= one.meaning.severity);
                proptest::prop_assert!(!ill || answer.hold(crate::answer::Action::OfferMeal).is_some(), "an ill animal gets no meal");
                let grave = answer.findings.iter().any(|found| found.code == Code::Breathing || found.code == Code::Prolapse);
                let called = answer.due(crate::answer::Task::VetVisit).is_some();
                let vet = answer.findings.iter().any(|found| Severity::Vet <= found.severity && grave);
                proptest::prop_assert!(!vet || called, "a veterinarian is called");
            }
        }
    }
}
