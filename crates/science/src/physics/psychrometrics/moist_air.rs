//! Air with the water in it.

use super::saturation::saturation_pressure;
use super::{dew_point, wet_bulb};
use crate::physics::constants::{DRY_AIR_J_KGK, WATER_TO_AIR};
use units::{Celsius, Pascals, RelativeHumidity};

/// A parcel of moist air: its temperature, its pressure and the water in each kilogram of dry air.
///
/// All equations: ASHRAE Handbook, Fundamentals (2017), ch. 1, for dry bulbs of −100 to 200 °C below the boiling point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MoistAir {
    dry_bulb: Celsius,
    pressure: Pascals,
    humidity_ratio: f64,
}

impl MoistAir {
    /// From relative humidity: pw = φ pws(t), W = 0.621945 pw/(p − pw) (eqs. 12, 20).
    /// `None` outside −100 to 200 °C or where the vapour alone would have the whole pressure.
    pub fn from_relative_humidity(t: Celsius, humidity: RelativeHumidity, pressure: Pascals) -> Option<MoistAir> {
        let saturated = saturation_pressure(t)?;
        MoistAir::from_vapour_pressure(t, Pascals(humidity.fraction() * saturated.pascals()), pressure)
    }

    /// From the dew point. `None` where the dew point lies above the temperature of the air.
    pub fn from_dew_point(t: Celsius, dew: Celsius, pressure: Pascals) -> Option<MoistAir> {
        MoistAir::from_vapour_pressure(t, saturation_pressure(dew)?, pressure)
    }

    /// From the wet bulb (eqs. 33, 35). `None` where the wet bulb lies above the dry bulb, or so far below that no
    /// water would be left in the air.
    pub fn from_wet_bulb(t: Celsius, wet: Celsius, pressure: Pascals) -> Option<MoistAir> {
        saturation_pressure(wet)?;
        if t < wet || pressure.pascals() <= saturation_pressure(wet)?.pascals() {
            return None;
        }
        MoistAir::from_humidity_ratio(t, wet_bulb::humidity_ratio(t.degrees(), wet.degrees(), pressure), pressure)
    }

    /// From kilograms of vapour per kilogram of dry air. `None` where negative or above saturation.
    pub fn from_humidity_ratio(t: Celsius, humidity_ratio: f64, pressure: Pascals) -> Option<MoistAir> {
        let p = pressure.pascals();
        let possible = p.is_finite() && 0.0 < p && 0.0 <= humidity_ratio;
        let air = possible.then_some(MoistAir { dry_bulb: t, pressure, humidity_ratio })?;
        let saturated = saturation_pressure(t)?.pascals();
        (air.vapour_pressure().pascals() <= saturated * (1.0 + 1e-9)).then_some(air)
    }

    fn from_vapour_pressure(t: Celsius, vapour: Pascals, pressure: Pascals) -> Option<MoistAir> {
        let (p, pw) = (pressure.pascals(), vapour.pascals());
        (pw < p).then(|| WATER_TO_AIR * pw / (p - pw)).and_then(|w| MoistAir::from_humidity_ratio(t, w, pressure))
    }

    /// Temperature of the air.
    pub fn dry_bulb(&self) -> Celsius {
        self.dry_bulb
    }

    /// Kilograms of vapour per kilogram of dry air.
    pub fn humidity_ratio(&self) -> f64 {
        self.humidity_ratio
    }

    /// Vapour pressure: pw = p W/(0.621945 + W) (eq. 20 turned).
    pub fn vapour_pressure(&self) -> Pascals {
        Pascals(self.pressure.pascals() * self.humidity_ratio / (WATER_TO_AIR + self.humidity_ratio))
    }

    /// Relative humidity: pw/pws(t) (eq. 12).
    pub fn relative_humidity(&self) -> Option<RelativeHumidity> {
        let fraction = self.vapour_pressure().pascals() / saturation_pressure(self.dry_bulb)?.pascals();
        RelativeHumidity::new(fraction.min(1.0))
    }

    /// Dew point. `None` for (almost) dry air.
    pub fn dew_point(&self) -> Option<Celsius> {
        dew_point::dew_point(self.vapour_pressure())
    }

    /// Wet bulb (eqs. 33, 35). `None` for (almost) dry air.
    pub fn wet_bulb(&self) -> Option<Celsius> {
        wet_bulb::wet_bulb(self.dry_bulb, self.dew_point()?, self.humidity_ratio, self.pressure)
    }

    /// How much more vapour the air would take: pws(t) − pw.
    pub fn vapour_pressure_deficit(&self) -> Option<Pascals> {
        Some(Pascals(saturation_pressure(self.dry_bulb)?.pascals() - self.vapour_pressure().pascals()))
    }

    /// Specific enthalpy, J per kg of dry air: 1000 [1.006 t + W (2501 + 1.86 t)] (eq. 30).
    pub fn enthalpy_j_kg(&self) -> f64 {
        let t = self.dry_bulb.degrees();
        1000.0 * (1.006 * t + self.humidity_ratio * (2501.0 + 1.86 * t))
    }

    /// Specific volume, m³ per kg of dry air: 287.042 T (1 + 1.607858 W)/p (eq. 26).
    pub fn volume_m3_kg(&self) -> f64 {
        DRY_AIR_J_KGK * self.dry_bulb.kelvin() * (1.0 + 1.607_858 * self.humidity_ratio) / self.pressure.pascals()
    }

    /// Density of the moist air, kg/m³: (1 + W)/v (eq. 11).
    pub fn density_kg_m3(&self) -> f64 {
        (1.0 + self.humidity_ratio) / self.volume_m3_kg()
    }

    /// Dry air in a cubic metre of the moist air, kg/m³: 1/v.
    pub fn dry_air_density_kg_m3(&self) -> f64 {
        1.0 / self.volume_m3_kg()
    }

    /// Water in a cubic metre of the air, kg/m³: W/v.
    pub fn vapour_density_kg_m3(&self) -> f64 {
        self.humidity_ratio / self.volume_m3_kg()
    }

    /// The same air brought to another temperature: the water in it stays. `None` where dew would settle before.
    pub fn brought_to(&self, t: Celsius) -> Option<MoistAir> {
        MoistAir::from_humidity_ratio(t, self.humidity_ratio, self.pressure)
    }

    /// Water that settles from a cubic metre of this air when it is cooled to `t`, kg/m³ (at the old volume). Zero
    /// where none does.
    pub fn dew_when_cooled_to_kg_m3(&self, t: Celsius) -> Option<f64> {
        let saturated = MoistAir::from_relative_humidity(t, RelativeHumidity::SATURATED, self.pressure)?;
        let share = (self.humidity_ratio - saturated.humidity_ratio).max(0.0);
        Some(share / self.volume_m3_kg())
    }

    /// Relative humidity of a spot of the same well mixed air at another temperature, capped at saturation.
    pub fn humidity_at(&self, spot: Celsius) -> Option<RelativeHumidity> {
        let saturated = saturation_pressure(spot)?.pascals();
        RelativeHumidity::new((self.vapour_pressure().pascals() / saturated).min(1.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn air(t: f64, percent: f64) -> MoistAir {
        let humidity = RelativeHumidity::from_percent(percent).unwrap();
        MoistAir::from_relative_humidity(Celsius::new(t).unwrap(), humidity, Pascals::ATMOSPHERE).unwrap()
    }

    #[test]
    fn air_cannot_hold_more_than_saturation() {
        let t = Celsius::new(20.0).unwrap();
        assert!(MoistAir::from_dew_point(t, Celsius::new(20.1).unwrap(), Pascals::ATMOSPHERE).is_none());
        assert!(MoistAir::from_wet_bulb(t, Celsius::new(20.1).unwrap(), Pascals::ATMOSPHERE).is_none());
        assert!(MoistAir::from_humidity_ratio(t, 0.015, Pascals::ATMOSPHERE).is_none());
        assert!(MoistAir::from_humidity_ratio(t, -1e-9, Pascals::ATMOSPHERE).is_none());
        assert!(air(25.0, 80.0).brought_to(t).is_none(), "the dew point of that air is 21.3 °C");
    }

    #[test]
    fn dry_air_has_no_dew_point() {
        assert!(air(20.0, 0.0).dew_point().is_none() && air(20.0, 0.0).wet_bulb().is_none());
    }

    proptest! {
        #[test]
        fn dew_point_wet_bulb_and_dry_bulb_stand_in_order(t in -20.0f64..60.0, percent in 1.0f64..100.0) {
            let air = air(t, percent);
            let (dew, wet) = (air.dew_point().unwrap().degrees(), air.wet_bulb().unwrap().degrees());
            prop_assert!(dew <= wet + 1e-9 && wet <= t + 1e-9, "{} {} {}", dew, wet, t);
        }

        #[test]
        fn from_dew_point_and_wet_bulb_the_same_air_comes_back(t in 1.0f64..60.0, percent in 5.0f64..99.0) {
            let air = air(t, percent);
            let by_dew = MoistAir::from_dew_point(air.dry_bulb(), air.dew_point().unwrap(), Pascals::ATMOSPHERE).unwrap();
            prop_assert!((by_dew.humidity_ratio() / air.humidity_ratio() - 1.0).abs() < 1e-3);
            let wet = air.wet_bulb().unwrap();
            if 0.0 <= wet.degrees() {
                let by_wet = MoistAir::from_wet_bulb(air.dry_bulb(), wet, Pascals::ATMOSPHERE).unwrap();
                prop_assert!((by_wet.humidity_ratio() / air.humidity_ratio() - 1.0).abs() < 1e-9);
            }
        }

        #[test]
        fn warming_lowers_the_relative_humidity_and_keeps_the_water(t in 5.0f64..40.0, percent in 5.0f64..100.0, by in 0.1f64..20.0) {
            let air = air(t, percent);
            let warm = air.brought_to(Celsius::new(t + by).unwrap()).unwrap();
            prop_assert!(warm.relative_humidity().unwrap() < air.relative_humidity().unwrap());
            prop_assert_eq!(warm.vapour_pressure(), air.vapour_pressure());
        }
    }
}
