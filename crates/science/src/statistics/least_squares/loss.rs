//! How much a large residual counts.

/// A loss ρ(z) of z = (residual/bend)²; the bend is in the unit of the residuals.
///
/// Source: the formulas of `scipy.optimize.least_squares` (docs.scipy.org, read); the Huber loss is Huber 1964, Annals
/// of Mathematical Statistics 35, 73 (from memory).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Loss {
    /// ρ = z.
    #[default]
    Squares,
    /// ρ = z for z ≤ 1, else 2√z − 1: beyond the bend a residual pulls no harder than at it.
    Huber(f64),
    /// ρ = 2(√(1 + z) − 1): the same without a corner.
    SoftL1(f64),
    /// ρ = ln(1 + z): what is far off hardly pulls at all. It can have several minima: start it where Huber ended.
    Cauchy(f64),
}

impl Loss {
    /// Where it bends; `None` for squares.
    pub fn bend(&self) -> Option<f64> {
        match self {
            Loss::Squares => None,
            Loss::Huber(bend) | Loss::SoftL1(bend) | Loss::Cauchy(bend) => Some(*bend),
        }
    }

    /// bend² ρ((residual/bend)²).
    pub fn cost(&self, residual: f64) -> f64 {
        let of = |bend: f64, rho: fn(f64) -> f64| bend * bend * rho((residual / bend).powi(2));
        match self {
            Loss::Squares => residual * residual,
            Loss::Huber(bend) => of(*bend, |z| if z <= 1.0 { z } else { 2.0 * z.sqrt() - 1.0 }),
            // 2(√(1 + z) − 1) without the difference of near equals.
            Loss::SoftL1(bend) => of(*bend, |z| 2.0 * z / ((1.0 + z).sqrt() + 1.0)),
            Loss::Cauchy(bend) => of(*bend, f64::ln_1p),
        }
    }

    /// ρ′: the weight that a square of the residual gets.
    pub fn weight(&self, residual: f64) -> f64 {
        match self {
            Loss::Squares => 1.0,
            Loss::Huber(bend) => (bend / residual.abs()).min(1.0),
            Loss::SoftL1(bend) => 1.0 / (1.0 + (residual / bend).powi(2)).sqrt(),
            Loss::Cauchy(bend) => 1.0 / (1.0 + (residual / bend).powi(2)),
        }
    }

    /// A residual whose plain square is the cost, and its derivative in the residual: so that a search for least
    /// squares finds the least cost. g² = cost, hence g′ = weight · residual / g.
    pub(super) fn squared(&self, residual: f64) -> (f64, f64) {
        let Some(bend) = self.bend() else { return (residual, 1.0) };
        // Below 1e-7 of the bend every loss is the square to the last digit.
        if residual.abs() <= 1e-7 * bend {
            return (residual, 1.0);
        }
        let squared = self.cost(residual).sqrt().copysign(residual);
        (squared, self.weight(residual) * residual / squared)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [Loss; 4] = [Loss::Squares, Loss::Huber(0.3), Loss::SoftL1(0.3), Loss::Cauchy(0.3)];

    #[test]
    fn the_square_of_the_changed_residual_is_the_cost_and_its_slope_is_right() {
        for loss in ALL {
            for r in [-5.0, -0.31, -0.29, -1e-6, 0.0, 1e-9, 0.05, 0.3, 2.0] {
                let (g, slope) = loss.squared(r);
                assert!((g * g - loss.cost(r)).abs() <= 1e-12 * loss.cost(r), "{loss:?} at {r}");
                let h = 1e-6 * (1.0 + r.abs());
                let by_differences = (loss.squared(r + h).0 - loss.squared(r - h).0) / (2.0 * h);
                assert!((slope - by_differences).abs() < 1e-5, "{loss:?} at {r}: {slope} and {by_differences}");
            }
        }
    }

    #[test]
    fn a_weight_is_half_the_slope_of_the_cost_over_the_residual() {
        for loss in ALL {
            for r in [-4.0, -0.2, 0.1, 0.9f64] {
                let h = 1e-6;
                let slope = (loss.cost(r + h) - loss.cost(r - h)) / (2.0 * h);
                assert!((loss.weight(r) - 0.5 * slope / r).abs() < 1e-8, "{loss:?} at {r}");
            }
        }
    }
}
