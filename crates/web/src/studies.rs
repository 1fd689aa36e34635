//! The pages about one animal: its feeding, its sheds, its condition.

use axum::extract::{Path, State};
use axum::response::Response;
use care::answer;
use care::condition::Kin;
use records::RecordId;
use render::pages::animal;
use render::pages::frame::Tab;
use render::pages::study::{self, Detail, Sheet};

use crate::app::{Answer, App, frame, moment, ok};
use crate::asked::Asked;
use crate::desk::{Desk, DeskError};
use crate::log;

pub(crate) async fn feeding(app: State<App>, asked: Asked, id: Path<String>) -> Response {
    page(app, asked, id, Detail::Feeding).await
}

pub(crate) async fn sheds(app: State<App>, asked: Asked, id: Path<String>) -> Response {
    page(app, asked, id, Detail::Sheds).await
}

pub(crate) async fn condition(app: State<App>, asked: Asked, id: Path<String>) -> Response {
    page(app, asked, id, Detail::Condition).await
}

async fn page(State(app): State<App>, asked: Asked, Path(id): Path<String>, detail: Detail) -> Response {
    app.run(asked, move |desk, asked| show(desk, asked, log::id(&id)?, detail)).await
}

fn show(desk: &Desk, asked: &Asked, id: RecordId, detail: Detail) -> Answer {
    let at = moment(desk, asked.query("at"));
    let found = desk.animal(id, at)?;
    let looks_at_kin = detail.studies().iter().any(|study| study.looks_at_kin());
    let kin = if looks_at_kin { desk.kin(id, at)? } else { Kin::default() };
    let mut studies = Vec::new();
    for study in detail.studies() {
        studies.push((*study, study.of(&found.case, at, &kin).map_err(DeskError::from)?));
    }
    // Of an animal that refuses, the refusals are what is looked for.
    if found.answer.is_in(answer::State::Fasting) {
        studies.reverse();
    }
    let title = format!("{} of {}", detail.title(), animal::called(&found.case));
    let frame = frame(desk, asked, Tab::Animals, &title);
    let sheet =
        Sheet { id: id.to_string(), detail, case: &found.case, answer: &found.answer, studies, at: asked.query("at") };
    ok(study::page(&frame, sheet))
}
