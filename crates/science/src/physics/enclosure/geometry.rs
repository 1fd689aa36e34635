//! What an enclosure is made of.

use crate::physics::constants::{AIR_J_M3K, WATER_J_KGK};
use crate::physics::materials::Material;
use crate::physics::walls::{Layer, film, shelf};
use units::{Grams, Metres, Watts};

/// A sheet of a material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Of what.
    pub material: Material,
    /// How thick.
    pub thickness: Metres,
}

impl Sheet {
    /// d/λ, m²·K/W.
    pub fn resistance_m2k_w(&self) -> f64 {
        Layer::of(self.material, self.thickness).resistance_m2k_w()
    }

    /// ρ c d, J/(m²·K).
    pub fn heat_j_m2k(&self) -> f64 {
        self.material.properties().heat_of_sheet_j_m2k(self.thickness)
    }
}

/// The top of an enclosure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lid {
    /// A closed one.
    Solid(Sheet),
    /// Mesh: heat and moisture leave with the air, as a share of what an open lid would let through.
    Mesh {
        /// 0.2 to 0.7, see [`crate::physics::ventilation::SCREEN`]; times the share of the lid that is not covered.
        passes: f64,
    },
}

/// A water bowl.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bowl {
    /// Across the water.
    pub diameter: Metres,
    /// Mass of the water.
    pub water: Grams,
    /// Heat that evaporation takes from it.
    pub latent: Watts,
}

impl Bowl {
    /// The water surface, m².
    pub fn area_m2(&self) -> f64 {
        std::f64::consts::PI * self.diameter.metres().powi(2) / 4.0
    }
}

/// An enclosure: a box that stands on a shelf in a room, one half warm, one half cool.
#[derive(Clone, Debug, PartialEq)]
pub struct Enclosure {
    /// From the warm to the cool side.
    pub length: Metres,
    /// From back to front.
    pub width: Metres,
    /// Inside.
    pub height: Metres,
    /// Back, sides and floor.
    pub walls: Sheet,
    /// The front.
    pub front: Sheet,
    /// The top.
    pub lid: Lid,
    /// Insulation added outside of walls, front and lid, m²·K/W; 0 for none.
    pub wrap_m2k_w: f64,
    /// What lies on the floor.
    pub substrate: Option<Sheet>,
    /// What it stands on, m²·K/W, see [`shelf`].
    pub shelf_m2k_w: f64,
    /// Air changes an hour by vents and gaps, without a mesh lid: 0.5 to 3.
    pub air_changes_per_h: f64,
    /// The water bowl, on the cool side.
    pub bowl: Option<Bowl>,
    /// Heat that stones and hides take, J/K, half on each floor.
    pub decor_j_k: f64,
    /// Conductance from floor to floor, W/K: 0.15 by default, an estimate.
    pub floor_to_floor_w_k: f64,
}

impl Enclosure {
    /// A box of one material with nothing in it, on a shelf not known.
    pub fn plain(length: Metres, width: Metres, height: Metres, walls: Sheet) -> Enclosure {
        Enclosure {
            length,
            width,
            height,
            walls,
            front: walls,
            lid: Lid::Solid(walls),
            wrap_m2k_w: 0.0,
            substrate: None,
            shelf_m2k_w: shelf::UNKNOWN_M2K_W,
            air_changes_per_h: 1.0,
            bowl: None,
            decor_j_k: 0.0,
            floor_to_floor_w_k: 0.15,
        }
    }

    /// Volume of the air, m³.
    pub fn volume_m3(&self) -> f64 {
        self.length.metres() * self.width.metres() * self.height.metres()
    }

    /// Floor of one half, m².
    pub fn half_floor_m2(&self) -> f64 {
        self.length.metres() * self.width.metres() / 2.0
    }

    /// Inner face of walls, front and lid, m²: 2 (L H + W H) + L W.
    pub fn shell_m2(&self) -> f64 {
        let (l, w, h) = (self.length.metres(), self.width.metres(), self.height.metres());
        2.0 * (l * h + w * h) + l * w
    }

    /// Areas of back and sides, front, and lid, m².
    pub(super) fn areas_m2(&self) -> (f64, f64, f64) {
        let (l, w, h) = (self.length.metres(), self.width.metres(), self.height.metres());
        (l * h + 2.0 * w * h, l * h, l * w)
    }

    /// From the shell to the room, W/K: Σ A/(d/λ + wrap + film). A mesh lid has none.
    pub(super) fn shell_to_room_w_k(&self) -> f64 {
        let (walls, front, lid) = self.areas_m2();
        let through =
            |area: f64, sheet: &Sheet| area / (sheet.resistance_m2k_w() + self.wrap_m2k_w + film::SIDEWAYS_M2K_W);
        let lid = match &self.lid {
            Lid::Solid(sheet) => through(lid, sheet),
            Lid::Mesh { .. } => 0.0,
        };
        through(walls, &self.walls) + through(front, &self.front) + lid
    }

    /// From half a floor to the room, W/K: A/(substrate + floor + shelf).
    pub(super) fn floor_to_room_w_k(&self) -> f64 {
        let substrate = self.substrate.map_or(0.0, |s| s.resistance_m2k_w());
        self.half_floor_m2() / (substrate + self.walls.resistance_m2k_w() + self.shelf_m2k_w)
    }

    /// Heat capacities, J/K: air of one half, floor of one half, shell. Walls count half, for room air stands on their
    /// other side.
    pub(super) fn capacities_j_k(&self) -> (f64, f64, f64) {
        let (walls, front, lid) = self.areas_m2();
        let air = AIR_J_M3K * self.volume_m3() / 2.0;
        let floor = self.half_floor_m2()
            * (self.walls.heat_j_m2k() / 2.0 + self.substrate.map_or(0.0, |s| s.heat_j_m2k()))
            + self.decor_j_k / 2.0;
        let lid = match &self.lid {
            Lid::Solid(sheet) => lid * sheet.heat_j_m2k(),
            Lid::Mesh { .. } => 0.0,
        };
        let shell = (walls * self.walls.heat_j_m2k() + front * self.front.heat_j_m2k() + lid) / 2.0;
        (air, floor, shell)
    }

    pub(super) fn bowl_j_k(bowl: &Bowl) -> f64 {
        bowl.water.kilograms() * WATER_J_KGK
    }
}
