//! Power.

/// A flow of heat or electric power in watts. May be negative: heat that leaves.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Watts(pub f64);

impl Watts {
    /// The value in W.
    pub fn watts(self) -> f64 {
        self.0
    }
}
