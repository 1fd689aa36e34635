//! Large snakes are never opened alone.

use records::facts::{Sex, Stage};
use species::Figures;

use super::{is_giant, length_m};
use crate::answer::{Code, Evidence, Finding, Severity, Sure};
use crate::draft::{Draft, Line, seen, undated};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::view::{View, grams, metres};

/// A second adult for large pythons and boas.
pub const RULE: Rule = Rule {
    key: "two-persons",
    says: "Pythons and boas from 2.4 m or 10 kg are never opened or handled alone, giants from 1.8 m not fed or cleaned alone; from 1.5 m a note; a third adult from 4.3 m.",
    because: "A large constrictor that holds on cannot be unwound by the one it holds.",
    sources: &["two_person_length", "three_person_length", "giants"],
    check,
};

const GIANTS_FED: &str = "feeding and cleaning of reticulated, Burmese, rock and scrub pythons and anacondas";

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) || !view.is_constrictor_family() {
        return;
    }
    let length = length_m(view);
    let mass = view.line.weighings.last();
    let from_length = lines::group("two_person_length", "total length");
    let from_mass = lines::group("two_person_length", "mass");
    let note = lines::group("two_person_length", "note only");
    let giant_fed = lines::group("two_person_length", GIANTS_FED);

    if let Some(length) = length.filter(|length| from_length.value <= length.value) {
        tell(
            draft,
            Severity::Act,
            format!("It measures {}; a second adult is wanted from {} m on.", metres(length.value), from_length.value),
            two(length.value),
            length.record,
            &from_length,
            "m",
            Sure::Firm,
        );
        return;
    }
    if let Some(mass) = mass.filter(|mass| from_mass.value * 1000.0 <= mass.mass_g) {
        let sure = if mass.estimated { Sure::Possible } else { Sure::Firm };
        let by = if mass.estimated { "It is guessed at" } else { "It weighs" };
        let says = format!("{by} {}; a second adult is wanted from {} kg on.", grams(mass.mass_g), from_mass.value);
        tell(
            draft,
            Severity::Act,
            says,
            two(length.map_or(0.0, |length| length.value)),
            Some(seen(mass)),
            &from_mass,
            "kg",
            sure,
        );
        return;
    }
    if let Some(length) = length {
        if is_giant(view) && giant_fed.value <= length.value {
            let says = format!(
                "It measures {} and grows into a giant; from {} m on it is not fed or cleaned alone.",
                metres(length.value),
                giant_fed.value
            );
            let does = "Have a second adult near at every feeding and cleaning, and prey on long tongs.";
            tell(draft, Severity::Watch, says, does.to_owned(), length.record, &giant_fed, "m", Sure::Firm);
        } else if note.value <= length.value {
            let says = format!(
                "It measures {}; some keepers want a second adult from {} m on.",
                metres(length.value),
                note.value
            );
            let does = format!(
                "Have somebody within call when it is fed or taken out; from {} m on never alone.",
                from_length.value
            );
            tell(draft, Severity::Note, says, does, length.record, &note, "m", Sure::Firm);
        }
        return;
    }
    unmeasured(view, draft, &from_length);
}

fn two(length_m: f64) -> String {
    let third = lines::low("three_person_length").value;
    let hands = if third <= length_m { "two other adults" } else { "a second adult" };
    format!(
        "Never open, feed or handle it without {hands} in the room; no loop round a neck, and children and other animals out."
    )
}

#[expect(clippy::too_many_arguments, reason = "the parts of one finding, each different")]
fn tell(
    draft: &mut Draft,
    severity: Severity,
    says: String,
    does: String,
    record: Option<Evidence>,
    line: &Line,
    unit: &'static str,
    sure: Sure,
) {
    let caution = if severity == Severity::Watch { "giant-feeding" } else { "large-constrictor" };
    draft.find(
        Finding::new(Code::TwoPersonHandling, severity, RULE.key, says, does)
            .on(record)
            .by(line, unit)
            .caution(caution)
            .sure(sure),
    );
}

/// Grown, of a kind that reaches the length, and never measured.
fn unmeasured(view: &View<'_>, draft: &mut Draft, line: &Line) {
    if !matches!(view.stage, Some(Stage::Adult | Stage::Aged)) {
        return;
    }
    let size = &view.profile.size;
    let low = |figures: &Figures| figures.first().map(|figure| figure.low);
    let usual = match view.sex() {
        Some(Sex::Female) => low(&size.adult_length_m_female).or_else(|| low(&size.adult_length_m_any)),
        Some(Sex::Male) => low(&size.adult_length_m_male).or_else(|| low(&size.adult_length_m_any)),
        _ => low(&size.adult_length_m_male).or_else(|| low(&size.adult_length_m_any)),
    };
    let Some(usual) = usual.filter(|usual| line.value <= *usual && !view.profile.general) else { return };
    let says = format!(
        "It was never measured, and adults of its kind reach {usual:.1} m and more; a second adult is wanted from {} m on.",
        line.value
    );
    let does = "Measure it with a second adult, and until then do not open, feed or handle it alone.";
    tell(draft, Severity::Watch, says, does.to_owned(), Some(undated(view.case.animal.key)), line, "m", Sure::Likely);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn told(species: &str, rest: &str) -> Option<Severity> {
        let text =
            format!("at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"{species}\"\nstage = \"subadult\"\n{rest}");
        let answer = answer(&text);
        let found = answer.finding(Code::TwoPersonHandling)?;
        assert!(found.caution.is_some(), "the danger is said beside it");
        Some(found.severity)
    }

    #[test]
    fn by_length() {
        for (species, cm, severity) in [
            ("boa_imperator", 149.0, None),
            ("boa_imperator", 150.0, Some(Severity::Note)),
            ("boa_imperator", 239.0, Some(Severity::Note)),
            ("boa_imperator", 240.0, Some(Severity::Act)),
            ("Python bivittatus", 179.0, Some(Severity::Note)),
            ("Python bivittatus", 180.0, Some(Severity::Watch)),
            ("Python bivittatus", 240.0, Some(Severity::Act)),
            ("corn_snake", 250.0, None),
        ] {
            assert_eq!(
                told(species, &format!("[[measurement]]\nat = \"2027-06-01\"\ntotal_length_cm = {cm}\n")),
                severity,
                "{species} of {cm} cm"
            );
        }
    }

    #[test]
    fn by_mass() {
        for (mass, severity) in [(9_999.0, None), (10_000.0, Some(Severity::Act))] {
            assert_eq!(
                told("boa_imperator", &format!("[[weighing]]\nat = \"2027-06-01\"\nmass_g = {mass}\n")),
                severity,
                "{mass} g"
            );
        }
        assert_eq!(told("corn_snake", "[[weighing]]\nat = \"2027-06-01\"\nmass_g = 12000\n"), None);
    }

    #[test]
    fn a_grown_giant_that_was_never_measured() {
        for (species, stage, severity) in [
            ("Python bivittatus", "adult", Some(Severity::Watch)),
            ("Python bivittatus", "juvenile", None),
            ("ball_python", "adult", None),
        ] {
            let text = format!(
                "at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"{species}\"\nstage = \"{stage}\"\nsex = \"female\"\n"
            );
            assert_eq!(
                answer(&text).finding(Code::TwoPersonHandling).map(|found| found.severity),
                severity,
                "{species}, {stage}"
            );
        }
    }
}
