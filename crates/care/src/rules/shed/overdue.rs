//! A shed that its rhythm would have brought, and of which nothing is noted.

use crate::answer::{Code, Finding, Severity, Sure};
use crate::draft::{Draft, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::sheds::{History, Rhythm};
use crate::view::{View, days, number};

/// Long past what its own intervals bear.
pub const RULE: Rule = Rule {
    key: "shed-overdue",
    says: "An animal with a rhythm of its own that has gone longer without a shed than 39 of 40 such intervals is asked about.",
    because: "A change in its own pattern can be the first sign of illness; more often a shed was not written down.",
    sources: &["shed_overdue", "shed_own_rhythm", "records_shed"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) || view.is_elsewhere() || view.is_brumating() || view.open_shed().is_some() {
        return;
    }
    let history = History::of(view);
    let Some(last) = history.last() else { return };
    let without_d = view.days_since(last.at);
    // Where sheds are no longer written down there is nothing to be late.
    if lines::low("shed_interval_longest").value <= without_d {
        return;
    }
    let rhythm = Rhythm::of(view, &history);
    let line = lines::low("shed_overdue");
    let by_then = rhythm.law.quantile(line.value / 100.0);
    let by_then = rhythm.usual.range_d.map_or(by_then, |(_, high)| by_then.max(high));
    if !rhythm.is_its_own() || without_d < by_then {
        return;
    }
    let own: Vec<String> = rhythm.own_d.iter().map(|days| number(days.round())).collect();
    let says = format!(
        "No shed is noted for {}; its last ones came {} days apart, and 39 of 40 such intervals end within {}.",
        days(without_d),
        own.join(", "),
        days(by_then)
    );
    let does = "Note the shed if one was missed; else look at its skin and eyes, and at heat and humidity.";
    draft.find(
        Finding::new(Code::ShedLate, Severity::Note, RULE.key, says, does)
            .on(last.entries.iter().filter_map(|index| view.line.sheds.get(*index)).map(seen))
            .by(&line.with(by_then.round()), "d")
            .sure(Sure::Possible),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    /// A grown corn snake that shed every 60 days, the last time on 1 May 2027.
    fn after(at: &str, rest: &str) -> crate::Answer {
        let sheds: String = ["2026-11-02", "2027-01-01", "2027-03-02", "2027-05-01"]
            .iter()
            .map(|day| format!("[[shed]]\nshed_at = \"{day}\"\npieces = 1\n"))
            .collect();
        answer(&format!("at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{sheds}{rest}"))
    }

    #[test]
    fn it_is_asked_about_when_its_rhythm_has_run_out() {
        // three intervals of 60 d, 64 d usual: 39 of 40 end within 61 d x e^(1.96 x 0.49), 160 d
        for (at, told) in [("2027-08-01T12:00", false), ("2027-10-07T12:00", false), ("2027-10-10T12:00", true)] {
            let answer = after(at, "");
            assert_eq!(
                answer.finding(Code::ShedLate).map(|found| found.severity),
                told.then_some(Severity::Note),
                "{at}"
            );
        }
    }

    #[test]
    fn nothing_is_asked_where_sheds_are_not_kept_or_one_is_under_way() {
        assert!(after("2028-03-01T12:00", "").finding(Code::ShedLate).is_none(), "no longer written down");
        let dull = "[[shed]]\ndull_at = \"2027-10-08\"\n";
        assert!(after("2027-10-10T12:00", dull).finding(Code::ShedLate).is_none());
        let answer = answer(
            "at = \"2027-10-10T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[shed]]\nshed_at = \"2027-03-02\"\n[[shed]]\nshed_at = \"2027-05-01\"\n",
        );
        assert!(answer.finding(Code::ShedLate).is_none(), "one interval is no rhythm");
    }
}
