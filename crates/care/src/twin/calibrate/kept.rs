//! What is said of a log that is kept.

use super::shown;
use crate::twin::matched::{Goal, two_zones};
use crate::twin::{Description, words};
use crate::what_if::Known;

/// A log that is kept, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// What it changed, or why it does not hold any more.
    pub says: String,
    /// Is the enclosure another than when it was logged?
    pub is_outdated: bool,
}

/// What the log that is kept of an enclosure changed against its description; or that it is out of date. `None` where no
/// log is kept.
pub fn kept(known: &Known) -> Option<Kept> {
    let place = known.place.as_ref()?;
    let fitted = place.fitted.as_ref()?;
    let changed = place.changed();
    if !changed.is_empty() {
        let says = format!(
            "Out of date: since it was logged, {}. Answers rest on the description until it is logged again.",
            changed.join("; ")
        );
        return Some(Kept { says, is_outdated: true });
    }
    let goal = Goal::of_zones(&two_zones(fitted)).ok()?;
    let described = Description::recorded(&place.enclosure, &place.heaters, known.household.as_ref(), Vec::new());
    let [warm, _, hours] =
        described.and_then(|described| shown::described(&described, fitted.watts)).unwrap_or_default();
    let than = |range: Option<_>, word: fn(_) -> String| {
        range.map_or(String::new(), |range| format!(", where its description gives {}", word(range)))
    };
    let exactly = crate::what_if::Range::exactly;
    let says = format!(
        "With {:.0} W always on, the warm side stands {} over the room{}; a third of that is left after {} without heat{}.",
        fitted.watts,
        words::kelvin(exactly(goal.warm_k_w * fitted.watts)),
        than(warm, words::kelvin),
        words::hours(exactly(goal.time_s / 3600.0)),
        than(hours, words::hours),
    );
    Some(Kept { says, is_outdated: false })
}
