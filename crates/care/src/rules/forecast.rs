//! What is likely to come, with its range; what would not be honest is absent.

use crate::answer::{Action, DateRange, Forecasts, Task};
use crate::draft::Draft;
use crate::growth::{Growth, Lengths, steps};
use crate::refusals::{Chance, Offers};
use crate::rules::plan::retry_d;
use crate::sheds;
use crate::view::View;

/// All of them.
pub fn forecasts(view: &View<'_>, draft: &mut Draft) -> Forecasts {
    let growth = match Growth::of(view, None) {
        Ok(growth) => growth,
        Err(refusal) => {
            if let Some(needs) = refusal.needs() {
                draft.miss(needs, 20.0);
            }
            return without_growth(view, draft);
        }
    };
    let lengths = Lengths::of(view, &growth);
    Forecasts {
        mass: growth.mass(),
        length: lengths.as_ref().map(|lengths| lengths.shown(view.now)).unwrap_or_default(),
        assumes: Some(growth.assumed()),
        prey_step_up: steps::prey(view, &growth),
        enclosure_step_up: lengths.as_ref().and_then(|lengths| steps::enclosure(view, &growth, lengths)),
        ..without_growth(view, draft)
    }
}

/// Those that need no model of growth: the next meal likely taken, and the next shed.
pub fn without_growth(view: &View<'_>, draft: &mut Draft) -> Forecasts {
    let next_shed = sheds::next(view).ok().map(|next| next.range);
    Forecasts { next_meal: next_meal(view, draft), next_shed, ..Forecasts::default() }
}

/// The next meal likely taken: from the next offer on, an offer every retry gap, each taken with the chance that its own
/// offers give, which falls or rises with the refusals in a row and the time since the last meal.
fn next_meal(view: &View<'_>, draft: &Draft) -> Option<DateRange> {
    let planned = draft.due.iter().chain(&draft.ahead).find(|due| due.task == Task::OfferMeal)?;
    if matches!(draft.held_until(Action::OfferMeal), Some(None)) {
        return None;
    }
    let offers = Offers::of(view);
    let chance = Chance::of(view, &offers);
    let gap_d = retry_d(view).map_or(f64::NAN, |figure| figure.low);
    let first = planned.from.max(view.now);
    // Offers that come to nothing within so many are no longer a matter of chance.
    const MOST: u32 = 60;
    let (mut at, mut not_yet) = (first, 1.0);
    let mut ends = [None; 3];
    for refused in 0..MOST {
        at = first.plus_days(f64::from(refused) * gap_d);
        not_yet *= 1.0 - chance.taken(view, at, refused as usize);
        for (end, share) in ends.iter_mut().zip([0.1, 0.5, 0.9]) {
            if end.is_none() && share <= 1.0 - not_yet {
                *end = Some(at);
            }
        }
        if ends.iter().all(Option::is_some) {
            break;
        }
    }
    let [low, mid, high] = ends.map(|end| end.unwrap_or(at));
    Some(DateRange { low, mid, high })
}
