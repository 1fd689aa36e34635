//! What-if: a case file in, an answer out; nothing is kept.

use axum::Form;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use records::{Case, Fault};
use render::pages::frame::Tab;
use render::pages::what_if::{self, EXAMPLES, Outcome};
use units::Moment;

use crate::app::{Answer, App, frame, html, ok};
use crate::asked::Asked;
use crate::desk::Desk;

pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |desk, asked| {
        let wanted = asked.query("example").unwrap_or_default();
        let text = EXAMPLES.iter().find(|one| one.key == wanted).map_or("", |one| one.text);
        ok(what_if::page(&frame(desk, asked, Tab::WhatIf, "What if"), text, "", &Outcome::Blank))
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
    let frame = frame(desk, asked, Tab::WhatIf, "What if");
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
