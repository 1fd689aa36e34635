//! The nonlinear sets of NIST/ITL, Statistical Reference Datasets, with their certified values.

use crate::table::{Row, row, rows};
use science::statistics::least_squares::*;

/// A model of NIST: value at x, derivatives into the last argument.
type Model = fn(f64, &[f64], &mut [f64]) -> f64;

fn model(set: &str) -> Model {
    match set {
        "Misra1a" | "BoxBOD" => |x, b, d| {
            let e = (-b[1] * x).exp();
            d.copy_from_slice(&[1.0 - e, b[0] * x * e]);
            b[0] * (1.0 - e)
        },
        "Misra1b" => |x, b, d| {
            let u = 1.0 + 0.5 * b[1] * x;
            d.copy_from_slice(&[1.0 - u.powi(-2), b[0] * x * u.powi(-3)]);
            b[0] * (1.0 - u.powi(-2))
        },
        "Chwirut2" => |x, b, d| {
            let (e, u) = ((-b[0] * x).exp(), b[1] + b[2] * x);
            d.copy_from_slice(&[-x * e / u, -e / (u * u), -x * e / (u * u)]);
            e / u
        },
        "DanWood" => |x, b, d| {
            let power = x.powf(b[1]);
            d.copy_from_slice(&[power, b[0] * power * x.ln()]);
            b[0] * power
        },
        "Rat42" => |x, b, d| {
            let e = (b[1] - b[2] * x).exp();
            let u = 1.0 + e;
            d.copy_from_slice(&[1.0 / u, -b[0] * e / (u * u), b[0] * x * e / (u * u)]);
            b[0] / u
        },
        "Rat43" => |x, b, d| {
            let e = (b[1] - b[2] * x).exp();
            let u = 1.0 + e;
            let power = u.powf(-1.0 / b[3]);
            let by_e = -b[0] * power * e / (u * b[3]);
            d.copy_from_slice(&[power, by_e, -x * by_e, b[0] * power * u.ln() / (b[3] * b[3])]);
            b[0] * power
        },
        "MGH09" => |x, b, d| {
            let (over, under) = (x * x + x * b[1], x * x + x * b[2] + b[3]);
            let value = b[0] * over / under;
            d.copy_from_slice(&[over / under, b[0] * x / under, -value * x / under, -value / under]);
            value
        },
        "MGH10" => |x, b, d| {
            let u = x + b[2];
            let e = (b[1] / u).exp();
            d.copy_from_slice(&[e, b[0] * e / u, -b[0] * e * b[1] / (u * u)]);
            b[0] * e
        },
        "MGH17" => |x, b, d| {
            let (e, f) = ((-x * b[3]).exp(), (-x * b[4]).exp());
            d.copy_from_slice(&[1.0, e, f, -x * b[1] * e, -x * b[2] * f]);
            b[0] + b[1] * e + b[2] * f
        },
        "Thurber" | "Hahn1" => |x, b, d| {
            let over = b[0] + x * (b[1] + x * (b[2] + x * b[3]));
            let under = 1.0 + x * (b[4] + x * (b[5] + x * b[6]));
            let value = over / under;
            let powers = [1.0, x, x * x, x * x * x];
            for (k, power) in powers.iter().enumerate() {
                d[k] = power / under;
            }
            for (k, power) in powers[1..].iter().enumerate() {
                d[4 + k] = -value * power / under;
            }
            value
        },
        "Kirby2" => |x, b, d| {
            let over = b[0] + x * (b[1] + x * b[2]);
            let under = 1.0 + x * (b[3] + x * b[4]);
            let value = over / under;
            d.copy_from_slice(&[1.0 / under, x / under, x * x / under, -value * x / under, -value * x * x / under]);
            value
        },
        "Lanczos3" => |x, b, d| {
            let mut value = 0.0;
            for k in 0..3 {
                let e = (-b[2 * k + 1] * x).exp();
                d[2 * k] = e;
                d[2 * k + 1] = -x * b[2 * k] * e;
                value += b[2 * k] * e;
            }
            value
        },
        "Gauss1" => |x, b, d| {
            let e = (-b[1] * x).exp();
            d[0] = e;
            d[1] = -x * b[0] * e;
            let mut value = b[0] * e;
            for k in [2, 5] {
                let z = (x - b[k + 1]) / b[k + 2];
                let g = (-z * z).exp();
                d[k] = g;
                d[k + 1] = b[k] * g * 2.0 * z / b[k + 2];
                d[k + 2] = b[k] * g * 2.0 * z * z / b[k + 2];
                value += b[k] * g;
            }
            value
        },
        "Eckerle4" => |x, b, d| {
            let z = (x - b[2]) / b[1];
            let e = (-0.5 * z * z).exp();
            let value = b[0] / b[1] * e;
            d.copy_from_slice(&[e / b[1], value * (z * z - 1.0) / b[1], value * z / b[1]]);
            value
        },
        "Bennett5" => |x, b, d| {
            let u = b[1] + x;
            let power = u.powf(-1.0 / b[2]);
            d.copy_from_slice(&[power, -b[0] * power / (b[2] * u), b[0] * power * u.ln() / (b[2] * b[2])]);
            b[0] * power
        },
        other => panic!("no model {other}"),
    }
}

/// Agreeing decimal digits.
fn digits(got: &[f64], wanted: &[f64]) -> f64 {
    let of = |(got, wanted): (&f64, &f64)| -((got / wanted - 1.0).abs().max(1e-16)).log10();
    assert_eq!(got.len(), wanted.len());
    got.iter().zip(wanted).map(of).fold(f64::INFINITY, f64::min)
}

/// Digits asked for, in parameters and standard errors. All sets reach nine; six are usual for a good solver.
const DIGITS: f64 = 8.0;

fn fit_from_start(set: &Row, start: &str) -> Result<Fit, FitFault> {
    fit_with(set, start, &Settings::default())
}

fn fit_with(set: &Row, start: &str, settings: &Settings) -> Result<Fit, FitFault> {
    let data = row("nist_nonlinear_data", "set", set.text("set"));
    let (x, y) = (data.numbers("x"), data.numbers("y"));
    assert_eq!(x.len(), set.count("n"));
    let parameters: Vec<Parameter> = set.numbers(start).into_iter().map(Parameter::starting_at).collect();
    fit(&Points { x: &x, y: &y, curve: model(set.text("set")) }, &parameters, settings)
}

#[track_caller]
fn is_certified(set: &Row, fit: &Fit, start: &str, digits_wanted: f64) {
    let name = set.text("set");
    let reached = digits(&fit.parameters, &set.numbers("certified"));
    assert!(digits_wanted <= reached, "{name} {start}: {reached:.1} digits of the parameters");
    let reached = digits(&fit.deviations(), &set.numbers("certified_sd"));
    assert!(digits_wanted <= reached, "{name} {start}: {reached:.1} digits of the standard errors");
    let reached =
        digits(&[fit.sum_of_squares(), fit.residual_deviation], &[set.number("rss"), set.number("residual_sd")]);
    assert!(6.0 <= reached, "{name} {start}: {reached:.1} digits of the sum of squares");
}

#[test]
fn every_set_ends_at_its_certified_values_from_the_second_start() {
    let sets = rows("nist_nonlinear");
    assert_eq!(sets.len(), 17);
    for set in &sets {
        let fit = fit_from_start(set, "start2").unwrap_or_else(|fault| panic!("{}: {fault}", set.text("set")));
        is_certified(set, &fit, "start2", DIGITS);
    }
}

#[test]
fn every_set_ends_there_from_the_first_start_as_well() {
    for set in &rows("nist_nonlinear") {
        let fit = fit_from_start(set, "start1").unwrap_or_else(|fault| panic!("{}: {fault}", set.text("set")));
        is_certified(set, &fit, "start1", DIGITS);
    }
}

#[test]
fn without_patience_it_is_certified_or_said_not_to_converge() {
    let impatient = |patience: usize| Settings { patience, ..Settings::default() };
    let (mut right, mut refused) = (0, 0);
    for set in &rows("nist_nonlinear") {
        for (start, patience) in ["start1", "start2"].into_iter().flat_map(|start| [1, 3, 10].map(|p| (start, p))) {
            match fit_with(set, start, &impatient(patience)) {
                Ok(fit) => {
                    // Cut short, a fit may rest anywhere within 1e-5 of a standard error.
                    is_certified(set, &fit, start, 5.0);
                    right += 1;
                }
                Err(FitFault::DidNotConverge { .. } | FitFault::Unidentifiable(_)) => refused += 1,
                Err(fault) => panic!("{}: {fault:?}", set.text("set")),
            }
        }
    }
    assert!(20 < right && 20 < refused, "{right} right, {refused} refused");
}

#[test]
fn the_derivatives_of_the_models_are_right() {
    for set in &rows("nist_nonlinear") {
        let (at, curve) = (set.numbers("start2"), model(set.text("set")));
        let data = row("nist_nonlinear_data", "set", set.text("set"));
        let largest = data.numbers("y").into_iter().map(f64::abs).fold(0.0, f64::max);
        for x in data.numbers("x").iter().step_by(5) {
            let (mut slopes, mut spare, mut wanted) = (vec![0.0; at.len()], vec![0.0; at.len()], vec![0.0; at.len()]);
            curve(*x, &at, &mut slopes);
            // The closure must be callable again and again, hence its own scratch space.
            let scratch = std::cell::RefCell::new(&mut spare);
            slopes_by_differences(|b| curve(*x, b, &mut scratch.borrow_mut()), &at, &mut wanted);
            for ((got, wanted), b) in slopes.iter().zip(&wanted).zip(&at) {
                let off = (got - wanted).abs() * b.abs() / (largest + (wanted * b).abs());
                assert!(off < 1e-6, "{} at {x}: {got} and {wanted}", set.text("set"));
            }
        }
    }
}
