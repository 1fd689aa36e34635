//! Animals: the list, one of them, a new one, and how a shed came off.

use std::collections::HashMap;

use axum::Form;
use axum::extract::{Path, State};
use axum::response::Response;
use records::choice::Choice;
use records::facts::{Enclosure, Measurement, Stay};
use records::{Fact, Fault, Kind, RecordId};
use render::pages::animal::{self, Sheet};
use render::pages::animals::{self as list_page, AnimalLine, Filter};
use render::pages::form::{self, Ask, Filling, Form as FormView, Spec};
use render::pages::frame::Tab;
use render::pages::parts::Link;
use render::strip::Span;
use render::wording;
use store::NewRecord;
use units::Precision;

use crate::app::{Answer, App, Trouble, form_page, frame, is_writable, moment, ok, record_in, see};
use crate::asked::{Asked, with};
use crate::desk::{Desk, DeskError};
use crate::log;
use crate::typed::Typed;

pub(crate) async fn list(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |desk, asked| {
        let filter = Filter {
            room: asked.query("room").unwrap_or_default().to_owned(),
            species: asked.query("species").unwrap_or_default().to_owned(),
            with_gone: asked.query("gone").is_some(),
        };
        let walk = desk.rounds(desk.now())?;
        let by_id: HashMap<&str, &care::rounds::Passed> = walk.animals().map(|one| (one.id.as_str(), one)).collect();
        let lines: Vec<AnimalLine> = desk
            .store()
            .animals(filter.with_gone)?
            .into_iter()
            .map(|row| {
                let passed = by_id.get(row.id.to_string().as_str()).copied();
                line(row, passed)
            })
            .collect();
        ok(list_page::page(&frame(desk, asked, Tab::Animals, "Animals"), &lines, &filter))
    })
    .await
}

fn line(row: store::AnimalRow, passed: Option<&care::rounds::Passed>) -> AnimalLine {
    let species = crate::desk::common_name(&row.animal.species);
    let states =
        passed.iter().flat_map(|one| &one.brief.states).filter_map(|one| care::answer::State::from_key(&one.state));
    let states: Vec<&str> = states.map(wording::state).collect();
    let worst = passed.and_then(|one| one.brief.worst()).filter(|worst| care::answer::Severity::Act <= *worst);
    AnimalLine {
        id: row.id.to_string(),
        name: row.animal.name.unwrap_or_else(|| species.clone()),
        species,
        enclosure: row.enclosure.map(|id| {
            Link::to(
                row.enclosure_name.unwrap_or_else(|| "enclosure without a name".to_owned()),
                format!("/enclosures/{id}"),
            )
        }),
        room: row.room.unwrap_or_default(),
        mass: passed.and_then(|one| one.mass_g).map_or(String::new(), wording::mass),
        states: wording::listed(&states),
        worst: worst.map_or(String::new(), |worst| wording::severity(worst).to_owned()),
        ending: row.ending.map_or(String::new(), |ending| wording::ending(ending.what).to_owned()),
    }
}

pub(crate) async fn page(State(app): State<App>, asked: Asked, Path(id): Path<String>) -> Response {
    app.run(asked, move |desk, asked| show(desk, asked, log::id(&id)?)).await
}

fn show(desk: &Desk, asked: &Asked, id: RecordId) -> Answer {
    let at = moment(desk, asked.query("at"));
    let sheet = desk.animal(id, at)?;
    let is_animal = |stored: &&store::Stored| matches!(stored.fact, Fact::Animal(_)) && stored.head.is_current();
    let about_record = sheet.history.iter().find(is_animal).map_or(id, |stored| stored.head.id);
    let mut new_id = || desk.new_id().to_string();
    let enclosure_name = sheet.row.enclosure_name.clone().unwrap_or_else(|| "enclosure without a name".to_owned());
    let room = sheet.row.room.as_ref().map_or(String::new(), |room| format!(", {room}"));
    let frame = frame(desk, asked, Tab::Animals, &animal::called(&sheet.case));
    let view = Sheet {
        id: id.to_string(),
        about_record: about_record.to_string(),
        case: &sheet.case,
        answer: &sheet.answer,
        past: &sheet.past,
        enclosure: sheet.row.enclosure.map(|id| (id.to_string(), format!("{enclosure_name}{room}"))),
        ending: sheet.row.ending.as_ref().map(|ending| wording::ending(ending.what).to_owned()),
        records: sheet.history.iter().map(record_in).collect(),
        span: asked.query("span").and_then(Span::from_key).unwrap_or_default(),
        all_records: asked.query("records") == Some("all"),
        now_field: log::now_field(desk),
        new_id: &mut new_id,
        writable: is_writable(desk),
    };
    ok(animal::page(&frame, view))
}

/// What is asked of a new animal beside what an animal is: where it lives, and how long it is.
const WHERE: [Spec; 3] = [
    Spec {
        key: "enclosure",
        label: "Enclosure",
        hint: "the code or name on its door; a new one is made",
        ask: Ask::Listed,
        needed: false,
        extra: false,
    },
    Spec { key: "room", label: "Room", hint: "for a new enclosure", ask: Ask::Listed, needed: false, extra: false },
    Spec {
        key: "total_length_cm",
        label: "Whole length",
        hint: "snout to tail tip, where it is known",
        ask: Ask::Number("cm"),
        needed: false,
        extra: false,
    },
];

/// The form of a new animal.
pub(crate) fn new_form(
    desk: &Desk,
    typed: &[(String, String)],
    faults: &[Fault],
    doubts: &[Fault],
) -> Result<FormView, DeskError> {
    let mut specs = form::fields(Kind::Animal);
    specs.extend(WHERE);
    let enclosures = desk.store().enclosures()?;
    let names = |pick: fn(&Enclosure) -> Option<String>| {
        let mut names: Vec<String> = enclosures.iter().filter_map(|row| pick(&row.enclosure)).collect();
        names.dedup();
        names.into_iter().map(|name| (name.clone(), name)).collect::<Vec<_>>()
    };
    let mut lists = log::lists(desk, log::About::Household, Kind::Animal)?;
    lists.push(("enclosure", names(|one| one.name.clone())));
    lists.push(("room", names(|one| one.room.clone())));
    Ok(FormView {
        action: "/animals/new".to_owned(),
        hidden: vec![("id".into(), desk.new_id().to_string())],
        doubts: log::in_sentences(doubts),
        submit: "Add this animal".to_owned(),
        ..form::from_specs(&specs, "f", &Filling { typed, lists: &lists, faults })
    })
}

pub(crate) async fn new(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |desk, asked| {
        let form = new_form(desk, asked.pairs(), &[], &[])?;
        form_page(desk, asked, Tab::Animals, "Add an animal", &[], &form, &Link::to("Back to the animals", "/animals"))
    })
    .await
}

pub(crate) async fn add(State(app): State<App>, asked: Asked, Form(pairs): Form<Vec<(String, String)>>) -> Response {
    app.run(asked, move |desk, asked| {
        let typed = Typed::new(pairs);
        match new_records(desk, &typed) {
            Ok((id, new)) => {
                let faults = desk.refusals(&new)?;
                if !faults.is_empty() {
                    return new_again(desk, asked, &typed, &faults, &[]);
                }
                let doubts = if typed.is_confirmed() { Vec::new() } else { desk.doubts(&new, desk.now())? };
                if !doubts.is_empty() {
                    return new_again(desk, asked, &typed, &[], &doubts);
                }
                match desk.log(&new, asked.by()) {
                    Ok(_) => see(&with(&format!("/animals/{id}"), "noted", &id.to_string())),
                    Err(DeskError::Faults(faults)) => new_again(desk, asked, &typed, &faults, &[]),
                    Err(other) => Err(other.into()),
                }
            }
            Err(faults) => new_again(desk, asked, &typed, &faults, &[]),
        }
    })
    .await
}

fn new_again(desk: &Desk, asked: &Asked, typed: &Typed, faults: &[Fault], doubts: &[Fault]) -> Answer {
    let mut shown = typed.shown(Kind::Animal);
    for spec in WHERE {
        shown.extend(typed.get(spec.key).map(|value| (spec.key.to_owned(), value)));
    }
    let form = new_form(desk, &shown, faults, doubts)?;
    form_page(desk, asked, Tab::Animals, "Add an animal", &[], &form, &Link::to("Back to the animals", "/animals"))
}

/// The records of a new animal: itself, its enclosure where that is new, its stay, its length.
fn new_records(desk: &Desk, typed: &Typed) -> Result<(RecordId, Vec<NewRecord>), Vec<Fault>> {
    let but: Vec<&str> = WHERE.iter().map(|spec| spec.key).collect();
    let mut faults = Vec::new();
    let animal = match typed.fact(Kind::Animal, desk.zone(), &but) {
        Ok(Fact::Animal(animal)) => Some(animal),
        Ok(_) => None,
        Err(found) => {
            faults.extend(found);
            None
        }
    };
    let length = match typed.get("total_length_cm") {
        Some(text) => {
            let one = Typed::new(vec![("total_length_cm".into(), text), ("at".into(), log::now_field(desk))]);
            one.fact(Kind::Measurement, desk.zone(), &[]).map_err(|found| faults.extend(found)).ok()
        }
        None => None,
    };
    let Some(animal) = animal.filter(|_| faults.is_empty()) else { return Err(faults) };
    let since = animal.arrived.filter(|when| when.precision <= Precision::Day).unwrap_or_else(|| desk.day());
    let id = typed.id().unwrap_or_else(|| desk.new_id());
    let mut new = vec![NewRecord::new(id, Fact::Animal(animal))];
    if let Some(name) = typed.get("enclosure") {
        let there = desk.store().enclosures().map_err(|error| DeskError::from(error).faults().to_vec())?;
        let same = |row: &&store::EnclosureRow| {
            row.enclosure.name.as_ref().is_some_and(|own| own.to_lowercase() == name.to_lowercase())
        };
        let enclosure = match there.iter().find(same) {
            Some(row) => row.id,
            None => {
                let made = Enclosure { name: Some(name), room: typed.get("room"), ..Enclosure::default() };
                let record = desk.new_record(Fact::Enclosure(made));
                let enclosure = record.id;
                new.push(record);
                enclosure
            }
        };
        new.push(desk.new_record(Fact::Stay(Stay { at: since, enclosure })).about(id));
    }
    if let Some(Fact::Measurement(measured)) = length {
        let measured = Measurement { at: desk.day(), ..measured };
        new.push(desk.new_record(Fact::Measurement(measured)).about(id));
    }
    Ok((id, new))
}

/// The last shed that is off and of which nothing is noted yet.
fn came_off_record(desk: &Desk, id: RecordId) -> Result<store::Stored, Trouble> {
    let case = desk.case(id, desk.now())?;
    let last = case.timeline.sheds.iter().rev().find(|shed| shed.shed_at.is_some()).and_then(|shed| shed.key.id);
    let stored = last.map(|shed| desk.store().record(shed)).transpose()?.flatten();
    stored.ok_or(Trouble::Nothing)
}

pub(crate) async fn came_off_form(State(app): State<App>, asked: Asked, Path(id): Path<String>) -> Response {
    app.run(asked, move |desk, asked| {
        let stored = came_off_record(desk, log::id(&id)?)?;
        let back = render::address::encoded(&asked.back(&format!("/animals/{id}")));
        see(&format!("/records/{}/correct?back={back}", stored.head.id))
    })
    .await
}

pub(crate) async fn came_off(
    State(app): State<App>,
    asked: Asked,
    Path(id): Path<String>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Response {
    app.run(asked, move |desk, asked| {
        let typed = Typed::new(pairs);
        let stored = came_off_record(desk, log::id(&id)?)?;
        let Fact::Shed(shed) = stored.fact else { return Err(Trouble::Nothing) };
        let pieces = typed.get("pieces").and_then(|pieces| pieces.parse().ok());
        let looked = records::facts::Shed { pieces, ..shed };
        let logged = desk.correct(stored.head.id, Fact::Shed(looked), "looked at the skin", asked.by())?;
        let back = typed.back(&format!("/animals/{id}"));
        match logged.ids.first() {
            Some(new) => see(&with(&back, "noted", &new.to_string())),
            None => see(&back),
        }
    })
    .await
}
