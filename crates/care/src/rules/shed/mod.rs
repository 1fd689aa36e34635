//! Sheds: the cycle under way, how the last one came off, and how often.

mod came_off;
mod cycle;
mod frequent;
mod overdue;

use records::facts::{Retained, Shed};
use records::timeline::Entry;

use super::Rule;
use crate::lines;
use crate::view::View;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[
    cycle::RULE,
    cycle::LATE,
    cycle::FORGOTTEN,
    overdue::RULE,
    came_off::SKIN,
    came_off::EYE_CAP,
    came_off::TAIL_TIP,
    came_off::LOOK,
    frequent::RULE,
];

/// Sheds in a row, the latest first, after which skin stayed on at a place and is taken to be on still: until a shed
/// of which something else is noted, or for the days of the rule. A shed of which nothing is noted changes nothing.
pub fn still_on<'a>(view: &'a View<'_>, place: Retained) -> Vec<&'a Entry<Shed>> {
    let stands = lines::low("retained_stands").value;
    let mut sheds: Vec<&Entry<Shed>> = Vec::new();
    for shed in view.line.sheds.iter().rev() {
        let Some(off) = shed.shed_at else { continue };
        if shed.retained.contains(&place) {
            if sheds.is_empty() && stands <= view.days_since(off) {
                break;
            }
            sheds.push(shed);
        } else if shed.pieces.is_some() || !shed.retained.is_empty() {
            break;
        }
    }
    sheds
}

/// Is an eye cap taken to be on still?
pub fn eye_cap_still_on(view: &View<'_>) -> bool {
    [Retained::LeftEyeCap, Retained::RightEyeCap].iter().any(|eye| !still_on(view, *eye).is_empty())
}

/// Is a ring or cap of old skin taken to be on the tail tip still?
pub fn tail_tip_still_on(view: &View<'_>) -> bool {
    !still_on(view, Retained::TailTip).is_empty()
}
