//! Handling: against a hold, too often, too long, and large snakes.

mod during_hold;
mod how_much;
mod moved;
mod two_persons;

use records::facts::Measurement;

use super::Rule;
use crate::answer::Evidence;
use crate::digestion::Eaten;
use crate::draft::seen;
use crate::lines;
use crate::view::View;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[during_hold::RULE, moved::RULE, how_much::OFTEN, how_much::LONG, two_persons::RULE];

/// How long an animal is left in peace after a meal, in hours: two days, half the digestion time, or three days after
/// a large meal, whichever is longest.
pub fn peace_h(eaten: &Eaten) -> f64 {
    let least = lines::low("handling_after_meal").value;
    let half = eaten.digestion_d.map_or(0.0, |days| days * 12.0);
    let is_large = eaten.share_pct.is_some_and(|share| lines::low("large_meal").value < share);
    let large = if is_large { lines::low("handling_after_large_meal").value } else { 0.0 };
    least.max(half).max(large)
}

/// One of the snakes that count as giants, by the scientific name of its profile or as it was given.
pub fn is_giant(view: &View<'_>) -> bool {
    let Some(rule) = lines::rule("giants") else { return false };
    let given = view.case.animal.species.trim();
    rule.groups.iter().any(|one| {
        let is = |name: &str| name.eq_ignore_ascii_case(&one.group);
        is(given) || (!view.profile.general && is(&view.profile.scientific_name))
    })
}

/// A length with the record that it rests on.
#[derive(Clone, Copy)]
pub struct Length {
    /// In m.
    pub value: f64,
    /// The measurement.
    pub record: Option<Evidence>,
}

/// Total length in m, by the last measurement; the snout-vent length at least, where only that was measured.
pub fn length_m(view: &View<'_>) -> Option<Length> {
    let cm = |one: &Measurement| one.total_length_cm.or(one.snout_vent_cm);
    let last = view.line.measurements.iter().rev().find(|one| cm(one).is_some())?;
    cm(last).map(|cm| Length { value: cm / 100.0, record: Some(seen(last)) })
}
