//! Condition: an animal against its own best, against others of its species at its length, and by eye; and its growth
//! beside its siblings, the household's animals and published masses, as a band and never as a target.
//!
//! [`scaled`] is the scaled mass index, [`kin`] what others weighed at an age, [`score`] the scale by eye. What is heavy
//! or thin enough to be told is in the rules ([`crate::rules::mass`]).

pub mod kin;
pub mod scaled;
pub mod score;
mod study;
#[cfg(test)]
mod tests;

pub use kin::{Band, Kin, Relative};
pub use scaled::{Sample, ScaledMass};
pub use score::{SCALE, Shape};
pub use study::study;
