//! What-if: questions about heat, humidity and thawing, answered from a description, without any record needed.
//!
//! A [`Question`] has [`Field`]s that a form or a command line fills in; what is on record ([`Known`]) fills in the rest.
//! The answer to every question is a [`Reckoning`]: sentences, numbers with their ranges, curves, steps in order, and
//! what had to be guessed. A page, a shell and JSON show the same one.

pub mod field;
pub mod known;
pub mod question;
pub mod reckoning;

pub use field::{Entry, Field, Group};
pub use known::{Known, Place, Resident};
pub use question::Question;
pub use reckoning::{
    Amount, AtSpot, Basis, Cell, Checked, Curve, Dated, Guess, Limit, Point, Range, Reckoning, Step, Table, Topic,
    Unit, Warning,
};
