//! Housing: room, locks, hides, company, chores, and somebody who looks in.

mod chores;
mod closed;
mod hides;
mod room;
mod shared;
mod watched;

use super::Rule;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[
    room::RULE,
    closed::RULE,
    shared::RULE,
    hides::RULE,
    chores::WATER,
    chores::SPOT,
    chores::FULL,
    watched::SEEN,
    watched::UNATTENDED,
];
