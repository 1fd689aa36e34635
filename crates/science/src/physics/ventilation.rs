//! Air that goes through openings because it is warm: small for the heat of a closed box, decisive for its moisture.

use super::constants::{AIR_J_M3K, GRAVITY_M_S2};
use units::{Celsius, CelsiusDelta, Metres};

/// Heat carried by an exchange of air, W/K: ρ cp Q, air at 28 °C.
pub fn heat_of_flow_w_k(flow_m3_s: f64) -> f64 {
    AIR_J_M3K * flow_m3_s
}

/// Heat carried by air changes, W/K: 0.327 W/K per m³ and change an hour.
pub fn heat_of_air_changes_w_k(volume_m3: f64, air_changes_per_h: f64) -> f64 {
    heat_of_flow_w_k(volume_m3 * air_changes_per_h / 3600.0)
}

fn buoyancy_m_s2(inside: Celsius, difference: CelsiusDelta) -> f64 {
    GRAVITY_M_S2 * difference.kelvin().abs() / inside.kelvin()
}

/// Flow through two openings one above the other, m³/s: Q = Cd Ae √(2 g Δz ΔT/Ti), 1/Ae² = 1/A₁² + 1/A₂², Cd 0.6.
/// `None` unless both areas are above zero.
///
/// Source: ASHRAE Handbook, Fundamentals (1997), ch. 25, eq. 37, with the effective area of openings in series.
pub fn two_openings_m3_s(
    areas_m2: (f64, f64),
    height_between: Metres,
    inside: Celsius,
    difference: CelsiusDelta,
) -> Option<f64> {
    const DISCHARGE: f64 = 0.6;
    let (a, b) = areas_m2;
    if !(0.0 < a && 0.0 < b) {
        return None;
    }
    let effective = 1.0 / (1.0 / (a * a) + 1.0 / (b * b)).sqrt();
    Some(DISCHARGE * effective * (2.0 * height_between.metres() * buoyancy_m_s2(inside, difference)).sqrt())
}

/// Flow both ways through one upright opening, m³/s: Q = (Cd A/3) √(g h ΔT/Ti), Cd = 0.40 + 0.0045 |ΔT|.
/// `None` unless the area is above zero.
///
/// Source: Brown and Solvason 1962, Int. J. Heat Mass Transfer 5:859; Cd: ASHRAE Handbook, Fundamentals (1997), ch. 25,
/// eq. 38.
pub fn upright_opening_m3_s(area_m2: f64, height: Metres, inside: Celsius, difference: CelsiusDelta) -> Option<f64> {
    let discharge = 0.40 + 0.0045 * difference.kelvin().abs();
    (0.0 < area_m2).then(|| discharge * area_m2 / 3.0 * (height.metres() * buoyancy_m_s2(inside, difference)).sqrt())
}

/// Most that air can exchange through an open lid, m³/s: Q = 0.055 √(g' L⁵), g' = g ΔT/T, L = √A. A woven screen
/// passes 0.2 to 0.7 of it: see [`SCREEN`]. `None` unless the area is above zero.
///
/// Source: Epstein 1988, J. Heat Transfer 110:885.
pub fn open_lid_m3_s(area_m2: f64, inside: Celsius, difference: CelsiusDelta) -> Option<f64> {
    (0.0 < area_m2).then(|| 0.055 * (buoyancy_m_s2(inside, difference) * area_m2.sqrt().powi(5)).sqrt())
}

/// Share of the flow of an open lid that a woven screen passes, until it is fitted: 0.2 to 0.7, an estimate.
pub const SCREEN: f64 = 0.4;

/// Exchange between a warm and a cool half through a doorway of the whole cross-section, m³/s:
/// Q = (Cd W/3) √(g' H³), Cd 0.6. In one box the two halves mix far less than this: see [`MIXING`].
///
/// Source: Brown and Solvason 1962; Linden 1999, Annu. Rev. Fluid Mech. 31:201.
pub fn doorway_m3_s(width: Metres, height: Metres, inside: Celsius, difference: CelsiusDelta) -> f64 {
    const DISCHARGE: f64 = 0.6;
    DISCHARGE * width.metres() / 3.0 * (buoyancy_m_s2(inside, difference) * height.metres().powi(3)).sqrt()
}

/// Share of the doorway flow that the halves of a box exchange: an estimate with a factor of 2.5 either way, to be
/// fitted from logs.
pub const MIXING: f64 = 0.15;
