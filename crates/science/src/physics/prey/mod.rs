//! Prey that thaws, warms and is offered.
//!
//! [`Food`] holds heat content and conductivity of frozen and thawed tissue, [`Body`] the size and shape, [`Thawing`]
//! the shells that are stepped through refrigerator, bath and room air; [`estimate`] gives quick formulas,
//! [`growth`] what bacteria make of the time.

pub mod bath;
mod body;
pub mod estimate;
pub mod film;
mod food;
pub mod front;
pub mod growth;
mod solver;
mod window;

pub use body::{Body, SPHEROID_TIME_FACTOR, stack_factor};
pub use food::{Composition, Food, PhaseChange};
pub use solver::{Bath, Crossing, Medium, Profile, Spot, Stage, StageEnd, Thawing, Watch};
pub use window::{OfferingWindow, WET_FUR_W_M2K, offering_window};
