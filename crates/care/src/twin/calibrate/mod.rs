//! What a log says about an enclosure: its described model fitted to it, with its uncertainty and what is left over.
//!
//! [`read_log`] lays a log out in even steps; [`fit_log`] fits it, says what came of it as a [`Reckoning`], and gives the
//! record to keep ([`Fitted`]) so that later answers rest on it. The form of the description is kept and three factors are
//! found: two zones alone, warm and cool, meet a log of a real box no worse, but hold none of the heat that its walls and
//! floor give back slowly, and so would cool twice as fast. Only heat for a watt can be told from temperatures: where the
//! heater was not logged, `cooling` tells what is left, the time constant of a cool-down and how the two sides stand to
//! each other. [`drift`] compares two fits.
//!
//! [`Reckoning`]: crate::what_if::Reckoning
//! [`Fitted`]: records::facts::Fitted

mod certain;
mod cooling;
mod doubts;
mod drift;
mod fit;
mod kept;
mod laid;
mod log;
mod shown;

pub use drift::{Drifted, drift};
pub use fit::fit_log;
pub use kept::{Kept, kept};
pub use laid::typed_watts;
pub use log::{LogTable, Row, read_log};

#[cfg(test)]
mod tests;
