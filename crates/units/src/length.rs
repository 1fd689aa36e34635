//! Length. Centimetres inside; inches and feet exist only where a person types or reads.

/// Centimetres in an inch: exact by the international yard and pound agreement of 1959.
pub const CENTIMETRES_PER_INCH: f64 = 2.54;

/// A length in centimetres. Always finite and above zero.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Centimetres(f64);

impl Centimetres {
    /// `None` unless `centimetres` is finite and above zero.
    pub fn new(centimetres: f64) -> Option<Centimetres> {
        (centimetres.is_finite() && 0.0 < centimetres).then_some(Centimetres(centimetres))
    }

    /// The value in cm.
    pub fn centimetres(self) -> f64 {
        self.0
    }

    /// The value in inches.
    pub fn inches(self) -> f64 {
        self.0 / CENTIMETRES_PER_INCH
    }
}

/// A length in metres, as equations take it. Always finite and above zero.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Metres(f64);

impl Metres {
    /// `None` unless `metres` is finite and above zero.
    pub fn new(metres: f64) -> Option<Metres> {
        (metres.is_finite() && 0.0 < metres).then_some(Metres(metres))
    }

    /// The value in m.
    pub fn metres(self) -> f64 {
        self.0
    }
}

impl From<Centimetres> for Metres {
    fn from(length: Centimetres) -> Metres {
        Metres(length.0 / 100.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hundred_centimetres_are_a_metre() {
        assert_eq!(Metres::from(Centimetres::new(100.0).unwrap()), Metres::new(1.0).unwrap());
        assert!(Metres::new(0.0).is_none() && Metres::new(f64::INFINITY).is_none());
    }

    #[test]
    fn a_foot_is_twelve_inches() {
        assert!((Centimetres::new(30.48).unwrap().inches() - 12.0).abs() < 1e-12);
    }
}
