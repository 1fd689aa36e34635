//! Sense from thermometers: two that disagree, two hygrometers in air of different warmth, an infrared reading corrected
//! by what it was pointed at.
//!
//! Start with [`answer`]. The three parts stand in a file each: `pair` for temperatures, `water` for humidity,
//! `infrared` for what an infrared thermometer shows.

mod infrared;
mod pair;
mod water;

use records::choice::Choice;
use records::facts::Spot;
use records::fields::{Limits, Reader};
use records::{Fault, Fields};

use crate::lines;
use crate::what_if::{Amount, Basis, Entry, Field, Group, Guess, Known, Question, Range, Reckoning, Unit};

fn spots() -> Vec<(&'static str, String)> {
    Spot::ALL.iter().map(|spot| (spot.key(), spot.words())).collect()
}

/// What it asks for.
pub fn fields() -> Vec<Field> {
    let field = |key, label, entry| Field::new(key, label, entry, Group::Question);
    vec![
        field("first_c", "First thermometer", Entry::Number(Unit::Celsius)),
        field("first_pct", "First hygrometer", Entry::Number(Unit::Humidity)),
        field("first_spot", "Place of the first", Entry::Choice(spots)),
        field("second_c", "Second thermometer", Entry::Number(Unit::Celsius)),
        field("second_pct", "Second hygrometer", Entry::Number(Unit::Humidity)),
        field("second_spot", "Place of the second", Entry::Choice(spots)),
        field("minutes", "Both at their place for", Entry::Number(Unit::Minutes)).hint("a slow one needs half an hour"),
        field("lamp", "A lamp or heater shines on one of them", Entry::Flag),
        field("accuracy_k", "Error that the makers allow", Entry::Number(Unit::Kelvin)).hint("to either side").extra(),
        field("ir_c", "Infrared thermometer", Entry::Number(Unit::Celsius)),
        field("ir_surface", "Pointed at", Entry::Choice(infrared::surfaces)),
        field("ir_through", "Through a pane or a mesh", Entry::Choice(infrared::between)),
        field("surroundings_c", "Walls and lid around it", Entry::Number(Unit::Celsius))
            .hint("what is mirrored in the surface; left open: the room"),
        field("ir_set", "Emissivity set on it", Entry::Number(Unit::Number)).extra(),
        field("ir_distance_cm", "Held how far away", Entry::Number(Unit::Centimetres)).extra(),
        field("ir_ratio", "Distance to spot (D:S)", Entry::Number(Unit::Number))
            .hint("12 for 12:1, as printed on it")
            .extra(),
        field("ir_target_cm", "Width of what it is pointed at", Entry::Number(Unit::Centimetres)).extra(),
    ]
}

/// A thermometer or hygrometer at its place.
#[derive(Clone, Copy, Debug, Default)]
struct Side {
    c: Option<f64>,
    pct: Option<f64>,
    spot: Option<Spot>,
}

#[derive(Clone, Copy, Debug)]
struct Told {
    first: Side,
    second: Side,
    minutes: Option<f64>,
    lamp: bool,
    accuracy_k: Option<f64>,
    ir: Option<infrared::Told>,
}

const TEMPERATURE_C: Limits = Limits::new(-30.0, 120.0, "°C");
const HUMIDITY_PCT: Limits = Limits::new(0.0, 100.0, "% relative humidity");

fn read(reader: &mut Reader<'_>) -> Told {
    let told = Told {
        first: Side {
            c: reader.number("first_c", TEMPERATURE_C),
            pct: reader.number("first_pct", HUMIDITY_PCT),
            spot: reader.choice("first_spot"),
        },
        second: Side {
            c: reader.number("second_c", TEMPERATURE_C),
            pct: reader.number("second_pct", HUMIDITY_PCT),
            spot: reader.choice("second_spot"),
        },
        minutes: reader.number("minutes", Limits::new(0.0, 10_000.0, "minutes")),
        lamp: reader.flag("lamp").unwrap_or(false),
        accuracy_k: reader.number("accuracy_k", Limits::new(0.05, 10.0, "K")),
        ir: infrared::read(reader),
    };
    if reader.is_faulty() {
        return told;
    }
    for (side, pct, c) in [(told.first, "first_pct", "first_c"), (told.second, "second_pct", "second_c")] {
        if side.pct.is_some() && side.c.is_none() {
            let mend = format!("add `{c}`, the temperature at that hygrometer");
            reader.object(pct, "a humidity says nothing without the temperature of its air", mend);
        }
    }
    let lone = match (told.first.c, told.second.c) {
        (Some(_), None) => Some("second_c"),
        (None, Some(_)) => Some("first_c"),
        _ => None,
    };
    match lone {
        Some(missing) if told.ir.is_none() => {
            let mend = format!("add `{missing}`, or `ir_c` of the same surface");
            reader.object(missing, "one thermometer alone cannot be compared", mend);
        }
        None if told.first.c.is_none() && told.ir.is_none() && !reader.is_faulty() => {
            let mend = "give two temperatures (`first_c`, `second_c`), or what an infrared thermometer shows (`ir_c`)";
            reader.object("", "there is no pair of readings to compare", mend);
        }
        _ => {}
    }
    told
}

/// The answer.
pub fn answer(typed: &dyn Fields, known: &Known) -> Result<Reckoning, Vec<Fault>> {
    let mut reader = Reader::new(typed, &known.zone);
    let told = read(&mut reader);
    let faults = reader.finish();
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut parts = Vec::new();
    if let (Some(first), Some(second)) = (told.first.c, told.second.c) {
        parts.push(pair::part(&told, first, second));
        parts.extend(water::part(&told, first, second));
    }
    if let Some(ir) = &told.ir {
        let room_c = known.household.as_ref().and_then(|household| household.room_c);
        parts.push(infrared::part(&told, ir, room_c));
    }
    Ok(together(parts))
}

/// One part of the answer.
#[derive(Default)]
struct Part {
    says: Vec<String>,
    warnings: Vec<crate::what_if::Warning>,
    amounts: Vec<Amount>,
    steps: Vec<crate::what_if::Step>,
    guesses: Vec<Guess>,
    untold: Vec<String>,
    sources: Vec<crate::answer::SourceRef>,
}

impl Part {
    fn amount(&mut self, key: &'static str, says: impl Into<String>, range: Range, unit: Unit, spot: Option<Spot>) {
        self.amounts.push(Amount::new(key, says, range, unit).at(spot));
    }

    fn step(&mut self, does: impl Into<String>, because: impl Into<String>) {
        self.steps.push(crate::what_if::Step { at: None, does: does.into(), because: because.into() });
    }
}

/// The parts in one answer; the guesses of each part weigh as one part.
fn together(parts: Vec<Part>) -> Reckoning {
    let mut answer = Reckoning::to(Question::Thermometer, Basis::Direct);
    let count = parts.len().max(1) as f64;
    for part in parts {
        answer.says.extend(part.says);
        answer.warnings.extend(part.warnings);
        answer.amounts.extend(part.amounts);
        for step in part.steps {
            if !answer.steps.iter().any(|one| one.does == step.does) {
                answer.steps.push(step);
            }
        }
        for guess in part.guesses {
            let weight = guess.weight / count;
            match answer.guesses.iter_mut().find(|one| one.key == guess.key) {
                Some(one) => one.weight += weight,
                None => answer.guesses.push(Guess { weight, ..guess }),
            }
        }
        answer.untold.extend(part.untold);
        for source in part.sources {
            if !answer.sources.contains(&source) {
                answer.sources.push(source);
            }
        }
    }
    answer.warnings.sort_by_key(|one| std::cmp::Reverse(one.severity));
    answer.guesses.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    answer.cautions = vec!["sensors"];
    answer
}

/// A figure as `count` values that are equally likely: as many under its middle as over it.
fn likely(low: f64, mid: f64, high: f64, count: usize) -> impl Iterator<Item = f64> + Clone {
    (0..count).map(move |place| {
        let share = (place as f64 + 0.5) / count as f64;
        if share < 0.5 { low + (mid - low) * 2.0 * share } else { mid + (high - mid) * (2.0 * share - 1.0) }
    })
}

/// The range of such a figure.
fn range_of(low: f64, mid: f64, high: f64) -> Range {
    Range { low: low + (mid - low) * 0.2, mid, high: mid + (high - mid) * 0.8 }
}

/// A guess from a rule.
fn guess(
    key: &'static str,
    says: &str,
    unit: Unit,
    rule: &str,
    weight: f64,
    field: Option<&'static str>,
) -> Option<Guess> {
    let figure = lines::whole(rule)?;
    Some(Guess {
        key,
        says: says.to_owned(),
        range: range_of(figure.low, figure.middle(), figure.high),
        unit,
        weight,
        source: crate::answer::SourceRef::of(figure),
        field,
    })
}

/// The error to either side of a thermometer, K: as told, else that of the usual ones.
fn error_k(told: &Told) -> f64 {
    told.accuracy_k.unwrap_or_else(|| lines::whole("sense_thermometer").map_or(f64::NAN, species::Figure::middle))
}

/// How a side is called: by its place, else as first or second.
fn name(side: &Side, other: &Side, otherwise: &str) -> String {
    match side.spot {
        Some(spot) if other.spot != Some(spot) => spot.words(),
        _ => otherwise.to_owned(),
    }
}

#[cfg(test)]
mod tests;
