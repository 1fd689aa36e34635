//! How sure the answer is: each input at both its ends while the others stay in the middle, the differences added as the
//! root of their squares.

use super::assumed::{End, Input, Setting};
use super::course::{self, Course, Plan};
use super::schedule::{self, FEW_SHELLS, Worked};
use crate::what_if::{Guess, Range};

/// What is told with its range.
pub(super) struct Spread {
    /// Core at 0 °C, s since the freezer.
    pub thawed_s: Range,
    /// Warm bath that it needs, s.
    pub needed_s: Range,
    /// From the freezer to the offering, s.
    pub ahead_s: Range,
    /// Core at the offering, °C.
    pub core_c: Range,
    /// Surface at the offering, °C.
    pub surface_c: Range,
    /// From the offering until the surface is too cool, s.
    pub window_s: Range,
    /// Growth up to the offering, powers of ten.
    pub growth: Range,
    /// What was guessed, the weightiest first.
    pub guesses: Vec<Guess>,
}

const THAWED: usize = 0;
const NEEDED: usize = 1;
const AHEAD: usize = 2;
const CORE: usize = 3;
const SURFACE: usize = 4;
const WINDOW: usize = 5;
const GROWTH: usize = 6;
const ALL: usize = 7;

fn told(course: &Course) -> [f64; ALL] {
    let thawing_s = if course.before_bath == 0 { 0.0 } else { course.thawed_s };
    [
        course.thawed_s,
        course.needed_s,
        thawing_s + course.needed_s + course.offer_s,
        course.at_offer.core,
        course.at_offer.surface,
        course.window_s,
        schedule::growth(&course.history, course.at_offer.s),
    ]
}

/// The spread of what a lot needs. `None` where one of the courses never thaws.
pub(super) fn of(worked: &Worked) -> Option<Spread> {
    let main = &worked.course;
    let plan = Plan { bath_s: Some(main.bath_s), offer_s: Some(main.offer_s) };
    let frame = &worked.frame;
    let thawed = |setting: &Setting| course::thaw_for(setting, frame, FEW_SHELLS, main.ready_s);
    let usual = thawed(&worked.setting)?;
    let middle = course::warm(&usual, &worked.setting, plan).map(|one| told(&one))?;
    let (mut down, mut up) = ([0.0; ALL], [0.0; ALL]);
    let mut weights = Vec::new();
    for input in &worked.inputs {
        let at = |end| {
            let mut setting = worked.setting;
            (input.set)(&mut setting, input.at(end));
            // What changes nothing before the bath begins there.
            let course = match input.slow {
                Some(_) => course::warm(&thawed(&setting)?, &setting, plan),
                None => course::warm(&usual, &setting, plan),
            };
            course.map(|one| told(&one))
        };
        let (low, high) = (at(End::Low)?, at(End::High)?);
        let sums = down.iter_mut().zip(&mut up);
        for ((down, up), ((low, high), middle)) in sums.zip(low.iter().zip(&high).zip(&middle)) {
            let off = [low - middle, high - middle].map(|off| if off.is_nan() { 0.0 } else { off });
            let (least, most) = (off[0].min(off[1]), off[0].max(off[1]));
            *down += least.min(0.0).powi(2);
            *up += most.max(0.0).powi(2);
        }
        weights.push((high[AHEAD] - low[AHEAD]).powi(2));
    }
    let around = told(main);
    let range = |index: usize| {
        let (mid, down, up) = (around[index], down[index], up[index]);
        // A temperature may lie on either side of nothing, a time or a growth may not.
        let least = if matches!(index, CORE | SURFACE) { f64::NEG_INFINITY } else { 0.0 };
        Range { low: (mid - down.sqrt()).max(least), mid, high: mid + up.sqrt() }
    };
    Some(Spread {
        thawed_s: range(THAWED),
        needed_s: range(NEEDED),
        ahead_s: range(AHEAD),
        core_c: range(CORE),
        surface_c: range(SURFACE),
        window_s: range(WINDOW),
        growth: range(GROWTH),
        guesses: guesses(&worked.inputs, &weights),
    })
}

fn guesses(inputs: &[Input], weights: &[f64]) -> Vec<Guess> {
    let all: f64 = weights.iter().sum();
    let mut guesses: Vec<Guess> = inputs
        .iter()
        .zip(weights)
        .map(|(input, weight)| Guess {
            key: input.key,
            says: input.says.to_owned(),
            range: input.range,
            unit: input.unit,
            weight: if 0.0 < all { weight / all } else { 0.0 },
            source: input.source.clone(),
            field: input.field,
        })
        .collect();
    guesses.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    guesses
}
