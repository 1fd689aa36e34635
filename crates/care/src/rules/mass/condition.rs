//! Mass for length: far above or below what adults of the species weigh at that length.

use crate::age;
use crate::answer::{Code, Finding, Severity, Sure};
use crate::draft::{Draft, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, grams, times};

/// Mass against length.
pub const RULE: Rule = Rule {
    key: "condition",
    says: "Mass far from what the adult figures of the profile, scaled with length cubed, would give is worth a look at the shape.",
    because: "One number is no verdict; the shape of the back is.",
    sources: &["mass_heavy_for_length", "mass_thin_for_length", "mass_cannot_be", "bcs_shape"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
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
}
