//! How matter and numbers behave: statistics, heat and moisture.
//!
//! This crate must never know an animal, a species, a file or the clock. It takes numbers with their units and gives
//! numbers with their units and their uncertainty; every function names the source of its equation.
//!
//! Start with [`statistics`] or [`physics`].

pub mod physics;
pub mod statistics;
