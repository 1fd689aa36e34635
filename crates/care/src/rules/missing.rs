//! What is not known and would help most, best first. Rules that ran before have raised what they needed.

use records::facts::{Means, Period, Spot};

use super::Rule;
use crate::answer::{Code, Missing, State};
use crate::draft::Draft;
use crate::view::View;

/// The rules of this group.
pub const LIST: &[Rule] = &[RULE];

/// What is missing.
pub const RULE: Rule = Rule {
    key: "missing",
    says: "What is not known is named, not guessed, and what would help most comes first.",
    because: "A short list gets filled in, a long one does not.",
    sources: &["records"],
    check,
};

/// Readings older than this do not tell of today, in days.
const READINGS_D: f64 = 14.0;
/// A weighing or a length older than this leaves a gap, in days.
const BODY_D: f64 = 180.0;

fn check(view: &View<'_>, draft: &mut Draft) {
    let shed_trouble = [
        Code::ShedInPieces,
        Code::RetainedSkin,
        Code::RetainedEyeCap,
        Code::RetainedTailTip,
        Code::ShedLate,
        Code::WetFloor,
        Code::SkinBlister,
    ];
    if shed_trouble.iter().any(|code| draft.found(*code).is_some()) {
        draft.need(Missing::Humidity, 30.0);
    }
    let belly_trouble =
        [Code::Regurgitation, Code::RegurgitationRepeated, Code::Breathing, Code::PowerOut, Code::RewarmSlowly];
    if belly_trouble.iter().any(|code| draft.found(*code).is_some()) {
        draft.need(Missing::WarmSurfaceTemperature, 15.0);
    }
    // What rules asked for before it was known to be missing stands in the draft as a need: keep only what is missing.
    let needs = std::mem::take(&mut draft.missing);
    let extra = |what: Missing| needs.iter().find(|(_, one)| *one == what).map_or(0.0, |(weight, _)| *weight);
    let mut miss = |is_missing: bool, what: Missing, weight: f64| {
        if is_missing {
            draft.miss(what, weight + extra(what));
        }
    };
    let animal = &view.case.animal;
    let line = &view.line;
    let recent = |spots: &[Spot]| {
        line.readings
            .iter()
            .rev()
            .take_while(|one| view.days_since(one.at) <= READINGS_D)
            .any(|one| spots.contains(&one.spot) && one.temperature_c.is_some())
    };
    let night = line.readings.iter().rev().take_while(|one| view.days_since(one.at) <= READINGS_D).any(|one| {
        let is_night = one.period == Some(Period::Night)
            || one.means == Means::Minimum
            || (one.at.has_hour() && !(6..22).contains(&view.zone.clock(one.at.from).hour()));
        is_night && one.temperature_c.is_some() && !matches!(one.spot, Spot::Outdoors | Spot::ControlProbe)
    });
    let humidity = line
        .readings
        .iter()
        .rev()
        .take_while(|one| view.days_since(one.at) <= READINGS_D)
        .any(|one| one.humidity_pct.is_some() && one.spot != Spot::Outdoors);
    let weighed = line.weighings.iter().filter(|one| !one.estimated).count();
    let has_mass = line.weighings.iter().rev().any(|one| view.days_since(one.at) <= BODY_D);
    let length = line.measurements.iter().any(|one| one.total_length_cm.is_some() || one.snout_vent_cm.is_some());
    let is_new = animal.arrived.is_some_and(|at| view.days_since(at) <= 30.0);
    let (warm_surface, warm_air) = (recent(&[Spot::WarmSurface]), recent(&[Spot::WarmAir]));
    let heaters = &view.case.heaters;

    miss(!has_mass, Missing::Mass, 100.0);
    miss(
        !heaters.is_empty()
            && heaters
                .iter()
                .any(|heater| heater.thermostat.is_none() && heater.kind != records::facts::HeaterKind::Room),
        Missing::Thermostat,
        98.0,
    );
    miss(line.meals.is_empty(), Missing::Meals, 92.0);
    miss(has_mass && weighed < 2, Missing::MassHistory, 86.0);
    miss(!warm_surface, Missing::WarmSurfaceTemperature, if warm_air { 58.0 } else { 80.0 });
    miss(!night, Missing::NightTemperature, 70.0);
    miss(!humidity, Missing::Humidity, 66.0);
    miss(
        view.age.is_none(),
        Missing::Age,
        if is_new {
            90.0
        } else if animal.stage.is_some() {
            45.0
        } else {
            64.0
        },
    );
    miss(!recent(&[Spot::CoolAir, Spot::CoolSurface]), Missing::CoolTemperature, 60.0);
    miss(heaters.is_empty(), Missing::Heater, 52.0);
    miss(!length, Missing::Length, 54.0);
    miss(!warm_air, Missing::WarmAirTemperature, if warm_surface { 40.0 } else { 50.0 });
    miss(view.enclosure().is_none_or(|home| home.length_cm.is_none()), Missing::EnclosureSize, 48.0);
    miss(line.sheds.is_empty(), Missing::Sheds, 42.0);
    miss(view.sex().is_none(), Missing::Sex, 36.0);
    miss(view.enclosure().is_none_or(|home| home.lid.is_none() && home.locks.is_none()), Missing::Lid, 34.0);
    miss(line.measurements.iter().all(|one| one.girth_cm.is_none()), Missing::Girth, 24.0);

    if draft.is_in(State::Away) {
        draft.missing.retain(|(_, what)| matches!(what, Missing::Mass | Missing::Length));
    }
    if view.missing_since().is_some() && line.seen.is_empty() {
        draft.miss(Missing::LastSeen, 1000.0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn the_mass_comes_first() {
        let answer = answer("at = \"2027-06-15T12:00\"\n[animal]\nspecies = \"corn_snake\"\n");
        assert_eq!(answer.missing.first(), Some(&Missing::Mass));
        assert!(answer.missing.contains(&Missing::Meals) && answer.missing.contains(&Missing::Humidity));
    }

    #[test]
    fn a_heater_without_a_named_thermostat_is_asked_about_early() {
        let answer =
            answer("at = \"2027-06-15T12:00\"\n[animal]\nspecies = \"corn_snake\"\n[[heater]]\nkind = \"mat\"\n");
        assert!(answer.missing.iter().take(3).any(|what| *what == Missing::Thermostat));
        assert!(!answer.missing.contains(&Missing::Heater));
    }

    #[test]
    fn what_is_known_is_not_missing() {
        let answer = answer(
            "at = \"2027-06-15T12:00\"\n[animal]\nspecies = \"corn_snake\"\nsex = \"male\"\nhatched = \"2022-07\"\n[[weighing]]\nat = \"2027-06-01\"\nmass_g = 400\n\
             [[reading]]\nat = \"2027-06-15T03:00\"\nspot = \"cool-air\"\ntemperature_c = 21\nhumidity_pct = 50\n",
        );
        for known in [
            Missing::Mass,
            Missing::Sex,
            Missing::Age,
            Missing::CoolTemperature,
            Missing::NightTemperature,
            Missing::Humidity,
        ] {
            assert!(!answer.missing.contains(&known), "{known}");
        }
        assert!(answer.missing.contains(&Missing::MassHistory), "one weight is no history");
    }

    #[test]
    fn what_is_known_stays_known_when_something_else_asks_for_it() {
        let text = |humidity: &str| {
            answer(&format!(
                "at = \"2027-06-15T12:00\"\n[animal]\nspecies = \"corn_snake\"\n[[shed]]\nshed_at = \"2027-06-13\"\npieces = 6\n{humidity}"
            ))
        };
        assert!(text("").missing.contains(&Missing::Humidity));
        let known = "[[reading]]\nat = \"2027-06-14\"\nspot = \"cool-air\"\nhumidity_pct = 50\n";
        assert!(!text(known).missing.contains(&Missing::Humidity));
    }

    #[test]
    fn of_a_missing_animal_one_asks_first_when_it_was_last_seen() {
        let text = "at = \"2027-06-15T12:00\"\n[animal]\nspecies = \"corn_snake\"\n[[sign]]\nat = \"2027-06-15\"\nsign = \"missing\"\n";
        assert_eq!(answer(text).missing.first(), Some(&Missing::LastSeen));
    }
}
