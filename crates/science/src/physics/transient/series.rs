//! Exact series for slab, cylinder and sphere with a film at the surface, uniform at the start.

use super::bessel::{j0, j1};
use crate::physics::roots::zero_between;
use std::f64::consts::PI;

/// The three bodies with one dimension.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// L is half the thickness.
    Slab,
    /// Long; L is the radius.
    Cylinder,
    /// L is the radius.
    Sphere,
}

/// One term C e^(−ζ² Fo) f(ζx) of the series.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    /// The root.
    pub zeta: f64,
    /// The coefficient.
    pub c: f64,
}

/// The series of a shape at a Biot number.
///
/// Slab: ζ tan ζ = Bi, C = 4 sin ζ/(2ζ + sin 2ζ), f = cos ζx. Cylinder: ζ J₁/J₀ = Bi, C = 2 J₁/[ζ (J₀² + J₁²)],
/// f = J₀(ζx). Sphere: 1 − ζ cot ζ = Bi, C = 4 (sin ζ − ζ cos ζ)/(2ζ − sin 2ζ), f = sin ζx/(ζx).
///
/// Source: Carslaw and Jaeger 1959, Conduction of Heat in Solids, 3.11, 7.7, 9.4.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    shape: Shape,
    terms: Vec<Term>,
}

/// Terms that make Fo ≥ 0.005 exact to the last digits, and still 1e-7 at Fo 0.001.
const TERMS: usize = 60;

impl Series {
    /// `None` unless the Biot number is above zero and finite.
    pub fn new(shape: Shape, biot: f64) -> Option<Series> {
        if !(biot.is_finite() && 0.0 < biot) {
            return None;
        }
        let terms = (0..TERMS).map(|n| {
            let zeta = root(shape, biot, n)?;
            Some(Term { zeta, c: coefficient(shape, zeta) })
        });
        Some(Series { shape, terms: terms.collect::<Option<_>>()? })
    }

    /// Its terms, slowest first.
    pub fn terms(&self) -> &[Term] {
        &self.terms
    }

    /// θ at x = r/L (0 centre, 1 surface) at Fo. `None` unless 0 ≤ x ≤ 1 and 0.001 ≤ Fo: before, use the half-space.
    pub fn theta(&self, fourier: f64, x: f64) -> Option<f64> {
        self.sum(fourier, |zeta| profile(self.shape, zeta, x)).filter(|_| (0.0..=1.0).contains(&x))
    }

    /// Mean of θ over the volume at Fo. `None` below Fo 0.001.
    pub fn mean(&self, fourier: f64) -> Option<f64> {
        self.sum(fourier, |zeta| mean_of_profile(self.shape, zeta))
    }

    /// θ at the centre by the first term alone: within 2 % from Fo 0.2 on. `None` below.
    pub fn one_term_centre(&self, fourier: f64) -> Option<f64> {
        let first = self.terms.first()?;
        (0.2 <= fourier).then(|| first.c * (-first.zeta.powi(2) * fourier).exp())
    }

    /// Fo at which θ at x has fallen to `theta`. `None` unless that lies between 0 and the value at Fo 0.001.
    pub fn fourier_when(&self, theta: f64, x: f64) -> Option<f64> {
        self.when(theta, |fourier| self.theta(fourier, x))
    }

    /// Fo at which the mean has fallen to `theta`. `None` unless that lies between 0 and the value at Fo 0.001.
    pub fn fourier_when_mean(&self, theta: f64) -> Option<f64> {
        self.when(theta, |fourier| self.mean(fourier))
    }

    fn when(&self, theta: f64, of: impl Fn(f64) -> Option<f64>) -> Option<f64> {
        let slowest = self.terms.first()?.zeta.powi(2);
        (0.0 < theta).then_some(())?;
        zero_between(|fourier| of(fourier).unwrap_or(f64::NAN) - theta, SHORTEST, 60.0 / slowest)
    }

    fn sum(&self, fourier: f64, part: impl Fn(f64) -> f64) -> Option<f64> {
        let term = |t: &Term| t.c * (-t.zeta.powi(2) * fourier).exp() * part(t.zeta);
        (SHORTEST <= fourier).then(|| self.terms.iter().map(term).sum())
    }
}

const SHORTEST: f64 = 1e-3;

fn root(shape: Shape, biot: f64, n: usize) -> Option<f64> {
    let n = n as f64;
    match shape {
        Shape::Slab => zero_between(|z| z * z.sin() - biot * z.cos(), n * PI + 1e-12, (n + 0.5) * PI),
        Shape::Cylinder => {
            // Between a zero of J1 and the next of J0; McMahon's approximations bracket both.
            let j0_zero = |beta: f64| zero_between(j0, beta - 0.1, beta + 0.2);
            let high = j0_zero((n + 0.75) * PI)?;
            let low = if n == 0.0 { 0.0 } else { zero_between(j1, (n + 0.25) * PI - 0.3, (n + 0.25) * PI + 0.1)? };
            zero_between(|z| z * j1(z) - biot * j0(z), low + 1e-12, high)
        }
        Shape::Sphere => {
            zero_between(|z| z.sin() - z * z.cos() - biot * z.sin(), n * PI + 1e-9, (n + 1.0) * PI - 1e-12)
        }
    }
}

fn coefficient(shape: Shape, z: f64) -> f64 {
    match shape {
        Shape::Slab => 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin()),
        Shape::Cylinder => 2.0 * j1(z) / (z * (j0(z).powi(2) + j1(z).powi(2))),
        Shape::Sphere => 4.0 * (z.sin() - z * z.cos()) / (2.0 * z - (2.0 * z).sin()),
    }
}

fn profile(shape: Shape, z: f64, x: f64) -> f64 {
    match shape {
        Shape::Slab => (z * x).cos(),
        Shape::Cylinder => j0(z * x),
        Shape::Sphere if x == 0.0 => 1.0,
        Shape::Sphere => (z * x).sin() / (z * x),
    }
}

fn mean_of_profile(shape: Shape, z: f64) -> f64 {
    match shape {
        Shape::Slab => z.sin() / z,
        Shape::Cylinder => 2.0 * j1(z) / z,
        Shape::Sphere => 3.0 * (z.sin() - z * z.cos()) / z.powi(3),
    }
}

/// θ at the centre of a cylinder of length ratio L/D: the product of a long cylinder and a slab. Bi and Fo on the
/// radius. `None` outside the ranges of both.
///
/// Source: Newman's product rule; Carslaw and Jaeger 1959, 1.15.
pub fn finite_cylinder_centre(length_over_diameter: f64, biot: f64, fourier: f64) -> Option<f64> {
    let cylinder = Series::new(Shape::Cylinder, biot)?.theta(fourier, 0.0)?;
    let slab = Series::new(Shape::Slab, biot * length_over_diameter)?;
    Some(cylinder * slab.theta(fourier / length_over_diameter.powi(2), 0.0)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_centre_stays_behind_the_mean_and_the_mean_behind_the_surface(biot in 0.05f64..100.0, fourier in 0.01f64..3.0) {
            for shape in [Shape::Slab, Shape::Cylinder, Shape::Sphere] {
                let series = Series::new(shape, biot).unwrap();
                let centre = series.theta(fourier, 0.0).unwrap();
                let mean = series.mean(fourier).unwrap();
                let surface = series.theta(fourier, 1.0).unwrap();
                prop_assert!(surface <= mean + 1e-9 && mean <= centre + 1e-9, "{:?} {} {} {}", shape, centre, mean, surface);
            }
        }

        #[test]
        fn the_time_of_a_theta_is_found_again(biot in 0.1f64..50.0, theta in 0.01f64..0.9) {
            let series = Series::new(Shape::Cylinder, biot).unwrap();
            let fourier = series.fourier_when(theta, 0.0).unwrap();
            prop_assert!((series.theta(fourier, 0.0).unwrap() - theta).abs() < 1e-9);
        }
    }

    #[test]
    fn without_a_film_or_too_early_there_is_no_series() {
        assert!(Series::new(Shape::Slab, 0.0).is_none() && Series::new(Shape::Slab, f64::NAN).is_none());
        let series = Series::new(Shape::Slab, 1.0).unwrap();
        assert!(series.theta(1e-4, 0.0).is_none() && series.theta(1.0, 1.1).is_none());
        assert!(series.one_term_centre(0.19).is_none());
    }
}
