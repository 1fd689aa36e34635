//! Coming into the house, being apart from others, getting away and coming back.

mod away;
mod hatchling;
mod quarantine;
mod settling;

use records::facts::{EndingWhat, PlannedWhat, SignKind};
use records::timeline::Entry;
use units::{Moment, Precision, When};

use super::Rule;
use crate::answer::Evidence;
use crate::draft::{seen, undated};
use crate::lines;
use crate::view::View;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[away::RULE, settling::RULE, quarantine::RULE, hatchling::RULE];

/// Is there no animal to look after: dead, or missing?
pub fn is_gone(view: &View<'_>) -> bool {
    view.is_dead() || view.missing_since().is_some()
}

/// Others live in the same room or enclosure.
pub fn has_others(view: &View<'_>) -> bool {
    let room = view.household().is_some_and(|house| house.other_reptiles == Some(true));
    room || 0 < cohabitants(view)
}

/// How many others live in its enclosure.
pub fn cohabitants(view: &View<'_>) -> u32 {
    view.enclosure().and_then(|enclosure| enclosure.cohabitants).unwrap_or(0)
}

/// When it came into the house, where the day is known well enough to count days from it.
pub fn arrived(view: &View<'_>) -> Option<When> {
    view.case.animal.arrived.filter(|arrived| arrived.precision != Precision::Year && arrived.from <= view.now)
}

/// From what it settles: an arrival, or a return after a week or more.
pub struct Began {
    /// When.
    pub at: When,
    /// In words: «It arrived on 3 May 2027».
    pub words: String,
    /// How long it had been away, in days; `None` for an arrival.
    pub away_d: Option<f64>,
    /// The record.
    pub evidence: Evidence,
}

/// The arrivals and returns from which it settles, the latest last.
pub fn beginnings(view: &View<'_>) -> Vec<Began> {
    let mut all = Vec::new();
    if let Some(at) = arrived(view) {
        let words = format!("It arrived {}", view.on_date(at));
        all.push(Began { at, words, away_d: None, evidence: Evidence { key: view.case.animal.key, at: Some(at) } });
    }
    let mut back = |verb: &str, at: When, since: Moment, evidence: Evidence| {
        let away_d = at.from.days_since(since);
        if lines::low("missing_settle").value <= away_d {
            let words = format!("It {verb} on {} after {away_d:.0} days away", view.date_of(at));
            all.push(Began { at, words, away_d: Some(away_d), evidence });
        }
    };
    for found in view.line.signs.iter().filter(|one| one.sign == SignKind::Found) {
        if let Some(missing) = missing_before(view, found) {
            back("was found", found.at, missing.at.from, seen(found));
        }
    }
    for plan in view.line.planned.iter().filter(|plan| plan.what == PlannedWhat::AnimalAway && plan.ends() <= view.now)
    {
        back("came back", plan.until.unwrap_or(plan.from), plan.from.from, seen(plan));
    }
    for pair in view.line.endings.windows(2) {
        if let [lent, returned] = pair
            && returned.what == EndingWhat::Returned
        {
            back("came back", returned.at, lent.at.from, seen(returned));
        }
    }
    all.sort_by_key(|one| one.at);
    all
}

/// The record that it was missing, before it was found.
pub fn missing_before<'a>(
    view: &'a View<'_>,
    found: &Entry<records::facts::Sign>,
) -> Option<&'a Entry<records::facts::Sign>> {
    let before = view.line.signs.iter().rev().filter(|one| one.at.from <= found.at.from && one.key != found.key);
    let mut missing = None;
    for one in before {
        match one.sign {
            SignKind::Missing => missing = Some(one),
            SignKind::Found => break,
            _ => {}
        }
    }
    missing
}

/// The end of a span, but no later than the end of today: a month in which it came is not over yet.
pub fn known_end(view: &View<'_>, at: When) -> Moment {
    at.to.min(view.zone.days_later(view.today(), 1))
}

/// The household's word as evidence.
pub fn by_household(view: &View<'_>) -> Vec<Evidence> {
    view.household().map(|house| undated(house.key)).into_iter().collect()
}
