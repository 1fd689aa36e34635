//! The skins that came off, each once, and the intervals between them.

use records::facts::Shed;
use records::timeline::Entry;
use science::statistics::intervals::{Interval, looks_doubled};
use units::When;

use crate::lines;
use crate::view::View;

/// A skin that came off.
#[derive(Clone, Debug, PartialEq)]
pub struct Off {
    /// When: the last of its records, where it came off in parts.
    pub at: When,
    /// Places of its records in the timeline.
    pub entries: Vec<usize>,
    /// In how many pieces, at the most that is noted.
    pub pieces: Option<u32>,
    /// Something stayed on.
    pub stayed_on: bool,
}

impl Off {
    /// In pieces, or something stayed on.
    pub fn is_bad(&self) -> bool {
        self.stayed_on || self.pieces.is_some_and(|pieces| 1 < pieces)
    }
}

/// Does an interval count for the rhythm?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counts {
    /// It does.
    Yes,
    /// So long that a shed in it was not written down.
    TooLong,
    /// About twice the others: was one in its middle not written down?
    Doubled,
    /// A winter rest lay in it.
    WinterRest,
}

/// From one shed to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// Days of 24 hours.
    pub days: f64,
    /// The shed that ended it: its place in [`History::offs`].
    pub ended_by: usize,
    /// Does it count?
    pub counts: Counts,
}

/// What is written down of its sheds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    /// Skins that came off, oldest first; those noted twice or off in parts are one.
    pub offs: Vec<Off>,
    /// The intervals between them: one fewer.
    pub gaps: Vec<Gap>,
}

/// To tell a doubled interval so many others are needed.
const OTHERS: usize = 3;

impl History {
    /// From the records up to the moment of the view.
    pub fn of(view: &View<'_>) -> History {
        let mut dated: Vec<(When, usize, &Entry<Shed>)> = Vec::new();
        for (index, shed) in view.line.sheds.iter().enumerate() {
            dated.extend(shed.shed_at.map(|at| (at, index, shed)));
        }
        dated.sort_by_key(|(at, index, _)| (*at, *index));
        let same = lines::low("shed_same").value;
        let mut offs: Vec<Off> = Vec::new();
        for (at, index, shed) in dated {
            let stayed_on = !shed.retained.is_empty();
            match offs.last_mut().filter(|off| at.from.days_since(off.at.from) < same) {
                Some(off) => {
                    off.at = at;
                    off.entries.push(index);
                    off.pieces = off.pieces.max(shed.pieces);
                    off.stayed_on |= stayed_on;
                }
                None => offs.push(Off { at, entries: vec![index], pieces: shed.pieces, stayed_on }),
            }
        }
        let gaps = gaps(view, &offs);
        History { offs, gaps }
    }

    /// The last skin.
    pub fn last(&self) -> Option<&Off> {
        self.offs.last()
    }

    /// The days of the intervals that count, oldest first.
    pub fn counted(&self) -> impl DoubleEndedIterator<Item = f64> {
        self.gaps.iter().filter(|gap| gap.counts == Counts::Yes).map(|gap| gap.days)
    }
}

fn gaps(view: &View<'_>, offs: &[Off]) -> Vec<Gap> {
    let longest = lines::low("shed_interval_longest").value;
    let rests: Vec<_> =
        view.line.planned.iter().filter(|plan| plan.what == records::facts::PlannedWhat::Brumation).collect();
    let mut gaps: Vec<Gap> = Vec::new();
    for (before, pair) in offs.windows(2).enumerate() {
        let [a, b] = pair else { continue };
        let (from, to) = (a.at.middle(), b.at.middle());
        let rested = rests.iter().any(|rest| from < rest.ends() && rest.from.from < to);
        let days = to.days_since(from);
        let counts = if rested {
            Counts::WinterRest
        } else if longest < days {
            Counts::TooLong
        } else {
            Counts::Yes
        };
        gaps.push(Gap { days, ended_by: before + 1, counts });
    }
    mark_doubled(&mut gaps);
    gaps
}

/// Marks intervals of about twice those before it. Where a neighbour is as long, the rhythm has changed, and none was
/// missed.
fn mark_doubled(gaps: &mut [Gap]) {
    /// From this share of it on a neighbour is as long.
    const ALIKE: f64 = 0.75;
    let days: Vec<f64> = gaps.iter().map(|gap| gap.days).collect();
    for at in 0..gaps.len() {
        let (earlier, rest) = gaps.split_at_mut(at);
        let Some(gap) = rest.first_mut().filter(|gap| gap.counts == Counts::Yes) else { continue };
        let counted = earlier.iter().rev().filter(|one| one.counts == Counts::Yes);
        let others: Vec<Interval> =
            counted.take(lines::low("shed_recent").value as usize).map(|one| Interval::Ended(one.days)).collect();
        let neighbours = [at.checked_sub(1).and_then(|before| days.get(before)), days.get(at + 1)];
        let stands_alone = neighbours.into_iter().flatten().all(|other| *other < ALIKE * gap.days);
        if OTHERS <= others.len() && stands_alone && looks_doubled(gap.days, &others) {
            gap.counts = Counts::Doubled;
        }
    }
}
