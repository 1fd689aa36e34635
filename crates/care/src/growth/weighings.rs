//! Weighings that a course can be read from, and why others were left out.

use records::facts::{BreedingWhat, SignKind};
use units::Moment;

use crate::answer::Evidence;
use crate::draft::seen;
use crate::view::View;

/// A weighing of the course.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighed {
    /// When.
    pub at: Moment,
    /// Without what was still inside, in g.
    pub mass_g: f64,
    /// A meal was inside and was subtracted.
    pub has_a_meal_inside: bool,
    /// Eggs or young left her since the weighing before.
    pub after_eggs: bool,
}

/// Why a weighing was left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOut {
    /// It stands alone against those round it.
    StandsAlone,
    /// No animal of its kind can weigh that.
    CannotBe,
    /// A meal of unknown mass was inside.
    MealOfUnknownMass,
    /// It was a guess.
    Estimated,
    /// It is older than what the course is read from.
    Old,
}

impl LeftOut {
    /// In words, for more than one: «a meal of unknown mass was inside».
    pub fn says(self) -> &'static str {
        match self {
            LeftOut::StandsAlone => "it stands alone against those round it",
            LeftOut::CannotBe => "no animal of its kind can weigh that",
            LeftOut::MealOfUnknownMass => "a meal of unknown mass was inside",
            LeftOut::Estimated => "it was a guess",
            LeftOut::Old => "it is older than fourteen months",
        }
    }
}

/// The course of an animal's mass.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Weighings {
    /// Those that count, oldest first.
    pub list: Vec<Weighed>,
    /// Those that do not, with the reason.
    pub left_out: Vec<(Evidence, LeftOut)>,
}

impl Weighings {
    /// Of the last fourteen months ([`crate::mass::Masses`]), meals inside taken off.
    pub fn of(view: &View<'_>) -> Weighings {
        let mut course = Weighings::default();
        let eggs = eggs(view);
        let mut before: Option<Moment> = None;
        for one in &view.masses.list {
            let Some(entry) = view.line.weighings.get(one.index) else { continue };
            let Some(mass_g) = one.empty_g.filter(|mass| 0.0 < *mass) else {
                course.left_out.push((seen(entry), LeftOut::MealOfUnknownMass));
                continue;
            };
            let after_eggs = before.is_some_and(|before| eggs.iter().any(|at| before < *at && *at <= one.at));
            before = Some(one.at);
            course.list.push(Weighed { at: one.at, mass_g, has_a_meal_inside: !one.is_empty, after_eggs });
        }
        let first = view.masses.list.iter().map(|one| one.index).chain(view.masses.suspects.iter().copied()).min();
        for (index, entry) in view.line.weighings.iter().enumerate() {
            let why = if entry.estimated {
                LeftOut::Estimated
            } else if view.masses.suspects.contains(&index) {
                LeftOut::StandsAlone
            } else if first.is_none_or(|first| index < first) {
                LeftOut::Old
            } else {
                continue;
            };
            course.left_out.push((seen(entry), why));
        }
        let slips = view.slips.iter().flat_map(|slip| slip.records.iter().copied());
        course.left_out.extend(slips.map(|record| (record, LeftOut::CannotBe)));
        course
    }

    /// From the first to the last, in days.
    pub fn span_d(&self) -> f64 {
        self.list.first().zip(self.list.last()).map_or(0.0, |(first, last)| last.at.days_since(first.at))
    }

    /// The step in which the scale shows, in g, where all weighings are whole multiples of it.
    pub fn scale_step_g(&self, view: &View<'_>) -> Option<f64> {
        /// Fewer different masses may all be whole multiples by chance.
        const ENOUGH: usize = 3;
        const STEPS_G: [f64; 6] = [100.0, 50.0, 20.0, 10.0, 5.0, 2.0];
        let read: Vec<f64> = view.masses.list.iter().map(|one| one.mass_g).collect();
        let fits = |step: &f64| read.iter().all(|mass| (mass / step - (mass / step).round()).abs() < 1e-9);
        let mut different = read.clone();
        different.sort_by(f64::total_cmp);
        different.dedup();
        (ENOUGH <= different.len()).then(|| STEPS_G.into_iter().find(fits)).flatten()
    }
}

/// When eggs or young left her.
fn eggs(view: &View<'_>) -> Vec<Moment> {
    let bred = view.line.breedings.iter().filter(|one| matches!(one.what, BreedingWhat::Laid | BreedingWhat::Born));
    let signs = view.line.signs.iter().filter(|one| matches!(one.sign, SignKind::LaidEggs | SignKind::GaveBirth));
    bred.map(|one| one.at.from).chain(signs.map(|one| one.at.from)).collect()
}
