//! Pressure of air and of the vapour in it.

/// A pressure in pascals.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Pascals(pub f64);

impl Pascals {
    /// The standard atmosphere: exact by the 10th General Conference on Weights and Measures, 1954.
    pub const ATMOSPHERE: Pascals = Pascals(101_325.0);

    /// The value in Pa.
    pub fn pascals(self) -> f64 {
        self.0
    }
}
