//! A meal lies inside: left in peace.

use crate::answer::{Action, State};
use crate::digestion::Eaten;
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::handling::peace_h;
use crate::view::{View, grams, number};

/// Leave an animal in peace while a meal lies inside.
pub const RULE: Rule = Rule {
    key: "after-meal",
    says: "No handling and no lifting out for max(48 h, half the digestion time) after a meal, at least 72 h above 10 % of body mass.",
    because: "A meal that is carried about before it is broken down is often brought up.",
    sources: &["handling_after_meal", "handling_after_large_meal"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    may_lie_inside(view, draft);
    let stayed = || view.meals.eaten.iter().rev().filter(|eaten| eaten.stayed);
    let free = |eaten: &Eaten| eaten.at.to.plus_hours(peace_h(eaten));
    let digested =
        |eaten: &Eaten| eaten.digestion_d.map_or(free(eaten), |days| eaten.at.to.plus_days(days)).max(free(eaten));
    // A large meal may lie inside for longer than a small one that came after it.
    if let Some(eaten) = stayed().max_by_key(|eaten| digested(eaten)).filter(|eaten| view.now < digested(eaten)) {
        let since = view.line.meals.get(eaten.index).map_or(eaten.at.from, |meal| meal.at.from);
        draft.state(State::Digesting, since, Some(digested(eaten)), why(view, eaten));
        if eaten.mass_is_assumed && eaten.share_pct.is_some() {
            draft.assume("Prey without a recorded mass counts with the middle of its class.");
        }
        if view.warmth.cool_is_assumed && eaten.digestion_d.is_some() {
            draft.assume("The cool end was not measured: the usual difference of the profile stands for it.");
        }
    }
    let Some(eaten) = stayed().max_by_key(|eaten| free(eaten)).filter(|eaten| view.now < free(eaten)) else { return };
    let Some(meal) = view.line.meals.get(eaten.index) else { return };
    for action in [Action::Handle, Action::Move] {
        let why = why(view, eaten);
        draft.hold_until(action, Strength::AfterMeal, RULE.key, why, meal.at.from, free(eaten), vec![seen(meal)]);
    }
}

fn why(view: &View<'_>, eaten: &Eaten) -> String {
    let what = match (eaten.mass_g, eaten.share_pct) {
        (Some(mass), Some(share)) => format!("{}, {} % of its mass", grams(mass), number(share)),
        (Some(mass), None) => grams(mass),
        _ => "a meal".to_owned(),
    };
    let mut why = format!("It ate {what} on {}", view.date_of(eaten.at));
    match eaten.digestion_d {
        Some(days) => why.push_str(&format!("; digesting that takes about {} days at its temperatures.", number(days))),
        None => why.push('.'),
    }
    why
}

/// Prey is gone that nobody saw eaten: it does not count as a meal, but it may lie inside.
fn may_lie_inside(view: &View<'_>, draft: &mut Draft) {
    let last = view.meals.unconfirmed.last().and_then(|index| view.line.meals.get(*index));
    let Some(offer) = last else { return };
    let until = offer.at.to.plus_hours(lines::low("handling_after_meal").value);
    if until <= view.now {
        return;
    }
    for action in [Action::Handle, Action::Move] {
        let why = format!(
            "The prey of {} is gone and may lie inside: in peace until that is settled.",
            view.date_of(offer.at)
        );
        draft.hold_until(action, Strength::AfterMeal, RULE.key, why, offer.at.from, until, vec![seen(offer)]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};

    fn fed(pct: f64, warm_c: f64, cool_c: f64, at: &str) -> crate::Answer {
        let mass = 10.0 * pct;
        answer(&format!(
            "at = \"{at}\"\n[animal]\nspecies = \"ball_python\"\n[[weighing]]\nat = \"2027-01-20\"\nmass_g = 1000\n\
             [[meal]]\nat = \"2027-02-01T20:00\"\nmass_g = {mass}\noutcome = \"taken\"\n\
             [[reading]]\nat = \"2027-02-01T15:00\"\nspot = \"warm-air\"\ntemperature_c = {warm_c}\n\
             [[reading]]\nat = \"2027-02-01T15:00\"\nspot = \"cool-air\"\ntemperature_c = {cool_c}\n"
        ))
    }

    #[test]
    fn the_hold_is_the_longer_of_two_days_and_half_the_digestion() {
        // meal %, warm, cool: body = cool + 0.8 x (warm - cool); digestion by E3; hold in hours
        for (pct, warm, cool, hours) in
            [(6.0, 31.0, 26.0, 48.0), (11.0, 31.0, 26.0, 72.0), (20.0, 29.0, 24.0, 86.3), (25.0, 31.0, 26.0, 84.0)]
        {
            let held = fed(pct, warm, cool, "2027-02-02T09:00");
            let until = held.hold(Action::Handle).unwrap().until.unwrap();
            let got = until.hours_since(moment("2027-02-01T20:00"));
            assert!((got - hours).abs() < 0.5, "{pct} % at {warm}/{cool} °C: held {got:.1} h, expected {hours} h");
            assert_eq!(held.hold(Action::Move).unwrap().until, Some(until), "nor lifted out for cleaning");
        }
    }

    #[test]
    fn the_hold_ends_on_its_minute() {
        for (at, held) in [("2027-02-03T19:59", true), ("2027-02-03T20:00", false)] {
            let answer = fed(6.0, 31.0, 26.0, at);
            assert_eq!(
                answer.hold(Action::Handle).is_some_and(|hold| hold.because.iter().any(|one| one.rule == RULE.key)),
                held,
                "{at}"
            );
        }
    }

    #[test]
    fn without_mass_or_temperature_it_is_two_days() {
        let answer = answer(
            "at = \"2027-02-02T09:00\"\n[animal]\nspecies = \"ball_python\"\n[[meal]]\nat = \"2027-02-01T20:00\"\noutcome = \"taken\"\n",
        );
        assert_eq!(answer.hold(Action::Handle).unwrap().until, Some(moment("2027-02-03T20:00")));
    }

    #[test]
    fn a_day_without_an_hour_runs_to_its_end() {
        let answer = answer(
            "at = \"2027-02-02T09:00\"\n[animal]\nspecies = \"ball_python\"\n[[meal]]\nat = \"2027-02-01\"\noutcome = \"taken\"\n",
        );
        assert_eq!(answer.hold(Action::Handle).unwrap().until, Some(moment("2027-02-04T00:00")));
    }

    #[test]
    fn a_large_meal_counts_although_a_small_one_came_after_it() {
        let meals = "[[weighing]]\nat = \"2027-01-20\"\nmass_g = 1000\n[[meal]]\nat = \"2027-02-01T20:00\"\nmass_g = 140\noutcome = \"taken\"\n\
                     [[meal]]\nat = \"2027-02-02T08:00\"\nmass_g = 10\noutcome = \"taken\"\n";
        let answer = answer(&format!("at = \"2027-02-02T20:00\"\n[animal]\nspecies = \"ball_python\"\n{meals}"));
        assert_eq!(
            answer.hold(Action::Handle).unwrap().until,
            Some(moment("2027-02-04T20:00")),
            "three days after 14 %"
        );
    }

    #[test]
    fn prey_that_is_gone_may_lie_inside() {
        for (at, held) in [("2027-02-03T19:59", true), ("2027-02-03T20:00", false)] {
            let answer = answer(&format!(
                "at = \"{at}\"\n[animal]\nspecies = \"ball_python\"\n[[meal]]\nat = \"2027-02-01T20:00\"\noutcome = \"unseen\"\n"
            ));
            assert_eq!(answer.hold(Action::Handle).is_some(), held, "{at}");
            assert!(!answer.is_in(State::Digesting), "nobody knows");
        }
    }
}
