//! Refusals: is this run unusual for this animal, this month, this species; how likely the next offer is taken; what a
//! fast costs; and six things to look at, always in the same order.
//!
//! [`offers`] lays out what was offered, [`chance`] reads from it how likely an offer is taken, [`run`] judges the run
//! that goes on, [`loss()`] says what mass a fast costs, [`checks()`] answers the six questions from the records. How grave
//! a fast is stays with days and mass ([`crate::rules::feeding`]): never with probability alone.

pub mod chance;
pub mod checks;
pub mod loss;
pub mod offers;
pub mod run;
mod study;
#[cfg(test)]
mod tests;

pub use chance::Chance;
pub use checks::{Check, Verdict, checks};
pub use loss::{Loss, NoLoss, loss};
pub use offers::{Offer, Offers};
pub use run::{Judged, Run};
pub use study::study;
