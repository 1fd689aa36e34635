//! Two zones in a room.

use super::{Log, Record};
use crate::physics::network::{Network, NetworkFault, Node};
use nalgebra::{DMatrix, SMatrix};
use units::Seconds;

/// A warm and a cool side, each with its way to the room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoZone {
    /// Warm side to room, W/K.
    pub warm_to_room_w_k: f64,
    /// Cool side to room, W/K.
    pub cool_to_room_w_k: f64,
    /// Between the sides, W/K.
    pub warm_to_cool_w_k: f64,
    /// Warm side, J/K.
    pub warm_j_k: f64,
    /// Cool side, J/K.
    pub cool_j_k: f64,
    /// Share of the heater that the warm side gets; the cool side gets the rest.
    pub heater_share: f64,
    /// Lag of the sensors; zero for none.
    pub lag: Seconds,
}

impl TwoZone {
    /// As a network, to be asked for watts, cool-downs and courses.
    pub fn network(&self) -> Result<Network, NetworkFault> {
        Network::builder()
            .node(Node::WarmSide, self.warm_j_k)
            .node(Node::CoolSide, self.cool_j_k)
            .link(Node::WarmSide, Node::CoolSide, self.warm_to_cool_w_k)
            .to_room(Node::WarmSide, self.warm_to_room_w_k)
            .to_room(Node::CoolSide, self.cool_to_room_w_k)
            .heater(&[(Node::WarmSide, self.heater_share), (Node::CoolSide, 1.0 - self.heater_share)])
            .build()
    }

    /// What the sensors read at every line of a log, warm and cool, °C, from temperatures at its start (sensors and
    /// sides alike). Exact while room and power are held over each step.
    pub fn simulated_c(&self, log: &Log, start_c: [f64; 2]) -> Vec<[f64; 2]> {
        let mut readings = Vec::with_capacity(log.records().len());
        self.simulate(log, start_c, |_, reading| readings.push(reading));
        readings
    }

    pub(super) fn simulate(&self, log: &Log, start_c: [f64; 2], mut each: impl FnMut(&Record, [f64; 2])) {
        TwoZone::simulate_beside(&[(*self, start_c)], log, |record, [[warm], [cool]]| each(record, [*warm, *cool]));
    }

    /// The same for several models step by step beside each other, which is far quicker than one after the other. Gives
    /// what the warm and the cool sensor of each read. Either all have sensors with a lag or none has.
    pub(super) fn simulate_beside<const N: usize>(
        models: &[(TwoZone, [f64; 2]); N],
        log: &Log,
        mut each: impl FnMut(&Record, &[[f64; N]; 2]),
    ) {
        if models.iter().all(|(model, _)| 0.0 < model.lag.seconds()) {
            let steps = models.map(|(model, _)| model.lagged(log.step()));
            let start = |side: usize| models.map(|(_, start_c)| start_c.get(side).copied().unwrap_or(f64::NAN));
            walk(log, &Steps::of(&steps), [start(0), start(1), start(0), start(1)], |record, [_, _, warm, cool]| {
                each(record, &[*warm, *cool]);
            });
        } else {
            let steps = models.map(|(model, _)| model.plain(log.step()));
            let start = |side: usize| models.map(|(_, start_c)| start_c.get(side).copied().unwrap_or(f64::NAN));
            walk(log, &Steps::of(&steps), [start(0), start(1)], each);
        }
    }

    /// Rates of the two sides by themselves, the room and the heater.
    fn rates(&self) -> [[f64; 4]; 2] {
        let (cw, cc) = (self.warm_j_k, self.cool_j_k);
        let across = self.warm_to_cool_w_k;
        [
            [-(self.warm_to_room_w_k + across) / cw, across / cw, self.warm_to_room_w_k / cw, self.heater_share / cw],
            [
                across / cc,
                -(self.cool_to_room_w_k + across) / cc,
                self.cool_to_room_w_k / cc,
                (1.0 - self.heater_share) / cc,
            ],
        ]
    }

    fn plain(&self, step: Seconds) -> (SMatrix<f64, 2, 2>, SMatrix<f64, 2, 2>) {
        let mut m = DMatrix::zeros(4, 4);
        for (row, rates) in self.rates().iter().enumerate() {
            for (column, rate) in rates.iter().enumerate() {
                m[(row, column)] = rate * step.seconds();
            }
        }
        let e = m.exp();
        (e.fixed_view::<2, 2>(0, 0).into_owned(), e.fixed_view::<2, 2>(0, 2).into_owned())
    }

    fn lagged(&self, step: Seconds) -> (SMatrix<f64, 4, 4>, SMatrix<f64, 4, 2>) {
        let mut m = DMatrix::zeros(6, 6);
        for (row, [warm, cool, room, power]) in self.rates().into_iter().enumerate() {
            for (column, rate) in [(0, warm), (1, cool), (4, room), (5, power)] {
                m[(row, column)] = rate * step.seconds();
            }
            m[(row + 2, row)] = step.seconds() / self.lag.seconds();
            m[(row + 2, row + 2)] = -step.seconds() / self.lag.seconds();
        }
        let e = m.exp();
        (e.fixed_view::<4, 4>(0, 0).into_owned(), e.fixed_view::<4, 2>(0, 4).into_owned())
    }
}

/// Steps of several models with S states: x⁺ = F x + G (room, power), each number once for every model.
struct Steps<const S: usize, const N: usize> {
    transition: [[[f64; N]; S]; S],
    response: [[[f64; N]; 2]; S],
}

impl<const S: usize, const N: usize> Steps<S, N> {
    fn of(steps: &[(SMatrix<f64, S, S>, SMatrix<f64, S, 2>); N]) -> Steps<S, N> {
        Steps {
            transition: std::array::from_fn(|row| {
                std::array::from_fn(|column| steps.each_ref().map(|(f, _)| f[(row, column)]))
            }),
            response: std::array::from_fn(|row| {
                std::array::from_fn(|column| steps.each_ref().map(|(_, g)| g[(row, column)]))
            }),
        }
    }
}

/// Goes through a log from a start; `each` is given the states at every line.
fn walk<const S: usize, const N: usize>(
    log: &Log,
    steps: &Steps<S, N>,
    mut states: [[f64; N]; S],
    mut each: impl FnMut(&Record, &[[f64; N]; S]),
) {
    for record in log.records() {
        each(record, &states);
        let inputs = [record.room.degrees(), record.heater.watts()];
        let mut next = [[0.0; N]; S];
        for ((next, transition), response) in next.iter_mut().zip(&steps.transition).zip(&steps.response) {
            for (factors, input) in response.iter().zip(inputs) {
                next.iter_mut().zip(factors).for_each(|(value, factor)| *value += factor * input);
            }
            for (factors, state) in transition.iter().zip(&states) {
                next.iter_mut()
                    .zip(factors.iter().zip(state))
                    .for_each(|(value, (factor, old))| *value += factor * old);
            }
        }
        states = next;
    }
}
