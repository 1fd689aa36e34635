//! Mass. Grams inside; ounces and pounds exist only where a person types or reads.

/// Grams in an avoirdupois ounce: exact by the international yard and pound agreement of 1959.
pub const GRAMS_PER_OUNCE: f64 = 28.349_523_125;
/// Grams in an avoirdupois pound: 16 ounces, exact.
pub const GRAMS_PER_POUND: f64 = 453.592_37;

/// A mass in grams. Always finite and above zero: nothing weighs nothing.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Grams(f64);

impl Grams {
    /// `None` unless `grams` is finite and above zero.
    pub fn new(grams: f64) -> Option<Grams> {
        (grams.is_finite() && 0.0 < grams).then_some(Grams(grams))
    }

    /// The value in g.
    pub fn grams(self) -> f64 {
        self.0
    }

    /// The value in kg.
    pub fn kilograms(self) -> f64 {
        self.0 / 1000.0
    }

    /// The value in avoirdupois ounces.
    pub fn ounces(self) -> f64 {
        self.0 / GRAMS_PER_OUNCE
    }

    /// The value in avoirdupois pounds.
    pub fn pounds(self) -> f64 {
        self.0 / GRAMS_PER_POUND
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sixteen_ounces_are_a_pound() {
        assert!((16.0 * GRAMS_PER_OUNCE - GRAMS_PER_POUND).abs() < 1e-9);
        assert!((Grams::new(453.592_37).unwrap().ounces() - 16.0).abs() < 1e-12);
        assert!((Grams::new(907.184_74).unwrap().pounds() - 2.0).abs() < 1e-12);
    }

    #[test]
    fn nothing_weighs_nothing_or_less() {
        assert!(Grams::new(0.0).is_none() && Grams::new(-1.0).is_none() && Grams::new(f64::NAN).is_none());
    }
}
