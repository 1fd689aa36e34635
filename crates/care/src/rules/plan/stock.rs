//! Frozen prey that fits: enough of it?

use crate::answer::Task;
use crate::draft::{Draft, undated};
use crate::lines;
use crate::rules::{Rule, prey};
use crate::view::{View, plural};

/// When to buy.
pub const RULE: Rule = Rule {
    key: "restock",
    says: "Buy when the frozen prey that fits lasts for fewer than three meals.",
    because: "A shop can be empty, a parcel late.",
    sources: &["restock_meals"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if view.case.freezer.is_empty() || view.is_dead() {
        return;
    }
    let Some(advice) = prey::advise(view, &mut Draft::new()) else { return };
    let fits = |class: records::facts::Prey, mass: Option<f64>| match (mass, advice.mass_g) {
        (Some(mass), Some((low, high))) => (0.8 * low..=1.2 * high).contains(&mass),
        _ => advice.classes.contains(&class),
    };
    let lots: Vec<_> = view.case.freezer.iter().filter(|lot| fits(lot.class, lot.mass_g)).collect();
    let left: u32 = lots.iter().map(|lot| lot.count).sum();
    let line = lines::low("restock_meals");
    if f64::from(left) < line.value {
        let why = format!(
            "{} of the prey that fits {} left in the freezer.",
            plural(f64::from(left), "item"),
            if left == 1 { "is" } else { "are" }
        );
        draft.due(Task::Restock, RULE.key, why, view.today(), None, lots.iter().map(|lot| undated(lot.key)).collect());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn three_meals_are_enough_and_two_are_not() {
        for (count, due) in [(3, false), (2, true), (0, true)] {
            let answer = answer(&format!(
                "at = \"2027-06-15T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[weighing]]\nat = \"2027-06-10\"\nmass_g = 450\n[[freezer]]\nclass = \"mouse-adult\"\ncount = {count}\nmass_g = 25\n"
            ));
            assert_eq!(answer.due(Task::Restock).is_some(), due, "{count} left");
        }
    }
}
