//! Sheds closer together than usual.

use records::facts::Stage;

use crate::answer::{Code, Finding, Severity, Sure};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::view::{View, number};

/// Two short intervals in a row, and no growth to explain them.
pub const RULE: Rule = Rule {
    key: "shed-frequent",
    says: "Two intervals in a row shorter than 0.7 of the shortest of its kind and stage, without fast growth, are watched.",
    because: "Hurt or irritated skin is renewed sooner.",
    sources: &["records_shed", "shed_frequent", "growth_brings_sheds"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let off: Vec<_> = view.line.sheds.iter().filter_map(|shed| shed.shed_at.map(|at| (at, shed))).collect();
    let [.., (first, a), (second, b), (third, c)] = off.as_slice() else { return };
    let Some(usual) = view.shed_interval_d() else { return };
    let line = Line::low(usual);
    let line = line.with(line.value * lines::low("shed_frequent").value);
    let intervals = [second.from.days_since(first.from), third.from.days_since(second.from)];
    let recent = view.days_since(*third) < usual.high;
    if !recent
        || intervals.iter().any(|interval| line.value <= *interval)
        || growth_explains(view, first.from, third.from)
    {
        return;
    }
    let says = format!(
        "Its last sheds came {} and {} days apart; {} to {} are usual at its stage.",
        number(intervals[0]),
        number(intervals[1]),
        number(usual.low),
        number(usual.high)
    );
    let does = "Look it over for mites, blisters and rubbed places, measure heat and humidity, and call a reptile veterinarian if the next comes as soon.";
    draft.find(
        Finding::new(Code::ShedFrequent, Severity::Watch, RULE.key, says, does)
            .on([seen(a), seen(b), seen(c)])
            .by(&line, "d")
            .sure(Sure::Likely),
    );
}

/// Does it grow fast enough to shed often? A young animal of unknown growth is taken to.
fn growth_explains(view: &View<'_>, from: units::Moment, to: units::Moment) -> bool {
    const DAYS_IN_A_MONTH: f64 = 30.44;
    let weighed: Vec<_> = view.masses.list.iter().filter_map(|one| one.empty_g.map(|mass| (one.at, mass))).collect();
    let before = weighed.iter().rev().find(|(at, _)| *at <= from).or_else(|| weighed.first());
    let after = weighed.iter().find(|(at, _)| to <= *at).or_else(|| weighed.last());
    match (before, after) {
        (Some((start, less)), Some((end, more))) if start < end => {
            let months = end.days_since(*start) / DAYS_IN_A_MONTH;
            lines::low("growth_brings_sheds").value <= 100.0 * (more / less - 1.0) / months
        }
        _ => matches!(view.stage, None | Some(Stage::Hatchling | Stage::Juvenile)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    /// A corn snake (adult interval of its profile) with sheds these days apart, the last one on 1 September 2027.
    fn sheds(apart: &[i64], rest: &str) -> bool {
        let mut days = vec![0];
        for gap in apart.iter().rev() {
            days.push(days[days.len() - 1] + gap);
        }
        let last = crate::testing::moment("2027-09-01");
        let zone = units::Zone::none();
        let sheds: String = days
            .iter()
            .map(|back| format!("[[shed]]\nshed_at = \"{}\"\npieces = 1\n", zone.date(last.plus_days(-(*back as f64)))))
            .collect();
        let text =
            format!("at = \"2027-09-05T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{sheds}{rest}");
        answer(&text).finding(Code::ShedFrequent).is_some()
    }

    fn line() -> i64 {
        let profile = species::library().profile("corn_snake").unwrap();
        (profile.shed.interval_d.adult.as_ref().unwrap().first().unwrap().low * 0.7).ceil() as i64
    }

    #[test]
    fn two_short_intervals_in_a_row_are_told() {
        let (short, long) = (line() - 1, line());
        for (apart, told) in [
            (vec![short, short], true),
            (vec![long, short], false),
            (vec![short, long], false),
            (vec![short], false),
            (vec![90, short, short], true),
        ] {
            assert_eq!(sheds(&apart, ""), told, "{apart:?}");
        }
    }

    #[test]
    fn fast_growth_explains_them() {
        let short = line() - 1;
        let masses = |first: f64, last: f64| {
            format!(
                "[[weighing]]\nat = \"2027-05-20\"\nmass_g = {first}\n[[weighing]]\nat = \"2027-09-03\"\nmass_g = {last}\n"
            )
        };
        // 3.5 months: 8 % a month is 28 %
        for (first, last, told) in [(400.0, 505.0, true), (400.0, 520.0, false)] {
            assert_eq!(sheds(&[short, short], &masses(first, last)), told, "{first} to {last} g");
        }
    }

    #[test]
    fn a_double_entry_is_no_interval() {
        assert!(!sheds(&[60, 4, 60], ""));
    }
}
