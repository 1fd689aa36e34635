//! What an enclosure loses to the room per kelvin, part by part: where insulation pays.

use super::{Enclosure, Lid, Sheet};
use crate::physics::ventilation::{heat_of_air_changes_w_k, heat_of_flow_w_k, open_lid_m3_s};
use crate::physics::walls::film;
use units::{Celsius, CelsiusDelta, Watts};

/// Losses per kelvin of the mean inside air over the room, W/K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Losses {
    /// Back and sides.
    pub walls_w_k: f64,
    /// Front.
    pub front_w_k: f64,
    /// A closed lid.
    pub lid_w_k: f64,
    /// Floor.
    pub floor_w_k: f64,
    /// Air that leaves.
    pub air_w_k: f64,
}

impl Losses {
    /// All together, W/K.
    pub fn total_w_k(&self) -> f64 {
        self.walls_w_k + self.front_w_k + self.lid_w_k + self.floor_w_k + self.air_w_k
    }

    /// Power that holds the mean inside air so much above the room.
    pub fn power(&self, rise: CelsiusDelta) -> Watts {
        Watts(self.total_w_k() * rise.kelvin())
    }
}

/// Losses with the films of ISO 6946 on both faces; a mesh lid at a rise inside of `rise` at 300 K. `None` only where
/// the mesh has no area.
pub fn losses(enclosure: &Enclosure, rise: CelsiusDelta) -> Option<Losses> {
    let (walls, front, lid) = enclosure.areas_m2();
    let through =
        |area: f64, sheet: &Sheet, films: f64| area / (films + sheet.resistance_m2k_w() + enclosure.wrap_m2k_w + films);
    let inside = Celsius::from_kelvin(300.0)?;
    let (lid_w_k, air_w_k) = match &enclosure.lid {
        Lid::Solid(sheet) => (
            through(lid, sheet, film::UPWARDS_M2K_W),
            heat_of_air_changes_w_k(enclosure.volume_m3(), enclosure.air_changes_per_h),
        ),
        Lid::Mesh { passes } => (0.0, heat_of_flow_w_k(passes * open_lid_m3_s(lid, inside, rise)?)),
    };
    let substrate = enclosure.substrate.map_or(0.0, |s| s.resistance_m2k_w());
    let floor = film::DOWNWARDS_M2K_W + substrate + enclosure.walls.resistance_m2k_w() + enclosure.shelf_m2k_w;
    Some(Losses {
        walls_w_k: through(walls, &enclosure.walls, film::SIDEWAYS_M2K_W),
        front_w_k: through(front, &enclosure.front, film::SIDEWAYS_M2K_W),
        lid_w_k,
        floor_w_k: lid / floor,
        air_w_k,
    })
}
