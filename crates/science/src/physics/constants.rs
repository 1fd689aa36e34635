//! Constants of nature and of air.

/// Stefan–Boltzmann constant, W/(m²·K⁴). CODATA 2018, exact since the revision of the units of 2019.
pub const STEFAN_BOLTZMANN_W_M2K4: f64 = 5.670_374_419e-8;
/// Standard acceleration of free fall, m/s². Exact by the 3rd General Conference on Weights and Measures, 1901.
pub const GRAVITY_M_S2: f64 = 9.806_65;
/// Gas constant of dry air, J/(kg·K). ASHRAE Handbook, Fundamentals (2017), ch. 1, eq. 1.
pub const DRY_AIR_J_KGK: f64 = 287.042;
/// Gas constant of water vapour, J/(kg·K). ASHRAE Handbook, Fundamentals, ch. 1: 8314.46/18.015.
pub const WATER_VAPOUR_J_KGK: f64 = 461.52;
/// Ratio of the molar masses of water and dry air. ASHRAE Handbook, Fundamentals (2017), ch. 1, eq. 20.
pub const WATER_TO_AIR: f64 = 0.621_945;
/// Specific heat of liquid water near room temperature, J/(kg·K).
pub const WATER_J_KGK: f64 = 4180.0;
/// Heat that a cubic metre of room air takes per kelvin, J/(m³·K): 1.17 kg/m³ × 1006 J/(kg·K), air at 28 °C.
pub const AIR_J_M3K: f64 = 1.17 * 1006.0;

/// Heat to evaporate water at `t`, J/kg: (2501 − 2.361 t)·10³, t in °C, 0 to 50 °C.
///
/// Source: ASHRAE Handbook, HVAC Applications, natatoriums: the Y of its evaporation equation.
pub fn heat_of_vaporisation_j_kg(t: units::Celsius) -> f64 {
    (2501.0 - 2.361 * t.degrees()) * 1000.0
}
