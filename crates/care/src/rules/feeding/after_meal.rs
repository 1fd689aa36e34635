//! A meal lies inside: left in peace.

use crate::answer::{Action, State};
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, grams, number};

/// Leave an animal in peace while a meal lies inside.
pub const RULE: Rule = Rule {
    key: "after-meal",
    says: "No handling and no lifting out for max(48 h, half the digestion time) after a meal, at least 72 h above 10 % of body mass.",
    because: "A meal that is carried about before it is broken down is often brought up.",
    sources: &["handling_after_meal", "handling_after_large_meal"],
    check,
};

/// From this share of body mass on a meal counts as large for the hold (design of the assessment, «After a meal»).
const LARGE_PCT: f64 = 10.0;

fn check(view: &View<'_>, draft: &mut Draft) {
    let Some(eaten) = view.meals.last_eaten().filter(|eaten| eaten.stayed) else { return };
    let Some(meal) = view.line.meals.get(eaten.index) else { return };
    let least_h = lines::low("handling_after_meal").value;
    let half_h = eaten.digestion_d.map_or(0.0, |days| days * 12.0);
    let is_large = eaten.share_pct.is_some_and(|share| LARGE_PCT < share);
    let large_h = if is_large { lines::low("handling_after_large_meal").value } else { 0.0 };
    let hold_h = least_h.max(half_h).max(large_h);
    let until = eaten.at.to.plus_hours(hold_h);
    let digested = eaten.digestion_d.map_or(until, |days| eaten.at.to.plus_days(days)).max(until);
    if digested <= view.now {
        return;
    }
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
    if eaten.mass_is_assumed && eaten.share_pct.is_some() {
        draft.assume("Prey without a recorded mass counts with the middle of its class.");
    }
    if view.warmth.cool_is_assumed && eaten.digestion_d.is_some() {
        draft.assume("The cool end was not measured: the usual difference of the profile stands for it.");
    }
    draft.state(State::Digesting, meal.at.from, Some(digested), why.clone());
    if view.now < until {
        for action in [Action::Handle, Action::Move] {
            draft.hold_until(action, Strength::AfterMeal, RULE.key, why.clone(), meal.at.from, until, vec![seen(meal)]);
        }
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
}
