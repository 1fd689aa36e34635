//! Prey that has become small for the animal, and meals that do not feed it.

use crate::answer::{Code, Finding, Severity, Sure, Task};
use crate::digestion::Eaten;
use crate::draft::{Draft, Line, seen};
use crate::growth::Intake;
use crate::lines;
use crate::ration::{Fed, Needs};
use crate::rules::Rule;
use crate::rules::prey::needs_small_meals;
use crate::view::{View, days, grams, number};

/// The next size of prey.
pub const STEP_UP: Rule = Rule {
    key: "prey-step-up",
    says: "Where the last three meals lay under the least share of body mass for the stage, and were not more frequent for it, the next size is due; under half of it they are small.",
    because: "A growing animal outgrows its prey, and prey that is too small does not feed it.",
    sources: &["prey_small"],
    check: step_up,
};

/// Less than it needs.
pub const RATION_LOW: Rule = Rule {
    key: "ration-low",
    says: "Meals that bring far less than the least usual ration, nothing refused, and a young animal that does not grow or one that loses: it is fed too little; so is one that loses on less than holds its mass by the energy budget.",
    because: "Hunger shows in the course of the weights before it shows in the shape.",
    sources: &["ration_low", "growth_stands_still", "energy_factor", "ration_read_from"],
    check: ration_low,
};

/// So many meals show a habit.
const MEALS: usize = 3;

/// The last meals that stayed down, where the last of them is not long ago; oldest first.
fn last_meals<'v>(view: &'v View<'_>, count: usize) -> Option<Vec<&'v Eaten>> {
    let feeding = view.feeding()?;
    let stayed: Vec<&Eaten> = view.meals.eaten.iter().filter(|eaten| eaten.stayed).collect();
    let last = stayed.get(stayed.len().checked_sub(count)?..)?.to_vec();
    let newest = last.last()?;
    (view.days_since(newest.at) <= 2.0 * feeding.interval_d.high).then_some(last)
}

/// Prey per day over these meals, in % of body mass: what came after the first feeds until the day of the last.
fn ration_pct_d(meals: &[&Eaten]) -> Option<f64> {
    let (first, newest) = (meals.first()?, meals.last()?);
    let span_d = newest.at.from.days_since(first.at.from);
    let shares: Option<Vec<f64>> = meals.iter().skip(1).map(|eaten| eaten.share_pct).collect();
    (0.0 < span_d).then_some(shares?.iter().sum::<f64>() / span_d)
}

/// The least ration that is usual at its stage, in % of body mass a day.
fn least_pct_d(view: &View<'_>) -> Option<f64> {
    let feeding = view.feeding()?;
    Some(feeding.prey_pct.0 / feeding.interval_d.high)
}

fn step_up(view: &View<'_>, draft: &mut Draft) {
    if view.stage.is_none() || needs_small_meals(view) || draft.found(Code::RefeedGently).is_some() {
        return;
    }
    let (Some(feeding), Some(meals)) = (view.feeding(), last_meals(view, MEALS)) else { return };
    let shares: Option<Vec<f64>> =
        meals.iter().map(|eaten| eaten.share_pct.filter(|_| !eaten.mass_is_assumed)).collect();
    let Some(largest) = shares.and_then(|shares| shares.into_iter().max_by(f64::total_cmp)) else { return };
    let least = feeding.prey_pct.0;
    let often = ration_pct_d(&meals).zip(least_pct_d(view)).is_some_and(|(ration, least)| least <= ration);
    let Some(body_g) = view.masses.last().and_then(|last| last.empty_g) else { return };
    if least <= largest || (often && !view.is_adult()) || (often && view.is_adult() && least / 2.0 <= largest) {
        return;
    }
    let small = lines::low("prey_small");
    let is_small = largest < small.value * least;
    let records = || meals.iter().filter_map(|eaten| view.line.meals.get(eaten.index)).map(seen).collect::<Vec<_>>();
    let says = format!(
        "The last {MEALS} meals were {} % of its mass or less; {} to {} % is usual at its stage.",
        number(largest),
        number(least),
        number(feeding.prey_pct.1)
    );
    let (low, high) = (grams(body_g * least / 100.0), grams(body_g * feeding.prey_pct.1 / 100.0));
    let does = format!(
        "Take the next size, {low} to {high}, where its widest part allows it; several smaller items do as well."
    );
    let code = if is_small { Code::PreySmall } else { Code::PreyStepUp };
    let line = if is_small { small.with(small.value * least) } else { Line { value: least, source: small.source } };
    if !is_small {
        draft.due(Task::PreyStepUp, STEP_UP.key, says.clone(), view.today(), None, records());
    }
    let finding = Finding::new(code, Severity::Note, STEP_UP.key, says, does);
    draft.find(finding.on(records()).by(&line, "% of body mass").sure(Sure::Likely));
}

fn ration_low(view: &View<'_>, draft: &mut Draft) {
    if view.is_brumating() || needs_small_meals(view) || !view.meals.refusals.is_empty() || view.gravid().is_some() {
        return;
    }
    let Some(meals) = last_meals(view, MEALS + 1) else { return };
    let (Some(ration), Some(least)) = (ration_pct_d(&meals), least_pct_d(view)) else { return };
    let share = lines::low("ration_low");
    if share.value * least <= ration {
        under_need(view, draft);
        return;
    }
    let Some(course) = course(view) else { return };
    let says = format!(
        "Its last {} meals brought {} % of its mass a week; {} % or more is usual at its stage, and {course}.",
        meals.len(),
        number(7.0 * ration),
        number(7.0 * least)
    );
    let does = "Feed it at the usual gap with prey of the usual size, and weigh it every week; an animal is not kept small by hunger.";
    let records = meals.iter().filter_map(|eaten| view.line.meals.get(eaten.index)).map(seen);
    let line = share.with(7.0 * share.value * least);
    draft.find(
        Finding::new(Code::RationLow, Severity::Watch, RATION_LOW.key, says, does)
            .on(records)
            .by(&line, "% of body mass a week")
            .sure(Sure::Likely),
    );
}

/// Less than holds its mass, by the energy budget at the measured temperature, and a mass that falls.
fn under_need(view: &View<'_>, draft: &mut Draft) {
    let watch = lines::low("weight_loss_watch");
    let Some(loss) = view.masses.loss_pct.filter(|loss| watch.value <= *loss) else { return };
    let intake = Intake::of(view);
    let Some((fed, needs)) = Fed::of(view, &intake).zip(Needs::of(view, &intake).ok()) else { return };
    let hold = needs.maintenance();
    if needs.warmth_is_assumed || hold.low <= fed.g_week {
        return;
    }
    let says = format!(
        "It was fed {} g a week in the last {}; {} g ({} to {}) hold its mass, and it is {} % lighter.",
        number(fed.g_week),
        days(fed.days),
        number(hold.mid),
        number(hold.low),
        number(hold.high),
        number(loss)
    );
    let does = "Feed it at the usual gap with prey of the usual size, and weigh it every week; does it still lose, call a reptile veterinarian.";
    let meals = view.meals.eaten.iter().rev().filter(|eaten| eaten.stayed).take(fed.meals);
    let weighings = [view.masses.reference, view.masses.last().copied()].into_iter().flatten().map(|one| one.index);
    let records: Vec<_> = meals
        .filter_map(|eaten| view.line.meals.get(eaten.index))
        .map(seen)
        .chain(weighings.filter_map(|index| view.line.weighings.get(index)).map(seen))
        .collect();
    let line = Line { value: hold.low, source: lines::source("energy_factor") };
    draft.find(
        Finding::new(Code::RationLow, Severity::Watch, RATION_LOW.key, says, does)
            .on(records)
            .by(&line, "g a week")
            .sure(Sure::Likely),
    );
}

/// What the weights say of so small a ration; nothing where they hold, or where there is no course.
fn course(view: &View<'_>) -> Option<String> {
    let loss = view.masses.loss_pct.filter(|loss| lines::low("weight_loss_watch").value <= *loss);
    if let Some(loss) = loss {
        return Some(format!("it is {} % lighter", number(loss)));
    }
    if view.is_adult() || view.stage.is_none() {
        return None;
    }
    let (grows, over) = (lines::low("growth_stands_still"), lines::group("growth_stands_still", "over at least"));
    let last = view.masses.last()?;
    let before = view.masses.list.iter().rev().find(|one| over.value <= last.at.days_since(one.at))?;
    let gain = 100.0 * (last.empty_g? / before.empty_g? - 1.0);
    (gain < grows.value).then(|| format!("it has not grown in {}", days(last.at.days_since(before.at))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    /// A young corn snake of 80 g (10 to 15 % every 6 to 8 days), fed every `gap` days with `prey` g until yesterday.
    fn fed(stage: &str, gap: i64, prey: f64, masses: &[(&str, f64)]) -> crate::Answer {
        let mut text = format!("at = \"2027-06-15T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"{stage}\"\n");
        let last: jiff::civil::Date = "2027-06-14".parse().unwrap();
        for n in 0..5 {
            let day = last - jiff::Span::new().days(n * gap);
            text.push_str(&format!("[[meal]]\nat = \"{day}\"\nmass_g = {prey}\noutcome = \"taken\"\n"));
        }
        for (day, mass) in masses {
            text.push_str(&format!("[[weighing]]\nat = \"{day}\"\nmass_g = {mass}\n"));
        }
        answer(&text)
    }

    #[test]
    fn prey_under_the_least_share_is_the_last_of_its_size() {
        let weighed = [("2027-04-01", 80.0), ("2027-06-13", 80.0)];
        for (prey, code) in
            [(8.0, None), (7.0, Some(Code::PreyStepUp)), (4.1, Some(Code::PreyStepUp)), (3.9, Some(Code::PreySmall))]
        {
            let answer = fed("juvenile", 8, prey, &weighed);
            for one in [Code::PreyStepUp, Code::PreySmall] {
                assert_eq!(answer.finding(one).is_some(), Some(one) == code, "{prey} g");
            }
            assert_eq!(answer.due(Task::PreyStepUp).is_some(), code == Some(Code::PreyStepUp), "{prey} g");
        }
    }

    #[test]
    fn small_meals_that_come_often_feed_as_well() {
        let weighed = [("2027-04-01", 80.0), ("2027-06-13", 80.0)];
        assert!(fed("juvenile", 5, 6.5, &weighed).finding(Code::PreyStepUp).is_none());
    }

    #[test]
    fn a_young_one_that_eats_little_and_does_not_grow_is_fed_too_little() {
        for (masses, prey, told) in [
            ([("2027-04-01", 80.0), ("2027-06-13", 81.0)], 4.5, true),
            ([("2027-04-01", 80.0), ("2027-06-13", 83.0)], 4.5, false),
            ([("2027-04-01", 80.0), ("2027-06-13", 81.0)], 9.0, false),
        ] {
            let answer = fed("juvenile", 8, prey, &masses);
            assert_eq!(answer.finding(Code::RationLow).is_some(), told, "{masses:?} on {prey} g");
        }
    }

    #[test]
    fn a_grown_one_whose_mass_holds_has_enough() {
        let holds = [("2027-03-01", 500.0), ("2027-06-10", 498.0)];
        assert!(fed("adult", 20, 10.0, &holds).finding(Code::RationLow).is_none());
        let loses = [("2027-03-01", 530.0), ("2027-06-10", 498.0)];
        assert!(fed("adult", 20, 10.0, &loses).finding(Code::RationLow).is_some());
    }

    #[test]
    fn one_that_loses_on_less_than_holds_its_mass_is_fed_too_little() {
        // 4 to 7 % every 10 to 18 d: 500 g have 15 g every 14 d, 7.5 g a week, as little as the plan allows at its least;
        // at 29 °C 500 g hold on about 13 g a week
        let kept = |masses: (f64, f64), warm: &str| {
            let mut text = format!(
                "at = \"2027-06-15T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n\
                 [[weighing]]\nat = \"2027-02-20\"\nmass_g = {}\n[[weighing]]\nat = \"2027-06-13\"\nmass_g = {}\n{warm}",
                masses.0, masses.1
            );
            let last: jiff::civil::Date = "2027-06-04".parse().unwrap();
            for n in 0..8 {
                let day = last - jiff::Span::new().days(n * 14);
                text.push_str(&format!("[[meal]]\nat = \"{day}\"\nmass_g = 14\noutcome = \"taken\"\n"));
            }
            answer(&text).finding(Code::RationLow).map(|found| found.says.clone())
        };
        let warm = "[[reading]]\nat = \"2027-06-12\"\nspot = \"warm-air\"\ntemperature_c = 30\n[[reading]]\nat = \"2027-06-12\"\nspot = \"cool-air\"\ntemperature_c = 28\n";
        for (masses, warm, told) in
            [((540.0, 500.0), warm, true), ((505.0, 500.0), warm, false), ((540.0, 500.0), "", false)]
        {
            assert_eq!(kept(masses, warm).is_some(), told, "{masses:?} {warm}: {:?}", kept(masses, warm));
        }
    }
}
