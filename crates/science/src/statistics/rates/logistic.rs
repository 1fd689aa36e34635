//! A chance that depends on what else was so: logistic regression with Gaussian priors.

use crate::statistics::least_squares::Gaussian;
use nalgebra::{DMatrix, DVector};
use std::fmt;

/// One trial: its covariates, and whether the event came.
#[derive(Clone, Debug, PartialEq)]
pub struct Observation {
    /// The first usually is 1.
    pub covariates: Vec<f64>,
    /// Did it come?
    pub is_event: bool,
}

/// Why there is no regression.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LogisticFault {
    /// Covariates that are not numbers, or not as many as priors. Counted from zero.
    Covariates(usize),
    /// A prior whose deviation is not above zero.
    Prior(usize),
    /// Events are separated by the covariates, or those depend on each other: a prior mends it.
    DidNotConverge,
}

impl fmt::Display for LogisticFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LogisticFault::Covariates(at) => write!(f, "trial {at} has no number for each covariate"),
            LogisticFault::Prior(at) => write!(f, "the prior of covariate {at} has no width"),
            LogisticFault::DidNotConverge => write!(f, "the covariates tell the events apart too well or not at all"),
        }
    }
}

impl std::error::Error for LogisticFault {}

/// ln(p/(1 − p)) = x·β.
#[derive(Clone, Debug, PartialEq)]
pub struct Logistic {
    /// β.
    pub coefficients: Vec<f64>,
    /// Inverse of Xᵀ diag(p(1 − p)) X + diag(1/s²).
    pub covariance: DMatrix<f64>,
    /// Of the observations alone.
    pub log_likelihood: f64,
}

impl Logistic {
    /// The coefficients of highest posterior density; a prior for each, of infinite deviation where nothing is known.
    /// Newton steps, halved where they would lead down.
    pub fn fit(observations: &[Observation], priors: &[Gaussian]) -> Result<Logistic, LogisticFault> {
        const STEPS: usize = 100;
        let width = priors.len();
        let is_right = |o: &Observation| o.covariates.len() == width && o.covariates.iter().all(|x| x.is_finite());
        if let Some(at) = observations.iter().position(|o| !is_right(o)) {
            return Err(LogisticFault::Covariates(at));
        }
        if let Some(at) = priors.iter().position(|p| p.deviation.is_nan() || p.deviation <= 0.0 || !p.mean.is_finite())
        {
            return Err(LogisticFault::Prior(at));
        }
        let rows = observations.iter().flat_map(|o| o.covariates.iter().copied());
        let x = DMatrix::from_row_iterator(observations.len(), width, rows);
        let y =
            DVector::from_iterator(observations.len(), observations.iter().map(|o| f64::from(u8::from(o.is_event))));
        let mean = DVector::from_iterator(width, priors.iter().map(|p| p.mean));
        let precision = DVector::from_iterator(width, priors.iter().map(|p| p.deviation.powi(-2)));
        let likelihood = |eta: &DVector<f64>| {
            eta.iter().zip(y.iter()).map(|(eta, y)| y * eta - eta.max(0.0) - (-eta.abs()).exp().ln_1p()).sum::<f64>()
        };
        let objective = |beta: &DVector<f64>| {
            let off = beta - &mean;
            likelihood(&(&x * beta)) - 0.5 * off.component_mul(&off).dot(&precision)
        };
        let mut beta = mean.clone();
        let mut value = objective(&beta);
        for _ in 0..STEPS {
            let p = (&x * &beta).map(|eta| 1.0 / (1.0 + (-eta).exp()));
            let gradient = x.tr_mul(&(&y - &p)) - precision.component_mul(&(&beta - &mean));
            let mut weighted = x.clone();
            for (mut row, p) in weighted.row_iter_mut().zip(p.iter()) {
                row *= p * (1.0 - p);
            }
            let mut information = x.tr_mul(&weighted);
            for (j, precision) in precision.iter().enumerate() {
                information[(j, j)] += precision;
            }
            let cholesky = information.cholesky().ok_or(LogisticFault::DidNotConverge)?;
            let step = cholesky.solve(&gradient);
            let covariance = cholesky.inverse();
            // A coefficient beyond 100 standard errors' worth of scale is on its way to infinity.
            let is_lost = step.iter().any(|s| !s.is_finite()) || covariance.diagonal().iter().any(|v| 1e8 < *v);
            if is_lost {
                return Err(LogisticFault::DidNotConverge);
            }
            if step.amax() < 1e-10 {
                let log_likelihood = likelihood(&(&x * &beta));
                return Ok(Logistic { coefficients: beta.iter().copied().collect(), covariance, log_likelihood });
            }
            let mut share = 1.0;
            loop {
                let next = &beta + share * &step;
                let there = objective(&next);
                if value - 1e-12 * value.abs() <= there || share < 1e-6 {
                    (beta, value) = (next, there);
                    break;
                }
                share *= 0.5;
            }
        }
        Err(LogisticFault::DidNotConverge)
    }

    /// Standard errors.
    pub fn deviations(&self) -> Vec<f64> {
        self.covariance.diagonal().iter().map(|v| v.sqrt()).collect()
    }

    /// The chance with these covariates, and an interval that holds it with a probability of `level`.
    pub fn chance(&self, covariates: &[f64], level: f64) -> (f64, [f64; 2]) {
        let x = DVector::from_column_slice(covariates);
        if x.len() != self.coefficients.len() {
            return (f64::NAN, [f64::NAN; 2]);
        }
        let eta = x.dot(&DVector::from_column_slice(&self.coefficients));
        let half = crate::statistics::normal::quantile(0.5 + 0.5 * level) * (&self.covariance * &x).dot(&x).sqrt();
        let chance = |eta: f64| 1.0 / (1.0 + (-eta).exp());
        (chance(eta), [chance(eta - half), chance(eta + half)])
    }
}

/// cos and sin of the year and of the half year on a day of the year (1 January is 0, a year has 365.25). Shift the day by
/// 182.6 south of the equator.
pub fn harmonics(day_of_year: f64) -> [f64; 4] {
    let angle = std::f64::consts::TAU * day_of_year / 365.25;
    [angle.cos(), angle.sin(), (2.0 * angle).cos(), (2.0 * angle).sin()]
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOTHING: Gaussian = Gaussian { mean: 0.0, deviation: f64::INFINITY };

    fn seen(rows: &[(f64, bool)]) -> Vec<Observation> {
        rows.iter().map(|(x, is_event)| Observation { covariates: vec![1.0, *x], is_event: *is_event }).collect()
    }

    #[test]
    fn one_coefficient_is_the_log_odds() {
        let observations: Vec<Observation> =
            (0..10).map(|k| Observation { covariates: vec![1.0], is_event: k < 3 }).collect();
        let found = Logistic::fit(&observations, &[NOTHING]).unwrap();
        assert!((found.coefficients[0] - (0.3f64 / 0.7).ln()).abs() < 1e-10);
        assert!((found.deviations()[0] - (10.0f64 * 0.21).powf(-0.5)).abs() < 1e-10);
    }

    #[test]
    fn separated_events_want_a_prior() {
        let apart = seen(&[(-2.0, false), (-1.0, false), (1.0, true), (2.0, true)]);
        assert_eq!(Logistic::fit(&apart, &[NOTHING; 2]).err(), Some(LogisticFault::DidNotConverge));
        let prior = Gaussian { mean: 0.0, deviation: 1.0 };
        let found = Logistic::fit(&apart, &[NOTHING, prior]).unwrap();
        assert!(0.5 < found.coefficients[1] && found.coefficients[1] < 3.0);
        assert!(found.chance(&[1.0], 0.9).0.is_nan());
    }

    #[test]
    fn what_is_no_observation_is_refused() {
        let bad = [Observation { covariates: vec![1.0], is_event: true }];
        assert_eq!(Logistic::fit(&bad, &[NOTHING; 2]).err(), Some(LogisticFault::Covariates(0)));
        let flat = Gaussian { mean: 0.0, deviation: 0.0 };
        assert_eq!(Logistic::fit(&seen(&[(1.0, true)]), &[NOTHING, flat]).err(), Some(LogisticFault::Prior(1)));
    }
}
