//! The pages, as whole HTML documents.
//!
//! Each page has a builder here and a template in `templates/`. A builder takes what the desk hands out and puts it
//! into finished words; a template only lays them out. Every page works without script.
//!
//! Start with [`frame`], what every page has around it; then [`rounds`] and [`animal`].

pub mod ahead;
pub mod animal;
pub mod animals;
pub mod calibrate;
pub mod enclosure;
pub mod form;
pub mod frame;
pub mod freezer;
pub mod household;
pub mod message;
pub mod parts;
pub mod question;
mod reckoned;
pub mod record;
pub mod rounds;
pub mod species;
pub mod study;
pub mod what_if;

use askama::Template;

pub use frame::{Frame, Noted};

/// The text of a template. What cannot be written (it has no reason to) is an empty page.
fn html(template: &impl Template) -> String {
    template.render().unwrap_or_default()
}
