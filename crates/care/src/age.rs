//! Age and stage of life.

use records::Case;
use records::facts::{Sex, Stage};
use records::timeline::Timeline;
use species::{Figures, Profile};
use units::Moment;

use crate::answer::AgeDays;
use crate::lines;
use crate::mass::Masses;

/// Days in a month and a year of the Gregorian calendar, on the average.
const MONTH_D: f64 = 30.436_875;
/// Days in a year of the Gregorian calendar, on the average.
pub const YEAR_D: f64 = 365.2425;

/// Age at `now`, where the date of hatching or an age is told.
pub fn of(case: &Case, now: Moment) -> Option<AgeDays> {
    if let Some(hatched) = case.animal.hatched {
        let high = now.days_since(hatched.from);
        let low = now.days_since(hatched.to).max(0.0);
        return (0.0 <= high).then_some(AgeDays { low, high });
    }
    let months = case.animal.age_months?;
    let told_at = case.at.unwrap_or(now);
    let age = months * MONTH_D + now.days_since(told_at);
    (0.0 <= age).then_some(AgeDays { low: age, high: age })
}

/// Stage of life: the keeper's word first, then size and age by the profile. `None` when nothing tells.
pub fn stage(
    case: &Case,
    line: &Timeline,
    profile: &Profile,
    age: Option<AgeDays>,
    masses: &Masses,
    now: Moment,
) -> Option<Stage> {
    let told = case.animal.stage;
    let age_d = age.map(AgeDays::middle);
    let stage = told.or_else(|| {
        let by_size = by_mass(masses, profile, case.animal.sex, now).or_else(|| by_length(case, line, profile));
        let by_age = age_d.map(|age| by_age(profile, age));
        match (by_size, by_age) {
            // A small animal that is years old is a small adult; a large one is no longer what its age says.
            (Some(size), Some(Stage::Adult)) => Some(size.max(Stage::Adult)),
            // A young one that has outgrown a hatchling's months is a juvenile, however small.
            (Some(Stage::Hatchling), Some(age)) if Stage::Juvenile <= age => Some(Stage::Juvenile),
            (Some(size), _) => Some(size),
            (None, age) => age,
        }
    })?;
    let aged = age_d.zip(aged_from_d(profile)).is_some_and(|(age, line)| line <= age);
    Some(if stage == Stage::Adult && aged { Stage::Aged } else { stage })
}

/// From which age on an adult counts as aged, in days: a share of the typical longevity.
fn aged_from_d(profile: &Profile) -> Option<f64> {
    let longevity = profile.life.longevity_typical_y.first()?;
    Some(longevity.middle() * lines::low("aged_from").value * YEAR_D)
}

fn by_age(profile: &Profile, age_d: f64) -> Stage {
    let hatchling_until = lines::high("hatchling_until").value;
    let adult_from = profile
        .life
        .maturity_female_d
        .first()
        .map_or(f64::INFINITY, |figure| figure.middle())
        .min(lines::low("adult_from").value);
    if age_d < hatchling_until {
        Stage::Hatchling
    } else if age_d < (hatchling_until + adult_from) / 2.0 {
        Stage::Juvenile
    } else if age_d < adult_from {
        Stage::Subadult
    } else {
        Stage::Adult
    }
}

/// By body mass, while a weighing is recent enough to stand for today. The masses of the stages are those of both
/// sexes: a male of a kind whose males stay small is grown by the figure for males.
fn by_mass(masses: &Masses, profile: &Profile, sex: Option<Sex>, now: Moment) -> Option<Stage> {
    let recent_d = lines::high("mass_stands_for").value;
    let last = masses.last()?;
    if recent_d < now.days_since(last.at) {
        return None;
    }
    let male = profile.size.adult_mass_g_male.first().filter(|_| sex == Some(Sex::Male));
    if male.is_some_and(|male| male.low <= last.mass_g) {
        return Some(Stage::Adult);
    }
    let upper = |feeding: &Option<species::Feeding>| {
        feeding.as_ref().and_then(|stage| stage.stage_mass_g).map(|(_, high)| high)
    };
    let by = &profile.feeding;
    let steps = [
        (upper(&by.hatchling)?, Stage::Hatchling),
        (upper(&by.juvenile)?, Stage::Juvenile),
        (upper(&by.subadult)?, Stage::Subadult),
    ];
    Some(steps.into_iter().find(|(high, _)| last.mass_g < *high).map_or(Stage::Adult, |(_, stage)| stage))
}

/// By total length as a share of the adult's.
fn by_length(case: &Case, line: &Timeline, profile: &Profile) -> Option<Stage> {
    let length_m = line.measurements.iter().rev().find_map(|one| one.total_length_cm)? / 100.0;
    let adult_m = adult_length_m(profile, case.animal.sex)?;
    let share = length_m / adult_m;
    let steps = [
        (lines::high("hatchling_length_share").value, Stage::Hatchling),
        (lines::high("juvenile_length_share").value, Stage::Juvenile),
        (lines::high("subadult_length_share").value, Stage::Subadult),
    ];
    Some(steps.into_iter().find(|(high, _)| share < *high).map_or(Stage::Adult, |(_, stage)| stage))
}

/// Length of an adult of this sex in m: the middle of the profile's figure.
pub fn adult_length_m(profile: &Profile, sex: Option<Sex>) -> Option<f64> {
    let size = &profile.size;
    by_sex(sex, &size.adult_length_m_female, &size.adult_length_m_male, &size.adult_length_m_any)
}

/// Mass of an adult of this sex in g: the middle of the profile's figure.
pub fn adult_mass_g(profile: &Profile, sex: Option<Sex>) -> Option<f64> {
    let size = &profile.size;
    by_sex(sex, &size.adult_mass_g_female, &size.adult_mass_g_male, &size.adult_mass_g_any)
}

/// The figure of the sex; without one the mean of both, or the figure for any.
fn by_sex(sex: Option<Sex>, female: &Figures, male: &Figures, any: &Figures) -> Option<f64> {
    let middle = |figures: &Figures| figures.first().map(species::Figure::middle);
    match sex {
        Some(Sex::Female) => middle(female).or_else(|| middle(any)),
        Some(Sex::Male) => middle(male).or_else(|| middle(any)),
        _ => match (middle(female), middle(male)) {
            (Some(female), Some(male)) => Some((female + male) / 2.0),
            _ => middle(any),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn stage_of(animal: &str, rest: &str) -> Option<Stage> {
        answer(&format!("at = \"2027-06-15T19:00\"\n[animal]\n{animal}\n{rest}")).stage
    }

    fn weighed(mass: f64) -> String {
        format!("[[weighing]]\nat = \"2027-06-10\"\nmass_g = {mass}\n")
    }

    #[test]
    fn the_keepers_word_comes_first_and_nothing_tells_nothing() {
        let corn = "species = \"corn_snake\"";
        assert_eq!(stage_of(corn, ""), None);
        assert_eq!(stage_of(&format!("{corn}\nstage = \"juvenile\"\nhatched = \"2015\""), ""), Some(Stage::Juvenile));
    }

    #[test]
    fn by_mass_of_the_profile_unless_its_years_say_more() {
        // corn snake: hatchling to 33 g, juvenile to 112 g, subadult to 319 g
        for (mass, stage) in [
            (32.0, Stage::Hatchling),
            (34.0, Stage::Juvenile),
            (120.0, Stage::Subadult),
            (318.0, Stage::Subadult),
            (320.0, Stage::Adult),
        ] {
            assert_eq!(stage_of("species = \"corn_snake\"", &weighed(mass)), Some(stage), "{mass} g");
        }
        let old = "species = \"corn_snake\"\nhatched = \"2021\"";
        assert_eq!(stage_of(old, &weighed(200.0)), Some(Stage::Adult), "years old and small is a small adult");
        let stunted = "species = \"corn_snake\"\nhatched = \"2026-06\"";
        assert_eq!(
            stage_of(stunted, &weighed(20.0)),
            Some(Stage::Juvenile),
            "a year old is no hatchling, however small"
        );
    }

    #[test]
    fn a_male_of_a_kind_whose_males_stay_small_is_grown_by_the_figure_for_males() {
        // Kenyan sand boa: grown males weigh from 70 g, the stage by both sexes ends at 154 g
        for (sex, mass, stage) in
            [("male", 71.0, Stage::Adult), ("male", 69.0, Stage::Subadult), ("female", 71.0, Stage::Subadult)]
        {
            let animal = format!("species = \"kenyan_sand_boa\"\nsex = \"{sex}\"");
            assert_eq!(stage_of(&animal, &weighed(mass)), Some(stage), "{sex} of {mass} g");
        }
    }

    #[test]
    fn by_age_where_nothing_was_weighed_or_measured() {
        for (hatched, stage) in [
            ("2027-02-01", Stage::Hatchling),
            ("2026-10-01", Stage::Juvenile),
            ("2022", Stage::Adult),
            ("2008", Stage::Aged),
        ] {
            let animal = format!("species = \"corn_snake\"\nhatched = \"{hatched}\"");
            assert_eq!(stage_of(&animal, ""), Some(stage), "{hatched}");
        }
    }

    #[test]
    fn a_slip_of_the_scale_makes_no_stage() {
        let slip = format!("{}[[weighing]]\nat = \"2027-06-14\"\nmass_g = 45\n", weighed(450.0));
        assert_eq!(stage_of("species = \"corn_snake\"", &slip), Some(Stage::Adult));
    }
}
