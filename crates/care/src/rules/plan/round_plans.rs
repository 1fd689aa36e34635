//! The next meal round what is planned: before it or after it, not in it.

use records::facts::PlannedWhat;
use units::Moment;

use super::NextMeal;
use crate::lines;
use crate::rules::feeding::plan_hold;
use crate::view::View;

/// A time in which a plan stands against a meal.
#[derive(Clone, Copy)]
struct Window {
    from: Moment,
    until: Moment,
}

/// All of them that are not over, in order.
fn windows(view: &View<'_>) -> Vec<Window> {
    let rests = view.profile.brumation.relevance != "none";
    let (before, after) = (lines::low("brumation_empty_before").value, lines::low("brum_first_meal").value);
    let of_plan = |plan| {
        let (from, until, _) = plan_hold(view, plan)?;
        Some(Window { from, until })
    };
    let planned = view.line.planned.iter();
    let mut all: Vec<Window> = planned
        .filter_map(|plan| match plan.what {
            PlannedWhat::Brumation if rests => {
                Some(Window { from: plan.from.from.plus_days(-before), until: plan.ends().plus_days(after) })
            }
            _ => of_plan(plan),
        })
        .filter(|window| view.now < window.until && window.from < window.until)
        .collect();
    all.sort_by_key(|window| (window.from, window.until));
    all
}

/// Moves a meal that would fall into what is planned: behind it, or, where that is later than the interval of its
/// stage, to the day before it, but no earlier than `floor`.
pub(super) fn fit(view: &View<'_>, next: &mut NextMeal, floor: Moment) {
    let all = windows(view);
    for window in &all {
        if next.from < window.from || window.until <= next.from {
            continue;
        }
        let day_before = view.day_of(window.from.plus_days(-1.0));
        let free = |day: Moment| !all.iter().any(|other| other.from <= day && day < other.until);
        if next.by < window.until && floor.max(view.today()) <= day_before && free(day_before) {
            next.from = day_before;
            next.by = window.from;
            next.why.push_str(" Brought forward: what is planned stands against it later.");
            return;
        }
        next.from = window.until;
        next.by = next.by.max(next.from);
        next.why.push_str(" Moved behind what is planned.");
    }
    // What is due is due before the next plan begins to stand against it.
    if let Some(first) = all.iter().map(|window| window.from).find(|from| next.from < *from) {
        next.by = next.by.min(first).max(next.from);
    }
}

#[cfg(test)]
mod tests {
    use crate::answer::Task;
    use crate::testing::{answer, moment};

    /// A grown corn snake (10 to 18 d, 14 in the middle) that ate on 1 May 2027: when is the next meal, and by when?
    fn next(at: &str, plans: &[(&str, &str, &str)]) -> (String, String) {
        let plans: String = plans
            .iter()
            .map(|(what, from, until)| {
                format!("[[planned]]\nwhat = \"{what}\"\nfrom = \"{from}\"\nuntil = \"{until}\"\n")
            })
            .collect();
        let answer = answer(&format!(
            "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[meal]]\nat = \"2027-05-01\"\noutcome = \"taken\"\n{plans}"
        ));
        let meal = answer.due.iter().chain(&answer.ahead).find(|one| one.task == Task::OfferMeal).unwrap();
        (answer.zone.write(meal.from), answer.zone.write(meal.by.unwrap()))
    }

    #[test]
    fn a_short_plan_puts_the_meal_behind_it() {
        // middle on the 15th, high end on the 19th, a visit that holds a meal from the 14th to the 17th
        let visit = [("visit", "2027-05-16", "2027-05-16")];
        assert_eq!(next("2027-05-10T12:00", &visit).0, "2027-05-17T00:00");
    }

    #[test]
    fn a_long_absence_brings_it_forward_to_the_day_before() {
        let away = [("keeper-away", "2027-05-16", "2027-06-10")];
        assert_eq!(next("2027-05-10T12:00", &away), ("2027-05-13T00:00".to_owned(), "2027-05-14T00:00".to_owned()));
    }

    #[test]
    fn but_no_earlier_than_the_low_end_of_the_interval() {
        // a journey holds from the 8th; the low end is the 11th
        let journey = [("transport", "2027-05-13", "2027-05-30")];
        assert_eq!(next("2027-05-04T12:00", &journey).0, "2027-06-05T00:00");
    }

    #[test]
    fn two_plans_in_a_row_are_both_waited_for() {
        let plans = [("visit", "2027-05-16", "2027-05-16"), ("show", "2027-05-18", "2027-05-18")];
        assert_eq!(next("2027-05-10T12:00", &plans).0, "2027-05-19T00:00");
    }

    #[test]
    fn what_is_due_is_due_before_the_next_plan() {
        let visit = [("visit", "2027-05-18", "2027-05-18")];
        let (from, by) = next("2027-05-15T12:00", &visit);
        assert_eq!((moment(&from), moment(&by)), (moment("2027-05-15T00:00"), moment("2027-05-16T00:00")));
    }
}
