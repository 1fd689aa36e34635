//! Meals and how long they lie inside.

use records::choice::Choice;
use records::facts::{Meal, Outcome, PlannedWhat};
use records::timeline::{Entry, Timeline};
use species::Profile;
use units::{Moment, When};

use crate::lines;
use crate::warmth::Warmth;

/// How far back meals are worked out, in days: a year of comparison and the time a meal lies inside.
const WINDOW_DAYS: f64 = 430.0;

/// Days until digestion is finished (physiology notes, E3):
///
/// D = Dref x (meal% / 25)^0.63 x 2.3^((30 - T) / 10)
///
/// `meal_pct` is prey mass in % of body mass, `body_c` the body temperature in °C. Dref is 7 d for pythons and boas
/// (Ott and Secor 2007: back to fasting level in 6 to 8 d after meals of 25 %) and 5.3 d for colubrids (Crocker-Buta
/// and Secor: duration grows with meal size^0.63); Q10 2.3 is an assumption of the notes. Valid for meals of 5 to
/// 60 % and 20 to 33 °C; outside, the value at the edge stands (a colder animal takes longer still).
pub fn days_to_digest(meal_pct: f64, body_c: f64, python_or_boa: bool) -> f64 {
    const EXPONENT: f64 = 0.63;
    const Q10: f64 = 2.3;
    let reference_d = if python_or_boa { 7.0 } else { 5.3 };
    let meal_pct = meal_pct.clamp(5.0, 60.0);
    let body_c = body_c.clamp(20.0, 33.0);
    reference_d * (meal_pct / 25.0).powf(EXPONENT) * Q10.powf((30.0 - body_c) / 10.0)
}

/// Families whose digestion and prey follow pythons and boas.
const PYTHONS_AND_BOAS: [&str; 6] = ["Pythonidae", "Boidae", "Erycidae", "Charinidae", "Sanziniidae", "Candoiidae"];

/// Is the profile one of a python or a boa?
pub fn is_python_or_boa(profile: &Profile) -> bool {
    PYTHONS_AND_BOAS.contains(&profile.family.as_str())
}

/// Mass of all items of a meal in g: as recorded, else from the middle of its class. The flag says that it was
/// taken from the class.
pub fn prey_mass_g(meal: &Meal) -> Option<(f64, bool)> {
    if let Some(total) = meal.total_g() {
        return Some((total, false));
    }
    let class = species::library().prey_class(meal.prey?.key())?;
    let one = class.mass_g.as_ref()?.middle();
    Some((one * f64::from(meal.count), true))
}

/// A meal that was swallowed.
#[derive(Clone, Debug, PartialEq)]
pub struct Eaten {
    /// Its place in the timeline's meals.
    pub index: usize,
    /// When.
    pub at: When,
    /// Prey mass in g.
    pub mass_g: Option<f64>,
    /// The mass is the middle of its class.
    pub mass_is_assumed: bool,
    /// Prey mass in % of body mass.
    pub share_pct: Option<f64>,
    /// Days until it is digested; `None` without mass or temperature.
    pub digestion_d: Option<f64>,
    /// It stayed down.
    pub stayed: bool,
}

impl Eaten {
    /// Days for which the gut is not empty: D + 2, or 7 where D cannot be had.
    pub fn gut_d(&self) -> f64 {
        match self.digestion_d {
            Some(days) => days + lines::low("gut_empty").value,
            None => lines::low("gut_empty_unknown").value,
        }
    }

    /// What of the meal is still inside `days` after it, in g; `None` when its mass is not known.
    pub fn inside_g(&self, days: f64) -> Option<f64> {
        let over = self.digestion_d.unwrap_or_else(|| lines::low("gut_empty_unknown").value);
        if over <= days || !self.stayed {
            return Some(0.0);
        }
        self.mass_g.map(|mass| mass * (1.0 - days.max(0.0) / over))
    }
}

/// Meals of the last year, and what was refused since the last one taken.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Meals {
    /// Meals that were swallowed, oldest first.
    pub eaten: Vec<Eaten>,
    /// The last meal that was taken and stayed down: its place in the timeline.
    pub last_taken: Option<usize>,
    /// Offers since then that were refused or left and count as refusals: places in the timeline, oldest first.
    pub refusals: Vec<usize>,
    /// Meals that nobody saw eaten and nothing has confirmed: places in the timeline.
    pub unconfirmed: Vec<usize>,
}

impl Meals {
    /// From the timeline.
    pub fn of(line: &Timeline, profile: &Profile, warmth: &Warmth, now: Moment) -> Meals {
        let mut meals = Meals::default();
        let python_or_boa = is_python_or_boa(profile);
        let body_c = warmth.body_c(true);
        let first = line.meals.partition_point(|meal| meal.at.to < now.plus_days(-WINDOW_DAYS));
        let mut weighings = line.weighings.iter().filter(|one| !one.estimated).peekable();
        let mut body_g: Option<f64> = line.weighings.iter().rev().find(|one| one.estimated).map(|one| one.mass_g);
        for (index, meal) in line.meals.iter().enumerate().skip(first) {
            while let Some(one) = weighings.next_if(|one| one.at.from <= meal.at.from) {
                body_g = Some(one.mass_g);
            }
            let body_g = body_g.or_else(|| weighings.peek().map(|next| next.mass_g));
            match meal.outcome {
                Outcome::Taken | Outcome::Regurgitated => {}
                Outcome::Unseen if is_confirmed(line, meal) => {}
                Outcome::Unseen => {
                    meals.unconfirmed.push(index);
                    continue;
                }
                Outcome::Refused | Outcome::Left => continue,
            }
            let mass = prey_mass_g(meal);
            let share_pct = mass.zip(body_g).map(|((mass, _), body)| 100.0 * mass / body);
            let digestion_d = share_pct.zip(body_c).map(|(share, body_c)| days_to_digest(share, body_c, python_or_boa));
            meals.eaten.push(Eaten {
                index,
                at: meal.at,
                mass_g: mass.map(|(mass, _)| mass),
                mass_is_assumed: mass.is_some_and(|(_, assumed)| assumed),
                share_pct,
                digestion_d,
                stayed: meal.outcome != Outcome::Regurgitated,
            });
        }
        meals.last_taken = match meals.eaten.iter().rev().find(|eaten| eaten.stayed) {
            Some(eaten) => Some(eaten.index),
            None => line.meals.get(..first).unwrap_or_default().iter().rposition(|meal| meal.outcome == Outcome::Taken),
        };
        let since = meals.last_taken.map_or(0, |index| index + 1);
        meals.refusals = (since..line.meals.len())
            .filter(|index| line.meals.get(*index).is_some_and(|meal| is_refusal(line, meal)))
            .collect();
        meals
    }

    /// The last meal that was swallowed, whether or not it stayed down.
    pub fn last_eaten(&self) -> Option<&Eaten> {
        self.eaten.last()
    }
}

/// Does an offer count as refused? Only when the prey was warm and nothing stood against a meal: not from dull to a
/// day after the skin is off, not in a winter rest.
pub(crate) fn is_refusal(line: &Timeline, meal: &Entry<Meal>) -> bool {
    if !matches!(meal.outcome, Outcome::Refused | Outcome::Left) {
        return false;
    }
    if meal.surface_c.is_some_and(|surface| surface < lines::low("prey_surface_temp").value) {
        return false;
    }
    let offered = meal.at;
    let in_shed = line.sheds.iter().any(|shed| {
        let begins = shed.dull_at.or(shed.blue_at).or(shed.cleared_at).map(|when| when.from);
        let day_after = lines::high("feed_hold_preshed").value;
        let ends = shed.shed_at.map(|off| off.to.plus_days(day_after));
        begins.is_some_and(|begins| begins <= offered.to)
            && ends.is_none_or(|ends| offered.from < ends)
            && shed.steps().last().is_some_and(|last| offered.from.days_since(last.from) < 25.0)
    });
    let resting = line.planned.iter().any(|plan| {
        plan.what == PlannedWhat::Brumation && plan.from.from <= offered.from && offered.from < plan.ends()
    });
    !in_shed && !resting
}

/// Is a meal that nobody saw eaten confirmed? By the next weighing within ten days, heavier than the one before by
/// at least half of the prey.
pub(crate) fn is_confirmed(line: &Timeline, meal: &Entry<Meal>) -> bool {
    let Some((prey_g, _)) = prey_mass_g(meal) else { return false };
    let before = line
        .weighings
        .iter()
        .rev()
        .find(|one| one.at.from <= meal.at.from && meal.at.from.days_since(one.at.from) <= 30.0);
    let after = line.weighings.iter().find(|one| {
        meal.at.to <= one.at.to && one.at.from.days_since(meal.at.to) <= 10.0 && meal.at.from < one.at.from
    });
    before.zip(after).is_some_and(|(before, after)| before.mass_g + prey_g / 2.0 <= after.mass_g)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digestion_takes_as_long_as_the_check_block_of_the_notes_says() {
        // Physiology notes, check block E3 (computed there from the same equation, beside published observations).
        for (pct, body_c, python, colubrid) in [
            (25.0, 30.0, 7.0, 5.3),
            (10.0, 30.0, 3.9, 3.0),
            (50.0, 25.0, 16.4, 12.4),
            (10.0, 28.0, 4.6, 3.5),
            (10.0, 25.0, 6.0, 4.5),
            (20.0, 20.0, 14.0, 10.6),
        ] {
            assert!((days_to_digest(pct, body_c, true) - python).abs() < 0.06, "python, {pct} % at {body_c} °C");
            assert!((days_to_digest(pct, body_c, false) - colubrid).abs() < 0.06, "colubrid, {pct} % at {body_c} °C");
        }
    }

    #[test]
    fn five_pythons_are_back_at_rest_when_ott_and_secor_saw_it() {
        // Ott and Secor 2007, J. Exp. Biol. 210:340: five python species, meals of 25 %, 30 °C: day 6 to 8.
        let days = days_to_digest(25.0, 30.0, true);
        assert!((6.0..=8.0).contains(&days), "{days} d");
    }

    #[test]
    fn a_meal_lies_inside_less_and_less() {
        let eaten = Eaten {
            index: 0,
            at: When::exactly(Moment(0)),
            mass_g: Some(100.0),
            mass_is_assumed: false,
            share_pct: Some(10.0),
            digestion_d: Some(4.0),
            stayed: true,
        };
        assert_eq!(eaten.inside_g(0.0), Some(100.0));
        assert_eq!(eaten.inside_g(2.0), Some(50.0));
        assert_eq!(eaten.inside_g(4.0), Some(0.0));
        assert_eq!(eaten.gut_d(), 6.0);
        let came_up = Eaten { stayed: false, ..eaten };
        assert_eq!(came_up.inside_g(1.0), Some(0.0));
    }
}
