//! How many intervals last longer than a time, with no law assumed.

use super::{Interval, IntervalFault};
use crate::statistics::normal;

/// One step down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// When.
    pub time: f64,
    /// S from here on.
    pub survival: f64,
    /// Σ d/(n(n − d)) up to here: Greenwood's sum, infinite once nothing is left.
    pub greenwood: f64,
}

/// The estimate of Kaplan and Meier.
#[derive(Clone, Debug, PartialEq)]
pub struct KaplanMeier {
    /// Where it steps down, in order.
    pub steps: Vec<Step>,
    longest: f64,
}

impl KaplanMeier {
    /// S(t) = Π (1 − d/n) over the times up to t, n intervals still seen there and d ending there.
    ///
    /// Source: Kaplan and Meier 1958, Journal of the American Statistical Association 53, 457 (from memory).
    pub fn of(intervals: &[Interval]) -> Result<KaplanMeier, IntervalFault> {
        if let Some(at) = intervals.iter().position(|i| !(i.time().is_finite() && 0.0 <= i.time())) {
            return Err(IntervalFault::Time(at));
        }
        let mut sorted = intervals.to_vec();
        sorted.sort_by(|a, b| a.time().total_cmp(&b.time()));
        let longest = sorted.last().ok_or(IntervalFault::TooFew)?.time();
        let (mut survival, mut greenwood, mut left) = (1.0, 0.0, sorted.len());
        let mut steps = Vec::new();
        for together in sorted.chunk_by(|a, b| a.time() == b.time()) {
            let ended = together.iter().filter(|i| i.is_ended()).count();
            if let (Some(first), true) = (together.first(), 0 < ended) {
                let (n, d) = (left as f64, ended as f64);
                survival *= 1.0 - d / n;
                greenwood += d / (n * (n - d));
                steps.push(Step { time: first.time(), survival, greenwood });
            }
            left -= together.len();
        }
        Ok(KaplanMeier { steps, longest })
    }

    fn at(&self, time: f64) -> Option<&Step> {
        self.steps.iter().take_while(|step| step.time <= time).last()
    }

    /// S(t).
    pub fn survival(&self, time: f64) -> f64 {
        self.at(time).map_or(1.0, |step| step.survival)
    }

    /// An interval for S(t) by ln(−ln S), which stays within 0 to 1. `level` is 0.95, say.
    ///
    /// Source: Kalbfleisch and Prentice 2002, The Statistical Analysis of Failure Time Data, 1.4 (from memory).
    pub fn interval(&self, time: f64, level: f64) -> [f64; 2] {
        let z = normal::quantile(0.5 + 0.5 * level);
        let Some(step) = self.at(time) else { return [1.0, 1.0] };
        if step.survival <= 0.0 {
            return [0.0, 0.0];
        }
        let half = z * step.greenwood.sqrt() / step.survival.ln().abs();
        [half, -half].map(|off| step.survival.powf(off.exp()))
    }

    /// The same by S ± z S √greenwood, cut off at 0 and 1: the plain one of Greenwood.
    pub fn plain_interval(&self, time: f64, level: f64) -> [f64; 2] {
        let z = normal::quantile(0.5 + 0.5 * level);
        let Some(step) = self.at(time) else { return [1.0, 1.0] };
        if step.survival <= 0.0 {
            return [0.0, 0.0];
        }
        let half = z * step.survival * step.greenwood.sqrt();
        [-half, half].map(|off| (step.survival + off).clamp(0.0, 1.0))
    }

    /// The first time at which S ≤ ½; `None` where it stays above.
    pub fn median(&self) -> Option<f64> {
        self.steps.iter().find(|step| step.survival <= 0.5).map(|step| step.time)
    }

    /// ∫₀ᵗ S: the mean of times cut off at t. `None` beyond the longest interval, where S is not known.
    pub fn mean_up_to(&self, time: f64) -> Option<f64> {
        if !(0.0..=self.longest).contains(&time) {
            return None;
        }
        let (mut sum, mut from, mut survival) = (0.0, 0.0, 1.0);
        for step in self.steps.iter().take_while(|step| step.time < time) {
            sum += survival * (step.time - from);
            (from, survival) = (step.time, step.survival);
        }
        Some(sum + survival * (time - from))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn without_running_intervals_it_is_the_share_that_lasts_longer(times in proptest::collection::vec(1u8..40, 1..50)) {
            let intervals: Vec<Interval> = times.iter().map(|t| Interval::Ended(f64::from(*t))).collect();
            let estimate = KaplanMeier::of(&intervals).unwrap();
            for t in 0..45u8 {
                let share = times.iter().filter(|time| t < **time).count() as f64 / times.len() as f64;
                prop_assert!((estimate.survival(f64::from(t)) - share).abs() < 1e-12);
                let [low, high] = estimate.interval(f64::from(t), 0.9);
                prop_assert!(0.0 <= low && low <= share + 1e-12 && share <= high + 1e-12 && high <= 1.0);
            }
            let mean = times.iter().map(|t| f64::from(*t)).sum::<f64>() / times.len() as f64;
            let longest = f64::from(*times.iter().max().unwrap());
            prop_assert!((estimate.mean_up_to(longest).unwrap() - mean).abs() < 1e-9);
        }
    }

    #[test]
    fn what_is_not_known_is_not_said() {
        let running = KaplanMeier::of(&[Interval::Running(3.0), Interval::Ended(2.0), Interval::Running(9.0)]).unwrap();
        assert!(running.median().is_none() && running.mean_up_to(10.0).is_none());
        assert_eq!(KaplanMeier::of(&[]), Err(IntervalFault::TooFew));
        assert_eq!(KaplanMeier::of(&[Interval::Ended(-1.0)]), Err(IntervalFault::Time(0)));
    }
}
