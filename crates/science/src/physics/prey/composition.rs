//! Of what prey is made.

/// Mass shares, and where freezing begins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Composition {
    /// Water.
    pub water: f64,
    /// Protein.
    pub protein: f64,
    /// Fat.
    pub fat: f64,
    /// Ash.
    pub ash: f64,
    /// Initial freezing point, °C; below 0.
    pub freezing_c: f64,
}

impl Composition {
    /// Adult mice and rats. Source: Small Animal Clinical Nutrition, 5th ed., table 71-5 (water 65 to 66 %); dry matter
    /// after Thomas et al. 2004.
    pub const ADULT_RODENT: Composition =
        Composition { water: 0.66, protein: 0.18, fat: 0.12, ash: 0.04, freezing_c: -1.2 };
    /// Newborn mice and rats. Source: Small Animal Clinical Nutrition, 5th ed., table 71-5 (water 81 % at 1.5 g, 71 % at
    /// 4 g).
    pub const PINKY: Composition = Composition { water: 0.79, protein: 0.13, fat: 0.05, ash: 0.03, freezing_c: -1.0 };
    /// Day-old chicks. Water 73 % from the same table; the rest as adult rodents, scaled.
    pub const CHICK: Composition = Composition { water: 0.73, protein: 0.15, fat: 0.09, ash: 0.03, freezing_c: -1.2 };
    /// Lean meat.
    pub const LEAN_MEAT: Composition =
        Composition { water: 0.735, protein: 0.21, fat: 0.04, ash: 0.015, freezing_c: -1.1 };
}
