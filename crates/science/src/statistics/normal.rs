//! The standard normal distribution, from `statrs`.

use statrs::distribution::{ContinuousCDF, Normal};

/// Share of a standard normal variable below `z`.
pub fn below(z: f64) -> f64 {
    Normal::standard().cdf(z)
}

/// The value below which a standard normal variable lies with probability `p`; infinite at 0 and 1, NaN outside.
pub fn quantile(p: f64) -> f64 {
    if (0.0..=1.0).contains(&p) { Normal::standard().inverse_cdf(p) } else { f64::NAN }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Abramowitz and Stegun 1964, Handbook of Mathematical Functions, table 26.1.
    const TABLE_26_1: [(f64, f64); 5] = [
        (0.0, 0.5),
        (1.0, 0.841_344_746_069),
        (-1.0, 0.158_655_253_931),
        (2.0, 0.977_249_868_052),
        (2.5, 0.993_790_334_674),
    ];

    #[test]
    fn it_agrees_with_abramowitz_and_stegun_table_26_1() {
        for (z, p) in TABLE_26_1 {
            assert!((below(z) - p).abs() < 1e-9, "below({z}) is {}, the table has {p}", below(z));
            assert!((quantile(p) - z).abs() < 1e-6, "quantile({p}) is {}, the table has {z}", quantile(p));
        }
    }

    #[test]
    fn outside_of_zero_to_one_there_is_no_quantile() {
        assert!(quantile(-0.1).is_nan() && quantile(1.1).is_nan());
    }
}
