//! Rounds: the walk of a day, and the first page of an empty household.

use std::collections::HashMap;

use axum::extract::State;
use axum::response::Response;
use care::answer::Task;
use records::RecordId;
use render::pages::frame::Tab;
use render::pages::parts::RecordIn;
use render::pages::rounds::{self, Around};

use crate::animals;
use crate::app::{Answer, App, about, frame, is_writable, moment, ok, record_in};
use crate::asked::Asked;
use crate::desk::{Desk, DeskError};

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
    let mut new_id = || desk.new_id().to_string();
    let around = Around {
        now: desk.now(),
        done: done.iter().take(30).map(|stored| with_about(desk, stored)).collect::<Result<_, _>>()?,
        courses,
        room: asked.pairs().iter().find(|(key, _)| key == "room").map(|(_, room)| room.clone()),
        new_id: &mut new_id,
        writable: is_writable(desk),
    };
    ok(rounds::page(&frame(desk, asked, Tab::Rounds, "Rounds"), &walk, around))
}

fn with_about<'a>(desk: &Desk, stored: &'a store::Stored) -> Result<RecordIn<'a>, DeskError> {
    let itself = matches!(stored.fact, records::Fact::Animal(_) | records::Fact::Enclosure(_));
    let about = if itself { None } else { about(desk, stored).map(|link| link.text) };
    Ok(RecordIn { about, ..record_in(stored) })
}
