//! The forecast: trend and energy budget, blended by how well each foretold this animal so far.

use science::statistics::mixture;
use units::Moment;

use super::energy::{Budget, NoBudget};
use super::intake::{Intake, Ration};
use super::prior::{Prior, Z};
use super::refusal::Refusal;
use super::trend::Trend;
use super::weighings::Weighings;
use crate::answer::ValueRange;
use crate::lines;
use crate::view::{View, days, grams, plural};

/// Days ahead that are shown.
pub const SHOWN_D: [f64; 5] = [0.0, 30.0, 60.0, 90.0, 180.0];
/// Days ahead that are reckoned: the dates of the next prey and the next enclosure look further than what is shown.
const RECKONED_D: [f64; 12] = [0.0, 30.0, 60.0, 90.0, 135.0, 180.0, 240.0, 300.0, 360.0, 420.0, 480.0, 540.0];

/// A point of a curve of mass: logarithms of g.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Days from now.
    pub days: f64,
    /// 10th percentile.
    pub low: f64,
    /// 50th percentile.
    pub mid: f64,
    /// 90th percentile.
    pub high: f64,
}

/// Which ration a forecast assumes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Assumes {
    /// The one that was asked for, in g a week.
    Asked(f64),
    /// That of late goes on.
    Recent(Ration),
    /// What it ate is not known well enough: that it goes on growing as it did.
    AsBefore,
}

/// How much each model counts, and how far it was off so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blend {
    /// Share of the energy budget, 0 to 1.
    pub energy: f64,
    /// Weighings at which both could be held against what came.
    pub compared: usize,
    /// Root mean square error of the trend there, as a share of the mass; `None` without any.
    pub trend_off: Option<f64>,
    /// The same of the energy budget.
    pub energy_off: Option<f64>,
}

/// What is likely to become of an animal's mass.
#[derive(Clone, Debug)]
pub struct Growth {
    /// The moment it was reckoned for.
    pub now: Moment,
    /// What was known beforehand.
    pub prior: Prior,
    /// The weighings it rests on.
    pub weighings: Weighings,
    /// What it ate.
    pub intake: Intake,
    /// What the weighings say, at `now`.
    pub trend: Trend,
    /// The energy budget, or why there is none.
    pub budget: Result<Budget, NoBudget>,
    /// How both were blended.
    pub blend: Blend,
    /// Which ration it assumes.
    pub assumes: Assumes,
    /// The curve, from now on.
    pub curve: Vec<Point>,
}

impl Growth {
    /// The forecast for an animal; with `ration_g_per_week` on that ration, else on that of late.
    pub fn of(view: &View<'_>, ration_g_per_week: Option<f64>) -> Result<Growth, Refusal> {
        let weighings = Weighings::of(view);
        Refusal::check(view, &weighings)?;
        let prior = Prior::of(view).ok_or(Refusal::FewWeighings)?;
        let intake = Intake::of(view);
        let budget = Budget::of(view, &weighings, &intake);
        let recent = recent_ration(view, &weighings, &intake);
        let course = Course::over(&weighings, &prior, view.now).ok_or(Refusal::FewWeighings)?;
        let (trend, steps) = (course.trend, course.steps);
        let blend = match &budget {
            Ok(budget) => blend(&steps, budget, &intake, recent.days),
            Err(_) => Blend { energy: 0.0, compared: 0, trend_off: None, energy_off: None },
        };
        let mut growth = Growth {
            now: view.now,
            curve: curve_of_trend(trend.clone()),
            prior,
            weighings,
            trend,
            blend,
            assumes: if budget.is_ok() { Assumes::Recent(recent) } else { Assumes::AsBefore },
            budget,
            intake,
        };
        growth.blend_in(&recent);
        if let Some(asked) = ration_g_per_week {
            growth.change_ration(view, asked, &recent);
        }
        Ok(growth)
    }

    /// Mass without what is inside, now, in g.
    pub fn mass_g(&self) -> f64 {
        self.trend.mass().0.exp()
    }

    /// The curve at so many days from now, in g; beyond its end its end.
    pub fn at(&self, days: f64) -> Option<[f64; 3]> {
        at(&self.curve, days)
    }

    /// What is shown: now and after 30, 60, 90 and 180 days.
    pub fn mass(&self) -> Vec<ValueRange> {
        shown(&self.curve, self.now)
    }

    /// Which ration it assumes, in a sentence.
    pub fn assumed(&self) -> String {
        match self.assumes {
            Assumes::Asked(weekly) => format!("On {} of prey a week.", grams(weekly)),
            Assumes::Recent(ration) if ration.meals == 0 => {
                format!("If it goes on without a meal, as in the last {}.", days(ration.days))
            }
            Assumes::Recent(ration) => format!(
                "If it goes on eating as in the last {}: about {} of prey a week ({}).",
                days(ration.days),
                grams(ration.g_per_week()),
                plural(ration.meals as f64, "meal")
            ),
            Assumes::AsBefore => "If it goes on eating as it did when it was weighed.".to_owned(),
        }
    }

    /// Blends the energy budget into the curve of the trend: the middles by their weights, the widths too, and more
    /// width where the two disagree.
    fn blend_in(&mut self, recent: &Ration) {
        let Ok(budget) = &self.budget else { return };
        let share = self.blend.energy;
        let (y, variance) = self.trend.mass();
        let (mass_g, noise) = (y.exp(), self.trend.noise());
        let ration = recent.g_per_day();
        for point in &mut self.curve {
            let varies = ration_varies(&self.intake, self.now, point.days);
            let of_energy = budget.mass_after(mass_g, ration, point.days).ln();
            let spread = budget.spread(mass_g, ration, varies, point.days).all().hypot(variance.sqrt()).hypot(noise);
            let apart = share * (1.0 - share) * (of_energy - point.mid).powi(2);
            let mid = point.mid + share * (of_energy - point.mid);
            let width = |of_trend: f64| {
                let width = of_trend + share * (Z * spread - of_trend);
                width.hypot(Z * apart.sqrt())
            };
            let (below, above) = (width(point.mid - point.low), width(point.high - point.mid));
            *point = Point { low: mid - below, mid, high: mid + above, ..*point };
        }
    }

    /// Bends the curve by what the energy budget makes of another ration. Without a record of meals the ration of late
    /// is taken to be the one on which the budget gives the growth that the weighings show.
    fn change_ration(&mut self, view: &View<'_>, asked_g_per_week: f64, recent: &Ration) {
        /// How far the answer of the budget to a change of ration may be off, as a share of it.
        const ANSWER_SPREAD: f64 = 0.25;
        let Some(budget) = self.budget_for_change(view) else { return };
        let mass_g = self.mass_g();
        let recent_g = match &self.budget {
            Ok(_) => recent.g_per_day(),
            Err(_) => match self.at(60.0) {
                Some([_, later_g, _]) => budget.ration_for(mass_g, later_g, 60.0),
                None => return,
            },
        };
        let asked = asked_g_per_week.max(0.0) / 7.0;
        for point in &mut self.curve {
            let change =
                (budget.mass_after(mass_g, asked, point.days) / budget.mass_after(mass_g, recent_g, point.days)).ln();
            let more = ANSWER_SPREAD * change.abs() * Z;
            let mid = point.mid + change;
            let below = (point.mid - point.low).hypot(more);
            let above = (point.high - point.mid).hypot(more);
            *point = Point { low: mid - below, mid, high: mid + above, ..*point };
        }
        self.assumes = Assumes::Asked(asked_g_per_week);
    }

    /// The budget fitted to the animal, else the usual one: at the measured temperature, else at the profile's.
    pub fn budget_for_change(&self, view: &View<'_>) -> Option<Budget> {
        if let Ok(budget) = &self.budget {
            return Some(budget.clone());
        }
        let usual = || {
            let air = &view.profile.temperature;
            let (warm, cool) = (air.warm_ambient_c.first()?.middle(), air.cool_ambient_c.first()?.middle());
            // The share of the way from cool to warm at which a resting animal is (physiology notes, section 8).
            Some(cool + 0.6 * (warm - cool))
        };
        let body_c = view.warmth.body_c(false).or_else(usual)?;
        Some(Budget::usual(view, body_c, &self.intake))
    }
}

/// A curve of logarithms at so many days, no longer as logarithms; beyond its ends its ends.
pub(super) fn at(curve: &[Point], days: f64) -> Option<[f64; 3]> {
    let after = curve.partition_point(|point| point.days < days);
    let b = curve.get(after).or(curve.last())?;
    let a = after.checked_sub(1).and_then(|before| curve.get(before)).unwrap_or(b);
    let share = if a.days < b.days { ((days - a.days) / (b.days - a.days)).min(1.0) } else { 0.0 };
    Some([(a.low, b.low), (a.mid, b.mid), (a.high, b.high)].map(|(a, b)| (a + share * (b - a)).exp()))
}

/// A curve on the days that are shown.
pub(super) fn shown(curve: &[Point], now: Moment) -> Vec<ValueRange> {
    let one = |days: f64| {
        let [low, mid, high] = at(curve, days)?;
        Some(ValueRange { at: now.plus_days(days), low, mid, high })
    };
    SHOWN_D.into_iter().filter_map(one).collect()
}

/// A weighing that was foretold: what the trend held before, and what came.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    from: Moment,
    days: f64,
    /// Logarithm of the mass that the trend saw at `from`.
    mass: f64,
    /// Logarithm that the trend foretold.
    foretold: f64,
    /// Logarithm that was weighed.
    weighed: f64,
}

/// The trend over all weighings, then until `now`.
struct Course {
    trend: Trend,
    steps: Vec<Step>,
}

impl Course {
    fn over(weighings: &Weighings, prior: &Prior, now: Moment) -> Option<Course> {
        /// So near to the last one, a weighing tells of the scale and not of growth.
        const FORETOLD_D: f64 = 14.0;
        let mut list = weighings.list.iter();
        let first = list.next()?;
        let mut trend = Trend::starting_at(first.mass_g.ln(), prior);
        let (mut at, mut steps) = (first.at, Vec::new());
        for (seen, one) in list.enumerate() {
            let days = one.at.days_since(at);
            let (before, _) = trend.mass();
            trend.wait(days);
            let (foretold, _) = trend.mass();
            let weighed = one.mass_g.ln();
            if 1 <= seen && FORETOLD_D <= days && !one.after_eggs {
                steps.push(Step { from: at, days, mass: before, foretold, weighed });
            }
            trend.see(weighed, one.has_a_meal_inside, one.after_eggs);
            at = one.at;
        }
        trend.wait(now.days_since(at));
        Some(Course { trend, steps })
    }
}

/// The ration of late: over five of the animal's usual gaps, eleven weeks at least and four months at most, and never longer
/// than the record.
fn recent_ration(view: &View<'_>, weighings: &Weighings, intake: &Intake) -> Ration {
    let gap_d = view.feeding().map_or(14.0, |feeding| feeding.interval_d.middle());
    let window_d = (5.0 * gap_d).clamp(75.0, 120.0);
    let begins = [intake.since, weighings.list.first().map(|first| first.at)].into_iter().flatten().min();
    let record_d = begins.map_or(0.0, |begins| view.now.days_since(begins));
    intake.of_last(window_d.min(record_d), view.now)
}

/// How much the mean ration of the days ahead differs from that of late, as a share of it.
fn ration_varies(intake: &Intake, now: Moment, days: f64) -> f64 {
    const MONTH_D: f64 = 30.0;
    let of_a_month = intake.varies(now, lines::high("energy_ration_varies").value).min(1.0);
    (of_a_month / (days / MONTH_D).max(1.0).sqrt()).hypot(lines::low("energy_ration_varies").value)
}

/// Weights by the errors of both on this animal so far, shrunk toward one half (`forecast_blend`).
fn blend(steps: &[Step], budget: &Budget, intake: &Intake, window_d: f64) -> Blend {
    /// One error does not count for more than this, as a logarithm: a slip of the scale is neither's fault.
    const MOST: f64 = 0.25;
    let square = |off: f64| off.abs().min(MOST).powi(2);
    let (mut of_trend, mut of_energy, mut compared) = (0.0, 0.0, 0_usize);
    for step in steps {
        let known = intake.since.is_some_and(|since| window_d / 2.0 <= step.from.days_since(since));
        if !known {
            continue;
        }
        let window = window_d.min(intake.since.map_or(0.0, |since| step.from.days_since(since)));
        let ration = intake.of_last(window, step.from);
        let foretold = budget.mass_after(step.mass.exp(), ration.g_per_day(), step.days).ln();
        of_trend += square(step.foretold - step.weighed);
        of_energy += square(foretold - step.weighed);
        compared += 1;
    }
    let (usual, times) = (lines::low("forecast_blend").value, lines::group("forecast_blend", "times").value);
    let n = compared as f64;
    let shrunk = |squares: f64| (times * usual * usual + squares) / (times + n);
    let (trend, energy) = (shrunk(of_trend), shrunk(of_energy));
    let root = |squares: f64| (0 < compared).then(|| (squares / n).sqrt());
    Blend { energy: trend / (trend + energy), compared, trend_off: root(of_trend), energy_off: root(of_energy) }
}

/// The percentiles of what a weighing would show, day by day.
fn curve_of_trend(mut trend: Trend) -> Vec<Point> {
    let mut curve = Vec::with_capacity(RECKONED_D.len());
    let mut at = 0.0;
    for days in RECKONED_D {
        if at < days {
            trend.wait(days - at);
            at = days;
        }
        let parts = trend.next_weighing();
        let of = |p: f64| mixture::quantile(&parts, p);
        curve.push(Point { days, low: of(0.1), mid: of(0.5), high: of(0.9) });
    }
    curve
}
