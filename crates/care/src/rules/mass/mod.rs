//! Body mass: loss, slips of the scale, guesses, and mass for length.

mod condition;
mod loss;
mod scale;

use super::Rule;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[scale::SUSPECT, scale::ESTIMATED, loss::RULE, condition::RULE];
