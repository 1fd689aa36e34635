//! The temperature of a wetted thermometer in moving air.

use super::saturation::ln_pressure;
use crate::physics::constants::WATER_TO_AIR;
use crate::physics::roots::zero_between;
use units::{Celsius, Pascals};

/// Humidity ratio from the wet bulb t* of air at `t`.
///
/// t* ≥ 0 °C: W = [(2501 − 2.326 t*) Ws(t*) − 1.006 (t − t*)]/(2501 + 1.86 t − 4.186 t*)
/// t* < 0 °C: W = [(2830 − 0.24 t*) Ws(t*) − 1.006 (t − t*)]/(2830 + 1.86 t − 2.1 t*)     (t in °C)
///
/// Source: ASHRAE Handbook, Fundamentals (2017), ch. 1, eqs. 33 and 35.
pub(super) fn humidity_ratio(t: f64, wet: f64, pressure: Pascals) -> f64 {
    let saturated = ln_pressure(wet + 273.15).exp();
    let ws = WATER_TO_AIR * saturated / (pressure.pascals() - saturated);
    if 0.0 <= wet {
        ((2501.0 - 2.326 * wet) * ws - 1.006 * (t - wet)) / (2501.0 + 1.86 * t - 4.186 * wet)
    } else {
        ((2830.0 - 0.24 * wet) * ws - 1.006 * (t - wet)) / (2830.0 + 1.86 * t - 2.1 * wet)
    }
}

/// The wet bulb between dew point and dry bulb at which [`humidity_ratio`] is `w`. Close to 0 °C a wick can be wet or
/// frozen, and both equations have a solution: then that of the wet one is given.
pub(super) fn wet_bulb(t: Celsius, dew: Celsius, w: f64, pressure: Pascals) -> Option<Celsius> {
    let (dry, dew) = (t.degrees(), dew.degrees().min(t.degrees()));
    let off = |wet: f64| humidity_ratio(dry, wet, pressure) - w;
    // At saturation all three temperatures are one, and rounding may leave no change of sign.
    let wet_wick = (0.0 <= dry).then(|| zero_between(off, dew.max(0.0), dry)).flatten();
    let frozen_wick = || zero_between(off, dew.min(0.0), dry.min(-f64::MIN_POSITIVE));
    let wet = wet_wick.or_else(frozen_wick).or_else(|| (dry - dew < 1e-6).then_some(dry))?;
    Celsius::new(wet)
}
