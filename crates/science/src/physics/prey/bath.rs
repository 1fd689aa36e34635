//! How far a bath of little water can warm prey.

use super::{Food, PhaseChange};
use crate::physics::roots::zero_between;
use units::{Celsius, Grams};

/// Heat of bath water, J/(kg·K).
pub const WATER_J_KGK: f64 = 4180.0;

/// Temperature that prey and water come to together, without loss to the room. `None` unless the water is warmer.
pub fn common_end(food: &Food, prey: Grams, from: Celsius, water: Grams, water_from: Celsius) -> Option<Celsius> {
    if water_from <= from {
        return None;
    }
    let capacity = water.kilograms() * WATER_J_KGK / 1000.0;
    let balance = |t: f64| {
        prey.kilograms() * (food.enthalpy_kj_kg(t) - food.enthalpy_kj_kg(from.degrees()))
            - capacity * (water_from.degrees() - t)
    };
    Celsius::new(zero_between(balance, from.degrees(), water_from.degrees())?)
}

/// Heat to bring prey to a temperature, kJ.
pub fn heat_needed_kj(food: &Food, prey: Grams, from: Celsius, to: Celsius) -> f64 {
    prey.kilograms() * food.heat_between_kj_kg(from, to)
}

/// Water that gives this heat while it cools to `water_to`. `None` unless it cools and the prey is warmed.
pub fn water_needed(
    food: &Food,
    prey: Grams,
    from: Celsius,
    to: Celsius,
    water_from: Celsius,
    water_to: Celsius,
) -> Option<Grams> {
    let fall = (water_from - water_to).kelvin();
    let heat = heat_needed_kj(food, prey, from, to);
    (0.0 < fall).then(|| Grams::new(heat * 1e6 / (WATER_J_KGK * fall)))?
}
