//! The least-squares problem of a log: seeds, residuals, derivatives.

use super::{Choices, FitFault, Lag, Log, LogFault, Parameter, Share, TwoZone};
use crate::physics::roots::is_above_zero;
use levenberg_marquardt::LeastSquaresProblem;
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};
use units::Seconds;

/// A log, what is known beforehand, and the values tried last.
pub(super) struct Problem<'a> {
    pub(super) log: &'a Log,
    choices: Choices,
    pub(super) parameters: Vec<Parameter>,
    pub(super) values: DVector<f64>,
}

/// What a residual of a prior is measured against, K: the noise of a usual sensor.
const NOISE_K: f64 = 0.1;
/// Spread of the prior of a lag: a factor of 2.
const LAG_SPREAD: f64 = std::f64::consts::LN_2;

impl<'a> Problem<'a> {
    pub(super) fn new(log: &'a Log, choices: &Choices) -> Result<Problem<'a>, FitFault> {
        let mut parameters = vec![
            Parameter::WarmToRoom,
            Parameter::CoolToRoom,
            Parameter::WarmToCool,
            Parameter::WarmCapacity,
            Parameter::CoolCapacity,
        ];
        // Seeds: the mean power over the mean rise is the whole conductance; two hours are a usual time constant.
        let mut sums = [0.0f64; 3];
        let mut starts = [None, None];
        for record in log.records() {
            if let (Some(warm), Some(cool)) = (record.warm, record.cool) {
                let mean = 0.5 * (warm.degrees() + cool.degrees());
                sums = [sums[0] + record.heater.watts(), sums[1] + mean - record.room.degrees(), sums[2] + 1.0];
                starts = [starts[0].or(Some(warm)), starts[1].or(Some(cool))];
            }
        }
        let [power, rise, _] = sums;
        let [Some(warm), Some(cool)] = starts else { return Err(FitFault::Log(LogFault::Short(0))) };
        if !(0.0 < rise && 0.0 < power) {
            return Err(FitFault::NotWarmer);
        }
        let half = 0.5 * power / rise;
        let capacity = 7200.0 * half;
        let mut values = vec![half.ln(), half.ln(), (0.7 * half).ln(), capacity.ln(), capacity.ln()];
        match choices.share {
            Share::Known(share) if !(0.0..=1.0).contains(&share) => return Err(FitFault::Choice),
            Share::Known(_) => {}
            Share::Free => {
                parameters.push(Parameter::HeaterShare);
                values.push(0.8);
            }
        }
        if let Lag::Around(lag) = choices.lag {
            if !is_above_zero(lag.seconds()) {
                return Err(FitFault::Choice);
            }
            parameters.push(Parameter::SensorLag);
            values.push(lag.seconds().ln());
        }
        parameters.extend([Parameter::WarmStart, Parameter::CoolStart]);
        values.extend([warm.degrees(), cool.degrees()]);
        Ok(Problem { log, choices: *choices, parameters, values: DVector::from_vec(values) })
    }

    fn value(&self, values: &DVector<f64>, parameter: Parameter) -> Option<f64> {
        let at = self.parameters.iter().position(|p| *p == parameter)?;
        values.get(at).copied()
    }

    pub(super) fn model(&self, values: &DVector<f64>) -> (TwoZone, [f64; 2]) {
        let of = |parameter: Parameter| self.value(values, parameter);
        let exp = |parameter: Parameter| of(parameter).map_or(f64::NAN, f64::exp);
        let heater_share = match self.choices.share {
            Share::Known(share) => share,
            Share::Free => of(Parameter::HeaterShare).map_or(f64::NAN, |x| 1.0 / (1.0 + (-x).exp())),
        };
        let model = TwoZone {
            warm_to_room_w_k: exp(Parameter::WarmToRoom),
            cool_to_room_w_k: exp(Parameter::CoolToRoom),
            warm_to_cool_w_k: exp(Parameter::WarmToCool),
            warm_j_k: exp(Parameter::WarmCapacity),
            cool_j_k: exp(Parameter::CoolCapacity),
            heater_share,
            lag: Seconds(of(Parameter::SensorLag).map_or(0.0, f64::exp)),
        };
        let start = |parameter: Parameter| of(parameter).unwrap_or(f64::NAN);
        (model, [start(Parameter::WarmStart), start(Parameter::CoolStart)])
    }

    /// Simulated − logged for every reading, then the prior of a lag.
    pub(super) fn residuals_at(&self, values: &DVector<f64>) -> Vec<f64> {
        let (model, start) = self.model(values);
        let mut residuals = Vec::with_capacity(2 * self.log.records().len() + 1);
        model.simulate(self.log, start, |record, [warm, cool]| {
            residuals.extend(record.warm.map(|read| warm - read.degrees()));
            residuals.extend(record.cool.map(|read| cool - read.degrees()));
        });
        let lag = self.value(values, Parameter::SensorLag);
        residuals.extend(lag.and_then(|value| prior_of_lag(self.choices.lag, value)));
        residuals
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_> {
    type ParameterStorage = Owned<f64, Dyn>;
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;

    fn set_params(&mut self, values: &DVector<f64>) {
        self.values.copy_from(values);
    }

    fn params(&self) -> DVector<f64> {
        self.values.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let residuals = self.residuals_at(&self.values);
        residuals.iter().all(|r| r.is_finite()).then(|| DVector::from_vec(residuals))
    }

    /// Central differences: 1e-5 of a logarithm (or kelvin) loses no more than 1e-10 to the third derivative. The models
    /// of four parameters, each a step up and a step down, go through the log beside each other.
    fn jacobian(&self) -> Option<DMatrix<f64>> {
        const STEP: f64 = 1e-5;
        const BESIDE: usize = 4;
        let of_lag = self.parameters.iter().position(|one| *one == Parameter::SensorLag);
        let readings =
            self.log.records().iter().map(|one| usize::from(one.warm.is_some()) + usize::from(one.cool.is_some()));
        let rows = readings.sum::<usize>() + usize::from(of_lag.is_some());
        let count = self.values.len();
        let mut slopes = vec![0.0; rows * count];
        for (group, columns) in slopes.chunks_mut(rows * BESIDE).enumerate() {
            let models: [_; 2 * BESIDE] = std::array::from_fn(|lane| {
                let mut values = self.values.clone();
                if let Some(value) = values.get_mut(group * BESIDE + lane / 2) {
                    *value += if lane % 2 == 0 { STEP } else { -STEP };
                }
                self.model(&values)
            });
            let mut row = 0;
            let mut take = |read: &[f64; 2 * BESIDE]| {
                for (column, ends) in columns.chunks_exact_mut(rows).zip(read.chunks_exact(2)) {
                    if let (Some(slope), [up, down]) = (column.get_mut(row), ends) {
                        *slope = (up - down) * (0.5 / STEP);
                    }
                }
                row += 1;
            };
            TwoZone::simulate_beside(&models, self.log, |record, [warm, cool]| {
                if record.warm.is_some() {
                    take(warm);
                }
                if record.cool.is_some() {
                    take(cool);
                }
            });
        }
        let mut slopes = DMatrix::from_vec(rows, count, slopes);
        if let Some(column) = of_lag {
            slopes[(rows - 1, column)] = NOISE_K / LAG_SPREAD;
        }
        Some(slopes)
    }
}

/// The residual of a prior of a lag, K.
pub(super) fn prior_of_lag(lag: Lag, logarithm: f64) -> Option<f64> {
    match lag {
        Lag::Around(around) => Some(NOISE_K * (logarithm - around.seconds().ln()) / LAG_SPREAD),
        Lag::None => None,
    }
}
