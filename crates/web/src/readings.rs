//! Readings: all spots of an enclosure in one form, written down as one act.

use axum::Form;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use records::choice::Choice;
use records::{Fact, Fault, Kind, RecordId};
use render::pages::enclosure::{self, READ, ReadingRow, Readings};
use render::pages::form::FaultLine;
use render::pages::frame::Tab;
use render::pages::parts::Link;
use render::wording;
use store::NewRecord;

use crate::app::{Answer, App, frame, html, ok, see};
use crate::asked::{Asked, with};
use crate::desk::{Desk, DeskError};
use crate::log::{self, About};
use crate::typed::Typed;

/// The two fields of a spot.
const FIELDS: [&str; 2] = ["temperature_c", "humidity_pct"];

fn field(name: &str, spot: &str) -> String {
    format!("{name}.{spot}")
}

/// The form, with what was typed and what is wrong; the place of a fault is the field of its spot.
pub(crate) fn form(
    desk: &Desk,
    about: About,
    typed: &Typed,
    back: &str,
    faults: &[Fault],
    doubts: &[Fault],
) -> Readings {
    let now = log::now_field(desk);
    let date = typed.get("at").unwrap_or_else(|| now.chars().take(10).collect());
    let time = typed
        .get("at_time")
        .unwrap_or_else(|| if typed.get("at").is_none() { now.chars().skip(11).collect() } else { String::new() });
    let says = |fault: &Fault| format!("{}: {}.", wording::capital(&fault.what), fault.mend.trim_end_matches('.'));
    let row = |spot: &records::facts::Spot| {
        let key = spot.key();
        let value = |name| typed.get(&field(name, key)).unwrap_or_default();
        let here: Vec<String> =
            faults.iter().filter(|fault| fault.place.ends_with(&format!(".{key}"))).map(says).collect();
        ReadingRow {
            spot: key,
            words: wording::capital(wording::spot(*spot)),
            temperature: value("temperature_c"),
            humidity: value("humidity_pct"),
            fault: (!here.is_empty()).then(|| here.join(" ")),
        }
    };
    let target = |place: &str| {
        let (name, spot) = place.split_once('.')?;
        Some(format!("{}-{spot}", if name == "humidity_pct" { "h" } else { "t" }))
    };
    Readings {
        action: format!("{}/readings", about.page()),
        hidden: vec![("id".into(), desk.new_id().to_string()), ("back".into(), back.to_owned())],
        rows: READ.iter().map(row).collect(),
        date: date.chars().take(10).collect(),
        time,
        faults: faults.iter().map(|fault| FaultLine { says: says(fault), target: target(&fault.place) }).collect(),
        doubts: log::in_sentences(doubts),
        single: format!("{}/log/reading?back={}", about.page(), render::address::encoded(back)),
    }
}

fn page(desk: &Desk, asked: &Asked, about: About, readings: &Readings, back: &str) -> Answer {
    let name = about.name(desk)?;
    let is_fine = readings.faults.is_empty() && readings.doubts.is_empty();
    let status = if is_fine { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY };
    let frame = frame(desk, asked, Tab::Enclosures, "Readings");
    let text = enclosure::readings_page(
        &frame,
        &format!("Readings: {name}"),
        readings,
        &Link::to(format!("Back to {name}"), back),
    );
    if is_fine { ok(text) } else { Ok(html(status, text)) }
}

/// The readings that were typed, or everything that is wrong with them.
fn facts(desk: &Desk, typed: &Typed) -> Result<Vec<(&'static str, Fact)>, Vec<Fault>> {
    let mut facts = Vec::new();
    let mut faults: Vec<Fault> = Vec::new();
    for spot in READ.iter().map(|spot| spot.key()) {
        let read = FIELDS.iter().filter_map(|name| Some(((*name).to_owned(), typed.get(&field(name, spot))?)));
        let mut pairs: Vec<(String, String)> = read.collect();
        if pairs.is_empty() {
            continue;
        }
        pairs.push(("spot".into(), spot.to_owned()));
        pairs.extend(["at", "at_time"].into_iter().filter_map(|key| Some((key.to_owned(), typed.get(key)?))));
        match Typed::new(pairs).fact(Kind::Reading, desk.zone(), &[]) {
            Ok(fact) => facts.push((spot, fact)),
            Err(found) => faults.extend(found.into_iter().map(|fault| at_spot(fault, spot))),
        }
    }
    faults.dedup();
    if facts.is_empty() && faults.is_empty() {
        faults.push(Fault::new("nothing was typed yet", "at", "fill in at least one temperature or humidity"));
    }
    if faults.is_empty() { Ok(facts) } else { Err(faults) }
}

/// A fault of a reading with the field of its spot as its place.
fn at_spot(fault: Fault, spot: &str) -> Fault {
    let own = FIELDS.iter().find(|name| fault.place == **name);
    let place = own.map_or(fault.place.clone(), |name| field(name, spot));
    let words = |text: &str| {
        text.replace(" (`temperature_c`)", "")
            .replace(" (`humidity_pct`)", "")
            .replace("`temperature_c`", "the temperature")
            .replace("`humidity_pct`", "the humidity")
    };
    Fault::new(words(&fault.what), place, words(&fault.mend))
}

fn keep(desk: &Desk, asked: &Asked, about: About, typed: &Typed) -> Answer {
    let back = typed.back(&about.page());
    let again = |faults: &[Fault], doubts: &[Fault]| {
        page(desk, asked, about, &form(desk, about, typed, &back, faults, doubts), &back)
    };
    let facts = match facts(desk, typed) {
        Ok(facts) => facts,
        Err(faults) => return again(&faults, &[]),
    };
    let mut new = Vec::new();
    for (index, (_, fact)) in facts.into_iter().enumerate() {
        // The first takes the name of the form, so that the same form sent twice is known again.
        let id = typed.id().filter(|_| index == 0).unwrap_or_else(|| desk.new_id());
        let mut record = NewRecord::new(id, fact);
        match about {
            About::Animal(animal) => record.animal = Some(animal),
            About::Enclosure(enclosure) => record.enclosure = Some(enclosure),
            About::Household => {}
        }
        new.push(record);
    }
    let first = new.first().map(|record| record.id);
    let there = first.map(|id| desk.store().record(id)).transpose()?.flatten();
    if let (Some(_), Some(id)) = (there, first) {
        return see(&with(&back, "noted", &id.to_string()));
    }
    let faults = desk.refusals(&new)?;
    if !faults.is_empty() {
        return again(&faults, &[]);
    }
    if !typed.is_confirmed() {
        let doubts = desk.doubts(&new, desk.now())?;
        if !doubts.is_empty() {
            return again(&[], &doubts);
        }
    }
    match desk.log(&new, asked.by()) {
        Ok(_) => see(&first.map_or(back.clone(), |id| with(&back, "noted", &id.to_string()))),
        Err(DeskError::Faults(faults)) => again(&faults, &[]),
        Err(other) => Err(other.into()),
    }
}

/// An animal's readings are those of the enclosure that it lives in.
fn of_animal(desk: &Desk, id: RecordId) -> Result<About, DeskError> {
    let row = desk.find_animal(&id.to_string())?;
    Ok(row.enclosure.map_or(About::Animal(id), About::Enclosure))
}

pub(crate) async fn animal_form(State(app): State<App>, asked: Asked, Path(id): Path<String>) -> Response {
    app.run(asked, move |desk, asked| {
        let about = of_animal(desk, log::id(&id)?)?;
        let back = asked.back(&about.page());
        page(desk, asked, about, &form(desk, about, &Typed::default(), &back, &[], &[]), &back)
    })
    .await
}

pub(crate) async fn animal(
    State(app): State<App>,
    asked: Asked,
    Path(id): Path<String>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Response {
    app.run(asked, move |desk, asked| keep(desk, asked, of_animal(desk, log::id(&id)?)?, &Typed::new(pairs))).await
}

pub(crate) async fn enclosure(
    State(app): State<App>,
    asked: Asked,
    Path(id): Path<String>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Response {
    app.run(asked, move |desk, asked| keep(desk, asked, About::Enclosure(log::id(&id)?), &Typed::new(pairs))).await
}
