//! Sizes against age.
//!
//! A curve has an asymptote A, a size W₀ at age zero, a rate k per year and, for [`Curve::Richards`], a shape m; all
//! are positive and their logarithms are fitted to logarithms of sizes, since errors are a share of the size. Ages are in
//! years, sizes in any unit.
//!
//! Start with [`fit`], then ask the [`GrowthFit`] for a [`Prediction`]; [`choose`] weighs curves against each other,
//! [`bootstrap`] is the check on the intervals.

mod bootstrap;
mod choice;
mod curve;
mod fit;
mod prediction;
mod problem;

pub use bootstrap::{Bootstrap, Draws, bootstrap};
pub use choice::{Choice, ChoiceFault, Weighed, choose};
pub use curve::{Curve, Growth, Point};
pub use fit::{Ages, Doubt, GrowthFault, GrowthFit, Known, Sighting, fit};
pub use prediction::Prediction;
