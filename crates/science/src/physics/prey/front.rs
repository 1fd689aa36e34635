//! A thawing front in a half-space, exactly: what the solver is measured against.

use super::PhaseChange;
use crate::physics::roots::zero_between;
use statrs::function::erf::{erf, erfc};
use std::f64::consts::PI;
use units::{Celsius, Metres, Seconds};

/// A substance with one sharp melting temperature, per volume.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sharp {
    /// Melted: W/(m·K).
    pub melted_w_mk: f64,
    /// Melted: J/(m³·K).
    pub melted_j_m3k: f64,
    /// Solid: W/(m·K).
    pub solid_w_mk: f64,
    /// Solid: J/(m³·K).
    pub solid_j_m3k: f64,
    /// Of melting, J/m³.
    pub latent_j_m3: f64,
    /// Melting temperature, °C.
    pub melting_c: f64,
}

impl Sharp {
    /// λ of Neumann's solution, front at 2 λ √(α_melted t), the surface held at `surface`, the rest at `start`:
    /// e^(−λ²)/erf λ − (ks/kl) √(αl/αs) (Tf − Ti)/(Ts − Tf) e^(−λ²αl/αs)/erfc(λ√(αl/αs)) = λ L √π/(cl (Ts − Tf)).
    /// `None` unless start ≤ melting < surface.
    ///
    /// Source: Carslaw and Jaeger 1959, 11.2.
    pub fn neumann(&self, surface: Celsius, start: Celsius) -> Option<f64> {
        let (warmer, colder) = (surface.degrees() - self.melting_c, self.melting_c - start.degrees());
        if !(0.0 < warmer && 0.0 <= colder) {
            return None;
        }
        let ratio = ((self.melted_w_mk / self.melted_j_m3k) / (self.solid_w_mk / self.solid_j_m3k)).sqrt();
        let off = |x: f64| {
            let y = x * ratio;
            (-x * x).exp() / erf(x)
                - x * self.latent_j_m3 * PI.sqrt() / (self.melted_j_m3k * warmer)
                - self.solid_w_mk / self.melted_w_mk * ratio * colder / warmer * (-y * y).exp() / erfc(y)
        };
        zero_between(off, 1e-6, 3.0)
    }

    /// How deep the front is after a time.
    pub fn front(&self, surface: Celsius, start: Celsius, elapsed: Seconds) -> Option<Metres> {
        let lambda = self.neumann(surface, start)?;
        Metres::new(2.0 * lambda * (self.melted_w_mk / self.melted_j_m3k * elapsed.seconds()).sqrt())
    }

    /// The same with the heat of both phases left out: √(2 k ΔT t/L). `None` unless the surface is above melting.
    pub fn quasi_steady_front(&self, surface: Celsius, elapsed: Seconds) -> Option<Metres> {
        let warmer = surface.degrees() - self.melting_c;
        Metres::new((2.0 * self.melted_w_mk * warmer * elapsed.seconds() / self.latent_j_m3).sqrt())
    }

    /// Share that is melted at an enthalpy, from 0 to 1.
    pub fn melted_share(&self, enthalpy_kj: f64) -> f64 {
        (enthalpy_kj * 1000.0 / self.latent_j_m3).clamp(0.0, 1.0)
    }
}

/// With a density of 1 kg/m³, so enthalpies per mass are per volume; zero for the solid at its melting temperature.
impl PhaseChange for Sharp {
    fn enthalpy_kj_kg(&self, t: f64) -> f64 {
        let over = t - self.melting_c;
        (if over <= 0.0 { self.solid_j_m3k * over } else { self.latent_j_m3 + self.melted_j_m3k * over }) / 1000.0
    }

    fn temperature_c(&self, h: f64) -> f64 {
        let joules = h * 1000.0;
        if joules < 0.0 {
            self.melting_c + joules / self.solid_j_m3k
        } else if self.latent_j_m3 < joules {
            self.melting_c + (joules - self.latent_j_m3) / self.melted_j_m3k
        } else {
            self.melting_c
        }
    }

    /// While it melts its temperature stands still: the heat of the solid keeps the steps short enough.
    fn heat_kj_kgk(&self, h: f64, _t: f64) -> f64 {
        (if h * 1000.0 <= self.latent_j_m3 { self.solid_j_m3k } else { self.melted_j_m3k }) / 1000.0
    }

    fn conductivity_w_mk(&self, h: f64) -> f64 {
        self.solid_w_mk + (self.melted_w_mk - self.solid_w_mk) * self.melted_share(h)
    }

    fn flow_potential_w_m(&self, h: f64) -> f64 {
        let over = self.temperature_c(h) - self.melting_c;
        if over < 0.0 { self.solid_w_mk * over } else { self.melted_w_mk * over }
    }

    fn density_kg_m3(&self) -> f64 {
        1.0
    }
}
