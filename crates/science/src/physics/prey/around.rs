//! The medium around prey, which cools where it is little.

use super::bath::WATER_J_KGK;
use super::{Body, Medium};

/// The medium during a stage.
pub(super) struct Around {
    pub(super) degrees: f64,
    /// A bath: its heat J/K, its loss W/K, the room °C, the area of the prey m².
    bath: Option<(f64, f64, f64, f64)>,
}

impl Around {
    pub(super) fn new(medium: Medium, body: &Body, density_kg_m3: f64) -> Around {
        match medium {
            Medium::Constant(t) => Around { degrees: t.degrees(), bath: None },
            Medium::Bath(bath) => {
                let heat = bath.water.kilograms() * WATER_J_KGK;
                let area = bath.prey.kilograms() / density_kg_m3 * body.surface_per_volume_1_m();
                Around { degrees: bath.start.degrees(), bath: Some((heat, bath.loss_w_k, bath.room.degrees(), area)) }
            }
        }
    }

    pub(super) fn longest_step(&self, film: f64) -> f64 {
        self.bath.map_or(f64::INFINITY, |(heat, loss, _, area)| 0.05 * heat / (film * area + loss))
    }

    pub(super) fn advance(&mut self, step: f64, flux_w_m2: f64) {
        if let Some((heat, loss, room, area)) = self.bath {
            self.degrees -= step * (flux_w_m2 * area + loss * (self.degrees - room)) / heat;
        }
    }
}
