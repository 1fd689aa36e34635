//! What it was fed of late.

use crate::growth::{Intake, Weighings};
use crate::lines;
use crate::view::View;

/// What it ate over the last months, in grams a week.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fed {
    /// Grams of prey a week.
    pub g_week: f64,
    /// How many meals it is read from.
    pub meals: usize,
    /// Over how many days.
    pub days: f64,
    /// Mass of one meal, the mean, in g.
    pub meal_g: f64,
    /// So many of its meals of that time had no mass.
    pub without_mass: usize,
}

impl Fed {
    /// From the meals that stayed down; `None` with too few, over too short a time, or where one in five has no mass.
    /// Each meal feeds until the next; the last one counts only once its time is over.
    pub fn of(view: &View<'_>, intake: &Intake) -> Option<Fed> {
        let span = lines::whole("ration_read_from")?;
        let since = view.now.plus_days(-span.high);
        let recent = intake.meals.get(intake.meals.partition_point(|meal| meal.at < since)..)?;
        let without_mass = view
            .meals
            .eaten
            .iter()
            .filter(|eaten| eaten.stayed && since <= eaten.at.from && eaten.mass_g.is_none())
            .count();
        let weighed = lines::group("energy_serves", "share of meals with a mass").value;
        if (recent.len() as f64) < weighed * (recent.len() + without_mass) as f64 {
            return None;
        }
        let least = lines::group("ration_read_from", "meals at least").value;
        let ([first, .., last], true) = (recent, least <= recent.len() as f64) else { return None };
        let total: f64 = recent.iter().map(|meal| meal.mass_g).sum();
        let between = last.at.days_since(first.at);
        let gap = between / (recent.len() - 1) as f64;
        let waited = view.now.days_since(last.at);
        let (eaten_g, days) =
            if waited <= gap { (total - last.mass_g, between) } else { (total, view.now.days_since(first.at)) };
        if days < span.low {
            return None;
        }
        Some(Fed {
            g_week: 7.0 * eaten_g / days,
            meals: recent.len(),
            days,
            meal_g: total / recent.len() as f64,
            without_mass,
        })
    }
}

/// What the scale says it gained a week over the days from which a ration is read, or three quarters of them, in g;
/// negative: it lost. `None` without two weighings so far apart.
pub fn gained_g_week(view: &View<'_>, days: f64) -> Option<f64> {
    let list = Weighings::of(view).list;
    let last = list.last()?;
    let before = list.iter().rev().find(|one| 0.75 * days <= last.at.days_since(one.at))?;
    let span = last.at.days_since(before.at);
    (0.0 < span).then(|| 7.0 * (last.mass_g - before.mass_g) / span)
}
