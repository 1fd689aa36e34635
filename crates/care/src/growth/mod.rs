//! Growth: what an animal is likely to weigh and measure, and what that rests on.
//!
//! Start with [`Growth::of`]: it cleans the [`Weighings`], sums up the [`Intake`], follows the [`Trend`], sets up the
//! energy [`Budget`] where meals are weighed, and blends the two by how well each foretold this animal so far. What
//! would not be honest is a [`Refusal`] with its reason.

mod adult;
mod energy;
mod forecast;
mod intake;
mod length;
pub mod past;
mod prior;
mod refusal;
pub mod steps;
#[cfg(test)]
mod tests;
mod trend;
mod weighings;

pub use adult::{AdultSize, NotYet, size as adult_size};
pub use energy::{Budget, NoBudget, Unsure, resting_kj_per_day};
pub use forecast::{Assumes, Blend, Growth, Point, SHOWN_D};
pub use intake::{Intake, Meal, Ration};
pub use length::{From, Lengths, Line};
pub use prior::{Log, Prior};
pub use refusal::Refusal;
pub use trend::Trend;
pub use weighings::{LeftOut, Weighed, Weighings};
