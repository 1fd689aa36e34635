//! The time between events, when the last interval is still running.
//!
//! [`fit`] reads a [`Law`] from many intervals; [`Pool`] shares them between subjects that have few each; [`Belief`]
//! does without a known spread. Each gives a [`Law`] for the next interval, and [`Law::after`] says when it will end
//! given that so much time has passed. [`KaplanMeier`] assumes no law at all.

mod belief;
mod fit;
mod kaplan_meier;
mod law;
mod pool;
mod standard;

pub use belief::Belief;
pub use fit::{Family, IntervalFault, LawFit, fit};
pub use kaplan_meier::{KaplanMeier, Step};
pub use law::{After, Law};
pub use pool::{Method, Pool, looks_doubled};

/// An interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Interval {
    /// It ended with the event after that time.
    Ended(f64),
    /// It runs, or was lost sight of, after that time without the event.
    Running(f64),
}

impl Interval {
    /// Its time so far.
    pub fn time(self) -> f64 {
        match self {
            Interval::Ended(time) | Interval::Running(time) => time,
        }
    }

    /// Did the event come?
    pub fn is_ended(self) -> bool {
        matches!(self, Interval::Ended(_))
    }
}
