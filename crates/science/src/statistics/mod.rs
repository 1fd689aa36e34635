//! Distributions and estimates.
//!
//! Where to start: [`least_squares`] for any curve, [`growth`] for sizes against age, [`intervals`] for the time
//! between events, [`rates`] for events out of chances, [`change`] and [`trend`] for what is no longer as it was,
//! [`series`] for what a sensor sends, [`summary`] for medians and spreads, [`mixture`] for several models together.
//!
//! What cannot be estimated is refused with a reason, never guessed.

pub mod change;
pub mod growth;
pub mod intervals;
pub mod least_squares;
mod maximum;
pub mod mixture;
pub mod normal;
pub mod rates;
pub mod series;
pub mod student;
pub mod summary;
pub mod trend;
