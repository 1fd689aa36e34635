//! A mixture of normal distributions: what several models say together, each with its weight.

use super::normal;

/// One normal distribution of a mixture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Its weight; those of a mixture need not add up to one.
    pub weight: f64,
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation, above zero.
    pub deviation: f64,
}

/// Share of the mixture below `x`; NaN of a mixture of nothing.
pub fn below(parts: &[Part], x: f64) -> f64 {
    let (sum, all) = parts.iter().fold((0.0, 0.0), |(sum, all), part| {
        (sum + part.weight * normal::below((x - part.mean) / part.deviation), all + part.weight)
    });
    sum / all
}

/// Mean and variance of the mixture; NaN of a mixture of nothing.
pub fn moments(parts: &[Part]) -> (f64, f64) {
    let all: f64 = parts.iter().map(|part| part.weight).sum();
    let mean = parts.iter().map(|part| part.weight * part.mean).sum::<f64>() / all;
    let spread = |part: &Part| part.weight * (part.deviation.powi(2) + (part.mean - mean).powi(2));
    (mean, parts.iter().map(spread).sum::<f64>() / all)
}

/// The value below which the share `p` of the mixture lies, to 1e-9 of the mixture's spread; NaN outside 0 to 1 and of
/// a mixture of nothing.
///
/// By false position in the manner of Illinois (Dowell and Jarratt 1971, BIT 11, 168; from memory), between bounds
/// between which the parts' own quantiles all lie.
pub fn quantile(parts: &[Part], p: f64) -> f64 {
    let z = normal::quantile(p);
    let ends = parts.iter().filter(|part| 0.0 < part.weight).map(|part| part.mean + z * part.deviation);
    let (mut low, mut high) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
    if !(low.is_finite() && high.is_finite()) {
        return f64::NAN;
    }
    let (_, variance) = moments(parts);
    let near = 1e-9 * variance.sqrt();
    let (mut at_low, mut at_high) = (below(parts, low) - p, below(parts, high) - p);
    let mut last_side = 0;
    for _ in 0..100 {
        if high - low <= near || at_high - at_low <= 0.0 {
            break;
        }
        let x = (low * at_high - high * at_low) / (at_high - at_low);
        let x = x.clamp(low, high);
        let at = below(parts, x) - p;
        if at.abs() < 1e-12 {
            return x;
        }
        if at < 0.0 {
            (low, at_low) = (x, at);
            if last_side == -1 {
                at_high /= 2.0;
            }
            last_side = -1;
        } else {
            (high, at_high) = (x, at);
            if last_side == 1 {
                at_low /= 2.0;
            }
            last_side = 1;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn part(weight: f64, mean: f64, deviation: f64) -> Part {
        Part { weight, mean, deviation }
    }

    #[test]
    fn one_part_is_a_normal_distribution() {
        let one = [part(3.0, 5.0, 2.0)];
        for p in [0.1, 0.5, 0.9] {
            assert!((quantile(&one, p) - (5.0 + 2.0 * normal::quantile(p))).abs() < 1e-8, "{p}");
        }
        assert_eq!(moments(&one), (5.0, 4.0));
    }

    #[test]
    fn two_equal_parts_far_apart_have_their_median_between_them() {
        let two = [part(0.5, -10.0, 1.0), part(0.5, 10.0, 1.0)];
        assert!((below(&two, quantile(&two, 0.25)) - 0.25).abs() < 1e-9);
        assert!((quantile(&two, 0.25) + 10.0).abs() < 1e-6, "a quarter is the median of the lower part");
        assert_eq!(moments(&two), (0.0, 101.0));
    }

    #[test]
    fn of_nothing_there_is_no_quantile() {
        assert!(quantile(&[], 0.5).is_nan() && quantile(&[part(1.0, 0.0, 1.0)], 1.5).is_nan());
    }

    proptest! {
        #[test]
        fn the_share_below_a_quantile_is_its_level(
            parts in prop::collection::vec((0.01..1.0f64, -3.0..3.0f64, 0.01..2.0f64), 1..40),
            p in 0.02..0.98f64,
        ) {
            let parts: Vec<Part> = parts.into_iter().map(|(w, m, s)| part(w, m, s)).collect();
            prop_assert!((below(&parts, quantile(&parts, p)) - p).abs() < 1e-6);
        }
    }
}
