//! Distributions and estimates.

pub mod normal;
