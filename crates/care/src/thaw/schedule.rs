//! What one lot needs, with its certainty, before there is a clock.

use records::facts::Thawing as Way;
use science::physics::prey::bath::{WATER_J_KGK, heat_needed_kj};
use science::physics::prey::growth::{GrowthCurve, growth_log10};
use units::{Celsius, Grams, Seconds};

use super::assumed::{self, Assumed, Input, Setting};
use super::course::{self, At, Course, Frame, Plan};
use super::lot::Lot;
use crate::lines;

/// Shells of the course that is shown: the time to thaw is within 0.2 % of that with sixty.
const SHELLS: usize = 8;
/// Shells of the courses that tell the spread: within 0.6 %.
pub(super) const FEW_SHELLS: usize = 6;

/// What a lot needs.
pub(super) struct Worked {
    pub lot: Lot,
    pub frame: Frame,
    pub setting: Setting,
    pub inputs: Vec<Input>,
    /// Core at 0 °C in nine of ten cases, s since the freezer.
    pub surely_thawed_s: f64,
    /// The main course.
    pub course: Course,
}

impl Worked {
    /// From the bath to the offering, both included, s.
    pub fn warming_s(&self) -> f64 {
        self.course.bath_s + self.course.offer_s
    }

    /// From the freezer to the offering, s.
    pub fn ahead_s(&self) -> f64 {
        self.course.ready_s + self.warming_s()
    }
}

/// In whole steps of the clock.
fn rounded_up_s(way: Way, seconds: f64) -> f64 {
    let step_s = clock_step_s(way) as f64;
    (seconds / step_s).ceil() * step_s
}

/// Steps of the clock in which a way is planned, s.
pub(super) fn clock_step_s(way: Way) -> i64 {
    if way == Way::Fridge { 900 } else { 300 }
}

/// Mass of all lots, g.
pub(super) fn total_g(lots: &[Lot]) -> f64 {
    lots.iter().map(Lot::total_g).sum()
}

/// Water that brings all lots to their temperature, l: the heat of the prey and what the bowl loses meanwhile, from the
/// warmth that the water has to spare. `None` where it has none.
pub(super) fn litres_needed(lots: &[Lot], assumed: &Assumed, way: Way) -> Option<f64> {
    const WATER_STAYS_OVER_K: f64 = 0.5;
    const MEANWHILE_S: f64 = 1800.0;
    let (setting, _) = assumed::of(lots.first()?, assumed, way);
    let target = course::target_c(&setting);
    let from = if course::is_straight(way) { setting.freezer_c } else { setting.around_c };
    let (from, to) = (Celsius::new(from)?, Celsius::new(target)?);
    let mut heat_j = 0.0;
    for lot in lots {
        heat_j += 1000.0 * heat_needed_kj(lot.food()?, Grams::new(lot.total_g())?, from, to);
    }
    let ends_at = target + WATER_STAYS_OVER_K;
    let spare = WATER_J_KGK * (setting.water_c - ends_at);
    let over_room = f64::midpoint(setting.water_c, ends_at) - setting.room_c;
    let least = lines::low("thaw_bath_least").value;
    let mut litres = least;
    // The larger the bowl the more it loses, but by less than its volume: this settles quickly.
    for _ in 0..12 {
        let lost_j = setting.loss * litres.powf(2.0 / 3.0) * over_room.max(0.0) * MEANWHILE_S;
        litres = ((heat_j + lost_j) / spare).max(least);
    }
    (0.0 < spare && litres.is_finite()).then(|| (litres - 1e-9).ceil())
}

/// Water of the whole bath, l.
pub(super) fn bath_litres(lots: &[Lot], assumed: &Assumed, way: Way) -> Option<f64> {
    match assumed.water_l {
        Some(litres) => Some(litres),
        None => litres_needed(lots, assumed, way),
    }
}

/// How much longer pieces take that lie on each other: as one body of twice the thickness.
fn stack(lot: &Lot, assumed: &Assumed) -> f64 {
    let piece = units::Metres::new(1.0);
    let both = units::Metres::new(2.0);
    let is_stacked = assumed.is_stacked && 1 < lot.count;
    let factor = piece.zip(both).and_then(|(piece, both)| science::physics::prey::stack_factor(both, piece));
    if is_stacked { factor.unwrap_or(1.0) } else { 1.0 }
}

/// What a lot needs, beside the others with which it shares the bath. `None` where it never thaws.
pub(super) fn work_out(lot: &Lot, all_g: f64, bath_litres: f64, assumed: &Assumed, way: Way) -> Option<Worked> {
    let (setting, inputs) = assumed::of(lot, assumed, way);
    let frame = Frame {
        food: lot.food()?,
        way,
        count: f64::from(lot.count),
        litres: bath_litres * lot.total_g() / all_g,
        bath_litres,
        is_bagged: assumed.is_bagged,
        stack: stack(lot, assumed),
    };
    let later = later_in_one_of_ten(lot, &setting, &inputs).unwrap_or(1.0);
    let ready_s = |thawed_s: f64| rounded_up_s(way, thawed_s * later);
    let ready = course::thaw_and_wait(&setting, &frame, SHELLS, ready_s)?;
    let course = course::warm(&ready, &setting, Plan::default())?;
    let surely_thawed_s = course.thawed_s * later;
    Some(Worked { lot: lot.clone(), frame, setting, inputs, surely_thawed_s, course })
}

/// How many times as long as usual thawing takes in one of ten cases, at most: by the quick formula, whose error falls
/// out of the ratio.
fn later_in_one_of_ten(lot: &Lot, setting: &Setting, inputs: &[Input]) -> Option<f64> {
    let usual = quick_s(lot, setting)?;
    let mut squares = 0.0;
    for input in inputs {
        let Some(end) = input.slow else { continue };
        let mut slow = *setting;
        (input.set)(&mut slow, input.at(end));
        squares += (quick_s(lot, &slow)? / usual - 1.0).max(0.0).powi(2);
    }
    Some(1.0 + squares.sqrt())
}

/// Growth at the surface up to a time, powers of ten, by the fastest of the published curves and without any lag.
pub(super) fn growth(history: &[At], until_s: f64) -> f64 {
    let surface: Vec<(Seconds, Celsius)> = history
        .iter()
        .filter(|at| at.s <= until_s)
        .filter_map(|at| Some((Seconds(at.s), Celsius::new(at.surface)?)))
        .collect();
    growth_log10(&surface, GrowthCurve::CookedChicken)
}

/// How long the surface was between two temperatures up to a time, s.
pub(super) fn spent_s(history: &[At], until_s: f64, over_c: f64, up_to_c: f64) -> f64 {
    history
        .windows(2)
        .map(|pair| match pair {
            [a, b] if b.s <= until_s && over_c < b.surface && b.surface <= up_to_c => b.s - a.s,
            _ => 0.0,
        })
        .sum()
}

/// When growth passes a limit, s since the freezer; `None` where it does not within the course.
pub(super) fn passes_at_s(history: &[At], limit_log10: f64) -> Option<f64> {
    let mut sum = 0.0;
    for pair in history.windows(2) {
        let [_, b] = pair else { continue };
        sum += growth(pair, f64::INFINITY);
        if limit_log10 < sum {
            return Some(b.s);
        }
    }
    None
}

/// Time to thaw by the quick formula, s. `None` where it never does.
pub(super) fn quick_s(lot: &Lot, setting: &Setting) -> Option<f64> {
    let food = lot.food()?;
    let body = course::body(setting, food, setting.film_thaw)?;
    let (around, freezer) = (Celsius::new(setting.around_c)?, Celsius::new(setting.freezer_c)?);
    science::physics::prey::estimate::cleland_thawing(food, &body, setting.film_thaw, around, freezer)
        .map(Seconds::seconds)
}
