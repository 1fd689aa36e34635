//! A misting once a day: how high the air goes, and how long it stays there.

use records::facts::Spot;
use science::physics::moisture::evaporation::wetness;

use super::changes::of_damp;
use super::{Now, Wanted, target_kg_m3};
use crate::lines;
use crate::twin::guesses::Unknown;
use crate::twin::moisture::{damp_floor, humidity_pct, saturated_kg_m3};
use crate::twin::warmth::push;
use crate::twin::words;
use crate::what_if::{Cell, Range, Reckoning, Unit};

/// A misting: what it leaves, how high the air goes, how long it stays above what is wanted.
struct Misting {
    grams: f64,
    cool_pct: f64,
    warm_pct: f64,
    hours_above: f64,
}

fn one(now: &Now, wanted: Option<&Wanted>) -> Option<Misting> {
    let floor_m2 = 2.0 * now.model.enclosure().half_floor_m2();
    let grams = of_damp("misting, for a square metre of floor") * floor_m2;
    let film = now.model.values().of(Unknown::Film);
    let area_m2 = grams / 1000.0 / film;
    let mut wet = now.wet.clone();
    let misted = damp_floor(&now.model, &now.state, area_m2 / floor_m2, wetness::DRIPPING);
    wet.push(misted);
    let damp = now.air.settles(&wet)?;
    let (start, end) = (now.vapour.kg_m3, now.vapour.kg_m3);
    // The droplets last until they have given what they are, at the mean of what they give at the start and later.
    let rate = |kg_m3: f64| now.air.given_g_day(&[misted], kg_m3) / 24.0;
    let dry_h = grams / rate(f64::midpoint(start, damp.kg_m3)).max(1e-9);
    let peak = damp.after_kg_m3(start, dry_h).min(saturated_kg_m3(now.air.coldest_c));
    let hours_above = wanted.map_or(0.0, |wanted| {
        let target = target_kg_m3(wanted, now);
        if target <= end {
            return f64::INFINITY;
        }
        if peak <= target {
            return 0.0;
        }
        let up = damp.hours(start, target).unwrap_or(0.0);
        (dry_h - up).max(0.0) + now.vapour.hours(peak, target).unwrap_or(0.0)
    });
    let at = |spot: Spot| humidity_pct(peak, now.state.spot(spot));
    Some(Misting { grams, cool_pct: at(Spot::CoolAir), warm_pct: at(Spot::WarmAir), hours_above })
}

/// Says so where nobody mists as much as has to be added.
pub(super) fn beyond(answer: &mut Reckoning) {
    let mid = |key: &str| answer.amount(key).map(|one| one.range.mid);
    let times = mid("water-to-add").zip(mid("misting")).map(|(needed, misted)| needed / misted);
    if let Some(times) = times.filter(|times| lines::high("twin_mistings").value < *times) {
        answer.says.push(format!(
            "That is {times:.0} mistings a day: nobody can mist that much, and a floor that gets it is wet. Less air must leave first."
        ));
    }
}

/// A misting once a day: its row, and its numbers.
pub(super) fn misting(
    answer: &mut Reckoning,
    wanted: Option<&Wanted>,
    sets: &[Now],
    cells: &impl Fn(String, Range, Range, String) -> Vec<Cell>,
) -> Option<Vec<Cell>> {
    let mists: Vec<Misting> = sets.iter().filter_map(|now| one(now, wanted)).collect();
    let over = |number: fn(&Misting) -> f64| Range::of(mists.iter().map(number));
    let (cool, warm) = (over(|one| one.cool_pct)?, over(|one| one.warm_pct)?);
    let grams = over(|one| one.grams);
    push(answer, "misting", "water of one misting", grams, Unit::Grams, None);
    let key = "misting-cool-air";
    push(
        answer,
        key,
        "humidity of the cool air at its highest after a misting",
        Some(cool),
        Unit::Humidity,
        Some(Spot::CoolAir),
    );
    let hours = Range::of_times(mists.iter().map(|one| one.hours_above)).filter(|_| wanted.is_some());
    let mut mind = "on walls and plants, not on the animal, its lamp or a socket".to_owned();
    if let (Some(hours), Some(wanted)) = (hours, wanted) {
        // Where it is damp enough without it, nobody mists.
        if hours.mid.is_finite() {
            let says = format!("how long a misting holds {:.0} % or more", wanted.mid);
            push(answer, "misting-hours", says, Some(hours), Unit::Hours, None);
            mind = if 0.0 < hours.mid {
                format!("{:.0} % or more for {}; {mind}", wanted.mid, words::hours(hours))
            } else {
                let verb = if 0.0 < hours.high { "hardly reaches" } else { "does not reach" };
                format!("{verb} {:.0} %; {mind}", wanted.mid)
            };
        }
    }
    let says = format!("misting once a day, {}", grams.map_or_else(String::new, words::grams));
    Some(cells(says, cool, warm, mind))
}
