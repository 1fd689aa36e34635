//! The timetable of a feeding evening: when each lot leaves the freezer, goes into the bath and is offered.

use records::facts::Thawing as Way;
use units::{Moment, Zone};

use super::assumed::Assumed;
use super::lot::Lot;
use super::schedule::{self, Worked};
use super::steps;
use crate::lines;
use crate::what_if::Step;

/// The clock of one lot.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// What.
    pub lot: Lot,
    /// Out of the freezer at the latest.
    pub take_out: Moment,
    /// Out of the freezer at the earliest, where waiting thawed is safe: in the refrigerator.
    pub earliest_out: Option<Moment>,
    /// Into the warm bath.
    pub bath_from: Moment,
    /// Out of it.
    pub bath_until: Moment,
    /// The surface is at the temperature of offering.
    pub offer_from: Moment,
    /// The surface is too cool; `None` in a room as warm as that.
    pub offer_until: Option<Moment>,
    /// What is left is discarded.
    pub discard_by: Moment,
}

/// The timetable of a feeding evening.
#[derive(Clone, Debug, PartialEq)]
pub struct Timetable {
    /// When prey is offered.
    pub feed_at: Moment,
    /// When it was to be offered; earlier than [`Timetable::feed_at`] where that cannot be.
    pub asked_for: Moment,
    /// How it thaws.
    pub way: Way,
    /// Water of the warm bath, l.
    pub water_l: f64,
    /// Each lot, the first out of the freezer first.
    pub planned: Vec<Planned>,
    /// What to do, in order.
    pub steps: Vec<Step>,
}

/// When a timetable is made, and in which zone its clock is read.
#[derive(Clone, Copy, Debug)]
pub struct When<'a> {
    /// Now: nothing can be done earlier.
    pub now: Moment,
    /// When prey is to be offered.
    pub feed_at: Moment,
    /// The zone of clock times.
    pub zone: &'a Zone,
}

/// The timetable for prey that is offered at a time, thawed in the gentlest way for which there is time: refrigerator,
/// then cool water; where there is time for neither, the feeding moves. `None` where there is no prey, or it never thaws.
pub fn timetable(lots: &[Lot], when: &When<'_>, assumed: &Assumed) -> Option<Timetable> {
    worked(lots, when, assumed, None).map(|(timetable, _)| timetable)
}

/// This evening at the usual hour; tomorrow where that is past.
pub fn usual_evening(now: Moment, zone: &Zone) -> Moment {
    let hour = lines::low("thaw_feeding_hour").value;
    let start = zone.date(now).to_datetime(jiff::civil::Time::midnight());
    let tonight = zone.moment(start.saturating_add(jiff::SignedDuration::from_secs_f64(hour * 3600.0)));
    if now < tonight { tonight } else { zone.days_later(tonight, 1) }
}

/// Ways that are chosen without being asked for, the gentlest first.
const GENTLE: [Way; 2] = [Way::Fridge, Way::CoolWater];

/// The timetable, and what each lot needs in the order of its lots.
pub(super) fn worked(
    lots: &[Lot],
    when: &When<'_>,
    assumed: &Assumed,
    way: Option<Way>,
) -> Option<(Timetable, Vec<Worked>)> {
    let ways: &[Way] = match &way {
        Some(way) => std::slice::from_ref(way),
        None => &GENTLE,
    };
    let mut last = None;
    for way in ways {
        let is_last = Some(way) == ways.last();
        if !is_last && !could_be_in_time(lots, when, assumed, *way) {
            continue;
        }
        let Some(all) = work_out_all(lots, assumed, *way) else { continue };
        let made = put_on_clock(&all, when, assumed, *way);
        if made.feed_at == when.feed_at {
            return Some((made, all));
        }
        last = Some((made, all));
    }
    last
}

/// A quick look, so that a night in the refrigerator is not followed through where an hour is left: false where even the
/// quick formula says that there is no time.
fn could_be_in_time(lots: &[Lot], when: &When<'_>, assumed: &Assumed, way: Way) -> bool {
    const FORMULA_IS_OFF_BY: f64 = 1.2;
    let left_s = 3600.0 * when.feed_at.hours_since(when.now);
    lots.iter().all(|lot| {
        let (setting, _) = super::assumed::of(lot, assumed, way);
        schedule::quick_s(lot, &setting).is_none_or(|quick| quick < left_s * FORMULA_IS_OFF_BY)
    })
}

/// What each lot needs.
pub(super) fn work_out_all(lots: &[Lot], assumed: &Assumed, way: Way) -> Option<Vec<Worked>> {
    let (all_g, litres) = (schedule::total_g(lots), schedule::bath_litres(lots, assumed, way)?);
    let all: Option<Vec<Worked>> =
        lots.iter().map(|lot| schedule::work_out(lot, all_g, litres, assumed, way)).collect();
    all.filter(|all| !all.is_empty())
}

/// When all lots would have to leave the freezer for a feeding: the earliest of them.
pub(super) fn latest_start(all: &[Worked], feed_at: Moment) -> Moment {
    all.iter().map(|one| take_out(one, feed_at)).min().unwrap_or(feed_at)
}

fn earlier(moment: Moment, seconds: f64) -> Moment {
    Moment(moment.0 - seconds.round() as i64)
}

fn later(moment: Moment, seconds: f64) -> Moment {
    earlier(moment, -seconds)
}

/// Rounded down to whole steps of the clock.
fn rounded_down(moment: Moment, step_s: i64) -> Moment {
    Moment(moment.0 - moment.0.rem_euclid(step_s))
}

fn take_out(one: &Worked, feed_at: Moment) -> Moment {
    if super::course::is_straight(one.frame.way) {
        return earlier(feed_at, one.ahead_s());
    }
    rounded_down(earlier(feed_at, one.ahead_s()), schedule::clock_step_s(one.frame.way))
}

fn put_on_clock(all: &[Worked], when: &When<'_>, assumed: &Assumed, way: Way) -> Timetable {
    let mut feed_at = when.feed_at;
    if latest_start(all, feed_at) < when.now {
        // Begun now, the last to be ready tells when.
        let longest_s = all.iter().map(Worked::ahead_s).fold(0.0, f64::max);
        feed_at = rounded_down(later(when.now, longest_s + 600.0 - 1.0), 300);
    }
    let mut planned: Vec<Planned> = all.iter().map(|one| plan(one, feed_at, when.now)).collect();
    planned.sort_by_key(|one| one.take_out);
    let water_l = all.first().map_or(0.0, |one| one.frame.bath_litres);
    let mut made = Timetable { feed_at, asked_for: when.feed_at, way, water_l, planned, steps: Vec::new() };
    made.steps = steps::of(&made, all, assumed);
    made
}

fn plan(one: &Worked, feed_at: Moment, now: Moment) -> Planned {
    let course = &one.course;
    let bath_from = earlier(feed_at, one.warming_s());
    let kept_s = lines::low("thawed_fridge_max").value * 3600.0;
    let earliest = earlier(bath_from, course.thawed_s + kept_s).max(now);
    let take_out = take_out(one, feed_at).max(now);
    // Growth counts from the freezer; the course may wait a few minutes longer on the clock, cold.
    let lies_s = lines::low("uneaten_remove").value * 3600.0;
    let spoils_s = schedule::passes_at_s(&course.history, lines::high("thaw_growth").value)
        .map_or(f64::INFINITY, |s| s - course.at_offer.s);
    Planned {
        lot: one.lot.clone(),
        take_out,
        earliest_out: (one.frame.way == Way::Fridge && earliest < take_out).then_some(earliest),
        bath_from,
        bath_until: later(bath_from, course.bath_s),
        offer_from: feed_at,
        offer_until: course.window_s.is_finite().then(|| later(feed_at, course.window_s)),
        discard_by: later(feed_at, lies_s.min(spoils_s).max(0.0)),
    }
}
