//! Fitting two zones to a log.
//!
//! Parameters as logarithms (a share as a logit), temperatures at the start free; residual = simulated − logged;
//! Levenberg–Marquardt with central differences. Covariance s² (JᵀJ)⁻¹.

use super::problem::Problem;
use super::{Lag, Log, LogFault, Parameter, Share, TwoZone};
use crate::physics::roots::is_above_zero;
use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::DMatrix;
use std::fmt;

/// What is known beforehand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choices {
    /// Of the heater's share.
    pub share: Share,
    /// Of the sensors' lag.
    pub lag: Lag,
}

/// Why there is no fit.
#[derive(Clone, Debug, PartialEq)]
pub enum FitFault {
    /// The log cannot be used.
    Log(LogFault),
    /// The temperatures on average are not above the room, so no conductance follows.
    NotWarmer,
    /// A share outside of 0 to 1, or a lag not above zero.
    Choice,
    /// The search did not end at a minimum.
    NoMinimum(String),
    /// The log does not tell some parameters apart at all.
    Unidentifiable,
}

impl fmt::Display for FitFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FitFault::Log(fault) => fault.fmt(f),
            FitFault::NotWarmer => write!(f, "the enclosure on average was no warmer than the room"),
            FitFault::Choice => write!(f, "a share must lie between 0 and 1, a lag above zero"),
            FitFault::NoMinimum(why) => write!(f, "no best values were found: {why}"),
            FitFault::Unidentifiable => write!(f, "this log does not tell the parameters apart; some hours off would"),
        }
    }
}

impl std::error::Error for FitFault {}

/// Why a fit is not to be believed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doubt {
    /// Residuals of more than 0.5 K: two zones do not describe this box, or a sensor was moved.
    Rms(f64),
    /// Residuals that follow each other by more than 0.6: something slow is missing.
    Autocorrelation(f64),
}

/// What came of a fit.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The best values.
    pub model: TwoZone,
    /// Best temperatures at the start, warm and cool, °C.
    pub start_c: [f64; 2],
    /// What was fitted, in the order of the matrices.
    pub parameters: Vec<Parameter>,
    /// Standard deviations: relative for conductances, capacities and lag; of the logit for a share; K for temperatures.
    pub deviations: Vec<f64>,
    /// Correlations.
    pub correlations: DMatrix<f64>,
    /// Of the Jacobian: how much worse the least certain combination is known than the most certain.
    pub condition: f64,
    /// Standard deviation of the residuals, K.
    pub rms_k: f64,
    /// Correlation of residuals with the ones before them, warm and cool.
    pub autocorrelation: [f64; 2],
    /// Simulated − logged, warm and cool, K.
    pub residuals_k: Vec<[Option<f64>; 2]>,
}

/// Correlation from which on two parameters are said to move together.
const TOGETHER: f64 = 0.95;

impl Fit {
    /// Standard deviation of a parameter; `None` where it was not fitted.
    pub fn deviation(&self, parameter: Parameter) -> Option<f64> {
        let at = self.parameters.iter().position(|p| *p == parameter)?;
        self.deviations.get(at).copied()
    }

    /// Correlation of two fitted parameters.
    pub fn correlation(&self, first: Parameter, second: Parameter) -> Option<f64> {
        let place = |parameter| self.parameters.iter().position(|p| *p == parameter);
        self.correlations.get((place(first)?, place(second)?)).copied()
    }

    /// Pairs that the log hardly tells apart: |correlation| > 0.95, strongest first.
    pub fn moving_together(&self) -> Vec<(Parameter, Parameter, f64)> {
        let mut pairs = Vec::new();
        for (i, first) in self.parameters.iter().enumerate() {
            for (j, second) in self.parameters.iter().enumerate().skip(i + 1) {
                let correlation = self.correlations[(i, j)];
                if TOGETHER < correlation.abs() {
                    pairs.push((*first, *second, correlation));
                }
            }
        }
        pairs.sort_by(|a, b| b.2.abs().total_cmp(&a.2.abs()));
        pairs
    }

    /// Reasons not to believe it; none are good.
    pub fn doubts(&self) -> Vec<Doubt> {
        doubts(self.rms_k, self.autocorrelation)
    }
}

pub(super) fn doubts(rms_k: f64, autocorrelation: [f64; 2]) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    if rms_k.is_nan() || 0.5 < rms_k {
        doubts.push(Doubt::Rms(rms_k));
    }
    let worst = autocorrelation.into_iter().fold(0.0, f64::max);
    if 0.6 < worst {
        doubts.push(Doubt::Autocorrelation(worst));
    }
    doubts
}

/// Conductances that changed by more than a share (0.25 is a good one) from one fit to a later one, as ratios: an open
/// door, wet substrate, a moved sensor, a failing heater.
pub fn drift(before: &TwoZone, after: &TwoZone, share: f64) -> Vec<(Parameter, f64)> {
    let of = |z: &TwoZone| [z.warm_to_room_w_k, z.cool_to_room_w_k, z.warm_to_cool_w_k];
    let names = [Parameter::WarmToRoom, Parameter::CoolToRoom, Parameter::WarmToCool];
    let ratios = of(after).into_iter().zip(of(before)).map(|(a, b)| a / b);
    names.into_iter().zip(ratios).filter(|(_, ratio)| share < (ratio - 1.0).abs()).collect()
}

/// Fits two zones to a log.
pub fn fit(log: &Log, choices: &Choices) -> Result<Fit, FitFault> {
    let seeded = Problem::new(log, choices)?;
    let (problem, report) = LevenbergMarquardt::new().with_patience(60).minimize(seeded);
    if !report.termination.was_successful() {
        return Err(FitFault::NoMinimum(format!("{:?}", report.termination)));
    }
    evaluated(&problem)
}

/// What residuals and their derivatives leave open.
pub(super) struct Open {
    pub rms_k: f64,
    pub deviations: Vec<f64>,
    pub correlations: DMatrix<f64>,
    pub condition: f64,
}

/// Certainty of what was found: covariance s² (JᵀJ)⁻¹.
pub(super) fn open(jacobian: &DMatrix<f64>, residuals: &[f64]) -> Result<Open, FitFault> {
    let freedom = residuals.len().saturating_sub(jacobian.ncols()).max(1) as f64;
    let rms_k = (residuals.iter().map(|r| r * r).sum::<f64>() / freedom).sqrt();
    let information = jacobian.tr_mul(jacobian);
    let spread = information.clone().symmetric_eigen().eigenvalues;
    let (smallest, largest) = (spread.min(), spread.max());
    if !is_above_zero(smallest - largest * 1e-14) {
        return Err(FitFault::Unidentifiable);
    }
    let covariance = information.try_inverse().ok_or(FitFault::Unidentifiable)? * rms_k.powi(2);
    let deviations: Vec<f64> = covariance.diagonal().iter().map(|variance| variance.sqrt()).collect();
    let n = deviations.len();
    let correlations =
        DMatrix::from_fn(n, n, |i, j| covariance[(i, j)] / (covariance[(i, i)] * covariance[(j, j)]).sqrt());
    Ok(Open { rms_k, deviations, correlations, condition: (largest / smallest).sqrt() })
}

fn evaluated(problem: &Problem<'_>) -> Result<Fit, FitFault> {
    let jacobian = problem.jacobian().ok_or(FitFault::Unidentifiable)?;
    let Open { rms_k, deviations, correlations, condition } = open(&jacobian, &problem.residuals_at(&problem.values))?;
    let (model, start_c) = problem.model(&problem.values);
    let mut residuals_k = Vec::with_capacity(problem.log.records().len());
    model.simulate(problem.log, start_c, |record, [warm, cool]| {
        residuals_k.push([record.warm.map(|r| warm - r.degrees()), record.cool.map(|r| cool - r.degrees())]);
    });
    Ok(Fit {
        model,
        start_c,
        parameters: problem.parameters.clone(),
        deviations,
        correlations,
        condition,
        rms_k,
        autocorrelation: [0, 1].map(|side| autocorrelation(&residuals_k, side)),
        residuals_k,
    })
}

/// Correlation of the residuals of one side with the ones before them.
pub(super) fn autocorrelation(residuals: &[[Option<f64>; 2]], side: usize) -> f64 {
    let of = |pair: &[Option<f64>; 2]| pair.get(side).copied().flatten();
    let known: Vec<f64> = residuals.iter().filter_map(of).collect();
    let mean = known.iter().sum::<f64>() / known.len() as f64;
    let variance: f64 = known.iter().map(|r| (r - mean).powi(2)).sum();
    let lagged: f64 = residuals
        .windows(2)
        .filter_map(|pair| match pair {
            [before, after] => Some((of(before)? - mean) * (of(after)? - mean)),
            _ => None,
        })
        .sum();
    lagged / variance
}
