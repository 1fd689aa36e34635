//! A fit.

use super::search::search;
use super::{FitFault, Loss, Parameter, Rows};
use crate::statistics::{normal, student};
use nalgebra::DMatrix;

/// Standard deviation of the residuals.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Noise {
    /// Known, in the unit of the residuals.
    Known(f64),
    /// To be read from the residuals themselves.
    #[default]
    Estimated,
}

impl Noise {
    pub(super) fn or_one(self) -> f64 {
        match self {
            Noise::Known(deviation) => deviation,
            Noise::Estimated => 1.0,
        }
    }
}

/// How to fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settings {
    /// Of the rows; priors always count by their squares.
    pub loss: Loss,
    /// Of the rows.
    pub noise: Noise,
    /// Evaluations per parameter before the search gives up.
    pub patience: usize,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings { loss: Loss::Squares, noise: Noise::Estimated, patience: 200 }
    }
}

/// What came of a fit.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The best values.
    pub parameters: Vec<f64>,
    /// Their covariance: (JᵀWJ/σ² + priors)⁻¹ with known noise, s²(JᵀWJ)⁻¹ without, W the weights. Zero for a
    /// parameter at its bound.
    pub covariance: DMatrix<f64>,
    /// Was the noise known?
    pub noise: Noise,
    /// √(Σ w r² / freedom), in the unit of the residuals. With weights other than one it is too small.
    pub residual_deviation: f64,
    /// The objective of [the module](super); with estimated noise in squares of the unit of the residuals.
    pub objective: f64,
    /// Rows less parameters that are not at a bound.
    pub freedom: usize,
    /// How often all rows were evaluated.
    pub evaluations: usize,
    /// Which parameters ended at a bound, counted from zero.
    pub at_bound: Vec<usize>,
    /// Model − measured.
    pub residuals: Vec<f64>,
    /// What the loss let each row count, 0 to 1.
    pub weights: Vec<f64>,
}

impl Fit {
    /// Standard errors of the parameters.
    pub fn deviations(&self) -> Vec<f64> {
        self.covariance.diagonal().iter().map(|variance| variance.sqrt()).collect()
    }

    /// Variance of something with these derivatives in the parameters: gᵀCg, the delta method.
    pub fn variance_of(&self, slopes: &[f64]) -> f64 {
        let product = |(row, slope): (usize, &f64)| {
            slope * self.covariance.row(row).iter().zip(slopes).map(|(c, s)| c * s).sum::<f64>()
        };
        slopes.iter().enumerate().take(self.covariance.nrows()).map(product).sum()
    }

    /// Σ r², without weights.
    pub fn sum_of_squares(&self) -> f64 {
        self.residuals.iter().map(|r| r * r).sum()
    }

    /// Noise of one row: as it was given, or as it was found.
    pub fn deviation_of_a_row(&self) -> f64 {
        match self.noise {
            Noise::Known(deviation) => deviation,
            Noise::Estimated => self.residual_deviation,
        }
    }

    /// How many standard errors on each side hold a share of `level`; see [`reach`].
    pub fn reach(&self, level: f64) -> f64 {
        reach(level, self.noise, self.freedom)
    }
}

/// How many standard errors on each side hold a share of `level` (0.95, say): from the normal distribution where the
/// noise was known, else from Student's.
pub fn reach(level: f64, noise: Noise, freedom: usize) -> f64 {
    let upper = 0.5 + 0.5 * level;
    match noise {
        Noise::Known(_) => normal::quantile(upper),
        Noise::Estimated => student::quantile(upper, freedom as f64),
    }
}

/// The best parameters for some rows, searched from their starts.
pub fn fit<R: Rows>(rows: &R, parameters: &[Parameter], settings: &Settings) -> Result<Fit, FitFault> {
    let start: Vec<f64> = parameters.iter().map(|p| p.start).collect();
    check(rows, parameters, settings)?;
    search(rows, parameters, &start, settings)
}

/// The same from further starts as well; the lowest objective is taken. A start that leads nowhere does no harm as long
/// as another leads somewhere.
pub fn fit_from<R: Rows>(
    rows: &R,
    parameters: &[Parameter],
    more_starts: &[Vec<f64>],
    settings: &Settings,
) -> Result<Fit, FitFault> {
    let mut best = fit(rows, parameters, settings);
    if matches!(best, Err(FitFault::TooFewRows { .. } | FitFault::Settings | FitFault::PriorNeedsNoise)) {
        return best;
    }
    for start in more_starts {
        let from: Vec<Parameter> =
            parameters.iter().zip(start).map(|(p, start)| Parameter { start: *start, ..*p }).collect();
        if from.len() < parameters.len() {
            continue;
        }
        let next = fit(rows, &from, settings);
        best = match (best, next) {
            (Ok(first), Ok(second)) => Ok(if second.objective < first.objective { second } else { first }),
            (Ok(first), Err(_)) => Ok(first),
            (Err(_), Ok(second)) => Ok(second),
            (Err(first), Err(_)) => Err(first),
        };
    }
    best
}

fn check<R: Rows>(rows: &R, parameters: &[Parameter], settings: &Settings) -> Result<(), FitFault> {
    let is_above_zero = |x: f64| x.is_finite() && 0.0 < x;
    let known = parameters.iter().filter_map(|p| p.prior);
    let count = rows.count();
    let (have, needed) = match settings.noise {
        Noise::Known(_) => (count + known.clone().count(), parameters.len()),
        Noise::Estimated => (count, parameters.len() + 1),
    };
    let are_settings_right = settings.loss.bend().is_none_or(is_above_zero)
        && is_above_zero(settings.noise.or_one())
        && known.clone().all(|prior| prior.mean.is_finite() && is_above_zero(prior.deviation));
    if !are_settings_right {
        return Err(FitFault::Settings);
    }
    if settings.noise == Noise::Estimated && known.count() != 0 {
        return Err(FitFault::PriorNeedsNoise);
    }
    if parameters.is_empty() || have < needed {
        return Err(FitFault::TooFewRows { rows: have, needed });
    }
    match parameters.iter().position(|p| !p.range.has(p.start)) {
        Some(at) => Err(FitFault::Start(at)),
        None => Ok(()),
    }
}
