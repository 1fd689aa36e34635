//! Which curve: by AICc, and an average where none is clearly best.

use super::GrowthFit;
use std::fmt;

/// Fits that were weighed against each other, the best first.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// Never empty.
    pub ranked: Vec<Weighed>,
}

/// One of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighed {
    /// The fit.
    pub fit: GrowthFit,
    /// Its AICc.
    pub aicc: f64,
    /// Its Akaike weight, 0 to 1; all together 1.
    pub weight: f64,
}

/// Why fits cannot be weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChoiceFault {
    /// There are none.
    Nothing,
    /// Fewer than eight sizes: take the curve that is usual for the kind, with priors.
    FewSizes,
    /// One of them has no likelihood: priors, a robust loss, or too few sizes for its parameters.
    NoLikelihood,
    /// They are not of the same sizes at the same ages.
    DifferentSizes,
}

impl fmt::Display for ChoiceFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            ChoiceFault::Nothing => "there is no curve to choose from",
            ChoiceFault::FewSizes => "fewer than eight sizes do not tell curves apart",
            ChoiceFault::NoLikelihood => "a fit with priors, a robust loss or too few sizes cannot be weighed",
            ChoiceFault::DifferentSizes => "only fits to the same sizes can be weighed against each other",
        })
    }
}

impl std::error::Error for ChoiceFault {}

/// Weighs fits: weight ∝ exp(−½ (AICc − least AICc)).
///
/// Source: Burnham and Anderson 2002, Model Selection and Multimodel Inference, 2.9 (from memory).
pub fn choose(fits: Vec<GrowthFit>) -> Result<Choice, ChoiceFault> {
    const FEWEST: usize = 8;
    let first = fits.first().ok_or(ChoiceFault::Nothing)?;
    if first.logs.len() < FEWEST {
        return Err(ChoiceFault::FewSizes);
    }
    if fits.iter().any(|fit| fit.logs != first.logs || fit.ages != first.ages) {
        return Err(ChoiceFault::DifferentSizes);
    }
    let mut ranked = Vec::with_capacity(fits.len());
    for fit in fits {
        let aicc = fit.aicc().ok_or(ChoiceFault::NoLikelihood)?;
        ranked.push(Weighed { fit, aicc, weight: 0.0 });
    }
    ranked.sort_by(|a, b| a.aicc.total_cmp(&b.aicc));
    let least = ranked.first().map_or(0.0, |weighed| weighed.aicc);
    let sum: f64 = ranked.iter().map(|w| (-0.5 * (w.aicc - least)).exp()).sum();
    for weighed in &mut ranked {
        weighed.weight = (-0.5 * (weighed.aicc - least)).exp() / sum;
    }
    Ok(Choice { ranked })
}

impl Choice {
    /// The one whose weight is above 0.9; `None` where none is, then take [`Choice::average_at`].
    pub fn clear(&self) -> Option<&GrowthFit> {
        const CLEAR: f64 = 0.9;
        self.ranked.first().filter(|best| CLEAR < best.weight).map(|best| &best.fit)
    }

    /// ln of the size at an age by all curves with their weights, and its standard error, which holds how much they
    /// differ: Σ w √(variance + (own − average)²).
    ///
    /// Source: Buckland, Burnham and Augustin 1997, Biometrics 53, 603, eq. 9 (from memory).
    pub fn average_at(&self, age_years: f64) -> (f64, f64) {
        let all: Vec<_> = self.ranked.iter().map(|w| (w.weight, w.fit.at(age_years))).collect();
        let mean: f64 = all.iter().map(|(weight, at)| weight * at.log_size).sum();
        let deviation = all.iter().map(|(weight, at)| weight * at.log_deviation.hypot(at.log_size - mean)).sum();
        (mean, deviation)
    }
}
