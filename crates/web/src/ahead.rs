//! Ahead: the coming two weeks.

use axum::extract::State;
use axum::response::Response;
use records::Fact;
use render::pages::ahead;
use render::pages::frame::Tab;
use render::wording::{self, Clock};

use crate::app::{App, frame, ok};
use crate::asked::Asked;

pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |desk, asked| {
        let now = desk.now();
        let clock = Clock::new(desk.zone(), now);
        let mut plans = Vec::new();
        for stored in desk.store().history_of_household()?.iter().filter(|stored| stored.head.is_current()).rev() {
            if let Fact::Planned(plan) = &stored.fact
                && now < plan.ends()
            {
                plans.push(wording::capital(&wording::fact(&stored.fact, &clock)));
            }
        }
        ok(ahead::page(&frame(desk, asked, Tab::Ahead, "Ahead"), &desk.rounds(now)?, plans))
    })
    .await
}
