//! Temperatures on a thermometer's scale, and differences between them.

use std::ops::{Add, Sub};

/// A temperature on a thermometer's scale, in °C. Always finite and above absolute zero: a broken probe gives no
/// reading, not NaN.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Celsius(f64);

/// A difference between temperatures, in kelvin. 5 K warmer is 9 °F warmer, never «41 °F».
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct CelsiusDelta(pub f64);

const ABSOLUTE_ZERO_C: f64 = -273.15;

impl Celsius {
    /// `None` unless `degrees` is finite and not below absolute zero.
    pub fn new(degrees: f64) -> Option<Celsius> {
        let possible = degrees.is_finite() && ABSOLUTE_ZERO_C <= degrees;
        possible.then_some(Celsius(degrees))
    }

    /// From degrees Fahrenheit: °C = (°F - 32) / 1.8, exact by definition.
    pub fn from_fahrenheit(degrees: f64) -> Option<Celsius> {
        Celsius::new((degrees - 32.0) / 1.8)
    }

    /// From kelvin. `None` below 0 K or where not finite.
    pub fn from_kelvin(kelvin: f64) -> Option<Celsius> {
        Celsius::new(kelvin + ABSOLUTE_ZERO_C)
    }

    /// The value in °C.
    pub fn degrees(self) -> f64 {
        self.0
    }

    /// The value in °F.
    pub fn fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }

    /// The value in K.
    pub fn kelvin(self) -> f64 {
        self.0 - ABSOLUTE_ZERO_C
    }
}

impl CelsiusDelta {
    /// The value in K.
    pub fn kelvin(self) -> f64 {
        self.0
    }
}

impl Sub for Celsius {
    type Output = CelsiusDelta;
    fn sub(self, other: Celsius) -> CelsiusDelta {
        CelsiusDelta(self.0 - other.0)
    }
}

impl Add<CelsiusDelta> for Celsius {
    type Output = Celsius;
    fn add(self, by: CelsiusDelta) -> Celsius {
        Celsius((self.0 + by.0).max(ABSOLUTE_ZERO_C))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fixed_points_of_both_scales_agree() {
        // Freezing and boiling water define the Fahrenheit scale against the Celsius scale.
        for (fahrenheit, celsius) in [(32.0, 0.0), (212.0, 100.0), (-40.0, -40.0), (90.0, 32.222_222_222_222_22)] {
            let t = Celsius::from_fahrenheit(fahrenheit).unwrap();
            assert!((t.degrees() - celsius).abs() < 1e-12, "{fahrenheit} °F is {celsius} °C, got {}", t.degrees());
            assert!((t.fahrenheit() - fahrenheit).abs() < 1e-12);
        }
    }

    #[test]
    fn what_no_thermometer_can_show_is_no_temperature() {
        for impossible in [f64::NAN, f64::INFINITY, -273.16] {
            assert!(Celsius::new(impossible).is_none(), "{impossible}");
        }
        assert!(Celsius::new(-273.15).is_some());
    }

    #[test]
    fn kelvin_and_back_is_the_same_temperature() {
        let t = Celsius::from_kelvin(300.0).unwrap();
        assert!((t.degrees() - 26.85).abs() < 1e-12 && (t.kelvin() - 300.0).abs() < 1e-12);
        assert!(Celsius::from_kelvin(-0.1).is_none());
    }

    #[test]
    fn a_difference_is_not_a_temperature() {
        let warmer = Celsius::new(30.0).unwrap() - Celsius::new(25.0).unwrap();
        assert_eq!(warmer, CelsiusDelta(5.0));
        assert_eq!((Celsius::new(25.0).unwrap() + warmer).degrees(), 30.0);
    }
}
