//! Evaporation from a still water surface.

use crate::physics::constants::{GRAVITY_M_S2, WATER_VAPOUR_J_KGK, heat_of_vaporisation_j_kg};
use crate::physics::fluids::air;
use crate::physics::psychrometrics::{MoistAir, saturation_pressure};
use units::{Celsius, Metres, Pascals, RelativeHumidity};

/// Mass transfer of a bowl in a closed box, m/s; 2.5e-3 under a mesh lid. Range 1.2e-3 to 3e-3.
///
/// Source: by the analogy hm = hc/(ρ cp Le^(2/3)) with hc 2 W/(m²·K), and what Shah's law gives.
pub const BOWL_M_S: f64 = 1.8e-3;
/// The same under a mesh lid, m/s.
pub const BOWL_UNDER_MESH_M_S: f64 = 2.5e-3;

/// Share of a free water surface that a damp one gives: estimates.
pub mod wetness {
    /// Dripping wet moss or substrate.
    pub const DRIPPING: f64 = 1.0;
    /// Damp to the surface.
    pub const DAMP: f64 = 0.7;
    /// A dry crust over a damp body.
    pub const CRUST: f64 = 0.3;
}

/// The parts of Shah's law.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shah {
    /// By natural convection, kg/(m²·h); zero where the air at the water is the denser.
    pub natural_kg_m2h: f64,
    /// By the stray air of any room, kg/(m²·h).
    pub stray_kg_m2h: f64,
    /// ρr − ρw, dry air in a cubic metre of moist air, kg/m³.
    pub density_difference_kg_m3: f64,
}

impl Shah {
    /// The rate: the larger of both, and not below zero.
    pub fn rate_kg_m2h(&self) -> f64 {
        self.natural_kg_m2h.max(self.stray_kg_m2h).max(0.0)
    }
}

/// Evaporation from still water: E = max[35 ρw (ρr − ρw)^(1/3) (Ww − Wr), 5e-5 (pw − pr)], kg/(m²·h), densities as dry
/// air per m³ of moist air (w saturated at the water, r room air), pressures in Pa. `None` outside 7 to 94 °C.
///
/// Source: Shah 2014, ASHRAE Transactions 120(2), SE-14-001. Mean deviation 18 % over eleven data sets of pools.
pub fn shah(water: Celsius, room: Celsius, humidity: RelativeHumidity) -> Option<Shah> {
    if !(7.0..=94.0).contains(&water.degrees()) {
        return None;
    }
    let w = MoistAir::from_relative_humidity(water, RelativeHumidity::SATURATED, Pascals::ATMOSPHERE)?;
    let r = MoistAir::from_relative_humidity(room, humidity, Pascals::ATMOSPHERE)?;
    let difference = r.dry_air_density_kg_m3() - w.dry_air_density_kg_m3();
    let natural_kg_m2h = if 0.0 < difference {
        let drive = w.humidity_ratio() - r.humidity_ratio();
        (35.0 * w.dry_air_density_kg_m3() * difference.cbrt() * drive).max(0.0)
    } else {
        0.0
    };
    Some(Shah {
        natural_kg_m2h,
        stray_kg_m2h: 5e-5 * (w.vapour_pressure().pascals() - r.vapour_pressure().pascals()),
        density_difference_kg_m3: difference,
    })
}

/// Evaporation from a pool: E = Fa (pw − pr)(0.089 + 0.0782 v)/Y · 3600, kg/(m²·h), pressures in Pa, Y in J/kg, v the
/// air speed in m/s, Fa 0.5 for an unused pool. At rest with Fa 1 it is 1.8 to 2.6 times Shah's. `None` outside the
/// range of the saturation pressure.
///
/// Source: Carrier 1918; ASHRAE Handbook, HVAC Applications, natatoriums.
pub fn carrier_kg_m2h(
    water: Celsius,
    room: Celsius,
    humidity: RelativeHumidity,
    air_m_s: f64,
    activity: f64,
) -> Option<f64> {
    let difference = saturation_pressure(water)?.pascals() - humidity.fraction() * saturation_pressure(room)?.pascals();
    Some(activity * difference * (0.089 + 0.0782 * air_m_s) / heat_of_vaporisation_j_kg(water) * 3600.0)
}

/// Evaporation from an unused pool at rest: 0.74 times [`carrier_kg_m2h`].
///
/// Source: Smith, Löf and Jones 1993, Solar Energy 53:3.
pub fn smith_kg_m2h(water: Celsius, room: Celsius, humidity: RelativeHumidity) -> Option<f64> {
    Some(0.74 * carrier_kg_m2h(water, room, humidity, 0.0, 1.0)?)
}

/// Mass transfer from a small bowl by the analogy of heat and mass transfer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Analogy {
    /// h_m, m/s.
    pub mass_transfer_m_s: f64,
    /// The rate, kg/(m²·h).
    pub rate_kg_m2h: f64,
}

/// Evaporation from a bowl by the law of a horizontal plate: Sh = 0.54 Ra^(1/4) or 0.15 Ra^(1/3) where the moist air at
/// the water is the lighter, else 0.27 Ra^(1/4), at least 1; Ra from the difference of moist-air densities, length =
/// area/perimeter, D = 1.87e-10 T^2.072 m²/s. `None` outside the range of the air table.
///
/// Source: the analogy after Incropera and DeWitt, ch. 6; D: Marrero and Mason 1972, J. Phys. Chem. Ref. Data 1:3.
pub fn by_analogy(water: Celsius, room: Celsius, humidity: RelativeHumidity, length: Metres) -> Option<Analogy> {
    let film = Celsius::new(0.5 * (water.degrees() + room.degrees()))?;
    let nu = air(film)?.viscosity_m2_s;
    let diffusion = 1.87e-10 * film.kelvin().powf(2.072);
    let w = MoistAir::from_relative_humidity(water, RelativeHumidity::SATURATED, Pascals::ATMOSPHERE)?;
    let r = MoistAir::from_relative_humidity(room, humidity, Pascals::ATMOSPHERE)?;
    let (rho_w, rho_r) = (w.density_kg_m3(), r.density_kg_m3());
    let l = length.metres();
    let grashof = GRAVITY_M_S2 * (rho_r - rho_w).abs() / (0.5 * (rho_r + rho_w)) * l.powi(3) / nu.powi(2);
    let ra = grashof * nu / diffusion;
    let sherwood: f64 = match (rho_w < rho_r, ra <= 1e7) {
        (true, true) => 0.54 * ra.powf(0.25),
        (true, false) => 0.15 * ra.cbrt(),
        (false, _) => 0.27 * ra.powf(0.25),
    };
    let mass_transfer_m_s = sherwood.max(1.0) * diffusion / l;
    let density = |t: Celsius, p: Pascals| p.pascals() / (WATER_VAPOUR_J_KGK * t.kelvin());
    let drive = density(water, w.vapour_pressure()) - density(room, r.vapour_pressure());
    Some(Analogy { mass_transfer_m_s, rate_kg_m2h: mass_transfer_m_s * drive * 3600.0 })
}

/// Mass transfer from a film coefficient, m/s: h_m = hc/(ρ cp Le^(2/3)), Le 0.85, air at 28 °C.
///
/// Source: Chilton and Colburn 1934 (the Lewis relation).
pub fn mass_transfer_from_film_m_s(convection_w_m2k: f64) -> f64 {
    const LEWIS: f64 = 0.85;
    convection_w_m2k / (crate::physics::constants::AIR_J_M3K * LEWIS.powf(2.0 / 3.0))
}

/// Heat that a bowl gives up by evaporating, W: E A hfg.
pub fn latent_heat(rate_kg_m2h: f64, area_m2: f64, water: Celsius) -> units::Watts {
    units::Watts(rate_kg_m2h / 3600.0 * area_m2 * heat_of_vaporisation_j_kg(water))
}
