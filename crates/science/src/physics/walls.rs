//! Heat through walls: layers, the air films on both faces, and the temperature of the inner face.

use super::materials::Material;
use super::psychrometrics::saturation_pressure;
use units::{Celsius, Metres};

/// Resistance of the air film on a face indoors, m²·K/W.
///
/// Source: ISO 6946, table 7 (internal surfaces). An enclosure stands in a room, so these serve on both faces.
pub mod film {
    /// Heat going sideways: walls.
    pub const SIDEWAYS_M2K_W: f64 = 0.13;
    /// Heat going up: a lid.
    pub const UPWARDS_M2K_W: f64 = 0.10;
    /// Heat going down: a floor.
    pub const DOWNWARDS_M2K_W: f64 = 0.17;
    /// In a corner, the worst case for dew. Source: ISO 13788.
    pub const CORNER_M2K_W: f64 = 0.25;
}

/// What an enclosure stands on, as resistance to the room, m²·K/W. Estimates.
pub mod shelf {
    /// A wooden shelf.
    pub const WOOD_M2K_W: f64 = 0.15;
    /// A foam board.
    pub const FOAM_M2K_W: f64 = 0.7;
    /// Not known.
    pub const UNKNOWN_M2K_W: f64 = 0.25;
}

/// One layer of a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// How thick it is.
    pub thickness: Metres,
    /// Thermal conductivity, W/(m·K); above zero.
    pub conductivity_w_mk: f64,
}

impl Layer {
    /// A layer of a listed material.
    pub fn of(material: Material, thickness: Metres) -> Layer {
        Layer { thickness, conductivity_w_mk: material.properties().conductivity_w_mk }
    }

    /// R = d/λ, m²·K/W.
    pub fn resistance_m2k_w(&self) -> f64 {
        self.thickness.metres() / self.conductivity_w_mk
    }
}

/// Σ d/λ, m²·K/W.
pub fn resistance_m2k_w(layers: &[Layer]) -> f64 {
    layers.iter().map(Layer::resistance_m2k_w).sum()
}

/// Heat through a square metre per kelvin from air to air, W/(m²·K): U = 1/(Rsi + Σ d/λ + Rse).
///
/// Source: ISO 6946, 6.7.1. `None` unless the resistances add up to more than zero.
pub fn u_value_w_m2k(layers: &[Layer], inner_film_m2k_w: f64, outer_film_m2k_w: f64) -> Option<f64> {
    let resistance = inner_film_m2k_w + resistance_m2k_w(layers) + outer_film_m2k_w;
    (resistance.is_finite() && 0.0 < resistance).then_some(1.0 / resistance)
}

/// Temperature of the inner face: Tsi = Ti − U Rsi (Ti − Te). `None` only for values that are no temperature.
///
/// Source: ISO 13788, 4.2 (temperature factor).
pub fn inner_face(u_w_m2k: f64, inner_film_m2k_w: f64, inside: Celsius, room: Celsius) -> Option<Celsius> {
    Celsius::new(inside.degrees() - u_w_m2k * inner_film_m2k_w * (inside - room).kelvin())
}

/// Relative humidity inside, %, from which dew settles on a face of that temperature: 100 pws(face)/pws(inside).
/// `None` outside −100 to 200 °C.
pub fn humidity_of_dew_percent(face: Celsius, inside: Celsius) -> Option<f64> {
    Some(100.0 * saturation_pressure(face)?.pascals() / saturation_pressure(inside)?.pascals())
}

/// Does dew settle on the inner face? `None` outside −100 to 200 °C.
pub fn dew_settles(
    u_w_m2k: f64,
    inner_film_m2k_w: f64,
    inside: Celsius,
    room: Celsius,
    humidity: units::RelativeHumidity,
) -> Option<bool> {
    let face = inner_face(u_w_m2k, inner_film_m2k_w, inside, room)?;
    Some(humidity_of_dew_percent(face, inside)? < humidity.percent())
}

/// Temperature of a heat mat: T + q/(1/R_up + 1/R_down), both sides at `around`. What lies on it makes it hotter: the
/// heat has nowhere to go. `None` unless both resistances are above zero.
///
/// Source: two resistances in parallel from one plane source.
pub fn mat_under_cover(flux_w_m2: f64, up_m2k_w: f64, down_m2k_w: f64, around: Celsius) -> Option<Celsius> {
    let possible = 0.0 < up_m2k_w && 0.0 < down_m2k_w;
    possible.then(|| Celsius::new(around.degrees() + flux_w_m2 / (1.0 / up_m2k_w + 1.0 / down_m2k_w)))?
}

/// Share of a mat's heat that goes up: R_down/(R_up + R_down). `None` unless both are above zero.
pub fn share_upwards(up_m2k_w: f64, down_m2k_w: f64) -> Option<f64> {
    (0.0 < up_m2k_w && 0.0 < down_m2k_w).then(|| down_m2k_w / (up_m2k_w + down_m2k_w))
}

/// A surface that a snake can lie on is watched from here, °C; no dose curve for reptiles was found.
pub const CONTACT_ALARM_C: f64 = 40.0;
/// Lowest temperature at which human skin was burnt (in 6 h), °C. Source: Moritz and Henriques 1947, Am. J. Pathol.
/// 23:695; as no curve for reptiles is known, taken as the burn for them too.
pub const CONTACT_BURN_C: f64 = 44.0;
