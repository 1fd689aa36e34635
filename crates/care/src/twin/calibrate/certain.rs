//! What follows from a fit, and how well the log tells it.

use science::physics::calibration::{ScaledFit, TwoZone};
use science::physics::network::{Network, NetworkFault};
use units::Seconds;

use crate::lines;
use crate::twin::matched::{Goal, SIDES, loosened};
use crate::what_if::Range;

/// The 90th percentile of a normal distribution, in standard deviations.
const TENTH_Z: f64 = 1.281_552;
/// Both ends of 19 of 20 cases.
const ENDS_Z: f64 = 1.959_964;
/// What a thermometer that shows tenths leaves open, K: 0.1/√12. No log is better than that, however well it is met.
const TENTHS_K: f64 = 0.029;
/// Step of logarithms when slopes are taken.
const STEP: f64 = 1e-4;

/// A number with a relative standard deviation: its middle, and both ends as far from it as a factor goes.
pub(super) fn range(mid: f64, sd: f64) -> Range {
    let factor = (TENTH_Z * sd).exp();
    Range { low: mid / factor, mid, high: mid * factor }
}

/// What follows from a network that was fitted.
#[derive(Clone, Copy, Debug)]
pub(super) struct Follows {
    /// What answers rest on.
    pub goal: Goal,
    /// Two equal halves in which the same follows.
    pub zones: TwoZone,
    /// Heat that goes to the room for each K that both sides stand over it on average, W/K.
    pub loss_w_k: f64,
    /// Heat that is held for each K of both sides, kJ/K.
    pub holds_kj_k: f64,
}

impl Follows {
    /// Of a network whose main heater gives the warm side about that share.
    pub fn of(network: &Network, share: f64) -> Result<Follows, NetworkFault> {
        let goal = Goal::of_network(network, SIDES)?;
        let zones = halves(&goal, share)?;
        let loss_w_k = 2.0 / (goal.warm_k_w + goal.cool_k_w);
        Ok(Follows { goal, zones, loss_w_k, holds_kj_k: loss_w_k * goal.time_s / 1000.0 })
    }

    fn logarithms(&self) -> [f64; QUANTITIES] {
        let Follows { goal, zones, loss_w_k, holds_kj_k } = self;
        [goal.warm_k_w, goal.cool_k_w, goal.time_s, *loss_w_k, *holds_kj_k, zones.warm_to_cool_w_k].map(f64::ln)
    }
}

/// Two equal halves that a watt warms as it does both sides, and that cool in the same time: with the heater's share f of
/// the warm side and rises r for a watt, G = 1/(r₁ + r₂) to the room and (f − G r₁)/(r₁ − r₂) between them. Of a share that
/// cannot be, as it leaves nothing to flow from the warm side, so much more is taken that something does.
fn halves(goal: &Goal, share: f64) -> Result<TwoZone, NetworkFault> {
    let (warm, cool) = (goal.warm_k_w, goal.cool_k_w.min(0.999 * goal.warm_k_w));
    let to_room = 1.0 / (warm + cool);
    let heater_share = share.max(to_room * warm + 0.02).min(1.0);
    let across = ((heater_share - to_room * warm) / (warm - cool)).max(1e-3 * to_room);
    let zones = |joules: f64| TwoZone {
        warm_to_room_w_k: to_room,
        cool_to_room_w_k: to_room,
        warm_to_cool_w_k: across,
        warm_j_k: joules,
        cool_j_k: joules,
        heater_share,
        lag: Seconds(0.0),
    };
    // The time of cooling goes with the heat that is held.
    const TRIED_J_K: f64 = 10_000.0;
    let tried = Goal::of_zones(&zones(TRIED_J_K))?;
    Ok(zones(TRIED_J_K * goal.time_s / tried.time_s))
}

/// How many quantities have a certainty.
const QUANTITIES: usize = 6;

/// Relative standard deviations of what follows from a fit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Certainty {
    /// Rise of the warm side for a watt.
    pub warm: f64,
    /// Rise of the cool side.
    pub cool: f64,
    /// Time of cooling.
    pub time: f64,
    /// Heat that goes to the room.
    pub loss: f64,
    /// Heat that is held.
    pub holds: f64,
    /// What flows from the warm to the cool half.
    pub across: f64,
    /// Lag of the thermometers, where it was fitted.
    pub lag: Option<f64>,
}

impl Certainty {
    /// Of a fit of a network. Residuals that follow each other hold less than as many that do not: deviations are wider by
    /// √((1 + r)/(1 − r)), r being their correlation with the ones before them. The variance of what follows is gᵀ C g, with
    /// the covariance C of the factors and slopes g of logarithms.
    ///
    /// Source: effective number of samples of a first-order autoregression; Box, Jenkins and Reinsel, Time Series Analysis.
    pub fn of(found: &ScaledFit, network: &Network, share: f64) -> Result<Certainty, NetworkFault> {
        let follows = found.autocorrelation.into_iter().fold(0.0, f64::max).min(0.99);
        let wider = ((1.0 + follows) / (1.0 - follows)).sqrt() * (TENTHS_K / found.rms_k).max(1.0);
        let mut slopes = [[0.0; QUANTITIES]; 3];
        for (place, slope) in slopes.iter_mut().enumerate() {
            let at = |by: f64| {
                let mut factors = found.factors;
                if let Some(one) = factors.get_mut(place) {
                    *one *= by.exp();
                }
                let [to_room, between, capacity] = factors;
                Ok(Follows::of(&network.scaled(to_room, SIDES, between, capacity)?, share)?.logarithms())
            };
            let (above, below) = (at(STEP)?, at(-STEP)?);
            for ((one, above), below) in slope.iter_mut().zip(above).zip(below) {
                *one = (above - below) / (2.0 * STEP);
            }
        }
        let sd = |place: usize| found.deviations.get(place).copied().unwrap_or(f64::NAN);
        let mut variances = [0.0; QUANTITIES];
        for (first, slope) in slopes.iter().enumerate() {
            for (second, other) in slopes.iter().enumerate() {
                let correlation = found.correlation(first, second).unwrap_or(f64::NAN);
                let covariance = correlation * sd(first) * sd(second);
                for ((sum, one), two) in variances.iter_mut().zip(slope).zip(other) {
                    *sum += one * two * covariance;
                }
            }
        }
        let [warm, cool, time, loss, holds, across] = variances.map(|variance| wider * variance.max(0.0).sqrt());
        Ok(Certainty { warm, cool, time, loss, holds, across, lag: found.deviations.get(3).map(|sd| wider * sd) })
    }

    /// The same with what other days than those of the log add: that is what may be said to a keeper.
    pub fn on_other_days(self, rms_k: f64) -> Certainty {
        // Both ends of a rule hold 19 of 20 cases.
        let wide = loosened(rms_k) / (2.0 * ENDS_Z);
        let of = |id| lines::whole(id).map_or(f64::NAN, |figure| wide * (figure.high / figure.low).ln());
        let (rise, time) = (of("twin_fit_rise"), of("twin_fit_time"));
        Certainty {
            warm: self.warm.hypot(rise),
            cool: self.cool.hypot(rise),
            time: self.time.hypot(time),
            loss: self.loss.hypot(rise),
            holds: self.holds.hypot(rise).hypot(time),
            across: self.across.hypot(rise),
            ..self
        }
    }

    /// Deviations of the parameters of two halves that are later drawn each by itself, so that rises and time of cooling
    /// then are as uncertain as they are: of both ways to the room, of that between the halves, and of the heat in both.
    pub fn of_halves(&self, zones: &TwoZone) -> Result<[f64; 3], NetworkFault> {
        let changes: [fn(&mut TwoZone, f64); 5] = [
            |zones, factor| zones.warm_to_room_w_k *= factor,
            |zones, factor| zones.cool_to_room_w_k *= factor,
            |zones, factor| zones.warm_to_cool_w_k *= factor,
            |zones, factor| zones.warm_j_k *= factor,
            |zones, factor| zones.cool_j_k *= factor,
        ];
        let mut slopes = [[0.0; 3]; 5];
        for (change, slope) in changes.iter().zip(&mut slopes) {
            let at = |by: f64| {
                let mut zones = *zones;
                change(&mut zones, by.exp());
                let goal = Goal::of_zones(&zones)?;
                Ok([goal.warm_k_w, goal.cool_k_w, goal.time_s].map(f64::ln))
            };
            let (above, below): ([f64; 3], [f64; 3]) = (at(STEP)?, at(-STEP)?);
            *slope = [0, 1, 2].map(|place: usize| {
                let of = |list: &[f64; 3]| list.get(place).copied().unwrap_or(f64::NAN);
                (of(&above) - of(&below)) / (2.0 * STEP)
            });
        }
        let [to_warm, to_cool, across, warm, cool] = slopes;
        let square = |slope: [f64; 3]| slope.map(|one| one * one);
        let sum = |a: [f64; 3], b: [f64; 3]| [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
        let [ways, across, held] =
            [sum(square(to_warm), square(to_cool)), square(across), sum(square(warm), square(cool))];
        // What both ways to the room leave of the rises goes to the flow between the halves.
        let way = (self.loss * self.loss / (ways[0] + ways[1]) * 2.0).max(0.0);
        let left = (self.cool * self.cool - way * ways[1]).max(self.warm * self.warm - way * ways[0]).max(0.0);
        let between = left / across[1].max(across[0]);
        let time = self.time * self.time - way * ways[2] - between * across[2];
        let holds = time.max(0.1 * self.time * self.time) / held[2];
        Ok([way.sqrt(), between.sqrt(), holds.sqrt()])
    }
}
