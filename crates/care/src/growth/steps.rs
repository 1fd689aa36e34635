//! When it will have outgrown its prey and its enclosure.

use species::Feeding;

use super::forecast::{Growth, Point};
use super::length::Lengths;
use crate::answer::DateRange;
use crate::lines;
use crate::view::View;

/// A date is given where the middle of the forecast reaches it within so many days.
const LIKELY_WITHIN_D: f64 = 180.0;

/// When the prey it takes now becomes small: when its mass reaches the one at which the largest of the last three meals
/// is the least share for its stage then. `None` where it is so already, meals have no mass, or it may never come.
pub fn prey(view: &View<'_>, growth: &Growth) -> Option<DateRange> {
    const MEALS: usize = 3;
    let meals = &growth.intake.meals;
    let last = meals.get(meals.len().checked_sub(MEALS)?..)?;
    let largest_g = last.iter().map(|meal| meal.mass_g).fold(0.0, f64::max);
    let small_at = |mass_g: f64| Some(largest_g < stage_at(view, mass_g)?.prey_pct.0 / 100.0 * mass_g);
    let now_g = growth.mass_g();
    if small_at(now_g)? {
        return None;
    }
    /// Steps of mass as a share, and how far it may grow.
    const STEP: f64 = 1.01;
    const MOST: usize = 250;
    let masses = std::iter::successors(Some(now_g), |mass| Some(mass * STEP)).take(MOST);
    let outgrown_g = masses.skip(1).find(|mass| small_at(*mass) == Some(true))?;
    crossing(&growth.curve, outgrown_g, growth)
}

/// The feeding of the stage that it has at a mass, by the profile; the keeper's word on its stage today is not asked.
fn stage_at<'v>(view: &View<'v>, mass_g: f64) -> Option<&'v Feeding> {
    let by = &view.profile.feeding;
    let young = [&by.hatchling, &by.juvenile, &by.subadult].into_iter().flatten();
    let fits = |feeding: &&Feeding| feeding.stage_mass_g.is_some_and(|(_, high)| mass_g < high);
    let mut at = young.clone().find(fits).or(by.adult.as_ref());
    // What is grown by its years is fed as an adult, however small.
    if view.is_adult() {
        at = by.adult.as_ref().or(at);
    }
    at
}

/// When it will be too long for its enclosure, by the length that the profile asks for. `None` where it is so already,
/// or it may never come.
pub fn enclosure(view: &View<'_>, growth: &Growth, lengths: &Lengths) -> Option<DateRange> {
    let enclosure = view.enclosure()?;
    let longest_cm = [enclosure.length_cm, enclosure.width_cm].into_iter().flatten().max_by(f64::total_cmp)?;
    let times = view.profile.enclosure.length_x.first()?.middle();
    let outgrown_cm = longest_cm / (times - lines::low("enclosure_tolerance").value);
    crossing(&lengths.curve, outgrown_cm, growth)
}

/// When a curve of logarithms reaches a value: its high end first, its low end last.
fn crossing(curve: &[Point], value: f64, growth: &Growth) -> Option<DateRange> {
    let aim = value.ln();
    let reach = |of: fn(&Point) -> f64| {
        let first = curve.first()?;
        if aim <= of(first) {
            return Some(0.0);
        }
        curve.windows(2).find_map(|pair| {
            let [a, b] = pair else { return None };
            let (from, to) = (of(a), of(b));
            (aim <= to).then(|| a.days + (aim - from) / (to - from) * (b.days - a.days))
        })
    };
    let (soonest, likely, latest) = (reach(|p| p.high)?, reach(|p| p.mid)?, reach(|p| p.low)?);
    let at = |days: f64| growth.now.plus_days(days);
    (0.0 < likely && likely <= LIKELY_WITHIN_D).then(|| DateRange {
        low: at(soonest),
        mid: at(likely),
        high: at(latest),
    })
}
