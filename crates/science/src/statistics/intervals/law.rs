//! Laws for a time, and what they say once some of it has passed.

use crate::statistics::{normal, student};
use statrs::distribution::{ContinuousCDF, Gamma};
use statrs::function::gamma::{gamma_ur, ln_gamma};

/// A law for a time above zero, in whatever unit the intervals are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Law {
    /// ln T is normal.
    Lognormal {
        /// Mean of ln T.
        mean: f64,
        /// Standard deviation of ln T.
        deviation: f64,
    },
    /// S = exp(−(t/scale)^shape).
    Weibull {
        /// Time at which 1/e are left.
        scale: f64,
        /// Above 1 the event comes the more readily the longer it has been awaited.
        shape: f64,
    },
    /// S = 1/(1 + (t/scale)^shape).
    LogLogistic {
        /// Median.
        scale: f64,
        /// As of Weibull, for small times.
        shape: f64,
    },
    /// Density ∝ t^(shape−1) e^(−t/scale).
    Gamma {
        /// Shape.
        shape: f64,
        /// Scale, a time.
        scale: f64,
    },
    /// (ln T − location)/scale is Student's.
    LogStudent {
        /// Degrees of freedom.
        freedom: f64,
        /// Median of ln T.
        location: f64,
        /// Scale of ln T.
        scale: f64,
    },
}

impl Law {
    /// P(T > t); 1 for t not above zero.
    pub fn survival(&self, t: f64) -> f64 {
        if t <= 0.0 {
            return 1.0;
        }
        match *self {
            Law::Lognormal { mean, deviation } => normal::below((mean - t.ln()) / deviation),
            Law::Weibull { scale, shape } => (-(t / scale).powf(shape)).exp(),
            Law::LogLogistic { scale, shape } => 1.0 / (1.0 + (t / scale).powf(shape)),
            Law::Gamma { shape, scale } => gamma_ur(shape, t / scale),
            Law::LogStudent { freedom, location, scale } => student::above((t.ln() - location) / scale, freedom),
        }
    }

    /// The time at which P(T > t) is `left`; NaN outside of 0 to 1.
    pub fn time_left_by(&self, left: f64) -> f64 {
        if !(0.0..=1.0).contains(&left) {
            return f64::NAN;
        }
        match *self {
            Law::Lognormal { mean, deviation } => (mean - deviation * normal::quantile(left)).exp(),
            Law::Weibull { scale, shape } => scale * (-left.ln()).powf(1.0 / shape),
            Law::LogLogistic { scale, shape } => scale * (1.0 / left - 1.0).powf(1.0 / shape),
            Law::Gamma { shape, scale } => {
                Gamma::new(shape, 1.0 / scale).map_or(f64::NAN, |law| law.inverse_cdf(1.0 - left))
            }
            Law::LogStudent { freedom, location, scale } => (location - scale * student::quantile(left, freedom)).exp(),
        }
    }

    /// The time by which the event has come with probability `p`.
    pub fn quantile(&self, p: f64) -> f64 {
        self.time_left_by(1.0 - p)
    }

    /// Half of all intervals are shorter.
    pub fn median(&self) -> f64 {
        self.time_left_by(0.5)
    }

    /// What is to come when so much time has passed without the event.
    pub fn after(&self, elapsed: f64) -> After {
        After { law: *self, elapsed: elapsed.max(0.0) }
    }

    /// ln of the density, for likelihoods.
    pub(super) fn log_density_of_gamma(shape: f64, scale: f64, t: f64) -> f64 {
        (shape - 1.0) * t.ln() - t / scale - ln_gamma(shape) - shape * scale.ln()
    }
}

/// A law, and time that has passed without the event.
///
/// For a law whose centre was uncertain this is exact and no second update: integrating over the centre with the
/// running interval in the likelihood gives the same numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct After {
    law: Law,
    elapsed: f64,
}

impl After {
    /// P(T > elapsed): how unusual it is that nothing has come yet.
    pub fn not_yet(&self) -> f64 {
        self.law.survival(self.elapsed)
    }

    /// P(T ≤ elapsed + further | T > elapsed). `None` where the law leaves nothing beyond what has passed.
    pub fn within(&self, further: f64) -> Option<f64> {
        let (now, then) = (self.not_yet(), self.law.survival(self.elapsed + further.max(0.0)));
        (0.0 < now).then(|| 1.0 - then / now)
    }

    /// Further time within which the event comes with probability `p`: S(x) = (1 − p) S(elapsed). `None` as above, and
    /// outside of 0 to 1.
    pub fn further(&self, p: f64) -> Option<f64> {
        let at = self.law.time_left_by((1.0 - p) * self.not_yet());
        let is_right = (0.0..=1.0).contains(&p) && 0.0 < self.not_yet() && !at.is_nan();
        is_right.then(|| (at - self.elapsed).max(0.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn laws() -> [Law; 5] {
        [
            Law::Lognormal { mean: 3.6, deviation: 0.25 },
            Law::Weibull { scale: 40.0, shape: 3.0 },
            Law::LogLogistic { scale: 38.0, shape: 6.0 },
            Law::Gamma { shape: 16.0, scale: 2.4 },
            Law::LogStudent { freedom: 7.0, location: 3.6, scale: 0.2 },
        ]
    }

    proptest! {
        #[test]
        fn times_and_survival_go_there_and_back(left in 0.001..0.999f64) {
            for law in laws() {
                let back = law.survival(law.time_left_by(left));
                prop_assert!((back / left - 1.0).abs() < 1e-6, "{law:?}: {back} and {left}");
            }
        }

        #[test]
        fn what_has_passed_is_taken_off(elapsed in 0.0..60.0f64, p in 0.01..0.99f64) {
            for law in laws() {
                let after = law.after(elapsed);
                let further = after.further(p).unwrap();
                prop_assert!(0.0 <= further);
                prop_assert!((after.within(further).unwrap() - p).abs() < 1e-6, "{law:?}");
            }
        }
    }

    #[test]
    fn after_no_time_it_is_the_law_itself() {
        for law in laws() {
            let after = law.after(0.0);
            assert_eq!(after.not_yet(), 1.0);
            assert!((after.further(0.5).unwrap() / law.median() - 1.0).abs() < 1e-9, "{law:?}");
            assert!(law.quantile(1.5).is_nan() && after.further(2.0).is_none() && law.survival(-1.0) == 1.0);
        }
    }

    #[test]
    fn beyond_all_reason_nothing_is_said() {
        assert_eq!(Law::Weibull { scale: 1.0, shape: 5.0 }.after(100.0).within(1.0), None);
    }
}
