//! How a control swings.

use crate::statistics::summary::{median, quantile};

/// Cycles of a series with even steps.
#[derive(Clone, Debug, PartialEq)]
pub struct Cycles {
    /// Where it counts as down, and as up.
    pub levels: [f64; 2],
    /// Places at which it came up.
    pub upward: Vec<usize>,
    /// Median time from one to the next, s.
    pub period: f64,
    /// Quartiles of those.
    pub quartiles: [f64; 2],
    /// Share of the time that it rises, from trough to peak.
    pub duty: Option<f64>,
}

/// Readings of a cycle below which it is not resolved.
const FEWEST: f64 = 6.0;

/// Finds cycles: the levels are a quarter of the width from the 10 to the 90 % quantile around the middle of these
/// (from the reading `settled` on), a crossing of one counts after one of the other, turning points are those of the
/// mean over `smooth` readings (odd) between crossings. `None` with fewer than three cycles, or fewer than six readings
/// in each.
pub fn cycles(values: &[f64], step: f64, settled: usize, smooth: usize) -> Option<Cycles> {
    let steady = values.get(settled..)?;
    let (low, high) = (quantile(steady, 0.1)?, quantile(steady, 0.9)?);
    let (middle, half) = (0.5 * (low + high), 0.25 * (high - low));
    let levels = [middle - half, middle + half];
    let mut crossings: Vec<(usize, bool)> = Vec::new();
    for (at, value) in values.iter().enumerate() {
        let was_up = crossings.last().map(|(_, is_up)| *is_up);
        if was_up != Some(true) && levels[1] <= *value {
            crossings.push((at, true));
        } else if was_up != Some(false) && *value <= levels[0] {
            crossings.push((at, false));
        }
    }
    let upward: Vec<usize> = crossings.iter().filter(|(_, is_up)| *is_up).map(|(at, _)| *at).collect();
    let periods: Vec<f64> = upward.iter().zip(upward.iter().skip(1)).map(|(a, b)| (b - a) as f64 * step).collect();
    let period = median(&periods)?;
    if periods.len() < 3 || half <= 0.0 || period < FEWEST * step {
        return None;
    }
    Some(Cycles {
        levels,
        period,
        quartiles: [quantile(&periods, 0.25)?, quantile(&periods, 0.75)?],
        duty: duty(&smoothed(values, smooth), &crossings),
        upward,
    })
}

/// Mean over so many readings around each, fewer at the ends.
fn smoothed(values: &[f64], over: usize) -> Vec<f64> {
    let half = over / 2;
    let mean = |at: usize| {
        let window = values.get(at.saturating_sub(half)..(at + half + 1).min(values.len())).unwrap_or_default();
        window.iter().sum::<f64>() / window.len() as f64
    };
    (0..values.len()).map(mean).collect()
}

/// Sum of trough to peak over sum of trough to trough.
fn duty(smooth: &[f64], crossings: &[(usize, bool)]) -> Option<f64> {
    let (mut troughs, mut peaks) = (Vec::new(), Vec::new());
    for ((from, is_up), (to, _)) in crossings.iter().zip(crossings.iter().skip(1)) {
        let between = || smooth.iter().enumerate().take(to + 1).skip(*from);
        if *is_up {
            // Of equals the first.
            peaks.extend(between().rev().max_by(|a, b| a.1.total_cmp(b.1)).map(|(at, _)| at));
        } else {
            troughs.extend(between().min_by(|a, b| a.1.total_cmp(b.1)).map(|(at, _)| at));
        }
    }
    let (mut rising, mut whole) = (0, 0);
    for (first, second) in troughs.iter().zip(troughs.iter().skip(1)) {
        if let Some(peak) = peaks.iter().find(|peak| first < *peak && *peak < second) {
            rising += peak - first;
            whole += second - first;
        }
    }
    (0 < whole).then(|| rising as f64 / whole as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_saw_tooth_has_its_period_and_duty() {
        // 40 readings a cycle, 30 of them rising.
        let tooth = |k: usize| if k % 40 < 30 { (k % 40) as f64 } else { 3.0 * (40 - k % 40) as f64 };
        let values: Vec<f64> = (0..400).map(tooth).collect();
        let found = cycles(&values, 20.0, 0, 1).unwrap();
        assert!((found.period - 800.0).abs() < 1e-9 && (found.duty.unwrap() - 0.75).abs() < 1e-9, "{found:?}");
    }

    #[test]
    fn what_does_not_swing_or_swings_too_fast_is_not_resolved() {
        assert!(cycles(&[20.0; 100], 20.0, 0, 5).is_none());
        let fast: Vec<f64> = (0..100).map(|k| f64::from(k % 4)).collect();
        assert!(cycles(&fast, 20.0, 0, 1).is_none() && cycles(&fast, 20.0, 200, 1).is_none());
    }
}
