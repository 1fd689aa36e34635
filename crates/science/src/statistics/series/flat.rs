//! Where a sensor has stopped to follow.

use super::Reading;
use std::ops::RangeInclusive;

/// What counts as flat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlatRule {
    /// All within so much of the first value: half of the resolution is a good one.
    pub within: f64,
    /// So many readings at least.
    pub readings: usize,
    /// So long at least, s. A calm room at a tenth of a degree is flat for hours.
    pub seconds: f64,
}

/// The longest stretches that stay close to their first value, by place.
pub fn flat_stretches(series: &[Reading], rule: &FlatRule) -> Vec<RangeInclusive<usize>> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some([first, rest @ ..]) = series.get(at..) {
        let more = rest.iter().take_while(|r| (r.value - first.value).abs() <= rule.within).count();
        let last = rest.get(more.wrapping_sub(1)).unwrap_or(first);
        if rule.readings <= more + 1 && rule.seconds <= last.time - first.time {
            found.push(at..=at + more);
        }
        at += more + 1;
    }
    found
}
