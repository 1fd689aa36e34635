//! Spikes.

use crate::statistics::summary::robust;

/// What is a spike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hampel {
    /// Readings on each side that are looked at; 3 is a good number.
    pub half_window: usize,
    /// Deviations from the median of those; 3.
    pub deviations: f64,
    /// The deviation is taken to be no less: one step of the resolution. Else every step on a flat series is a spike.
    pub floor: f64,
}

/// For each spike its place and the median around it. The window is cut at the ends.
///
/// Source: Hampel 1974, Journal of the American Statistical Association 69, 383 (from memory).
pub fn hampel(values: &[f64], rule: &Hampel) -> Vec<(usize, f64)> {
    let spike = |(at, value): (usize, &f64)| {
        let end = (at + rule.half_window + 1).min(values.len());
        let around = robust(values.get(at.saturating_sub(rule.half_window)..end)?)?;
        let deviation = around.deviation().max(rule.floor);
        (rule.deviations * deviation < (value - around.median).abs()).then_some((at, around.median))
    };
    values.iter().enumerate().filter_map(spike).collect()
}
