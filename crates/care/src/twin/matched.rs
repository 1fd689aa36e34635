//! A described model brought to what a log showed.
//!
//! A log tells of two zones only; the network of the description has the spots. So the form of the description is kept,
//! and three factors (ways to the room, air between the sides, heat capacities) are found at which a watt of the main heater
//! warms the air of both sides by as much as the two zones say, and both cool as slowly. Evaporation and films are those
//! at a usual state, near which a log is made.

use records::facts::Fitted;
use science::physics::calibration::TwoZone;
use science::physics::network::{Network, NetworkFault, Node};
use units::{Celsius, Seconds};

use super::guesses::{Unknown, Values};
use super::model::{Drive, Model};
use crate::lines;

/// What the parts of a network are multiplied by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Factors {
    /// Ways to the room.
    pub to_room: f64,
    /// From the warm air to the cool.
    pub between: f64,
    /// Heat capacities.
    pub capacity: f64,
}

impl Factors {
    /// Nothing is changed.
    pub const NONE: Factors = Factors { to_room: 1.0, between: 1.0, capacity: 1.0 };

    /// The network with them.
    pub fn of(&self, network: &Network) -> Result<Network, NetworkFault> {
        if *self == Factors::NONE {
            return Ok(network.clone());
        }
        network.scaled(self.to_room, SIDES, self.between, self.capacity)
    }
}

/// The two zones of a fit.
pub fn two_zones(fitted: &Fitted) -> TwoZone {
    TwoZone {
        warm_to_room_w_k: fitted.warm_to_room_w_k,
        cool_to_room_w_k: fitted.cool_to_room_w_k,
        warm_to_cool_w_k: fitted.warm_to_cool_w_k,
        warm_j_k: 1000.0 * fitted.warm_kj_k,
        cool_j_k: 1000.0 * fitted.cool_kj_k,
        heater_share: fitted.heater_share,
        lag: Seconds(0.0),
    }
}

/// By how much wider other days are taken to differ from those of a log, for what the fit leaves over beyond the noise of a
/// thermometer: a box that is built otherwise than described is met less well, and what follows is less certain.
pub fn loosened(rms_k: f64) -> f64 {
    (rms_k / lines::high("twin_fit_noise").value).max(1.0)
}

/// What a watt does to the air of both sides, and how slowly they cool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Goal {
    /// Warm side, K for a W.
    pub warm_k_w: f64,
    /// Cool side, K for a W.
    pub cool_k_w: f64,
    /// Cooling time of both sides on average, s.
    pub time_s: f64,
}

/// The nodes of a described network that are logged: the air of both sides.
pub const SIDES: [Node; 2] = [Node::AirWarm, Node::AirCool];

impl Goal {
    /// Of two zones.
    pub fn of_zones(zones: &TwoZone) -> Result<Goal, NetworkFault> {
        Goal::of_network(&zones.network()?, [Node::WarmSide, Node::CoolSide])
    }

    /// Of a network whose warm and cool side are these nodes.
    pub fn of_network(network: &Network, [warm, cool]: [Node; 2]) -> Result<Goal, NetworkFault> {
        Ok(Goal {
            warm_k_w: network.rise_k_w(0, warm)?,
            cool_k_w: network.rise_k_w(0, cool)?,
            time_s: time_s(network, warm, cool)?,
        })
    }

    /// Of one set of values of a fit.
    pub(super) fn of(fitted: &Fitted, values: &Values) -> Result<Goal, NetworkFault> {
        let of = |unknown| values.of(unknown);
        let zones = TwoZone {
            warm_to_room_w_k: of(Unknown::WarmToRoom),
            cool_to_room_w_k: of(Unknown::CoolToRoom),
            warm_to_cool_w_k: of(Unknown::WarmToCool),
            warm_j_k: 1000.0 * of(Unknown::WarmHeat),
            cool_j_k: 1000.0 * of(Unknown::CoolHeat),
            ..two_zones(fitted)
        };
        let goal = Goal::of_zones(&zones)?;
        let (rise, time) = (of(Unknown::FitRise), of(Unknown::FitTime));
        Ok(Goal { warm_k_w: rise * goal.warm_k_w, cool_k_w: rise * goal.cool_k_w, time_s: time * goal.time_s })
    }

    /// The factors that bring a model to it.
    pub(super) fn factors(&self, model: &Model) -> Result<Factors, NetworkFault> {
        /// By how much the warm side stands over the room in the state in which films and evaporation are taken, K.
        const USUAL_RISE_K: f64 = 8.0;
        /// Its room, °C.
        const USUAL_ROOM_C: f64 = 21.0;
        const ROUNDS: usize = 4;
        if model.heater_count() == 0 {
            return Ok(Factors::NONE);
        }
        let room = Celsius::new(USUAL_ROOM_C).ok_or(NetworkFault::Range("room"))?;
        let mut drives = vec![Drive::Gives(0.0); model.heater_count()];
        if let Some(main) = drives.first_mut() {
            *main = Drive::Gives(USUAL_RISE_K / self.warm_k_w);
        }
        let (mut films, mut latent_w) = (model.films(None)?, 0.0);
        let mut factors = Factors::NONE;
        for _ in 0..ROUNDS {
            let network = model.described_network(&films, latent_w)?;
            factors = self.search(&network, factors)?;
            let state = model.with_factors(factors).balanced(&films, latent_w, &drives, room)?;
            films = model.films(Some(&state.spots()?))?;
            latent_w = model.latent_w(&state)?;
        }
        Ok(factors)
    }

    /// Relative misses of the rises of both sides with these logarithms of factors.
    fn misses(&self, network: &Network, [to_room, between]: [f64; 2]) -> Result<[f64; 2], NetworkFault> {
        let made = network.scaled(to_room.exp(), SIDES, between.exp(), 1.0)?;
        let [warm, cool] = SIDES;
        Ok([made.rise_k_w(0, warm)? / self.warm_k_w - 1.0, made.rise_k_w(0, cool)? / self.cool_k_w - 1.0])
    }

    /// Levenberg–Marquardt in the logarithms of the two factors that make the rises; the third follows exactly.
    fn search(&self, network: &Network, from: Factors) -> Result<Factors, NetworkFault> {
        /// No factor goes beyond e³: a log that needs more is not of this box.
        const FURTHEST: f64 = 3.0;
        /// A box holds something beside its air.
        const LEAST_CAPACITY: f64 = 0.02;
        const STEP: f64 = 1e-5;
        let misses = |x: f64, y: f64| self.misses(network, [x, y]);
        let (mut x, mut y) = (from.to_room.ln(), from.between.ln());
        let [mut warm, mut cool] = misses(x, y)?;
        let mut damping = 1e-3;
        for _ in 0..40 {
            let here = warm * warm + cool * cool;
            if here < 1e-12 || 1e6 < damping {
                break;
            }
            let ([warm_x, cool_x], [warm_y, cool_y]) = (misses(x + STEP, y)?, misses(x, y + STEP)?);
            let [warm_x, cool_x] = [(warm_x - warm) / STEP, (cool_x - cool) / STEP];
            let [warm_y, cool_y] = [(warm_y - warm) / STEP, (cool_y - cool) / STEP];
            // Normal equations of two unknowns.
            let xx = (warm_x * warm_x + cool_x * cool_x) * (1.0 + damping);
            let yy = (warm_y * warm_y + cool_y * cool_y) * (1.0 + damping);
            let xy = warm_x * warm_y + cool_x * cool_y;
            let (gx, gy) = (warm_x * warm + cool_x * cool, warm_y * warm + cool_y * cool);
            let determinant = xx * yy - xy * xy;
            let moved = |from: f64, by: f64| (from + by.clamp(-1.0, 1.0)).clamp(-FURTHEST, FURTHEST);
            let next_x = moved(x, (xy * gy - yy * gx) / determinant);
            let next_y = moved(y, (xy * gx - xx * gy) / determinant);
            let [next_warm, next_cool] = misses(next_x, next_y)?;
            if next_warm * next_warm + next_cool * next_cool < here {
                (x, y, warm, cool) = (next_x, next_y, next_warm, next_cool);
                damping *= 0.2;
            } else {
                damping *= 5.0;
            }
        }
        let (to_room, between) = (x.exp(), y.exp());
        // The time goes with the heat that is held, in a straight line.
        let time_s =
            |capacity| time_s(&network.scaled(to_room, SIDES, between, capacity)?, Node::AirWarm, Node::AirCool);
        let (once, twice) = (time_s(1.0)?, time_s(2.0)?);
        let capacity = (1.0 + (self.time_s - once) / (twice - once)).max(LEAST_CAPACITY);
        Ok(Factors { to_room, between, capacity })
    }
}

/// Cooling time of both sides on average, s.
fn time_s(network: &Network, warm: Node, cool: Node) -> Result<f64, NetworkFault> {
    let of = |node| network.cooling_time(0, node).map(|time| time.seconds());
    Ok(f64::midpoint(of(warm)?, of(cool)?))
}
