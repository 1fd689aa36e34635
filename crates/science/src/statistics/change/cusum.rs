//! Cumulative sums.

use crate::statistics::normal;
use nalgebra::{DMatrix, DVector};

/// S = max(0, S + ln likelihood ratio) for events whose chance may have gone from one to another.
///
/// Source: Page 1954, Biometrika 41, 100 (from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BernoulliSum {
    on_event: f64,
    on_none: f64,
    sum: f64,
}

impl BernoulliSum {
    /// Watches for the second chance instead of the first. `None` unless both lie within 0 to 1 and differ.
    pub fn new(usual: f64, changed: f64) -> Option<BernoulliSum> {
        let is_chance = |p: f64| 0.0 < p && p < 1.0;
        let is_right = is_chance(usual) && is_chance(changed) && usual != changed;
        is_right.then(|| BernoulliSum {
            on_event: (changed / usual).ln(),
            on_none: ((1.0 - changed) / (1.0 - usual)).ln(),
            sum: 0.0,
        })
    }

    /// The sum after one more.
    pub fn push(&mut self, is_event: bool) -> f64 {
        self.sum = (self.sum + if is_event { self.on_event } else { self.on_none }).max(0.0);
        self.sum
    }
}

/// Two sums for values of mean 0 and deviation 1: upwards max(0, S + z − k), downwards max(0, S − z − k).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct NormalSum {
    /// What is forgiven of each value: half of the shift that is looked for.
    pub allowance: f64,
    /// Upwards.
    pub high: f64,
    /// Downwards.
    pub low: f64,
}

impl NormalSum {
    /// With nothing summed yet.
    pub fn new(allowance: f64) -> NormalSum {
        NormalSum { allowance, high: 0.0, low: 0.0 }
    }

    /// After one more value, in standard deviations from the usual mean.
    pub fn push(&mut self, z: f64) -> NormalSum {
        self.high = (self.high + z - self.allowance).max(0.0);
        self.low = (self.low - z - self.allowance).max(0.0);
        *self
    }
}

/// The first place at which a sum is above its limit.
pub fn first_above(sums: &[f64], limit: f64) -> Option<usize> {
    sums.iter().position(|sum| limit < *sum)
}

/// How many values a one-sided normal sum takes on average to rise above `limit`, when values have shifted by `shift`
/// deviations: with no shift the time between false alarms. A Markov chain of `states` states; 100 give three digits.
/// `None` where the limit is not above zero or there are no states.
///
/// Source: Brook and Evans 1972, Biometrika 59, 539 (from memory).
pub fn run_length_of_normal_sum(allowance: f64, limit: f64, shift: f64, states: usize) -> Option<f64> {
    if !(0.0 < limit && limit.is_finite()) || states == 0 {
        return None;
    }
    let width = 2.0 * limit / (2.0 * states as f64 - 1.0);
    let below = |steps: f64| normal::below(steps * width + allowance - shift);
    let stays = DMatrix::from_fn(states, states, |from, to| {
        let steps = to as f64 - from as f64;
        let identity = if from == to { 1.0 } else { 0.0 };
        let chance = if to == 0 { below(steps + 0.5) } else { below(steps + 0.5) - below(steps - 0.5) };
        identity - chance
    });
    let lengths = stays.lu().solve(&DVector::from_element(states, 1.0))?;
    lengths.get(0).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sum_needs_two_chances() {
        assert!(BernoulliSum::new(0.1, 0.1).is_none() && BernoulliSum::new(0.0, 0.5).is_none());
        assert!(run_length_of_normal_sum(0.5, 0.0, 0.0, 10).is_none());
        assert!(run_length_of_normal_sum(0.5, 4.0, 0.0, 0).is_none());
    }

    #[test]
    fn a_larger_shift_is_found_sooner() {
        let length = |shift: f64| run_length_of_normal_sum(0.5, 4.0, shift, 60).unwrap();
        assert!(length(2.0) < length(1.0) && length(1.0) < length(0.5) && length(0.5) < length(0.0));
    }
}
