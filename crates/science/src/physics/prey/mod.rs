//! Prey that thaws, warms and is offered.
//!
//! [`Food`] holds heat content and conductivity of frozen and thawed tissue, [`Body`] the size and shape, [`Thawing`]
//! the shells that are stepped through refrigerator, bath and room air; [`estimate`] gives quick formulas,
//! [`growth`] what bacteria make of the time.

mod around;
pub mod bath;
mod body;
mod composition;
pub mod estimate;
pub mod film;
mod food;
pub mod front;
pub mod growth;
mod solver;
mod stage;
mod window;

pub use body::{Body, SPHEROID_TIME_FACTOR, stack_factor};
pub use composition::Composition;
pub use food::{Condition, Food, PhaseChange};
pub use solver::Thawing;
pub use stage::{Bath, Crossing, Medium, Profile, Spot, Stage, StageEnd, Watch};
pub use window::{OfferingWindow, WET_FUR_W_M2K, offering_window};
