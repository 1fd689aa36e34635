//! What one hygrometer says about another spot of the same air.

use super::saturation::{saturation_pressure, saturation_vapour_density_kg_m3};
use units::{Celsius, RelativeHumidity};

/// Relative humidity, %, after air at `from` is brought to `to` with the water left in it: φ₂ = φ₁ pws(t₁)/pws(t₂).
/// Above 100 means that dew would settle. Near 25 to 30 °C it falls by about 6 % of its value per kelvin.
/// `None` outside −100 to 200 °C.
///
/// Source: conservation of vapour pressure; ASHRAE Handbook, Fundamentals (2017), ch. 1, eq. 12.
pub fn humidity_after_warming_percent(from: Celsius, humidity: RelativeHumidity, to: Celsius) -> Option<f64> {
    Some(humidity.percent() * saturation_pressure(from)?.pascals() / saturation_pressure(to)?.pascals())
}

/// Water in a cubic metre, kg/m³, of air of that humidity once it stands at `to` (it expands with T).
/// `None` outside −100 to 200 °C.
pub fn vapour_density_after_warming_kg_m3(from: Celsius, humidity: RelativeHumidity, to: Celsius) -> Option<f64> {
    Some(humidity.fraction() * saturation_vapour_density_kg_m3(from)? * from.kelvin() / to.kelvin())
}

/// What a hygrometer at `probe` reads while the spot it speaks for has `humidity` at `spot`: too low where it is
/// warmer, too high where it is cooler, at most 100 %. Used for placement as well as for a chip that warms itself.
/// `None` outside −100 to 200 °C.
pub fn what_a_probe_reads(spot: Celsius, humidity: RelativeHumidity, probe: Celsius) -> Option<RelativeHumidity> {
    RelativeHumidity::from_percent(humidity_after_warming_percent(spot, humidity, probe)?.min(100.0))
}
