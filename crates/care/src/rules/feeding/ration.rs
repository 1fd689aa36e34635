//! More or fewer meals than the stage bears.

use records::facts::Sex;

use crate::answer::{Code, Finding, Missing, Severity, Sure};
use crate::draft::{Draft, Line, seen};
use crate::growth::Intake;
use crate::lines;
use crate::ration::{Fed, Needs};
use crate::rules::Rule;
use crate::view::{View, days, number};

/// How often it eats against the interval of its stage.
pub const RULE: Rule = Rule {
    key: "ration",
    says: "Many full meals at far less than the least interval of the stage are too many; so is a ration beyond what holds the mass of a grown animal that has its adult mass and gains on it.",
    because: "Adults that are fed like young ones grow fat inside long before it shows.",
    sources: &["ration_high", "ration_gains", "ration_most_adult", "ration_read_from", "energy_factor"],
    check,
};

/// So many meals show a habit.
const MEALS: usize = 6;

fn check(view: &View<'_>, draft: &mut Draft) {
    if !view.is_adult() {
        return;
    }
    too_often(view, draft);
    if draft.found(Code::RationHigh).is_none() && draft.found(Code::RefeedGently).is_none() {
        beyond_need(view, draft);
    }
}

/// More than holds its mass, by the energy budget at the measured temperature, and a mass that rises.
fn beyond_need(view: &View<'_>, draft: &mut Draft) {
    // What costs nothing to see comes first.
    let Some(last) = view.masses.last() else { return };
    let span = lines::low("ration_read_from");
    let before = view.masses.list.iter().rev().find(|one| span.value <= last.at.days_since(one.at));
    let Some((now_g, then_g)) = last.empty_g.zip(before.and_then(|one| one.empty_g)) else { return };
    let intake = Intake::of(view);
    let Some(fed) = Fed::of(view, &intake) else { return };
    let (share, most, gains) =
        (100.0 * fed.g_week / now_g, lines::low("ration_most_adult"), lines::low("ration_gains"));
    let gain_pct = 100.0 * (now_g / then_g - 1.0);
    let is_full_grown = full_grown_g(view).is_some_and(|grown| grown <= now_g);
    let too_much = most.value <= share;
    if !too_much && (gain_pct < gains.value || !is_full_grown) {
        return;
    }
    let Ok(needs) = Needs::of(view, &intake) else { return };
    let hold = needs.maintenance();
    if !too_much && (needs.warmth_is_assumed || fed.g_week <= hold.high) {
        return;
    }
    let says = format!(
        "It was fed {:.0} g a week in the last {}, {} % of its mass; {:.0} g ({:.0} to {:.0}) hold it, and it is {} % heavier than before.",
        fed.g_week,
        days(fed.days),
        number(share),
        hold.mid,
        hold.low,
        hold.high,
        number(gain_pct)
    );
    let does = "Look at its shape, and lengthen the gap or take smaller prey, step by step.";
    draft.need(Missing::Length, 60.0);
    let meals = view.meals.eaten.iter().rev().filter(|eaten| eaten.stayed).take(fed.meals);
    let weighings = [last.index].into_iter().chain(before.map(|one| one.index));
    let records: Vec<_> = meals
        .filter_map(|eaten| view.line.meals.get(eaten.index))
        .map(seen)
        .chain(weighings.filter_map(|index| view.line.weighings.get(index)).map(seen))
        .collect();
    let (line, unit) =
        if too_much { (most, "% of body mass a week") } else { (gains.with(hold.high.round()), "g a week") };
    draft.find(
        Finding::new(Code::RationHigh, Severity::Watch, RULE.key, says, does)
            .on(records)
            .by(&line, unit)
            .sure(Sure::Possible),
    );
}

/// From this mass on a grown animal of its kind and sex has its adult mass, in g.
fn full_grown_g(view: &View<'_>) -> Option<f64> {
    let size = &view.profile.size;
    let own = match view.sex() {
        Some(Sex::Female) => size.adult_mass_g_female.first(),
        Some(Sex::Male) => size.adult_mass_g_male.first(),
        _ => None,
    };
    let either = || size.adult_mass_g_female.first().or_else(|| size.adult_mass_g_any.first());
    own.or_else(either).map(|figure| figure.low)
}

/// Full meals far more often than the stage bears.
fn too_often(view: &View<'_>, draft: &mut Draft) {
    let Some(feeding) = view.feeding() else { return };
    let eaten = &view.meals.eaten;
    let Some(last) = eaten.get(eaten.len().saturating_sub(MEALS + 1)..).filter(|last| MEALS <= last.len()) else {
        return;
    };
    let (Some(first), Some(newest)) = (last.first(), last.last()) else { return };
    if 30.0 < view.days_since(newest.at) {
        return;
    }
    let gap_d = newest.at.from.days_since(first.at.from) / (last.len() - 1) as f64;
    let share = lines::low("ration_high");
    let line = Line::low(&feeding.interval_d).with(feeding.interval_d.low * share.value);
    // Small meals may come often: only full ones count, where their share of the body is known.
    let full = last.iter().filter_map(|meal| meal.share_pct).collect::<Vec<_>>();
    let mean_share = full.iter().sum::<f64>() / full.len().max(1) as f64;
    let small = !full.is_empty() && mean_share < feeding.prey_pct.0;
    if line.value <= gap_d || small {
        return;
    }
    let says = format!(
        "The last {} meals came every {} d; {} to {} d is usual for an adult.",
        last.len(),
        number(gap_d),
        number(feeding.interval_d.low),
        number(feeding.interval_d.high)
    );
    let does = "Weigh and measure it, look at its shape, and lengthen the gap step by step.";
    draft.need(Missing::Mass, 40.0);
    draft.need(Missing::Length, 60.0);
    let records = last.iter().filter_map(|meal| view.line.meals.get(meal.index)).map(seen);
    draft.find(
        Finding::new(Code::RationHigh, Severity::Watch, RULE.key, says, does)
            .on(records)
            .by(&line, "d")
            .sure(Sure::Likely),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn weekly_meals_are_many_for_a_grown_python() {
        // ball python, adult: 14 to 28 d
        for (gap_days, said) in [(7, true), (9, true), (10, false), (14, false)] {
            let mut text =
                "at = \"2027-06-01T12:00\"\n[animal]\nspecies = \"ball_python\"\nstage = \"adult\"\n".to_owned();
            let start: jiff::civil::Date = "2027-05-31".parse().unwrap();
            for i in 0..7 {
                let day = start - jiff::Span::new().days(i * gap_days);
                text.push_str(&format!("[[meal]]\nat = \"{day}\"\nprey = \"rat-small\"\noutcome = \"taken\"\n"));
            }
            assert_eq!(answer(&text).finding(Code::RationHigh).is_some(), said, "every {gap_days} d");
        }
    }

    /// A grown ball python at 30 °C, weighed 90 days apart, fed rats of `prey` g every two weeks.
    fn kept(prey: f64, masses: (f64, f64), more: &str) -> crate::Answer {
        let mut text = format!(
            "at = \"2027-06-01T12:00\"\n[animal]\nspecies = \"ball_python\"\nsex = \"male\"\nstage = \"adult\"\n\
             [[weighing]]\nat = \"2027-02-25\"\nmass_g = {}\n[[weighing]]\nat = \"2027-05-31\"\nmass_g = {}\n\
             [[reading]]\nat = \"2027-05-30\"\nspot = \"warm-air\"\ntemperature_c = 31\n[[reading]]\nat = \"2027-05-30\"\nspot = \"cool-air\"\ntemperature_c = 28.5\n{more}",
            masses.0, masses.1
        );
        let start: jiff::civil::Date = "2027-05-18".parse().unwrap();
        for i in 0..9 {
            let day = start - jiff::Span::new().days(i * 14);
            text.push_str(&format!("[[meal]]\nat = \"{day}\"\nmass_g = {prey}\noutcome = \"taken\"\n"));
        }
        answer(&text)
    }

    #[test]
    fn more_than_holds_a_grown_animal_that_gains_is_too_much() {
        // 1500 g at 30 °C hold on about 34 g a week (E4 of the notes), up to about 53
        for (prey, masses, said) in [
            (90.0, (1500.0, 1510.0), false),
            (130.0, (1500.0, 1510.0), false),
            (130.0, (1400.0, 1500.0), true),
            (90.0, (1400.0, 1500.0), false),
            (130.0, (800.0, 880.0), false),
        ] {
            let answer = kept(prey, masses, "");
            assert_eq!(answer.finding(Code::RationHigh).is_some(), said, "{prey} g, {masses:?}");
        }
    }
}
