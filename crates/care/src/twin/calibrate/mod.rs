//! What a log says about an enclosure: two zones fitted to it, with their uncertainty and what is left over.
//!
//! [`read_log`] lays a log out in even steps; [`fit_log`] fits it, says what came of it as a [`Reckoning`], and gives the
//! record to keep ([`Fitted`]) so that later answers rest on it. Only heat for a watt and cooling for a watt can be told
//! from temperatures: where the heater was not logged and its power is not known either, [`cooling`] tells what is left,
//! the time constant of a cool-down and how the two sides stand to each other. [`drift`] compares two fits.
//!
//! [`Reckoning`]: crate::what_if::Reckoning
//! [`Fitted`]: records::facts::Fitted

mod certain;
mod cooling;
mod doubts;
mod drift;
mod fit;
mod log;
mod shown;

pub use drift::{Drifted, drift};
pub use fit::fit_log;
pub use log::{LogTable, Row, read_log};

#[cfg(test)]
mod tests;
