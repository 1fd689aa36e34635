//! A household made up for a moment: eight invented animals in two rooms, with two years of records. The same moment
//! and zone give the same records.
//!
//! [`household`] says who lives there and what happened; [`story`] writes it down in the order of time.

mod household;
mod story;

use units::Moment;
use web::desk::Desk;

use crate::exit::Ended;
use story::Story;

/// What was made up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Made {
    /// How many animals.
    pub animals: usize,
    /// How many records.
    pub records: usize,
}

/// Makes up a household around `now` and writes it down.
pub fn make(desk: &Desk, now: Moment) -> Result<Made, Ended> {
    let mut story = Story::new(desk.zone().clone(), now);
    household::tell(&mut story);
    let animals = story.animals();
    let records = story.write_down(desk)?;
    Ok(Made { animals, records })
}
