//! What is likely to come, with its range; what would not be honest is absent.

use records::facts::Outcome;

use crate::answer::{Action, DateRange, Forecasts, Task};
use crate::draft::Draft;
use crate::sheds;
use crate::view::View;

/// The forecasts that need no growth model: the next meal likely taken, and the next shed.
pub fn forecasts(view: &View<'_>, draft: &Draft) -> Forecasts {
    Forecasts {
        next_meal: next_meal(view, draft),
        next_shed: sheds::next(view).ok().map(|next| next.range),
        ..Forecasts::default()
    }
}

/// The next meal likely taken: from the next offer on, an offer every retry gap, each taken with the animal's own
/// share (beta-binomial with a prior of four offers taken and one refused: from memory, replaced by its records soon).
fn next_meal(view: &View<'_>, draft: &Draft) -> Option<DateRange> {
    let planned = draft.due.iter().chain(&draft.ahead).find(|due| due.task == Task::OfferMeal)?;
    if matches!(draft.held_until(Action::OfferMeal), Some(None)) {
        return None;
    }
    let offers = view.line.meals.iter().rev().take(20).filter(|meal| meal.outcome != Outcome::Unseen);
    let (mut taken, mut all) = (4.0, 5.0);
    for meal in offers {
        all += 1.0;
        taken += f64::from(u8::from(meal.was_eaten()));
    }
    let share: f64 = taken / all;
    let gap_d = crate::lines::low("arrival_retry").value;
    // Number of offers until one is taken: geometric. Its percentiles, each further offer a retry gap later.
    let offers_until = |q: f64| ((1.0 - q).ln() / (1.0 - share).ln()).ceil().max(1.0);
    let first = planned.from.max(view.now);
    let at = |q: f64| first.plus_days((offers_until(q) - 1.0) * gap_d);
    Some(DateRange { low: at(0.1), mid: at(0.5), high: at(0.9) })
}
