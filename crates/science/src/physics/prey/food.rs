//! Heat content, ice and conductivity of tissue.

use super::Composition;
use units::Celsius;

/// What the shells of a body ask of what they are made of. Enthalpies in kJ/kg from any zero.
pub trait PhaseChange {
    /// Enthalpy at a temperature, kJ/kg.
    fn enthalpy_kj_kg(&self, t_c: f64) -> f64;
    /// Temperature at an enthalpy, °C.
    fn temperature_c(&self, enthalpy_kj_kg: f64) -> f64;
    /// dH/dT at an enthalpy (temperature known), kJ/(kg·K).
    fn heat_kj_kgk(&self, enthalpy_kj_kg: f64, t_c: f64) -> f64;
    /// Conductivity at an enthalpy, W/(m·K).
    fn conductivity_w_mk(&self, enthalpy_kj_kg: f64) -> f64;
    /// ∫ k dT up to an enthalpy from any zero, W/m: its difference is the heat flow through a layer 1 m thick, exact
    /// however k changes inside (Kirchhoff's transformation).
    fn flow_potential_w_m(&self, enthalpy_kj_kg: f64) -> f64;
    /// All of these at an enthalpy: a shell asks for them together, thousands of times.
    #[inline]
    fn condition(&self, enthalpy_kj_kg: f64) -> Condition {
        let temperature_c = self.temperature_c(enthalpy_kj_kg);
        Condition {
            temperature_c,
            heat_kj_kgk: self.heat_kj_kgk(enthalpy_kj_kg, temperature_c),
            conductivity_w_mk: self.conductivity_w_mk(enthalpy_kj_kg),
            flow_potential_w_m: self.flow_potential_w_m(enthalpy_kj_kg),
        }
    }
    /// Density, kg/m³; held constant so that a body keeps its size.
    fn density_kg_m3(&self) -> f64;
}

/// How a shell stands.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Condition {
    /// Temperature, °C.
    pub temperature_c: f64,
    /// dH/dT, kJ/(kg·K).
    pub heat_kj_kgk: f64,
    /// Conductivity, W/(m·K).
    pub conductivity_w_mk: f64,
    /// ∫ k dT from any zero, W/m.
    pub flow_potential_w_m: f64,
}

/// Tissue: enthalpy by Chen, ice by the freezing-point curve, conductivity from its components.
///
/// Ice: x = (xw − xb)(1 − tf/t), xb = 0.4 xp. Enthalpy from −40 °C, frozen:
/// H = (t + 40)[1.55 + 1.26 xs − (xw − xb)·333.6 tf/(−40 t)], thawed H = H(tf) + (t − tf)(4.19 − 2.30 xs − 0.628 xs³),
/// xs = 1 − xw, kJ/kg and °C.
///
/// Source: Chen 1985, J. Food Sci. 50:1158; ASHRAE Handbook, Refrigeration, ch. 19. Range −40 to 60 °C.
#[derive(Clone, Debug, PartialEq)]
pub struct Food {
    composition: Composition,
    density_kg_m3: f64,
    /// 1.55 + 1.26 xs: the heat of frozen tissue without its melting, kJ/(kg·K).
    a: f64,
    /// (xw − xb)·333.6 tf/tr, kJ/kg.
    b: f64,
    heat_thawed: f64,
    enthalpy_at_freezing: f64,
    frozen: Table,
    thawed: Table,
}

/// Values at points even in enthalpy.
#[derive(Clone, Debug, PartialEq, Default)]
struct Table {
    /// Conductivity, W/(m·K), and flow potential, W/m.
    points: Vec<[f64; 2]>,
    /// Points for a kJ/kg.
    per_enthalpy: f64,
}

impl Table {
    /// Both at an enthalpy over that of the first point.
    #[inline]
    fn at(&self, over: f64) -> [f64; 2] {
        let place = (over * self.per_enthalpy).clamp(0.0, (POINTS - 1) as f64);
        let low = (place as usize).min(POINTS - 2);
        let share = place - low as f64;
        match self.points.get(low..low + 2) {
            Some([[k, phi], [k_next, phi_next]]) => [k + (k_next - k) * share, phi + (phi_next - phi) * share],
            _ => [f64::NAN; 2],
        }
    }
}

const ZERO_C: f64 = -40.0;
const HOTTEST_C: f64 = 60.0;
const MELTING_KJ_KG: f64 = 333.6;
/// Points of each table.
const POINTS: usize = 600;

impl Food {
    /// Density of whole thawed prey, kg/m³.
    pub const USUAL_DENSITY_KG_M3: f64 = 1040.0;

    /// `None` unless the shares are positive and add up to 0.95 to 1.05, and freezing begins between −5 and 0 °C.
    pub fn new(composition: Composition, density_kg_m3: f64) -> Option<Food> {
        let Composition { water, protein, fat, ash, freezing_c } = composition;
        let sum = water + protein + fat + ash;
        let sound = [water, protein, fat, ash].iter().all(|x| 0.0 <= *x)
            && (0.95..=1.05).contains(&sum)
            && 0.4 * protein < water
            && (-5.0..0.0).contains(&freezing_c)
            && 0.0 < density_kg_m3;
        if !sound {
            return None;
        }
        let dry = 1.0 - water;
        let a = 1.55 + 1.26 * dry;
        let b = (water - 0.4 * protein) * MELTING_KJ_KG * freezing_c / ZERO_C;
        let mut food = Food {
            composition,
            density_kg_m3,
            a,
            b,
            heat_thawed: 4.19 - 2.30 * dry - 0.628 * dry.powi(3),
            enthalpy_at_freezing: (freezing_c - ZERO_C) * (a - b / freezing_c),
            frozen: Table::default(),
            thawed: Table::default(),
        };
        let top = food.enthalpy_kj_kg(HOTTEST_C);
        food.frozen = food.table(0.0, food.enthalpy_at_freezing, 0.0);
        let at_freezing = food.frozen.points.last().map_or(0.0, |[_, potential]| *potential);
        // The first point of the thawed branch is freezing itself, with no ice left.
        food.thawed = food.table(food.enthalpy_at_freezing, top, at_freezing);
        Some(food)
    }

    fn table(&self, from: f64, to: f64, potential: f64) -> Table {
        let enthalpy = |point: usize| from + (to - from) * point as f64 / (POINTS - 1) as f64;
        let temperature: Vec<f64> = (0..POINTS).map(|point| self.temperature_c(enthalpy(point))).collect();
        let mut sum = potential;
        let mut potential = vec![sum];
        for pair in temperature.windows(2) {
            if let [a, b] = pair {
                // Simpson's rule between two points.
                let middle = self.conductivity_at(0.5 * (a + b));
                sum += (b - a) / 6.0 * (self.conductivity_at(*a) + 4.0 * middle + self.conductivity_at(*b));
            }
            potential.push(sum);
        }
        let points = temperature.iter().zip(potential).map(|(t, potential)| [self.conductivity_at(*t), potential]);
        Table { points: points.collect(), per_enthalpy: (POINTS - 1) as f64 / (to - from) }
    }

    /// Of what it is made.
    pub fn composition(&self) -> Composition {
        self.composition
    }

    /// Share of the mass that is ice.
    pub fn ice(&self, t: Celsius) -> f64 {
        self.ice_at(t.degrees())
    }

    fn ice_at(&self, t: f64) -> f64 {
        let Composition { water, protein, freezing_c, .. } = self.composition;
        if t < freezing_c { (water - 0.4 * protein) * (1.0 - freezing_c / t) } else { 0.0 }
    }

    /// Thermal conductivity, W/(m·K): components after Choi and Okos, mixed in parallel by volume.
    ///
    /// Source: Choi and Okos 1986, in Food Engineering and Process Applications 1:93; −40 to 150 °C.
    pub fn conductivity(&self, t: Celsius) -> f64 {
        self.conductivity_at(t.degrees())
    }

    fn conductivity_at(&self, t: f64) -> f64 {
        let t2 = t * t;
        let ice = self.ice_at(t);
        let Composition { water, protein, fat, ash, .. } = self.composition;
        // (mass share, k W/(m·K), ρ kg/m³)
        let parts = [
            (water - ice, 0.571_09 + 1.7625e-3 * t - 6.7036e-6 * t2, 997.18 + 3.1439e-3 * t - 3.7574e-3 * t2),
            (ice, 2.2196 - 6.2489e-3 * t + 1.0154e-4 * t2, 916.89 - 0.130_71 * t),
            (protein, 0.178_81 + 1.1958e-3 * t - 2.7178e-6 * t2, 1329.9 - 0.5184 * t),
            (fat, 0.180_71 - 2.7604e-4 * t - 1.7749e-7 * t2, 925.59 - 0.417_57 * t),
            (ash, 0.329_62 + 1.4011e-3 * t - 2.9069e-6 * t2, 2423.8 - 0.280_63 * t),
        ];
        let volume: f64 = parts.iter().map(|(x, _, rho)| x / rho).sum();
        parts.iter().map(|(x, k, rho)| k * x / rho).sum::<f64>() / volume
    }

    /// Heat to bring a kilogram from one temperature to another, kJ/kg.
    pub fn heat_between_kj_kg(&self, from: Celsius, to: Celsius) -> f64 {
        self.enthalpy_kj_kg(to.degrees()) - self.enthalpy_kj_kg(from.degrees())
    }

    #[inline]
    fn looked_up(&self, h: f64) -> [f64; 2] {
        if self.enthalpy_at_freezing < h { self.thawed.at(h - self.enthalpy_at_freezing) } else { self.frozen.at(h) }
    }

    /// Heat of thawed tissue, kJ/(kg·K).
    pub fn heat_thawed_kj_kgk(&self) -> f64 {
        self.heat_thawed
    }

    /// Initial freezing point, °C.
    pub fn freezing_c(&self) -> f64 {
        self.composition.freezing_c
    }
}

impl PhaseChange for Food {
    fn enthalpy_kj_kg(&self, t: f64) -> f64 {
        let freezing = self.composition.freezing_c;
        if t <= freezing {
            (t - ZERO_C) * (self.a - self.b / t)
        } else {
            self.enthalpy_at_freezing + (t - freezing) * self.heat_thawed
        }
    }

    /// The frozen branch is a quadratic: a t² − (a tr + b + H) t + b tr = 0.
    #[inline]
    fn temperature_c(&self, h: f64) -> f64 {
        if self.enthalpy_at_freezing < h {
            return self.composition.freezing_c + (h - self.enthalpy_at_freezing) / self.heat_thawed;
        }
        let half = 0.5 * (self.a * ZERO_C + self.b + h);
        let root = (half * half - self.a * self.b * ZERO_C).max(0.0).sqrt();
        // The roots multiply to b tr/a < 0: the negative one is the temperature.
        (half - root) / self.a
    }

    #[inline]
    fn heat_kj_kgk(&self, h: f64, t: f64) -> f64 {
        if self.enthalpy_at_freezing < h { self.heat_thawed } else { self.a - self.b * ZERO_C / (t * t) }
    }

    #[inline]
    fn conductivity_w_mk(&self, h: f64) -> f64 {
        let [conductivity, _] = self.looked_up(h);
        conductivity
    }

    #[inline]
    fn flow_potential_w_m(&self, h: f64) -> f64 {
        let [_, potential] = self.looked_up(h);
        potential
    }

    #[inline]
    fn condition(&self, h: f64) -> Condition {
        let temperature_c = self.temperature_c(h);
        let [conductivity_w_mk, flow_potential_w_m] = self.looked_up(h);
        let heat_kj_kgk = self.heat_kj_kgk(h, temperature_c);
        Condition { temperature_c, heat_kj_kgk, conductivity_w_mk, flow_potential_w_m }
    }

    fn density_kg_m3(&self) -> f64 {
        self.density_kg_m3
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn rodent() -> Food {
        Food::new(Composition::ADULT_RODENT, 1040.0).unwrap()
    }

    proptest! {
        #[test]
        fn temperature_and_enthalpy_are_inverses(t in -39.99f64..60.0) {
            for composition in [Composition::ADULT_RODENT, Composition::PINKY, Composition::CHICK, Composition::LEAN_MEAT] {
                let food = Food::new(composition, 1040.0).unwrap();
                prop_assert!((food.temperature_c(food.enthalpy_kj_kg(t)) - t).abs() < 1e-9);
            }
        }

        #[test]
        fn the_heat_is_the_slope_of_the_enthalpy(t in -39.0f64..59.0) {
            prop_assume!((t + 1.2).abs() > 0.01);
            let food = rodent();
            let slope = (food.enthalpy_kj_kg(t + 1e-5) - food.enthalpy_kj_kg(t - 1e-5)) / 2e-5;
            prop_assert!((food.heat_kj_kgk(food.enthalpy_kj_kg(t), t) / slope - 1.0).abs() < 1e-4);
        }

        #[test]
        fn the_table_of_conductivities_follows_the_formula(t in -39.9f64..59.9) {
            let food = rodent();
            let table = food.conductivity_w_mk(food.enthalpy_kj_kg(t));
            prop_assert!((table / food.conductivity_at(t) - 1.0).abs() < 1e-4, "at {}: {}", t, table);
        }

        #[test]
        fn the_flow_potential_is_the_integral_of_the_conductivity(t in -39.0f64..59.0) {
            prop_assume!(0.2 < (t + 1.2).abs());
            let food = rodent();
            let at = |t: f64| food.flow_potential_w_m(food.enthalpy_kj_kg(t));
            let slope = (at(t + 0.1) - at(t - 0.1)) / 0.2;
            prop_assert!((slope / food.conductivity_at(t) - 1.0).abs() < 0.02, "at {}: {}", t, slope);
            prop_assert!(at(t) < at(t + 0.1));
        }
    }

    #[test]
    fn what_is_no_tissue_is_refused() {
        let dry = Composition { water: 0.1, ..Composition::ADULT_RODENT };
        let salty = Composition { freezing_c: -6.0, ..Composition::ADULT_RODENT };
        let warm = Composition { freezing_c: 0.0, ..Composition::ADULT_RODENT };
        for composition in [dry, salty, warm] {
            assert!(Food::new(composition, 1040.0).is_none(), "{composition:?}");
        }
        assert!(Food::new(Composition::ADULT_RODENT, 0.0).is_none());
    }
}
