//! The temperature at which the vapour in the air begins to settle as dew or frost.

use super::saturation::{ln_pressure, ln_pressure_slope};
use units::{Celsius, Pascals};

const LOWEST_K: f64 = 173.15;
const HIGHEST_K: f64 = 473.15;

/// Dew point (below 0.01 °C: frost point): the temperature whose saturation pressure is `vapour`.
///
/// Newton's method on ln pws, as the ASHRAE Handbook's own fit (ch. 1, eqs. 37 and 38) is good to 0.3 K only.
/// `None` where the vapour pressure belongs to no temperature from −100 to 200 °C (0.0014 Pa to 1.55 MPa).
pub fn dew_point(vapour: Pascals) -> Option<Celsius> {
    let p = vapour.pascals();
    if !p.is_finite() || p <= 0.0 {
        return None;
    }
    let ln_p = p.ln();
    if !(ln_pressure(LOWEST_K)..=ln_pressure(HIGHEST_K)).contains(&ln_p) {
        return None;
    }
    // Start from the Magnus inverse; far outside its range it only has to land between the ends.
    let gamma = (p / 610.94).ln();
    let mut t = (243.04 * gamma / (17.625 - gamma) + 273.15).clamp(LOWEST_K, HIGHEST_K);
    for _ in 0..50 {
        let step = (ln_pressure(t) - ln_p) / ln_pressure_slope(t);
        t = (t - step).clamp(LOWEST_K, HIGHEST_K);
        if step.abs() < 1e-11 * t {
            break;
        }
    }
    Celsius::from_kelvin(t)
}

#[cfg(test)]
mod tests {
    use super::super::saturation_pressure;
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn it_is_the_inverse_of_the_saturation_pressure(degrees in -99.0f64..199.0) {
            let t = Celsius::new(degrees).unwrap();
            let back = dew_point(saturation_pressure(t).unwrap()).unwrap();
            // The two branches are 1e-4 apart at the triple point.
            let allowed = if (degrees - 0.01).abs() < 0.01 { 5e-3 } else { 1e-8 };
            prop_assert!((back - t).kelvin().abs() < allowed, "{} came back as {}", degrees, back.degrees());
        }
    }

    #[test]
    fn no_vapour_has_no_dew_point() {
        for p in [0.0, -1.0, f64::NAN, 1e-4, 2e6] {
            assert!(dew_point(Pascals(p)).is_none(), "{p} Pa");
        }
    }
}
