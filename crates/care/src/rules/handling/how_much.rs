//! How often and how long.

use crate::answer::{Code, Finding, Severity};
use crate::draft::{Draft, all_seen, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::{arrived, is_gone};
use crate::view::{View, number};

/// More sessions a week than are good for it.
pub const OFTEN: Rule = Rule {
    key: "handled-often",
    says: "More than four sessions in a week are more than an animal needs.",
    because: "It needs its days in warmth and shelter.",
    sources: &["handling_per_week"],
    check: often,
};

/// A session that was long.
pub const LONG: Rule = Rule {
    key: "handled-long",
    says: "More than 30 minutes out of its heat is long; the first five sessions in a new home last 10 minutes at most.",
    because: "Out of its heat it cools, and trust is built in short times.",
    sources: &["handling_session_max", "handling_first_session", "first_sessions"],
    check: long,
};

const WEEK_D: f64 = 7.0;

fn often(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let since = view.now.plus_days(-WEEK_D);
    let sessions: Vec<_> = view.line.handlings.iter().rev().take_while(|one| since < one.at.to).collect();
    let line = lines::high("handling_per_week");
    if sessions.len() as f64 <= line.value {
        return;
    }
    let says =
        format!("It was handled {} times in the last seven days; {} are plenty.", sessions.len(), number(line.value));
    let does = "Leave it in peace for a few days, and then every second or third day at most.";
    draft.find(
        Finding::new(Code::HandledOften, Severity::Watch, OFTEN.key, says, does)
            .on(all_seen(sessions))
            .by(&line, "1/week"),
    );
}

fn long(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let since = view.now.plus_days(-lines::low("handled_lately").value);
    let lately = view.line.handlings.iter().rev().take_while(|one| since < one.at.to);
    let Some((minutes, session)) =
        lately.filter_map(|one| one.minutes.map(|minutes| (minutes, one))).max_by(|a, b| a.0.total_cmp(&b.0))
    else {
        return;
    };
    let most = lines::high("handling_session_max");
    if most.value < minutes {
        let says = format!(
            "It was handled for {} minutes on {}; {} at most are good for it.",
            number(minutes),
            view.date_of(session.at),
            number(most.value)
        );
        let does = "Keep the next times shorter, and put it back before it is cool to the touch.";
        draft.find(
            Finding::new(Code::HandledLong, Severity::Watch, LONG.key, says, does).on([seen(session)]).by(&most, "min"),
        );
        return;
    }
    let first = lines::high("handling_first_session");
    if view.case.animal.used_to_handling == Some(true) {
        return;
    }
    let Some(came) = arrived(view) else { return };
    let so_far =
        view.line.handlings.iter().filter(|one| came.from <= one.at.from && one.at.from <= session.at.from).count()
            as f64;
    if first.value < minutes && so_far <= lines::low("first_sessions").value {
        let says = format!(
            "One of its first times in hand, on {}, lasted {} minutes; up to {} are enough at first.",
            view.date_of(session.at),
            number(minutes),
            number(first.value)
        );
        let does = "Begin with five to ten minutes, not daily, and add five minutes a week.";
        draft.find(
            Finding::new(Code::HandledLong, Severity::Note, LONG.key, says, does).on([seen(session)]).by(&first, "min"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn sessions(count: usize) -> String {
        (0..count).map(|i| format!("[[handling]]\nat = \"2027-06-{:02}T18:00\"\nminutes = 15\n", 12 - i)).collect()
    }

    #[test]
    fn more_than_four_times_a_week_is_often() {
        for (count, told) in [(0, false), (4, false), (5, true), (7, true)] {
            let answer = answer(&format!(
                "at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{}",
                sessions(count)
            ));
            assert_eq!(
                answer.finding(Code::HandledOften).map(|found| found.severity),
                told.then_some(Severity::Watch),
                "{count} times"
            );
        }
    }

    #[test]
    fn more_than_half_an_hour_is_long_and_the_first_times_are_shorter() {
        for (arrived, minutes, severity) in [
            ("", 30, None),
            ("", 31, Some(Severity::Watch)),
            ("arrived = \"2027-05-01\"\n", 10, None),
            ("arrived = \"2027-05-01\"\n", 11, Some(Severity::Note)),
        ] {
            let answer = answer(&format!(
                "at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{arrived}[[handling]]\nat = \"2027-06-11T18:00\"\nminutes = {minutes}\n"
            ));
            assert_eq!(
                answer.finding(Code::HandledLong).map(|found| found.severity),
                severity,
                "{arrived} {minutes} min"
            );
        }
    }
}
