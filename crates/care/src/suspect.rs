//! Records that cannot be true beside others: they are set aside and asked about.

use std::borrow::Cow;

use records::Case;
use records::facts::{Recorded, Stage};
use records::timeline::{Entry, Timeline};
use species::Profile;
use units::Moment;

use crate::answer::{AgeDays, Evidence};
use crate::draft::seen;
use crate::lines;
use crate::view::{grams, metres, plural};

/// A record that was set aside.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Which, and which it clashes with.
    pub records: Vec<Evidence>,
    /// Why it cannot be true, in one sentence.
    pub says: String,
}

/// Two skins cannot come off within so few days (physiology notes, E9: shorter intervals are double entries).
const SHEDS_APART_DAYS: f64 = 10.0;

/// The records that are left, and what was taken out.
pub struct Sifted<'a> {
    /// The records without those that cannot be true.
    pub line: Cow<'a, Timeline>,
    /// Records that cannot be true beside others.
    pub suspects: Vec<Suspect>,
    /// Weighings that no animal of its kind can have.
    pub slips: Vec<Suspect>,
}

/// Takes out what cannot be true.
pub fn set_aside<'a>(
    case: &Case,
    profile: &Profile,
    age: Option<AgeDays>,
    then: Cow<'a, Timeline>,
    now: Moment,
) -> Sifted<'a> {
    let mut suspects = Vec::new();
    let hatched = case.animal.hatched;
    let mut line = then;

    let slips = masses_that_cannot_be(case, profile, age, &line, now);
    if !slips.is_empty() {
        let owned = line.to_mut();
        owned.weighings.retain(|one| !slips.iter().any(|slip| slip.records.iter().any(|seen| seen.key == one.key)));
    }

    if let Some(hatched) = hatched {
        let zone = &case.zone;
        let born = zone.write_when(hatched);
        let mut before = |what: &str, entries: Vec<Evidence>| {
            for one in entries {
                let at = one.at.map(|at| zone.write_when(at)).unwrap_or_default();
                suspects.push(Suspect {
                    says: format!("{what} of {at} is dated before the animal hatched ({born})."),
                    records: vec![one],
                });
            }
        };
        let early = |at: Option<units::When>| at.is_some_and(|at| at.to < hatched.from);
        fn found<T: Recorded>(list: &[Entry<T>], early: impl Fn(Option<units::When>) -> bool) -> Vec<Evidence> {
            list.iter().take_while(|one| early(one.it.when())).map(seen).collect()
        }
        let weighings = found(&line.weighings, early);
        let measurements = found(&line.measurements, early);
        let meals = found(&line.meals, early);
        let sheds = found(&line.sheds, early);
        let any = [&weighings, &measurements, &meals, &sheds].iter().any(|list| !list.is_empty());
        if any {
            let owned = line.to_mut();
            owned.weighings.drain(..weighings.len());
            owned.measurements.drain(..measurements.len());
            owned.meals.drain(..meals.len());
            owned.sheds.drain(..sheds.len());
            before("The weighing", weighings);
            before("The measurement", measurements);
            before("The meal", meals);
            before("The shed", sheds);
        }
        if now < hatched.from {
            let key = case.animal.key;
            suspects.push(Suspect {
                says: format!("The animal is said to hatch on {born}, which lies ahead."),
                records: vec![Evidence { key, at: Some(hatched) }],
            });
        }
    }

    let lengths = lengths_that_cannot_be(profile, &line);
    if !lengths.is_empty() {
        let owned = line.to_mut();
        owned.measurements.retain(|one| !lengths.iter().any(|off| off.records.iter().any(|seen| seen.key == one.key)));
        suspects.extend(lengths);
    }

    let heavier: Vec<(usize, Suspect)> = heavier_than_the_animal(&line);
    if !heavier.is_empty() {
        let owned = line.to_mut();
        for (index, suspect) in heavier.into_iter().rev() {
            owned.meals.remove(index);
            suspects.push(suspect);
        }
    }

    let doubles: Vec<(usize, Suspect)> = sheds_too_close(&line);
    if !doubles.is_empty() {
        let owned = line.to_mut();
        for (index, suspect) in doubles.into_iter().rev() {
            owned.sheds.remove(index);
            suspects.push(suspect);
        }
    }
    Sifted { line, suspects, slips }
}

/// Weighings far under a newborn's mass, or of a grown animal far under the lightest grown one, or far above the
/// heaviest: kilograms, pounds or ounces that were typed as grams. A general profile spans too many kinds to tell.
fn masses_that_cannot_be(
    case: &Case,
    profile: &Profile,
    age: Option<AgeDays>,
    line: &Timeline,
    now: Moment,
) -> Vec<Suspect> {
    if profile.general {
        return Vec::new();
    }
    let size = &profile.size;
    let adult = [&size.adult_mass_g_female, &size.adult_mass_g_male, &size.adult_mass_g_any];
    let adult = || adult.into_iter().flatten();
    let of_stage = profile.feeding.adult.as_ref().and_then(|feeding| feeding.stage_mass_g);
    let heaviest = adult().map(|figure| figure.high).chain(of_stage.map(|(_, high)| high)).fold(0.0, f64::max);
    let lightest = adult().map(|figure| figure.low).chain(of_stage.map(|(low, _)| low)).fold(f64::INFINITY, f64::min);
    let newborn = size.neonate_mass_g.iter().map(|figure| figure.low).fold(f64::INFINITY, f64::min);
    let grown_now = matches!(case.animal.stage, Some(Stage::Adult | Stage::Aged));
    let (grown_from, lately) = (lines::low("adult_from").value, lines::high("mass_stands_for").value);
    let share = lines::group("mass_cannot_be", "grown, of the lightest grown one").value;
    let (least, most) = (lines::low("mass_cannot_be").value, lines::high("mass_cannot_be").value);
    let mut found = Vec::new();
    for one in line.weighings.iter().filter(|one| !one.estimated) {
        let days_ago = now.days_since(one.at.from);
        let was_grown = age.is_some_and(|age| grown_from <= age.low - days_ago) || (grown_now && days_ago <= lately);
        let (than, kind) = if was_grown && one.mass_g < share * lightest {
            (lightest, "the lightest grown ones weigh about")
        } else if one.mass_g < least * newborn {
            (newborn, "newborns weigh about")
        } else if 0.0 < heaviest && most * heaviest < one.mass_g {
            (heaviest, "the heaviest weigh about")
        } else {
            continue;
        };
        let says =
            format!("{} is no mass that an animal of its kind can have ({kind} {}).", grams(one.mass_g), grams(than));
        found.push(Suspect { says, records: vec![seen(one)] });
    }
    found
}

/// Lengths far above the longest of its kind, or far below a newborn's: inches, millimetres, or a slip of the pen.
fn lengths_that_cannot_be(profile: &Profile, line: &Timeline) -> Vec<Suspect> {
    if profile.general {
        return Vec::new();
    }
    let size = &profile.size;
    let adult = [&size.adult_length_m_female, &size.adult_length_m_male, &size.adult_length_m_any];
    let longest_m = adult.into_iter().flatten().map(|figure| figure.high).fold(0.0, f64::max);
    let newborn_m = size.neonate_length_m.iter().map(|figure| figure.low).fold(f64::INFINITY, f64::min);
    let (least, most) = (lines::low("length_cannot_be").value, lines::high("length_cannot_be").value);
    let mut found = Vec::new();
    for one in &line.measurements {
        let Some(length_m) = one.total_length_cm.or(one.snout_vent_cm).map(|cm| cm / 100.0) else { continue };
        let (than, kind) = if 0.0 < longest_m && most * longest_m < length_m {
            (longest_m, "the longest of its kind measure about")
        } else if one.total_length_cm.is_some() && newborn_m.is_finite() && length_m < least * newborn_m {
            (newborn_m, "newborns measure about")
        } else {
            continue;
        };
        let says = format!("A length of {} cannot be: {kind} {}.", metres(length_m), metres(than));
        found.push(Suspect { says, records: vec![seen(one)] });
    }
    found
}

fn heavier_than_the_animal(line: &Timeline) -> Vec<(usize, Suspect)> {
    let mut found = Vec::new();
    for (index, meal) in line.meals.iter().enumerate() {
        let Some(prey_g) = meal.total_g() else { continue };
        let next = line.weighings.partition_point(|one| one.at.from <= meal.at.from);
        // The heaviest of the weighings round it: where one of them leaves room for the meal, that one is believed.
        let near = line.weighings.get(next.saturating_sub(2)..line.weighings.len().min(next + 1)).unwrap_or_default();
        let body = near.iter().max_by(|a, b| a.mass_g.total_cmp(&b.mass_g));
        if let Some(body) = body.filter(|body| body.mass_g < prey_g) {
            let says = format!("A meal of {} is heavier than the animal ({}).", grams(prey_g), grams(body.mass_g));
            found.push((index, Suspect { says, records: vec![seen(meal), seen(body)] }));
        }
    }
    found
}

fn sheds_too_close(line: &Timeline) -> Vec<(usize, Suspect)> {
    let off: Vec<(usize, units::When)> =
        line.sheds.iter().enumerate().filter_map(|(index, shed)| shed.shed_at.map(|at| (index, at))).collect();
    let mut found = Vec::new();
    for pair in off.windows(2) {
        let [(earlier, a), (later, b)] = pair else { continue };
        let apart = b.from.days_since(a.from);
        if apart < SHEDS_APART_DAYS
            && let (Some(one), Some(other)) = (line.sheds.get(*earlier), line.sheds.get(*later))
        {
            let when =
                if apart < 1.0 { "on one day".to_owned() } else { format!("{} apart", plural(apart.floor(), "day")) };
            let says = format!("Two sheds are noted {when}; one of the two dates is wrong, and the later one is used.");
            found.push((*earlier, Suspect { says, records: vec![seen(one), seen(other)] }));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::answer::Code;
    use crate::testing::{answer, case, moment};

    fn sifted(text: &str) -> (usize, usize, usize) {
        let case = case(&format!("at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"ball_python\"\n{text}"));
        let profile = species::library().profile("ball_python").unwrap();
        let now = moment("2027-06-15T19:00");
        let age = crate::age::of(&case, now);
        let sifted = set_aside(&case, profile, age, case.timeline.as_of(now), now);
        (sifted.line.weighings.len(), sifted.slips.len(), sifted.suspects.len())
    }

    #[test]
    fn kilograms_and_pounds_typed_as_grams_are_set_aside() {
        // A newborn weighs about 54 g, the lightest grown royal python of the profile 1000 g, the heaviest 2500 g.
        let profile = species::library().profile("ball_python").unwrap();
        let newborn = profile.size.neonate_mass_g.iter().map(|figure| figure.low).fold(f64::INFINITY, f64::min);
        for (stage, mass, is_slip) in [
            ("adult", 1.6, true),
            ("adult", 3.5, true),
            ("adult", 1600.0, false),
            ("hatchling", newborn * 0.41, false),
            ("hatchling", newborn * 0.39, true),
            ("juvenile", 160.0, false),
            ("adult", 25_000.0, true),
        ] {
            let text = format!("stage = \"{stage}\"\n[[weighing]]\nat = \"2027-06-10\"\nmass_g = {mass}\n");
            assert_eq!(sifted(&text), (usize::from(!is_slip), usize::from(is_slip), 0), "{stage}, {mass} g");
        }
    }

    #[test]
    fn a_guess_and_a_general_profile_are_not_judged_by_it() {
        let guess = "stage = \"adult\"\n[[weighing]]\nat = \"2027-06-10\"\nmass_g = 2\nestimated = true\n";
        assert_eq!(sifted(guess), (1, 0, 0));
        let general = answer(
            "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"Tiny snake\"\nfamily = \"Colubridae\"\nstage = \"adult\"\n[[weighing]]\nat = \"2027-06-10\"\nmass_g = 3\n",
        );
        assert!(general.finding(Code::MassSuspect).is_none());
    }

    #[test]
    fn a_meal_is_too_heavy_only_for_every_weighing_round_it() {
        let slip =
            "[[weighing]]\nat = \"2027-05-01\"\nmass_g = 1500\n[[weighing]]\nat = \"2027-06-01\"\nmass_g = 150\n";
        let meal = |mass: f64| format!("[[meal]]\nat = \"2027-06-03\"\nmass_g = {mass}\noutcome = \"taken\"\n");
        assert_eq!(sifted(&format!("{slip}{}", meal(160.0))).2, 0, "the weighing is the slip, not the meal");
        assert_eq!(sifted(&format!("{slip}{}", meal(1600.0))).2, 1);
    }

    #[test]
    fn two_skins_on_one_day_are_told_as_such() {
        let twice = |second: &str| {
            answer(&format!(
                "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"ball_python\"\n[[shed]]\nshed_at = \"2027-06-01T08:00\"\n[[shed]]\nshed_at = \"{second}\"\n"
            ))
        };
        for (second, words) in [
            ("2027-06-01T20:00", "on one day"),
            ("2027-06-02T20:00", "1 day apart"),
            ("2027-06-04T20:00", "3 days apart"),
        ] {
            let said = twice(second).finding(Code::RecordSuspect).unwrap().says.clone();
            assert!(said.contains(words), "{said}");
        }
        assert!(twice("2027-06-12").finding(Code::RecordSuspect).is_none());
    }

    #[test]
    fn a_length_that_no_animal_of_its_kind_has_is_asked_about() {
        // Amazon tree boa: the longest of its profile, and twice that.
        let profile = species::library().profile("amazon_tree_boa").unwrap();
        let longest = profile.size.adult_length_m_any.iter().map(|figure| figure.high).fold(0.0, f64::max);
        for (times, is_slip) in [(1.0, false), (1.99, false), (2.01, true)] {
            let answer = answer(&format!(
                "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"amazon_tree_boa\"\n[[measurement]]\nat = \"2027-06-01\"\ntotal_length_cm = {}\n",
                100.0 * longest * times
            ));
            assert_eq!(answer.finding(Code::RecordSuspect).is_some(), is_slip, "{times} times the longest");
            assert!(!is_slip || answer.finding(Code::TwoPersonHandling).is_none(), "nothing rests on it");
        }
    }
}
