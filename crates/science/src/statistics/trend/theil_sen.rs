//! Lines by medians of slopes.

use crate::statistics::normal;
use crate::statistics::summary::{median, median_in_place};

/// A line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Per unit of x.
    pub slope: f64,
    /// At x = 0.
    pub intercept: f64,
}

/// A line, and how sure its slope is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trend {
    /// The line.
    pub line: Line,
    /// Holds the slope with the probability asked for.
    pub slope_interval: [f64; 2],
}

impl Trend {
    /// Does the interval leave out zero?
    pub fn is_falling_or_rising(&self) -> bool {
        let [low, high] = self.slope_interval;
        0.0 < low || high < 0.0
    }
}

/// The median of the slopes of all pairs with different x, with the interval of Sen by the normal approximation of
/// Kendall's S with its correction for ties; the intercept is median(y) − slope · median(x). `level` is 0.95, say. All
/// pairs are looked at: a few thousand points at most. `None` where no two x differ, or a value is not a number.
///
/// Source: Sen 1968, Journal of the American Statistical Association 63, 1379 (from memory); rules as in
/// `scipy.stats.theilslopes`.
pub fn theil_sen(points: &[(f64, f64)], level: f64) -> Option<Trend> {
    let mut slopes = slopes(points)?;
    let line = through_medians(points, median(&slopes)?)?;
    slopes.sort_unstable_by(f64::total_cmp);
    let n = points.len() as f64;
    let ties = |values: Vec<f64>| repeats(values).map(|k| k * (k - 1.0) * (2.0 * k + 5.0)).sum::<f64>();
    let tied = ties(points.iter().map(|p| p.0).collect()) + ties(points.iter().map(|p| p.1).collect());
    let variance = (n * (n - 1.0) * (2.0 * n + 5.0) - tied) / 18.0;
    let half = normal::quantile(0.5 + 0.5 * level) * variance.max(0.0).sqrt();
    let count = slopes.len() as f64;
    // Half to even, as numpy rounds.
    let upper = (((count + half) / 2.0).round_ties_even()).min(count - 1.0);
    let lower = (((count - half) / 2.0).round_ties_even() - 1.0).max(0.0);
    let at = |place: f64| slopes.get(place as usize).copied();
    Some(Trend { line, slope_interval: [at(lower)?, at(upper)?] })
}

/// The median over points of the median slope to the others, which half of the points cannot upset; the intercept is the
/// median of y − slope · x.
///
/// Source: Siegel 1982, Biometrika 69, 242 (from memory); the hierarchical rule of `scipy.stats.siegelslopes`.
pub fn siegel(points: &[(f64, f64)]) -> Option<Line> {
    if points.iter().any(|(x, y)| !(x.is_finite() && y.is_finite())) {
        return None;
    }
    let of = |(x, y): &(f64, f64)| {
        let others = points.iter().filter(|other| other.0 != *x);
        median_in_place(&mut others.map(|other| (other.1 - y) / (other.0 - x)).collect::<Vec<_>>())
    };
    let slope = median(&points.iter().filter_map(of).collect::<Vec<_>>())?;
    let intercept = median(&points.iter().map(|(x, y)| y - slope * x).collect::<Vec<_>>())?;
    Some(Line { slope, intercept })
}

/// τ_b: how far x and y go up and down together, −1 to 1. `None` where one of them never changes.
///
/// Source: Kendall 1945, Biometrika 33, 239 (from memory).
pub fn kendall_tau(points: &[(f64, f64)]) -> Option<f64> {
    let sign = |d: f64| if d == 0.0 { 0.0 } else { d.signum() };
    let (mut sum, mut by_x, mut by_y) = (0.0, 0.0, 0.0);
    for (at, (x, y)) in points.iter().enumerate() {
        for (x2, y2) in points.iter().skip(at + 1) {
            let (dx, dy) = (sign(x2 - x), sign(y2 - y));
            sum += dx * dy;
            by_x += dx.abs();
            by_y += dy.abs();
        }
    }
    (0.0 < by_x && 0.0 < by_y).then(|| sum / (by_x * by_y).sqrt())
}

fn slopes(points: &[(f64, f64)]) -> Option<Vec<f64>> {
    if points.iter().any(|(x, y)| !(x.is_finite() && y.is_finite())) {
        return None;
    }
    let mut slopes = Vec::with_capacity(points.len() * points.len().saturating_sub(1) / 2);
    for (at, (x, y)) in points.iter().enumerate() {
        let later = points.iter().skip(at + 1).filter(|other| other.0 != *x);
        slopes.extend(later.map(|(x2, y2)| (y2 - y) / (x2 - x)));
    }
    Some(slopes)
}

fn through_medians(points: &[(f64, f64)], slope: f64) -> Option<Line> {
    let (mut x, mut y): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
    Some(Line { slope, intercept: median_in_place(&mut y)? - slope * median_in_place(&mut x)? })
}

/// How often each value that comes more than once comes.
fn repeats(mut values: Vec<f64>) -> impl Iterator<Item = f64> {
    values.sort_unstable_by(f64::total_cmp);
    let counts: Vec<f64> = values.chunk_by(|a, b| a == b).map(|same| same.len() as f64).collect();
    counts.into_iter().filter(|count| 1.0 < *count)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_third_of_wild_values_does_not_turn_an_exact_line_around(
            slope in -5.0..5.0f64, intercept in -50.0..50.0f64, wild in proptest::collection::vec(-1e4..1e4f64, 6),
        ) {
            let mut points: Vec<(f64, f64)> = (0..20).map(f64::from).map(|x| (x, intercept + slope * x)).collect();
            for (k, value) in wild.iter().enumerate() {
                points[3 * k].1 = *value;
            }
            let robust = siegel(&points).unwrap();
            prop_assert!((robust.slope - slope).abs() < 1e-9 && (robust.intercept - intercept).abs() < 1e-7);
        }

        #[test]
        fn scales_carry_over(points in proptest::collection::vec((-50i32..50, -50i32..50), 3..20), by in 0.1..10.0f64) {
            let points: Vec<(f64, f64)> = points.into_iter().map(|(x, y)| (f64::from(x), f64::from(y))).collect();
            let scaled: Vec<(f64, f64)> = points.iter().map(|(x, y)| (*x, by * y)).collect();
            if let (Some(a), Some(b)) = (theil_sen(&points, 0.9), theil_sen(&scaled, 0.9)) {
                prop_assert!((b.line.slope - by * a.line.slope).abs() < 1e-9 * (1.0 + b.line.slope.abs()));
                let [low, high] = a.slope_interval;
                prop_assert!(low <= a.line.slope && a.line.slope <= high);
                prop_assert_eq!(a.is_falling_or_rising(), b.is_falling_or_rising());
            }
        }
    }

    #[test]
    fn without_two_places_there_is_no_line() {
        assert!(theil_sen(&[(1.0, 2.0), (1.0, 3.0)], 0.95).is_none() && siegel(&[(1.0, 2.0)]).is_none());
        assert!(theil_sen(&[(1.0, 2.0), (f64::NAN, 3.0)], 0.95).is_none());
        assert!(kendall_tau(&[(1.0, 2.0), (1.0, 3.0)]).is_none());
    }
}
