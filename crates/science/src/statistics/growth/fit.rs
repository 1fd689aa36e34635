//! Fitting a growth curve.

use super::problem::{Sizes, columns};
use super::{Curve, Growth, Prediction};
use crate::statistics::least_squares::{self, Fit, FitFault, Gaussian, Noise, Parameter, Range, Settings};
use crate::statistics::summary::quantile;
use std::fmt;

/// A size at an age.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sighting {
    /// In years: since age zero, or since the first day it was seen with [`Ages::Since`].
    pub age_years: f64,
    /// Above zero.
    pub size: f64,
}

/// What the ages of sightings are counted from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ages {
    /// Age zero.
    Known,
    /// A day on which the age was about so many years: one more parameter, not below zero, with this prior.
    Since(Gaussian),
}

/// What is known beforehand: of the logarithms of A, W₀, k and m, and how noisy sizes are.
#[derive(Clone, Debug, PartialEq)]
pub struct Known {
    /// In the order of the parameters; of Richards four.
    pub priors: Vec<Gaussian>,
    /// Standard deviation of the logarithm of one size: 0.06 for 6 %.
    pub noise: f64,
}

/// Why there is no growth curve.
#[derive(Clone, Debug, PartialEq)]
pub enum GrowthFault {
    /// A size that is not above zero, or an age that is not a number. Counted from zero.
    Sighting(usize),
    /// The priors are not one for each parameter.
    Priors,
    /// An age that is not known needs a prior for all the rest too.
    AgeNeedsPriors,
    /// The fit itself.
    Fit(FitFault),
}

impl fmt::Display for GrowthFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            GrowthFault::Sighting(at) => write!(f, "size {at} is not above zero, or its age is not a number"),
            GrowthFault::Priors => write!(f, "there must be one prior for each parameter of the curve"),
            GrowthFault::AgeNeedsPriors => write!(f, "with an unknown age the curve must be known beforehand"),
            GrowthFault::Fit(fault) => fault.fmt(f),
        }
    }
}

impl std::error::Error for GrowthFault {}

/// Why a forecast from a fit is not to be believed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doubt {
    /// The asymptote is known to no better than a factor of e.
    AsymptoteUnknown,
    /// The ages seen span less than 1/(2k).
    SeenTooShortly,
    /// The shape is known to no better than a factor of e: a curve of three parameters says as much.
    ShapeUnknown,
    /// Fewer than eight sizes, and nothing known beforehand.
    FewSizes,
}

/// A fitted growth curve.
#[derive(Clone, Debug, PartialEq)]
pub struct GrowthFit {
    /// The curve.
    pub growth: Growth,
    /// Age in years on the day that ages are counted from; zero with [`Ages::Known`].
    pub age_at_first: f64,
    /// The fit of logarithms: of A, W₀, k, for Richards m, and where it was not known the age in years.
    pub fit: Fit,
    /// Youngest and oldest age, in years.
    pub ages_seen: [f64; 2],
    pub(super) ages: Vec<f64>,
    pub(super) logs: Vec<f64>,
    pub(super) is_plain: bool,
}

/// Shares of the largest size that are tried as the asymptote.
const ASYMPTOTES: [f64; 3] = [1.1, 1.5, 3.0];
/// The asymptote is above this share of the median size. Not of the largest one: that is often above the asymptote of a
/// curve that fits, and may be a typing error that a robust loss is to put aside.
const LEAST_ASYMPTOTE: f64 = 0.9;
/// The rate is within these: outside nothing grows so.
const RATES_PER_YEAR: [f64; 2] = [0.02, 10.0];

/// Fits a curve to sizes.
///
/// With `known` the noise is that, priors weigh, and intervals are normal; without, the noise is estimated and intervals
/// are Student's. The `loss` of the settings acts on logarithms of sizes, its bend in their unit: the noise is a good
/// one. The noise of the settings is not used. The search starts at the priors and from several asymptotes; with the
/// Cauchy loss at the answer of the Huber loss alone.
pub fn fit(
    curve: Curve,
    sightings: &[Sighting],
    ages: Ages,
    known: Option<&Known>,
    settings: &Settings,
) -> Result<GrowthFit, GrowthFault> {
    let is_right = |s: &Sighting| s.age_years.is_finite() && s.size.is_finite() && 0.0 < s.size;
    if let Some(at) = sightings.iter().position(|s| !is_right(s)) {
        return Err(GrowthFault::Sighting(at));
    }
    if known.is_some_and(|known| known.priors.len() != curve.parameters()) {
        return Err(GrowthFault::Priors);
    }
    if known.is_none() && ages != Ages::Known {
        return Err(GrowthFault::AgeNeedsPriors);
    }
    let noise = known.map_or(Noise::Estimated, |known| Noise::Known(known.noise));
    let (parameters, starts) = setup(curve, sightings, ages, known);
    let (at, logs) = columns(sightings);
    let is_shifted = ages != Ages::Known;
    let rows = Sizes { curve, ages: &at, logs: &logs, is_shifted };
    let with = |loss| Settings { loss, noise, ..*settings };
    let fit = match settings.loss {
        least_squares::Loss::Cauchy(bend) => {
            let first = least_squares::fit_from(&rows, &parameters, &starts, &with(least_squares::Loss::Huber(bend)))
                .map_err(GrowthFault::Fit)?;
            let from = |(p, value): (&Parameter, &f64)| Parameter { start: *value, ..*p };
            let parameters: Vec<Parameter> = parameters.iter().zip(&first.parameters).map(from).collect();
            least_squares::fit(&rows, &parameters, &with(settings.loss))
        }
        loss => least_squares::fit_from(&rows, &parameters, &starts, &with(loss)),
    }
    .map_err(GrowthFault::Fit)?;
    let no_curve = GrowthFault::Fit(FitFault::NotANumber);
    let growth = Growth::from_logs(curve, &fit.parameters).ok_or(no_curve)?;
    let age_at_first = if is_shifted { fit.parameters.last().copied().unwrap_or(0.0) } else { 0.0 };
    let least = at.iter().copied().fold(f64::INFINITY, f64::min);
    let largest = at.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let is_plain = known.is_none() && settings.loss == least_squares::Loss::Squares;
    Ok(GrowthFit {
        growth,
        age_at_first,
        ages_seen: [least + age_at_first, largest + age_at_first],
        ages: at,
        logs,
        fit,
        is_plain,
    })
}

/// Parameters, and the starts to try beside the first.
fn setup(curve: Curve, sightings: &[Sighting], ages: Ages, known: Option<&Known>) -> (Vec<Parameter>, Vec<Vec<f64>>) {
    let largest = sightings.iter().map(|s| s.size).fold(0.0, f64::max);
    let youngest = sightings.iter().min_by(|a, b| a.age_years.total_cmp(&b.age_years));
    let sizes: Vec<f64> = sightings.iter().map(|s| s.size).collect();
    let ages_seen: Vec<f64> = sightings.iter().map(|s| s.age_years).collect();
    let (middle_age, middle_size) = (quantile(&ages_seen, 0.5).unwrap_or(1.0), quantile(&sizes, 0.5).unwrap_or(1.0));
    let high_size = quantile(&sizes, 0.8).unwrap_or(1.0);
    let first_size = youngest.map_or(1.0, |s| s.size);
    // A curve of that asymptote through the first size and the middle one.
    let through = |asymptote: f64| {
        let guess = Growth { curve: Curve::Gompertz, asymptote, start: first_size, rate_per_year: 1.0, shape: 1.0 };
        let rate = guess.age_at(middle_size).map_or(1.0, |age| age / middle_age);
        let rate = if rate.is_finite() { rate.clamp(0.1, 5.0) } else { 1.0 };
        [asymptote.ln(), first_size.ln(), rate.ln(), 0.3f64.ln()]
    };
    let priors = known.map(|known| known.priors.as_slice()).unwrap_or_default();
    let no_prior = through(1.1 * high_size);
    let ranges = [
        if sizes.is_empty() { Range::Free } else { Range::AtLeast((LEAST_ASYMPTOTE * middle_size).ln()) },
        Range::Free,
        Range::Between(RATES_PER_YEAR[0].ln(), RATES_PER_YEAR[1].ln()),
        Range::Free,
    ];
    let inside = |range: Range, value: f64| match range {
        Range::AtLeast(low) if value < low => low + 0.1,
        Range::Between(low, high) => value.clamp(low, high),
        _ => value,
    };
    let mut parameters: Vec<Parameter> = (0..curve.parameters())
        .zip(no_prior)
        .zip(ranges)
        .map(|((at, start), range)| match priors.get(at) {
            Some(prior) => {
                Parameter::starting_at(inside(range, prior.mean)).within(range).with_prior(prior.mean, prior.deviation)
            }
            None => Parameter::starting_at(inside(range, start)).within(range),
        })
        .collect();
    let mut starts: Vec<Vec<f64>> = if sightings.is_empty() {
        Vec::new()
    } else {
        ASYMPTOTES.iter().map(|share| through(share * largest).into_iter().take(curve.parameters()).collect()).collect()
    };
    if let Ages::Since(prior) = ages {
        let age = Parameter::starting_at(prior.mean.max(0.0)).within(Range::AtLeast(0.0));
        parameters.push(age.with_prior(prior.mean, prior.deviation));
        starts.iter_mut().for_each(|start| start.push(prior.mean.max(0.0)));
    }
    (parameters, starts)
}

impl GrowthFit {
    /// What the curve says of an age, in years from the same day as those of the sightings.
    pub fn at(&self, age_years: f64) -> Prediction {
        Prediction::of(self, age_years)
    }

    /// Standard errors of the logarithms of A, W₀, k and m.
    pub fn deviations(&self) -> Vec<f64> {
        self.fit.deviations()
    }

    /// Logarithm of the likelihood with the noise that fits best; `None` of a fit with priors or a robust loss.
    pub fn log_likelihood(&self) -> Option<f64> {
        let n = self.logs.len() as f64;
        let variance = self.fit.sum_of_squares() / n;
        self.is_plain.then(|| -0.5 * n * ((std::f64::consts::TAU * variance).ln() + 1.0))
    }

    /// AICc = 2k − 2 ln L + 2k(k + 1)/(n − k − 1), where k counts the noise. `None` where there is no likelihood, or
    /// fewer than k + 3 sizes.
    ///
    /// Source: Hurvich and Tsai 1989, Biometrika 76, 297 (from memory).
    pub fn aicc(&self) -> Option<f64> {
        let (n, k) = (self.logs.len(), self.fit.parameters.len() + 1);
        if n < k + 3 {
            return None;
        }
        let (n, k) = (n as f64, k as f64);
        Some(2.0 * k - 2.0 * self.log_likelihood()? + 2.0 * k * (k + 1.0) / (n - k - 1.0))
    }

    /// Reasons not to forecast far from it; none are good.
    pub fn doubts(&self) -> Vec<Doubt> {
        let deviations = self.deviations();
        let is_vague = |at: usize| deviations.get(at).is_none_or(|d| d.is_nan() || 1.0 < *d);
        let [youngest, oldest] = self.ages_seen;
        let found = [
            (is_vague(0), Doubt::AsymptoteUnknown),
            (oldest - youngest < 0.5 / self.growth.rate_per_year, Doubt::SeenTooShortly),
            (self.growth.curve == Curve::Richards && is_vague(3), Doubt::ShapeUnknown),
            (self.logs.len() < 8 && self.fit.noise == Noise::Estimated, Doubt::FewSizes),
        ];
        found.into_iter().filter(|(is_so, _)| *is_so).map(|(_, doubt)| doubt).collect()
    }
}
