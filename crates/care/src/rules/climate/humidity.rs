//! Damp and dry air, the air in a shed, wet floors and walls.

use records::facts::{Means, Reading, SignKind, Spot};
use records::timeline::Entry;
use science::physics::psychrometrics::MoistAir;
use species::Figure;
use units::{Celsius, Pascals, RelativeHumidity};

use super::readings::{Climate, capital, is_home, place};
use crate::answer::{Code, Evidence, Finding, Severity, Sure};
use crate::damp::{AIR_SPOTS, at};
use crate::draft::{Draft, Line, seen, undated};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, celsius};
use crate::warmth::may_be_swapped;

/// The air outside a shed.
pub const AIR: Rule = Rule {
    key: "humidity",
    says: "Relative humidity stays in the profile's range, for newborns in theirs.",
    because: "Dry air spoils sheds and dries the small ones out; air that is always damp and still breeds disease of skin and lungs.",
    sources: &["humidity_off"],
    check: air,
};
/// The air in a shed.
pub const IN_SHED: Rule = Rule {
    key: "humidity-in-shed",
    says: "From dull until the skin is off the air, or a humid hide, is damper than usual.",
    because: "A skin that dries before it is off comes off in pieces, and eye caps and the tail tip stay on.",
    sources: &["shed_humidity_raise", "humid_hide"],
    check: in_shed,
};
/// A wet floor.
pub const FLOOR: Rule = Rule {
    key: "wet-floor",
    says: "The floor is damp at most, never wet.",
    because: "Skin that lies wet blisters and takes infection from below.",
    sources: &["wet_floor"],
    check: floor,
};
/// Wet walls.
pub const WALLS: Rule = Rule {
    key: "wet-walls",
    says: "Where the dew point of the air inside lies above the temperature of the walls, water runs down them.",
    because: "What runs down the walls wets the floor, whatever the hygrometer shows.",
    sources: &["wet_floor"],
    check: walls,
};

/// Humidity of a place over the last day in which it was read.
struct Damp {
    spot: Spot,
    pct: f64,
    records: Vec<Evidence>,
}

fn damp(view: &View<'_>, spots: &[Spot], leave_out: Means) -> Option<Damp> {
    let since = view.now.plus_days(-lines::high("readings_stand").value);
    let all = || view.line.readings.iter().rev().take_while(move |one| since <= one.at.to);
    // What may be a temperature tells nothing of the damp, unless the temperatures beside it were in °F.
    let is_fahrenheit = Climate::of(view).is_fahrenheit;
    let usable = |one: &&Entry<Reading>| {
        one.humidity_pct.is_some() && one.means != leave_out && (is_fahrenheit || !may_be_swapped(one))
    };
    let spot = *spots.iter().find(|spot| all().any(|one| one.spot == **spot && usable(&one)))?;
    let of_spot = || all().filter(|one| one.spot == spot).filter(usable);
    let newest = of_spot().map(|one| one.at.from).max()?;
    let stands_d = lines::low("readings_stand").value;
    let (mut sum, mut weight, mut records) = (0.0, 0.0, Vec::new());
    for one in of_spot().filter(|one| newest.days_since(one.at.from) <= stands_d) {
        let hours = one.hours.unwrap_or(1.0).max(1.0);
        sum += hours * one.humidity_pct.unwrap_or_default();
        weight += hours;
        records.push(seen(one));
    }
    records.truncate(4);
    (0.0 < weight).then(|| Damp { spot, pct: sum / weight, records })
}

/// The usual range: for the newborn their own, where the profile has one.
fn usual<'v>(view: &View<'v>) -> Option<&'v Figure> {
    let humidity = &view.profile.humidity;
    let newborn = humidity.neonate_pct.first().filter(|_| view.is_hatchling());
    newborn.or_else(|| humidity.normal_pct.first())
}

fn slack() -> f64 {
    lines::low("humidity_off").value
}

/// From how far outside on it is put right today.
fn far(view: &View<'_>) -> f64 {
    let figure = lines::rule("humidity_off").and_then(|rule| rule.figure.as_ref());
    figure.map_or(f64::NAN, |figure| if view.is_hatchling() { figure.middle() } else { figure.high })
}

fn air(view: &View<'_>, draft: &mut Draft) {
    if !is_home(view) {
        return;
    }
    let Some(usual) = usual(view) else { return };
    if view.open_shed().is_none()
        && let Some(damp) = damp(view, &AIR_SPOTS, Means::Minimum)
        && damp.pct < usual.low - slack()
    {
        let severity = if damp.pct < usual.low - far(view) { Severity::Act } else { Severity::Watch };
        let lid = view.enclosure().and_then(|enclosure| enclosure.lid);
        let open = matches!(lid, Some(records::facts::Lid::Mesh | records::facts::Lid::PartMesh));
        let does = if open {
            "Cover most of the mesh, away from any lamp, give a larger bowl or a humid hide, and measure again tomorrow."
        } else {
            "Give a larger bowl or a humid hide, dampen part of the substrate, and measure again tomorrow."
        };
        draft.find(found(Code::HumidityLow, severity, AIR.key, &damp, usual, does).by(&Line::low(usual), "% RH"));
    }
    let shed = view.profile.humidity.shed_pct.first().filter(|_| view.open_shed().is_some());
    let highest = shed.filter(|shed| usual.high < shed.high).unwrap_or(usual);
    if let Some(damp) = damp(view, &AIR_SPOTS, Means::Maximum)
        && highest.high + slack() < damp.pct
    {
        let severity = if highest.high + far(view) < damp.pct { Severity::Act } else { Severity::Watch };
        let does = "Give more air, a smaller bowl and a dry floor, and measure again tomorrow.";
        draft.find(found(Code::HumidityHigh, severity, AIR.key, &damp, highest, does).by(&Line::high(highest), "% RH"));
    }
}

fn found(code: Code, severity: Severity, rule: &'static str, damp: &Damp, wanted: &Figure, does: &str) -> Finding {
    let says = format!("Humidity {} is {:.0} %; {} is wanted.", at(damp.spot), damp.pct, pct(wanted));
    Finding::new(code, severity, rule, says, does).on(damp.records.iter().copied())
}

fn pct(figure: &Figure) -> String {
    format!("{:.0} to {:.0} %", figure.low, figure.high)
}

fn in_shed(view: &View<'_>, draft: &mut Draft) {
    if !is_home(view) {
        return;
    }
    let (Some(shed), Some(usual)) = (view.open_shed(), usual(view)) else { return };
    let line = match view.profile.humidity.shed_pct.first() {
        Some(wanted) => Line::low(wanted),
        None => {
            let more = lines::low("shed-humidity");
            more.with(usual.low + more.value)
        }
    };
    let Some(damp) = damp(view, &AIR_SPOTS, Means::Minimum).filter(|damp| damp.pct < line.value - slack()) else {
        return;
    };
    // A humid hide that is damp does what the air does not.
    let hide = self::damp(view, &[Spot::HumidHide], Means::Minimum);
    if hide.is_some_and(|hide| lines::low("humid_hide").value - slack() <= hide.pct) {
        return;
    }
    let has_hide = view.enclosure().and_then(|enclosure| enclosure.humid_hide) == Some(true);
    let dry = damp.pct < usual.low - slack();
    let severity = if dry && !has_hide { Severity::Act } else { Severity::Watch };
    let says = format!(
        "It is about to shed and humidity {} is {:.0} %; {:.0} % or more is wanted until the skin is off.",
        at(damp.spot),
        damp.pct,
        line.value
    );
    let does = if has_hide {
        "Wring out fresh moss for the humid hide and look whether the animal uses it."
    } else {
        "Put in a closed hide with moss that is damp, not dripping, and leave the animal in peace."
    };
    draft.find(
        Finding::new(Code::HumidityLowInShed, severity, IN_SHED.key, says, does)
            .on(damp.records)
            .on([seen(shed)])
            .by(&line, "% RH"),
    );
}

/// Signs of skin that a wet floor makes worse.
const SKIN: [SignKind; 4] =
    [SignKind::Blister, SignKind::RedBellyScales, SignKind::SkinSloughing, SignKind::ChangedScales];

fn floor(view: &View<'_>, draft: &mut Draft) {
    if !is_home(view) {
        return;
    }
    let Some(enclosure) = view.enclosure().filter(|enclosure| enclosure.floor_wet == Some(true)) else { return };
    let stands_d = lines::high("readings_stand").value * 2.0;
    let skin =
        view.line.signs.iter().rev().find(|sign| {
            SKIN.contains(&sign.sign) && sign.cleared_at.is_none() && view.days_since(sign.at) <= stands_d
        });
    let (severity, says) = match skin {
        Some(_) => (Severity::Act, "The floor is wet, and the animal's skin already shows changes."),
        None => (Severity::Watch, "The floor is wet; damp is the most that skin bears for days."),
    };
    let does =
        "Take out what is wet today, put in dry substrate or paper, and wring moss out until it no longer drips.";
    let records = std::iter::once(undated(enclosure.key)).chain(skin.map(seen));
    draft.find(Finding::new(Code::WetFloor, severity, FLOOR.key, says, does).on(records));
}

fn walls(view: &View<'_>, draft: &mut Draft) {
    let told = [Code::HumidityHigh, Code::WetFloor].into_iter().any(|code| draft.found(code).is_some());
    if told || !is_home(view) {
        return;
    }
    let since = view.now.plus_days(-lines::low("readings_stand").value);
    let recent = || view.line.readings.iter().rev().take_while(move |one| since <= one.at.to);
    let inside = |one: &&Entry<Reading>| {
        matches!(one.spot, Spot::WarmAir | Spot::CoolAir) && one.means != Means::Maximum && one.means != Means::Minimum
    };
    let both = recent().filter(inside).find_map(|one| Some((one, one.temperature_c?, one.humidity_pct?)));
    let Some((reading, air_c, rh_pct)) = both else { return };
    let of_room = recent().find(|one| one.spot == Spot::Room && one.temperature_c.is_some());
    let room_c = of_room.and_then(|one| one.temperature_c).or_else(|| view.household()?.room_c);
    let Some(room_c) = room_c.filter(|room_c| *room_c < air_c) else { return };
    let Some(dew_c) = dew_point_c(air_c, rh_pct) else { return };
    // A single pane lies about half way between the air on either side; only where that is near is the model asked.
    let pane_c = f64::midpoint(air_c, room_c);
    let near = lines::high("temperature_off").value;
    if dew_c <= pane_c - near {
        return;
    }
    let wall_c = super::modelled::wall_share(view, room_c).map_or(pane_c, |share| room_c + share * (air_c - room_c));
    if dew_c <= wall_c {
        return;
    }
    let says = format!(
        "{} at {:.0} % has its dew point at {}, and walls in a room of {} are about {}: water settles on them.",
        capital(place(reading.spot)),
        rh_pct,
        celsius(dew_c),
        celsius(room_c),
        celsius(wall_c)
    );
    let does = "Wipe the walls, let more air through in the morning, and look whether the floor under them stays dry.";
    let records = std::iter::once(seen(reading)).chain(of_room.map(seen));
    draft
        .find(Finding::new(Code::Condensation, Severity::Note, WALLS.key, says, does).on(records).sure(Sure::Possible));
}

/// Dew point in °C; `None` for air that cannot be.
fn dew_point_c(air_c: f64, rh_pct: f64) -> Option<f64> {
    let humidity = RelativeHumidity::from_percent(rh_pct.max(1.0))?;
    let air = MoistAir::from_relative_humidity(Celsius::new(air_c)?, humidity, Pascals::ATMOSPHERE)?;
    air.dew_point().map(Celsius::degrees)
}

#[cfg(test)]
mod tests {
    use super::super::tests::{at, on_an_evening, severity};
    use super::*;
    use crate::answer::Severity::{Act, Note, Watch};

    fn rh(spot: &str, pct: f64) -> String {
        format!("[[reading]]\nat = \"2027-04-06T14:00\"\nspot = \"{spot}\"\nhumidity_pct = {pct}\n")
    }

    #[test]
    fn damp_and_dry_air() {
        // ball python: 55 to 75 %
        for (pct, expected) in [
            (34.9, Some((Code::HumidityLow, Act))),
            (35.0, Some((Code::HumidityLow, Watch))),
            (49.9, Some((Code::HumidityLow, Watch))),
            (50.0, None),
            (80.0, None),
            (80.1, Some((Code::HumidityHigh, Watch))),
            (95.1, Some((Code::HumidityHigh, Act))),
        ] {
            let answer = on_an_evening("ball_python", &rh("cool-air", pct));
            let found = answer.findings.iter().find(|one| matches!(one.code, Code::HumidityLow | Code::HumidityHigh));
            assert_eq!(found.map(|one| (one.code, one.severity)), expected, "{pct} %");
        }
    }

    #[test]
    fn only_the_air_that_the_animal_lives_in_counts() {
        for spot in ["room", "outdoors", "water", "humid-hide", "control-probe"] {
            assert_eq!(severity(&on_an_evening("ball_python", &rh(spot, 20.0)), Code::HumidityLow), None, "{spot}");
        }
        let both = format!("{}{}", rh("cool-air", 60.0), rh("warm-air", 40.0));
        assert_eq!(severity(&on_an_evening("ball_python", &both), Code::HumidityLow), None, "the warm end is drier");
        let misted = rh("cool-air", 95.0).replace("humidity_pct", "means = \"maximum\"\nhumidity_pct");
        assert_eq!(severity(&on_an_evening("ball_python", &misted), Code::HumidityHigh), None, "a peak after misting");
        assert_eq!(severity(&on_an_evening("ball_python", ""), Code::HumidityLow), None, "never read");
    }

    #[test]
    fn a_newborn_has_a_range_of_its_own() {
        // rainbow boa: 70 to 80 %, newborns 85 to 95 %
        let young = |pct: f64| {
            crate::testing::answer(&format!(
                "at = \"2027-04-06T18:00\"\n[animal]\nspecies = \"Epicrates cenchria\"\nstage = \"hatchling\"\n{}",
                rh("cool-air", pct)
            ))
        };
        for (pct, expected) in [(80.0, None), (79.9, Some(Watch)), (75.0, Some(Watch)), (74.9, Some(Act))] {
            assert_eq!(severity(&young(pct), Code::HumidityLow), expected, "{pct} %");
        }
        assert_eq!(severity(&on_an_evening("Epicrates cenchria", &rh("cool-air", 74.9)), Code::HumidityLow), None);
    }

    #[test]
    fn in_a_shed_damper_air_is_wanted() {
        // corn snake: 40 to 60 %, in a shed 60 to 75 %
        let shed = "[[shed]]\ndull_at = \"2027-04-03\"\n";
        for (more, pct, expected) in [
            ("", 55.0, None),
            ("", 54.9, Some(Watch)),
            ("", 35.0, Some(Watch)),
            ("", 34.9, Some(Act)),
            ("[enclosure]\nhumid_hide = true\n", 34.9, Some(Watch)),
        ] {
            let answer = on_an_evening("corn_snake", &format!("{shed}{}{more}", rh("cool-air", pct)));
            assert_eq!(severity(&answer, Code::HumidityLowInShed), expected, "{pct} % {more}");
            assert_eq!(severity(&answer, Code::HumidityLow), None, "not said twice");
        }
        let hide = format!("{shed}{}{}", rh("cool-air", 30.0), rh("humid-hide", 85.0));
        assert_eq!(severity(&on_an_evening("corn_snake", &hide), Code::HumidityLowInShed), None, "a damp hide does it");
        let off = "[[shed]]\ndull_at = \"2027-03-20\"\nshed_at = \"2027-04-01\"\n";
        let answer = on_an_evening("corn_snake", &format!("{off}{}", rh("cool-air", 50.0)));
        assert_eq!(severity(&answer, Code::HumidityLowInShed), None, "the skin is off");
    }

    #[test]
    fn a_wet_floor() {
        let sign = "[[sign]]\nat = \"2027-04-05\"\nsign = \"red-belly-scales\"\n";
        for (enclosure, more, expected) in [
            ("floor_wet = false", "", None),
            ("hides = 2", "", None),
            ("floor_wet = true", "", Some(Watch)),
            ("floor_wet = true", sign, Some(Act)),
        ] {
            let answer = on_an_evening("corn_snake", &format!("[enclosure]\n{enclosure}\n{more}"));
            assert_eq!(severity(&answer, Code::WetFloor), expected, "{enclosure} {more}");
        }
    }

    #[test]
    fn water_settles_on_walls_below_the_dew_point() {
        // 26 °C at 80 %: dew point 22.3 °C; walls half way to the room
        let air =
            "[[reading]]\nat = \"2027-04-06T14:00\"\nspot = \"warm-air\"\ntemperature_c = 26\nhumidity_pct = 80\n";
        for (room, expected) in [("18", Some(Note)), ("18.8", None), ("26", None)] {
            let case = format!("{air}[household]\nroom_c = {room}\n");
            let answer = at("2027-04-06T18:00", "boa_imperator", &case);
            assert_eq!(severity(&answer, Code::Condensation), expected, "room at {room} °C");
        }
        assert_eq!(severity(&on_an_evening("boa_imperator", air), Code::Condensation), None, "the room is not known");
    }

    #[test]
    fn the_dew_point_is_that_of_the_tables() {
        // Sonntag 1990; the same values stand in psychrometric tables: 20 °C and 50 % give 9.3 °C.
        for (air_c, rh_pct, dew_c) in [(20.0, 50.0, 9.3), (25.0, 60.0, 16.7), (30.0, 80.0, 26.2), (22.0, 100.0, 22.0)] {
            assert!((dew_point_c(air_c, rh_pct).unwrap() - dew_c).abs() < 0.1, "{air_c} °C, {rh_pct} %");
        }
    }
}
