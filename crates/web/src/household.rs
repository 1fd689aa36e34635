//! The household: who writes, what holds for everyone, power cuts and plans.

use axum::Form;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use records::{Fact, Kind};
use render::pages::form::Form as FormView;
use render::pages::frame::Tab;
use render::pages::household::{self, OpenCut, Sheet};
use render::wording::Clock;

use units::Zone;

use crate::app::{Answer, App, frame, is_writable, ok, record_in, see};
use crate::asked::{Asked, WRITER};
use crate::desk::{Desk, ZONE};
use crate::log::{self, About};
use crate::typed::Typed;

pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, show).await
}

fn show(desk: &Desk, asked: &Asked) -> Answer {
    let clock = Clock::new(desk.zone(), desk.now());
    let standing = desk.store().household()?.map(|(_, household)| Fact::Household(household).fields(desk.zone()));
    let typed: Vec<(String, String)> =
        standing.into_iter().flatten().map(|(key, value)| (key.to_owned(), value.shown())).collect();
    let back = "/household";
    let everyone = FormView {
        submit: "Keep it".to_owned(),
        ..log::blank(desk, About::Household, Kind::Household, "everyone", &typed, back)?
    };
    let now = vec![("from".to_owned(), log::now_field(desk))];
    let power = log::blank(desk, About::Household, Kind::Power, "power", &now, back)?;
    let plan = log::blank(desk, About::Household, Kind::Planned, "plan", &[], back)?;
    let records: Vec<_> = desk.store().history_of_household()?;
    let lines: Vec<_> = records
        .iter()
        .filter(|stored| stored.fact.kind() != Kind::FreezerLot)
        .take(40)
        .map(|stored| record_in(stored).line(&clock))
        .collect();
    let next_zone = desk.store().setting(ZONE)?.filter(|set| Some(set.as_str()) != desk.zone().name());
    let open_cuts: Vec<OpenCut> = records
        .iter()
        .filter(|stored| stored.head.is_current())
        .filter_map(|stored| open_cut(desk, stored, &clock))
        .collect();
    let folder = desk.store().folder().map(|folder| folder.display().to_string());
    let version = format!("{}, data {}", care::rounds::RULES_VERSION, species::library().version());
    ok(household::page(
        &frame(desk, asked, Tab::Household, "Household"),
        Sheet {
            writer: asked.writer.as_deref().unwrap_or_default(),
            form: &everyone,
            power: &power,
            plan: &plan,
            zone: desk.zone().name().unwrap_or("none"),
            next_zone: next_zone.as_deref(),
            zone_fault: asked
                .query("zone")
                .map(|typed| format!("`{typed}` is no zone: write one such as Europe/Lisbon."))
                .as_deref(),
            open_cuts: &open_cuts,
            folder: folder.as_deref(),
            version: &version,
            unknown: render::pages::rounds::unknown_kinds(&desk.store().unknown()?),
            records: &lines,
            writable: is_writable(desk),
        },
    ))
}

/// A power cut that has not ended.
fn open_cut(desk: &Desk, stored: &store::Stored, clock: &Clock) -> Option<OpenCut> {
    let Fact::Power(cut) = &stored.fact else { return None };
    cut.until.is_none().then(|| OpenCut {
        id: stored.head.id.to_string(),
        since: clock.when(cut.from),
        from: desk.zone().write_when(cut.from),
        until: log::now_field(desk),
    })
}

/// Sets the zone of the household; it holds from the next start on.
pub(crate) async fn zone(State(app): State<App>, asked: Asked, Form(pairs): Form<Vec<(String, String)>>) -> Response {
    app.run(asked, move |desk, _| {
        let named = Typed::new(pairs).get("zone").unwrap_or_default();
        if Zone::named(&named).is_none() {
            return see(&format!("/household?zone={}#zone", render::address::encoded(&named)));
        }
        desk.store().set_setting(ZONE, Some(&named))?;
        see("/household#zone")
    })
    .await
}

/// A name is no longer than this many letters.
const LONGEST_NAME: usize = 80;

pub(crate) async fn writer(Form(pairs): Form<Vec<(String, String)>>) -> Response {
    let name: String = Typed::new(pairs)
        .get("writer")
        .unwrap_or_default()
        .chars()
        .filter(|one| !one.is_control())
        .take(LONGEST_NAME)
        .collect();
    let lasts = if name.is_empty() { 0 } else { 365 * 24 * 3600 };
    let cookie =
        format!("{WRITER}={}; Path=/; Max-Age={lasts}; HttpOnly; SameSite=Lax", render::address::encoded(&name));
    (StatusCode::SEE_OTHER, [(header::SET_COOKIE, cookie), (header::LOCATION, "/household".to_owned())]).into_response()
}
