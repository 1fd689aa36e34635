//! Moist air: what the same water in the air means at another temperature.
//!
//! The vapour pressure of well mixed air is one; its relative humidity differs from spot to spot with the temperature.
//! Start with [`MoistAir`]. The ideal-gas equations of the ASHRAE Handbook, Fundamentals (2017), chapter 1, are used
//! throughout; against real-gas moist air they are within 0.6 % in the humidity ratio and 0.03 K in dew point and wet
//! bulb above 0 °C between 10 and 45 °C, far better than any hygrometer a keeper has.

mod altitude;
mod dew_point;
mod moist_air;
mod placement;
mod saturation;
mod wet_bulb;

pub use altitude::{standard_pressure, station_pressure};
pub use dew_point::dew_point;
pub use moist_air::MoistAir;
pub use placement::{humidity_after_warming_percent, vapour_density_after_warming_kg_m3, what_a_probe_reads};
pub use saturation::{magnus_dew_point, magnus_pressure, saturation_pressure, saturation_vapour_density_kg_m3};
