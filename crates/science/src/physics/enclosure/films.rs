//! How well air and radiation carry heat inside, at given temperatures.

use super::{Enclosure, Lid};
use crate::physics::convection::{Facing, room_air};
use crate::physics::radiation::{Emissivity, linear_coefficient_w_m2k};
use crate::physics::ventilation::{MIXING, doorway_m3_s, heat_of_air_changes_w_k, heat_of_flow_w_k, open_lid_m3_s};
use units::{Celsius, CelsiusDelta, Metres};

/// Temperatures inside at which films are evaluated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spots {
    /// Air of the warm side.
    pub air_warm: Celsius,
    /// Air of the cool side.
    pub air_cool: Celsius,
    /// Floor of the warm side.
    pub floor_warm: Celsius,
    /// Floor of the cool side.
    pub floor_cool: Celsius,
    /// Walls and lid.
    pub shell: Celsius,
    /// The room.
    pub room: Celsius,
}

/// Film coefficients, W/(m²·K), and exchanges of air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Films {
    /// Warm air to shell.
    pub air_warm_w_m2k: f64,
    /// Cool air to shell.
    pub air_cool_w_m2k: f64,
    /// Warm floor to its air.
    pub floor_warm_w_m2k: f64,
    /// Cool floor to its air.
    pub floor_cool_w_m2k: f64,
    /// Radiation from the warm floor.
    pub radiation_warm_w_m2k: f64,
    /// Radiation from the cool floor.
    pub radiation_cool_w_m2k: f64,
    /// Between the air of both sides, W/K.
    pub mixing_w_k: f64,
    /// With the air that leaves, W/K.
    pub ventilation_w_k: f64,
}

/// What a mesh lid is taken at before temperatures are known.
const USUAL_RISE_K: f64 = 6.0;
/// What the warm and cool air are taken to differ by before temperatures are known.
const USUAL_GRADIENT_K: f64 = 3.0;
/// The temperature inside at which flows are evaluated, 300 K.
const USUAL_INSIDE_C: f64 = 26.85;

impl Films {
    /// Before temperatures are known: 2.5 W/(m²·K) at the shell, 3.0 and 1.2 at the warm and the cool floor, 5.5 by
    /// radiation; warm and cool air 3 K apart. Correlations for open plates in a closed box: ±30 %.
    pub fn usual(enclosure: &Enclosure) -> Option<Films> {
        let inside = Celsius::new(USUAL_INSIDE_C)?;
        Some(Films {
            air_warm_w_m2k: 2.5,
            air_cool_w_m2k: 2.5,
            floor_warm_w_m2k: 3.0,
            floor_cool_w_m2k: 1.2,
            radiation_warm_w_m2k: 5.5,
            radiation_cool_w_m2k: 5.5,
            mixing_w_k: mixing_w_k(enclosure, inside, USUAL_GRADIENT_K),
            ventilation_w_k: ventilation_w_k(enclosure, inside, USUAL_RISE_K)?,
        })
    }

    /// At temperatures: walls and floors by [`room_air`], lengths the height and half the width; radiation at the mean
    /// of both surfaces, ε 0.95; mixing and a mesh lid by the difference of the air.
    pub fn at(enclosure: &Enclosure, spots: &Spots) -> Option<Films> {
        let height = enclosure.height;
        let half_width = Metres::new(enclosure.width.metres() / 2.0)?;
        let wall = |air: Celsius| room_air::wall_w_m2k(air - spots.shell, height);
        let floor = |floor: Celsius, air: Celsius| {
            let facing = if air < floor { Facing::HotUp } else { Facing::HotDown };
            room_air::plate_w_m2k(floor - air, half_width, facing)
        };
        let radiation = |floor: Celsius| {
            let mean = Celsius::new(0.5 * (floor.degrees() + spots.shell.degrees()))?;
            Some(linear_coefficient_w_m2k(Emissivity::USUAL, mean))
        };
        let inside = Celsius::new(USUAL_INSIDE_C)?;
        let mean_air = 0.5 * (spots.air_warm.degrees() + spots.air_cool.degrees());
        Some(Films {
            air_warm_w_m2k: wall(spots.air_warm),
            air_cool_w_m2k: wall(spots.air_cool),
            floor_warm_w_m2k: floor(spots.floor_warm, spots.air_warm),
            floor_cool_w_m2k: floor(spots.floor_cool, spots.air_cool),
            radiation_warm_w_m2k: radiation(spots.floor_warm)?,
            radiation_cool_w_m2k: radiation(spots.floor_cool)?,
            mixing_w_k: mixing_w_k(enclosure, inside, (spots.air_warm - spots.air_cool).kelvin()),
            ventilation_w_k: ventilation_w_k(enclosure, inside, mean_air - spots.room.degrees())?,
        })
    }
}

fn least(difference_k: f64) -> CelsiusDelta {
    CelsiusDelta(difference_k.abs().max(room_air::LEAST_DIFFERENCE_K))
}

fn mixing_w_k(enclosure: &Enclosure, inside: Celsius, difference_k: f64) -> f64 {
    MIXING * heat_of_flow_w_k(doorway_m3_s(enclosure.width, enclosure.height, inside, least(difference_k)))
}

fn ventilation_w_k(enclosure: &Enclosure, inside: Celsius, difference_k: f64) -> Option<f64> {
    match enclosure.lid {
        Lid::Solid(_) => Some(heat_of_air_changes_w_k(enclosure.volume_m3(), enclosure.air_changes_per_h)),
        Lid::Mesh { passes } => {
            let open =
                open_lid_m3_s(enclosure.length.metres() * enclosure.width.metres(), inside, least(difference_k))?;
            Some(heat_of_flow_w_k(passes * open))
        }
    }
}
