//! What a fitted curve says of an age.

use super::GrowthFit;
use crate::statistics::least_squares::{Noise, reach};

/// A size at an age, with its certainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prediction {
    /// ln of the size of the curve, which is the median.
    pub log_size: f64,
    /// Standard error of that: √(gᵀCg), the delta method.
    pub log_deviation: f64,
    /// Noise of one size, as a standard deviation of its logarithm.
    pub log_noise: f64,
    noise: Noise,
    freedom: usize,
}

impl Prediction {
    pub(super) fn of(found: &GrowthFit, age_years: f64) -> Prediction {
        let point = found.growth.at(age_years + found.age_at_first);
        let slopes = point.slopes_of(found.growth.curve);
        let variance = found.fit.variance_of(slopes.get(..found.fit.parameters.len()).unwrap_or(&slopes));
        Prediction {
            log_size: point.log,
            log_deviation: variance.max(0.0).sqrt(),
            log_noise: found.fit.deviation_of_a_row(),
            noise: found.fit.noise,
            freedom: found.fit.freedom,
        }
    }

    /// The size, in the unit of the sightings.
    pub fn size(&self) -> f64 {
        self.log_size.exp()
    }

    /// Holds the curve with a probability of `level`, 0.8 say.
    pub fn interval(&self, level: f64) -> [f64; 2] {
        self.around(level, self.log_deviation)
    }

    /// Holds one new size with a probability of `level`.
    pub fn interval_of_one(&self, level: f64) -> [f64; 2] {
        self.around(level, self.log_deviation.hypot(self.log_noise))
    }

    fn around(&self, level: f64, deviation: f64) -> [f64; 2] {
        let half = reach(level, self.noise, self.freedom) * deviation;
        [-half, half].map(|off| (self.log_size + off).exp())
    }
}
