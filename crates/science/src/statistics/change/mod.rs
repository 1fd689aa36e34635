//! What is no longer as it was: cumulative sums for a known change, run lengths for an unknown one.

mod cusum;
mod online;

pub use cusum::{BernoulliSum, NormalSum, first_above, run_length_of_normal_sum};
pub use online::{Chances, Online, Stretch, Values};
