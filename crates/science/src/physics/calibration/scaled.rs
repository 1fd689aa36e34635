//! Fitting a network that was described to a log: its form is kept, three factors are found.

use super::fit::{autocorrelation, doubts, open};
use super::problem::prior_of_lag;
use super::{Doubt, FitFault, Lag, Log};
use crate::physics::network::{Network, NetworkFault, Node};
use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};
use units::{Celsius, Seconds, Watts};

/// A network fitted to a log: what its ways to the room, the conductance from the warm air to the cool and its heat
/// capacities are to be multiplied by (see [`Network::scaled`]).
#[derive(Clone, Debug, PartialEq)]
pub struct ScaledFit {
    /// Ways to the room, from the warm air to the cool, capacities.
    pub factors: [f64; 3],
    /// Lag of the sensors; zero for none.
    pub lag: Seconds,
    /// Relative standard deviations of the factors, and of the lag where it was fitted.
    pub deviations: Vec<f64>,
    /// Their correlations.
    pub correlations: DMatrix<f64>,
    /// Standard deviation of the residuals, K.
    pub rms_k: f64,
    /// Correlation of residuals with the ones before them, warm and cool.
    pub autocorrelation: [f64; 2],
    /// What the sensors read in the model at every line of the log, warm and cool, °C. The first [`ScaledFit::led_in`]
    /// hang on how it began and count for nothing.
    pub modelled_c: Vec<[f64; 2]>,
    /// How many lines at the start were not compared.
    pub led_in: usize,
}

impl ScaledFit {
    /// Correlation of two of what was fitted, in the order of the deviations; `None` where there is no such.
    pub fn correlation(&self, first: usize, second: usize) -> Option<f64> {
        self.correlations.get((first, second)).copied()
    }

    /// Reasons not to believe it; none are good.
    pub fn doubts(&self) -> Vec<Doubt> {
        doubts(self.rms_k, self.autocorrelation)
    }
}

struct Problem<'a> {
    log: &'a Log,
    network: &'a Network,
    sides: [Node; 2],
    lag: Lag,
    led_in: usize,
    mean: (Vec<Watts>, Celsius),
    values: DVector<f64>,
}

impl Problem<'_> {
    fn scaled(&self, values: &DVector<f64>) -> Result<Network, NetworkFault> {
        let factor = |place: usize| values.get(place).map_or(f64::NAN, |one: &f64| one.exp());
        self.network.scaled(factor(0), self.sides, factor(1), factor(2))
    }

    fn lag_s(&self, values: &DVector<f64>) -> f64 {
        values.get(3).map_or(0.0, |one| one.exp())
    }

    /// What the sensors read, warm and cool, °C. It begins where the network settles at the mean power in the mean room.
    fn simulated(&self, values: &DVector<f64>) -> Result<Vec<[f64; 2]>, NetworkFault> {
        let network = self.scaled(values)?;
        let start = network.steady(&self.mean.0, self.mean.1)?;
        let mut system = network.system();
        let mut state: Vec<f64> = start.degrees().to_vec();
        let mut places = [0; 2];
        let lag_s = self.lag_s(values);
        for (place, node) in places.iter_mut().zip(self.sides) {
            *place = network.place(node)?;
            if 0.0 < lag_s {
                state.push(state.get(*place).copied().unwrap_or(f64::NAN));
                (system, *place) = system.with_sensor(node, Seconds(lag_s))?;
            }
        }
        let stepper = system.stepper(self.log.step())?;
        let mut state = DVector::from_vec(state);
        let mut spare = state.clone();
        let mut inputs = network.inputs(&self.mean.0, self.mean.1)?;
        let mut read = Vec::with_capacity(self.log.records().len());
        for record in self.log.records() {
            read.push(places.map(|place| state.get(place).copied().unwrap_or(f64::NAN)));
            inputs[0] = record.room.degrees();
            inputs[1] = record.heater.watts();
            stepper.step_in_place(&mut state, &inputs, &mut spare);
        }
        Ok(read)
    }

    /// Simulated − logged, warm and cool, of the lines that are compared.
    fn differences(&self, simulated: &[[f64; 2]]) -> Vec<[Option<f64>; 2]> {
        let both = self.log.records().iter().zip(simulated).skip(self.led_in);
        both.map(|(record, [warm, cool])| {
            [record.warm.map(|read| warm - read.degrees()), record.cool.map(|read| cool - read.degrees())]
        })
        .collect()
    }

    fn residuals_at(&self, values: &DVector<f64>) -> Vec<f64> {
        let Ok(simulated) = self.simulated(values) else { return vec![f64::NAN; 8] };
        let mut residuals: Vec<f64> = self.differences(&simulated).into_iter().flatten().flatten().collect();
        residuals.extend(values.get(3).and_then(|value| prior_of_lag(self.lag, *value)));
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

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        Some(slopes(&self.values, |values| self.residuals_at(values)))
    }
}

/// Derivatives of residuals. Central differences: 1e-5 of a logarithm (or kelvin) loses no more than 1e-10 to the third
/// derivative.
fn slopes(values: &DVector<f64>, residuals: impl Fn(&DVector<f64>) -> Vec<f64>) -> DMatrix<f64> {
    const STEP: f64 = 1e-5;
    let mut columns = Vec::with_capacity(values.len());
    for at in 0..values.len() {
        let moved = |by: f64| {
            let mut values = values.clone();
            values[at] += by;
            residuals(&values)
        };
        let (up, down) = (moved(STEP), moved(-STEP));
        let column = up.iter().zip(&down).map(|(u, d)| (u - d) / (2.0 * STEP));
        columns.push(DVector::from_iterator(up.len(), column));
    }
    DMatrix::from_columns(&columns)
}

/// Fits the factors of a network to a log. The log's heater is the network's first, others are off; `sides` are the nodes
/// whose air was logged, warm and cool. How the network began is not known: for three of its slowest time constants, but no
/// longer than a quarter of the log, nothing is compared.
pub fn fit_scaled(log: &Log, network: &Network, sides: [Node; 2], lag: Lag) -> Result<ScaledFit, FitFault> {
    let records = log.records();
    let count = records.len().max(1) as f64;
    let mean_w = records.iter().map(|record| record.heater.watts()).sum::<f64>() / count;
    let mean_c = records.iter().map(|record| record.room.degrees()).sum::<f64>() / count;
    let over: Vec<f64> = records
        .iter()
        .filter_map(|record| Some(0.5 * (record.warm?.degrees() + record.cool?.degrees()) - record.room.degrees()))
        .collect();
    if network.heater_count() == 0 || over.iter().sum::<f64>() <= 0.0 {
        return Err(FitFault::NotWarmer);
    }
    let mut powers = vec![Watts(0.0); network.heater_count()];
    if let Some(main) = powers.first_mut() {
        *main = Watts(mean_w);
    }
    let room = Celsius::new(mean_c).ok_or(FitFault::NotWarmer)?;
    let slowest_s = network.time_constants().and_then(|all| all.last().map(|one| one.seconds())).unwrap_or(0.0);
    let led_in = ((3.0 * slowest_s / log.step().seconds()).ceil() as usize).min(records.len() / 4);
    let mut values = vec![0.0; 3];
    if let Lag::Around(lag) = lag {
        values.push(lag.seconds().ln());
    }
    let seeded = Problem { log, network, sides, lag, led_in, mean: (powers, room), values: DVector::from_vec(values) };
    let (problem, report) = LevenbergMarquardt::new().with_patience(60).minimize(seeded);
    if !report.termination.was_successful() {
        return Err(FitFault::NoMinimum(format!("{:?}", report.termination)));
    }
    let jacobian = problem.jacobian().ok_or(FitFault::Unidentifiable)?;
    let found = open(&jacobian, &problem.residuals_at(&problem.values))?;
    let modelled_c = problem.simulated(&problem.values).map_err(|fault| FitFault::NoMinimum(fault.to_string()))?;
    let residuals = problem.differences(&modelled_c);
    let factor = |place: usize| problem.values.get(place).map_or(f64::NAN, |one| one.exp());
    Ok(ScaledFit {
        factors: [factor(0), factor(1), factor(2)],
        lag: Seconds(problem.lag_s(&problem.values)),
        deviations: found.deviations,
        correlations: found.correlations,
        rms_k: found.rms_k,
        autocorrelation: [0, 1].map(|side| autocorrelation(&residuals, side)),
        modelled_c,
        led_in,
    })
}
