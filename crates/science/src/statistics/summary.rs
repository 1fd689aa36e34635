//! Means, medians and spreads.

/// A mean and a standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moments {
    /// How many values.
    pub count: usize,
    /// Their mean.
    pub mean: f64,
    /// √(Σ(x − mean)²/(n − 1)); zero of a single value.
    pub deviation: f64,
}

/// Mean and standard deviation in two passes, with the correction for rounding of the mean; `None` without values.
///
/// Source: Chan, Golub and LeVeque 1983, The American Statistician 37, 242, the corrected two-pass algorithm (from
/// memory).
pub fn moments(values: &[f64]) -> Option<Moments> {
    let n = values.len() as f64;
    if values.is_empty() {
        return None;
    }
    let rough = values.iter().sum::<f64>() / n;
    let left = values.iter().map(|v| v - rough).sum::<f64>();
    let squares: f64 = values.iter().map(|v| (v - rough).powi(2)).sum();
    let variance = (squares - left * left / n) / (n - 1.0).max(1.0);
    Some(Moments { count: values.len(), mean: rough + left / n, deviation: variance.max(0.0).sqrt() })
}

/// Correlation of values with the ones before them; `None` with fewer than two, or where all are equal.
pub fn autocorrelation(values: &[f64]) -> Option<f64> {
    let mean = moments(values)?.mean;
    let pairs = values.iter().zip(values.iter().skip(1));
    let lagged: f64 = pairs.map(|(before, after)| (before - mean) * (after - mean)).sum();
    let all: f64 = values.iter().map(|v| (v - mean).powi(2)).sum();
    (2 <= values.len() && 0.0 < all).then(|| lagged / all)
}

/// A quantile by linear interpolation, type 7 of Hyndman and Fan 1996, The American Statistician 50, 361 (from memory);
/// what numpy and R take by themselves. `None` without values, or with `p` outside of 0 to 1.
pub fn quantile(values: &[f64], p: f64) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    quantile_of_sorted(&sorted, p)
}

/// The same of values that already are in order.
pub fn quantile_of_sorted(sorted: &[f64], p: f64) -> Option<f64> {
    if !(0.0..=1.0).contains(&p) {
        return None;
    }
    let place = p * (sorted.len().checked_sub(1)? as f64);
    let below = place.floor();
    let low = sorted.get(below as usize)?;
    let high = sorted.get(place.ceil() as usize)?;
    Some(low + (place - below) * (high - low))
}

/// The smallest value that at least a share of `p` does not exceed. `None` as for [`quantile`].
pub fn lower_quantile(values: &[f64], p: f64) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    let rank = (p * sorted.len() as f64).ceil().max(1.0) as usize;
    (0.0..=1.0).contains(&p).then(|| sorted.get(rank - 1).copied()).flatten()
}

/// The middle one, or the mean of the two middle ones; `None` without values.
pub fn median(values: &[f64]) -> Option<f64> {
    median_in_place(&mut values.to_vec())
}

/// The same, without a copy: the values are put in another order.
pub fn median_in_place(values: &mut [f64]) -> Option<f64> {
    let middle = values.len() / 2;
    if values.is_empty() {
        return None;
    }
    let is_even = values.len().is_multiple_of(2);
    let (below, upper, _) = values.select_nth_unstable_by(middle, f64::total_cmp);
    let upper = *upper;
    if !is_even {
        return Some(upper);
    }
    let lower = below.iter().copied().max_by(f64::total_cmp)?;
    Some(0.5 * (lower + upper))
}

/// A median absolute deviation times this is the standard deviation of normal values: 1/Φ⁻¹(¾), to the four digits that
/// are usual.
pub const DEVIATIONS_PER_MAD: f64 = 1.4826;

/// What the middle of the values is and how far they spread, without heed to what is far off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Robust {
    /// Median.
    pub median: f64,
    /// Median of |x − median|.
    pub mad: f64,
}

impl Robust {
    /// What of normal values would be the standard deviation.
    pub fn deviation(&self) -> f64 {
        DEVIATIONS_PER_MAD * self.mad
    }
}

/// Median and median absolute deviation; `None` without values.
pub fn robust(values: &[f64]) -> Option<Robust> {
    let mut values = values.to_vec();
    let median = median_in_place(&mut values)?;
    values.iter_mut().for_each(|v| *v = (*v - median).abs());
    Some(Robust { median, mad: median_in_place(&mut values)? })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn nothing_has_no_summary() {
        assert!(moments(&[]).is_none() && median(&[]).is_none() && robust(&[]).is_none());
        assert!(quantile(&[], 0.5).is_none() && quantile(&[1.0], 1.5).is_none() && lower_quantile(&[], 0.5).is_none());
        assert!(autocorrelation(&[1.0]).is_none() && autocorrelation(&[2.0, 2.0]).is_none());
    }

    #[test]
    fn a_wild_value_hardly_moves_the_robust_ones() {
        let robust = robust(&[1.0, 2.0, 3.0, 4.0, 1000.0]).unwrap();
        assert_eq!((robust.median, robust.mad, robust.deviation()), (3.0, 1.0, 1.4826));
    }

    proptest! {
        #[test]
        fn the_median_is_the_middle_quantile_and_lies_between_the_extremes(values in proptest::collection::vec(-1e6..1e6f64, 1..60)) {
            let middle = median(&values).unwrap();
            prop_assert!((middle - quantile(&values, 0.5).unwrap()).abs() <= 1e-9 * (1.0 + middle.abs()));
            prop_assert!(quantile(&values, 0.0).unwrap() <= middle && middle <= quantile(&values, 1.0).unwrap());
            prop_assert!(values.contains(&lower_quantile(&values, 0.3).unwrap()));
        }

        #[test]
        fn a_shift_moves_the_middle_and_not_the_spread(values in proptest::collection::vec(-1e3..1e3f64, 2..40), by in -1e3..1e3f64) {
            let moved: Vec<f64> = values.iter().map(|v| v + by).collect();
            let (a, b) = (robust(&values).unwrap(), robust(&moved).unwrap());
            prop_assert!((b.median - a.median - by).abs() < 1e-9 && (a.mad - b.mad).abs() < 1e-9);
            let (a, b) = (moments(&values).unwrap(), moments(&moved).unwrap());
            prop_assert!((b.mean - a.mean - by).abs() < 1e-9 && (a.deviation - b.deviation).abs() < 1e-8);
        }
    }
}
