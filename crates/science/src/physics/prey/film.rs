//! Film coefficients around prey.

use crate::physics::convection::{horizontal_cylinder, rayleigh, sphere};
use crate::physics::fluids::{Fluid, air, water};
use crate::physics::radiation::{Emissivity, linear_coefficient_w_m2k};
use units::{Celsius, Metres};

/// Still air of a refrigerator, convection and radiation, W/(m²·K): 8 to 10; with a fan 12 to 20.
pub const REFRIGERATOR_W_M2K: f64 = 8.0;
/// Still room air, on a rack, W/(m²·K): 10 to 12.
pub const ROOM_AIR_W_M2K: f64 = 11.0;
/// In a bag, air squeezed out, in water, W/(m²·K): 45 to 150.
pub const BAG_IN_WATER_W_M2K: f64 = 90.0;
/// In a bag in cool water, W/(m²·K).
pub const BAG_IN_COOL_WATER_W_M2K: f64 = 60.0;
/// Bare in water, W/(m²·K): in practice 100 to 300.
pub const BARE_IN_WATER_W_M2K: f64 = 250.0;
/// Conductivity of still air in a bag, W/(m·K).
const BAGGED_AIR_W_MK: f64 = 0.026;
/// Conductivity of polyethylene, W/(m·K). Source: ISO 10456.
const POLYETHYLENE_W_MK: f64 = 0.33;

/// A still film by convection alone, W/(m²·K), as a long horizontal cylinder and as a sphere.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StillFilm {
    /// As a cylinder.
    pub cylinder_w_m2k: f64,
    /// As a sphere.
    pub sphere_w_m2k: f64,
}

fn still(fluid: &Fluid, diameter: Metres, difference: units::CelsiusDelta) -> StillFilm {
    let ra = rayleigh(fluid, difference, diameter);
    StillFilm {
        cylinder_w_m2k: horizontal_cylinder(ra, fluid.prandtl).coefficient_w_m2k(fluid, diameter),
        sphere_w_m2k: sphere(ra, fluid.prandtl).coefficient_w_m2k(fluid, diameter),
    }
}

fn mean(a: Celsius, b: Celsius) -> Option<Celsius> {
    Celsius::new(0.5 * (a.degrees() + b.degrees()))
}

/// In still air. `None` outside the air table.
pub fn in_air(diameter: Metres, around: Celsius, surface: Celsius) -> Option<StillFilm> {
    Some(still(&air(mean(around, surface)?)?, diameter, around - surface))
}

/// In still water. `None` outside the water table.
pub fn in_water(diameter: Metres, around: Celsius, surface: Celsius) -> Option<StillFilm> {
    Some(still(&water(mean(around, surface)?)?, diameter, around - surface))
}

/// Radiation at ε 0.95, W/(m²·K). `None` only for values that are no temperature.
pub fn radiation_w_m2k(around: Celsius, surface: Celsius) -> Option<f64> {
    Some(linear_coefficient_w_m2k(Emissivity::USUAL, mean(around, surface)?))
}

/// Through a bag: 1/h = 1/h_water + d_bag/k + d_air/0.026. A millimetre of trapped air outweighs all else. `None` unless
/// the film is above zero and the thicknesses are not negative.
pub fn in_bag_w_m2k(water_film_w_m2k: f64, bag_m: f64, trapped_air_m: f64) -> Option<f64> {
    let sound = 0.0 < water_film_w_m2k && 0.0 <= bag_m && 0.0 <= trapped_air_m;
    sound.then(|| 1.0 / (1.0 / water_film_w_m2k + bag_m / POLYETHYLENE_W_MK + trapped_air_m / BAGGED_AIR_W_MK))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_millimetre_of_air_is_what_slows_a_bag() {
        let tight = in_bag_w_m2k(300.0, 1e-4, 0.0).unwrap();
        let loose = in_bag_w_m2k(300.0, 1e-4, 1e-3).unwrap();
        assert!(250.0 < tight && loose < 25.0, "{tight} and {loose}");
        assert!(in_bag_w_m2k(0.0, 1e-4, 0.0).is_none());
    }
}
