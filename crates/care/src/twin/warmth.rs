//! Is the heater strong enough? Watts for a target, what this heater reaches, gradient, duty, cost.

use records::facts::{HeaterKind, Spot};
use records::fields::{Limits, Reader};
use records::{Fault, Fields};
use science::physics::network::NetworkFault;

use super::model::{Drive, Place, SPOTS, drives, place_of};
use super::{Description, Model, Spread, State, description, words};
use crate::answer::{Severity, SourceRef};
use crate::draft::Line;
use crate::lines;
use crate::what_if::{Amount, AtSpot, Entry, Field, Group, Known, Question, Range, Reckoning, Unit, Warning};

/// What it asks for.
pub fn fields() -> Vec<Field> {
    let mut fields = vec![
        Field::new("target_c", "Warm surface wanted", Entry::Number(Unit::Celsius), Group::Question)
            .hint("left open: what the species wants"),
        Field::new("price_kwh", "Price of a kWh", Entry::Number(Unit::Money), Group::Question)
            .hint("in your own money; for the cost of a month"),
    ];
    fields.extend(description::fields());
    fields
}

struct Asked {
    target_c: Option<f64>,
    price_kwh: Option<f64>,
}

fn asked(reader: &mut Reader<'_>) -> Asked {
    Asked {
        target_c: reader.number("target_c", Limits::new(10.0, 60.0, "°C")),
        price_kwh: reader.number("price_kwh", Limits::new(0.0, 100.0, "money for a kWh")),
    }
}

/// The answer.
pub fn answer(typed: &dyn Fields, known: &Known) -> Result<Reckoning, Vec<Fault>> {
    let (described, asked) = description::read(typed, known, asked)?;
    let target = wanted(&described, asked.target_c).ok_or_else(|| {
        let mend = "give the temperature wanted at the warm surface, or the species";
        vec![Fault::new("nothing says how warm it is to be", typed.place("target_c"), mend)]
    })?;
    reckon(&described, &asked, &target).map_err(|fault| vec![impossible(typed, &fault)])
}

/// What the model cannot be made of.
pub(super) fn impossible(typed: &dyn Fields, fault: &NetworkFault) -> Fault {
    Fault::new(
        format!("no model can be made of this description: {fault}"),
        typed.place(""),
        "look at size, thickness and watts",
    )
}

/// The temperature wanted at the warm surface.
pub(super) struct Target {
    /// In °C.
    pub c: f64,
    /// Where it comes from; `None` where it was typed.
    pub source: Option<SourceRef>,
}

/// The temperature wanted at the warm surface: as typed, else the middle of what the species wants.
pub(super) fn wanted(described: &Description, typed: Option<f64>) -> Option<Target> {
    let of_species = || {
        let temperature = &described.profile()?.temperature;
        let figure = temperature.basking_surface_c.first().or_else(|| temperature.warm_ambient_c.first())?;
        Some(Target { c: figure.middle(), source: Some(SourceRef::of(figure)) })
    };
    typed.map(|c| Target { c, source: None }).or_else(of_species)
}

/// Drives with the main heater free, the others by their thermostats.
fn others(described: &Description, model: &Model) -> Vec<Drive> {
    let mut all = drives(described, model, false, None);
    if let Some(main) = all.first_mut() {
        *main = Drive::Gives(0.0);
    }
    all
}

fn room_of(model: &Model) -> f64 {
    model.values().of(super::Unknown::Room)
}

/// A heater that the description does not name: of the kind that heats a floor, so that watts can be told at all.
pub(super) fn with_a_heater(described: &Description) -> Description {
    let mut described = described.clone();
    if described.heaters.is_empty() {
        described.heaters.push(records::facts::Heater::of(HeaterKind::Panel));
    }
    described
}

const SURFACE: Place = Place::At(Spot::WarmSurface);

fn needed_w(described: &Description, model: &Model, target_c: f64, room_c: f64) -> Result<f64, NetworkFault> {
    model.power_for(0, SURFACE, target_c, &others(described, model), room_c)
}

/// One way in which the enclosure may be, held at the target.
struct Held<'a> {
    model: &'a Model,
    /// What the main heater gives, not limited by what it has.
    power: f64,
    state: State,
}

fn reckon(told: &Description, asked: &Asked, target: &Target) -> Result<Reckoning, NetworkFault> {
    let described = &with_a_heater(told);
    let spread = Spread::of(described)?;
    let mut answer = told.begin(Question::Warmth);
    let target_c = target.c;
    let held: Vec<Held<'_>> = spread
        .models()
        .iter()
        .filter_map(|model| {
            let power = needed_w(described, model, target_c, room_of(model)).ok()?;
            let mut all = others(described, model);
            if let Some(main) = all.first_mut() {
                *main = Drive::Gives(power.max(0.0));
            }
            Some(Held { model, power, state: model.settled(&all, room_of(model)).ok()? })
        })
        .collect();
    let over = |number: fn(&Held<'_>) -> f64| Range::of(held.iter().map(number));
    let (needed, room) = (over(|one| one.power), over(|one| room_of(one.model)));
    let warm_air = over(|one| one.state.spot(Spot::WarmAir));
    let cool_air = over(|one| one.state.spot(Spot::CoolAir));
    let cool_floor = over(|one| one.state.spot(Spot::CoolSurface));
    let gradient = Range::of(held.iter().map(|one| target_c - one.state.spot(Spot::CoolAir)));
    let needed = needed.ok_or(NetworkFault::Range("power"))?;
    answer.guesses = spread.guessed(described, |model| needed_w(described, model, target_c, room_of(model)));
    answer.sources = vec![lines::source("twin_surface_film"), lines::source("twin_inner_films")];
    answer.sources.extend(target.source.clone());
    answer.cautions = vec!["heat-and-fire"];

    let kind = if told.heaters.is_empty() { "a heating panel" } else { "this heater" };
    if needed.high <= 0.0 {
        answer.says.push(format!(
            "No heat is needed for {} on the warm surface: the room alone makes it warmer.",
            words::degrees(Range::exactly(target_c))
        ));
        answer.warnings.push(Warning {
            key: "room-warmer-than-target",
            severity: Severity::Watch,
            says: "The room is warmer than the target, so nothing in the enclosure can be cooler than the room.".into(),
            does: "Cool the room, or move the enclosure to a cooler one; a heater cannot help here.".into(),
            source: target.source.clone(),
            caution: None,
        });
    } else {
        answer.says.push(format!(
            "{} from {kind} hold {} on the warm surface in a room of {}.",
            words::watts(floored(needed)),
            words::degrees(Range::exactly(target_c)),
            room.map_or_else(String::new, words::degrees),
        ));
    }
    push(&mut answer, "watts-needed", "power that holds the target", Some(floored(needed)), Unit::Watts, None);
    install(&mut answer, described, &held, target_c);
    let mut drawn = vec![(Spot::WarmSurface, Some(Range::exactly(target_c))), (Spot::WarmAir, warm_air)];
    drawn.extend([(Spot::CoolAir, cool_air), (Spot::CoolSurface, cool_floor)]);
    if let Some(gradient) = gradient {
        let says = "warm surface over the cool air";
        push(&mut answer, "gradient", says, Some(gradient), Unit::Kelvin, None);
    }
    if let Some(cool) = cool_air {
        let says = "air of the cool side then";
        push(&mut answer, "cool-air", says, Some(cool), Unit::Celsius, Some(Spot::CoolAir));
        answer.says.push(format!("The air of the cool side is then at {}.", words::degrees(cool)));
        cool_side(&mut answer, described, cool);
    }
    if told.heaters.first().and_then(|main| main.watts).is_some() {
        this_heater(&mut answer, described, asked, &spread, &held, target_c)?;
    } else {
        answer
            .untold
            .push("What your heater reaches, how long it runs and what it costs: the watts are needed.".into());
    }
    probe(&mut answer, described, &spread, &held, target_c, &mut drawn)?;
    for (spot, range) in drawn {
        let wanted_c = described.profile().and_then(|profile| wanted_at(profile, spot));
        answer.spots.push(AtSpot { spot, temperature_c: range, humidity_pct: None, measured_c: None, wanted_c });
    }
    Ok(answer)
}

/// What a species wants at a spot, °C.
pub(super) fn wanted_at(profile: &species::Profile, spot: Spot) -> Option<(f64, f64)> {
    let temperature = &profile.temperature;
    let figure = match spot {
        Spot::WarmSurface => temperature.basking_surface_c.first(),
        Spot::WarmAir => temperature.warm_ambient_c.first(),
        Spot::CoolAir | Spot::CoolSurface => temperature.cool_ambient_c.first(),
        _ => None,
    }?;
    Some((figure.low, figure.high))
}

fn floored(range: Range) -> Range {
    Range { low: range.low.max(0.0), mid: range.mid.max(0.0), high: range.high.max(0.0) }
}

pub(super) fn push(
    answer: &mut Reckoning,
    key: &'static str,
    says: impl Into<String>,
    range: Option<Range>,
    unit: Unit,
    spot: Option<Spot>,
) {
    if let Some(range) = range {
        answer.amounts.push(Amount::new(key, says, range, unit).at(spot));
    }
}

/// What to install: enough for the coldest room that was told, and some to spare.
fn install(answer: &mut Reckoning, described: &Description, held: &[Held<'_>], target_c: f64) {
    let Some(spare) = lines::whole("twin_spare") else { return };
    let coldest = [described.room_c, described.room_night_c, described.room_winter_c];
    let coldest = coldest.into_iter().flatten().reduce(f64::min);
    let most = Range::of(held.iter().filter_map(|one| match coldest {
        Some(coldest) if coldest < room_of(one.model) => needed_w(described, one.model, target_c, coldest).ok(),
        _ => Some(one.power),
    }));
    let Some(most) = most.map(floored).filter(|most| 0.0 < most.high) else { return };
    let range = Range { low: most.low * spare.low, mid: most.mid * spare.middle(), high: most.high * spare.high };
    let says = match coldest {
        Some(coldest) => format!("power to install for a room of {coldest:.0} °C, with some to spare"),
        None => "power to install, with some to spare".to_owned(),
    };
    push(answer, "watts-to-install", says, Some(range), Unit::Watts, None);
}

/// Does the cool side stay cool?
fn cool_side(answer: &mut Reckoning, described: &Description, cool: Range) {
    let Some(profile) = described.profile() else { return };
    let Some(figure) = profile.temperature.cool_ambient_c.first() else { return };
    let (key, says, does) = if figure.high < cool.mid {
        let does = "A larger enclosure, a lid that lets more air through or a cooler room keeps a cool side.";
        ("cool-side-too-warm", "The cool side gets warmer than the species wants.", does)
    } else if cool.mid < figure.low {
        let does = "Warm the room or insulate walls and lid; a second, weaker heater for the air does it too.";
        ("cool-side-too-cold", "The cool side stays colder than the species wants.", does)
    } else {
        return;
    };
    answer.warnings.push(Warning {
        key,
        severity: Severity::Watch,
        says: format!("{says} {} against {}–{} °C.", words::degrees(cool), figure.low, figure.high),
        does: does.into(),
        source: Some(Line::high(figure).source),
        caution: None,
    });
}

/// What the heater that is there reaches, how long it runs for the target, and what that costs.
fn this_heater(
    answer: &mut Reckoning,
    described: &Description,
    asked: &Asked,
    spread: &Spread,
    held: &[Held<'_>],
    target_c: f64,
) -> Result<(), NetworkFault> {
    let full = |model: &Model| {
        let mut all = others(described, model);
        if let Some(main) = all.first_mut() {
            *main = Drive::Gives(model.most_w(0));
        }
        model.settled(&all, room_of(model))
    };
    let [surface, air] = spread.ranges(|model| {
        let state = full(model)?;
        Ok([state.spot(Spot::WarmSurface), state.spot(Spot::WarmAir)])
    });
    let spots = [("reaches-surface", Spot::WarmSurface, surface), ("reaches-air", Spot::WarmAir, air)];
    for (key, spot, range) in spots {
        let says = format!("{} with the heater always on", words::spot(spot));
        push(answer, key, says, range, Unit::Celsius, Some(spot));
    }
    let share = |one: &Held<'_>| one.power.max(0.0) / one.model.most_w(0);
    let duty = Range::of(held.iter().map(|one| 100.0 * share(one)));
    // A month of the year on average; beyond its power it runs all the time.
    let kwh = |one: &Held<'_>| share(one).min(1.0) * one.model.most_w(0) * 24.0 * 30.4375 / 1000.0;
    let kwh = Range::of(held.iter().map(kwh));
    if let Some(surface) = surface.filter(|surface| surface.mid < target_c) {
        answer.warnings.push(Warning {
            key: "heater-too-weak",
            severity: Severity::Act,
            says: format!(
                "This heater brings the warm surface to {} at most: too little for {target_c:.0} °C in this room.",
                words::degrees(surface)
            ),
            does: "Take a stronger heater on a thermostat, insulate the enclosure, cover part of a mesh lid, or warm the room.".into(),
            source: None,
            caution: Some("heat-and-fire"),
        });
    }
    push(answer, "duty", "share of the time that it is on", duty, Unit::Percent, None);
    push(answer, "kwh-month", "energy of a month", kwh, Unit::KilowattHours, None);
    if let (Some(price), Some(kwh)) = (asked.price_kwh, kwh) {
        let cost = Range { low: kwh.low * price, mid: kwh.mid * price, high: kwh.high * price };
        push(answer, "cost-month", "cost of a month", Some(cost), Unit::Money, None);
    }
    Ok(())
}

/// Can the set point and the place of the probe give the target at the warm surface?
fn probe(
    answer: &mut Reckoning,
    described: &Description,
    spread: &Spread,
    held: &[Held<'_>],
    target_c: f64,
    drawn: &mut Vec<(Spot, Option<Range>)>,
) -> Result<(), NetworkFault> {
    let Some(main) = described.heaters.first() else { return Ok(()) };
    let place = place_of(main);
    if place == Place::Room {
        answer.warnings.push(Warning {
            key: "probe-outside",
            severity: Severity::Act,
            says: "The probe lies outside the enclosure: the thermostat does not feel what it heats.".into(),
            does: "Fix the probe at the warm end, where the animal can touch, before anything else is set.".into(),
            source: Some(lines::source("probe_place")),
            caution: Some("heat-and-fire"),
        });
        return Ok(());
    }
    // The set point at which the warm surface is at the target: the temperature of the place of the probe then.
    let set = Range::of(held.iter().map(|one| one.state.at(place)));
    let at = match place {
        Place::At(spot) => words::spot(spot),
        Place::Mat => "mat".to_owned(),
        Place::Room => return Ok(()),
    };
    push(
        answer,
        "set-point",
        format!("set point that gives the target, with the probe at the {at}"),
        set,
        Unit::Celsius,
        None,
    );
    let Some(set_c) = main.set_c.filter(|_| main.watts.is_some()) else { return Ok(()) };
    let ranges = spread.ranges::<4>(|model| {
        let state = model.settled(&drives(described, model, false, None), room_of(model))?;
        Ok(SPOTS.map(|spot| state.spot(spot)))
    });
    *drawn = SPOTS.into_iter().zip(ranges).collect();
    let Some(surface) = ranges.first().copied().flatten() else { return Ok(()) };
    push(
        answer,
        "surface-as-set",
        "warm surface as the thermostat is set now",
        Some(surface),
        Unit::Celsius,
        Some(Spot::WarmSurface),
    );
    let slack = lines::low("set_point_off").value;
    if slack < (surface.mid - target_c).abs() {
        let limit = described.profile().and_then(|profile| {
            let figure = profile.temperature.surface_absolute_max_c.first()?;
            Some(Line::high(figure))
        });
        let hot = limit.filter(|limit| limit.value < surface.mid);
        answer.warnings.push(Warning {
            key: "set-point-off-target",
            severity: if hot.is_some() { Severity::Act } else { Severity::Watch },
            says: format!(
                "Set to {set_c:.0} °C with the probe at the {at}, the warm surface comes to {} instead of {target_c:.0} °C.",
                words::degrees(surface)
            ),
            does: match set {
                Some(set) => format!(
                    "Measure the warm surface itself; {} at the probe should give it.",
                    words::degrees(set)
                ),
                None => "Measure the warm surface itself and set the thermostat by it.".to_owned(),
            },
            source: hot.map(|limit| limit.source).or_else(|| Some(lines::source("set_point_off"))),
            caution: Some("heat-and-fire"),
        });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::twin::testing;

    fn ask(pairs: &[(&str, &str)]) -> Result<Reckoning, Vec<Fault>> {
        testing::ask(answer, pairs)
    }

    const BOX: [(&str, &str); 6] = [
        ("length_cm", "120"),
        ("width_cm", "60"),
        ("height_cm", "60"),
        ("material", "PVC"),
        ("room_c", "21"),
        ("species", "ball python"),
    ];

    fn with<'a>(more: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
        let mut all = BOX.to_vec();
        all.extend(more);
        all
    }

    const PANEL: [(&str, &str); 5] =
        [("heater", "panel"), ("watts", "80"), ("thermostat", "dimming"), ("set_c", "32"), ("probe", "warm-surface")];

    fn mid(answer: &Reckoning, key: &str) -> f64 {
        answer.amount(key).unwrap_or_else(|| panic!("{key}")).range.mid
    }

    #[test]
    fn a_keeper_hears_watts_cool_side_duty_and_cost() {
        let answer = ask(&with(&[&PANEL[..], &[("price_kwh", "0.3")]].concat())).unwrap();
        assert!(answer.says[0].contains("W (") && answer.says[0].contains("32"), "{}", answer.says[0]);
        let duty = mid(&answer, "watts-needed") / 80.0 * 100.0;
        assert!((mid(&answer, "duty") - duty).abs() < 5.0);
        assert!((mid(&answer, "cost-month") - 0.3 * mid(&answer, "kwh-month")).abs() < 1e-9);
        assert!(answer.guesses.iter().map(|guess| guess.weight).sum::<f64>() <= 1.0 + 1e-9);
        assert!(answer.spots.iter().any(|spot| spot.spot == Spot::CoolAir));
    }

    /// By hand with the films of ISO 6946: 1200 × 600 × 600 of foamed PVC, closed, loses 9.0 W/K from the air inside; a warm surface is twice as far over the room as the mean of the air.
    #[test]
    fn watts_agree_with_the_losses_of_a_box_of_that_size() {
        let answer = ask(&with(&PANEL)).unwrap();
        let rise =
            0.5 * (answer.spots[1].temperature_c.unwrap().mid + answer.spots[2].temperature_c.unwrap().mid) - 21.0;
        let expected = 9.0 * rise;
        let needed = mid(&answer, "watts-needed");
        assert!((0.75 * expected..1.5 * expected).contains(&needed), "{needed} W for a mean rise of {rise} K");
    }

    #[test]
    fn more_is_needed_in_a_colder_room_and_none_in_a_hot_one() {
        let watts = |room: &str| {
            let mut all = with(&PANEL);
            all[4].1 = room;
            mid(&ask(&all).unwrap(), "watts-needed")
        };
        assert!(watts("21") < watts("16"));
        let mut hot = with(&PANEL);
        hot[4].1 = "36";
        let answer = ask(&hot).unwrap();
        assert!(answer.warning("room-warmer-than-target").is_some());
        assert!(answer.says[0].starts_with("No heat is needed"));
    }

    #[test]
    fn a_weak_heater_and_a_probe_outside_are_told() {
        let weak = ask(&with(&[("heater", "mat"), ("watts", "5")])).unwrap();
        assert_eq!(weak.warning("heater-too-weak").unwrap().severity, Severity::Act);
        let mut outside = with(&PANEL);
        outside.last_mut().unwrap().1 = "outside";
        assert!(ask(&outside).unwrap().warning("probe-outside").is_some());
    }

    /// Lambert's cosine law (any textbook of radiation, for example Incropera and DeWitt, ch. 12): right under a diffuse
    /// emitter at distance d lie P/(π d²); a surface at h over the air is warmer by that over h. 0.6 of an emitter's
    /// power is radiation, and still air with radiation carries 8 to 12 W/(m²·K).
    #[test]
    fn the_surface_under_an_emitter_is_no_hotter_than_lamberts_law_lets_it_be() {
        let tank =
            [("length_cm", "90"), ("width_cm", "45"), ("height_cm", "45"), ("material", "glass"), ("lid", "mesh")];
        let heat = [("room_c", "21"), ("species", "corn snake"), ("heater", "ceramic"), ("watts", "100")];
        let held = [("thermostat", "on-off"), ("set_c", "30"), ("probe", "warm-air")];
        let answer = ask(&[&tank[..], &heat, &held].concat()).unwrap();
        let over_air = mid(&answer, "surface-as-set") - 30.0;
        let [low, high] = [12.0, 8.0].map(|h| 0.6 * 100.0 / (std::f64::consts::PI * 0.3 * 0.3) / h);
        assert!(0.5 * low < over_air && over_air < high, "{over_air} K against {low} to {high}");
    }

    #[test]
    fn every_fault_of_a_description_is_told_at_once() {
        let faults = ask(&[
            ("length_cm", "0"),
            ("width_cm", "60"),
            ("height_cm", "60"),
            ("material", "granite"),
            ("heater", "mat"),
            ("watts", "5000"),
            ("species", "corn snayke"),
        ])
        .unwrap_err();
        let told = |part: &str| faults.iter().any(|fault| fault.what.contains(part) && !fault.mend.is_empty());
        assert!(
            told("`length_cm` cannot be 0") && told("granite") && told("5000 W") && told("corn snayke"),
            "{faults:#?}"
        );
        let missing = ask(&[("species", "corn snake")]).unwrap_err();
        assert_eq!(missing.len(), 3, "{missing:#?}");
    }
}
