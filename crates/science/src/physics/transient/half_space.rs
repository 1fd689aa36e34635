//! Early times: the body has no other side yet.

use crate::physics::roots::zero_between;
use statrs::function::erf::{erf_inv, erfc};
use units::{Metres, Seconds};

/// Share of the change that has reached a depth, surface held: (T − Ti)/(Ts − Ti) = erfc(x/(2√(αt))). `None` unless
/// time and diffusivity are above zero. Valid while a body is several √(αt) thick.
///
/// Source: Carslaw and Jaeger 1959, 2.4.
pub fn half_space_with_fixed_surface(depth_m: f64, elapsed: Seconds, diffusivity_m2_s: f64) -> Option<f64> {
    let spread = diffusivity_m2_s * elapsed.seconds();
    (0.0 < spread && 0.0 <= depth_m).then(|| erfc(depth_m / (2.0 * spread.sqrt())))
}

/// The same with a film: erfc(η) − exp(hx/k + h²αt/k²) erfc(η + h√(αt)/k), η = x/(2√(αt)). `None` as above or unless
/// conductivity is above zero and the film not negative.
///
/// Source: Carslaw and Jaeger 1959, 2.7.
pub fn half_space_with_film(
    depth_m: f64,
    elapsed: Seconds,
    diffusivity_m2_s: f64,
    conductivity_w_mk: f64,
    film_w_m2k: f64,
) -> Option<f64> {
    let fixed = half_space_with_fixed_surface(depth_m, elapsed, diffusivity_m2_s)?;
    if !(0.0 < conductivity_w_mk && 0.0 <= film_w_m2k) {
        return None;
    }
    let root = (diffusivity_m2_s * elapsed.seconds()).sqrt();
    let eta = depth_m / (2.0 * root);
    let b = film_w_m2k * root / conductivity_w_mk;
    Some(fixed - (-eta * eta).exp() * scaled_erfc(eta + b))
}

/// e^(x²) erfc(x) for x ≥ 0; for large x by the continued fraction, where the factors alone would over- and underflow.
///
/// Source: Abramowitz and Stegun 1964, 7.1.14.
fn scaled_erfc(x: f64) -> f64 {
    if x < 5.0 {
        return (x * x).exp() * erfc(x);
    }
    let mut tail = 0.0;
    for k in (1..=60).rev() {
        tail = f64::from(k) / 2.0 / (x + tail);
    }
    1.0 / ((x + tail) * std::f64::consts::PI.sqrt())
}

/// Depth that `fraction` of a change at the surface has reached, surface held. `None` unless 0 < fraction < 1 and time
/// and diffusivity are above zero.
pub fn depth_of_fraction(fraction: f64, elapsed: Seconds, diffusivity_m2_s: f64) -> Option<Metres> {
    let spread = diffusivity_m2_s * elapsed.seconds();
    if !(0.0 < spread && 0.0 < fraction && fraction < 1.0) {
        return None;
    }
    let guess = erf_inv(1.0 - fraction);
    let eta = zero_between(|eta| erfc(eta) - fraction, 0.5 * guess, 2.0 * guess).unwrap_or(guess);
    Metres::new(2.0 * spread.sqrt() * eta)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_forms_of_the_scaled_function_meet() {
        let direct = |x: f64| (x * x).exp() * erfc(x);
        let off = scaled_erfc(5.0) / direct(5.0) - 1.0;
        assert!(off.abs() < 1e-9, "{off:e}");
        // Abramowitz and Stegun 1964, 7.1.23: 1/(x√π) (1 − 1/(2x²)) for large x.
        let x: f64 = 50.0;
        let wanted = (1.0 - 0.5 / (x * x)) / (x * std::f64::consts::PI.sqrt());
        assert!((scaled_erfc(x) / wanted - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_film_that_is_very_good_is_a_fixed_surface() {
        let t = Seconds(600.0);
        let fixed = half_space_with_fixed_surface(0.01, t, 1.3e-7).unwrap();
        let film = half_space_with_film(0.01, t, 1.3e-7, 0.48, 1e9).unwrap();
        assert!((fixed - film).abs() < 1e-6);
        assert!(half_space_with_film(0.01, t, 1.3e-7, 0.48, 0.0).unwrap().abs() < 1e-15);
        assert!(half_space_with_fixed_surface(0.01, Seconds(0.0), 1.3e-7).is_none());
    }
}
