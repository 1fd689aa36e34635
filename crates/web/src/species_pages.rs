//! Species: the list and each profile.

use axum::extract::{Path, State};
use axum::response::Response;
use render::pages::frame::Tab;
use render::pages::species;

use crate::app::{App, Trouble, frame, ok};
use crate::asked::Asked;

pub(crate) async fn list(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |desk, asked| {
        ok(species::list(&frame(desk, asked, Tab::Species, "Species"), asked.query("q").unwrap_or_default()))
    })
    .await
}

pub(crate) async fn page(State(app): State<App>, asked: Asked, Path(key): Path<String>) -> Response {
    app.run(asked, move |desk, asked| {
        let title = species::title(&key).ok_or(Trouble::Nothing)?;
        let frame = frame(desk, asked, Tab::Species, &render::wording::capital(&title));
        species::page(&frame, &key).map_or(Err(Trouble::Nothing), ok)
    })
    .await
}
