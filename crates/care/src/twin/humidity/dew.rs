//! Where dew settles: faces that are colder than the dew point.

use records::facts::Spot;
use science::physics::walls::humidity_of_dew_percent;
use units::Celsius;

use super::{Now, Wanted, target_kg_m3};
use crate::answer::Severity;
use crate::lines;
use crate::twin::moisture::{corner_c, dew_point_c};
use crate::twin::warmth::push;
use crate::twin::words;
use crate::what_if::{Range, Reckoning, Unit, Warning};

/// A face of the box.
struct Face {
    key: &'static str,
    says: &'static str,
    at_c: fn(&Now) -> f64,
}

/// The faces, the one that matters most first: from the floor there is no way out for the animal.
const FACES: [Face; 3] = [
    Face { key: "wet-floor", says: "the floor at the cool end", at_c: |now| now.state.spot(Spot::CoolSurface) },
    Face { key: "wet-walls", says: "walls and lid", at_c: |now| now.state.shell_c() },
    Face { key: "wet-corners", says: "the corners at the cool end", at_c: |now| corner_c(&now.model, &now.state) },
];

fn dew_c(now: &Now) -> f64 {
    now.vapour.dew_point_c(now.air.mean_c)
}

/// Does water settle on walls or floor?
pub(super) fn is_wet(now: &Now) -> bool {
    // Held at saturation of its coldest face: what comes in beyond that settles there.
    0.5 < now.vapour.settles_g_day || FACES.iter().take(2).any(|face| (face.at_c)(now) < dew_c(now))
}

fn share_pct(sets: &[Now], is_so: impl Fn(&Now) -> bool) -> f64 {
    100.0 * sets.iter().filter(|now| is_so(now)).count() as f64 / sets.len().max(1) as f64
}

/// Dew on the faces, now and at what is wanted.
pub(super) fn dew(answer: &mut Reckoning, wanted: Option<&Wanted>, sets: &[Now]) {
    let corner = Range::of(sets.iter().map(|now| corner_c(&now.model, &now.state)));
    push(answer, "corner", "coldest corner, at the cool end", corner, Unit::Celsius, None);
    let limit = Range::of(sets.iter().map(dew_limit_pct));
    let says = "humidity of the cool air from which its corners sweat";
    push(answer, "dew-limit", says, limit, Unit::Humidity, Some(Spot::CoolAir));
    let (unlikely, likely) = (lines::low("twin_sure").value, lines::high("twin_sure").value);
    let wettest = FACES.iter().find_map(|face| {
        let pct = share_pct(sets, |now| (face.at_c)(now) <= dew_c(now) + 1e-6);
        (unlikely <= pct).then_some((face, pct))
    });
    if let Some((face, pct)) = wettest {
        let is_likely = likely <= pct;
        let settles = Range::of(sets.iter().map(|now| now.vapour.settles_g_day)).filter(|range| 0.5 < range.mid);
        let how_much = settles.map_or_else(String::new, |range| format!(", {} a day", words::grams(range)));
        let verb = if is_likely { "Water settles" } else { "Water may settle" };
        answer.warnings.push(Warning {
            key: face.key,
            severity: match (face.key, is_likely) {
                ("wet-corners", true) | (_, false) => Severity::Watch,
                (_, true) => Severity::Act,
            },
            says: format!("{verb} on {}{how_much}: they are colder than the dew point of the air inside.", face.says),
            does: "Let more air through, take a wet surface away, or insulate the cold faces; wipe what runs down and keep the floor dry.".into(),
            source: Some(lines::source("wet_floor")),
            caution: Some("wiring"),
        });
    }
    let Some(wanted) = wanted else { return };
    let at_target = |now: &Now| {
        let dew = dew_point_c(target_kg_m3(wanted, now), now.air.mean_c);
        now.state.shell_c().min(now.state.spot(Spot::CoolSurface)) < dew
    };
    let pct = share_pct(sets, at_target);
    if wettest.is_none() && likely <= pct {
        answer.warnings.push(Warning {
            key: "target-wets-walls",
            severity: Severity::Watch,
            says: format!("Before the air has {:.0} %, water settles on walls or floor: in this room they are too cold for it.", wanted.mid),
            does: "Insulate walls and floor or warm the room first; until then a hide with damp moss gives the damp place.".into(),
            source: Some(lines::source("wet_floor")),
            caution: None,
        });
    }
}

/// The humidity of the cool air at which its corners begin to sweat, %.
fn dew_limit_pct(now: &Now) -> f64 {
    let corner = Celsius::new(corner_c(&now.model, &now.state));
    let air = Celsius::new(now.state.spot(Spot::CoolAir));
    corner.zip(air).and_then(|(corner, air)| humidity_of_dew_percent(corner, air)).unwrap_or(f64::NAN).min(100.0)
}
