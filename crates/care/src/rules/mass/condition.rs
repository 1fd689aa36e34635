//! Mass for length: far above or below what adults of the species weigh at that length.

use crate::age;
use crate::answer::{Code, Finding, Severity, Sure};
use crate::condition::{Sample, scaled, score};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, grams, times};

/// Mass against length.
pub const RULE: Rule = Rule {
    key: "condition",
    says: "A shape that scores 3 or less, or 7 or more, of 9 by eye is told; mass far from what the adult figures of the profile, scaled with length cubed, would give, or outside of nine in ten of a sample of the species, is worth a look at the shape.",
    because: "One number is no verdict; the shape of the back is.",
    sources: &[
        "mass_heavy_for_length",
        "mass_thin_for_length",
        "mass_cannot_be",
        "scaled_mass",
        "body_score_thin",
        "body_score_heavy",
        "bcs_shape",
    ],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    for_length(view, draft);
    let told = |draft: &Draft| {
        [Code::ConditionHeavy, Code::ConditionThin, Code::MassSuspect].iter().any(|code| draft.found(*code).is_some())
    };
    if !told(draft) && view.gravid().is_none() {
        against_a_sample(view, draft);
    }
    by_eye(view, draft);
}

/// The score that the keeper gave its shape.
fn by_eye(view: &View<'_>, draft: &mut Draft) {
    let Some((found, weighing)) = score::last(view) else { return };
    let (value, given) = (f64::from(found), view.date(weighing.at.from));
    let thin = [2, 1, 0].map(|step| lines::step("body_score_thin", step));
    let heavy = [1, 0].map(|step| lines::step("body_score_heavy", step));
    let says = format!("By eye it scored {found} of 9 on {given}: {}.", score::word(found));
    let thin =
        thin.into_iter().zip([Severity::Vet, Severity::Act, Severity::Watch]).find(|(line, _)| value <= line.value);
    let heavy = heavy.into_iter().zip([Severity::Act, Severity::Watch]).find(|(line, _)| line.value <= value);
    let (code, line, severity, does) = match (thin, heavy) {
        (Some((line, severity)), _) => {
            let does = match severity {
                Severity::Vet => {
                    "Call a reptile veterinarian before the next meal; a starved animal is not simply fed."
                }
                _ => {
                    "Weigh it every week, look at heat, mouth and waste, and show it to a reptile veterinarian if it does not gain."
                }
            };
            (Code::ConditionThin, line, severity, does)
        }
        (None, Some((line, severity))) if view.gravid().is_none() => (
            Code::ConditionHeavy,
            line,
            severity,
            "Fewer, not larger meals, and more room to move; a reptile veterinarian can tell how far.",
        ),
        _ => return,
    };
    let finding = Finding::new(code, severity, RULE.key, says, does).on([seen(weighing)]).by(&line, "score");
    let finding = finding.sure(Sure::Likely);
    draft.find(if Severity::Vet <= severity { finding.caution("call-veterinarian") } else { finding });
}

/// Outside of nine in ten of a published sample of its species, and by more than the tape may be off.
fn against_a_sample(view: &View<'_>, draft: &mut Draft) {
    let Some((mass_g, length_cm, weighing, measurement)) = scaled::body(view) else { return };
    let Some(sample) = Sample::published(&view.profile.key) else { return };
    let Some(found) = sample.index(mass_g, length_cm) else { return };
    let outside = sample.outside(&found);
    let (code, word) = if outside < 0.0 {
        (Code::ConditionThin, "light")
    } else if 0.0 < outside {
        (Code::ConditionHeavy, "heavy")
    } else {
        return;
    };
    let (low, high) = sample.between_g;
    let says = format!(
        "{} at {length_cm:.0} cm is {} scaled to {:.0} cm; nine in ten of {} animals weigh {} to {}: {word} for its length, or a slip of the tape.",
        grams(mass_g),
        grams(found.index_g),
        sample.length_cm,
        sample.animals,
        grams(low),
        grams(high)
    );
    let does = "Look along its back and note the score with its next weight; measure once more.";
    let line = Line { value: if outside < 0.0 { low } else { high }, source: sample.source };
    let weighing = view.line.weighings.get(weighing).map(seen);
    let measurement = view.line.measurements.get(measurement).map(seen);
    draft.find(
        Finding::new(code, Severity::Note, RULE.key, says, does)
            .on(weighing.into_iter().chain(measurement))
            .by(&line, "g")
            .sure(Sure::Possible),
    );
}

/// Far off what the adult figures of the profile give, scaled with length cubed.
fn for_length(view: &View<'_>, draft: &mut Draft) {
    let sex = view.case.animal.sex;
    let (Some(adult_m), Some(adult_g)) = (age::adult_length_m(view.profile, sex), age::adult_mass_g(view.profile, sex))
    else {
        return;
    };
    let Some(measured) = view.line.measurements.iter().rev().find(|one| one.total_length_cm.is_some()) else { return };
    let Some(length_cm) = measured.total_length_cm else { return };
    let last_guess = view.line.weighings.last().filter(|last| last.estimated);
    let (mass_g, weighing) = match (view.masses.last(), last_guess) {
        (Some(last), _) => (last.empty_g.unwrap_or(last.mass_g), view.line.weighings.get(last.index)),
        (None, Some(guess)) => (guess.mass_g, Some(guess)),
        (None, None) => return,
    };
    let Some(weighing) = weighing else { return };
    /// Further apart the two do not belong together, least of all in a growing animal.
    const TOGETHER_D: f64 = 120.0;
    if TOGETHER_D < weighing.at.from.days_since(measured.at.from).abs() || view.gravid().is_some() {
        return;
    }
    let expected_g = adult_g * (length_cm / (100.0 * adult_m)).powi(3);
    let ratio = mass_g / expected_g;
    let (heavy, thin) = (lines::low("mass_heavy_for_length"), lines::low("mass_thin_for_length"));
    let about = format!(
        "{} at {length_cm:.0} cm is about {} times what adults of the species weigh, scaled to that length ({})",
        grams(mass_g),
        times(ratio),
        grams(expected_g)
    );
    let records = [seen(weighing), seen(measured)];
    let slip = lines::group("mass_cannot_be", "so many times off what its length gives");
    if slip.value < ratio || ratio < 1.0 / slip.value {
        let does = "Look at the units of both (grams and centimetres), and weigh and measure once more.";
        let says = format!("{about}: one of the two is a slip.");
        draft.find(
            Finding::new(Code::MassSuspect, Severity::Act, RULE.key, says, does)
                .on(records)
                .by(&slip, "x")
                .sure(Sure::Likely),
        );
        return;
    }
    if heavy.value <= ratio {
        let does = "Look at the shape: rolls in curves or a groove along the back say heavy. Fewer, not larger meals; a reptile veterinarian can tell how far.";
        draft.find(
            Finding::new(
                Code::ConditionHeavy,
                Severity::Watch,
                RULE.key,
                format!("{about}: heavy for its length, or a slip in one of the two."),
                does,
            )
            .on(records)
            .by(&heavy, "x")
            .sure(Sure::Possible),
        );
    } else if ratio <= thin.value {
        let does = "Look at the shape: a ridge along the back says thin. Measure and weigh once more; thin in truth is a matter for a reptile veterinarian.";
        draft.find(
            Finding::new(
                Code::ConditionThin,
                Severity::Watch,
                RULE.key,
                format!("{about}: light for its length, or a slip in one of the two."),
                does,
            )
            .on(records)
            .by(&thin, "x")
            .sure(Sure::Possible),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn only_what_is_far_off_is_said() {
        // Burmese python, female: the middle of the profile's adult figures, scaled with length cubed
        let profile = species::library().profile("burmese_python").unwrap();
        let sex = Some(records::facts::Sex::Female);
        let (adult_m, adult_g) = (age::adult_length_m(profile, sex).unwrap(), age::adult_mass_g(profile, sex).unwrap());
        let usual = adult_g * (3.0 / adult_m).powi(3);
        for (times, code) in [
            (0.39, Some(Code::ConditionThin)),
            (0.5, None),
            (1.0, None),
            (1.7, None),
            (1.9, Some(Code::ConditionHeavy)),
        ] {
            let answer = answer(&format!(
                "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"burmese_python\"\nsex = \"female\"\nstage = \"adult\"\n\
                 [[weighing]]\nat = \"2027-06-10\"\nmass_g = {}\n[[measurement]]\nat = \"2027-06-10\"\ntotal_length_cm = 300\n",
                usual * times
            ));
            for one in [Code::ConditionThin, Code::ConditionHeavy] {
                assert_eq!(answer.finding(one).is_some(), Some(one) == code, "{times} times the usual");
            }
        }
    }

    #[test]
    fn the_score_that_the_keeper_gave_is_told_where_it_is_thin_or_heavy() {
        let scored = |score: u8, day: &str| {
            answer(&format!(
                "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"ball_python\"\nstage = \"adult\"\n\
                 [[weighing]]\nat = \"{day}\"\nmass_g = 1500\nbody_score = {score}\n"
            ))
        };
        for (score, told) in [
            (1, Some((Code::ConditionThin, Severity::Vet))),
            (2, Some((Code::ConditionThin, Severity::Act))),
            (3, Some((Code::ConditionThin, Severity::Watch))),
            (4, None),
            (5, None),
            (6, None),
            (7, Some((Code::ConditionHeavy, Severity::Watch))),
            (8, Some((Code::ConditionHeavy, Severity::Watch))),
            (9, Some((Code::ConditionHeavy, Severity::Act))),
        ] {
            let answer = scored(score, "2027-06-10");
            let found = [Code::ConditionThin, Code::ConditionHeavy]
                .into_iter()
                .find_map(|code| answer.finding(code).map(|found| (code, found.severity)));
            assert_eq!(found, told, "score {score}");
        }
        assert!(scored(2, "2027-03-01").finding(Code::ConditionThin).is_none(), "a score of the spring is old");
    }

    #[test]
    fn a_corn_snake_far_from_a_sample_of_its_kind_is_noted() {
        // Physiology notes, check E8: 5 to 95 % of 146 animals 118.0 to 182.1 g at 85.22 cm, the tape 6 %: 121.345 cm and
        // 320 g are 109 g there, 580 g 198 g.
        for (length, mass, told) in [
            (133.474, 640.658, None),
            (121.345, 320.0, Some(Code::ConditionThin)),
            (121.345, 330.0, None),
            (121.345, 560.0, None),
            (121.345, 580.0, Some(Code::ConditionHeavy)),
        ] {
            let answer = answer(&format!(
                "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n\
                 [[weighing]]\nat = \"2027-06-10\"\nmass_g = {mass}\n[[measurement]]\nat = \"2027-06-10\"\ntotal_length_cm = {length}\n"
            ));
            for code in [Code::ConditionThin, Code::ConditionHeavy] {
                let found = answer.finding(code).map(|found| found.severity);
                assert_eq!(found, (Some(code) == told).then_some(Severity::Note), "{mass} g at {length} cm");
            }
        }
    }
}
