//! A network as a linear system in time: x' = A x + B u, with u = (room, heaters, 1).

use super::{Network, NetworkFault, Node, Temperatures};
use crate::physics::roots::is_above_zero;
use nalgebra::{DMatrix, DVector};
use units::{Celsius, Seconds, Watts};

/// The linear system of a network, with sensors and meters as further states behind the nodes.
#[derive(Clone, Debug)]
pub struct System {
    pub(super) a: DMatrix<f64>,
    pub(super) b: DMatrix<f64>,
    nodes: Vec<Node>,
}

impl Network {
    /// The linear system of this network.
    pub fn system(&self) -> System {
        let n = self.nodes.len();
        let inverse = DVector::from_iterator(n, self.capacities_j_k.iter().map(|c| 1.0 / c));
        let scale = DMatrix::from_diagonal(&inverse);
        let mut inputs = DMatrix::zeros(n, self.heater_count() + 2);
        inputs.set_column(0, &self.to_room_w_k);
        inputs.columns_mut(1, self.heater_count()).copy_from(&self.heaters);
        inputs.set_column(self.heater_count() + 1, &self.constant_w);
        System { a: -(&scale * &self.k_w_k), b: scale * inputs, nodes: self.nodes.clone() }
    }

    /// Time constants of its modes, longest last. `None` only where the eigenvalues do not converge.
    pub fn time_constants(&self) -> Option<Vec<Seconds>> {
        // C^-1/2 K C^-1/2 is symmetric and has the same eigenvalues.
        let n = self.nodes.len();
        let root = DVector::from_iterator(n, self.capacities_j_k.iter().map(|c| 1.0 / c.sqrt()));
        let scale = DMatrix::from_diagonal(&root);
        let symmetric = &scale * &self.k_w_k * &scale;
        let rates = symmetric.try_symmetric_eigen(f64::EPSILON, 10_000)?.eigenvalues;
        let mut constants: Vec<f64> = rates.iter().map(|rate| 1.0 / rate).collect();
        constants.sort_by(f64::total_cmp);
        Some(constants.into_iter().map(Seconds).collect())
    }

    /// The inputs (room, heaters, 1) of its system.
    pub fn inputs(&self, powers: &[Watts], room: Celsius) -> Result<DVector<f64>, NetworkFault> {
        let powers = self.powers(powers)?;
        Ok(DVector::from_iterator(
            powers.len() + 2,
            std::iter::once(room.degrees()).chain(powers.iter().copied()).chain(std::iter::once(1.0)),
        ))
    }

    /// Goes on from a state in exact steps, with constant powers and a room that is held over each step at its value in
    /// °C at the start of it. `each` is given the temperatures in °C, at the start and after each step. The start must
    /// be of a network with the same nodes.
    pub fn follow(
        &self,
        start: &Temperatures,
        powers: &[Watts],
        room_c: impl Fn(Seconds) -> f64,
        step: Seconds,
        steps: usize,
        mut each: impl FnMut(&[f64]),
    ) -> Result<(), NetworkFault> {
        if start.0.len() != self.nodes.len() {
            return Err(NetworkFault::Range("a start with a temperature for each node"));
        }
        let stepper = self.system().stepper(step)?;
        let mut inputs = self.inputs(powers, Celsius::new(room_c(Seconds(0.0))).ok_or(NetworkFault::Range("room"))?)?;
        let (mut state, mut spare) = (start.0.clone(), start.0.clone());
        for number in 0..=steps {
            each(state.as_slice());
            inputs[0] = room_c(Seconds(number as f64 * step.seconds()));
            stepper.step_in_place(&mut state, &inputs, &mut spare);
        }
        Ok(())
    }

    /// After a time at constant inputs, exactly.
    pub fn after(
        &self,
        start: &Temperatures,
        powers: &[Watts],
        room: Celsius,
        elapsed: Seconds,
    ) -> Result<Temperatures, NetworkFault> {
        let stepper = self.system().stepper(elapsed)?;
        Ok(Temperatures(stepper.step(&start.0, &self.inputs(powers, room)?)))
    }
}

impl System {
    /// With a sensor that follows a node with a first-order lag, dTs/dt = (T − Ts)/τ, as a further state; it does not
    /// act back. Gives its place in the state.
    pub fn with_sensor(mut self, node: Node, lag: Seconds) -> Result<(System, usize), NetworkFault> {
        let at = self.nodes.iter().position(|x| *x == node).ok_or(NetworkFault::Missing(node))?;
        if !is_above_zero(lag.seconds()) {
            return Err(NetworkFault::Range("the lag of a sensor must be above zero"));
        }
        let place = self.grow();
        self.a[(place, place)] = -1.0 / lag.seconds();
        self.a[(place, at)] = 1.0 / lag.seconds();
        Ok((self, place))
    }

    /// With a meter of the heat that goes to the room, J, as a further state. Gives its place in the state.
    pub fn with_loss_meter(mut self, network: &Network) -> (System, usize) {
        let place = self.grow();
        for (at, conductance) in network.to_room_w_k.iter().enumerate() {
            self.a[(place, at)] = *conductance;
        }
        self.b[(place, 0)] = -network.to_room_w_k.sum();
        (self, place)
    }

    fn grow(&mut self) -> usize {
        let n = self.a.nrows();
        self.a = std::mem::take(&mut self.a).resize(n + 1, n + 1, 0.0);
        let inputs = self.b.ncols();
        self.b = std::mem::take(&mut self.b).resize(n + 1, inputs, 0.0);
        n
    }

    /// How many states it has.
    pub fn len(&self) -> usize {
        self.a.nrows()
    }

    /// Never: a network has nodes.
    pub fn is_empty(&self) -> bool {
        self.a.nrows() == 0
    }

    /// Exact steps of `step` with inputs held constant over each: x⁺ = F x + G u, both from the exponential of the
    /// augmented matrix [[A, B], [0, 0]]. The step must not be negative.
    ///
    /// Source: Van Loan 1978, IEEE Trans. Autom. Control 23:395.
    pub fn stepper(&self, step: Seconds) -> Result<Stepper, NetworkFault> {
        if !(step.seconds().is_finite() && 0.0 <= step.seconds()) {
            return Err(NetworkFault::Step);
        }
        let (n, m) = (self.a.nrows(), self.b.ncols());
        let mut augmented = DMatrix::zeros(n + m, n + m);
        augmented.view_mut((0, 0), (n, n)).copy_from(&self.a);
        augmented.view_mut((0, n), (n, m)).copy_from(&self.b);
        augmented *= step.seconds();
        let e = augmented.exp();
        let transition = e.view((0, 0), (n, n)).into_owned();
        let response = e.view((0, n), (n, m)).into_owned();
        let columns = Lanes::columns(&transition).zip(Lanes::columns(&response));
        Ok(Stepper { step, transition, response, columns })
    }
}

/// Exact steps of one length.
#[derive(Clone, Debug)]
pub struct Stepper {
    step: Seconds,
    transition: DMatrix<f64>,
    response: DMatrix<f64>,
    /// The columns of both, where they fit into lanes.
    columns: Option<(Vec<Lanes>, Vec<Lanes>)>,
}

/// How many states fit into lanes: the largest preset has seven nodes.
const LANES: usize = 8;

/// A column of up to eight numbers, the rest zero: of a length known beforehand, so that a step takes few instructions.
#[derive(Clone, Copy, Debug)]
struct Lanes([f64; LANES]);

impl Lanes {
    fn columns(matrix: &DMatrix<f64>) -> Option<Vec<Lanes>> {
        (matrix.nrows() <= LANES).then(|| {
            let column = |values: &[f64]| {
                let mut lanes = [0.0; LANES];
                lanes.iter_mut().zip(values).for_each(|(lane, value)| *lane = *value);
                Lanes(lanes)
            };
            matrix.column_iter().map(|one| column(one.as_slice())).collect()
        })
    }

    fn add(&mut self, columns: &[Lanes], factors: &[f64]) {
        for (Lanes(column), factor) in columns.iter().zip(factors) {
            self.0.iter_mut().zip(column).for_each(|(lane, value)| *lane += value * factor);
        }
    }
}

impl Stepper {
    /// The length of a step.
    pub fn length(&self) -> Seconds {
        self.step
    }

    /// F = e^(A Δt).
    pub fn transition(&self) -> &DMatrix<f64> {
        &self.transition
    }

    /// One step.
    pub fn step(&self, state: &DVector<f64>, inputs: &DVector<f64>) -> DVector<f64> {
        let mut next = &self.response * inputs;
        next.gemv(1.0, &self.transition, state, 1.0);
        next
    }

    /// One step without a new allocation: `state` is replaced, `spare` is scratch of the same length.
    pub fn step_in_place(&self, state: &mut DVector<f64>, inputs: &DVector<f64>, spare: &mut DVector<f64>) {
        if let Some((transition, response)) = &self.columns {
            let mut next = Lanes([0.0; LANES]);
            next.add(response, inputs.as_slice());
            next.add(transition, state.as_slice());
            state.iter_mut().zip(next.0).for_each(|(value, lane)| *value = lane);
            return;
        }
        spare.gemv(1.0, &self.response, inputs, 0.0);
        spare.gemv(1.0, &self.transition, state, 1.0);
        std::mem::swap(state, spare);
    }
}
