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
        if 0.0 < self.lag.seconds() {
            let (f, g) = self.lagged(log.step());
            let [w, c] = start_c;
            let mut x = [w, c, w, c];
            for record in log.records() {
                each(record, [x[2], x[3]]);
                let (room, power) = (record.room.degrees(), record.heater.watts());
                let mut next = [0.0; 4];
                for (row, value) in next.iter_mut().enumerate() {
                    *value = g[(row, 0)] * room + g[(row, 1)] * power;
                    for (column, old) in x.iter().enumerate() {
                        *value += f[(row, column)] * old;
                    }
                }
                x = next;
            }
        } else {
            let (f, g) = self.plain(log.step());
            let [mut w, mut c] = start_c;
            let [[f00, f01], [f10, f11]] = [[f[(0, 0)], f[(0, 1)]], [f[(1, 0)], f[(1, 1)]]];
            let [[g00, g01], [g10, g11]] = [[g[(0, 0)], g[(0, 1)]], [g[(1, 0)], g[(1, 1)]]];
            for record in log.records() {
                each(record, [w, c]);
                let (room, power) = (record.room.degrees(), record.heater.watts());
                (w, c) = (f00 * w + f01 * c + g00 * room + g01 * power, f10 * w + f11 * c + g10 * room + g11 * power);
            }
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
