//! One subject whose spread is not known either.

use super::Law;

/// A normal-inverse-gamma belief about the mean and the variance of ln of its intervals. For one to five intervals better
/// than a spread taken as known.
///
/// Source: Gelman and others 2013, Bayesian Data Analysis, 3.3 (from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Belief {
    /// Mean of ln.
    pub mean: f64,
    /// How many intervals that mean is worth.
    pub strength: f64,
    /// Shape of the variance: half the number of intervals that it is worth.
    pub a: f64,
    /// Its scale: a × variance, about.
    pub b: f64,
}

impl Belief {
    /// What is believed after some intervals. `None` where one is not above zero.
    pub fn after(&self, times: &[f64]) -> Option<Belief> {
        let mut belief = *self;
        for time in times {
            let log = time.ln();
            if !log.is_finite() {
                return None;
            }
            belief = belief.after_value(log);
        }
        Some(belief)
    }

    /// The same after one value that is no logarithm.
    pub(crate) fn after_value(&self, value: f64) -> Belief {
        let off = value - self.mean;
        let strength = self.strength + 1.0;
        Belief {
            mean: self.mean + off / strength,
            strength,
            a: self.a + 0.5,
            b: self.b + 0.5 * self.strength * off * off / strength,
        }
    }

    /// Degrees of freedom, location and scale of the next value: Student's.
    pub(crate) fn next_value(&self) -> [f64; 3] {
        [2.0 * self.a, self.mean, (self.b * (1.0 + 1.0 / self.strength) / self.a).sqrt()]
    }

    /// The law of the next interval.
    pub fn next(&self) -> Law {
        let [freedom, location, scale] = self.next_value();
        Law::LogStudent { freedom, location, scale }
    }
}
