//! Intervals by fitting again and again to residuals that are drawn anew: the check on the delta method.

use super::problem::Sizes;
use super::{Growth, GrowthFault, GrowthFit};
use crate::statistics::least_squares::{self, FitFault, Parameter, Settings};
use crate::statistics::summary::quantile;

/// Which residuals are drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draws {
    /// For each fit, one index of a residual for each size.
    pub residuals: Vec<Vec<usize>>,
    /// For each fit, the residual of one new size.
    pub new: Vec<usize>,
}

impl Draws {
    /// Draws for `fits` fits to `sizes` sizes; the same ones for the same seed.
    pub fn seeded(seed: u64, sizes: usize, fits: usize) -> Draws {
        let mut random = fastrand::Rng::with_seed(seed);
        let mut one = || if 0 < sizes { random.usize(..sizes) } else { 0 };
        let residuals = (0..fits).map(|_| (0..sizes).map(|_| one()).collect()).collect();
        Draws { residuals, new: (0..fits).map(|_| one()).collect() }
    }
}

/// What the fits to drawn residuals found.
#[derive(Clone, Debug, PartialEq)]
pub struct Bootstrap {
    /// The curves, and the residual of a new size with each.
    found: Vec<(Growth, f64)>,
    /// How many fits did not converge and are left out.
    pub failed: usize,
}

/// Residual bootstrap: residuals are centred, widened by √(n/(n − p)), drawn with replacement and put on the curve.
/// For plain fits alone, without priors or a robust loss.
///
/// Source: Efron and Tibshirani 1993, An Introduction to the Bootstrap, 9.4 (from memory).
pub fn bootstrap(fit: &GrowthFit, draws: &Draws) -> Result<Bootstrap, GrowthFault> {
    if !fit.is_plain {
        return Err(GrowthFault::Fit(FitFault::PriorNeedsNoise));
    }
    let n = fit.logs.len() as f64;
    let widened = (n / fit.fit.freedom as f64).sqrt();
    // Measured − model.
    let mean = -fit.fit.residuals.iter().sum::<f64>() / n;
    let residuals: Vec<f64> = fit.fit.residuals.iter().map(|r| (-r - mean) * widened).collect();
    let curve: Vec<f64> = fit.fit.residuals.iter().zip(&fit.logs).map(|(r, log)| log + r).collect();
    let parameters: Vec<Parameter> = fit.fit.parameters.iter().copied().map(Parameter::starting_at).collect();
    let settings = Settings::default();
    let mut result = Bootstrap { found: Vec::with_capacity(draws.residuals.len()), failed: 0 };
    let drawn = |at: &usize| residuals.get(*at).copied().unwrap_or(f64::NAN);
    for (indices, new) in draws.residuals.iter().zip(&draws.new) {
        let logs: Vec<f64> = curve.iter().zip(indices).map(|(log, at)| log + drawn(at)).collect();
        let rows = Sizes { curve: fit.growth.curve, ages: &fit.ages, logs: &logs, is_shifted: false };
        let again = least_squares::fit(&rows, &parameters, &settings).ok();
        match again.and_then(|again| Growth::from_logs(fit.growth.curve, &again.parameters)) {
            Some(growth) if logs.len() == fit.logs.len() => result.found.push((growth, drawn(new))),
            _ => result.failed += 1,
        }
    }
    Ok(result)
}

impl Bootstrap {
    /// The curves found.
    pub fn curves(&self) -> impl Iterator<Item = &Growth> {
        self.found.iter().map(|(growth, _)| growth)
    }

    /// Quantiles (0 to 1, type 7) of something over all curves; `None` where no fit converged.
    pub fn quantiles_of(&self, of: impl Fn(&Growth) -> f64, levels: &[f64]) -> Option<Vec<f64>> {
        let values: Vec<f64> = self.curves().map(of).collect();
        levels.iter().map(|level| quantile(&values, *level)).collect()
    }

    /// Quantiles of one new size at an age in years.
    pub fn quantiles_of_one(&self, age_years: f64, levels: &[f64]) -> Option<Vec<f64>> {
        let values: Vec<f64> = self.found.iter().map(|(growth, off)| growth.size_at(age_years) * off.exp()).collect();
        levels.iter().map(|level| quantile(&values, *level)).collect()
    }
}
