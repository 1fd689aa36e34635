//! Two thermometers: can both be right, and if not, what is the matter?

use records::facts::Spot;
use science::physics::thermometer::{Reading, Sense, probe_in_lamp_light, two_thermometers};
use units::{Celsius, CelsiusDelta};

use super::{Part, Side, Told, error_k, guess, name};
use crate::answer::Severity;
use crate::draft::Line;
use crate::lines;
use crate::twin::words;
use crate::what_if::{Range, Unit, Warning};

/// The 90th percentile of a normal distribution, in standard deviations.
const TENTH_Z: f64 = 1.281_552;

/// Which side of the enclosure a spot lies on: the higher the warmer. `None` where that is not told by its name.
fn warmth(spot: Spot) -> Option<u8> {
    match spot {
        Spot::WarmSurface | Spot::WarmAir => Some(2),
        Spot::CoolSurface | Spot::CoolAir => Some(1),
        Spot::Room | Spot::Outdoors => Some(0),
        Spot::Hide | Spot::HumidHide | Spot::Water | Spot::ControlProbe => None,
    }
}

/// Temperatures of two thermometers.
pub(super) fn part(told: &Told, first: f64, second: f64) -> Part {
    let mut part = Part::default();
    let error = error_k(told);
    let difference = first - second;
    // Errors to either side as limits of a rectangular distribution, two of them.
    let spread = TENTH_Z * error * (2.0f64 / 3.0).sqrt();
    let range = Range { low: difference - spread, mid: difference, high: difference + spread };
    part.amount("difference", "first over second thermometer", range, Unit::Kelvin, None);
    if told.accuracy_k.is_none() {
        let says = "error of each thermometer, to either side";
        part.guesses.extend(guess(
            "thermometer-error",
            says,
            Unit::Kelvin,
            "sense_thermometer",
            1.0,
            Some("accuracy_k"),
        ));
    }
    part.sources.push(lines::source("sense_thermometer"));
    let reading = |value: f64| Celsius::new(value).map(|value| Reading { value, accuracy_k: error });
    let sense = reading(first).zip(reading(second)).and_then(|(a, b)| two_thermometers(a, b));
    let apart =
        Range { low: (range.mid.abs() - spread).max(0.0), mid: range.mid.abs(), high: range.mid.abs() + spread };
    match (told.first.spot, told.second.spot) {
        (Some(a), Some(b)) if a != b => two_places(&mut part, told, (a, first), (b, second), apart, sense),
        _ => one_place(&mut part, told, apart, sense),
    }
    part
}

/// What two thermometers may differ by and both be right, K.
fn allowed(part: &mut Part, error: f64) -> f64 {
    let allowed = 2.0 * error * (2.0f64 / 3.0).sqrt();
    part.amount(
        "both-right-up-to",
        "what two such thermometers may differ by",
        Range::exactly(allowed),
        Unit::Kelvin,
        None,
    );
    allowed
}

fn one_place(part: &mut Part, told: &Told, apart: Range, sense: Option<Sense>) {
    if told.first.spot.is_none() || told.second.spot.is_none() {
        part.untold.push("Whether both lie at one place: taken so, as no two places were told.".into());
    }
    let allowed = allowed(part, error_k(told));
    let (wrong, lost) = (lines::low("probes_apart"), lines::high("probes_apart"));
    if let Some(Sense::Agree { value, accuracy_k }) = sense {
        let half = TENTH_Z * accuracy_k / 3f64.sqrt();
        let best = Range { low: value.degrees() - half, mid: value.degrees(), high: value.degrees() + half };
        part.says.push(format!(
            "Both thermometers can be right: they are {} apart, two such ones may differ by {}, and {} fits both.",
            kelvin(apart.mid),
            kelvin(allowed),
            words::degrees(best)
        ));
        let spot = told.first.spot.filter(|_| told.first.spot == told.second.spot);
        part.amount("best-value", "temperature that fits both", best, Unit::Celsius, spot);
        return;
    }
    let known = |line: &Line| line.value <= apart.mid;
    part.says.push(if known(&wrong) {
        format!(
            "One of the two is wrong, or they do not feel the same: they are {} apart, and two that work differ by up to {}.",
            words::kelvin(apart),
            kelvin(allowed)
        )
    } else {
        format!(
            "They are {} apart, a little more than the {} that two thermometers that work may differ by: compare them side by side before one is blamed.",
            words::kelvin(apart),
            kelvin(allowed)
        )
    });
    reasons(part, told, apart.mid);
    if known(&wrong) {
        let line = if known(&lost) { &lost } else { &wrong };
        part.warnings.push(Warning {
            key: "one-is-wrong",
            severity: if known(&lost) { Severity::Act } else { Severity::Watch },
            says: format!(
                "{} K apart or more, one is taken as wrong; until it is known which, the hotter one counts.",
                line.value
            ),
            does: "Trust neither alone: leave the heat as it is, compare both at one place, then in ice water.".into(),
            source: Some(line.source.clone()),
            caution: Some("sensors"),
        });
    }
}

fn two_places(
    part: &mut Part,
    told: &Told,
    first: (Spot, f64),
    second: (Spot, f64),
    apart: Range,
    sense: Option<Sense>,
) {
    let (warmer, cooler) = if second.1 <= first.1 { (first, second) } else { (second, first) };
    let side = |spot: Spot| Side { spot: Some(spot), ..Side::default() };
    let (warm, cool) = (side(warmer.0), side(cooler.0));
    let (warm, cool) = (name(&warm, &cool, "first"), name(&cool, &warm, "second"));
    if let Some(Sense::Agree { .. }) = sense {
        part.says.push(format!(
            "The two places are as good as equally warm: {} apart, no more than two thermometers differ by.",
            words::kelvin(apart)
        ));
        return;
    }
    match warmth(warmer.0).zip(warmth(cooler.0)) {
        Some((over, under)) if over < under => {
            part.says.push(format!(
                "Something is the wrong way round: the {warm} is {} warmer than the {cool}.",
                words::kelvin(apart)
            ));
            part.warnings.push(Warning {
                key: "wrong-way-round",
                severity: Severity::Watch,
                says: format!("The {warm} should be the cooler of the two."),
                does: "Look where each probe really lies, and whether sun or another heater reaches the cool side."
                    .into(),
                source: Some(lines::source("gradient_min")),
                caution: Some("sensors"),
            });
            part.step(
                "Follow both cables: which probe lies where, and which figure on the display is which?",
                "Probes and labels that were swapped are the commonest reason.",
            );
            part.step(
                "Look for sun, a lamp or another enclosure that warms the cool side, and feel whether the heater is warm.",
                "A cool side in the sun, or a heater that is off, turns the gradient round.",
            );
            reasons(part, told, apart.mid);
        }
        _ => {
            part.says.push(format!(
                "They need not agree: the {warm} is {} warmer than the {cool}, and two places are two temperatures.",
                words::kelvin(apart)
            ));
            part.step(
                "Lay both side by side at one place for half an hour before either is called wrong.",
                "Only at one place can two thermometers contradict each other.",
            );
        }
    }
}

/// The likeliest reasons, in order, each with what to do.
fn reasons(part: &mut Part, told: &Told, apart: f64) {
    let lag_min = lines::group_high("sense_lag", "housing or display").value;
    let enough_min = 3.0 * lag_min;
    if told.lamp {
        let of = |name| lines::group("sense_lamp", name).value;
        let most =
            probe_in_lamp_light(of("absorbed"), of("radiation"), of("film")).map_or(f64::NAN, CelsiusDelta::kelvin);
        part.step(
            "Shade the one that is shone upon with a piece of card, wait ten minutes and read again.",
            format!("A dark probe in the light of a strong lamp reads up to {most:.0} K over the air around it."),
        );
        part.sources.push(lines::source("sense_lamp"));
    }
    let settled = told.minutes.is_some_and(|minutes| enough_min <= minutes);
    if !settled {
        let because = match told.minutes {
            Some(minutes) => format!(
                "After {minutes:.0} min a slow one may still show {:.0} % of the step from where it was before.",
                100.0 * (-minutes / lag_min).exp()
            ),
            None => format!("In a housing or a display it takes {lag_min:.0} min for two thirds of the way."),
        };
        part.step(format!("Leave both where they are for {enough_min:.0} min and read again."), because);
        part.sources.push(lines::source("sense_lag"));
    }
    part.step(
        "Lay both probes side by side, touching, on the cool side, away from heater, wall and light.",
        "A hand's breadth nearer to the heater, or on a wall instead of in the air, makes several degrees.",
    );
    let ice = lines::low("sense_ice_water");
    part.step(
        format!(
            "Ice water: fill a cup with crushed ice, cover it just with water, stir, wait; a waterproof probe shows {:.0} °C there. A display goes into a tight bag, or not at all.",
            ice.value
        ),
        "The one that is off there is the wrong one; by how much it is off there tells how far off it is now, roughly.",
    );
    part.sources.push(ice.source);
    let weak =
        "A weak battery or a wet plug makes a reading creep; what is off by more than its maker allows is replaced.";
    if lines::high("probes_apart").value <= apart {
        part.step("New batteries, dry plugs, then a third thermometer. Replace the wrong one.", weak);
    } else {
        part.step("New batteries and dry plugs; where it stays, replace the wrong one.", weak);
    }
}

/// «1.2 K»: errors of thermometers are told to a tenth.
fn kelvin(value: f64) -> String {
    format!("{value:.1}\u{a0}K")
}
