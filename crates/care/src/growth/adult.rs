//! The size it grows to, once its own weighings have bent.

use science::statistics::growth::{self, Ages, Curve, Sighting};
use science::statistics::least_squares::Settings;
use science::statistics::trend;

use super::prior::YEAR_D;
use super::weighings::Weighings;
use crate::lines;
use crate::view::View;

/// The size that the curves of its own weighings run toward.
#[derive(Clone, Debug, PartialEq)]
pub struct AdultSize {
    /// In g: 10th, 50th and 90th percentile.
    pub mass_g: [f64; 3],
    /// Share of that which it weighs now.
    pub share_now: f64,
    /// Curves and their Akaike weights, the best first.
    pub curves: Vec<(Curve, f64)>,
    /// How many weighings it rests on.
    pub weighings: usize,
    /// Over so many days.
    pub span_d: f64,
}

/// Why no adult size can be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotYet {
    /// Too few weighings, or over too short a time.
    FewWeighings,
    /// Growth has not slowed: the end is not in sight.
    StillStraight,
    /// No curve fits well enough to tell where it ends.
    NoCurve,
    /// The curves run further than any of its kind is known to weigh.
    BeyondItsKind,
}

impl NotYet {
    /// In a sentence.
    pub fn says(self) -> &'static str {
        match self {
            NotYet::FewWeighings => "Not enough to tell its adult size: eight weighings over half a year are needed.",
            NotYet::StillStraight => "Not enough to tell its adult size: its growth has not slowed yet.",
            NotYet::NoCurve => "Not enough to tell its adult size: no curve through its weighings says where it ends.",
            NotYet::BeyondItsKind => {
                "Not enough to tell its adult size: the curves run past what its kind is known to weigh."
            }
        }
    }
}

/// The adult size by von Bertalanffy, Gompertz and logistic curves (from twenty weighings on also Richards), averaged by
/// their Akaike weights.
pub fn size(view: &View<'_>, recent: &Weighings) -> Result<AdultSize, NotYet> {
    let (least, over) =
        (lines::group("adult_size_needs", "weighings").value, lines::group("adult_size_needs", "over at least").value);
    let points = whole_life(view, recent);
    let (Some(first), Some(last)) = (points.first().copied(), points.last().copied()) else {
        return Err(NotYet::FewWeighings);
    };
    if (points.len() as f64) < least || last.0 - first.0 < over / YEAR_D {
        return Err(NotYet::FewWeighings);
    }
    if !has_bent(&points) {
        return Err(NotYet::StillStraight);
    }
    let sightings: Vec<Sighting> =
        points.iter().map(|(at, log)| Sighting { age_years: at - first.0, size: log.exp() }).collect();
    const ENOUGH_FOR_A_SHAPE: usize = 20;
    let richards = (ENOUGH_FOR_A_SHAPE <= sightings.len()).then_some(Curve::Richards);
    let fits: Vec<_> = [Curve::VonBertalanffyWeight, Curve::Gompertz, Curve::Logistic]
        .into_iter()
        .chain(richards)
        .filter_map(|curve| growth::fit(curve, &sightings, Ages::Known, None, &Settings::default()).ok())
        .filter(|fit| fit.doubts().is_empty())
        .collect();
    let choice = growth::choose(fits).map_err(|_| NotYet::NoCurve)?;
    let of = |weighed: &growth::Weighed| {
        let ends = weighed.fit.growth.asymptote.ln();
        (weighed.weight, ends, weighed.fit.deviations().first().copied().unwrap_or(f64::INFINITY))
    };
    let ends: Vec<(f64, f64, f64)> = choice.ranked.iter().map(of).collect();
    let mean: f64 = ends.iter().map(|(weight, end, _)| weight * end).sum();
    let spread: f64 = ends.iter().map(|(weight, end, off)| weight * off.hypot(end - mean)).sum();
    if !(mean.is_finite() && spread.is_finite()) {
        return Err(NotYet::NoCurve);
    }
    if largest_known_g(view).is_some_and(|largest| largest < mean.exp()) {
        return Err(NotYet::BeyondItsKind);
    }
    Ok(AdultSize {
        mass_g: [-super::prior::Z, 0.0, super::prior::Z].map(|z| (mean + z * spread).exp()),
        share_now: (last.1 - mean).exp(),
        curves: choice.ranked.iter().map(|weighed| (weighed.fit.growth.curve, weighed.weight)).collect(),
        weighings: points.len(),
        span_d: (last.0 - first.0) * YEAR_D,
    })
}

/// All weighings of its life as (years, ln g): those of the last fourteen months with meals taken off, older ones where
/// no meal was eaten in the week before; none before the last eggs. At most two hundred, evenly taken.
fn whole_life(view: &View<'_>, recent: &Weighings) -> Vec<(f64, f64)> {
    const MOST: usize = 200;
    let years = |at: units::Moment| -view.now.days_since(at) / YEAR_D;
    let since = recent.list.first().map(|first| first.at);
    let full_d = lines::low("gut_empty_unknown").value;
    let older = view.line.weighings.iter().filter(|one| !one.estimated).filter(|one| {
        let before = since.is_none_or(|since| one.at.from < since);
        let meals = view.line.meals.partition_point(|meal| meal.at.from < one.at.from);
        let fed = meals.checked_sub(1).and_then(|last| view.line.meals.get(last));
        before && !fed.is_some_and(|meal| meal.was_eaten() && one.at.from.days_since(meal.at.from) < full_d)
    });
    let eggs = view.last_laid().map(|when| when.from);
    let mut all: Vec<(units::Moment, f64)> = older
        .map(|one| (one.at.from, one.mass_g.ln()))
        .chain(recent.list.iter().map(|one| (one.at, one.mass_g.ln())))
        .filter(|(at, _)| eggs.is_none_or(|eggs| *at < eggs))
        .collect();
    all.sort_by_key(|(at, _)| *at);
    let every = all.len().div_ceil(MOST).max(1);
    all.iter().rev().step_by(every).rev().map(|(at, log)| (years(*at), *log)).collect()
}

/// Has growth slowed: is it in the last third of the time below a share of what it was in the first?
fn has_bent(points: &[(f64, f64)]) -> bool {
    let (Some(first), Some(last)) = (points.first(), points.last()) else { return false };
    let third = (last.0 - first.0) / 3.0;
    let slope = |from: f64, to: f64| {
        let part: Vec<(f64, f64)> = points.iter().copied().filter(|(at, _)| from <= *at && *at <= to).collect();
        trend::theil_sen(&part, 0.8).map(|trend| trend.line.slope)
    };
    let (early, late) = (slope(first.0, first.0 + third), slope(last.0 - third, last.0));
    let share = lines::low("adult_size_needs").value;
    early.zip(late).is_some_and(|(early, late)| 0.0 < early && late < share * early)
}

/// More than any of its kind is likely to weigh: twice the greatest adult mass that the profile names. `None` for a
/// family's profile.
fn largest_known_g(view: &View<'_>) -> Option<f64> {
    let size = &view.profile.size;
    let figures = [&size.adult_mass_g_female, &size.adult_mass_g_male, &size.adult_mass_g_any];
    let most = figures.into_iter().flat_map(|figures| figures.iter()).map(|figure| figure.high).fold(0.0, f64::max);
    (!view.profile.general && 0.0 < most).then_some(2.0 * most)
}
