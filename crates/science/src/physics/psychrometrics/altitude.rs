//! Air pressure where the keeper lives.

use units::{Celsius, Pascals};

/// Standard pressure at an altitude: p = 101325 (1 − 2.25577e-5 z)^5.2559, z in m.
///
/// Source: ASHRAE Handbook, Fundamentals (2017), ch. 1, eq. 3. `None` outside −5000 to 11 000 m.
pub fn standard_pressure(altitude_m: f64) -> Option<Pascals> {
    (-5000.0..=11_000.0)
        .contains(&altitude_m)
        .then(|| Pascals(101_325.0 * (1.0 - 2.255_77e-5 * altitude_m).powf(5.2559)))
}

/// Pressure at an altitude from what a weather service reports for sea level, by a column of air at the temperature
/// half way down: p = p₀ exp(−z/H), H = 287.055 T/9.807 with T = t + 0.0065 z/2 in kelvin.
///
/// Source: Hess 1959, Introduction to Theoretical Meteorology, ch. 6.5; Stull 2000, Meteorology for Scientists and
/// Engineers, ch. 1. `None` outside −5000 to 11 000 m.
pub fn station_pressure(sea_level: Pascals, altitude_m: f64, air: Celsius) -> Option<Pascals> {
    const LAPSE_K_M: f64 = 0.0065;
    const SCALE_M_K: f64 = 287.055 / 9.807;
    if !(-5000.0..=11_000.0).contains(&altitude_m) {
        return None;
    }
    let column_k = air.kelvin() + LAPSE_K_M * altitude_m / 2.0;
    Some(Pascals(sea_level.pascals() * (-altitude_m / (SCALE_M_K * column_k)).exp()))
}
