//! Bessel functions J₀ and J₁ of a real argument.

use std::f64::consts::{FRAC_PI_4, PI};

/// From here on Hankel's expansion is the better one.
const SERIES_END: f64 = 13.0;

/// J₀(x).
pub(super) fn j0(x: f64) -> f64 {
    if x.abs() < SERIES_END { power_series(x, 0) } else { hankel(x.abs(), 0) }
}

/// J₁(x).
pub(super) fn j1(x: f64) -> f64 {
    if x.abs() < SERIES_END { power_series(x, 1) } else { x.signum() * hankel(x.abs(), 1) }
}

/// Σ (−1)^k (x/2)^(2k+n)/(k! (k+n)!). Source: Abramowitz and Stegun 1964, 9.1.10.
fn power_series(x: f64, order: i32) -> f64 {
    let half = 0.5 * x;
    let mut term = half.powi(order);
    let mut sum = term;
    for k in 1..80 {
        term *= -half * half / (f64::from(k) * f64::from(k + order));
        sum += term;
        if term.abs() < 1e-18 {
            break;
        }
    }
    sum
}

/// √(2/πx) [P cos χ − Q sin χ], χ = x − (n/2 + 1/4)π, the terms cut at the smallest. Source: Abramowitz and Stegun 1964,
/// 9.2.5 to 9.2.10.
fn hankel(x: f64, order: i32) -> f64 {
    let mu = 4.0 * f64::from(order * order);
    let (mut p, mut q) = (1.0, 0.0);
    let mut term = 1.0f64;
    for k in 1..40 {
        let odd = f64::from(2 * k - 1);
        let next = term * (mu - odd * odd) / (f64::from(k) * 8.0 * x);
        if term.abs() < next.abs() {
            break;
        }
        term = next;
        match k % 4 {
            1 => q += term,
            2 => p -= term,
            3 => q -= term,
            _ => p += term,
        }
    }
    let chi = x - f64::from(order) * PI / 2.0 - FRAC_PI_4;
    (2.0 / (PI * x)).sqrt() * (p * chi.cos() - q * chi.sin())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Abramowitz and Stegun 1964, table 9.1.
    const TABLE: [(f64, f64, f64); 5] = [
        (0.0, 1.0, 0.0),
        (1.0, 0.765_197_686_557_967, 0.440_050_585_744_934),
        (5.0, -0.177_596_771_314_338, -0.327_579_137_591_465),
        (10.0, -0.245_935_764_451_348, 0.043_472_746_168_862),
        (100.0, 0.019_985_850_304_223, -0.077_145_352_014_112),
    ];

    #[test]
    fn they_agree_with_abramowitz_and_stegun_table_9_1() {
        for (x, zero, one) in TABLE {
            assert!((j0(x) - zero).abs() < 1e-11, "J0({x}) is {}, the table has {zero}", j0(x));
            assert!((j1(x) - one).abs() < 1e-11, "J1({x}) is {}, the table has {one}", j1(x));
        }
    }

    #[test]
    fn both_forms_agree_where_they_meet() {
        for x in [12.0, 13.0, 14.0] {
            assert!((power_series(x, 0) - hankel(x, 0)).abs() < 1e-10, "J0 at {x}");
            assert!((power_series(x, 1) - hankel(x, 1)).abs() < 1e-10, "J1 at {x}");
        }
    }
}
