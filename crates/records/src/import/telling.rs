//! Records in words, for the rows that are shown before anything is kept.

use units::Zone;

use super::grid::Row;
use super::meaning::Meaning;
use super::rows::Desk;
use super::understood::{ImportedAnimal, Sample};
use super::words::fold;
use crate::choice::Choice;
use crate::facts::{Animal, Breeding, Fact, Meal, Means, Measurement, Reading};

/// So many rows are shown.
pub(super) const SHOWN: usize = 5;

/// The first rows, as they stand and as they were understood.
pub(super) fn samples(desk: &Desk<'_>, rows: &[Row], animals: &[ImportedAnimal]) -> Vec<Sample> {
    let names = desk.roles.iter().find(|role| role.meaning == Meaning::Animal);
    let mut told_of: Vec<&str> = Vec::new();
    let sample = |row: &Row| {
        let named = names.map(|role| fold(row.cell(role.column)));
        let mut becomes = Vec::new();
        for animal in animals {
            // An animal that its row names for the first time is told itself, too.
            let is_named = named.as_ref().is_none_or(|name| *name == fold(&animal.name));
            if is_named && !told_of.contains(&animal.name.as_str()) {
                told_of.push(&animal.name);
                becomes.push(format!("{}: {}", animal.name, told(&Fact::Animal(animal.animal.clone()), desk.zone)));
            }
            let of_row = animal.facts.iter().filter(|(line, _)| *line == row.line);
            becomes.extend(of_row.map(|(_, fact)| format!("{}: {}", animal.name, told(fact, desk.zone))));
        }
        Sample { line: row.line, cells: row.cells.clone(), becomes }
    };
    rows.iter().map(sample).collect()
}

/// A record in words.
pub fn told(fact: &Fact, zone: &Zone) -> String {
    if let Fact::Animal(one) = fact {
        return animal(one, zone);
    }
    let when = fact.when().map(|when| format!(" on {}", zone.write_when(when))).unwrap_or_default();
    let what = match fact {
        Fact::Weighing(one) if one.estimated => format!("about {} g, guessed", figure(one.mass_g)),
        Fact::Weighing(one) => format!("weighed {} g", figure(one.mass_g)),
        Fact::Measurement(one) => measured(one),
        Fact::Meal(one) => meal(one, zone),
        Fact::Shed(one) => match (one.shed_at, one.pieces) {
            (Some(_), Some(1)) => "shed in one piece".to_owned(),
            (Some(_), _) => "shed".to_owned(),
            (None, _) if one.cleared_at.is_some() => "eyes cleared before a shed".to_owned(),
            (None, _) if one.blue_at.is_some() => "in blue".to_owned(),
            (None, _) => "dull before a shed".to_owned(),
        },
        Fact::Reading(one) => reading(one),
        Fact::Breeding(one) => breeding(one),
        Fact::Cleaning(one) => format!("cleaned ({})", one.task),
        Fact::Handling(one) => match one.minutes {
            Some(minutes) => format!("handled for {} minutes", figure(minutes)),
            None => "handled".to_owned(),
        },
        Fact::Sign(one) => format!("sign: {}", one.sign.words()),
        Fact::Ending(one) => one.what.words(),
        Fact::Note(one) => format!("note «{}»", super::understood::shortened(&one.text)),
        fact => fact.kind().words(),
    };
    format!("{what}{when}")
}

/// A figure without digits that come from a change of units only.
fn figure(value: f64) -> String {
    let rounded = (value * 1_000.0).round() / 1_000.0;
    rounded.to_string()
}

fn animal(one: &Animal, zone: &Zone) -> String {
    let mut parts = vec![one.species.clone()];
    parts.extend(one.sex.map(|sex| sex.words()));
    parts.extend(one.hatched.map(|when| format!("hatched {}", zone.write_when(when))));
    parts.extend(one.arrived.map(|when| format!("arrived {}", zone.write_when(when))));
    parts.join(", ")
}

fn measured(one: &Measurement) -> String {
    let parts = [("total length", one.total_length_cm), ("snout to vent", one.snout_vent_cm), ("girth", one.girth_cm)];
    let parts = parts.into_iter().filter_map(|(name, length)| Some(format!("{name} {} cm", figure(length?))));
    parts.collect::<Vec<_>>().join(", ")
}

fn meal(one: &Meal, zone: &Zone) -> String {
    let mut parts = Vec::new();
    if 1 < one.count {
        parts.push(format!("{} ×", one.count));
    }
    parts.push(one.prey.map_or_else(|| "prey".to_owned(), Choice::words));
    if let Some(mass) = one.mass_g {
        parts.push(format!("of {} g", figure(mass)));
    }
    if let Some(state) = one.state {
        parts.push(format!("({})", state.words()));
    }
    parts.push(one.outcome.words());
    parts.extend(one.regurgitated_at.map(|up| format!("(up on {})", zone.write_when(up))));
    parts.join(" ")
}

fn reading(one: &Reading) -> String {
    let mut parts = vec![one.spot.words()];
    parts.extend(one.period.map(|period| format!("by {period}")));
    parts.extend((one.means != Means::SpotCheck).then(|| format!("({})", one.means)));
    parts.extend(one.temperature_c.map(|degrees| format!("{} °C", figure(degrees))));
    parts.extend(one.humidity_pct.map(|humidity| format!("{} % humidity", figure(humidity))));
    parts.join(" ")
}

fn breeding(one: &Breeding) -> String {
    match one.count {
        Some(count) => format!("{} {count}", one.what.words()),
        None => one.what.words(),
    }
}
