//! `warmside warmth`, `runaway`, `power-cut` and the other questions: an answer from a description, with what is on
//! record for the rest.

use care::what_if::{Entry, Known};
use render::terminal::{self, Look};
use units::{Moment, Zone};
use web::desk::Desk;
use web::filled::Filled;

use crate::amount;
use crate::clock;
use crate::exit::{Done, Ended};
use crate::home::Home;
use crate::kinds::dashed;
use crate::out::Out;
use crate::questions::Asked;

/// Asks and answers.
pub fn run(asked: &Asked, home: &Home, out: &mut Out) -> Done {
    let known = known(asked, home)?;
    let typed = Filled::new(asked.question, fields(asked, &known.zone, known.now), place);
    let answer = asked.question.ask(&typed, &known)?;
    if asked.json {
        out.json(&render::json::reckoning(&answer, known.now, &known.zone));
    } else {
        let look = Look { width: out.width(), why: asked.why };
        out.text(&terminal::reckoning(&answer, known.now, &known.zone, look));
    }
    Ok(())
}

/// Where a field stands on the command line.
fn place(key: &str) -> String {
    format!("--{}", dashed(key))
}

/// What was typed, words for days put as dates.
fn fields(asked: &Asked, zone: &Zone, now: Moment) -> Vec<(String, String)> {
    let fields = asked.question.fields();
    let is_moment = |key: &str| fields.iter().any(|field| field.key == key && matches!(field.entry, Entry::Moment));
    let value = |(key, value): &(String, String)| {
        let value = if is_moment(key) { amount::date(value, zone, now) } else { value.clone() };
        (key.clone(), value)
    };
    asked.fields.iter().map(value).collect()
}

/// What is on record; nothing where no records are and none are asked for.
fn known(asked: &Asked, home: &Home) -> Result<Known, Ended> {
    let typed = Filled::new(asked.question, asked.fields.clone(), place);
    let is_for_all = asked.question.is_for_all(&typed);
    let is_needed = asked.enclosure.is_some() || asked.animal.is_some() || is_for_all;
    if !is_needed && !home.folder()?.join(store::RECORDS_FILE).exists() {
        let zone = home.zone()?.unwrap_or_else(Desk::zone_of_this_machine);
        let now = clock::now();
        let at = match &asked.at {
            Some(text) => clock::named(&amount::date(text, &zone, now), &zone)?,
            None => now,
        };
        return Ok(Known::nothing(at, zone));
    }
    let desk = home.reading()?;
    let at = Home::at(&desk, asked.at.as_deref())?;
    let enclosure = match &asked.enclosure {
        Some(name) => Some(desk.find_enclosure(name)?.id),
        None => None,
    };
    if let Some(name) = &asked.animal {
        let id = desk.find_animal(name)?.id;
        return Ok(desk.known_of_animal(id, at)?);
    }
    Ok(if is_for_all { desk.known_all(None, at)? } else { desk.known(enclosure, at)? })
}
