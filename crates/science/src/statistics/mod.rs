//! Distributions and estimates.
//!
//! Where to start: [`least_squares`] for any curve, [`growth`] for sizes against age, [`summary`] for medians and
//! spreads.
//!
//! What cannot be estimated is refused with a reason, never guessed.

pub mod growth;
pub mod least_squares;
pub mod normal;
pub mod student;
pub mod summary;
