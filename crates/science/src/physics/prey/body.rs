//! Size and shape of prey, as one dimension.

use units::{Grams, Metres};

/// A body whose area at a distance r from its middle goes as r^(E−1): E = 1 slab, 2 cylinder, 3 sphere, between them
/// for other shapes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    radius: Metres,
    dimension: f64,
}

/// One dimension is 2 to 5 % too fast for a spheroid against two dimensions: times are to be multiplied by this.
pub const SPHEROID_TIME_FACTOR: f64 = 1.05;

impl Body {
    /// Slab: half the thickness.
    pub fn slab(half_thickness: Metres) -> Body {
        Body { radius: half_thickness, dimension: 1.0 }
    }

    /// Long cylinder.
    pub fn cylinder(radius: Metres) -> Body {
        Body { radius, dimension: 2.0 }
    }

    /// Sphere.
    pub fn sphere(radius: Metres) -> Body {
        Body { radius, dimension: 3.0 }
    }

    /// Any dimension. `None` outside 1 to 3.
    pub fn of_dimension(radius: Metres, dimension: f64) -> Option<Body> {
        (1.0..=3.0).contains(&dimension).then_some(Body { radius, dimension })
    }

    /// Prolate spheroid with the length `elongation` times the diameter, warmed through a film:
    /// E = 2 + (1 + 2/Bi)/(β² + 2β/Bi), Bi = hR/k thawed. `None` unless β ≥ 1 and Bi > 0.
    ///
    /// Source: Hossain, Cleland and Cleland 1992, Int. J. Refrig. 15:227.
    pub fn spheroid(diameter: Metres, elongation: f64, biot: f64) -> Option<Body> {
        let radius = Metres::new(diameter.metres() / 2.0)?;
        (1.0 <= elongation && 0.0 < biot).then_some(())?;
        Body::of_dimension(radius, 2.0 + (1.0 + 2.0 / biot) / (elongation.powi(2) + 2.0 * elongation / biot))
    }

    /// Diameter of a spheroid of a mass: D = [6 m/(π ρ β)]^(1/3). β is 3 for stretched rodents, 2.5 for pups, 1.5 to 2
    /// curled up; a diameter measured at the thickest place is better. `None` unless ρ and β are above zero.
    pub fn diameter_of_mass(mass: Grams, elongation: f64, density_kg_m3: f64) -> Option<Metres> {
        let volume = mass.kilograms() / density_kg_m3;
        Metres::new((6.0 * volume / (std::f64::consts::PI * elongation)).cbrt())
    }

    /// Radius or half thickness.
    pub fn radius(&self) -> Metres {
        self.radius
    }

    /// E.
    pub fn dimension(&self) -> f64 {
        self.dimension
    }

    /// Surface per volume, 1/m: E/R.
    pub fn surface_per_volume_1_m(&self) -> f64 {
        self.dimension / self.radius.metres()
    }
}

/// By how much bodies that touch each other take longer, as one body: (stack/diameter)^1.3. `None` unless the stack is
/// at least as thick as one.
pub fn stack_factor(stack: Metres, diameter: Metres) -> Option<f64> {
    let ratio = stack.metres() / diameter.metres();
    (1.0 <= ratio).then(|| ratio.powf(1.3))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_round_spheroid_is_a_sphere_and_a_long_one_a_cylinder() {
        let d = Metres::new(0.02).unwrap();
        for biot in [0.1, 1.0, 10.0] {
            assert!((Body::spheroid(d, 1.0, biot).unwrap().dimension() - 3.0).abs() < 1e-12);
            assert!((Body::spheroid(d, 1e6, biot).unwrap().dimension() - 2.0).abs() < 1e-5);
        }
        assert!(Body::spheroid(d, 0.9, 1.0).is_none() && Body::of_dimension(d, 3.1).is_none());
    }

    #[test]
    fn a_mouse_of_25_g_is_about_25_mm_thick() {
        let d = Body::diameter_of_mass(Grams::new(25.0).unwrap(), 3.0, 1040.0).unwrap();
        assert!((d.metres() - 0.0248).abs() < 1e-4, "{}", d.metres());
    }

    #[test]
    fn two_on_top_of_each_other_take_two_and_a_half_times_as_long() {
        let m = |x: f64| Metres::new(x).unwrap();
        assert!((stack_factor(m(0.04), m(0.02)).unwrap() - 2f64.powf(1.3)).abs() < 1e-12);
        assert!(stack_factor(m(0.01), m(0.02)).is_none());
    }
}
