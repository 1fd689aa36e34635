//! Which prey fits: mass from the stage's share of body mass, thickness from the widest part, class from both.

use std::f64::consts::PI;

use records::choice::Choice;
use records::facts::Prey;

use crate::answer::{PreyAdvice, SourceRef, State};
use crate::draft::{Draft, Line};
use crate::lines;
use crate::view::{View, grams, number};

/// The widest part of the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Widest {
    /// Diameter in mm.
    pub mm: f64,
    /// From a girth that was measured (else from mass and length).
    pub is_measured: bool,
}

/// Largest diameter of a rodent in mm: 8.3 x m^(1/3), m in g (prolate ellipsoid of density 1, length 28 x m^(1/3);
/// general rules, calc-ellipsoid).
pub fn prey_diameter_mm(mass_g: f64) -> f64 {
    8.3 * mass_g.cbrt()
}

/// Diameter of the widest part in mm: from a girth, else by E7 of the physiology notes: mean diameter
/// sqrt(4 m / (pi rho L)), widest = mean / sqrt(0.6), m in g, L snout to vent in cm, rho 1 g/cm3. The 0.6 is an
/// assumption of the notes.
pub fn widest_mm(view: &View<'_>) -> Option<Widest> {
    const FRESH_D: f64 = 183.0;
    let fresh = |at: units::When| view.days_since(at) <= FRESH_D;
    let girth = view
        .line
        .measurements
        .iter()
        .rev()
        .find(|one| one.girth_cm.is_some() && fresh(one.at))
        .and_then(|one| one.girth_cm);
    if let Some(girth_cm) = girth {
        return Some(Widest { mm: 10.0 * girth_cm / PI, is_measured: true });
    }
    let mass_g = view.masses.last().map(|last| last.empty_g.unwrap_or(last.mass_g))?;
    let measured = view
        .line
        .measurements
        .iter()
        .rev()
        .find(|one| fresh(one.at) && (one.snout_vent_cm.is_some() || one.total_length_cm.is_some()))?;
    let share = body_share(view.profile);
    let length_cm = measured.snout_vent_cm.or_else(|| measured.total_length_cm.map(|total| total * share))?;
    Some(Widest { mm: mean_diameter_mm(mass_g, length_cm) / MEAN_OF_WIDEST.sqrt(), is_measured: false })
}

/// Mean cross-section as a share of the widest one (physiology notes, E7: an assumption, 0.5 to 0.75).
pub const MEAN_OF_WIDEST: f64 = 0.6;

/// Mean diameter of the body in mm, from mass in g and length from snout to vent in cm: a cylinder of 1 g/cm3 (E7).
pub fn mean_diameter_mm(mass_g: f64, snout_vent_cm: f64) -> f64 {
    10.0 * (4.0 * mass_g / (PI * snout_vent_cm)).sqrt()
}

/// Snout to vent as a share of the total length, by family: physiology notes, section 5 (pythons 0.92, boas 0.87,
/// colubrids 0.78).
pub fn body_share(profile: &species::Profile) -> f64 {
    match profile.family.as_str() {
        "Pythonidae" => 0.92,
        "Boidae" | "Erycidae" | "Charinidae" | "Sanziniidae" => 0.87,
        _ => 0.78,
    }
}

/// The hard limit of one meal in % of body mass, from the profile.
pub fn mass_limit_pct(view: &View<'_>) -> Option<Line> {
    let limit = &view.profile.prey_limit;
    let adult = limit.mass_pct_adult.first().filter(|_| view.is_adult());
    adult.or(limit.mass_pct.first()).map(Line::high)
}

/// A class of prey, one of it and many of it.
pub fn names(prey: Prey) -> (&'static str, &'static str) {
    match prey {
        Prey::MousePinky => ("pinky mouse", "pinky mice"),
        Prey::MouseFuzzy => ("fuzzy mouse", "fuzzy mice"),
        Prey::MouseHopper => ("hopper mouse", "hopper mice"),
        Prey::MouseWeaned => ("weaned mouse", "weaned mice"),
        Prey::MouseAdult => ("adult mouse", "adult mice"),
        Prey::MouseJumbo => ("jumbo mouse", "jumbo mice"),
        Prey::RatPinky => ("pinky rat", "pinky rats"),
        Prey::RatFuzzy => ("fuzzy rat", "fuzzy rats"),
        Prey::RatPup => ("rat pup", "rat pups"),
        Prey::RatWeaned => ("weaned rat", "weaned rats"),
        Prey::RatSmall => ("small rat", "small rats"),
        Prey::RatMedium => ("medium rat", "medium rats"),
        Prey::RatLarge => ("large rat", "large rats"),
        Prey::RatJumbo => ("jumbo rat", "jumbo rats"),
        Prey::SoftFurredRat => ("soft-furred rat", "soft-furred rats"),
        Prey::Gerbil => ("gerbil", "gerbils"),
        Prey::Rabbit => ("rabbit", "rabbits"),
        Prey::Chick => ("chick", "chicks"),
        Prey::QuailDayOld => ("day-old quail", "day-old quails"),
        Prey::QuailJuvenile => ("young quail", "young quails"),
        Prey::QuailAdult => ("adult quail", "adult quails"),
        Prey::Fish => ("fish", "fish"),
        Prey::Earthworm => ("earthworm", "earthworms"),
        Prey::Lizard => ("lizard", "lizards"),
        Prey::Other => ("other prey", "other prey"),
    }
}

/// Which prey fits, whether or not a meal is held.
pub fn advise(view: &View<'_>, draft: &mut Draft) -> Option<PreyAdvice> {
    let feeding = view.feeding()?;
    let limit = mass_limit_pct(view);
    let mass_g = view
        .masses
        .last()
        .map(|last| last.empty_g.unwrap_or(last.mass_g))
        .or_else(|| view.line.weighings.last().map(|guess| guess.mass_g));
    let source = vec![SourceRef::of(&feeding.interval_d)];
    let Some(body_g) = mass_g else {
        let classes = feeding.prey_classes.iter().filter_map(|key| Prey::from_key(key)).collect();
        let why = format!(
            "Its mass is not known: these are the classes for the stage ({}). Weigh it for grams.",
            feeding.prey
        );
        return Some(PreyAdvice { mass_g: None, classes, diameter_limit_mm: None, why, source });
    };
    let share_high = limit.as_ref().map_or(feeding.prey_pct.1, |limit| limit.value.min(feeding.prey_pct.1));
    let (mut low, mut high) = (body_g * feeding.prey_pct.0.min(share_high) / 100.0, body_g * share_high / 100.0);
    let mut why =
        format!("{} to {} % of {} at its stage", number(feeding.prey_pct.0), number(share_high), grams(body_g));
    if draft.is_in(State::AfterRegurgitation) || is_in_ramp(view) {
        let (third, half) = (lines::low("feed_regurgitation_ramp"), lines::high("feed_regurgitation_ramp"));
        (low, high) = (low * third.value, high * half.value);
        why.push_str(", a third to half of that for the first three meals after a regurgitation");
    } else if needs_gentle_start(view) {
        let half = lines::high("feed_regurgitation_ramp").value;
        (low, high) = (low * half, high * half);
        why.push_str(", half of that after so long without a meal");
    }
    let widest = widest_mm(view);
    let diameter_limit_mm = widest.map(|widest| widest.mm * lines::low("prey_girth_default").value);
    if let Some(widest) = widest {
        why.push_str(&format!("; no thicker than its widest part, about {:.0} mm", widest.mm));
        if !widest.is_measured {
            draft.assume("The widest part was reckoned from mass and length; a tape round it tells better.");
        }
    }
    let classes = classes(view, low, high, diameter_limit_mm);
    if classes.is_empty() {
        why.push_str("; no class fits whole, so several smaller items");
    }
    Some(PreyAdvice {
        mass_g: Some((round(low), round(high))),
        classes,
        diameter_limit_mm,
        why: format!("{why}."),
        source,
    })
}

/// Two significant digits under 20 g, whole grams above: no scale in a kitchen tells more.
fn round(mass_g: f64) -> f64 {
    if mass_g < 20.0 { (mass_g * 10.0).round() / 10.0 } else { mass_g.round() }
}

/// Are its meals small on purpose: after one that came up, or after long without?
pub fn needs_small_meals(view: &View<'_>) -> bool {
    is_in_ramp(view) || needs_gentle_start(view)
}

/// Among the first three meals after one that came up?
fn is_in_ramp(view: &View<'_>) -> bool {
    let Some((meal, _)) = view.last_regurgitation() else { return false };
    let since =
        view.line.meals.iter().rev().take_while(|one| one.key != meal.key).filter(|one| one.was_eaten()).count();
    since < 3 && view.days_since(meal.at) <= 90.0
}

/// Nothing known to be eaten for half a year or more.
fn needs_gentle_start(view: &View<'_>) -> bool {
    let steps = lines::step("refusal_needs_mass", 2).value;
    view.meals
        .last_taken
        .and_then(|index| view.line.meals.get(index))
        .is_some_and(|last| steps <= view.days_since(last.at) && !view.is_brumating())
}

/// Classes whose masses overlap the range and whose thickness fits, those of the profile's stage first, then the
/// nearest to the middle of the range.
fn classes(view: &View<'_>, low: f64, high: f64, diameter_limit_mm: Option<f64>) -> Vec<Prey> {
    let middle = (low + high) / 2.0;
    let staple = view.feeding().map(|feeding| feeding.prey_classes.as_slice()).unwrap_or_default();
    let mut fit: Vec<(bool, f64, Prey)> = Vec::new();
    for class in &species::library().prey {
        let (Some(mass), Some(prey)) = (&class.mass_g, Prey::from_key(&class.key)) else { continue };
        let overlap = mass.high.min(high) - mass.low.max(low);
        let thin = diameter_limit_mm.is_none_or(|limit| prey_diameter_mm(mass.low.max(low)) <= limit);
        let most = (mass.high - mass.low).min(high - low).max(0.1);
        if thin && 0.25 * most <= overlap {
            let staple = staple.contains(&class.key);
            fit.push((!staple, (mass.middle() / middle).ln().abs(), prey));
        }
    }
    // Under ten grams no share fits a whole pinky: the smallest one is customary for colubrids (prey_mass_tiny_exception).
    if fit.is_empty() && high < 2.0 {
        let body_g = view.masses.last().map_or(0.0, |last| last.mass_g);
        let smallest = lines::low("prey_smallest_unit").value;
        let allowed = lines::high("prey_mass_tiny_exception").value / 100.0 * body_g;
        if smallest <= allowed && !view.is_constrictor_family() {
            return vec![Prey::MousePinky];
        }
    }
    let any_staple = fit.iter().any(|(other, ..)| !other);
    fit.retain(|(other, ..)| !any_staple || !other);
    fit.sort_by(|a, b| a.1.total_cmp(&b.1));
    fit.into_iter().map(|(.., prey)| prey).take(4).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn girth_from_mass_and_length_is_that_of_the_check_block() {
        // Physiology notes, check E7: mass g, SVL cm, widest diameter cm
        for (mass, svl, widest) in
            [(1000.0, 96.0, 4.70), (100.0, 60.0, 1.88), (500.0, 115.0, 3.04), (3000.0, 170.0, 6.12)]
        {
            let answer = answer(&format!(
                "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"boa_constrictor\"\nstage = \"juvenile\"\n[[weighing]]\nat = \"2027-06-10\"\nmass_g = {mass}\n\
                 [[measurement]]\nat = \"2027-06-10\"\nsnout_vent_cm = {svl}\n"
            ));
            let got = answer.prey.unwrap().diameter_limit_mm.unwrap() / 10.0;
            assert!((got - widest).abs() < 0.02, "{mass} g, {svl} cm: {got:.2} cm, the notes have {widest}");
        }
    }

    #[test]
    fn prey_of_25_and_250_grams_is_as_thick_as_the_general_rules_say() {
        for (mass, mm) in [(25.0, 24.0), (250.0, 52.0)] {
            assert!((prey_diameter_mm(mass) - mm).abs() < 0.6);
        }
    }

    #[test]
    fn a_hatchling_of_twelve_grams_gets_a_pinky() {
        let answer = answer(
            "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"hatchling\"\n[[weighing]]\nat = \"2027-06-10\"\nmass_g = 12\n",
        );
        let prey = answer.prey.unwrap();
        assert_eq!(prey.classes.first(), Some(&Prey::MousePinky));
        assert!(prey.mass_g.unwrap().1 <= 2.4, "never above 20 %");
    }

    #[test]
    fn without_a_mass_the_stage_names_classes_and_no_grams() {
        let answer = answer("at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n");
        let prey = answer.prey.unwrap();
        assert!(prey.mass_g.is_none() && prey.classes.contains(&Prey::MouseAdult));
    }

    #[test]
    fn after_a_regurgitation_meals_are_small() {
        let text = "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[weighing]]\nat = \"2027-06-01\"\nmass_g = 500\n";
        let usual = answer(text).prey.unwrap().mass_g.unwrap();
        let after = answer(&format!("{text}[[meal]]\nat = \"2027-06-10\"\nmass_g = 25\noutcome = \"regurgitated\"\nregurgitated_at = \"2027-06-11\"\n")).prey.unwrap().mass_g.unwrap();
        assert!(after.1 <= usual.1 / 2.0 + 0.5, "{after:?} against {usual:?}");
    }
}
