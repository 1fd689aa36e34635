//! The laws of z = (ln t − μ)/s that location and scale turn into laws of a time.

use statrs::function::erf::erfc;
use std::f64::consts::{PI, SQRT_2};

/// Which one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standard {
    Normal,
    /// Of the least value: of Weibull.
    Gumbel,
    Logistic,
}

/// ln of a function, and its first and second derivative in z.
pub(super) struct Bend(pub(super) f64, pub(super) f64, pub(super) f64);

impl Standard {
    /// Of the density.
    pub(super) fn density(self, z: f64) -> Bend {
        match self {
            Standard::Normal => Bend(-0.5 * z * z - 0.5 * (2.0 * PI).ln(), -z, -1.0),
            Standard::Gumbel => Bend(z - z.exp(), 1.0 - z.exp(), -z.exp()),
            Standard::Logistic => {
                let p = 1.0 / (1.0 + (-z).exp());
                Bend(z - 2.0 * softplus(z), 1.0 - 2.0 * p, -2.0 * p * (1.0 - p))
            }
        }
    }

    /// Of what is left beyond z.
    pub(super) fn survival(self, z: f64) -> Bend {
        match self {
            Standard::Normal => {
                let (log, hazard) = normal_tail(z);
                Bend(log, -hazard, -hazard * (hazard - z))
            }
            Standard::Gumbel => Bend(-z.exp(), -z.exp(), -z.exp()),
            Standard::Logistic => {
                let p = 1.0 / (1.0 + (-z).exp());
                Bend(-softplus(z), -p, -p * (1.0 - p))
            }
        }
    }
}

/// ln(1 + e^z) without overflow.
fn softplus(z: f64) -> f64 {
    z.max(0.0) + (-z.abs()).exp().ln_1p()
}

/// ln(1 − Φ(z)) and φ(z)/(1 − Φ(z)); beyond 30 by the first terms of the asymptotic series.
///
/// Source: Abramowitz and Stegun 1964, Handbook of Mathematical Functions, 26.2.12 (from memory).
fn normal_tail(z: f64) -> (f64, f64) {
    let log_density = -0.5 * z * z - 0.5 * (2.0 * PI).ln();
    let log = if z < 30.0 {
        (0.5 * erfc(z / SQRT_2)).ln()
    } else {
        let w = 1.0 / (z * z);
        log_density - z.ln() + (-w * (1.0 - 3.0 * w * (1.0 - 5.0 * w))).ln_1p()
    };
    (log, (log_density - log).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn derivatives_are_those_of_differences_far_out_too() {
        for standard in [Standard::Normal, Standard::Gumbel, Standard::Logistic] {
            for z in [-6.0, -1.0, 0.0, 0.7, 3.0, 6.0] {
                for of in [Standard::density, Standard::survival] {
                    let h = 1e-5;
                    let (up, middle, down) = (of(standard, z + h), of(standard, z), of(standard, z - h));
                    let slope = (up.0 - down.0) / (2.0 * h);
                    let bend = (up.1 - down.1) / (2.0 * h);
                    assert!((middle.1 - slope).abs() < 1e-6 * (1.0 + slope.abs()), "{standard:?} at {z}");
                    assert!((middle.2 - bend).abs() < 1e-6 * (1.0 + bend.abs()), "{standard:?} at {z}");
                }
            }
        }
    }

    #[test]
    fn the_tail_of_the_normal_has_no_jump() {
        // scipy 1.17.1, stats.norm.logsf.
        for (z, log) in [(5.0, -15.064_998_393_988_725), (29.9, -451.322_912_458_528_7), (35.0, -616.975_101_261_922_5)]
        {
            let got = normal_tail(z).0;
            assert!((got / log - 1.0).abs() < 1e-9, "{z}: {got}");
        }
    }
}
