//! The scaled mass index against the check of the notes, and growth beside others in diaries.

use proptest::prelude::*;
use units::{When, Zone};

use super::kin::published;
use super::*;
use crate::testing::{answer, case, moment};
use crate::view::View;

fn ask<T>(at: &str, animal: &str, lines: &str, look: impl Fn(&View<'_>) -> T) -> T {
    let case = case(&format!("[animal]\n{animal}\n{lines}"));
    let (profile, _) = crate::assess::profile(&case.animal, &case.overrides).unwrap();
    look(&View::new(&case, &profile, moment(at)))
}

/// Physiology notes, check E8: «b_SMA 3.0437, L0 85.22 cm. Snake TL 133.474 cm, 640.658 g: 640.658*(85.22/133.474)^3.0437 =
/// 163.5 g. TL 121.345, 298.342 g -> 101.7 (thin). TL 60.806, 64.007 g -> 178.8» (computed there from 146 corn snakes).
#[test]
fn the_scaled_mass_is_that_of_the_notes() {
    let sample = Sample::published("corn_snake").unwrap();
    assert_eq!((sample.animals, sample.is_of_the_house), (146, false));
    for (length, mass, index, outside) in
        [(133.474, 640.658, 163.5, 0), (121.345, 298.342, 101.7, -1), (60.806, 64.007, 178.8, 0)]
    {
        let found = sample.index(mass, length).unwrap();
        assert!((found.index_g - index).abs() < 0.1, "{length} cm: {:.1} g, the notes have {index}", found.index_g);
        let side = sample.outside(&found);
        assert_eq!(if side < 0.0 { -1 } else { i32::from(0.0 < side) }, outside, "{length} cm");
    }
    assert!(sample.index(3000.0, 200.0).is_none(), "longer than any of the sample");
    assert!(Sample::published("ball_python").is_none());
}

#[test]
fn twenty_animals_of_the_house_are_a_sample_and_nineteen_are_none() {
    // masses that rise with length to the power of three, a tenth up and down
    let bodies = |count: usize| -> Vec<(f64, f64)> {
        (0..count)
            .map(|n| {
                let length = 60.0 + 3.0 * n as f64;
                (2e-4 * length.powi(3) * if n % 2 == 0 { 1.1 } else { 0.9 }, length)
            })
            .collect()
    };
    assert!(Sample::of(&bodies(19)).is_none());
    let sample = Sample::of(&bodies(20)).unwrap();
    assert!((sample.exponent - 3.0).abs() < 0.15, "{}", sample.exponent);
    assert!(sample.is_of_the_house && sample.between_g.0 < sample.middle_g && sample.middle_g < sample.between_g.1);
    assert!(Sample::of(&[(100.0, 80.0); 25]).is_none(), "all of one length");
}

fn relative(hatched: &str, weighed: &[(&str, f64)]) -> Relative {
    let zone = Zone::none();
    let hatched: Option<When> = zone.read(hatched);
    Relative {
        hatched,
        weighed: weighed.iter().map(|(day, mass)| (moment(day), *mass)).collect(),
        ..Relative::default()
    }
}

/// (who, how many, lightest and heaviest)
#[test]
fn its_mass_beside_siblings_and_others_at_its_age() {
    let kin = Kin(vec![
        // two that hatched with it, weighed lately
        relative("2026-08-02", &[("2027-05-01", 150.0), ("2027-06-28", 200.0)]),
        relative("2026-08-01", &[("2027-06-20", 260.0)]),
        // one that was as old two years ago: at 333 days half way between two weighings of 100 and 400 g
        relative("2024-08-01", &[("2025-05-31", 100.0), ("2025-07-30", 400.0), ("2027-06-01", 900.0)]),
        // weighed too far apart, and without a date of hatching
        relative("2023-08-01", &[("2024-01-01", 50.0), ("2025-01-01", 500.0)]),
        Relative { weighed: vec![(moment("2027-06-01"), 300.0)], ..Relative::default() },
    ]);
    let bands = ask(
        "2027-06-30",
        "species = \"corn_snake\"\nhatched = \"2026-08-01\"",
        "[[weighing]]\nat = \"2027-06-25\"\nmass_g = 230\n",
        |view| kin.bands(view),
    );
    let got: Vec<(usize, f64, f64)> =
        bands.iter().map(|band| (band.animals, band.between_g.0.round(), band.between_g.1.round())).collect();
    assert_eq!(got, [(2, 200.0, 260.0), (1, 200.0, 200.0)], "{bands:?}");
}

#[test]
fn what_is_published_is_taken_near_its_age_only() {
    let age = |months: f64| {
        ask("2027-06-30", &format!("species = \"ball_python\"\nage_months = {months}"), "", |view| {
            published(view).map(|band| (band.age_d, band.between_g))
        })
    };
    assert_eq!(age(9.3), Some((284.0, (321.0, 700.0))));
    assert_eq!(age(17.0), Some((520.0, (451.0, 1109.0))));
    assert_eq!(age(120.0), None, "nothing is published of ten years");
    assert_eq!(ask("2027-06-30", "species = \"woma\"\nage_months = 9", "", published), None);
}

#[test]
fn the_study_says_what_it_cannot_tell() {
    let say = |animal: &str, lines: &str| {
        let text = format!("at = \"2027-06-30\"\n[animal]\n{animal}\n{lines}");
        let answer = answer(&text);
        ask("2027-06-30", animal, lines, |view| study(view, &answer, &Kin::default()))
    };
    let bare = say("species = \"ball_python\"", "");
    assert_eq!(bare.says, ["It was never weighed: its condition is what the eye sees."]);
    assert_eq!(bare.untold.len(), 4, "{:?}", bare.untold);
    let known = say(
        "species = \"corn_snake\"\nstage = \"adult\"",
        "[[weighing]]\nat = \"2027-03-01\"\nmass_g = 420\n[[weighing]]\nat = \"2027-06-20\"\nmass_g = 410\nbody_score = 5\n\
         [[measurement]]\nat = \"2027-06-20\"\ntotal_length_cm = 121\n",
    );
    assert_eq!(
        known.says[0],
        "It weighed 410 g on 20 Jun 2027, 2.4 % under its best empty weighing of the twelve months before (420 g on 1 Mar 2027)."
    );
    assert!(known.says[1].starts_with("Scaled to 85 cm it weighs 141 g; of 146 animals of published series nine in ten weigh 118 g to 182 g: in the usual range."), "{}", known.says[1]);
    assert_eq!(known.says[2], "By eye it scored 5 of 9 on 20 Jun 2027: ideal.");
}

#[test]
fn the_scale_runs_from_one_to_nine_with_five_in_the_middle() {
    assert_eq!(SCALE.map(|shape| shape.score), [1, 3, 5, 7, 9]);
    for (score, word) in [(1, "emaciated"), (3, "thin"), (5, "ideal"), (7, "heavy"), (9, "obese")] {
        assert_eq!(super::score::word(score), word);
    }
}

proptest! {
    #[test]
    fn a_heavier_animal_of_the_same_length_has_a_higher_index(length in 30.0..133.0f64, mass in 5.0..900.0f64) {
        let sample = Sample::published("corn_snake").unwrap();
        let (light, heavy) = (sample.index(mass, length).unwrap(), sample.index(mass * 1.1, length).unwrap());
        prop_assert!(light.index_g < heavy.index_g && sample.outside(&light) <= sample.outside(&heavy));
        prop_assert!((sample.index(mass, sample.length_cm).unwrap().index_g - mass).abs() < 1e-9);
    }
}
