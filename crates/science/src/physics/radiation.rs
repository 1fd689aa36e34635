//! Long-wave radiation between surfaces: as much heat as convection carries, or more.

use super::constants::STEFAN_BOLTZMANN_W_M2K4;
use std::f64::consts::PI;
use units::{Celsius, Metres};

/// Share of black-body radiation that a surface gives and takes, above 0 and at most 1.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Emissivity(f64);

impl Emissivity {
    /// A black body.
    pub const BLACK: Emissivity = Emissivity(1.0);
    /// Most surfaces of a dwelling; what most infrared thermometers are set to.
    pub const USUAL: Emissivity = Emissivity(0.95);

    /// `None` unless above 0 and at most 1.
    pub fn new(value: f64) -> Option<Emissivity> {
        (0.0 < value && value <= 1.0).then_some(Emissivity(value))
    }

    /// The value.
    pub fn value(self) -> f64 {
        self.0
    }
}

/// Heat flux from a small body to surroundings far larger than it, W/m²: ε σ (T₁⁴ − T₂⁴).
pub fn to_surroundings_w_m2(emissivity: Emissivity, body: Celsius, surroundings: Celsius) -> f64 {
    emissivity.value() * STEFAN_BOLTZMANN_W_M2K4 * (body.kelvin().powi(4) - surroundings.kelvin().powi(4))
}

/// Heat flux between two wide plates that face each other, W/m²: σ (T₁⁴ − T₂⁴)/(1/ε₁ + 1/ε₂ − 1).
pub fn between_plates_w_m2(first: (Celsius, Emissivity), second: (Celsius, Emissivity)) -> f64 {
    between_plates_coefficient_w_m2k(first, second) * (first.0 - second.0).kelvin()
}

/// The same as a coefficient on the difference, W/(m²·K): σ (T₁ + T₂)(T₁² + T₂²)/(1/ε₁ + 1/ε₂ − 1).
pub fn between_plates_coefficient_w_m2k(first: (Celsius, Emissivity), second: (Celsius, Emissivity)) -> f64 {
    chord_w_m2k(first.0, second.0) / (1.0 / first.1.value() + 1.0 / second.1.value() - 1.0)
}

/// Radiation of a small body as a coefficient on the difference, W/(m²·K), exact: ε σ (T₁ + T₂)(T₁² + T₂²).
pub fn coefficient_w_m2k(emissivity: Emissivity, body: Celsius, surroundings: Celsius) -> f64 {
    emissivity.value() * chord_w_m2k(body, surroundings)
}

/// The same at one mean temperature, W/(m²·K): hr = 4 ε σ Tm³; 5.7 at 25 °C and ε 0.95.
pub fn linear_coefficient_w_m2k(emissivity: Emissivity, mean: Celsius) -> f64 {
    4.0 * emissivity.value() * STEFAN_BOLTZMANN_W_M2K4 * mean.kelvin().powi(3)
}

fn chord_w_m2k(first: Celsius, second: Celsius) -> f64 {
    let (a, b) = (first.kelvin(), second.kelvin());
    STEFAN_BOLTZMANN_W_M2K4 * (a + b) * (a * a + b * b)
}

/// View factor from a disk to a coaxial, parallel disk at a distance.
///
/// F = ½ [X − √(X² − 4 (r₂/r₁)²)], X = 1 + (1 + R₂²)/R₁², Rᵢ = rᵢ/h.
///
/// Source: Howell, A Catalog of Radiation Heat Transfer Configuration Factors, C-41.
pub fn view_disk_to_disk(from_radius: Metres, to_radius: Metres, distance: Metres) -> f64 {
    let h = distance.metres();
    let (r1, r2) = (from_radius.metres() / h, to_radius.metres() / h);
    let x = 1.0 + (1.0 + r2 * r2) / (r1 * r1);
    let ratio = (r2 / r1).powi(2);
    // The form without cancellation: both roots of the quadratic multiply to the ratio squared.
    2.0 * ratio / (x + (x * x - 4.0 * ratio).sqrt())
}

/// View factor between two equal rectangles a × b that face each other at a distance.
///
/// Source: Howell, C-11.
pub fn view_facing_rectangles(a: Metres, b: Metres, distance: Metres) -> f64 {
    let (x, y) = (a.metres() / distance.metres(), b.metres() / distance.metres());
    let (x2, y2) = (1.0 + x * x, 1.0 + y * y);
    let sum = 0.5 * (x2 * y2 / (x2 + y * y)).ln()
        + x * y2.sqrt() * (x / y2.sqrt()).atan()
        + y * x2.sqrt() * (y / x2.sqrt()).atan()
        - x * x.atan()
        - y * y.atan();
    2.0 * sum / (PI * x * y)
}

/// View factor from a floor to a wall that stands on one of its edges; `floor` is the depth of the floor, `wall` the
/// height of the wall, `edge` their common length.
///
/// Source: Howell, C-14.
pub fn view_floor_to_wall(floor: Metres, wall: Metres, edge: Metres) -> f64 {
    let (w, h) = (floor.metres() / edge.metres(), wall.metres() / edge.metres());
    let (w2, h2) = (w * w, h * h);
    let both = w2 + h2;
    let angles = w * (1.0 / w).atan() + h * (1.0 / h).atan() - both.sqrt() * (1.0 / both.sqrt()).atan();
    let logs = ((1.0 + w2) * (1.0 + h2) / (1.0 + both)).ln()
        + w2 * (w2 * (1.0 + both) / ((1.0 + w2) * both)).ln()
        + h2 * (h2 * (1.0 + both) / ((1.0 + h2) * both)).ln();
    (angles + 0.25 * logs) / (PI * w)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn m(metres: f64) -> Metres {
        Metres::new(metres).unwrap()
    }

    proptest! {
        #[test]
        fn what_leaves_one_face_of_a_box_reaches_the_other_five(l in 0.1f64..3.0, w in 0.1f64..3.0, h in 0.1f64..3.0) {
            let sum = view_facing_rectangles(m(l), m(w), m(h))
                + 2.0 * view_floor_to_wall(m(w), m(h), m(l))
                + 2.0 * view_floor_to_wall(m(l), m(h), m(w));
            prop_assert!((sum - 1.0).abs() < 1e-9, "{}", sum);
        }

        #[test]
        fn two_disks_exchange_the_same_in_both_directions(a in 0.01f64..1.0, b in 0.01f64..1.0, h in 0.01f64..2.0) {
            let there = a * a * view_disk_to_disk(m(a), m(b), m(h));
            let back = b * b * view_disk_to_disk(m(b), m(a), m(h));
            prop_assert!((there - back).abs() < 1e-9 * there);
        }
    }

    #[test]
    fn nothing_is_blacker_than_black() {
        for (value, possible) in [(0.0, false), (0.05, true), (1.0, true), (1.01, false), (f64::NAN, false)] {
            assert_eq!(Emissivity::new(value).is_some(), possible, "{value}");
        }
    }
}
