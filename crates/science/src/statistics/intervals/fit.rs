//! A law for intervals by maximum likelihood, running ones included.

use super::standard::{Bend, Standard};
use super::{Interval, Law};
use crate::statistics::maximum::maximum;
use statrs::function::gamma::gamma_ur;
use std::fmt;

/// Which law.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Family {
    /// [`Law::Lognormal`].
    Lognormal,
    /// [`Law::Weibull`].
    Weibull,
    /// [`Law::LogLogistic`].
    LogLogistic,
    /// [`Law::Gamma`].
    Gamma,
}

/// Why there is no law.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum IntervalFault {
    /// A time that is not above zero. Counted from zero.
    Time(usize),
    /// Fewer than two intervals that ended at different times.
    TooFew,
    /// The search found no maximum.
    DidNotConverge,
}

impl fmt::Display for IntervalFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            IntervalFault::Time(at) => write!(f, "interval {at} is not above zero"),
            IntervalFault::TooFew => write!(f, "two intervals that ended, and not alike, are the least"),
            IntervalFault::DidNotConverge => write!(f, "no law was found that fits the intervals best"),
        }
    }
}

impl std::error::Error for IntervalFault {}

/// A law read from intervals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LawFit {
    /// The law.
    pub law: Law,
    /// Standard errors of its two numbers in the order in which [`Law`] has them; `None` for gamma.
    pub deviations: Option<[f64; 2]>,
    /// Logarithm of the likelihood.
    pub log_likelihood: f64,
}

impl LawFit {
    /// 4 − 2 ln L; the lowest among laws of the same intervals fits best.
    pub fn aic(&self) -> f64 {
        4.0 - 2.0 * self.log_likelihood
    }
}

/// The law under which the intervals are most likely: Σ ln f of those that ended, Σ ln S of those that run.
///
/// Source: Lawless 2003, Statistical Models and Methods for Lifetime Data, 2.2 and 5.1 (from memory).
pub fn fit(family: Family, intervals: &[Interval]) -> Result<LawFit, IntervalFault> {
    if let Some(at) = intervals.iter().position(|i| !(i.time().is_finite() && 0.0 < i.time())) {
        return Err(IntervalFault::Time(at));
    }
    let logs: Vec<(f64, bool)> = intervals.iter().map(|i| (i.time().ln(), i.is_ended())).collect();
    let ended: Vec<f64> = logs.iter().filter(|(_, is_ended)| *is_ended).map(|(log, _)| *log).collect();
    let moments = crate::statistics::summary::moments(&ended).ok_or(IntervalFault::TooFew)?;
    if ended.len() < 2 || moments.deviation <= 0.0 {
        return Err(IntervalFault::TooFew);
    }
    let start = [moments.mean, moments.deviation.ln()];
    match family {
        Family::Lognormal => located(Standard::Normal, &logs, start),
        Family::Weibull => located(Standard::Gumbel, &logs, start),
        Family::LogLogistic => located(Standard::Logistic, &logs, start),
        Family::Gamma => gamma(intervals, start),
    }
}

/// Likelihood, gradient and curvature in (μ, ln s).
fn likelihood(standard: Standard, logs: &[(f64, bool)], [mean, log_scale]: [f64; 2]) -> (f64, [f64; 2], [f64; 3]) {
    let scale = log_scale.exp();
    let (mut value, mut slope, mut bend) = (0.0, [0.0; 2], [0.0; 3]);
    for (log, is_ended) in logs {
        let z = (log - mean) / scale;
        let Bend(of, first, second) = if *is_ended { standard.density(z) } else { standard.survival(z) };
        let one = if *is_ended { 1.0 } else { 0.0 };
        // The density of t is that of z over s t.
        value += of - one * (log_scale + log);
        slope = [slope[0] - first / scale, slope[1] - first * z - one];
        bend = [
            bend[0] + second / (scale * scale),
            bend[1] + (second * z + first) / scale,
            bend[2] + second * z * z + first * z,
        ];
    }
    (value, slope, bend)
}

fn located(standard: Standard, logs: &[(f64, bool)], start: [f64; 2]) -> Result<LawFit, IntervalFault> {
    const STEPS: usize = 100;
    let mut at = start;
    let mut last = likelihood(standard, logs, at);
    for _ in 0..STEPS {
        let (value, [gm, gs], [hmm, hms, hss]) = last;
        let determinant = hmm * hss - hms * hms;
        let is_concave = hmm < 0.0 && 0.0 < determinant;
        let (dm, ds) = if is_concave {
            (-(hss * gm - hms * gs) / determinant, -(hmm * gs - hms * gm) / determinant)
        } else {
            // Uphill, no further than a tenth in the logarithm of the scale.
            let length = gm.hypot(gs).max(f64::MIN_POSITIVE);
            (0.1 * gm / length, 0.1 * gs / length)
        };
        if !(dm.is_finite() && ds.is_finite()) {
            return Err(IntervalFault::DidNotConverge);
        }
        if is_concave && dm.abs() <= 1e-12 * at[1].exp() && ds.abs() <= 1e-12 {
            break;
        }
        let mut share = (1.0 / ds.abs()).min(1.0);
        let next = loop {
            let moved = [at[0] + share * dm, at[1] + share * ds];
            let next = likelihood(standard, logs, moved);
            if value - 1e-13 * value.abs() <= next.0 || share < 1e-12 {
                at = moved;
                break next;
            }
            share *= 0.5;
        };
        let is_over = is_concave && share == 1.0 && dm.abs() <= 1e-9 * at[1].exp() && ds.abs() <= 1e-9;
        last = next;
        if is_over {
            break;
        }
    }
    let (value, [gm, gs], [hmm, hms, hss]) = last;
    let determinant = hmm * hss - hms * hms;
    // Variances, and how far a Newton step would still go in standard errors: g C g.
    let [vm, vs, vms] = [-hss / determinant, -hmm / determinant, hms / determinant];
    let left = vm * gm * gm + 2.0 * vms * gm * gs + vs * gs * gs;
    if !(0.0 < determinant && hmm < 0.0 && left < 1e-12) {
        return Err(IntervalFault::DidNotConverge);
    }
    let [mean, log_scale] = at;
    let (sm, ss, scale) = (vm.sqrt(), vs.sqrt(), log_scale.exp());
    let (law, deviations) = match standard {
        Standard::Normal => (Law::Lognormal { mean, deviation: scale }, [sm, scale * ss]),
        Standard::Gumbel => (Law::Weibull { scale: mean.exp(), shape: 1.0 / scale }, [mean.exp() * sm, ss / scale]),
        Standard::Logistic => {
            (Law::LogLogistic { scale: mean.exp(), shape: 1.0 / scale }, [mean.exp() * sm, ss / scale])
        }
    };
    Ok(LawFit { law, deviations: Some(deviations), log_likelihood: value })
}

fn gamma(intervals: &[Interval], [mean, log_deviation]: [f64; 2]) -> Result<LawFit, IntervalFault> {
    let log_likelihood = |log_shape: f64, log_scale: f64| {
        let (shape, scale) = (log_shape.exp(), log_scale.exp());
        let of = |interval: &Interval| match *interval {
            Interval::Ended(t) => Law::log_density_of_gamma(shape, scale, t),
            Interval::Running(t) => gamma_ur(shape, t / scale).ln(),
        };
        intervals.iter().map(of).sum::<f64>()
    };
    // Of gamma the variance of logs is about 1/shape.
    let log_shape = (-2.0 * log_deviation).clamp(-2.0, 8.0);
    let found = maximum(log_likelihood, [log_shape, mean - log_shape]).ok_or(IntervalFault::DidNotConverge)?;
    let [shape, scale] = found.at.map(f64::exp);
    Ok(LawFit { law: Law::Gamma { shape, scale }, deviations: None, log_likelihood: found.value })
}
