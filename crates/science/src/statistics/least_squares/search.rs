//! The search from one start.

use super::problem::Problem;
use super::verdict::Linear;
use super::{Fit, FitFault, Parameter, Rows, Settings};
use levenberg_marquardt::LevenbergMarquardt;
use nalgebra::DMatrix;

/// How far the first step may go, in lengths of the start: MINPACK's own choice, then shorter ones for starts from which
/// that leaps into a flat land.
const REACHES: [f64; 3] = [100.0, 1.0, 0.1];

/// The search itself ends when it gains less than this share; the last digits come from a step or two thereafter.
const ENDS: f64 = 1e-12;

/// A step shorter than this share of every standard error ends the search as a minimum.
const AT_REST: f64 = 1e-5;

/// Looks for a minimum from one start; the first that is one is it.
pub(super) fn search<R: Rows>(
    rows: &R,
    parameters: &[Parameter],
    start: &[f64],
    settings: &Settings,
) -> Result<Fit, FitFault> {
    let mut evaluations = 0;
    let mut fault = FitFault::NotANumber;
    for reach in REACHES {
        let problem = Problem::new(rows, parameters, start, settings);
        if !problem.is_a_number {
            return Err(FitFault::NotANumber);
        }
        let method =
            LevenbergMarquardt::new().with_tol(ENDS).with_patience(settings.patience.max(1)).with_stepbound(reach);
        let (problem, _) = method.minimize(problem);
        evaluations += problem.evaluations;
        let (values, sizes) = (problem.best().to_vec(), problem.sizes);
        match settled(rows, parameters, values, &sizes, settings, &mut evaluations) {
            Ok(fit) => return Ok(fit),
            Err(why) => fault = why,
        }
    }
    Err(fault)
}

/// A few steps of the linear problem from where the search ended, as long as they help; then the verdict.
fn settled<R: Rows>(
    rows: &R,
    parameters: &[Parameter],
    mut values: Vec<f64>,
    sizes: &[f64],
    settings: &Settings,
    evaluations: &mut usize,
) -> Result<Fit, FitFault> {
    const STEPS: usize = 50;
    const ENOUGH: f64 = 1e-9;
    for (value, (parameter, size)) in values.iter_mut().zip(parameters.iter().zip(sizes)) {
        if let Some((end, _)) = parameter.range.end_at(*value, *size) {
            *value = end;
        }
    }
    let around = |values: &[f64]| Linear::around(rows, parameters, values, sizes, settings);
    let mut linear = around(&values)?;
    *evaluations += 1;
    let mut offset = linear.offset(&values, sizes, settings.noise);
    for _ in 0..STEPS {
        if linear.is_broken || linear.is_stuck || offset.is_nan() || offset <= ENOUGH {
            break;
        }
        let mut moved = values.clone();
        for (j, step) in linear.free.iter().zip(linear.step.iter()) {
            if let Some(value) = moved.get_mut(*j) {
                *value += step;
            }
        }
        if !moved.iter().zip(parameters).all(|(value, parameter)| parameter.range.has(*value)) {
            break;
        }
        *evaluations += 1;
        let Ok(next) = around(&moved) else { break };
        let next_offset = next.offset(&moved, sizes, settings.noise);
        // The objective may only rise by its last digits, and the steps must become shorter.
        let is_better = next.objective <= linear.objective * (1.0 + 1e-12) && next_offset < 0.9 * offset;
        if next.is_broken || !is_better {
            break;
        }
        (values, linear, offset) = (moved, next, next_offset);
    }
    let is_minimum = !linear.is_broken && !linear.is_stuck && offset <= AT_REST;
    if !is_minimum {
        return Err(FitFault::DidNotConverge { evaluations: *evaluations, offset });
    }
    Ok(fit_of(linear, values, settings, *evaluations))
}

fn fit_of(linear: Linear, parameters: Vec<f64>, settings: &Settings, evaluations: usize) -> Fit {
    let width = parameters.len();
    let scale = linear.unit(settings.noise).powi(2);
    let mut covariance = DMatrix::zeros(width, width);
    for (row, i) in linear.free.iter().enumerate() {
        for (column, j) in linear.free.iter().enumerate() {
            covariance[(*i, *j)] = scale * linear.inverse[(row, column)];
        }
    }
    let at_bound = (0..width).filter(|j| !linear.free.contains(j)).collect();
    Fit {
        parameters,
        covariance,
        noise: settings.noise,
        residual_deviation: linear.spread,
        objective: linear.objective,
        freedom: linear.freedom,
        evaluations,
        at_bound,
        residuals: linear.residuals,
        weights: linear.weights,
    }
}
