//! When there is no forecast, and why.

use records::facts::{Outcome, Stage};

use super::weighings::Weighings;
use crate::answer::Missing;
use crate::lines;
use crate::view::View;

/// Why there is no forecast of its mass.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// It is dead by the records.
    Dead,
    /// It rests for the winter: it loses little, and by its own measure.
    WinterRest,
    /// She carries eggs or young: her mass says nothing of her own body.
    Gravid,
    /// A hatchling that has not eaten yet lives on its yolk.
    NotEatingYet,
    /// Fewer than two weighings, or all of them within days.
    FewWeighings,
    /// The last weighing is too long ago.
    OldWeighing,
    /// The scale shows in steps that are coarse beside the animal.
    CoarseScale,
}

impl Refusal {
    /// Looks whether a forecast would be honest.
    pub(super) fn check(view: &View<'_>, weighings: &Weighings) -> Result<(), Refusal> {
        if view.is_dead() {
            return Err(Refusal::Dead);
        }
        if view.is_brumating() {
            return Err(Refusal::WinterRest);
        }
        if view.gravid().is_some() {
            return Err(Refusal::Gravid);
        }
        let offered = view.line.meals.iter().any(|meal| matches!(meal.outcome, Outcome::Refused | Outcome::Left));
        if view.stage == Some(Stage::Hatchling) && offered && view.meals.last_taken.is_none() {
            return Err(Refusal::NotEatingYet);
        }
        let Some(last) = weighings.list.last() else { return Err(Refusal::FewWeighings) };
        if weighings.list.len() < 2 || weighings.span_d() < lines::low("growth_needs").value {
            return Err(Refusal::FewWeighings);
        }
        if lines::high("growth_needs").value < view.now.days_since(last.at) {
            return Err(Refusal::OldWeighing);
        }
        let coarse = lines::low("growth_scale_step").value / 100.0 * last.mass_g;
        if weighings.scale_step_g(view).is_some_and(|step| coarse < step) {
            return Err(Refusal::CoarseScale);
        }
        Ok(())
    }

    /// In a sentence.
    pub fn says(self) -> &'static str {
        match self {
            Refusal::Dead => "It is dead by the records.",
            Refusal::WinterRest => "It rests for the winter: what it loses goes by its own earlier rests.",
            Refusal::Gravid => "She carries eggs or young: her mass says nothing of her own body.",
            Refusal::NotEatingYet => "It has not eaten yet and lives on its yolk: no course can be read from its mass.",
            Refusal::FewWeighings => {
                "There are too few weighings: two of them at least two weeks apart, within fourteen months, are needed."
            }
            Refusal::OldWeighing => "The last weighing is more than half a year ago.",
            Refusal::CoarseScale => {
                "The scale shows in steps that are coarse beside its mass: weigh it on a finer one."
            }
        }
    }

    /// What would be needed.
    pub fn needs(self) -> Option<Missing> {
        match self {
            Refusal::FewWeighings => Some(Missing::MassHistory),
            Refusal::OldWeighing | Refusal::CoarseScale => Some(Missing::Mass),
            Refusal::Dead | Refusal::WinterRest | Refusal::Gravid | Refusal::NotEatingYet => None,
        }
    }
}
