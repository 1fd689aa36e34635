//! What bacteria make of the time that prey is warm.
//!
//! Salmonella at the surface, which is the warmest part while prey thaws. Growth is never undone: nothing is cooked.

use units::{Celsius, Seconds};

/// Below this no growth is counted, °C. Salmonella grows from 7 °C, in one report from 5 °C (Tompkin's table).
pub const LEAST_GROWTH_C: f64 = 5.2;

/// A published curve of growth rate against temperature.
///
/// Parameters from the model repository RakipInitiative/ModelRepository, by its numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GrowthCurve {
    /// 1449, S. Typhimurium in cooked chicken, 28 to 48 °C: [0.02973 (T − 4.703)]² (1 − e^(0.1172 (T − 49.44))). The
    /// fastest of the four above 15 °C, so the default; below 28 °C an extrapolation.
    CookedChicken,
    /// 1448, the same data: [0.02771 (T − 3.797)(1 − e^(0.1769 (T − 51.12)))]².
    CookedChickenSquared,
    /// 1143, raw ground beef, 10 to 45 °C: 6.98e-4 (T − 0.55)² (1 − e^(0.506 (T − 46.96))), natural logarithms an hour.
    GroundBeef,
    /// 1169, raw chicken, 10 to 45 °C: 2.8e-4 (T + 0.67)² (1 − e^(0.57 (T − 47.36))).
    RawChicken,
}

impl GrowthCurve {
    /// The curve as printed, in its own unit; zero where it turns negative.
    pub fn printed(self, t: Celsius) -> f64 {
        let t = t.degrees();
        let falls = |steepness: f64, end: f64| 1.0 - (steepness * (t - end)).exp();
        let rate = match self {
            GrowthCurve::CookedChicken => (0.029_73 * (t - 4.703)).powi(2) * falls(0.1172, 49.44),
            GrowthCurve::CookedChickenSquared => {
                let root = 0.027_71 * (t - 3.797) * falls(0.1769, 51.12);
                root * root.abs()
            }
            GrowthCurve::GroundBeef => 6.98e-4 * (t - 0.55).powi(2) * falls(0.506, 46.96),
            GrowthCurve::RawChicken => 2.8e-4 * (t + 0.67).powi(2) * falls(0.57, 47.36),
        };
        rate.max(0.0)
    }

    /// Growth rate, powers of ten an hour; zero below [`LEAST_GROWTH_C`]. The units are not printed with the
    /// parameters: 1169 times ln 10 is 1143, so 1143 is taken as natural logarithms and the others as powers of ten.
    pub fn log10_per_h(self, t: Celsius) -> f64 {
        if t.degrees() <= LEAST_GROWTH_C {
            return 0.0;
        }
        match self {
            GrowthCurve::GroundBeef => self.printed(t) / std::f64::consts::LN_10,
            _ => self.printed(t),
        }
    }

    /// How long a doubling takes. `None` where there is no growth.
    pub fn doubling(self, t: Celsius) -> Option<Seconds> {
        let rate = self.log10_per_h(t);
        (0.0 < rate).then(|| Seconds::from_hours(std::f64::consts::LOG10_2 / rate))
    }

    /// Temperatures that it was fitted to, °C.
    pub fn fitted_c(self) -> (f64, f64) {
        match self {
            GrowthCurve::CookedChicken | GrowthCurve::CookedChickenSquared => (28.0, 48.0),
            GrowthCurve::GroundBeef | GrowthCurve::RawChicken => (10.0, 45.0),
        }
    }
}

/// A surface temperature at a time.
pub type SurfaceAt = (Seconds, Celsius);

/// Growth over a history without any lag, powers of ten: the trapezoid rule over its points in time order.
pub fn growth_log10(history: &[SurfaceAt], curve: GrowthCurve) -> f64 {
    history
        .windows(2)
        .map(|pair| match pair {
            [(t0, c0), (t1, c1)] => {
                0.5 * (curve.log10_per_h(*c0) + curve.log10_per_h(*c1)) * (t1.seconds() - t0.seconds()) / 3600.0
            }
            _ => 0.0,
        })
        .sum()
}

/// The same with a lag: cells first have to make themselves ready, h₀ = μ·lag of natural logarithms.
///
/// ln growth = ln[(1 + q₀ e^M)/(1 + q₀)], q₀ = 1/(e^h₀ − 1), M the growth without lag. Exact for any course of
/// temperature, as dq/dt = μ q. `None` unless h₀ is above zero; about 2 is usual for Salmonella from the cold.
///
/// Source: Baranyi and Roberts 1994, Int. J. Food Microbiol. 23:277.
pub fn growth_after_lag_log10(without_lag_log10: f64, h0: f64) -> Option<f64> {
    let m = without_lag_log10 * std::f64::consts::LN_10;
    (0.0 < h0 && 0.0 <= m).then(|| {
        // ln(1 + q₀ (e^M − 1)/(1 + q₀)) with q₀/(1 + q₀) = e^(−h₀).
        ((-h0).exp() * m.exp_m1()).ln_1p() / std::f64::consts::LN_10
    })
}

/// What growth means for prey.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Freshness {
    /// At most 0.3 powers of ten: one doubling.
    Fine,
    /// At most 1: use it now.
    UseNow,
    /// More: discard it.
    Discard,
}

/// Judges growth without lag. It agrees with the public rule of 2 h at room temperature and 1 h above 32 °C.
pub fn freshness(growth_log10: f64) -> Freshness {
    if growth_log10 <= 0.3 {
        Freshness::Fine
    } else if growth_log10 <= 1.0 {
        Freshness::UseNow
    } else {
        Freshness::Discard
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn c(degrees: f64) -> Celsius {
        Celsius::new(degrees).unwrap()
    }

    proptest! {
        #[test]
        fn a_lag_only_ever_lessens_growth_and_in_the_end_by_its_own_length(m in 0.0f64..8.0, h0 in 0.1f64..4.0) {
            let after = growth_after_lag_log10(m, h0).unwrap();
            prop_assert!(0.0 <= after && after <= m);
            let late = growth_after_lag_log10(12.0, h0).unwrap();
            prop_assert!((12.0 - late - h0 / std::f64::consts::LN_10).abs() < 1e-6);
        }
    }

    #[test]
    fn in_the_cold_and_in_the_heat_nothing_grows() {
        for curve in [
            GrowthCurve::CookedChicken,
            GrowthCurve::CookedChickenSquared,
            GrowthCurve::GroundBeef,
            GrowthCurve::RawChicken,
        ] {
            assert_eq!(curve.log10_per_h(c(5.2)), 0.0);
            assert!(0.0 < curve.log10_per_h(c(5.3)));
            assert_eq!(curve.log10_per_h(c(55.0)), 0.0, "{curve:?}");
            assert!(curve.doubling(c(4.0)).is_none());
        }
    }

    #[test]
    fn freshness_changes_at_its_limits() {
        let cases =
            [(0.3, Freshness::Fine), (0.301, Freshness::UseNow), (1.0, Freshness::UseNow), (1.001, Freshness::Discard)];
        for (growth, verdict) in cases {
            assert_eq!(freshness(growth), verdict, "{growth}");
        }
    }

    #[test]
    fn two_hours_at_room_temperature_are_within_use_now_and_six_are_not() {
        let room = |hours: f64| {
            growth_log10(&[(Seconds(0.0), c(21.0)), (Seconds::from_hours(hours), c(21.0))], GrowthCurve::CookedChicken)
        };
        assert_eq!(freshness(room(2.0)), Freshness::UseNow);
        assert_eq!(freshness(room(6.0)), Freshness::Discard);
    }
}
