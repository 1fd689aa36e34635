//! Subjects with few intervals each, which borrow from the others.

use super::{Interval, IntervalFault, Law};
use crate::statistics::least_squares::Gaussian;
use crate::statistics::maximum::maximum;
use crate::statistics::summary::{median, moments};
use statrs::function::erf::erfc;

/// How the intervals of many subjects lie: ln of an interval of subject i is N(μᵢ, within²), and μᵢ is N(mean, between²).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pool {
    /// Mean of all.
    pub mean: f64,
    /// Standard deviation between subjects; zero where they do not differ.
    pub between: f64,
    /// Standard deviation within a subject.
    pub within: f64,
}

/// What is made most likely.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// The likelihood of what the mean does not explain: variances come out unbiased.
    Restricted,
    /// The likelihood of everything.
    Full,
}

/// One subject: number, mean of logs.
struct Subject {
    n: f64,
    mean: f64,
}

impl Pool {
    /// From the intervals of each subject, and the logarithm of the (restricted) likelihood. At least two subjects, one
    /// of them with two intervals; five with two each are a good collection.
    ///
    /// Source: Searle, Casella and McCulloch 1992, Variance Components, 3.8 and 6.6 (from memory).
    pub fn fit(subjects: &[Vec<f64>], method: Method) -> Result<(Pool, f64), IntervalFault> {
        let mut all = Vec::with_capacity(subjects.len());
        let (mut squares, mut count) = (0.0, 0usize);
        for (at, times) in subjects.iter().enumerate() {
            let logs: Vec<f64> = times.iter().map(|t| t.ln()).collect();
            if logs.iter().any(|log| !log.is_finite()) {
                return Err(IntervalFault::Time(at));
            }
            let Some(found) = moments(&logs) else { continue };
            squares += (found.count as f64 - 1.0) * found.deviation.powi(2);
            count += found.count;
            all.push(Subject { n: found.count as f64, mean: found.mean });
        }
        if all.len() < 2 || count <= all.len() || squares <= 0.0 {
            return Err(IntervalFault::TooFew);
        }
        let (total, subjects_n) = (count as f64, all.len() as f64);
        let centre = |between: f64, within: f64| {
            let weight = |s: &Subject| 1.0 / (between + within / s.n);
            let sum: f64 = all.iter().map(weight).sum();
            (all.iter().map(|s| weight(s) * s.mean).sum::<f64>() / sum, sum)
        };
        let log_likelihood = |between: f64, within: f64| {
            let (mean, sum) = centre(between, within);
            let of = |s: &Subject| {
                let variance = between + within / s.n;
                variance.ln() + s.n.ln() + (s.mean - mean).powi(2) / variance
            };
            let mut twice = (total - subjects_n) * within.ln() + squares / within;
            twice += all.iter().map(of).sum::<f64>() + total * std::f64::consts::TAU.ln();
            if method == Method::Restricted {
                twice += sum.ln() - std::f64::consts::TAU.ln();
            }
            -0.5 * twice
        };
        let within = squares / (total - subjects_n);
        let spread = moments(&all.iter().map(|s| s.mean).collect::<Vec<_>>()).map_or(0.0, |m| m.deviation.powi(2));
        let start = [spread.max(0.01 * within).ln(), within.ln()];
        let inner = maximum(|between, within| log_likelihood(between.exp(), within.exp()), start);
        // With no difference between subjects: the best spread within is in closed form.
        let all_in_one = {
            let (mean, _) = centre(0.0, 1.0);
            let apart: f64 = all.iter().map(|s| s.n * (s.mean - mean).powi(2)).sum();
            (squares + apart) / if method == Method::Restricted { total - 1.0 } else { total }
        };
        let flat = log_likelihood(0.0, all_in_one);
        let (between, within, value) = match inner {
            Some(found) if flat <= found.value => (found.at[0].exp(), found.at[1].exp(), found.value),
            _ => (0.0, all_in_one, flat),
        };
        if !value.is_finite() {
            return Err(IntervalFault::DidNotConverge);
        }
        Ok((Pool { mean: centre(between, within).0, between: between.sqrt(), within: within.sqrt() }, value))
    }

    /// What the intervals of one subject say of its μ: precision n/within² + 1/between². Give the last eight or so:
    /// rhythms change.
    pub fn subject(&self, times: &[f64]) -> Gaussian {
        let n = times.len() as f64;
        let sum: f64 = times.iter().map(|t| t.ln()).sum();
        let (within, between) = (self.within.powi(2), self.between.powi(2));
        // Multiplied by between², so that zero is no trouble.
        let precision = between * n / within + 1.0;
        let mean = (between * sum / within + self.mean) / precision;
        Gaussian { mean, deviation: (between / precision).sqrt() }
    }

    /// Which share of that comes from the others rather than from the subject: 1 with no interval of its own.
    pub fn shrinkage(&self, intervals: usize) -> f64 {
        1.0 / (1.0 + self.between.powi(2) * intervals as f64 / self.within.powi(2))
    }

    /// The law of the next interval of that subject.
    pub fn next(&self, subject: Gaussian) -> Law {
        Law::Lognormal { mean: subject.mean, deviation: subject.deviation.hypot(self.within) }
    }

    /// What of its μ is known when one more interval runs. Not for [`Law::after`], which has that already.
    ///
    /// By Simpson's rule over eight standard deviations on each side; `None` where nothing is left of the likelihood.
    pub fn subject_still_running(&self, times: &[f64], running: f64) -> Option<Gaussian> {
        const STEPS: usize = 4000;
        let before = self.subject(times);
        let log = running.ln();
        let width = 16.0 * before.deviation / STEPS as f64;
        let (mut sums, mut first) = ([0.0; 3], None);
        for k in 0..=STEPS {
            let z = -8.0 + 16.0 * k as f64 / STEPS as f64;
            let mean = before.mean + z * before.deviation;
            let simpson = if k == 0 || k == STEPS { 1.0 } else { 2.0 * (1 + k % 2) as f64 };
            let left = 0.5 * erfc((log - mean) / self.within / std::f64::consts::SQRT_2);
            let density = simpson * (-0.5 * z * z).exp() * left;
            let [a, b, c] = sums;
            sums = [a + density, b + density * z, c + density * z * z];
            first = first.or((0.0 < density).then_some(z));
        }
        let [whole, one, two] = sums;
        let mean = one / whole;
        let variance = two / whole - mean * mean;
        let is_known = first.is_some() && width.is_finite() && 0.0 <= variance;
        is_known.then(|| Gaussian {
            mean: before.mean + mean * before.deviation,
            deviation: before.deviation * variance.sqrt(),
        })
    }
}

/// Does an interval look as if an event in its middle was not written down: within 0.15 of ln(2 × median of the others)?
/// Ask then, rather than fit it away.
pub fn looks_doubled(interval: f64, others: &[Interval]) -> bool {
    const NEAR: f64 = 0.15;
    let ended: Vec<f64> = others.iter().filter(|i| i.is_ended()).map(|i| i.time()).collect();
    median(&ended).is_some_and(|usual| (interval / (2.0 * usual)).ln().abs() <= NEAR)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn subjects_that_do_not_differ_have_nothing_between_them() {
        let subjects = vec![vec![30.0, 40.0, 35.0], vec![40.0, 30.0, 35.0], vec![35.0, 30.0, 40.0]];
        let (pool, _) = Pool::fit(&subjects, Method::Restricted).unwrap();
        assert_eq!(pool.between, 0.0);
        let logs: Vec<f64> = subjects.concat().iter().map(|t| t.ln()).collect();
        let all = moments(&logs).unwrap();
        assert!((pool.within - all.deviation).abs() < 1e-12 && (pool.mean - all.mean).abs() < 1e-12);
        assert_eq!(pool.subject(&[50.0]), Gaussian { mean: pool.mean, deviation: 0.0 });
        assert_eq!(pool.shrinkage(5), 1.0);
    }

    #[test]
    fn without_intervals_a_subject_is_like_the_others() {
        let pool = Pool { mean: 3.6, between: 0.25, within: 0.18 };
        let none = pool.subject(&[]);
        assert!((none.mean - 3.6).abs() < 1e-12 && (none.deviation - 0.25).abs() < 1e-12 && pool.shrinkage(0) == 1.0);
        // A running interval that has hardly begun says nothing.
        let begun = pool.subject_still_running(&[], 1.0).unwrap();
        assert!((begun.mean - 3.6).abs() < 1e-6 && (begun.deviation - 0.25).abs() < 1e-6);
    }

    #[test]
    fn too_little_is_refused() {
        let fault = |subjects: &[Vec<f64>]| Pool::fit(subjects, Method::Full).err();
        assert_eq!(fault(&[vec![30.0, 31.0]]), Some(IntervalFault::TooFew));
        assert_eq!(fault(&[vec![30.0], vec![31.0]]), Some(IntervalFault::TooFew));
        assert_eq!(fault(&[vec![30.0, 0.0], vec![31.0]]), Some(IntervalFault::Time(0)));
    }

    #[test]
    fn a_doubled_interval_is_noticed() {
        let others: Vec<Interval> = [30.0, 36.0, 40.0].into_iter().map(Interval::Ended).collect();
        for (time, is_doubled) in
            [(72.0, true), (80.0, true), (62.0, true), (61.0, false), (84.0, false), (36.0, false)]
        {
            assert_eq!(looks_doubled(time, &others), is_doubled, "{time}");
        }
        assert!(!looks_doubled(70.0, &[Interval::Running(35.0)]));
    }
}
