//! The curves and their derivatives.

/// A family of growth curves, with E = e^(−kt).
///
/// Source: Ratkowsky 1983, Nonlinear Regression Modeling, ch. 4; Tjørve and Tjørve 2010 and 2017 for the form with the
/// size at age zero (all from memory). That Richards is logistic at m = 1, Gompertz as m → 0 and the weight form of von
/// Bertalanffy at m = −1/3 is algebra, and tested.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Curve {
    /// A − (A − W₀)E, for lengths.
    VonBertalanffyLength,
    /// A(1 − (1 − (W₀/A)^⅓)E)³, for weights.
    VonBertalanffyWeight,
    /// A exp(−ln(A/W₀)E), for weights.
    Gompertz,
    /// A/(1 + (A/W₀ − 1)E), for weights.
    Logistic,
    /// A(1 + ((A/W₀)^m − 1)E)^(−1/m); wants twenty points or more.
    Richards,
}

/// A curve with its numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Growth {
    /// Which.
    pub curve: Curve,
    /// A, what it grows towards.
    pub asymptote: f64,
    /// W₀, its size at age zero.
    pub start: f64,
    /// k, 1/year.
    pub rate_per_year: f64,
    /// m, of Richards alone.
    pub shape: f64,
}

/// A logarithm of a size, with its derivatives in the logarithms of A, W₀, k and m, and in the age.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// ln of the size.
    pub log: f64,
    /// In ln A, ln W₀, ln k, ln m.
    pub slopes: [f64; 4],
    /// 1/year.
    pub by_age: f64,
}

impl Point {
    /// Derivatives in the parameters of a fit of that curve, the age last.
    pub(super) fn slopes_of(&self, curve: Curve) -> [f64; 5] {
        let [a, w, k, m] = self.slopes;
        if curve == Curve::Richards { [a, w, k, m, self.by_age] } else { [a, w, k, self.by_age, 0.0] }
    }
}

impl Curve {
    /// All of them.
    pub const ALL: [Curve; 5] =
        [Curve::VonBertalanffyLength, Curve::VonBertalanffyWeight, Curve::Gompertz, Curve::Logistic, Curve::Richards];

    /// How many numbers it has.
    pub fn parameters(self) -> usize {
        if self == Curve::Richards { 4 } else { 3 }
    }
}

impl Growth {
    /// From logarithms of A, W₀, k and, for Richards, m.
    pub fn from_logs(curve: Curve, logs: &[f64]) -> Option<Growth> {
        let [a, w, k, rest @ ..] = logs else { return None };
        let shape = match (curve, rest) {
            (Curve::Richards, [m, ..]) => m.exp(),
            (Curve::Richards, []) => return None,
            _ => 1.0,
        };
        Some(Growth { curve, asymptote: a.exp(), start: w.exp(), rate_per_year: k.exp(), shape })
    }

    /// Its size at an age in years.
    pub fn size_at(&self, age: f64) -> f64 {
        self.at(age).log.exp()
    }

    /// How fast it grows at an age, size per year.
    pub fn speed_at(&self, age: f64) -> f64 {
        let point = self.at(age);
        point.by_age * point.log.exp()
    }

    /// The age in years at which it reaches a size; `None` where it never does.
    pub fn age_at(&self, size: f64) -> Option<f64> {
        let (share, first) = (size / self.asymptote, self.start / self.asymptote);
        // What falls as E, so that its ratio to the one at age zero is E.
        let left = |share: f64| match self.curve {
            Curve::VonBertalanffyLength => 1.0 - share,
            Curve::VonBertalanffyWeight => 1.0 - share.cbrt(),
            Curve::Gompertz => -share.ln(),
            Curve::Logistic => 1.0 / share - 1.0,
            Curve::Richards => (-self.shape * share.ln()).exp_m1(),
        };
        let age = (left(first) / left(share)).ln() / self.rate_per_year;
        age.is_finite().then_some(age)
    }

    /// Logarithm of its size at an age in years, and derivatives. NaN where the size is not above zero.
    pub fn at(&self, age: f64) -> Point {
        self.points()(age)
    }

    /// The same for many ages: what they share is worked out once.
    pub fn points(&self) -> impl Fn(f64) -> Point + use<> {
        let Growth { curve, asymptote, start, rate_per_year: k, shape: m } = *self;
        let (a, w) = (asymptote.ln(), start.ln());
        // What stands before E, and its derivative in −ln W₀.
        let (factor, by_ratio) = match curve {
            Curve::VonBertalanffyLength => (asymptote - start, start),
            Curve::VonBertalanffyWeight => (1.0 - ((w - a) / 3.0).exp(), ((w - a) / 3.0).exp()),
            Curve::Gompertz => (a - w, 1.0),
            Curve::Logistic => ((a - w).exp_m1(), (a - w).exp()),
            Curve::Richards => ((m * (a - w)).exp_m1(), (m * (a - w)).exp()),
        };
        move |age| {
            let e = (-k * age).exp();
            let q = factor * e;
            // (ln f, d/d ln W₀, d/dt divided by k, d/d ln m); d/d ln A is 1 − d/d ln W₀ since sizes scale.
            let (log, by_start, by_age, by_shape) = match curve {
                Curve::VonBertalanffyLength => {
                    let f = asymptote - q;
                    (f.ln(), by_ratio * e / f, q / f, 0.0)
                }
                Curve::VonBertalanffyWeight => {
                    let u = 1.0 - q;
                    (a + 3.0 * u.ln(), by_ratio * e / u, 3.0 * q / u, 0.0)
                }
                Curve::Gompertz => (a - q, e, q, 0.0),
                Curve::Logistic => (a - q.ln_1p(), by_ratio * e / (1.0 + q), q / (1.0 + q), 0.0),
                Curve::Richards => {
                    let by_start = by_ratio * e / (1.0 + q);
                    let log = q.ln_1p() / m;
                    (a - log, by_start, q / (m * (1.0 + q)), log - (a - w) * by_start)
                }
            };
            Point { log, slopes: [1.0 - by_start, by_start, age * k * by_age, by_shape], by_age: k * by_age }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn growth(curve: Curve, shape: f64) -> Growth {
        Growth { curve, asymptote: 1450.0, start: 38.0, rate_per_year: 0.85, shape }
    }

    #[test]
    fn richards_is_logistic_at_one_gompertz_near_zero_and_von_bertalanffy_at_minus_a_third() {
        for age in [0.0, 0.3, 1.0, 4.0, 20.0] {
            for (shape, curve, digits) in [
                (1.0, Curve::Logistic, 1e-14),
                (1e-9, Curve::Gompertz, 1e-7),
                (-1.0 / 3.0, Curve::VonBertalanffyWeight, 1e-14),
            ] {
                let (got, wanted) = (growth(Curve::Richards, shape).at(age), growth(curve, 1.0).at(age));
                assert!((got.log - wanted.log).abs() < digits * wanted.log.abs(), "{curve:?} at {age}");
                for (got, wanted) in got.slopes.iter().zip(&wanted.slopes).take(3) {
                    assert!((got - wanted).abs() < 10.0 * digits, "{curve:?} at {age}: {got} and {wanted}");
                }
            }
        }
    }

    #[test]
    fn sizes_begin_at_the_start_and_end_at_the_asymptote() {
        for curve in Curve::ALL {
            let growth = growth(curve, 0.45);
            assert!((growth.size_at(0.0) / 38.0 - 1.0).abs() < 1e-12, "{curve:?}");
            assert!((growth.size_at(100.0) / 1450.0 - 1.0).abs() < 1e-12, "{curve:?}");
        }
    }

    #[test]
    fn logs_without_a_shape_are_no_richards() {
        assert!(Growth::from_logs(Curve::Richards, &[7.0, 3.0, 0.0]).is_none());
        assert!(Growth::from_logs(Curve::Gompertz, &[7.0, 3.0]).is_none());
    }

    proptest! {
        #[test]
        fn derivatives_are_those_of_differences(
            a in 3.0..9.0f64, below in 0.1..4.0f64, k in -2.5..1.5f64, m in -2.0..1.5f64, age in 0.0..8.0f64,
        ) {
            let logs = [a, a - below, k, m];
            for curve in Curve::ALL {
                let value = |logs: &[f64], age: f64| Growth::from_logs(curve, logs).unwrap().at(age).log;
                let point = Growth::from_logs(curve, &logs).unwrap().at(age);
                for j in 0..curve.parameters() {
                    let h = 1e-5;
                    let (mut up, mut down) = (logs, logs);
                    up[j] += h;
                    down[j] -= h;
                    let slope = (value(&up, age) - value(&down, age)) / (2.0 * h);
                    prop_assert!((point.slopes[j] - slope).abs() < 1e-7 * (1.0 + slope.abs()), "{curve:?} {j}: {} and {slope}", point.slopes[j]);
                }
                let by_age = (value(&logs, age + 1e-5) - value(&logs, age - 1e-5)) / 2e-5;
                prop_assert!((point.by_age - by_age).abs() < 1e-6 * (1.0 + by_age.abs()), "{curve:?}");
            }
        }

        #[test]
        fn ages_and_sizes_go_there_and_back(age in 0.01..3.0f64, shape in 0.1..2.0f64) {
            for curve in Curve::ALL {
                let growth = growth(curve, shape);
                let back = growth.age_at(growth.size_at(age)).unwrap();
                prop_assert!((back - age).abs() < 1e-9, "{curve:?}: {back} and {age}");
                prop_assert!(growth.age_at(1500.0).is_none() && 0.0 < growth.speed_at(age));
            }
        }
    }
}
