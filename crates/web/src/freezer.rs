//! The freezer: what is in it and what tonight takes.

use axum::extract::State;
use axum::response::Response;
use records::Kind;
use render::pages::form::Form as FormView;
use render::pages::frame::Tab;
use render::pages::freezer::{self, LotIn};
use render::wording::Clock;

use crate::app::{App, frame, is_writable, ok};
use crate::asked::Asked;
use crate::log::{self, About};

pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |desk, asked| {
        let clock = Clock::new(desk.zone(), desk.now());
        let lots = desk.store().freezer()?;
        let lots: Vec<LotIn<'_>> =
            lots.iter().filter_map(|lot| Some(LotIn { id: lot.key.id?.to_string(), lot: &lot.it })).collect();
        let today: String = log::now_field(desk).chars().take(10).collect();
        let form = FormView {
            submit: "Put it in".to_owned(),
            ..log::blank(desk, About::Household, Kind::FreezerLot, "f", &[("bought".to_owned(), today)], "/freezer")?
        };
        let walk = desk.rounds(desk.now())?;
        ok(freezer::page(&frame(desk, asked, Tab::Freezer, "Freezer"), &lots, &walk, &form, &clock, is_writable(desk)))
    })
    .await
}
