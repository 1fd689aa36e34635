//! What a sensor sends: what to leave out, how long it was where, how it swings, and how to keep it small.
//!
//! Times are seconds, counted from anywhere; they must not go back. Nothing is deleted here: places are named and the
//! caller decides. Reject a sensor's own codes for "no reading" before any of this.

mod alarm;
mod cycles;
mod drift;
mod flat;
mod gaps;
mod hampel;
mod in_range;
mod rollup;
mod thin;

pub use alarm::{Alarm, Change, Direction, Levels};
pub use cycles::{Cycles, cycles};
pub use drift::{Drift, DriftRule, drift};
pub use flat::{FlatRule, flat_stretches};
pub use gaps::{Gap, Gaps, gaps};
pub use hampel::{Hampel, hampel};
pub use in_range::{InRange, hold, linear};
pub use rollup::{Histogram, Rollup};
pub use thin::{extremes, largest_triangles};

/// A reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Seconds.
    pub time: f64,
    /// In the unit of the sensor.
    pub value: f64,
}
