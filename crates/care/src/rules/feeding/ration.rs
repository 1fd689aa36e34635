//! More or fewer meals than the stage bears.

use crate::answer::{Code, Finding, Missing, Severity, Sure};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, number};

/// How often it eats against the interval of its stage.
pub const RULE: Rule = Rule {
    key: "ration",
    says: "Many full meals at far less than the least interval of the stage are too many.",
    because: "Adults that are fed like young ones grow fat inside long before it shows.",
    sources: &["ration_high"],
    check,
};

/// So many meals show a habit.
const MEALS: usize = 6;

fn check(view: &View<'_>, draft: &mut Draft) {
    if !view.is_adult() {
        return;
    }
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
}
