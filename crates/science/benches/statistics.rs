//! How long fits take. `benches/reference/statistics.py` fits the same data with scipy.

use divan::{Bencher, black_box};
use science::statistics::growth::{Ages, Curve, Draws, Growth, Known, Sighting, bootstrap, fit as grow};
use science::statistics::least_squares::{
    Fit, FitFault, Gaussian, Loss, Noise, Parameter, Points, Rows, Settings, fit,
};

fn main() {
    divan::main();
}

const TRUTH: Growth =
    Growth { curve: Curve::Gompertz, asymptote: 1450.0, start: 38.0, rate_per_year: 0.85, shape: 0.45 };

/// Ages to six years and logarithms of sizes, 6 % off and one in fifty by a factor of e.
fn sizes(curve: Curve, count: usize) -> (Vec<f64>, Vec<f64>) {
    let growth = Growth { curve, ..TRUTH };
    let age = |k: usize| 0.05 + 6.0 * k as f64 / count as f64;
    let off = |k: usize| 0.06 * (1.7 * (k * k) as f64).sin() + if k % 50 == 7 { 1.0 } else { 0.0 };
    (0..count).map(|k| (age(k), growth.at(age(k)).log + off(k))).unzip()
}

/// Log sizes against ages, as the growth module has them.
struct Sizes<'a> {
    curve: Curve,
    x: &'a [f64],
    y: &'a [f64],
}

impl Rows for Sizes<'_> {
    fn count(&self) -> usize {
        self.x.len()
    }

    fn visit(&self, logs: &[f64], mut each: impl FnMut(f64, &[f64])) {
        let Some(growth) = Growth::from_logs(self.curve, logs) else { return };
        let at = growth.points();
        for (x, y) in self.x.iter().zip(self.y) {
            let point = at(*x);
            each(point.log - y, &point.slopes);
        }
    }
}

fn fitted(curve: Curve, x: &[f64], y: &[f64], start: &[f64], settings: &Settings) -> Result<Fit, FitFault> {
    let parameters: Vec<Parameter> = start.iter().copied().map(Parameter::starting_at).collect();
    fit(&Sizes { curve, x, y }, &parameters, settings)
}

fn start(curve: Curve) -> Vec<f64> {
    [1000f64, 40.0, 1.0, 0.3].iter().take(curve.parameters()).map(|v| v.ln()).collect()
}

/// Three parameters.
#[divan::bench(args = [10, 24, 100, 500])]
fn gompertz(bencher: Bencher, count: usize) {
    let (x, y) = sizes(Curve::Gompertz, count);
    let start = start(Curve::Gompertz);
    bencher.bench_local(|| fitted(Curve::Gompertz, black_box(&x), &y, &start, &Settings::default()));
}

/// Four parameters.
#[divan::bench(args = [24, 100, 500])]
fn richards(bencher: Bencher, count: usize) {
    let (x, y) = sizes(Curve::Richards, count);
    let start = start(Curve::Richards);
    bencher.bench_local(|| fitted(Curve::Richards, black_box(&x), &y, &start, &Settings::default()));
}

/// Three parameters, Huber loss.
#[divan::bench(args = [24, 500])]
fn gompertz_huber(bencher: Bencher, count: usize) {
    let (x, y) = sizes(Curve::Gompertz, count);
    let start = start(Curve::Gompertz);
    let settings = Settings { loss: Loss::Huber(0.08), noise: Noise::Known(0.08), ..Settings::default() };
    bencher.bench_local(|| fitted(Curve::Gompertz, black_box(&x), &y, &start, &settings));
}

/// Six parameters: NIST's Lanczos3 without its noise beyond four digits, two decays being enough to make it hard.
#[divan::bench]
fn three_decays(bencher: Bencher) {
    let x: Vec<f64> = (0..24).map(|k| 0.05 * f64::from(k)).collect();
    let exact = |x: f64| 0.0951 * (-x).exp() + 0.8607 * (-3.0 * x).exp() + 1.5576 * (-5.0 * x).exp();
    let y: Vec<f64> = x.iter().map(|x| (exact(*x) * 1e5).round() / 1e5).collect();
    let curve = |x: f64, b: &[f64], slopes: &mut [f64]| {
        let mut value = 0.0;
        for (b, slope) in b.chunks_exact(2).zip(slopes.chunks_exact_mut(2)) {
            if let ([size, rate], [by_size, by_rate]) = (b, slope) {
                let e = (-rate * x).exp();
                (*by_size, *by_rate) = (e, -x * size * e);
                value += size * e;
            }
        }
        value
    };
    let parameters = [0.5, 0.7, 3.6, 4.2, 4.0, 6.3].map(Parameter::starting_at);
    bencher.bench_local(|| fit(&Points { x: black_box(&x), y: &y, curve }, &parameters, &Settings::default()));
}

fn sightings(count: usize) -> Vec<Sighting> {
    let (x, y) = sizes(Curve::Gompertz, count);
    x.into_iter().zip(y).map(|(age_years, log)| Sighting { age_years, size: log.exp() }).collect()
}

/// As a forecast does it: prior, Huber loss, four starts.
#[divan::bench]
fn a_growth_curve_with_a_prior_from_four_starts(bencher: Bencher) {
    let prior = |value: f64, deviation: f64| Gaussian { mean: value.ln(), deviation };
    let known = Known { priors: vec![prior(1300.0, 0.25), prior(40.0, 0.15), prior(0.8, 0.3)], noise: 0.08 };
    let seen = sightings(24);
    let settings = Settings { loss: Loss::Huber(0.08), ..Settings::default() };
    bencher.bench_local(|| grow(Curve::Gompertz, black_box(&seen), Ages::Known, Some(&known), &settings));
}

/// 300 fits.
#[divan::bench]
fn a_bootstrap(bencher: Bencher) {
    let seen = sightings(24);
    let Ok(found) = grow(Curve::Gompertz, &seen, Ages::Known, None, &Settings::default()) else {
        std::process::abort()
    };
    let draws = Draws::seeded(1, 24, 300);
    bencher.bench_local(|| bootstrap(black_box(&found), &draws));
}
