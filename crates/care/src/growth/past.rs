//! How good earlier forecasts for an animal were: each made again from what was known on that day alone, and held
//! against what was weighed later.

use records::Case;
use science::statistics::mixture;
use species::Profile;
use units::Moment;

use super::forecast::{Growth, at};
use super::prior::Prior;
use super::trend::Trend;
use super::weighings::{Weighed, Weighings};
use crate::answer::ValueRange;
use crate::view::View;

/// A forecast of the past beside what came.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foretold {
    /// The day on which it was made: that of a weighing.
    pub made: Moment,
    /// The day of the weighing that it is held against.
    pub for_day: Moment,
    /// What was foretold, in g: 10th, 50th and 90th percentile.
    pub mass_g: [f64; 3],
    /// What was weighed, a meal inside taken off, in g.
    pub weighed_g: f64,
}

impl Foretold {
    /// How far the middle was off, as a share of what was weighed.
    pub fn off(&self) -> f64 {
        let [_, mid, _] = self.mass_g;
        (mid / self.weighed_g).ln().abs()
    }

    /// Did the band hold what was weighed?
    pub fn held(&self) -> bool {
        let [low, _, high] = self.mass_g;
        low <= self.weighed_g && self.weighed_g <= high
    }
}

/// Earlier forecasts over about so many days.
#[derive(Clone, Debug, PartialEq)]
pub struct Score {
    /// Days ahead.
    pub ahead_d: f64,
    /// The forecasts, oldest first.
    pub list: Vec<Foretold>,
}

impl Score {
    /// How far they were off at the median, as a share of the mass.
    pub fn median_off(&self) -> Option<f64> {
        let off: Vec<f64> = self.list.iter().map(Foretold::off).collect();
        science::statistics::summary::quantile(&off, 0.5)
    }

    /// How many held what was weighed.
    pub fn held(&self) -> usize {
        self.list.iter().filter(|one| one.held()).count()
    }

    /// «90-day forecasts for this animal were 6 % off at the median; 7 of 8 held what was weighed.»
    pub fn says(&self) -> Option<String> {
        let off = 100.0 * self.median_off()?;
        let percent = if off < 1.0 { "less than 1".to_owned() } else { format!("{off:.0}") };
        Some(format!(
            "{:.0}-day forecasts for this animal were {percent} % off at the median; {} of {} held what was weighed.",
            self.ahead_d,
            self.held(),
            self.list.len()
        ))
    }
}

/// What the life strip shows of the models' past.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Past {
    /// What each weighing was likely to show by those before it, oldest first: 10th, 50th and 90th percentile, in g.
    pub likely: Vec<ValueRange>,
    /// How far earlier forecasts were off, in a sentence; `None` where none could be held against what came.
    pub score: Option<String>,
}

impl Past {
    /// Of an animal at `now`; empty where its species or its weighings tell nothing.
    pub fn of(case: &Case, now: Moment) -> Past {
        let Ok((profile, _)) = crate::assess::profile(&case.animal, &case.overrides) else { return Past::default() };
        Past { likely: likely(&View::new(case, &profile, now)), score: score(case, &profile, now).says() }
    }
}

/// What each weighing from the third on was likely to show, by the trend of those before it alone.
fn likely(view: &View<'_>) -> Vec<ValueRange> {
    let weighings = Weighings::of(view);
    let (Some(prior), Some((first, rest))) = (Prior::of(view), weighings.list.split_first()) else { return Vec::new() };
    let mut trend = Trend::starting_at(first.mass_g.ln(), &prior);
    let mut at = first.at;
    let mut likely = Vec::new();
    for (seen, one) in rest.iter().enumerate() {
        trend.wait(one.at.days_since(at));
        at = one.at;
        if 1 <= seen && !one.after_eggs {
            let parts = trend.next_weighing();
            let of = |p: f64| mixture::quantile(&parts, p).exp();
            likely.push(ValueRange { at, low: of(0.1), mid: of(0.5), high: of(0.9) });
        }
        trend.see(one.mass_g.ln(), one.has_a_meal_inside, one.after_eggs);
    }
    likely
}

/// Forecasts of this many days ahead are scored.
pub const SCORED_D: f64 = 90.0;
/// A weighing stands for the day foretold when it lies this near to it, in days.
const NEAR_D: f64 = 30.0;
/// At most so many are made again, the newest: each takes as long as a forecast of today.
const MOST: usize = 8;
/// Forecasts nearer to each other tell of the same weeks.
const APART_D: f64 = 21.0;

/// The forecast made again at the moment `made`, from what was known then, for a weighing that came later; `None` where
/// there was none.
///
/// It rests on nothing that happened after `made`: what was found once stays, and may be kept.
pub fn replay(case: &Case, profile: &Profile, made: Moment, later: &Weighed) -> Option<Foretold> {
    let view = View::new(case, profile, made);
    let growth = Growth::of(&view, None).ok()?;
    let mass_g = at(&growth.curve, later.at.days_since(made))?;
    Some(Foretold { made, for_day: later.at, mass_g, weighed_g: later.mass_g })
}

/// Forecasts of about 90 days that were made on the days of the last weighings, and what was weighed then. Empty where
/// it has not been weighed for so long.
pub fn score(case: &Case, profile: &Profile, now: Moment) -> Score {
    let mut score = Score { ahead_d: SCORED_D, list: Vec::new() };
    for (made, later) in pairs(&Weighings::of(&View::new(case, profile, now))) {
        if MOST <= score.list.len() {
            break;
        }
        score.list.extend(replay(case, profile, made, &later));
    }
    score.list.reverse();
    score
}

/// Days on which a forecast could be made, each with the weighing nearest to 90 days later; the newest first.
fn pairs(weighings: &Weighings) -> Vec<(Moment, Weighed)> {
    let mut pairs: Vec<(Moment, Weighed)> = Vec::new();
    for (place, from) in weighings.list.iter().enumerate().rev() {
        // The evening of that day, so that what was noted on it is known.
        let made = from.at.plus_days(1.0);
        let after = weighings.list.get(place + 1..).unwrap_or_default();
        let off = |one: &&Weighed| (one.at.days_since(from.at) - SCORED_D).abs();
        let Some(later) = after.iter().min_by(|a, b| off(a).total_cmp(&off(b))).filter(|one| off(one) <= NEAR_D) else {
            continue;
        };
        let is_apart = pairs.last().is_none_or(|(last, _)| APART_D <= last.days_since(made));
        let eggs = after.iter().take_while(|one| one.at <= later.at).any(|one| one.after_eggs);
        if is_apart && !eggs {
            pairs.push((made, *later));
        }
    }
    pairs
}
