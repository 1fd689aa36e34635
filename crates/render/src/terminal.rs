//! The same answers in a window of text, as a tired keeper reads them at ten in the evening: what is grave first, what
//! to do beside it, dates as said from now, reasons on request. No colour is needed to understand it.
//!
//! Start with [`answer`] and [`rounds`]; [`sheet`] lays lines out to the width of the window.

mod answer;
mod profile;
mod reckoning;
mod rounds;
pub mod sheet;
#[cfg(test)]
mod tests;

pub use answer::answer;
pub use profile::{profile, profiles};
pub use reckoning::reckoning;
pub use rounds::rounds;

/// How it is to be shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// The width of the window, in columns.
    pub width: usize,
    /// Give the reasons and the sources too.
    pub why: bool,
}
