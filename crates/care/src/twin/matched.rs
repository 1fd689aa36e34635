//! A described model brought to what a log showed.
//!
//! A log tells of two zones only; the network of the description has the spots. So the form of the description is kept,
//! and three factors (ways to the room, conductances inside, heat capacities) are found at which a watt of the main heater
//! warms the air of both sides by as much as the two zones say, and both cool as slowly. Evaporation and films are those
//! at a usual state, near which a log is made.

use records::facts::Fitted;
use science::physics::calibration::TwoZone;
use science::physics::network::{Network, NetworkFault, Node};
use units::{Celsius, Seconds, Watts};

use super::guesses::{Unknown, Values};
use super::model::{Drive, Model};

/// What the parts of a network are multiplied by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Factors {
    to_room: f64,
    between: f64,
    capacity: f64,
}

impl Factors {
    /// Nothing is changed.
    pub const NONE: Factors = Factors { to_room: 1.0, between: 1.0, capacity: 1.0 };

    /// The network with them.
    pub fn of(&self, network: &Network) -> Result<Network, NetworkFault> {
        if *self == Factors::NONE {
            return Ok(network.clone());
        }
        network.scaled(self.to_room, self.between, self.capacity)
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

impl Goal {
    /// Of two zones.
    pub fn of_zones(zones: &TwoZone) -> Result<Goal, NetworkFault> {
        let network = zones.network()?;
        Ok(Goal {
            warm_k_w: network.rise_k_w(0, Node::WarmSide)?,
            cool_k_w: network.rise_k_w(0, Node::CoolSide)?,
            time_s: time_s(&network, Node::WarmSide, Node::CoolSide)?,
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
        let mut powers = vec![Watts(0.0); model.heater_count()];
        if let Some(main) = powers.first_mut() {
            *main = Watts(USUAL_RISE_K / self.warm_k_w);
        }
        let drives: Vec<Drive> = powers.iter().map(|power| Drive::Gives(power.watts())).collect();
        let (mut films, mut latent_w) = (model.films(None)?, 0.0);
        let mut factors = Factors::NONE;
        for _ in 0..ROUNDS {
            let network = model.described_network(&films, latent_w)?;
            factors = self.search(&network, &powers, room, factors)?;
            let state = model.with_factors(factors).balanced(&films, latent_w, &drives, room)?;
            films = model.films(Some(&state.spots()?))?;
            latent_w = model.latent_w(&state)?;
        }
        Ok(factors)
    }

    /// Relative misses of the rises of both sides with these logarithms of factors.
    fn misses(
        &self,
        network: &Network,
        powers: &[Watts],
        room: Celsius,
        at: [f64; 2],
    ) -> Result<[f64; 2], NetworkFault> {
        let [to_room, between] = at;
        let made = network.scaled(to_room.exp(), between.exp(), 1.0)?;
        let settled = made.steady(powers, room)?;
        let main = powers.first().map_or(f64::NAN, |power| power.watts());
        let miss = |node: Node, wanted: f64| -> Result<f64, NetworkFault> {
            Ok((settled.of(&made, node)? - room).kelvin() / (wanted * main) - 1.0)
        };
        Ok([miss(Node::AirWarm, self.warm_k_w)?, miss(Node::AirCool, self.cool_k_w)?])
    }

    /// Levenberg–Marquardt in the logarithms of the two factors that make the rises; the third follows exactly.
    fn search(
        &self,
        network: &Network,
        powers: &[Watts],
        room: Celsius,
        from: Factors,
    ) -> Result<Factors, NetworkFault> {
        /// No factor goes beyond e³: a log that needs more is not of this box.
        const FURTHEST: f64 = 3.0;
        const STEP: f64 = 1e-5;
        let misses = |x: f64, y: f64| self.misses(network, powers, room, [x, y]);
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
        let made = network.scaled(to_room, between, 1.0)?;
        let capacity = self.time_s / time_s(&made, Node::AirWarm, Node::AirCool)?;
        Ok(Factors { to_room, between, capacity })
    }
}

/// Cooling time of both sides on average, s.
fn time_s(network: &Network, warm: Node, cool: Node) -> Result<f64, NetworkFault> {
    let of = |node| network.cooling_time(0, node).map(|time| time.seconds());
    Ok(f64::midpoint(of(warm)?, of(cool)?))
}
