//! A model through a day: a room that goes up and down, set points that change with the hour.

use records::facts::Spot;
use science::physics::network::{NetworkFault, Node, Walk};
use units::{Seconds, Watts};

use super::{Drive, Model, Place, SPOTS, State, degrees, powers_that_hold};

/// The length of a step, s: short beside the hours in which the box follows its room.
const STEP_S: f64 = 900.0;
/// Steps of an hour.
const STEPS: usize = 4;

/// On the way through a day.
struct Way<'a> {
    model: &'a Model,
    near: &'a State,
    walk: Walk<'a>,
    room_c: f64,
    /// By how much the warmed part of the floor stands over the warm floor, K, and what is left of that after a step.
    excess_k: f64,
    keeps: f64,
}

impl Model {
    /// The spots at every full hour of a day, 0 to 24, in the order of [`SPOTS`], °C; the day before was the same. The
    /// conductances are those of `near`. Thermostats are taken to give in each quarter of an hour what brings their
    /// place to its set point, if they can.
    pub fn day<'d>(
        &self,
        near: &State,
        drives: impl Fn(f64) -> &'d [Drive],
        room_c: impl Fn(f64) -> f64,
    ) -> Result<Vec<[f64; 4]>, NetworkFault> {
        let walk = near.network.walk(&near.temperatures, Seconds(STEP_S))?;
        let keeps = (-STEP_S / self.local_lag_s(near)).exp();
        let mut way = Way { model: self, near, walk, room_c: room_c(0.0), excess_k: near.excess_k(), keeps };
        let mut hours = Vec::new();
        for number in 0..=48 * STEPS {
            let hour = (number as f64 / STEPS as f64).rem_euclid(24.0);
            if 24 * STEPS <= number && number % STEPS == 0 {
                hours.push(way.spots()?);
            }
            way.room_c = room_c(hour);
            way.walk.set_out(degrees(way.room_c)?)?;
            let powers = powers_that_hold(&self.units, drives(hour), |place, powers| way.at_end_c(place, powers))?;
            way.walk.go(&powers);
            way.excess_k = way.excess_after_k(&powers);
        }
        Ok(hours)
    }
}

impl Way<'_> {
    fn spots(&self) -> Result<[f64; 4], NetworkFault> {
        let mut spots = [f64::NAN; 4];
        for (into, spot) in spots.iter_mut().zip(SPOTS) {
            *into = self.walk.now_c(self.near.network.place(node_of(spot))?);
        }
        spots[0] += self.excess_k;
        Ok(spots)
    }

    fn excess_after_k(&self, powers: &[f64]) -> f64 {
        let watts: Vec<Watts> = powers.iter().map(|power| Watts(*power)).collect();
        let goal = self.near.excess_of(&watts);
        goal + (self.excess_k - goal) * self.keeps
    }

    /// What a place comes to at the end of the step with these powers, °C.
    fn at_end_c(&self, place: Place, powers: &[f64]) -> Result<f64, NetworkFault> {
        let node = |spot| Ok(self.walk.at_end_c(self.near.network.place(node_of(spot))?, powers));
        match place {
            Place::Room | Place::At(Spot::Room | Spot::Outdoors) => Ok(self.room_c),
            Place::At(spot @ (Spot::WarmSurface | Spot::Hide)) => Ok(node(spot)? + self.excess_after_k(powers)),
            Place::At(spot) => node(spot),
            Place::Mat => {
                let mat: f64 = self.model.units.iter().zip(powers).map(|(unit, power)| unit.mat_k_w * power).sum();
                Ok(node(Spot::WarmSurface)? + self.excess_after_k(powers) + mat)
            }
        }
    }
}

fn node_of(spot: Spot) -> Node {
    match spot {
        Spot::WarmAir | Spot::ControlProbe => Node::AirWarm,
        Spot::CoolAir => Node::AirCool,
        Spot::CoolSurface | Spot::HumidHide => Node::FloorCool,
        Spot::Water => Node::Bowl,
        Spot::WarmSurface | Spot::Hide | Spot::Room | Spot::Outdoors => Node::FloorWarm,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::twin::Guesses;
    use crate::twin::held::held;
    use crate::twin::testing::described;

    fn panel(set: &[(&str, &str)]) -> (Model, Vec<Drive>, Vec<Drive>) {
        let heat = [("heater", "panel"), ("thermostat", "dimming"), ("probe", "warm-surface"), ("material", "PVC")];
        let described = described(&[&heat[..], set].concat());
        let model = Model::new(&described, &Guesses::of(&described).middle()).unwrap();
        let (day, night) = (held(&described, &model, false), held(&described, &model, true));
        (model, day, night)
    }

    #[test]
    fn in_a_steady_room_a_day_stays_where_it_settles() {
        let (model, day, _) = panel(&[("set_c", "31"), ("watts", "80")]);
        let state = model.settled(&day, 20.0).unwrap();
        let hours = model.day(&state, |_| &day, |_| 20.0).unwrap();
        assert_eq!(hours.len(), 25);
        for hour in hours {
            for (value, spot) in hour.into_iter().zip(SPOTS) {
                assert!((value - state.spot(spot)).abs() < 0.1, "{value} {}", state.spot(spot));
            }
        }
    }

    #[test]
    fn a_setback_lets_the_warm_side_fall_and_the_room_lets_the_cool_side() {
        let (model, day, night) = panel(&[("set_c", "31"), ("night_set_c", "27"), ("watts", "80")]);
        let state = model.settled(&day, 20.0).unwrap();
        let is_day = |hour: f64| (7.0..21.0).contains(&hour);
        let hours = model.day(
            &state,
            |hour| if is_day(hour) { &day } else { &night },
            |hour| if is_day(hour) { 21.0 } else { 17.0 },
        );
        let hours = hours.unwrap();
        assert!((hours[14][0] - 31.0).abs() < 0.2 && (hours[5][0] - 27.0).abs() < 0.7, "{hours:?}");
        assert!(hours[5][2] + 1.0 < hours[14][2]);
    }

    #[test]
    fn a_heater_without_the_power_gives_what_it_has() {
        let (model, day, _) = panel(&[("set_c", "31"), ("watts", "5")]);
        let state = model.settled(&day, 15.0).unwrap();
        let hours = model.day(&state, |_| &day, |_| 15.0).unwrap();
        assert!(hours.iter().all(|hour| hour[0] < 25.0));
    }
}
