//! Rounds: the walk of a day, and the first page of an empty household.

use std::collections::HashMap;

use axum::Form;
use axum::extract::State;
use axum::response::Response;
use care::answer::Task;
use records::{Kind, RecordId};
use render::pages::frame::Tab;
use render::pages::parts::RecordIn;
use render::pages::rounds::{self, Around};

use crate::animals;
use store::NewRecord;

use crate::app::{Answer, App, Names, frame, is_writable, moment, ok, record_in, see};
use crate::asked::{Asked, with};
use crate::desk::{Desk, DeskError};
use crate::log;
use crate::typed::Typed;

pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, show).await
}

fn show(desk: &Desk, asked: &Asked) -> Answer {
    let at = moment(desk, asked.query("at"));
    if desk.store().animals(true)?.is_empty() {
        let form = animals::new_form(desk, &[], &[], &[])?;
        return ok(rounds::start(&frame(desk, asked, Tab::Rounds, "Who lives with you?"), &form));
    }
    let walk = desk.rounds(at)?;
    let mut courses = HashMap::new();
    for animal in walk.animals().filter(|animal| animal.brief.is_due(Task::GiveTreatment)) {
        if let Some(id) = RecordId::read(&animal.id) {
            courses.insert(animal.id.clone(), render::pages::animal::courses(&desk.case(id, at)?));
        }
    }
    let done = desk.done_today()?;
    let names = Names::of(desk)?;
    let mut new_id = || desk.new_id().to_string();
    let around = Around {
        now: desk.now(),
        done: done.iter().map(|stored| with_about(&names, stored)).collect(),
        courses,
        room: asked.pairs().iter().find(|(key, _)| key == "room").map(|(_, room)| room.clone()),
        new_id: &mut new_id,
        writable: is_writable(desk),
    };
    ok(rounds::page(&frame(desk, asked, Tab::Rounds, "Rounds"), &walk, around))
}

fn with_about<'a>(names: &Names, stored: &'a store::Stored) -> RecordIn<'a> {
    let itself = matches!(stored.fact, records::Fact::Animal(_) | records::Fact::Enclosure(_));
    let about = if itself { None } else { names.about(stored).map(|link| link.text) };
    RecordIn { about, ..record_in(stored) }
}

/// One chore, written down for several enclosures as one act.
pub(crate) async fn chore(State(app): State<App>, asked: Asked, Form(pairs): Form<Vec<(String, String)>>) -> Response {
    app.run(asked, move |desk, asked| {
        let mut typed = Typed::new(pairs);
        typed.fill(Kind::Cleaning, &log::now_field(desk));
        let fact = typed.fact(Kind::Cleaning, desk.zone(), &["ids", "places"]).map_err(DeskError::from)?;
        let ids = |key: &str| -> Vec<RecordId> {
            typed.get(key).unwrap_or_default().split(',').filter_map(RecordId::read).collect()
        };
        let new: Vec<NewRecord> = ids("ids")
            .into_iter()
            .zip(ids("places"))
            .map(|(id, place)| NewRecord::new(id, fact.clone()).at(place))
            .collect();
        let back = typed.back("/");
        if let Some(first) = new.first()
            && desk.store().record(first.id)?.is_some()
        {
            return see(&with(&back, "noted", &first.id.to_string()));
        }
        let logged = desk.log(&new, asked.by())?;
        match logged.ids.first() {
            Some(first) => see(&with(&back, "noted", &first.to_string())),
            None => see(&back),
        }
    })
    .await
}
