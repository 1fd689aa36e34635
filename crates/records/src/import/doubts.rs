//! What was understood and looks odd: shown beside the rest, so that a slip is seen before it is kept.

use std::collections::HashMap;

use units::{When, Zone};

use super::table::Table;
use super::understood::ImportedAnimal;
use crate::facts::{Fact, Reading};
use crate::fault::Fault;

/// Says what looks odd about the animals of a table.
pub(super) fn about(table: &Table, animals: &[ImportedAnimal], zone: &Zone) -> Vec<Fault> {
    let mut doubts = Vec::new();
    for animal in animals {
        meals(table, animal, &mut doubts);
        weighings(table, animal, zone, &mut doubts);
        dates(table, animal, zone, &mut doubts);
        twice(table, animal, &mut doubts);
        for (line, fact) in &animal.facts {
            if let Fact::Reading(reading) = fact {
                climate(table, *line, reading, &mut doubts);
            }
        }
    }
    doubts
}

fn masses(animal: &ImportedAnimal) -> Vec<(When, f64, u32)> {
    let weighing = |(line, fact): &(u32, Fact)| match fact {
        Fact::Weighing(weighing) => Some((weighing.at, weighing.mass_g, *line)),
        _ => None,
    };
    let mut masses: Vec<(When, f64, u32)> = animal.facts.iter().filter_map(weighing).collect();
    masses.sort_by_key(|(at, _, line)| (at.from, *line));
    masses
}

/// A meal heavier than the animal was at its nearest weighing.
fn meals(table: &Table, animal: &ImportedAnimal, doubts: &mut Vec<Fault>) {
    let masses = masses(animal);
    for (line, fact) in &animal.facts {
        let Fact::Meal(meal) = fact else { continue };
        let Some(prey) = meal.total_g() else { continue };
        let after = masses.partition_point(|(at, ..)| at.from < meal.at.from);
        let around = [after.checked_sub(1), Some(after)].into_iter().flatten().filter_map(|at| masses.get(at));
        let nearest = around.min_by_key(|(at, ..)| (at.from.0 - meal.at.from.0).abs());
        if let Some((_, mass, weighed)) = nearest.filter(|(_, mass, _)| *mass < prey) {
            let what = format!("a meal of {prey} g is heavier than `{}` was ({mass} g, line {weighed})", animal.name);
            doubts.push(Fault::new(
                what,
                table.place(*line, None),
                "look whether the units, or the columns, are right",
            ));
        }
    }
}

/// A mass that leaps: more likely another unit, or another animal.
fn weighings(table: &Table, animal: &ImportedAnimal, zone: &Zone, doubts: &mut Vec<Fault>) {
    /// No animal weighs five times as much (or as little) within two months.
    const LEAP: f64 = 5.0;
    const WITHIN_DAYS: f64 = 60.0;
    let masses = masses(animal);
    for ((before, light, _), (at, mass, line)) in masses.iter().zip(masses.iter().skip(1)) {
        let leaps = LEAP < mass / light || LEAP < light / mass;
        if leaps && at.from.days_since(before.from) <= WITHIN_DAYS {
            let what =
                format!("`{}` weighs {mass} g, and weighed {light} g on {}", animal.name, zone.date(before.from));
            doubts.push(Fault::new(what, table.place(*line, None), "look whether the unit, or the animal, is right"));
        }
    }
}

/// What happened before the animal hatched.
fn dates(table: &Table, animal: &ImportedAnimal, zone: &Zone, doubts: &mut Vec<Fault>) {
    let Some(hatched) = animal.animal.hatched else { return };
    for (line, fact) in &animal.facts {
        if let Some(when) = fact.when().filter(|when| when.to < hatched.from) {
            let (when, hatched) = (zone.write_when(when), zone.write_when(hatched));
            let what = format!("{when} is before `{}` hatched ({hatched})", animal.name);
            doubts.push(Fault::new(what, table.place(*line, None), "look whether both dates are right"));
        }
    }
}

/// The same meal or weighing in two rows.
fn twice(table: &Table, animal: &ImportedAnimal, doubts: &mut Vec<Fault>) {
    let mut seen: HashMap<String, u32> = HashMap::new();
    for (line, fact) in &animal.facts {
        if !matches!(fact, Fact::Meal(_) | Fact::Weighing(_)) {
            continue;
        }
        if let Some(first) = seen.insert(format!("{fact:?}"), *line) {
            let what = format!("the same {} of `{}` stands in line {first}", fact.kind(), animal.name);
            doubts.push(Fault::new(what, table.place(*line, None), "take one away, where it happened once"));
        }
    }
}

/// A temperature at which no animal lives, or a humidity that looks like a share of one.
fn climate(table: &Table, line: u32, reading: &Reading, doubts: &mut Vec<Fault>) {
    if let Some(degrees) = reading.temperature_c.filter(|degrees| !(0.0..=60.0).contains(degrees)) {
        let what = format!("{degrees:.1} °C at the {}", crate::choice::Choice::words(reading.spot));
        doubts.push(Fault::new(what, table.place(line, None), "look whether the unit is right"));
    }
    if let Some(humidity) = reading.humidity_pct.filter(|humidity| *humidity <= 1.0) {
        let what = format!("a humidity of {humidity} %");
        doubts.push(Fault::new(what, table.place(line, None), "write it in percent, such as 65"));
    }
}
