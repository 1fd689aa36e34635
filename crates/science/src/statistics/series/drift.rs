//! Two sensors side by side that move apart.

use super::Reading;
use crate::statistics::summary::median;
use crate::statistics::trend::{Trend, theil_sen};

/// How to compare.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DriftRule {
    /// The second sensor is read between two of its readings that are no further apart, s.
    pub longest: f64,
    /// A day counts with so many pairs.
    pub pairs_a_day: usize,
}

/// Second − first, by days.
#[derive(Clone, Debug, PartialEq)]
pub struct Drift {
    /// Day (time divided by 86 400 s, cut) and the median difference on it.
    pub days: Vec<(f64, f64)>,
    /// Per day, with an interval of 95 %. It does not say which of the two drifts.
    pub trend: Trend,
}

/// Compares two sensors: the second is interpolated to the times of the first, the median difference of each day is
/// taken, and a line by the median of slopes through those. `None` with fewer than two days.
pub fn drift(first: &[Reading], second: &[Reading], rule: &DriftRule) -> Option<Drift> {
    const DAY: f64 = 86_400.0;
    let mut pairs: Vec<(f64, f64)> = Vec::with_capacity(first.len());
    for reading in first {
        let next = second.partition_point(|other| other.time < reading.time);
        let Some([before, after]) = next.checked_sub(1).and_then(|at| second.get(at..=next)) else { continue };
        let apart = after.time - before.time;
        if apart <= rule.longest && 0.0 < apart {
            let there = before.value + (after.value - before.value) * (reading.time - before.time) / apart;
            pairs.push(((reading.time / DAY).floor(), there - reading.value));
        }
    }
    let mut days = Vec::new();
    for day in pairs.chunk_by(|a, b| a.0 == b.0) {
        let differences: Vec<f64> = day.iter().map(|(_, difference)| *difference).collect();
        if let (Some((number, _)), Some(middle)) = (day.first(), median(&differences))
            && rule.pairs_a_day <= day.len()
        {
            days.push((*number, middle));
        }
    }
    let trend = theil_sen(&days, 0.95)?;
    Some(Drift { days, trend })
}
