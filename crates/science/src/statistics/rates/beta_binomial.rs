//! A chance that is not known exactly: Beta, and Beta-binomial counts.

use crate::statistics::maximum::maximum;
use statrs::distribution::{Beta as Law, ContinuousCDF};
use statrs::function::beta::ln_beta;
use statrs::function::factorial::ln_binomial;
use std::fmt;

/// Events out of trials.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Counts {
    /// How many came.
    pub events: u64,
    /// Of how many.
    pub trials: u64,
}

/// What is believed of a chance: density ∝ p^(a−1)(1−p)^(b−1), as if a events and b failures had been seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beta {
    /// Above zero.
    pub a: f64,
    /// Above zero.
    pub b: f64,
}

/// Why no belief can be read from counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RateFault {
    /// More events than trials. Counted from zero.
    Counts(usize),
    /// Fewer than three subjects with two trials or more.
    TooFew,
    /// The counts differ no more between subjects than one chance for all lets them, or the search failed.
    NoSpread,
}

impl fmt::Display for RateFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RateFault::Counts(at) => write!(f, "subject {at} has more events than trials"),
            RateFault::TooFew => write!(f, "three subjects with two trials each are the least"),
            RateFault::NoSpread => write!(f, "the subjects do not differ by more than luck"),
        }
    }
}

impl std::error::Error for RateFault {}

impl Beta {
    /// The belief under which the counts of many subjects are most likely, and the logarithm of that likelihood.
    pub fn fit(subjects: &[Counts]) -> Result<(Beta, f64), RateFault> {
        if let Some(at) = subjects.iter().position(|c| c.trials < c.events) {
            return Err(RateFault::Counts(at));
        }
        if subjects.iter().filter(|c| 2 <= c.trials).count() < 3 {
            return Err(RateFault::TooFew);
        }
        let log_likelihood = |log_a: f64, log_b: f64| {
            let belief = Beta { a: log_a.exp(), b: log_b.exp() };
            subjects.iter().map(|counts| belief.log_exactly(*counts)).sum::<f64>()
        };
        let (events, trials): (u64, u64) =
            subjects.iter().fold((0, 0), |(events, trials), c| (events + c.events, trials + c.trials));
        let mean = (events as f64 + 0.5) / (trials as f64 + 1.0);
        let start = [(5.0 * mean).ln(), (5.0 * (1.0 - mean)).ln()];
        let found = maximum(log_likelihood, start).ok_or(RateFault::NoSpread)?;
        let [a, b] = found.at.map(f64::exp);
        // So sure that it is one chance for all.
        if !(a + b).is_finite() || 1e5 < a + b {
            return Err(RateFault::NoSpread);
        }
        Ok((Beta { a, b }, found.value))
    }

    /// After seeing some trials more.
    pub fn after(&self, seen: Counts) -> Beta {
        Beta { a: self.a + seen.events as f64, b: self.b + (seen.trials.saturating_sub(seen.events)) as f64 }
    }

    /// Its mean: the chance of the next one.
    pub fn mean(&self) -> f64 {
        self.a / (self.a + self.b)
    }

    /// How alike trials of one subject are: 1/(a + b + 1).
    pub fn correlation(&self) -> f64 {
        1.0 / (self.a + self.b + 1.0)
    }

    /// The chance below which the true one lies with probability `p`; NaN outside of 0 to 1 or for a belief that is none.
    ///
    /// The library's inverse, refined by Newton steps.
    pub fn quantile(&self, p: f64) -> f64 {
        use statrs::distribution::Continuous;
        let Ok(law) = Law::new(self.a, self.b) else { return f64::NAN };
        if !(0.0..=1.0).contains(&p) {
            return f64::NAN;
        }
        let mut x = law.inverse_cdf(p);
        for _ in 0..3 {
            let next = x - (law.cdf(x) - p) / law.pdf(x);
            if !(0.0 < next && next < 1.0) {
                break;
            }
            x = next;
        }
        x
    }

    /// Holds the true chance with a probability of `level`, half of the rest on each side.
    pub fn interval(&self, level: f64) -> [f64; 2] {
        [0.5 - 0.5 * level, 0.5 + 0.5 * level].map(|p| self.quantile(p))
    }

    fn log_exactly(&self, counts: Counts) -> f64 {
        let (r, n) = (counts.events as f64, counts.trials as f64);
        ln_binomial(counts.trials, counts.events) + ln_beta(self.a + r, self.b + n - r) - ln_beta(self.a, self.b)
    }

    /// P(exactly so many events of so many trials).
    pub fn exactly(&self, counts: Counts) -> f64 {
        if counts.trials < counts.events { 0.0 } else { self.log_exactly(counts).exp() }
    }

    /// P(so many events or more).
    pub fn at_least(&self, counts: Counts) -> f64 {
        let all = counts.events..=counts.trials;
        all.map(|events| self.exactly(Counts { events, ..counts })).sum::<f64>().min(1.0)
    }

    /// The same with half of the chance of exactly so many: even for what is usual.
    pub fn mid_p(&self, counts: Counts) -> f64 {
        (self.at_least(counts) - 0.5 * self.exactly(counts)).max(0.0)
    }

    /// P(the next so many all are events): Π (a + i)/(a + b + i).
    pub fn all_of_next(&self, trials: u32) -> f64 {
        (0..trials).map(f64::from).map(|i| (self.a + i) / (self.a + self.b + i)).product()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn all_counts_together_are_certain(a in 0.2..20.0f64, b in 0.2..20.0f64, trials in 0u64..40) {
            let belief = Beta { a, b };
            let sum: f64 = (0..=trials).map(|events| belief.exactly(Counts { events, trials })).sum();
            prop_assert!((sum - 1.0).abs() < 1e-10);
            let all = belief.exactly(Counts { events: trials, trials });
            prop_assert!((belief.all_of_next(trials as u32) - all).abs() < 1e-10);
            prop_assert_eq!(belief.exactly(Counts { events: trials + 1, trials }), 0.0);
        }
    }

    #[test]
    fn what_cannot_be_read_is_refused() {
        let counts = |events, trials| Counts { events, trials };
        assert_eq!(Beta::fit(&[counts(3, 2)]).err(), Some(RateFault::Counts(0)));
        assert_eq!(Beta::fit(&[counts(1, 2), counts(0, 5)]).err(), Some(RateFault::TooFew));
        assert_eq!(Beta::fit(&[counts(1, 10); 8]).err(), Some(RateFault::NoSpread));
        assert!(Beta { a: -1.0, b: 2.0 }.quantile(0.5).is_nan() && Beta { a: 1.0, b: 2.0 }.quantile(1.5).is_nan());
    }
}
