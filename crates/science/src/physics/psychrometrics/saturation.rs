//! Vapour pressure of saturated air.

use crate::physics::constants::WATER_VAPOUR_J_KGK;
use units::{Celsius, Pascals, RelativeHumidity};

/// The triple point: below it the vapour stands over ice. The two equations meet here, not at 0 °C, so an inverse
/// converges only if the branch changes here.
const TRIPLE_POINT_K: f64 = 273.16;

/// Vapour pressure of saturated air, over ice below 0.01 °C and over liquid water above.
///
/// Ice:   ln p = C1/T + C2 + C3·T + C4·T² + C5·T³ + C6·T⁴ + C7·ln T
/// Water: ln p = C8/T + C9 + C10·T + C11·T² + C12·T³ + C13·ln T     (T in kelvin, p in pascal)
///
/// Source: ASHRAE Handbook, Fundamentals (2017), ch. 1, eqs. 5 and 6. `None` outside −100 to 200 °C.
pub fn saturation_pressure(air: Celsius) -> Option<Pascals> {
    let t = air.kelvin();
    (173.15..=473.15).contains(&t).then(|| Pascals(ln_pressure(t).exp()))
}

/// ln p with T in kelvin; the caller keeps to the range.
pub(super) fn ln_pressure(t: f64) -> f64 {
    if t <= TRIPLE_POINT_K { over_ice(t) } else { over_water(t) }
}

fn over_ice(t: f64) -> f64 {
    const C1: f64 = -5.674_535_9e3;
    const C2: f64 = 6.392_524_7;
    const C3: f64 = -9.677_843_0e-3;
    const C4: f64 = 6.221_570_1e-7;
    const C5: f64 = 2.074_782_5e-9;
    const C6: f64 = -9.484_024_0e-13;
    const C7: f64 = 4.163_501_9;
    C1 / t + C2 + C3 * t + C4 * t.powi(2) + C5 * t.powi(3) + C6 * t.powi(4) + C7 * t.ln()
}

fn over_water(t: f64) -> f64 {
    const C8: f64 = -5.800_220_6e3;
    const C9: f64 = 1.391_499_3;
    const C10: f64 = -4.864_023_9e-2;
    const C11: f64 = 4.176_476_8e-5;
    const C12: f64 = -1.445_209_3e-8;
    const C13: f64 = 6.545_967_3;
    C8 / t + C9 + C10 * t + C11 * t.powi(2) + C12 * t.powi(3) + C13 * t.ln()
}

/// d(ln p)/dT of [`ln_pressure`], 1/K.
pub(super) fn ln_pressure_slope(t: f64) -> f64 {
    if t <= TRIPLE_POINT_K {
        5.674_535_9e3 / t.powi(2) - 9.677_843_0e-3 + 2.0 * 6.221_570_1e-7 * t + 3.0 * 2.074_782_5e-9 * t.powi(2)
            - 4.0 * 9.484_024_0e-13 * t.powi(3)
            + 4.163_501_9 / t
    } else {
        5.800_220_6e3 / t.powi(2) - 4.864_023_9e-2 + 2.0 * 4.176_476_8e-5 * t - 3.0 * 1.445_209_3e-8 * t.powi(2)
            + 6.545_967_3 / t
    }
}

/// Water in a cubic metre of saturated air, kg/m³: pws/(R_v·T). `None` outside −100 to 200 °C.
pub fn saturation_vapour_density_kg_m3(air: Celsius) -> Option<f64> {
    Some(saturation_pressure(air)?.pascals() / (WATER_VAPOUR_J_KGK * air.kelvin()))
}

const MAGNUS_A_PA: f64 = 610.94;
const MAGNUS_B: f64 = 17.625;
const MAGNUS_C: f64 = 243.04;

/// Saturation pressure over water by the Magnus form: 610.94·exp(17.625 t/(t + 243.04)).
///
/// Source: Alduchov and Eskridge 1996, J. Appl. Meteorol. 35:601. A second opinion on [`saturation_pressure`], within
/// 0.24 % of it between 10 and 45 °C. `None` outside −40 to 50 °C, its range.
pub fn magnus_pressure(air: Celsius) -> Option<Pascals> {
    let t = air.degrees();
    (-40.0..=50.0).contains(&t).then(|| Pascals(MAGNUS_A_PA * (MAGNUS_B * t / (t + MAGNUS_C)).exp()))
}

/// Dew point by the inverse of [`magnus_pressure`]: 243.04 γ/(17.625 − γ), γ = ln φ + 17.625 t/(t + 243.04). Over
/// water always: below 0 °C up to 2.7 K below the frost point. `None` for dry air and outside −40 to 50 °C.
pub fn magnus_dew_point(air: Celsius, humidity: RelativeHumidity) -> Option<Celsius> {
    let t = air.degrees();
    if !(-40.0..=50.0).contains(&t) || humidity.fraction() <= 0.0 {
        return None;
    }
    let gamma = humidity.fraction().ln() + MAGNUS_B * t / (t + MAGNUS_C);
    Celsius::new(MAGNUS_C * gamma / (MAGNUS_B - gamma))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ASHRAE Handbook, Fundamentals (2017), ch. 1, table 3. The handbook claims 300 ppm for eq. 6.
    const TABLE_3: [(f64, f64); 3] = [(5.0, 872.6), (25.0, 3169.7), (50.0, 12_351.3)];

    #[test]
    fn saturation_pressure_agrees_with_ashrae_2017_table_3() {
        for (degrees, pascals) in TABLE_3 {
            let got = saturation_pressure(Celsius::new(degrees).unwrap()).unwrap().pascals();
            assert!((got / pascals - 1.0).abs() <= 300e-6, "at {degrees} °C: got {got} Pa, the table has {pascals} Pa");
        }
    }

    #[test]
    fn the_slope_is_that_of_the_curve() {
        for t in [200.0, 250.0, 273.0, 273.5, 300.0, 400.0] {
            let by_difference = (ln_pressure(t + 1e-3) - ln_pressure(t - 1e-3)) / 2e-3;
            assert!((ln_pressure_slope(t) / by_difference - 1.0).abs() < 1e-7, "at {t} K");
        }
    }

    #[test]
    fn ice_and_water_meet_at_the_triple_point() {
        let (ice, water) = (over_ice(TRIPLE_POINT_K).exp(), over_water(TRIPLE_POINT_K).exp());
        assert!((ice / water - 1.0).abs() < 300e-6, "{ice} and {water} Pa");
    }

    #[test]
    fn outside_the_range_of_the_equations_there_is_no_pressure() {
        for (degrees, known) in [(-100.1, false), (-99.9, true), (199.9, true), (200.1, false)] {
            assert_eq!(saturation_pressure(Celsius::new(degrees).unwrap()).is_some(), known, "{degrees} °C");
        }
    }
}
