//! The local page: addresses, forms, and the desk behind them.
//!
//! A handler parses, asks the desk, keeps, answers; no SQL, no threshold, no HTML and no wording of findings stands
//! here. Calls to the desk run on threads for blocking work (`App::run`).
//!
//! Start with [`desk`], which pages and commands share; then [`router`], the addresses; then `log.rs`, the way from a
//! form to a record.

mod ahead;
pub mod amount;
mod animals;
mod app;
mod asked;
mod assets;
mod calibrate;
pub mod desk;
mod enclosures;
pub mod filled;
mod freezer;
mod guard;
mod household;
mod log;
mod readings;
mod records_pages;
mod rounds;
mod serve;
mod species_pages;
mod studies;
mod typed;
mod undo;
mod what_if;

use axum::Router;
use axum::routing::{get, post};

pub use app::App;
pub use guard::Hosts;
pub use serve::{serve, serve_on};

/// The addresses of the page, behind the guard.
pub fn router(app: App, hosts: Hosts) -> Router {
    let pages = Router::new()
        .route("/", get(rounds::page))
        .route("/rounds/chore", post(rounds::chore))
        .route("/ahead", get(ahead::page))
        .route("/animals", get(animals::list))
        .route("/animals/new", get(animals::new).post(animals::add))
        .route("/animals/{id}", get(animals::page))
        .route("/animals/{id}/came-off", get(animals::came_off_form).post(animals::came_off))
        .route("/animals/{id}/feeding", get(studies::feeding))
        .route("/animals/{id}/sheds", get(studies::sheds))
        .route("/animals/{id}/condition", get(studies::condition))
        .route("/animals/{id}/log/{kind}", get(log::animal_form).post(log::animal))
        .route("/animals/{id}/readings", get(readings::animal_form).post(readings::animal))
        .route("/enclosures/{id}/readings", post(readings::enclosure))
        .route("/enclosures", get(enclosures::list))
        .route("/enclosures/new", get(enclosures::new).post(enclosures::add))
        .route("/enclosures/{id}", get(enclosures::page))
        .route("/enclosures/{id}/calibrate", get(calibrate::form).post(calibrate::read))
        .route("/enclosures/{id}/log/{kind}", get(log::enclosure_form).post(log::enclosure))
        .route("/household", get(household::page))
        .route("/household/zone", post(household::zone))
        .route("/household/writer", post(household::writer))
        .route("/household/log/{kind}", get(log::household_form).post(log::household))
        .route("/freezer", get(freezer::page))
        .route("/species", get(species_pages::list))
        .route("/species/{key}", get(species_pages::page))
        .route("/what-if", get(what_if::list).post(what_if::ask))
        .route("/what-if/animal", get(what_if::page).post(what_if::ask))
        .route("/what-if/{question}", get(what_if::ask_question))
        .route("/records/{id}", get(records_pages::page))
        .route("/records/{id}/correct", get(records_pages::correct_form).post(records_pages::correct))
        .route("/records/{id}/remove", post(records_pages::remove))
        .route("/undo", post(undo::undo))
        .route("/redo", post(undo::redo))
        .route("/assets/{name}", get(assets::asset))
        .route("/favicon.ico", get(assets::icon))
        .route("/favicon.svg", get(assets::icon))
        .fallback(app::nothing_here)
        .with_state(app);
    guard::guarded(pages, hosts)
}
