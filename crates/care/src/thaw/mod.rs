//! Thawing prey for a feeding: when it leaves the freezer, how long it lies in the warm bath, how long it stays warm
//! enough to be offered, and when it is binned.
//!
//! A piece is followed through its thawing, the bath and the air of the room by [`science::physics::prey`]; what nobody
//! told is taken from `general_thaw.toml`. Each uncertain value is tried at both its ends, and the differences add up
//! as the root of their squares. Hot water and the microwave are never planned for.

mod assumed;
mod course;
mod lot;
mod schedule;
mod spread;
mod steps;
mod tell;
mod timetable;
mod typed;
mod warnings;
mod words;

#[cfg(test)]
mod tests;

use records::{Fault, Fields};

use crate::what_if::{Known, Reckoning};

pub use assumed::{Assumed, Taken};
pub use lot::Lot;
pub use timetable::{Planned, Timetable, When, timetable, usual_evening};
pub use typed::fields;

/// The answer.
pub fn answer(typed: &dyn Fields, known: &Known) -> Result<Reckoning, Vec<Fault>> {
    let asked = typed::read(typed, known)?;
    tell::answer(asked, known).ok_or_else(|| {
        vec![Fault::new(
            "this prey never thaws through there",
            typed.place("prey"),
            "take more water, or check the temperatures",
        )]
    })
}
