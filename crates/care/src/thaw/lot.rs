//! Prey of one kind for one evening.

use std::sync::LazyLock;

use records::facts::Prey;
use science::physics::prey::{Composition, Food};

use crate::answer::SourceRef;
use crate::lines;
use crate::rules::prey;
use crate::view::grams;
use crate::what_if::Range;

/// Prey of one kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Lot {
    /// Its class, where it is told.
    pub class: Option<Prey>,
    /// Mass of one item, g: exact where it was weighed, else what the trade sells as this class.
    pub mass_g: Range,
    /// How many items.
    pub count: u32,
    /// Thickest place of one item, cm, where it was measured.
    pub thickest_cm: Option<f64>,
}

impl Lot {
    /// So many of a class, with the masses of the trade. `None` for a class that is sold in any size: fish, worms.
    pub fn of_class(class: Prey, count: u32) -> Option<Lot> {
        let (mass_g, _) = class_mass_g(class)?;
        Some(Lot { class: Some(class), mass_g, count, thickest_cm: None })
    }

    /// Mass of all items, g.
    pub fn total_g(&self) -> f64 {
        self.mass_g.mid * f64::from(self.count)
    }

    /// «2 adult mice», «1 item of 85 g», «2 small rats of 85 g».
    pub fn says(&self) -> String {
        let count = self.count;
        let weighed = self.mass_g.low == self.mass_g.high;
        match self.class.map(prey::names) {
            Some((one, many)) => {
                let mass = if weighed { format!(" of {}", grams(self.mass_g.mid)) } else { String::new() };
                format!("{count} {}{mass}", if count == 1 { one } else { many })
            }
            None => format!("{count} {} of {}", if count == 1 { "item" } else { "items" }, grams(self.mass_g.mid)),
        }
    }

    /// What it is made of.
    pub(super) fn food(&self) -> Option<&'static Food> {
        static FOODS: LazyLock<[Option<Food>; 4]> = LazyLock::new(|| {
            [Composition::ADULT_RODENT, Composition::PINKY, Composition::CHICK, Composition::LEAN_MEAT]
                .map(|composition| Food::new(composition, Food::USUAL_DENSITY_KG_M3))
        });
        let [rodent, pup, bird, lean] = &*FOODS;
        match self.build() {
            Build::Rodent => rodent,
            Build::Pup => pup,
            Build::Bird => bird,
            Build::Fish | Build::Worm | Build::Lizard => lean,
        }
        .as_ref()
    }

    /// Length as a multiple of thickness, and where that comes from.
    pub(super) fn elongation(&self) -> (Range, SourceRef) {
        const RULE: &str = "thaw_shape";
        let group = match self.build() {
            Build::Rodent => return taken(RULE),
            Build::Pup => "pups",
            Build::Bird => "birds",
            Build::Fish => "fish",
            Build::Worm => "worms",
            Build::Lizard => "lizards",
        };
        group_taken(RULE, group)
    }

    fn build(&self) -> Build {
        match self.class {
            Some(Prey::MousePinky | Prey::MouseFuzzy | Prey::RatPinky | Prey::RatFuzzy | Prey::RatPup) => Build::Pup,
            Some(Prey::Chick | Prey::QuailDayOld | Prey::QuailJuvenile | Prey::QuailAdult) => Build::Bird,
            Some(Prey::Fish) => Build::Fish,
            Some(Prey::Earthworm) => Build::Worm,
            Some(Prey::Lizard) => Build::Lizard,
            Some(_) => Build::Rodent,
            // What is lighter than a hopper is a pup.
            None if class_mass_g(Prey::MouseHopper).is_some_and(|(mass, _)| self.mass_g.mid < mass.low) => Build::Pup,
            None => Build::Rodent,
        }
    }
}

enum Build {
    Rodent,
    Pup,
    Bird,
    Fish,
    Worm,
    Lizard,
}

/// Masses that the trade sells as a class, g; `None` where it sells any.
pub(super) fn class_mass_g(class: Prey) -> Option<(Range, SourceRef)> {
    use records::choice::Choice;
    let found = species::library().prey.iter().find(|one| one.key == class.key())?;
    let figure = found.mass_g.as_ref()?;
    Some((Range { low: figure.low, mid: figure.middle(), high: figure.high }, SourceRef::of(figure)))
}

/// The range of a general rule, and where it comes from.
pub(super) fn taken(rule: &str) -> (Range, SourceRef) {
    let mid = lines::rule(rule).and_then(|rule| rule.figure.as_ref()).map_or(f64::NAN, species::Figure::middle);
    (Range { low: lines::low(rule).value, mid, high: lines::high(rule).value }, lines::source(rule))
}

/// The range of a group of a general rule, and where it comes from.
pub(super) fn group_taken(rule: &str, group: &str) -> (Range, SourceRef) {
    let figure = lines::rule(rule).and_then(|rule| rule.group(group)).and_then(|group| group.figure.as_ref());
    let mid = figure.map_or(f64::NAN, species::Figure::middle);
    (
        Range { low: lines::group(rule, group).value, mid, high: lines::group_high(rule, group).value },
        lines::source(rule),
    )
}
