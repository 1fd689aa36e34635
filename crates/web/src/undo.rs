//! Undoing what was just written down, and bringing it back.

use axum::Form;
use axum::extract::State;
use axum::response::Response;
use records::Fault;
use store::{Act, ActWhat};

use crate::app::{App, see};
use crate::asked::{Asked, with};
use crate::desk::DeskError;
use crate::typed::Typed;

pub(crate) async fn undo(State(app): State<App>, asked: Asked, Form(pairs): Form<Vec<(String, String)>>) -> Response {
    app.run(asked, move |desk, asked| {
        let typed = Typed::new(pairs);
        let batch = typed.get("act").and_then(|act| act.parse().ok()).ok_or_else(|| {
            DeskError::NotFound(Fault::new("there is nothing of that name to undo", "act", "look at the history"))
        })?;
        let act = Act {
            batch,
            what: ActWhat::Entry,
            ids: Vec::new(),
            kinds: Vec::new(),
            at: desk.now(),
            by: asked.by().to_owned(),
        };
        desk.undo_act(&act, asked.by())?;
        see(&with(&typed.back("/"), "undone", "yes"))
    })
    .await
}

pub(crate) async fn redo(State(app): State<App>, asked: Asked, Form(pairs): Form<Vec<(String, String)>>) -> Response {
    app.run(asked, move |desk, asked| {
        desk.redo(Some(asked.by()), asked.by())?;
        see(&Typed::new(pairs).back("/"))
    })
    .await
}
