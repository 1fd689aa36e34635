use proptest::prelude::*;
use science::statistics::least_squares::*;

/// y = a e^(−bx) + c.
fn decay(x: f64, p: &[f64], slopes: &mut [f64]) -> f64 {
    let e = (-p[1] * x).exp();
    slopes.copy_from_slice(&[e, -x * p[0] * e, 1.0]);
    p[0] * e + p[2]
}

fn points(truth: [f64; 3], wobble: f64) -> (Vec<f64>, Vec<f64>) {
    let x: Vec<f64> = (0..20).map(|k| 0.25 * f64::from(k)).collect();
    let noise = |k: usize| wobble * (1.7 * k as f64).sin();
    let y = x.iter().enumerate().map(|(k, x)| decay(*x, &truth, &mut [0.0; 3]) + noise(k)).collect();
    (x, y)
}

fn starting_at(start: [f64; 3]) -> [Parameter; 3] {
    start.map(Parameter::starting_at)
}

proptest! {
    #[test]
    fn exact_data_give_back_their_parameters(a in 0.5..20.0f64, b in 0.2..3.0f64, c in -5.0..5.0f64) {
        let (x, y) = points([a, b, c], 0.0);
        let fit = fit(&Points { x: &x, y: &y, curve: decay }, &starting_at([1.0, 1.0, 0.0]), &Settings::default()).unwrap();
        for (got, truth) in fit.parameters.iter().zip([a, b, c]) {
            prop_assert!((got - truth).abs() < 1e-7 * (1.0 + truth.abs()), "{got} and {truth}");
        }
    }

    #[test]
    fn a_bound_that_does_not_bind_changes_nothing(a in 2.0..10.0f64, b in 0.3..2.0f64) {
        let (x, y) = points([a, b, 1.0], 0.05);
        let rows = Points { x: &x, y: &y, curve: decay };
        let free = starting_at([1.0, 1.0, 0.0]);
        let [p, q, r] = free;
        let bound = [p.within(Range::AtLeast(0.0)), q.within(Range::Between(0.01, 9.0)), r.within(Range::AtMost(7.0))];
        let (free, bound) = (fit(&rows, &free, &Settings::default()).unwrap(), fit(&rows, &bound, &Settings::default()).unwrap());
        prop_assert!(bound.at_bound.is_empty());
        for (f, b) in free.parameters.iter().zip(&bound.parameters) {
            prop_assert!((f - b).abs() < 1e-7 * (1.0 + f.abs()), "{f} and {b}");
        }
        for (f, b) in free.deviations().iter().zip(bound.deviations()) {
            prop_assert!((f / b - 1.0).abs() < 1e-6, "{f} and {b}");
        }
    }

    #[test]
    fn no_parameter_leaves_its_range(low in 0.0..1.5f64, width in 0.1..1.0f64, share in 0.0..1.0f64) {
        let (x, y) = points([5.0, 0.8, 1.0], 0.05);
        let [p, q, r] = starting_at([1.0, low + share * width, 0.0]);
        let range = Range::Between(low, low + width);
        // Whether it is found or refused: what is found is in there and no neighbour in there is better.
        if let Ok(found) = fit(&Points { x: &x, y: &y, curve: decay }, &[p, q.within(range), r], &Settings::default()) {
            prop_assert!(range.has(found.parameters[1]));
            let cost = |b: f64| {
                let held = [p, Parameter::starting_at(b).within(Range::Between(b - 1e-12, b + 1e-12)), r];
                fit(&Points { x: &x, y: &y, curve: decay }, &held, &Settings::default()).map(|f| f.objective)
            };
            for step in [-1e-3, 1e-3] {
                let near = found.parameters[1] + step;
                if range.has(near)
                    && let Ok(there) = cost(near)
                {
                    prop_assert!(found.objective <= there * (1.0 + 1e-9), "{} at {near}: {there}", found.objective);
                }
            }
        }
    }
}

#[test]
fn a_bound_that_binds_is_met_exactly_and_named() {
    let (x, y) = points([5.0, 0.8, 1.0], 0.0);
    let [p, q, r] = starting_at([4.0, 1.0, 0.5]);
    let rows = Points { x: &x, y: &y, curve: decay };
    for (range, end) in [(Range::AtLeast(1.0), 1.0), (Range::Between(0.9, 3.0), 0.9), (Range::AtMost(0.5), 0.5)] {
        let start = if matches!(range, Range::AtMost(_)) { 0.3 } else { 1.5 };
        let q = Parameter { start, ..q }.within(range);
        let bound = fit(&rows, &[p, q, r], &Settings::default()).unwrap();
        assert_eq!((bound.at_bound.as_slice(), bound.parameters[1]), ([1].as_slice(), end));
        // The others are as if that one were known.
        let known = |x: f64, two: &[f64], slopes: &mut [f64]| {
            let mut three = [0.0; 3];
            let value = decay(x, &[two[0], end, two[1]], &mut three);
            slopes.copy_from_slice(&[three[0], three[2]]);
            value
        };
        let two = fit(&Points { x: &x, y: &y, curve: known }, &[p, r], &Settings::default()).unwrap();
        assert!((two.parameters[0] - bound.parameters[0]).abs() < 1e-8);
        assert!((two.deviations()[1] / bound.deviations()[2] - 1.0).abs() < 1e-6);
        assert!(bound.deviations()[1] == 0.0 && bound.freedom == two.freedom);
    }
}

#[test]
fn a_start_on_the_bound_is_left_when_the_minimum_is_inside() {
    let (x, y) = points([5.0, 0.8, 1.0], 0.0);
    let [p, q, r] = starting_at([4.0, 0.1, 0.5]);
    let found =
        fit(&Points { x: &x, y: &y, curve: decay }, &[p, q.within(Range::AtLeast(0.1)), r], &Settings::default())
            .unwrap();
    assert!((found.parameters[1] - 0.8).abs() < 1e-7 && found.at_bound.is_empty(), "{found:?}");
}

#[test]
fn a_prior_is_one_more_measurement() {
    // The mean of 4, 6, 8 with noise 2 and a prior 0 ± 1: precision 3/4 + 1, mean 4.5/1.75.
    let (x, y) = ([0.0; 3], [4.0, 6.0, 8.0]);
    let constant = |_: f64, p: &[f64], slopes: &mut [f64]| {
        slopes.copy_from_slice(&[1.0]);
        p[0]
    };
    let settings = Settings { noise: Noise::Known(2.0), ..Settings::default() };
    let parameter = Parameter::starting_at(1.0).with_prior(0.0, 1.0);
    let found = fit(&Points { x: &x, y: &y, curve: constant }, &[parameter], &settings).unwrap();
    assert!((found.parameters[0] - 4.5 / 1.75).abs() < 1e-12);
    assert!((found.covariance[(0, 0)] - 1.0 / 1.75).abs() < 1e-12);
    // Without rows it is the prior.
    let alone = fit(&Points { x: &[], y: &[], curve: constant }, &[parameter], &settings).unwrap();
    assert!(alone.parameters[0].abs() < 1e-12 && (alone.covariance[(0, 0)] - 1.0).abs() < 1e-12);
}

#[test]
fn covariance_and_variance_of_a_combination_are_those_of_a_straight_line() {
    // Draper and Smith 1998, 1.4: var(slope) = s²/Sxx, var(value at x₀) = s²(1/n + (x₀ − x̄)²/Sxx).
    let x: Vec<f64> = (0..10).map(f64::from).collect();
    let y: Vec<f64> = x.iter().map(|x| 2.0 + 0.5 * x + 0.3 * (3.0 * x).sin()).collect();
    let line = |x: f64, p: &[f64], slopes: &mut [f64]| {
        slopes.copy_from_slice(&[1.0, x]);
        p[0] + p[1] * x
    };
    let found =
        fit(&Points { x: &x, y: &y, curve: line }, &starting_at([0.0, 0.0, 0.0])[..2], &Settings::default()).unwrap();
    let s2 = found.sum_of_squares() / 8.0;
    assert!((found.covariance[(1, 1)] - s2 / 82.5).abs() < 1e-12 && found.freedom == 8);
    let at_20 = s2 * (0.1 + (20.0f64 - 4.5).powi(2) / 82.5);
    assert!((found.variance_of(&[1.0, 20.0]) - at_20).abs() < 1e-12);
    // scipy 1.17.1, stats.t.ppf(0.975, 8).
    assert!((found.reach(0.95) - 2.306_004_135_204_166).abs() < 1e-9);
}

#[test]
fn the_lowest_of_several_starts_is_taken() {
    // sin(bx) has a minimum for nearly every start.
    let x: Vec<f64> = (0..40).map(|k| 0.1 * f64::from(k)).collect();
    let y: Vec<f64> = x.iter().map(|x| (3.0 * x).sin()).collect();
    let wave = |x: f64, p: &[f64], slopes: &mut [f64]| {
        slopes.copy_from_slice(&[x * (p[0] * x).cos()]);
        (p[0] * x).sin()
    };
    let rows = Points { x: &x, y: &y, curve: wave };
    let alone = fit(&rows, &[Parameter::starting_at(7.0)], &Settings::default());
    assert!(alone.is_err() || 1.0 < alone.unwrap().objective);
    let starts: Vec<Vec<f64>> = (1..8).map(|k| vec![0.7 * f64::from(k)]).collect();
    let best = fit_from(&rows, &[Parameter::starting_at(7.0)], &starts, &Settings::default()).unwrap();
    assert!((best.parameters[0] - 3.0).abs() < 1e-9);
}

#[test]
fn what_cannot_be_fitted_says_why() {
    let (x, y) = points([5.0, 0.8, 1.0], 0.0);
    let rows = Points { x: &x, y: &y, curve: decay };
    let start = starting_at([1.0, 1.0, 0.0]);
    let [p, q, r] = start;
    let settings = Settings::default();
    let fault = |parameters: &[Parameter], settings: &Settings| fit(&rows, parameters, settings).err();
    assert_eq!(fault(&[p, q.with_prior(1.0, 0.1), r], &settings), Some(FitFault::PriorNeedsNoise));
    assert_eq!(fault(&[p, q.within(Range::AtLeast(2.0)), r], &settings), Some(FitFault::Start(1)));
    assert_eq!(fault(&[p, q, Parameter::starting_at(f64::NAN)], &settings), Some(FitFault::Start(2)));
    let bad = [
        Settings { noise: Noise::Known(0.0), ..settings },
        Settings { loss: Loss::Huber(-1.0), ..settings },
        Settings { loss: Loss::Cauchy(f64::NAN), ..settings },
    ];
    for settings in bad {
        assert_eq!(fault(&start, &settings), Some(FitFault::Settings));
    }
    let three = Points { x: &x[..3], y: &y[..3], curve: decay };
    assert_eq!(fit(&three, &start, &settings).err(), Some(FitFault::TooFewRows { rows: 3, needed: 4 }));
    assert_eq!(fit(&three, &[], &settings).err(), Some(FitFault::TooFewRows { rows: 3, needed: 1 }));
    // Two amplitudes of the same decay.
    let twice = |x: f64, p: &[f64], slopes: &mut [f64]| {
        let e = (-x).exp();
        slopes.copy_from_slice(&[e, e, 1.0]);
        (p[0] + p[1]) * e + p[2]
    };
    let same = fit(&Points { x: &x, y: &y, curve: twice }, &start, &settings).err();
    assert!(matches!(same, Some(FitFault::Unidentifiable(0 | 1))), "{same:?}");
    // So fast that nothing is left of it at any point but the first: a flat land.
    let flat = fit(&rows, &starting_at([1.0, 1e5, 0.0]), &settings).err();
    assert!(matches!(flat, Some(FitFault::Unidentifiable(1) | FitFault::DidNotConverge { .. })), "{flat:?}");
    let nowhere = |_: f64, _: &[f64], _: &mut [f64]| f64::NAN;
    let nan = fit(&Points { x: &x, y: &y, curve: nowhere }, &start, &settings).err();
    assert_eq!(nan, Some(FitFault::NotANumber));
    assert_eq!(nan.unwrap().to_string(), "the model gives no number where the search begins");
}

#[test]
fn the_search_turns_back_where_the_model_is_not_defined() {
    // ln of a negative number, which the first long step meets.
    let x: Vec<f64> = (1..15).map(f64::from).collect();
    let y: Vec<f64> = x.iter().map(|x| (0.5 + 0.2 * x).ln()).collect();
    let curve = |x: f64, p: &[f64], slopes: &mut [f64]| {
        let inside = p[0] + p[1] * x;
        slopes.copy_from_slice(&[1.0 / inside, x / inside]);
        inside.ln()
    };
    let found =
        fit(&Points { x: &x, y: &y, curve }, &starting_at([30.0, 9.0, 0.0])[..2], &Settings::default()).unwrap();
    assert!((found.parameters[0] - 0.5).abs() < 1e-7 && (found.parameters[1] - 0.2).abs() < 1e-7);
}

#[test]
fn a_model_that_forgets_a_row_is_refused() {
    struct Forgetful;
    impl Rows for Forgetful {
        fn count(&self) -> usize {
            3
        }
        fn visit(&self, parameters: &[f64], mut each: impl FnMut(f64, &[f64])) {
            each(parameters[0], &[1.0]);
            each(parameters[0] - 1.0, &[1.0]);
        }
    }
    let found = fit(&Forgetful, &[Parameter::starting_at(3.0)], &Settings::default());
    assert_eq!(found.err(), Some(FitFault::NotANumber));
}
