//! Sense from thermometers: lag, a lamp in view, and two that disagree.

use units::{Celsius, CelsiusDelta, Seconds};

/// What a thermometer with a first-order lag reads after a time in new surroundings: T + (T₀ − T) e^(−t/τ). `None`
/// unless the lag is above zero.
pub fn reading_after(start: Celsius, around: Celsius, lag: Seconds, elapsed: Seconds) -> Option<Celsius> {
    let left = (-elapsed.seconds() / lag.seconds()).exp();
    (0.0 < lag.seconds()).then(|| Celsius::new(around.degrees() + (start - around).kelvin() * left))?
}

/// What a thermometer will settle at, from two readings one time apart: T = (r₂ − r₁ e^(−t/τ))/(1 − e^(−t/τ)). `None`
/// unless lag and time are above zero.
pub fn settles_at(first: Celsius, second: Celsius, lag: Seconds, between: Seconds) -> Option<Celsius> {
    if !(0.0 < lag.seconds() && 0.0 < between.seconds()) {
        return None;
    }
    let left = (-between.seconds() / lag.seconds()).exp();
    Celsius::new((second.degrees() - first.degrees() * left) / (1.0 - left))
}

/// By how much a probe in the radiant view of a lamp reads above the air: α q/(hc + hr). `None` unless the film is above
/// zero and α lies in 0 to 1.
pub fn probe_in_lamp_light(absorbs: f64, flux_w_m2: f64, film_w_m2k: f64) -> Option<CelsiusDelta> {
    let sound = (0.0..=1.0).contains(&absorbs) && 0.0 < film_w_m2k && 0.0 <= flux_w_m2;
    sound.then(|| CelsiusDelta(absorbs * flux_w_m2 / film_w_m2k))
}

/// A reading and the half-width within which its maker promises the truth, K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// What it shows.
    pub value: Celsius,
    /// ±, K; above zero.
    pub accuracy_k: f64,
}

/// What two thermometers at one place say together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sense {
    /// They can both be right: the best value, and its half-width, K.
    Agree {
        /// Weighted by 1/accuracy².
        value: Celsius,
        /// ±, K.
        accuracy_k: f64,
    },
    /// They differ by more than both accuracies together explain: at least one is wrong, or they are not at one place.
    /// Neither is to be trusted before a third (ice water shows 0 °C) decides.
    Disagree {
        /// First minus second.
        difference: CelsiusDelta,
        /// What both together allow, K.
        allowed_k: f64,
    },
}

/// Compares two thermometers. Accuracies are taken as limits of a rectangular distribution (u = a/√3); a difference is
/// explained up to twice the combined standard uncertainty. `None` unless both accuracies are above zero.
///
/// Source: Guide to the Expression of Uncertainty in Measurement (JCGM 100:2008), 4.3.7, 5.1, 6.3.
pub fn two_thermometers(first: Reading, second: Reading) -> Option<Sense> {
    if !(0.0 < first.accuracy_k && 0.0 < second.accuracy_k) {
        return None;
    }
    let (ua, ub) = (first.accuracy_k / 3f64.sqrt(), second.accuracy_k / 3f64.sqrt());
    let allowed_k = 2.0 * ua.hypot(ub);
    let difference = first.value - second.value;
    if allowed_k < difference.kelvin().abs() {
        return Some(Sense::Disagree { difference, allowed_k });
    }
    let (wa, wb) = (ua.powi(-2), ub.powi(-2));
    let value = Celsius::new((wa * first.value.degrees() + wb * second.value.degrees()) / (wa + wb))?;
    Some(Sense::Agree { value, accuracy_k: (3.0 / (wa + wb)).sqrt() })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn c(degrees: f64) -> Celsius {
        Celsius::new(degrees).unwrap()
    }

    #[test]
    fn from_two_readings_the_end_is_foretold() {
        let (lag, wait) = (Seconds(120.0), Seconds(60.0));
        let later = reading_after(c(20.0), c(32.0), lag, wait).unwrap();
        assert!((settles_at(c(20.0), later, lag, wait).unwrap().degrees() - 32.0).abs() < 1e-9);
        assert!(reading_after(c(20.0), c(32.0), Seconds(0.0), wait).is_none());
    }

    #[test]
    fn a_dark_probe_under_a_lamp_reads_27_k_too_much() {
        assert_eq!(probe_in_lamp_light(0.9, 300.0, 10.0), Some(CelsiusDelta(27.0)));
        assert!(probe_in_lamp_light(1.1, 300.0, 10.0).is_none());
    }

    #[test]
    fn two_thermometers_agree_up_to_twice_their_combined_uncertainty() {
        let reading = |value: f64, accuracy_k: f64| Reading { value: c(value), accuracy_k };
        // Two of ±0.5 K: 2·0.5·√2/√3 = 0.816 K.
        for (other, agree) in [(30.8, true), (30.83, false), (29.2, true), (29.17, false)] {
            let sense = two_thermometers(reading(30.0, 0.5), reading(other, 0.5)).unwrap();
            assert_eq!(matches!(sense, Sense::Agree { .. }), agree, "{other}: {sense:?}");
        }
        let Some(Sense::Agree { value, accuracy_k }) = two_thermometers(reading(30.0, 0.5), reading(30.5, 0.5)) else {
            panic!("half a kelvin is explained");
        };
        assert!((value.degrees() - 30.25).abs() < 1e-12 && (accuracy_k - 0.5 / 2f64.sqrt()).abs() < 1e-12);
        // The better one counts more.
        let Some(Sense::Agree { value, .. }) = two_thermometers(reading(30.0, 0.2), reading(31.0, 2.0)) else {
            panic!("a kelvin is explained by ±2 K");
        };
        assert!(value.degrees() < 30.02);
        assert!(two_thermometers(reading(30.0, 0.0), reading(30.0, 1.0)).is_none());
    }
}
