//! How well a log tells what follows from a fit.

use science::physics::calibration::{Fit, Parameter, TwoZone};

use crate::twin::matched::Goal;
use crate::what_if::Range;

/// The 90th percentile of a normal distribution, in standard deviations.
const TENTH_Z: f64 = 1.281_552;
/// What a thermometer that shows tenths leaves open, K: 0.1/√12. No log is better than that, however well it is met.
const TENTHS_K: f64 = 0.029;
/// Step of the logarithms of the parameters when slopes are taken.
const STEP: f64 = 1e-4;

/// What is fitted, and how to change it by a factor.
const FITTED: [(Parameter, fn(&mut TwoZone, f64)); 5] = [
    (Parameter::WarmToRoom, |zones, factor| zones.warm_to_room_w_k *= factor),
    (Parameter::CoolToRoom, |zones, factor| zones.cool_to_room_w_k *= factor),
    (Parameter::WarmToCool, |zones, factor| zones.warm_to_cool_w_k *= factor),
    (Parameter::WarmCapacity, |zones, factor| zones.warm_j_k *= factor),
    (Parameter::CoolCapacity, |zones, factor| zones.cool_j_k *= factor),
];

/// What answers rest on, as logarithms: rises of both sides for a watt, and the time of cooling.
fn logarithms(zones: &TwoZone) -> Option<[f64; 3]> {
    let goal = Goal::of_zones(zones).ok()?;
    Some([goal.warm_k_w.ln(), goal.cool_k_w.ln(), goal.time_s.ln()])
}

/// A number with a relative standard deviation, on both sides of it by the same factor.
pub(super) fn range(mid: f64, sd: f64) -> Range {
    let factor = (TENTH_Z * sd).exp();
    Range { low: mid / factor, mid, high: mid * factor }
}

/// Relative standard deviations of a fit and of what follows from it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Certainty {
    /// By how much deviations are wider than if every residual told something new.
    wider: f64,
    /// Of the rise of the warm side for a watt.
    pub warm: f64,
    /// Of the rise of the cool side.
    pub cool: f64,
    /// Of the time of cooling.
    pub time: f64,
    /// By this the deviations of the parameters are drawn together where each is to be drawn by itself.
    alone: f64,
}

impl Certainty {
    /// Of a fit. Residuals that follow each other hold less than as many that do not: deviations are wider by
    /// √((1 + r)/(1 − r)), r being their correlation with the ones before them.
    ///
    /// What follows from a fit is known better than its parameters where these move together: its variance is gᵀ C g
    /// with the whole covariance C and slopes g of logarithms.
    ///
    /// Source: effective number of samples of a first-order autoregression; Box, Jenkins and Reinsel, Time Series Analysis.
    pub fn of(found: &Fit) -> Option<Certainty> {
        let follows = found.autocorrelation.into_iter().fold(0.0, f64::max).min(0.99);
        let wider = ((1.0 + follows) / (1.0 - follows)).sqrt() * (TENTHS_K / found.rms_k).max(1.0);
        let mut slopes = [[0.0; 3]; 5];
        for ((_, change), slope) in FITTED.iter().zip(&mut slopes) {
            let at = |by: f64| {
                let mut zones = found.model;
                change(&mut zones, by.exp());
                logarithms(&zones)
            };
            let (above, below) = (at(STEP)?, at(-STEP)?);
            for ((one, above), below) in slope.iter_mut().zip(above).zip(below) {
                *one = (above - below) / (2.0 * STEP);
            }
        }
        let (mut together, mut alone) = ([0.0; 3], [0.0; 3]);
        for ((first, _), slope) in FITTED.iter().zip(&slopes) {
            for ((second, _), other) in FITTED.iter().zip(&slopes) {
                let correlation = found.correlation(*first, *second)?;
                let covariance = correlation * found.deviation(*first)? * found.deviation(*second)?;
                for (place, (one, two)) in slope.iter().zip(other).enumerate() {
                    let part = one * two * covariance;
                    if let Some(sum) = together.get_mut(place) {
                        *sum += part;
                    }
                    if let Some(sum) = alone.get_mut(place).filter(|_| first == second) {
                        *sum += part;
                    }
                }
            }
        }
        let ratio = together.iter().zip(alone).map(|(together, alone)| (together / alone).max(0.0).sqrt());
        let [warm, cool, time] = together.map(|variance: f64| wider * variance.max(0.0).sqrt());
        Some(Certainty { wider, warm, cool, time, alone: ratio.fold(0.0, f64::max).min(1.0) })
    }

    /// Of a parameter itself.
    pub fn of_parameter(&self, found: &Fit, parameter: Parameter) -> f64 {
        self.wider * found.deviation(parameter).unwrap_or(0.0)
    }

    /// Of a parameter that later is drawn by itself, in %: so that what follows is as uncertain as with all of them
    /// drawn together.
    pub fn kept_pct(&self, found: &Fit, parameter: Parameter) -> f64 {
        100.0 * self.alone * self.of_parameter(found, parameter)
    }
}
