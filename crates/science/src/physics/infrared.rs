//! What an infrared thermometer shows, and what is true.
//!
//! Signal: S = ε B(T) + (1 − ε) B(T_refl); the instrument inverts it with its own ε and its own idea of what is
//! reflected. With B ∝ T⁴: an 8 to 14 µm band has exponents of 4.2 to 4.8, but that changes less than 0.02 K for
//! ε > 0.8 and 12 K of contrast. Glass and acrylic are opaque in this band: through them the pane is measured.

use super::radiation::Emissivity;
use units::{Celsius, Metres};

/// How an instrument is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Its emissivity.
    pub emissivity: Emissivity,
    /// What it takes to be reflected. Most take the temperature of their own case.
    pub reflected: Celsius,
}

fn quartic(t: Celsius) -> f64 {
    t.kelvin().powi(4)
}

/// What the instrument shows for a surface: T⁴ = [ε T_s⁴ + (1 − ε) T_r⁴ − (1 − ε_set) T_r'⁴]/ε_set. `None` where the
/// signal is less than what it takes to be reflected alone.
pub fn shown(surface: Celsius, emissivity: Emissivity, reflected: Celsius, set: &Setting) -> Option<Celsius> {
    let signal = emissivity.value() * quartic(surface) + (1.0 - emissivity.value()) * quartic(reflected);
    from_signal(signal, set.emissivity, set.reflected)
}

/// The surface from what was shown: T⁴ = [ε_set T_shown⁴ + (1 − ε_set) T_r'⁴ − (1 − ε) T_r⁴]/ε. `None` where the signal
/// is less than what is reflected alone: then emissivity or reflected temperature are wrong.
pub fn corrected(shown: Celsius, set: &Setting, emissivity: Emissivity, reflected: Celsius) -> Option<Celsius> {
    let own = set.emissivity.value();
    let signal = own * quartic(shown) + (1.0 - own) * quartic(set.reflected);
    from_signal(signal, emissivity, reflected)
}

fn from_signal(signal: f64, emissivity: Emissivity, reflected: Celsius) -> Option<Celsius> {
    let own = (signal - (1.0 - emissivity.value()) * quartic(reflected)) / emissivity.value();
    (0.0 < own).then(|| Celsius::from_kelvin(own.powf(0.25)))?
}

/// Emissivity of a surface whose temperature a contact thermometer knows. `None` where surface and surroundings are less
/// than 2 K apart (nothing could be told), or where it comes out at no emissivity.
pub fn emissivity_from_contact(
    contact: Celsius,
    shown: Celsius,
    set: &Setting,
    reflected: Celsius,
) -> Option<Emissivity> {
    const LEAST_CONTRAST_K: f64 = 2.0;
    if (contact - reflected).kelvin().abs() < LEAST_CONTRAST_K {
        return None;
    }
    let own = set.emissivity.value();
    let signal = own * quartic(shown) + (1.0 - own) * quartic(set.reflected);
    Emissivity::new((signal - quartic(reflected)) / (quartic(contact) - quartic(reflected)))
}

/// Diameter of the spot: max(distance/(D:S), aperture). A target should be at least twice as wide. `None` unless the
/// ratio is above zero.
pub fn spot(distance: Metres, distance_to_spot: f64, aperture: Metres) -> Option<Metres> {
    (0.0 < distance_to_spot).then(|| Metres::new((distance.metres() / distance_to_spot).max(aperture.metres())))?
}
