//! Ration: what holds an animal's mass, what makes it grow and what fattens it, in grams a week and in prey; what it was
//! fed of late; and what the schools say that do not agree.
//!
//! The energy budget is that of [`crate::growth::Budget`] (estimate E4 of the physiology notes). [`needs`] reads it as
//! rations, [`fed`] sums up what was eaten, [`schools()`] sets the plans side by side.

pub mod fed;
pub mod needs;
pub mod schools;
mod study;
#[cfg(test)]
mod tests;

pub use fed::Fed;
pub use needs::{Needs, NoNeeds};
pub use schools::{School, schools};
pub use study::study;
