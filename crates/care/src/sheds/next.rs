//! The next shed, given what was seen and that it has not come yet.

use records::facts::Shed;
use records::timeline::Entry;
use science::statistics::intervals::Law;
use science::statistics::normal;
use species::Figure;
use units::{Moment, When};

use super::{History, Rhythm};
use crate::answer::{Code, DateRange, SourceRef};
use crate::lines;
use crate::signs::Signs;
use crate::view::View;

/// What the date rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// The rhythm of its intervals.
    Rhythm,
    /// It went dull.
    Dull,
    /// Its eyes went blue.
    Blue,
    /// Its eyes cleared.
    Cleared,
}

/// When the next shed is likely.
#[derive(Clone, Debug, PartialEq)]
pub struct Next {
    /// The 10th, 50th and 90th percentile, given that it has not come yet.
    pub range: DateRange,
    /// What it rests on.
    pub by: By,
    /// From when the days are counted: the last shed, or the step that was seen.
    pub since: Moment,
    /// The law of the days from then on.
    pub law: Law,
    /// Where the law comes from.
    pub source: SourceRef,
}

impl Next {
    /// How likely it comes within so many days from `now`, %.
    pub fn within_pct(&self, now: Moment, days: f64) -> Option<f64> {
        self.law.after(now.days_since(self.since)).within(days).map(|share| 100.0 * share)
    }
}

/// Why there is no date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyNot {
    /// There is no animal to look after.
    Gone,
    /// In a winter rest nothing sheds by the calendar.
    WinterRest,
    /// No shed is on record.
    NoShed,
    /// Ill or burnt, it sheds out of its rhythm.
    Ill,
    /// It should have come: the records, or the animal, do not follow the rhythm.
    Late,
}

impl WhyNot {
    /// One sentence.
    pub fn says(self) -> &'static str {
        match self {
            WhyNot::Gone => "It is dead or missing: no date is told.",
            WhyNot::WinterRest => "In a winter rest the rhythm stands still: the date is told again after it.",
            WhyNot::NoShed => "No shed is on record: note the next one, and a date can be told.",
            WhyNot::Ill => "It is ill or hurt, and such an animal sheds out of its rhythm: no date is told.",
            WhyNot::Late => {
                "By its rhythm the shed should have come long ago: one was not written down, or the rhythm has changed."
            }
        }
    }
}

/// When the next shed is likely. What was seen of one under way comes before the rhythm.
pub fn next(view: &View<'_>) -> Result<Next, WhyNot> {
    if view.is_dead() || view.missing_since().is_some() {
        return Err(WhyNot::Gone);
    }
    if view.is_brumating() {
        return Err(WhyNot::WinterRest);
    }
    if let Some(stepped) = view.open_shed().and_then(|shed| from_step(view, shed)) {
        return stepped;
    }
    let history = History::of(view);
    let last = history.last().ok_or(WhyNot::NoShed)?;
    let signs = Signs::of(view);
    if signs.iter().any(|one| one.meaning.ill) || !signs.of_code(Code::Burn).is_empty() {
        return Err(WhyNot::Ill);
    }
    let rhythm = Rhythm::of(view, &history);
    let source = rhythm.usual.source.clone();
    ahead(view, By::Rhythm, last.at.middle(), rhythm.law, source)
}

/// The law beyond what has passed.
fn ahead(view: &View<'_>, by: By, since: Moment, law: Law, source: SourceRef) -> Result<Next, WhyNot> {
    let after = law.after(view.now.days_since(since));
    if after.not_yet() < 1.0 - lines::low("shed_window_until").value / 100.0 {
        return Err(WhyNot::Late);
    }
    let at = |p: f64| after.further(p).map(|days| view.now.plus_days(days)).ok_or(WhyNot::Late);
    Ok(Next { range: DateRange { low: at(0.1)?, mid: at(0.5)?, high: at(0.9)? }, by, since, law, source })
}

/// From the last step that was seen: the profile's days from there to the skin, taken as the span in which eight of ten
/// come; the general rule's (nine of ten) where it has none.
fn from_step(view: &View<'_>, shed: &Entry<Shed>) -> Option<Result<Next, WhyNot>> {
    let by = &view.profile.shed;
    let span = |figure: &Figure| (figure.low, figure.high);
    let (what, at, figure, own): (By, When, Option<&Figure>, Option<(f64, f64)>) = if let Some(at) = shed.cleared_at {
        let clear = by.clear_to_shed_d.first();
        (By::Cleared, at, clear, clear.map(span))
    } else if let Some(at) = shed.blue_at {
        let (blue, clear) = (by.blue_d.first(), by.clear_to_shed_d.first());
        let sum = blue.zip(clear).map(|(blue, clear)| (blue.low + clear.low, blue.high + clear.high));
        (By::Blue, at, clear, sum)
    } else {
        let total = by.total_d.first();
        (By::Dull, shed.dull_at?, total, total.map(span))
    };
    const EIGHT_OF_TEN: f64 = 0.9;
    const NINE_OF_TEN: f64 = 0.95;
    let general = || {
        let group = match what {
            By::Dull | By::Rhythm => "dull",
            By::Blue => "blue",
            By::Cleared => "clear",
        };
        let figure = lines::whole_of_group("shed_from_step", group)?;
        Some((lognormal(figure.low, figure.high, NINE_OF_TEN), SourceRef::of(figure)))
    };
    let (law, source) = match own.zip(figure).filter(|((low, high), _)| low < high) {
        Some(((low, high), figure)) => (lognormal(low, high, EIGHT_OF_TEN), SourceRef::of(figure)),
        None => general()?,
    };
    Some(ahead(view, what, at.middle(), law, source))
}

/// The lognormal law of which `upto` lies below `high`, and as much above `low`.
fn lognormal(low: f64, high: f64, upto: f64) -> Law {
    let (low, high) = (low.ln(), high.ln());
    Law::Lognormal { mean: f64::midpoint(low, high), deviation: (high - low) / (2.0 * normal::quantile(upto)) }
}
