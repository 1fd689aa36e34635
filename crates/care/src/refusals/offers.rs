//! What was offered and what became of it, each evening once.

use records::facts::Outcome;
use units::{Moment, When};

use crate::digestion::{is_confirmed, is_refusal};
use crate::lines;
use crate::view::View;

/// Prey offered on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Offer {
    /// When: the last of the day.
    pub at: When,
    /// The place of its record in the timeline.
    pub index: usize,
    /// Anything was taken.
    pub taken: bool,
    /// Month of the household's calendar, 1 to 12.
    pub month: i8,
    /// So many offers before it were refused, since the last that was taken.
    pub refused_before: usize,
    /// Days since the last meal that was taken; `None` before the first.
    pub since_meal_d: Option<f64>,
}

/// The offers that count, oldest first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Offers(pub Vec<Offer>);

impl Offers {
    /// From the records up to the moment of the view. An offer in a shed or a winter rest, or of cold prey, that was
    /// refused does not count, nor does prey that nobody saw eaten unless the scale confirms it.
    pub fn of(view: &View<'_>) -> Offers {
        let most = lines::low("offers_counted").value as usize;
        let meals = &view.line.meals;
        let first = meals.len().saturating_sub(2 * most);
        let mut offers: Vec<Offer> = Vec::new();
        let mut day: Option<Moment> = None;
        let mut last_taken: Option<Moment> = None;
        for (index, meal) in meals.iter().enumerate().skip(first) {
            let taken = match meal.outcome {
                Outcome::Taken | Outcome::Regurgitated => true,
                Outcome::Unseen if is_confirmed(&view.line, meal) => true,
                Outcome::Refused | Outcome::Left if is_refusal(&view.line, meal) => false,
                Outcome::Unseen | Outcome::Refused | Outcome::Left => continue,
            };
            let today = view.day_of(meal.at.from);
            let is_same_day = day == Some(today);
            day = Some(today);
            match offers.last_mut().filter(|_| is_same_day) {
                Some(offer) => {
                    offer.at = meal.at;
                    offer.index = index;
                    offer.taken |= taken;
                }
                None => {
                    let refused_before =
                        offers.last().map_or(0, |last| if last.taken { 0 } else { last.refused_before + 1 });
                    offers.push(Offer {
                        at: meal.at,
                        index,
                        taken,
                        month: view.zone.date(meal.at.from).month(),
                        refused_before,
                        since_meal_d: last_taken.map(|last| meal.at.from.days_since(last)),
                    });
                }
            }
            if taken {
                last_taken = Some(meal.at.from);
            }
        }
        let over = offers.len().saturating_sub(most);
        Offers(offers.split_off(over))
    }

    /// The offers since the last that was taken, all refused.
    pub fn run(&self) -> &[Offer] {
        let begins = self.0.iter().rposition(|offer| offer.taken).map_or(0, |last| last + 1);
        self.0.get(begins..).unwrap_or_default()
    }

    /// Those before the run that goes on.
    pub fn before_the_run(&self) -> &[Offer] {
        self.0.get(..self.0.len() - self.run().len()).unwrap_or_default()
    }

    /// The longest run of refusals that ended, and when its last offer was made.
    pub fn longest_run_before(&self) -> Option<(usize, When)> {
        let runs =
            self.before_the_run().chunk_by(|a, b| a.taken == b.taken).filter(|run| run.iter().all(|one| !one.taken));
        runs.filter_map(|run| run.last().map(|last| (run.len(), last.at))).max_by_key(|(length, _)| *length)
    }

    /// Days from one meal taken to the next, the middle of the last ones; `None` with fewer than three.
    pub fn usual_gap_d(&self) -> Option<f64> {
        let taken: Vec<Moment> = self.0.iter().filter(|offer| offer.taken).map(|offer| offer.at.from).collect();
        let gaps: Vec<f64> =
            taken.windows(2).filter_map(|pair| Some(pair.get(1)?.days_since(*pair.first()?))).collect();
        let recent = gaps.get(gaps.len().saturating_sub(12)..).unwrap_or_default();
        if recent.len() < 2 { None } else { science::statistics::summary::median(recent) }
    }
}
