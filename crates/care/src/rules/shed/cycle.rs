//! A shed under way.

use records::facts::Shed;
use records::timeline::Entry;
use units::When;

use crate::answer::{Action, Code, Finding, Severity, State, Sure};
use crate::draft::{Draft, Line, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::view::{View, days, number};

/// Leave it in peace while it sheds.
pub const RULE: Rule = Rule {
    key: "in-shed",
    says: "From dull until the skin is off no handling, no lifting out and no full clean; no meal from blue until a day after.",
    because: "It sees badly, its new skin tears easily, and most refuse food.",
    sources: &["handling_preshed", "feed_hold_preshed"],
    check,
};

/// The skin should be off by now.
pub const LATE: Rule = Rule {
    key: "shed-late",
    says: "Eyes clear for eight days, blue for fourteen or dull for twenty-one (longer where the species takes longer) and no shed: late.",
    because: "Too dry, too cold, hurt or ill: the skin sticks.",
    sources: &["shed_late_alert", "shed_late_from_blue", "shed_late_from_dull"],
    check: late,
};

/// A shed whose end was never noted.
pub const FORGOTTEN: Rule = Rule {
    key: "shed-not-ended",
    says: "A shed that began and of which no end is noted is asked about.",
    because: "How a skin came off is the first thing to look at when something is wrong.",
    sources: &["records_shed"],
    check: forgotten,
};

const ENDS_WITH: &str = "the skin is off";

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    match view.open_shed() {
        Some(shed) => under_way(view, draft, shed),
        None => just_off(view, draft),
    }
}

fn under_way(view: &View<'_>, draft: &mut Draft, shed: &Entry<Shed>) {
    let Some(first) = shed.steps().next() else { return };
    let (step, word) = last_step(shed, first);
    let since = format!("{word} since {}", view.date_of(step));
    let records = vec![seen(shed)];
    let no_meal_from = shed.blue_at.or(shed.cleared_at);
    let why = match no_meal_from {
        Some(_) => format!("{since}: nothing is offered before the skin has been off for a day."),
        None => format!(
            "{since}: whether to offer now is the keeper's choice, many refuse; from blue on nothing is offered."
        ),
    };
    draft.state(State::InShed, first.from, None, why);
    for action in [Action::Handle, Action::Move, Action::FullClean] {
        let why = format!("{since}: in peace until the skin is off.");
        draft.hold_open(action, Strength::PreShed, RULE.key, why, first.from, ENDS_WITH, records.clone());
    }
    if let Some(from) = no_meal_from {
        let why = format!("{since}: no meal from blue until a day after the skin is off.");
        draft.hold_open(
            Action::OfferMeal,
            Strength::PreShed,
            RULE.key,
            why,
            from.from,
            "the skin has been off for a day",
            records.clone(),
        );
    }
    let Some(cleared) = shed.cleared_at else { return };
    let Some(wait) = view.profile.shed.clear_to_shed_d.first() else { return };
    if late_by(view, shed).is_none() {
        let (low, high) = (cleared.from.plus_days(wait.low), cleared.from.plus_days(wait.high));
        let says = format!(
            "Its eyes cleared on {}; the skin is likely to come off between {} and {}.",
            view.date_of(cleared),
            view.date(low),
            view.date(high)
        );
        let does = "Keep the humidity up and something rough in reach, and look for both eye caps and the tail tip in the skin.";
        draft.find(
            Finding::new(Code::ShedSoon, Severity::Note, RULE.key, says, does)
                .on(records)
                .by(&Line::high(wait), "d")
                .sure(Sure::Likely),
        );
    }
}

/// The last step noted, in words.
fn last_step(shed: &Shed, first: When) -> (When, &'static str) {
    if let Some(cleared) = shed.cleared_at {
        (cleared, "Eyes clear again")
    } else if let Some(blue) = shed.blue_at {
        (blue, "Eyes blue")
    } else {
        (first, "Dull")
    }
}

fn just_off(view: &View<'_>, draft: &mut Draft) {
    let Some((off, shed)) = view.line.sheds.iter().rev().find_map(|shed| shed.shed_at.map(|off| (off, shed))) else {
        return;
    };
    let after = lines::low("feed_hold_preshed");
    let until = off.to.plus_days(after.value);
    if view.now < until {
        let why = format!("The skin came off on {}: the next meal a day later at the earliest.", view.date_of(off));
        draft.hold_until(Action::OfferMeal, Strength::PreShed, RULE.key, why, off.from, until, vec![seen(shed)]);
    }
}

/// How late a shed is: severity, days since the last step, the line that decided.
fn late_by(view: &View<'_>, shed: &Shed) -> Option<(Severity, When, &'static str, Line)> {
    let by = &view.profile.shed;
    let most = |figures: &species::Figures| figures.first().map_or(0.0, |figure| figure.high);
    let (step, word, rule, longest) = if let Some(cleared) = shed.cleared_at {
        (cleared, "Its eyes cleared", "shed_late_alert", most(&by.clear_to_shed_d))
    } else if let Some(blue) = shed.blue_at {
        (blue, "Its eyes went blue", "shed_late_from_blue", most(&by.blue_d) + most(&by.clear_to_shed_d))
    } else {
        (shed.dull_at?, "It went dull", "shed_late_from_dull", most(&by.total_d))
    };
    let (watch, act) = (lines::low(rule), lines::high(rule));
    let (watch, act) = (watch.with(watch.value.max(longest)), act.with(act.value.max(longest)));
    let so_far = view.days_since(step);
    if act.value <= so_far {
        Some((Severity::Act, step, word, act))
    } else if watch.value <= so_far {
        Some((Severity::Watch, step, word, watch))
    } else {
        None
    }
}

fn late(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let Some(shed) = view.open_shed() else { return };
    let Some((severity, step, word, line)) = late_by(view, shed) else { return };
    let says = format!(
        "{word} {} ago and no shed is noted; {} at most are usual.",
        days(view.days_since(step)),
        days(line.value)
    );
    let does = if severity == Severity::Act {
        "Raise the humidity today, offer a humid hide, look whether the skin is loose or already lies somewhere, and call a reptile veterinarian if nothing moves in three days."
    } else {
        "Raise the humidity, offer a humid hide, and look whether the skin already lies somewhere."
    };
    draft.find(
        Finding::new(Code::ShedLate, severity, LATE.key, says, does).on([seen(shed)]).by(&line, "d").sure(Sure::Likely),
    );
}

fn forgotten(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) || view.open_shed().is_some() {
        return;
    }
    let Some(last) = view.line.sheds.last().filter(|last| last.shed_at.is_none()) else { return };
    let Some(first) = last.steps().next() else { return };
    let says = format!(
        "The shed that began on {} has no end noted, {} days on.",
        view.date_of(first),
        number(view.days_since(first).floor())
    );
    let does = "Note when the skin came off and how, or that nobody saw it.";
    draft.find(Finding::new(Code::RecordMissing, Severity::Note, FORGOTTEN.key, says, does).on([seen(last)]));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};

    fn shedding(at: &str, shed: &str) -> crate::Answer {
        answer(&format!(
            "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[meal]]\nat = \"2027-04-15\"\noutcome = \"taken\"\n[[shed]]\n{shed}"
        ))
    }

    fn reason(answer: &crate::Answer, action: Action) -> bool {
        answer.hold(action).is_some_and(|hold| hold.because.iter().any(|one| one.rule == RULE.key))
    }

    #[test]
    fn what_waits_at_each_step() {
        //    steps                                                              handle  full clean  meal
        for (shed, handle, clean, meal) in [
            ("dull_at = \"2027-05-01\"\n", true, true, false),
            ("dull_at = \"2027-05-01\"\nblue_at = \"2027-05-04\"\n", true, true, true),
            ("blue_at = \"2027-05-02\"\ncleared_at = \"2027-05-05\"\n", true, true, true),
            ("blue_at = \"2027-04-28\"\nshed_at = \"2027-05-05T10:00\"\npieces = 1\n", false, false, true),
            ("blue_at = \"2027-04-28\"\nshed_at = \"2027-05-04T10:00\"\npieces = 1\n", false, false, false),
        ] {
            let answer = shedding("2027-05-05T19:00", shed);
            assert_eq!(reason(&answer, Action::Handle), handle, "{shed}");
            assert_eq!(reason(&answer, Action::Move), handle, "{shed}");
            assert_eq!(reason(&answer, Action::FullClean), clean, "{shed}");
            assert_eq!(reason(&answer, Action::OfferMeal), meal, "{shed}");
            assert_eq!(answer.is_in(State::InShed), handle, "{shed}");
        }
    }

    #[test]
    fn an_open_shed_ends_with_the_skin_and_not_with_a_forecast() {
        let answer = shedding("2027-05-05T19:00", "blue_at = \"2027-05-04\"\n");
        let hold = answer.hold(Action::Handle).unwrap();
        assert_eq!((hold.until, hold.ends_with), (None, Some("the skin is off")));
    }

    #[test]
    fn a_day_after_the_skin_is_off_it_may_eat() {
        for (at, until) in [("2027-05-06T09:59", Some("2027-05-06T10:00")), ("2027-05-06T10:00", None)] {
            let answer = shedding(at, "shed_at = \"2027-05-05T10:00\"\npieces = 1\n");
            assert_eq!(answer.hold(Action::OfferMeal).and_then(|hold| hold.until), until.map(moment), "{at}");
        }
    }

    #[test]
    fn late_by_the_step_that_was_seen_last() {
        // corn snake: clear to shed, blue and whole cycle of its profile lie under the general lines
        for (shed, at, severity) in [
            ("cleared_at = \"2027-05-01T00:00\"\n", "2027-05-08T23:00", None),
            ("cleared_at = \"2027-05-01T00:00\"\n", "2027-05-09T00:00", Some(Severity::Watch)),
            ("cleared_at = \"2027-05-01T00:00\"\n", "2027-05-11T00:00", Some(Severity::Act)),
            ("blue_at = \"2027-05-01T00:00\"\n", "2027-05-14T23:00", None),
            ("blue_at = \"2027-05-01T00:00\"\n", "2027-05-15T00:00", Some(Severity::Watch)),
            ("blue_at = \"2027-05-01T00:00\"\n", "2027-05-19T00:00", Some(Severity::Act)),
            ("dull_at = \"2027-05-01T00:00\"\n", "2027-05-21T23:00", None),
            ("dull_at = \"2027-05-01T00:00\"\n", "2027-05-22T00:00", Some(Severity::Watch)),
        ] {
            assert_eq!(
                shedding(at, shed).finding(Code::ShedLate).map(|found| found.severity),
                severity,
                "{shed} at {at}"
            );
        }
    }

    #[test]
    fn with_clear_eyes_the_skin_is_soon_off_or_late_but_not_both() {
        for (at, soon) in [("2027-05-04T12:00", true), ("2027-05-12T12:00", false)] {
            let answer = shedding(at, "cleared_at = \"2027-05-01\"\n");
            assert_eq!(answer.finding(Code::ShedSoon).is_some(), soon, "{at}");
            assert_eq!(answer.finding(Code::ShedLate).is_some(), !soon, "{at}");
        }
    }

    #[test]
    fn a_shed_without_an_end_is_asked_about_when_it_must_be_over() {
        for (at, asked) in [("2027-06-14T23:00", false), ("2027-06-15T01:00", true)] {
            let answer = shedding(at, "dull_at = \"2027-05-01\"\n");
            assert_eq!(answer.finding(Code::RecordMissing).is_some(), asked, "{at}");
            assert_eq!(answer.is_in(State::InShed), !asked, "{at}");
        }
    }
}
