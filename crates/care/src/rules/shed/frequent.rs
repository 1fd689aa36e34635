//! Sheds closer together than usual.

use records::facts::Stage;

use crate::answer::{Code, Finding, Severity, Sure};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::sheds::{Counts, Gap, History, Rhythm, Usual};
use crate::view::{View, number};

/// Two short intervals in a row, and no growth to explain them.
pub const RULE: Rule = Rule {
    key: "shed-frequent",
    says: "Two intervals in a row shorter than 0.7 of the shortest of its kind and stage, or so short that its own rhythm brings them once in a hundred times, without fast growth, are watched.",
    because: "Hurt or irritated skin is renewed sooner.",
    sources: &["records_shed", "shed_frequent", "shed_frequent_own", "shed_own_rhythm", "growth_brings_sheds"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let history = History::of(view);
    let ([.., first, second, third], [earlier @ .., a, b]) = (history.offs.as_slice(), history.gaps.as_slice()) else {
        return;
    };
    let usual = Usual::of(view);
    let (low, high) = usual.range_d.unwrap_or((usual.days, usual.days));
    let last = [a.days, b.days];
    let is_recent = view.days_since(third.at) < high;
    let short = Line { value: low, source: usual.source.clone() };
    let short = short.with(low * lines::low("shed_frequent").value);
    let all_short = usual.range_d.is_some() && last.iter().all(|days| *days < short.value);
    let broken = broken_rhythm(usual, earlier, last);
    if !is_recent || !(all_short || broken.is_some()) || growth_explains(view, first.at.from, third.at.from) {
        return;
    }
    let beside = match broken.as_ref().filter(|_| !all_short) {
        Some(before) => format!("before that they came every {} days", number(before.median_d.round())),
        None => format!("{} to {} are usual at its stage", number(low), number(high)),
    };
    let says =
        format!("Its last sheds came {} and {} days apart; {beside}.", number(a.days.round()), number(b.days.round()));
    let does = "Look it over for mites, blisters and rubbed places, measure heat and humidity, and call a reptile veterinarian if the next comes as soon.";
    let records = [first, second, third].into_iter().flat_map(|off| &off.entries);
    let (line, unit) = match broken.filter(|_| !all_short) {
        Some(before) => (before.line, "%"),
        None => (short, "d"),
    };
    draft.find(
        Finding::new(Code::ShedFrequent, Severity::Watch, RULE.key, says, does)
            .on(records.filter_map(|index| view.line.sheds.get(*index)).map(seen))
            .by(&line, unit)
            .sure(if all_short { Sure::Likely } else { Sure::Possible }),
    );
}

/// A rhythm of its own that two short intervals have broken.
struct Broken {
    median_d: f64,
    line: Line,
}

/// Had it a rhythm, and would that bring two intervals as short as these but once in so many times?
fn broken_rhythm(usual: Usual, earlier: &[Gap], last: [f64; 2]) -> Option<Broken> {
    let counted: Vec<f64> = earlier.iter().filter(|gap| gap.counts == Counts::Yes).map(|gap| gap.days).collect();
    let recent = lines::low("shed_recent").value as usize;
    let own = counted.get(counted.len().saturating_sub(recent)..)?.to_vec();
    let rhythm = Rhythm::from(usual, own);
    let line = lines::low("shed_frequent_own");
    let as_short: f64 = last.iter().map(|days| 1.0 - rhythm.law.survival(*days)).product();
    let is_broken = rhythm.is_its_own() && 100.0 * as_short < line.value;
    is_broken.then(|| Broken { median_d: rhythm.law.median(), line })
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
    fn two_intervals_that_break_its_own_rhythm_are_told() {
        // its line of 0.7 of the shortest is 31.5 d: these are longer, and half of what it did before
        for (apart, told) in [
            (vec![80, 85, 78, 40, 38], true),
            (vec![80, 85, 78, 40, 70], false),
            (vec![80, 85, 78, 60, 58], false),
            (vec![80, 40, 38], false),
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
