//! Free convection: how much heat a surface gives to still air or water around it.
//!
//! The correlations are for open plates and bodies; inside a closed box expect ±30 %.

use super::constants::GRAVITY_M_S2;
use super::fluids::Fluid;
use units::{CelsiusDelta, Metres};

/// A Nusselt number, and whether its correlation was made for that Rayleigh number. Outside it is the best guess there
/// is, not a measured law.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nusselt {
    /// h L/k.
    pub value: f64,
    /// Is the Rayleigh number inside the range of the correlation?
    pub is_in_range: bool,
}

impl Nusselt {
    /// The film coefficient h = Nu k/L, W/(m²·K).
    pub fn coefficient_w_m2k(self, fluid: &Fluid, length: Metres) -> f64 {
        self.value * fluid.conductivity_w_mk / length.metres()
    }
}

/// Which way the heat leaves a horizontal plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Facing {
    /// A hot surface facing up or a cold one facing down: the fluid rises from it.
    HotUp,
    /// A hot surface facing down or a cold one facing up: the fluid stays under it.
    HotDown,
}

/// Rayleigh number g β ΔT L³/(ν α), for a difference in either direction.
pub fn rayleigh(fluid: &Fluid, difference: CelsiusDelta, length: Metres) -> f64 {
    let grashof = GRAVITY_M_S2 * (fluid.expansion_1_k * difference.kelvin()).abs() * length.metres().powi(3)
        / fluid.viscosity_m2_s.powi(2);
    grashof * fluid.prandtl
}

/// Vertical plate, length = height: Nu = {0.825 + 0.387 Ra^(1/6)/[1 + (0.492/Pr)^(9/16)]^(8/27)}².
///
/// Source: Churchill and Chu 1975, Int. J. Heat Mass Transfer 18:1323; Ra ≤ 1e12.
pub fn vertical_plate(ra: f64, pr: f64) -> Nusselt {
    let spread = (1.0 + (0.492 / pr).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    Nusselt { value: (0.825 + 0.387 * ra.powf(1.0 / 6.0) / spread).powi(2), is_in_range: (0.0..=1e12).contains(&ra) }
}

/// Vertical plate in laminar flow: Nu = 0.68 + 0.670 Ra^(1/4)/[1 + (0.492/Pr)^(9/16)]^(4/9).
///
/// Source: Churchill and Chu 1975; Ra < 1e9.
pub fn vertical_plate_laminar(ra: f64, pr: f64) -> Nusselt {
    let spread = (1.0 + (0.492 / pr).powf(9.0 / 16.0)).powf(4.0 / 9.0);
    Nusselt { value: 0.68 + 0.670 * ra.powf(0.25) / spread, is_in_range: (0.0..1e9).contains(&ra) }
}

/// Horizontal plate, length = area/perimeter. Hot up: 0.54 Ra^(1/4) to 1e7, then 0.15 Ra^(1/3) (1e4 ≤ Ra ≤ 1e11);
/// hot down: 0.27 Ra^(1/4) (1e5 ≤ Ra ≤ 1e10), beyond 0.15 Ra^(1/3).
///
/// Source: McAdams 1954, Heat Transmission, 3rd ed.
pub fn horizontal_plate(ra: f64, facing: Facing) -> Nusselt {
    let (value, range) = match facing {
        Facing::HotUp if ra <= 1e7 => (0.54 * ra.powf(0.25), 1e4..=1e11),
        Facing::HotUp => (0.15 * ra.cbrt(), 1e4..=1e11),
        Facing::HotDown if ra <= 1e10 => (0.27 * ra.powf(0.25), 1e5..=1e10),
        Facing::HotDown => (0.15 * ra.cbrt(), 1e5..=1e10),
    };
    Nusselt { value, is_in_range: range.contains(&ra) }
}

/// Horizontal plate by a second source, length = area/perimeter, thin-layer corrections included, so small plates at
/// small differences are served too.
///
/// Source: Raithby and Hollands in Rohsenow, Hartnett and Cho 1998, Handbook of Heat Transfer, 3rd ed., ch. 4.
/// Hot down: 1e3 ≤ Ra ≤ 1e10.
pub fn horizontal_plate_thin_layer(ra: f64, pr: f64, facing: Facing) -> Nusselt {
    match facing {
        Facing::HotUp => {
            let laminar = 0.671 / (1.0 + (0.492 / pr).powf(9.0 / 16.0)).powf(4.0 / 9.0);
            let thin = 0.835 * laminar * ra.powf(0.25);
            let layer = 1.4 / (1.4 / thin).ln_1p();
            let turbulent = 0.14 * (1.0 + 0.017_07 * pr) / (1.0 + 0.01 * pr) * ra.cbrt();
            Nusselt { value: (layer.powi(10) + turbulent.powi(10)).powf(0.1), is_in_range: (1.0..=1e10).contains(&ra) }
        }
        Facing::HotDown => {
            let thin = 0.527 * ra.powf(0.2) / (1.0 + (1.9 / pr).powf(0.9)).powf(2.0 / 9.0);
            Nusselt { value: 2.5 / (2.5 / thin).ln_1p(), is_in_range: (1e3..=1e10).contains(&ra) }
        }
    }
}

/// Horizontal plate by a third source, length = area/perimeter. Hot up: 0.766 (Ra f₂)^(1/5) below Ra f₂ = 7e4, then
/// 0.15 (Ra f₂)^(1/3); hot down: 0.6 (Ra f₁)^(1/5).
///
/// Source: VDI Heat Atlas, 2nd ed. 2010, section F2 (Stewartson 1958 for hot up). Hot down: 1e3 < Ra f₁ < 1e10.
pub fn horizontal_plate_atlas(ra: f64, pr: f64, facing: Facing) -> Nusselt {
    match facing {
        Facing::HotUp => {
            let x = ra * (1.0 + (0.322 / pr).powf(11.0 / 20.0)).powf(-20.0 / 11.0);
            let value = if x < 7e4 { 0.766 * x.powf(0.2) } else { 0.15 * x.cbrt() };
            Nusselt { value, is_in_range: 0.0 < ra }
        }
        Facing::HotDown => {
            let x = ra * (1.0 + (0.492 / pr).powf(9.0 / 16.0)).powf(-16.0 / 9.0);
            Nusselt { value: 0.6 * x.powf(0.2), is_in_range: (1e3..1e10).contains(&x) }
        }
    }
}

/// Horizontal cylinder, length = diameter: Nu = {0.60 + 0.387 Ra^(1/6)/[1 + (0.559/Pr)^(9/16)]^(8/27)}².
///
/// Source: Churchill and Chu 1975, Int. J. Heat Mass Transfer 18:1049; 1e-5 < Ra ≤ 1e12.
pub fn horizontal_cylinder(ra: f64, pr: f64) -> Nusselt {
    let spread = (1.0 + (0.559 / pr).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    Nusselt { value: (0.60 + 0.387 * ra.powf(1.0 / 6.0) / spread).powi(2), is_in_range: (1e-5..=1e12).contains(&ra) }
}

/// Sphere, length = diameter:
/// Nu = 2 + 0.589 Ra^(1/4)/[1 + (0.469/Pr)^(9/16)]^(4/9) · {1 + 7.44e-8 Ra/[1 + (0.469/Pr)^(9/16)]^(16/9)}^(1/12).
///
/// Source: Churchill 1983, in Schlünder, Heat Exchanger Design Handbook, section 2.5.7; Ra ≤ 1e11 for Pr ≥ 0.7.
pub fn sphere(ra: f64, pr: f64) -> Nusselt {
    let spread = 1.0 + (0.469 / pr).powf(9.0 / 16.0);
    let turbulent = (1.0 + 7.44e-8 * ra / spread.powf(16.0 / 9.0)).powf(1.0 / 12.0);
    Nusselt {
        value: 2.0 + 0.589 * ra.powf(0.25) / spread.powf(4.0 / 9.0) * turbulent,
        is_in_range: (0.0..=1e11).contains(&ra),
    }
}

/// A layer of fluid between a warm floor and a cool lid, length = distance:
/// Nu = 1 + [1 − 1708/Ra]⁺ {k₁ + 2 (Ra^(1/3)/k₂)^(1 − ln(Ra^(1/3)/k₂))} + [(Ra/5803)^(1/3) − 1]⁺,
/// k₁ = 1.44/(1 + 0.018/Pr + 0.00136/Pr²), k₂ = 75 exp(1.5 Pr^(−1/2)).
///
/// Source: Hollands 1984, Int. J. Heat Mass Transfer 27:466. Between plates far wider than their distance; below
/// Ra = 1708 the layer only conducts.
pub fn layer_heated_from_below(ra: f64, pr: f64) -> Nusselt {
    const CRITICAL: f64 = 1708.0;
    let is_in_range = 0.0 <= ra;
    if ra < CRITICAL {
        return Nusselt { value: 1.0, is_in_range };
    }
    let k1 = 1.44 / (1.0 + 0.018 / pr + 0.001_36 / pr.powi(2));
    let k2 = 75.0 * (1.5 / pr.sqrt()).exp();
    let x = ra.cbrt() / k2;
    let cells = (1.0 - CRITICAL / ra) * (k1 + 2.0 * x.powf(1.0 - x.ln()));
    Nusselt { value: 1.0 + cells + ((ra / 5803.0).cbrt() - 1.0).max(0.0), is_in_range }
}

/// Short forms for still room air, W/(m²·K): C (ΔT/L)^(1/4). Against Churchill and Chu within 10 % up to 0.3 m, up to
/// 20 % below at 1.2 m.
///
/// Source: McAdams 1954, as given in the ASHRAE Handbook.
pub mod room_air {
    use super::Facing;
    use units::{CelsiusDelta, Metres};

    /// Differences below this are taken as this: at rest the heat goes by conduction and stray air.
    pub const LEAST_DIFFERENCE_K: f64 = 0.1;

    /// Upright wall, 1.42 (ΔT/H)^(1/4).
    pub fn wall_w_m2k(difference: CelsiusDelta, height: Metres) -> f64 {
        1.42 * quarter(difference, height)
    }

    /// Floor or lid, 1.32 (ΔT/L)^(1/4) where air rises from it, else 0.59 (ΔT/L)^(1/4).
    pub fn plate_w_m2k(difference: CelsiusDelta, length: Metres, facing: Facing) -> f64 {
        let c = match facing {
            Facing::HotUp => 1.32,
            Facing::HotDown => 0.59,
        };
        c * quarter(difference, length)
    }

    fn quarter(difference: CelsiusDelta, length: Metres) -> f64 {
        (difference.kelvin().abs().max(LEAST_DIFFERENCE_K) / length.metres()).powf(0.25)
    }
}
