//! What heaters do with their watts.

use super::Enclosure;
use crate::physics::radiation::{Emissivity, to_surroundings_w_m2};
use crate::physics::walls::share_upwards;
use units::{Celsius, Seconds, Watts};

/// A kind of heater.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HeaterKind {
    /// A mat under the floor: what goes up follows the resistances above and below.
    MatBelow,
    /// A mat or cable inside the floor.
    InFloor,
    /// A ceramic emitter.
    Ceramic,
    /// A radiant panel under the lid.
    Panel,
    /// A halogen or incandescent lamp.
    Lamp,
    /// Shares known otherwise.
    Other(Split),
    /// Shares known otherwise, with the body of a ceramic emitter or a panel: its lag, and by how many K it gets warmer
    /// than its surroundings at full power.
    WithBody(Split, Seconds, f64),
}

/// Shares of a heater's power. What is left of 1 goes to the room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Split {
    /// To the warm floor.
    pub floor: f64,
    /// To walls and lid.
    pub shell: f64,
    /// To the warm air.
    pub air: f64,
}

/// A heater.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heater {
    /// Its kind.
    pub kind: HeaterKind,
    /// Its power when on.
    pub rated: Watts,
}

impl Heater {
    /// Where its watts go.
    ///
    /// Source: shares of radiation computed from surface temperatures (emitter 0.56 to 0.71, panel 0.68), the rest
    /// estimates; lamps after the IES Lighting Handbook (10 % visible, 72 % infrared, 18 % conduction and convection).
    pub fn split(&self, enclosure: &Enclosure) -> Split {
        match self.kind {
            HeaterKind::MatBelow => {
                // Up: floor, substrate and the film of a warm floor, radiation included; down: the shelf.
                const FLOOR_FILM_M2K_W: f64 = 1.0 / 9.0;
                let substrate = enclosure.substrate.map_or(0.0, |s| s.resistance_m2k_w());
                let up = enclosure.walls.resistance_m2k_w() + substrate + FLOOR_FILM_M2K_W;
                Split { floor: share_upwards(up, enclosure.shelf_m2k_w).unwrap_or(0.5), shell: 0.0, air: 0.0 }
            }
            HeaterKind::InFloor => Split { floor: 0.9, shell: 0.0, air: 0.0 },
            HeaterKind::Ceramic => Split { floor: 0.36, shell: 0.24, air: 0.40 },
            HeaterKind::Panel => Split { floor: 0.4875, shell: 0.1625, air: 0.20 },
            HeaterKind::Lamp => Split { floor: 0.68, shell: 0.12, air: 0.20 },
            HeaterKind::Other(split) | HeaterKind::WithBody(split, ..) => split,
        }
    }

    /// Lag of its body, and by how much that gets warmer than its surroundings at full power, K. `None` where it follows
    /// at once.
    pub fn body(&self) -> Option<(Seconds, f64)> {
        match self.kind {
            HeaterKind::Ceramic => Some((Seconds(450.0), 225.0)),
            HeaterKind::Panel => Some((Seconds(300.0), 55.0)),
            HeaterKind::WithBody(_, lag, rise_k) => Some((lag, rise_k)),
            HeaterKind::MatBelow | HeaterKind::InFloor | HeaterKind::Lamp | HeaterKind::Other(_) => None,
        }
    }
}

/// Share of the heat of a hot face that leaves it as radiation: ε σ (Ts⁴ − Tw⁴)/(that + h (Ts − Ta)). `None` where the
/// face is not hotter than air and surroundings.
///
/// Source: the two laws; see [`crate::physics::convection`] and [`crate::physics::radiation`].
pub fn radiant_share(
    emissivity: Emissivity,
    face: Celsius,
    surroundings: Celsius,
    air: Celsius,
    convection_w_m2k: f64,
) -> Option<f64> {
    let radiation = to_surroundings_w_m2(emissivity, face, surroundings);
    let convection = convection_w_m2k * (face - air).kelvin();
    (0.0 < radiation && 0.0 < convection).then(|| radiation / (radiation + convection))
}
