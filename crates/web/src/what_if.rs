//! What-if: the questions about heat, humidity, thawing and growth, each with an address of its own; and a case file in, an
//! answer out. Nothing is kept.

use axum::Form;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use care::what_if::{Known, Question};
use records::{Case, Fault};
use render::pages::frame::Tab;
use render::pages::question::{self, ANIMAL, ENCLOSURE, Sheet};
use render::pages::what_if::{self, EXAMPLES, Outcome};
use units::Moment;

use crate::app::{Answer, App, Trouble, frame, html, moment, ok, see};
use crate::asked::Asked;
use crate::desk::{Desk, DeskError};
use crate::filled::Filled;

pub(crate) async fn list(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |desk, asked| {
        // Examples had this address before the questions.
        if asked.query("example").is_some() {
            return see(&asked.here().replacen("/what-if", "/what-if/animal", 1));
        }
        ok(question::list(&frame(desk, asked, Tab::WhatIf, "What if")))
    })
    .await
}

pub(crate) async fn ask_question(State(app): State<App>, asked: Asked, Path(key): Path<String>) -> Response {
    app.run(asked, move |desk, asked| {
        let question = Question::from_key(&key).ok_or(Trouble::Nothing)?;
        // An answer has an address: what was asked, without what was left open.
        if asked.query(ASK).is_some() && asked.pairs().iter().any(|(_, value)| value.is_empty()) {
            return see(&asked.here());
        }
        show_question(desk, asked, question)
    })
    .await
}

/// The button of the form.
const ASK: &str = "ask";

/// What is on record for a question.
fn known(desk: &Desk, asked: &Asked, typed: &Filled, question: Question) -> Result<(Known, Option<String>), DeskError> {
    let at = moment(desk, asked.query("at").filter(|_| question.fields().iter().all(|field| field.key != "at")));
    if question.is_for_all(typed) {
        return Ok((desk.known_all(None, at)?, None));
    }
    if let Some(name) = asked.query(ANIMAL).filter(|_| question.is_about_an_animal()) {
        let id = desk.find_animal(name)?.id;
        return Ok((desk.known_of_animal(id, at)?, Some(id.to_string())));
    }
    match asked.query(ENCLOSURE).filter(|_| question.is_about_an_enclosure()) {
        Some(name) => {
            let id = desk.find_enclosure(name)?.id;
            Ok((desk.known(Some(id), at)?, Some(id.to_string())))
        }
        None => Ok((desk.known(None, at)?, None)),
    }
}

/// What on record it can be about: id and name.
fn subjects(desk: &Desk, question: Question) -> Result<Vec<(String, String)>, DeskError> {
    let nameless = || "without a name".to_owned();
    if question.is_about_an_animal() {
        let name = |row: store::AnimalRow| {
            let name = row.animal.name.unwrap_or_else(nameless);
            (row.id.to_string(), format!("{name}, {}", row.animal.species))
        };
        return Ok(desk.store().animals(false)?.into_iter().map(name).collect());
    }
    if !question.is_about_an_enclosure() {
        return Ok(Vec::new());
    }
    let name = |row: store::EnclosureRow| {
        let room = row.enclosure.room.map_or(String::new(), |room| format!(", {room}"));
        (row.id.to_string(), format!("{}{room}", row.enclosure.name.unwrap_or_else(nameless)))
    };
    Ok(desk.store().enclosures()?.into_iter().map(name).collect())
}

fn show_question(desk: &Desk, asked: &Asked, question: Question) -> Answer {
    let typed = Filled::new(question, asked.pairs().to_vec(), str::to_owned);
    let (known, subject) = known(desk, asked, &typed, question)?;
    let is_asked = asked.query(ASK).is_some() || subject.is_some() || !typed.is_empty();
    let outcome = is_asked.then(|| question.ask(&typed, &known));
    let subjects = subjects(desk, question)?;
    let status = if matches!(outcome, Some(Err(_))) { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    let sheet = Sheet {
        question,
        typed: asked.pairs(),
        at: asked.query("at"),
        subjects: &subjects,
        subject: subject.as_deref(),
        known: &known,
        outcome: outcome.as_ref().map(|outcome| outcome.as_ref().map_err(Vec::as_slice)),
    };
    let frame = frame(desk, asked, Tab::WhatIf, question.title());
    Ok(html(status, question::page(&frame, &sheet)))
}

pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |desk, asked| {
        let wanted = asked.query("example").unwrap_or_default();
        let text = EXAMPLES.iter().find(|one| one.key == wanted).map_or("", |one| one.text);
        ok(what_if::page(&frame(desk, asked, Tab::WhatIf, "An answer about an animal"), text, "", &Outcome::Blank))
    })
    .await
}

/// What a file is called in a message about what was typed.
const TYPED: &str = "the case";

fn answered(desk: &Desk, text: &str, at: &str) -> Result<(Case, care::Answer), Vec<Fault>> {
    let case = records::case_file::read(TYPED, text.as_bytes())?;
    let asked: Option<Moment> = match at.trim() {
        "" => None,
        typed => match case.zone.read(typed) {
            Some(when) => Some(when.asked()),
            None => {
                let mend = "write it as 2026-03-14T19:30, or leave it open";
                return Err(vec![Fault::new(format!("`{typed}` is no moment"), "at which moment", mend)]);
            }
        },
    };
    let answer = desk.assess_text(TYPED, text.as_bytes(), asked).map_err(|error| error.faults().to_vec())?;
    Ok((case, answer))
}

fn show(desk: &Desk, asked: &Asked, pairs: &[(String, String)]) -> Answer {
    let get = |key: &str| pairs.iter().find(|(name, _)| name == key).map_or("", |(_, value)| value.as_str());
    let (text, at) = (get("case").replace("\r\n", "\n"), get("at"));
    let frame = frame(desk, asked, Tab::WhatIf, "An answer about an animal");
    match answered(desk, &text, at) {
        Ok((case, answer)) => ok(what_if::page(&frame, &text, at, &Outcome::Answered(&case, &answer))),
        Err(faults) => {
            Ok(html(StatusCode::UNPROCESSABLE_ENTITY, what_if::page(&frame, &text, at, &Outcome::Faults(&faults))))
        }
    }
}

pub(crate) async fn ask(State(app): State<App>, asked: Asked, Form(pairs): Form<Vec<(String, String)>>) -> Response {
    app.run(asked, move |desk, asked| show(desk, asked, &pairs)).await
}
