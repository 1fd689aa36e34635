//! Student's t distribution, from `statrs`.

use statrs::distribution::{ContinuousCDF, StudentsT};

/// Share of a t variable with `freedom` degrees of freedom above `t`; NaN where `freedom` is not above zero.
pub fn above(t: f64, freedom: f64) -> f64 {
    StudentsT::new(0.0, 1.0, freedom).map_or(f64::NAN, |law| law.cdf(-t))
}

/// The value below which a t variable lies with probability `p`; infinite at 0 and 1, NaN outside.
///
/// Refined by Newton steps on the distribution: the inverse of the library alone ends at about 1e-8.
pub fn quantile(p: f64, freedom: f64) -> f64 {
    use statrs::distribution::Continuous;
    let Ok(law) = StudentsT::new(0.0, 1.0, freedom) else { return f64::NAN };
    if !(0.0..=1.0).contains(&p) {
        return f64::NAN;
    }
    // By symmetry always in the lower half, where nothing cancels.
    let (tail, sign) = if p <= 0.5 { (p, 1.0) } else { (1.0 - p, -1.0) };
    let mut t = law.inverse_cdf(tail);
    if !t.is_finite() {
        return sign * t;
    }
    for _ in 0..3 {
        let step = (law.cdf(t) - tail) / law.pdf(t);
        if !step.is_finite() {
            break;
        }
        t -= step;
    }
    sign * t
}

#[cfg(test)]
mod tests {
    use super::*;

    /// scipy 1.17.1, `scipy.stats.t.ppf`.
    const PPF: [(f64, f64, f64); 6] = [
        (0.975, 1.0, 12.706_204_736_174_694),
        (0.975, 4.0, 2.776_445_105_197_793_4),
        (0.975, 21.0, 2.079_613_844_727_679_5),
        (0.9, 10.0, 1.372_183_641_110_336),
        (0.05, 3.0, -2.353_363_434_801_824),
        (0.999, 30.0, 3.385_184_866_829_304_5),
    ];

    #[test]
    fn quantiles_agree_with_scipy_there_and_back() {
        for (p, freedom, t) in PPF {
            let got = quantile(p, freedom);
            assert!((got / t - 1.0).abs() < 1e-9, "quantile({p}, {freedom}) is {got}, scipy has {t}");
            assert!((above(t, freedom) - (1.0 - p)).abs() < 1e-10, "above({t}, {freedom})");
        }
    }

    #[test]
    fn outside_of_its_range_there_is_none() {
        assert!(quantile(1.5, 3.0).is_nan() && quantile(0.5, 0.0).is_nan() && above(0.0, -1.0).is_nan());
        assert!(quantile(0.0, 3.0) == f64::NEG_INFINITY && quantile(1.0, 3.0) == f64::INFINITY);
    }
}
