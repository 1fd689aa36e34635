//! What others of its species weighed at its age.

use records::facts::Sex;
use units::{Moment, When};

use crate::answer::SourceRef;
use crate::lines;
use crate::view::View;

/// Another animal of the same species in the household.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Relative {
    /// What it is called.
    pub name: Option<String>,
    /// When it hatched.
    pub hatched: Option<When>,
    /// Its sex.
    pub sex: Option<Sex>,
    /// When it was weighed, and what it weighed in g, oldest first.
    pub weighed: Vec<(Moment, f64)>,
    /// When it was measured, and its total length in cm, oldest first.
    pub measured: Vec<(Moment, f64)>,
}

/// The others of its species in the household.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kin(pub Vec<Relative>);

/// Masses of others at an age.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Who they are.
    pub who: String,
    /// At which age, in days.
    pub age_d: f64,
    /// How many.
    pub animals: usize,
    /// The lightest and the heaviest, in g.
    pub between_g: (f64, f64),
    /// Where it comes from.
    pub source: SourceRef,
    /// What should be known about it.
    pub note: Option<String>,
}

impl Relative {
    /// What it weighed at an age in days: on a straight line of the logarithm between two weighings.
    fn at_age(&self, age_d: f64, until: Moment) -> Option<f64> {
        let at = self.hatched?.middle().plus_days(age_d);
        let longest = lines::low("mass_at_age_between").value;
        let known = self.weighed.iter().take_while(|(when, _)| *when <= until);
        let (mut before, mut after) = (None, None);
        for one in known {
            if one.0 <= at {
                before = Some(one);
            } else if after.is_none() {
                after = Some(one);
            }
        }
        let (before, after) = (before?, after?);
        let span = after.0.days_since(before.0);
        if longest < span {
            return None;
        }
        let share = at.days_since(before.0) / span;
        Some((before.1.ln() * (1.0 - share) + after.1.ln() * share).exp())
    }

    /// Its last length with the mass that belongs to it: (mass g, length cm).
    fn body(&self, until: Moment) -> Option<(f64, f64)> {
        let together = lines::low("length_and_mass_together").value;
        let (at, length) = self.measured.iter().rev().find(|(at, _)| *at <= until)?;
        let near = |when: &Moment| when.days_since(*at).abs();
        let known = self.weighed.iter().filter(|(when, _)| *when <= until && near(when) <= together);
        let (_, mass) = known.min_by(|a, b| near(&a.0).total_cmp(&near(&b.0)))?;
        Some((*mass, *length))
    }
}

impl Kin {
    /// Masses in g and total lengths in cm of those that were weighed and measured together.
    pub fn bodies(&self, until: Moment) -> Vec<(f64, f64)> {
        self.0.iter().filter_map(|one| one.body(until)).collect()
    }

    /// What siblings and other animals of the house weighed at the animal's age.
    pub fn bands(&self, view: &View<'_>) -> Vec<Band> {
        let Some(hatched) = view.case.animal.hatched else { return Vec::new() };
        let age_d = view.now.days_since(hatched.middle());
        let near = lines::low("siblings_hatched").value;
        let (mut siblings, mut others) = (Vec::new(), Vec::new());
        for one in &self.0 {
            let Some(born) = one.hatched else { continue };
            let is_sibling = hatched.precision == units::Precision::Day
                && born.precision == units::Precision::Day
                && born.middle().days_since(hatched.middle()).abs() <= near;
            // A sibling has no weighing after today's age: its last one stands for it.
            let last = || one.weighed.iter().rev().find(|(at, _)| *at <= view.now && view.now.days_since(*at) <= 30.0);
            let mass = one.at_age(age_d, view.now).or_else(|| last().filter(|_| is_sibling).map(|(_, mass)| *mass));
            let Some(mass) = mass else { continue };
            if is_sibling { siblings.push(mass) } else { others.push(mass) }
        }
        let band = |who: &str, masses: Vec<f64>| {
            let low = masses.iter().copied().fold(f64::INFINITY, f64::min);
            let high = masses.iter().copied().fold(0.0, f64::max);
            (!masses.is_empty()).then(|| Band {
                who: who.to_owned(),
                age_d,
                animals: masses.len(),
                between_g: (low, high),
                source: SourceRef { key: "household".into(), status: species::Status::Household },
                note: None,
            })
        };
        let found = [
            band("its siblings: hatched within days of it", siblings),
            band("others of its species in the house, at its age", others),
        ];
        found.into_iter().flatten().collect()
    }
}

/// What is published of its species near its age: the nearest age, no further off than a fifth.
pub fn published(view: &View<'_>) -> Option<Band> {
    const NEAR: f64 = 0.2;
    let age_d = view.age?.middle();
    let rule = lines::rule("size_at_age")?;
    let off = |of: f64| (of / age_d).ln().abs();
    let mut near: Vec<Band> = Vec::new();
    for group in &rule.groups {
        let Some((species, _)) = group.group.split_once(',').filter(|(species, _)| *species == view.profile.key) else {
            continue;
        };
        let numbers = group.numbers.get("age_d").zip(group.numbers.get("animals"));
        let Some(((at, animals), figure)) = numbers.zip(group.figure.as_ref()) else { continue };
        if off(*at) <= (1.0 + NEAR).ln() {
            near.push(Band {
                who: format!("published: {}", species.replace('_', " ")),
                age_d: *at,
                animals: *animals as usize,
                between_g: (figure.low, figure.high),
                source: SourceRef::of(figure),
                note: figure.note.clone(),
            });
        }
    }
    near.into_iter().min_by(|a, b| off(a.age_d).total_cmp(&off(b.age_d)))
}
