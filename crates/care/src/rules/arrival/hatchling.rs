//! Too young to be taken out.

use super::is_gone;
use crate::answer::Action;
use crate::draft::{Draft, Strength, undated};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, number, plural};

/// Leave the very young in peace.
pub const RULE: Rule = Rule {
    key: "young-in-peace",
    says: "A hatchling is not handled before it has shed once and taken three meals; a green tree python not in its first year.",
    because: "The very young take fright easily and then refuse to eat, and the tail of a young green tree python kinks.",
    sources: &["handling_never", "arrival_handling_after_meals", "first_year_unhandled"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let key = undated(view.case.animal.key);
    let first_year = lines::group("first_year_unhandled", &view.profile.scientific_name);
    if let Some(age) = view.age.filter(|age| age.low < first_year.value) {
        let until = view.now.plus_days(first_year.value - age.low);
        let why =
            format!("Its kind is not handled in the first {} days: the tail kinks easily.", number(first_year.value));
        draft.hold_until(
            Action::Handle,
            Strength::Plan,
            RULE.key,
            why,
            view.now.plus_days(-age.high),
            view.day_of(until),
            vec![key],
        );
        return;
    }
    if !view.is_hatchling() {
        return;
    }
    let wanted = lines::high("arrival_handling_after_meals").value;
    let taken = view.meals.eaten.iter().filter(|meal| meal.stayed).count() as f64;
    if wanted <= taken {
        return;
    }
    let from = view.age.map_or(view.now, |age| view.now.plus_days(-age.high));
    let shed = view.line.sheds.iter().any(|shed| shed.shed_at.is_some());
    let so_far = format!("{}, {}", if shed { "one shed" } else { "no shed" }, plural(taken, "meal"));
    let why = format!(
        "A hatchling is left in peace until it has shed once and taken {} meals; on record: {so_far}.",
        number(wanted)
    );
    draft.hold_open(
        Action::Handle,
        Strength::Plan,
        RULE.key,
        why,
        from,
        "it has shed once and taken three meals",
        vec![key],
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn held(answer: &crate::Answer) -> bool {
        answer.hold(Action::Handle).is_some_and(|hold| hold.because.iter().any(|one| one.rule == RULE.key))
    }

    #[test]
    fn three_meals_kept_down_free_a_hatchling() {
        for (taken, free) in [(0, false), (2, false), (3, true), (4, true)] {
            let meals: String = (0..taken)
                .map(|i| format!("[[meal]]\nat = \"2027-09-{:02}\"\noutcome = \"taken\"\n", 2 + 5 * i))
                .collect();
            let answer = answer(&format!(
                "at = \"2027-09-29T09:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"hatchling\"\n{meals}"
            ));
            assert_eq!(held(&answer), !free, "{taken} meals");
        }
    }

    #[test]
    fn an_older_one_is_not_held_by_it() {
        let answer = answer("at = \"2027-09-29T09:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"juvenile\"\n");
        assert!(!held(&answer));
    }

    #[test]
    fn a_green_tree_python_is_left_alone_for_its_first_year() {
        for (species, at, is_held) in [
            ("Morelia viridis", "2028-05-01T09:00", true),
            ("Morelia viridis", "2028-06-12T09:00", false),
            ("ball_python", "2028-05-01T09:00", false),
        ] {
            let answer =
                answer(&format!("at = \"{at}\"\n[animal]\nspecies = \"{species}\"\nhatched = \"2027-06-10\"\n"));
            assert_eq!(held(&answer), is_held, "{species} at {at}");
        }
    }
}
