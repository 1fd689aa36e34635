//! What only the model of the enclosure can say: a warm end that no thermostat at its set point would give, a heater too
//! weak or too strong for the season ahead, a room that will be too cold for the meal inside.

use records::facts::{HeaterKind, Means, Spot, Thermostat};
use science::physics::network::NetworkFault;

use super::readings::{Climate, Felt, Time, is_cooled, is_home, low, meal_inside, measured};
use crate::answer::{Code, Finding, Severity, Sure, Task};
use crate::draft::{Draft, seen, undated};
use crate::lines;
use crate::rules::Rule;
use crate::season;
use crate::twin::model::{Drive, drives};
use crate::twin::{Description, Guesses, Model, Spread, Unknown, words};
use crate::view::{View, celsius};
use crate::what_if::{Range, Resident};

/// The warm end against what a thermostat at its set point would give.
pub const FAULT: Rule = Rule {
    key: "set-point-modelled",
    says: "The warm end stands where the heater, held at its set point in this room, would bring it.",
    because: "A thermostat that sticks shows at other spots than its own probe too, if one knows what to expect there.",
    sources: &["set_point_off", "twin_inner_films", "twin_heater_share"],
    check: fault,
};
/// The heater against the coldest and the warmest room ahead.
pub const SEASON: Rule = Rule {
    key: "heater-for-the-season",
    says: "The heater holds the warm end in the coldest room that is expected, and leaves a cool place in the warmest.",
    because: "A heater that is just strong enough in autumn is too weak in January, when it is noticed too late.",
    sources: &["season_ahead", "twin_inner_films", "twin_spare"],
    check: season,
};
/// The room against the meal inside.
pub const MEAL: Rule = Rule {
    key: "room-too-cold-to-digest",
    says: "With a meal inside, the heater can hold the warm end above what digestion needs in the room that is expected.",
    because: "A meal that lies in a cold animal rots or comes up.",
    sources: &["season_ahead", "twin_inner_films"],
    check: meal,
};

/// So few ways in which an enclosure may be are enough to see whether all say the same.
const SETS: usize = 9;

/// The enclosure as it is recorded, where it is described well enough: its sides, a known material, a heater with watts.
pub(super) fn described(view: &View<'_>) -> Option<Description> {
    let enclosure = view.enclosure()?;
    let household = view.household();
    let room = |of: fn(&records::facts::Household) -> Option<f64>| household.and_then(|entry| of(entry));
    let mut heaters: Vec<_> =
        view.case.heaters.iter().filter(|one| one.kind != HeaterKind::Room).map(|one| one.it.clone()).collect();
    heaters.sort_by(|a, b| b.watts.unwrap_or(0.0).total_cmp(&a.watts.unwrap_or(0.0)));
    let described = Description {
        length_cm: enclosure.length_cm?,
        width_cm: enclosure.width_cm?,
        height_cm: enclosure.height_cm?,
        enclosure: enclosure.it.clone(),
        heaters,
        room_c: room(|one| one.room_c),
        room_night_c: room(|one| one.room_night_c),
        room_winter_c: room(|one| one.room_winter_c),
        room_summer_c: room(|one| one.room_summer_c),
        room_pct: room(|one| one.room_pct),
        residents: vec![Resident {
            name: None,
            profile: view.profile.clone(),
            is_young: view.is_hatchling(),
            is_digesting: false,
            mass_g: None,
        }],
    };
    let known = crate::twin::guesses::wall_of(&described).is_some();
    known.then_some(described)
}

/// The models of what is recorded, in a room of this temperature.
fn models(described: &Description, room_c: f64) -> Option<Vec<Model>> {
    let guesses = Guesses::of(described).knowing(Unknown::Room, room_c);
    Some(Spread::sized(described, guesses, SETS).ok()?.into_models())
}

fn over(models: &[Model], number: impl Fn(&Model) -> Result<f64, NetworkFault>) -> Option<Range> {
    Range::of(models.iter().filter_map(|model| number(model).ok()))
}

/// The warm spot and what is wanted there at least: the surface where the species basks on one, else the air.
fn warm_spot<'v>(view: &View<'v>) -> Option<(Spot, &'v species::Figure)> {
    let temperature = &view.profile.temperature;
    let surface = temperature.basking_surface_c.first().map(|figure| (Spot::WarmSurface, figure));
    surface.or_else(|| temperature.warm_ambient_c.first().map(|figure| (Spot::WarmAir, figure)))
}

/// How far the inner face of walls and lid stands between the room (0) and the air inside (1).
pub(super) fn wall_share(view: &View<'_>, room_c: f64) -> Option<f64> {
    let described = described(view).filter(has_watts)?;
    let share = over(&models(&described, room_c)?, |model| {
        let state = model.settled(&full(model), room_c)?;
        let air = f64::midpoint(state.spot(Spot::WarmAir), state.spot(Spot::CoolAir));
        Ok((state.shell_c() - room_c) / (air - room_c))
    });
    share.map(|share| share.mid).filter(|share| (0.0..=1.0).contains(share))
}

fn full(model: &Model) -> Vec<Drive> {
    (0..model.heater_count()).map(|heater| Drive::Gives(model.most_w(heater))).collect()
}

fn has_watts(described: &Description) -> bool {
    !described.heaters.is_empty() && described.heaters.iter().all(|one| one.watts.is_some())
}

fn fault(view: &View<'_>, draft: &mut Draft) {
    if !is_home(view) || is_cooled(view) || draft.found(Code::ThermostatFaultSuspected).is_some() {
        return;
    }
    let Some(described) = described(view).filter(has_watts) else { return };
    let is_held = |one: &records::facts::Heater| {
        one.set_c.is_some() && one.thermostat.is_some_and(|kind| kind != Thermostat::None)
    };
    if !described.heaters.iter().all(is_held) {
        return;
    }
    let climate = Climate::of(view);
    let Some(room) = climate.room() else { return };
    let fits = |felt: &&Felt<'_>| !felt.in_cut && felt.entry.means != Means::Minimum;
    let newest = |spot| climate.newest(spot, &[Time::Day]).filter(fits);
    let far = lines::high("set_point_off");
    for felt in [Spot::WarmAir, Spot::WarmSurface].into_iter().filter_map(newest) {
        let Some(models) = models(&described, room.degrees) else { return };
        let held = over(&models, |model| {
            Ok(model.settled(&drives(&described, model, false, None), room.degrees)?.spot(felt.spot()))
        });
        let Some(held) = held else { return };
        let off = if held.high < felt.degrees { felt.degrees - held.high } else { felt.degrees - held.low };
        let is_hot = held.high + far.value <= felt.degrees;
        let is_cold = felt.degrees <= held.low - far.value;
        if !is_hot && !is_cold {
            continue;
        }
        let (way, does) = if is_hot {
            (
                "hotter",
                "Look where the probe lies, turn the set point down and see whether the heater goes off; if it does not, unplug it and replace the thermostat.",
            )
        } else {
            ("colder", "Look whether the heater gets power and where the probe lies, and measure again in two hours.")
        };
        let says = format!(
            "{}, {} {way} than {} that the thermostat at its set point would give in this room.",
            measured(view, felt),
            celsius(off.abs()),
            words::degrees(held),
        );
        let why = "What is measured does not follow the set point: test thermostat and probe.";
        draft.due(Task::ThermostatTest, FAULT.key, why, view.today(), None, vec![felt.record()]);
        draft.find(
            Finding::new(Code::ThermostatFaultSuspected, Severity::Watch, FAULT.key, says, does)
                .on([felt.record(), room.record()])
                .on(view.case.heaters.iter().map(|heater| undated(heater.key)))
                .by(&far, "°C")
                .caution("heat-and-fire")
                .sure(Sure::Possible),
        );
        return;
    }
}

/// The coldest and the warmest room of the weeks ahead, °C, with the words for them.
struct Ahead {
    cold: Option<(f64, &'static str)>,
    warm: Option<(f64, &'static str)>,
}

fn ahead(view: &View<'_>) -> Ahead {
    let household = view.household();
    let region = household.and_then(|one| one.region.as_deref());
    let weeks = lines::low("season_ahead").value;
    let month = |days: f64| i32::from(view.zone.date(view.now.plus_days(days)).month());
    let southern = season::is_southern(view.zone, region).unwrap_or(false);
    // The months of the northern half: half a year apart from those of the southern.
    let northern = |month: i32| if southern { (month + 5) % 12 + 1 } else { month };
    let months = [northern(month(0.0)), northern(month(weeks))];
    let is_winter = months.iter().any(|month| matches!(month, 12 | 1 | 2));
    let is_summer = months.iter().any(|month| matches!(month, 6..=8));
    let winter = household.and_then(|one| one.room_winter_c).filter(|_| is_winter);
    let summer = household.and_then(|one| one.room_summer_c).filter(|_| is_summer);
    let now = household.and_then(|one| one.room_c);
    Ahead {
        cold: winter.map(|c| (c, "in the coldest week")).or(now.map(|c| (c, "as the room is now"))),
        warm: summer.map(|c| (c, "in the warmest week")),
    }
}

fn season(view: &View<'_>, draft: &mut Draft) {
    if !is_home(view) || is_cooled(view) {
        return;
    }
    let Some(described) = described(view).filter(has_watts) else { return };
    let ahead = ahead(view);
    let slack = lines::low("temperature_off").value;
    if let (Some((room_c, when)), Some((spot, wanted))) = (ahead.cold, warm_spot(view)) {
        let reached = models(&described, room_c)
            .and_then(|models| over(&models, |model| Ok(model.settled(&full(model), room_c)?.spot(spot))));
        if let Some(reached) = reached.filter(|reached| reached.high + slack < wanted.low) {
            let says = format!(
                "In a room of {} ({when}) the heater brings the {} to {} at most; {} is wanted.",
                celsius(room_c),
                words::spot(spot),
                words::degrees(reached),
                celsius(wanted.low)
            );
            let does = "Insulate the enclosure, cover part of a mesh lid, warm the room, or take a stronger heater on a thermostat.";
            draft.find(
                Finding::new(Code::HeaterWeak, Severity::Note, SEASON.key, says, does)
                    .on(view.case.heaters.iter().map(|heater| undated(heater.key)))
                    .from(lines::source("twin_inner_films"))
                    .caution("heat-and-fire")
                    .sure(Sure::Likely),
            );
        }
    }
    strong(view, draft, &described, &ahead);
}

/// Too strong: with the thermostat stuck on, no place is left in the warmest room.
fn strong(view: &View<'_>, draft: &mut Draft, described: &Description, ahead: &Ahead) {
    let Some((room_c, when)) = ahead.warm else { return };
    let Some(line) = super::readings::high(&view.profile.temperature.overheat_c) else { return };
    let coolest = models(described, room_c).and_then(|models| {
        over(&models, |model| {
            let state = model.settled(&full(model), room_c)?;
            Ok(state.spot(Spot::CoolAir).min(state.spot(Spot::CoolSurface)))
        })
    });
    let Some(coolest) = coolest.filter(|coolest| line.value < coolest.low) else { return };
    let says = format!(
        "In a room of {} ({when}) a thermostat that sticks would bring even the coolest place to {}.",
        celsius(room_c),
        words::degrees(coolest)
    );
    let does = "Take a weaker heater, or put a second thermostat in front that cuts it off a few degrees higher.";
    draft.find(
        Finding::new(Code::HeaterStrong, Severity::Note, SEASON.key, says, does)
            .on(view.case.heaters.iter().map(|heater| undated(heater.key)))
            .by(&line, "°C")
            .caution("heat-and-fire")
            .sure(Sure::Likely),
    );
}

fn meal(view: &View<'_>, draft: &mut Draft) {
    if !is_home(view) || is_cooled(view) || draft.found(Code::TooColdToDigest).is_some() {
        return;
    }
    let Some(line) = low(&view.profile.temperature.digest_min_c) else { return };
    let Some(meal) = meal_inside(view, view.now) else { return };
    let Some(described) = described(view).filter(has_watts) else { return };
    let Some((room_c, when)) = ahead(view).cold else { return };
    let warmest = models(&described, room_c).and_then(|models| {
        over(&models, |model| {
            let state = model.settled(&full(model), room_c)?;
            Ok(state.spot(Spot::WarmSurface).max(state.spot(Spot::WarmAir)))
        })
    });
    let Some(warmest) = warmest.filter(|warmest| warmest.high < line.value) else { return };
    // What was measured warm enough of late counts more than a model.
    let climate = Climate::of(view);
    let is_warm = |spot| climate.standing(spot).any(|one| line.value <= one.degrees);
    if [Spot::WarmSurface, Spot::WarmAir].into_iter().any(is_warm) {
        return;
    }
    let says = format!(
        "In a room of {} ({when}) the heater brings the warm end to {} at most, under {} that the meal of {} needs.",
        celsius(room_c),
        words::degrees(warmest),
        celsius(line.value),
        view.date(meal.at.from)
    );
    let does = "Measure the warm end now; warm the room or insulate the enclosure until the meal is digested.";
    draft.find(
        Finding::new(Code::TooColdToDigest, Severity::Watch, MEAL.key, says, does)
            .on([seen(meal)])
            .by(&line, "°C")
            .sure(Sure::Likely),
    );
}

#[cfg(test)]
mod tests {
    use super::super::tests::{at, on_an_evening, read, severity};
    use super::*;

    const BOX: &str =
        "[enclosure]\nlength_cm = 120\nwidth_cm = 60\nheight_cm = 60\nmaterial = \"pvc\"\nlid = \"solid\"\n";

    fn panel(watts: f64) -> String {
        format!(
            "{BOX}[[heater]]\nkind = \"panel\"\nwatts = {watts}\nthermostat = \"dimming\"\nset_c = 29\nprobe = \"warm-surface\"\nguarded = true\n"
        )
    }

    fn house(lines: &str) -> String {
        format!("[household]\nregion = \"Portugal\"\n{}\n", lines.replace(", ", "\n"))
    }

    const FED: &str = "[[weighing]]\nat = \"2027-03-20\"\nmass_g = 500\n[[meal]]\nat = \"2027-04-05T20:00\"\nmass_g = 40\noutcome = \"taken\"\n";

    #[test]
    fn warm_air_far_above_what_the_set_point_gives_points_to_the_thermostat() {
        // Held at 29 °C at the warm surface, in a room of 20 °C, the warm air of this box comes to about 24 °C.
        for (warm_air, room, expected) in [
            ("25", "20", None),
            ("28", "20", None),
            ("33", "20", Some(Severity::Watch)),
            ("33", "31", None),
            ("16", "20", Some(Severity::Watch)),
        ] {
            let readings = read(&[&format!("room 14:00 {room}"), &format!("warm-air 14:00 {warm_air}")]);
            let answer = on_an_evening("corn_snake", &format!("{readings}{}", panel(80.0)));
            let found = answer.finding(Code::ThermostatFaultSuspected);
            assert_eq!(found.map(|one| one.severity), expected, "{warm_air} in {room}: {found:?}");
            assert_eq!(answer.due(Task::ThermostatTest).is_some(), expected.is_some());
        }
    }

    #[test]
    fn a_weak_heater_is_told_before_the_winter_and_not_in_spring() {
        let case = format!("{}{}", panel(25.0), house("room_c = 22, room_winter_c = 12"));
        let code = Code::HeaterWeak;
        assert_eq!(severity(&at("2027-11-20T18:00", "corn_snake", &case), code), Some(Severity::Note));
        let strong = format!("{}{}", panel(150.0), house("room_c = 22, room_winter_c = 17"));
        assert_eq!(severity(&at("2027-11-20T18:00", "corn_snake", &strong), code), None);
        let warm = format!("{}{}", panel(60.0), house("room_c = 25, room_winter_c = 12"));
        assert_eq!(severity(&at("2027-05-20T18:00", "corn_snake", &warm), code), None);
    }

    #[test]
    fn a_strong_heater_is_told_before_the_summer() {
        let case = |watts: f64| format!("{}{}", panel(watts), house("room_c = 22, room_summer_c = 31"));
        let told = |watts: f64, at_when: &str| severity(&at(at_when, "corn_snake", &case(watts)), Code::HeaterStrong);
        assert_eq!(told(250.0, "2027-06-20T18:00"), Some(Severity::Note));
        assert_eq!(told(30.0, "2027-06-20T18:00"), None);
        assert_eq!(told(250.0, "2027-01-20T18:00"), None);
    }

    #[test]
    fn a_meal_in_a_room_that_will_be_too_cold_is_told_unless_it_was_measured_warm() {
        let cold = format!("{}{}{FED}", panel(10.0), house("room_c = 12"));
        assert_eq!(severity(&on_an_evening("corn_snake", &cold), Code::TooColdToDigest), Some(Severity::Watch));
        let warm = format!("{}{cold}", read(&["warm-surface 14:00 30"]));
        assert_eq!(severity(&on_an_evening("corn_snake", &warm), Code::TooColdToDigest), None);
        let mild = format!("{}{}{FED}", panel(60.0), house("room_c = 21"));
        assert_eq!(severity(&on_an_evening("corn_snake", &mild), Code::TooColdToDigest), None);
    }

    #[test]
    fn what_is_not_described_is_not_reckoned() {
        let bare = format!("[[heater]]\nkind = \"panel\"\nwatts = 10\n{}{FED}", house("room_c = 8"));
        let answer = on_an_evening("corn_snake", &bare);
        assert_eq!(severity(&answer, Code::HeaterWeak), None);
        assert_eq!(severity(&answer, Code::TooColdToDigest), None);
    }
}
