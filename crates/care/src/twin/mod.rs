//! The enclosure twin: a box with a heater in a room, as a keeper can describe it in two minutes, as a model of heat and
//! moisture.
//!
//! [`Description`] is what was told and what is on record; [`guesses`] what had to be taken instead; [`Model`] the
//! network that one set of values makes; [`Spread`] the answer over many such sets, with the share of its spread that
//! each guess makes; [`held`] how its heaters are driven where not all is told, [`moisture`] the water in its air;
//! [`calibrate`] fits it to what was logged. The questions stand in a file each: [`warmth`], [`runaway`], [`power_cut`],
//! [`humidity`], [`season`], [`compare`].

pub mod calibrate;
pub(crate) mod changed;
pub mod compare;
pub mod description;
pub mod guesses;
pub mod held;
pub mod humidity;
mod matched;
pub mod material;
pub mod model;
pub mod moisture;
pub mod power_cut;
pub mod runaway;
pub mod season;
pub mod spread;
#[cfg(test)]
pub(crate) mod testing;
pub mod warmth;
pub mod words;

pub use description::Description;
pub use guesses::{Guesses, Unknown, Values};
pub use model::{Model, State};
pub use spread::Spread;
