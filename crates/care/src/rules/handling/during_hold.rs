//! Handled when it should have been left in peace.

use records::facts::{Handling, Outcome};
use records::timeline::Entry;
use units::Moment;

use super::peace_h;
use crate::answer::{Code, Evidence, Finding, Severity};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::{beginnings, is_gone, known_end};
use crate::view::{View, number, small};

/// Handled while something stood against it.
pub const RULE: Rule = Rule {
    key: "handled-during-hold",
    says: "Handling while it settled, in the days after a meal, in a shed or after a meal came up is spoken of for a week; it is for acting on when a meal came up.",
    because: "A meal that is carried about is often brought up, and fright stops the next one.",
    sources: &[
        "handling_after_meal",
        "handling_after_large_meal",
        "handling_preshed",
        "handling_after_regurgitation",
        "arrival_no_handling",
        "handled_lately",
    ],
    check,
};

/// What stood against handling then.
struct Against {
    words: String,
    records: Vec<Evidence>,
    /// The value that decided, with its unit; a shed has none.
    line: Option<(Line, &'static str)>,
    /// The meal came up afterwards.
    came_up: bool,
}

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let since = view.now.plus_days(-lines::low("handled_lately").value);
    let lately = view.line.handlings.iter().rev().take_while(|one| since < one.at.to);
    let told: Vec<_> = lately
        .filter(|one| !was_treated(view, one))
        .filter_map(|one| against(view, one).map(|against| (one, against)))
        .collect();
    let Some((handling, against)) = told.iter().find(|(_, against)| against.came_up).or_else(|| told.first()) else {
        return;
    };
    let mut says = format!("It was handled on {}, {}", view.date_of(handling.at), against.words);
    if 1 < told.len() {
        says.push_str(&format!(" ({} times like that in a week)", told.len()));
    }
    says.push('.');
    let (severity, does) = if against.came_up {
        (
            Severity::Act,
            "Leave it in peace until its hold is over; nothing is offered before that, and a soak or a bath is handling too.",
        )
    } else {
        (Severity::Watch, "Leave it in peace until its hold is over, and watch whether a meal comes up or is refused.")
    };
    let mut finding = Finding::new(Code::HandledDuringHold, severity, RULE.key, says, does)
        .on([seen(handling)])
        .on(against.records.iter().copied());
    if let Some((line, unit)) = &against.line {
        finding = finding.by(line, unit);
    } else {
        finding = finding.from(lines::source("handling_preshed"));
    }
    draft.find(finding);
}

/// Handled to treat it: within the hour of a time that a prescribed course was given.
fn was_treated(view: &View<'_>, handling: &Entry<Handling>) -> bool {
    let minutes = handling.minutes.unwrap_or(0.0);
    let near = |given: &units::When| {
        given.has_hour()
            && handling.at.has_hour()
            && (given.from.hours_since(handling.at.from) * 60.0).abs() <= minutes.max(60.0)
    };
    view.line.treatments.iter().any(|course| course.given.iter().any(near))
}

fn against(view: &View<'_>, handling: &Entry<Handling>) -> Option<Against> {
    let at = handling.at.from;
    after_a_meal(view, at)
        .or_else(|| after_it_came_up(view, at))
        .or_else(|| in_shed(view, at))
        .or_else(|| settling(view, at))
}

fn after_a_meal(view: &View<'_>, at: Moment) -> Option<Against> {
    let eaten = view.meals.eaten.iter().rev().find(|eaten| eaten.at.to <= at)?;
    let hours = peace_h(eaten);
    if eaten.at.to.plus_hours(hours) <= at {
        return None;
    }
    let meal = view.line.meals.get(eaten.index)?;
    let up = meal.regurgitated_at.filter(|_| meal.outcome == Outcome::Regurgitated);
    if up.is_some_and(|up| up.from < at) {
        return None;
    }
    let so_far = at.hours_since(eaten.at.to);
    let mut words =
        format!("{} h after a meal; {} h of peace were wanted", number(so_far.floor()), number(hours.ceil()));
    if let Some(up) = up {
        words.push_str(&format!(", and the meal came up on {}", view.date_of(up)));
    }
    let line = lines::low("handling_after_meal");
    Some(Against { words, records: vec![seen(meal)], line: Some((line.with(hours), "h")), came_up: up.is_some() })
}

fn after_it_came_up(view: &View<'_>, at: Moment) -> Option<Against> {
    let line = lines::low("handling_after_regurgitation");
    let meal = view.line.meals.iter().rev().find(|meal| {
        let up = meal.regurgitated_at.unwrap_or(meal.at);
        meal.outcome == Outcome::Regurgitated && up.from <= at && at < up.to.plus_days(line.value)
    })?;
    let up = meal.regurgitated_at.unwrap_or(meal.at);
    let words =
        format!("although a meal came up on {}; {} days of peace were wanted", view.date_of(up), number(line.value));
    Some(Against { words, records: vec![seen(meal)], line: Some((line, "d")), came_up: false })
}

fn in_shed(view: &View<'_>, at: Moment) -> Option<Against> {
    let shed = view.line.sheds.iter().rev().find(|shed| {
        let begun = shed.dull_at.or(shed.blue_at).or(shed.cleared_at);
        let over = shed.shed_at.map(|off| off.from).or_else(|| view.open_shed().is_none().then_some(Moment(i64::MIN)));
        begun.is_some_and(|begun| begun.from <= at) && over.is_none_or(|over| at < over)
    })?;
    Some(Against { words: "in a shed".to_owned(), records: vec![seen(shed)], line: None, came_up: false })
}

fn settling(view: &View<'_>, at: Moment) -> Option<Against> {
    let line = lines::low("arrival_no_handling");
    let began = beginnings(view)
        .into_iter()
        .rev()
        .find(|began| began.at.to <= at && at < known_end(view, began.at).plus_days(line.value))?;
    let words = format!("while it settles ({})", small(&began.words));
    Some(Against { words, records: vec![began.evidence], line: Some((line, "d")), came_up: false })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn handled(at: &str, rest: &str) -> Option<Severity> {
        let text = format!(
            "at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[handling]]\nat = \"{at}\"\nminutes = 15\n{rest}"
        );
        answer(&text).finding(Code::HandledDuringHold).map(|found| found.severity)
    }

    #[test]
    fn nothing_against_it_nothing_said() {
        assert_eq!(handled("2027-06-11T18:00", ""), None);
    }

    #[test]
    fn two_days_after_a_meal() {
        let meal = "[[meal]]\nat = \"2027-06-09T18:00\"\noutcome = \"taken\"\n";
        for (at, severity) in
            [("2027-06-09T17:00", None), ("2027-06-11T17:59", Some(Severity::Watch)), ("2027-06-11T18:00", None)]
        {
            assert_eq!(handled(at, meal), severity, "{at}");
        }
    }

    #[test]
    fn when_the_meal_came_up_it_is_for_acting_on() {
        let up = |at: &str| {
            format!("[[meal]]\nat = \"2027-06-09T18:00\"\noutcome = \"regurgitated\"\nregurgitated_at = \"{at}\"\n")
        };
        assert_eq!(handled("2027-06-10T18:00", &up("2027-06-10T20:00")), Some(Severity::Act));
        assert_eq!(
            handled("2027-06-11T18:00", &up("2027-06-10T20:00")),
            Some(Severity::Watch),
            "handled after it came up"
        );
    }

    #[test]
    fn in_a_shed_and_while_it_settles() {
        for (rest, at, severity) in [
            ("[[shed]]\ndull_at = \"2027-06-08\"\n", "2027-06-07T18:00", None),
            ("[[shed]]\ndull_at = \"2027-06-08\"\n", "2027-06-09T18:00", Some(Severity::Watch)),
            (
                "[[shed]]\nblue_at = \"2027-06-03\"\nshed_at = \"2027-06-09T12:00\"\npieces = 1\n",
                "2027-06-09T13:00",
                None,
            ),
        ] {
            assert_eq!(handled(at, rest), severity, "{rest} {at}");
        }
        let new = |arrived: &str| {
            let text = format!(
                "at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\narrived = \"{arrived}\"\n[[handling]]\nat = \"2027-06-11T18:00\"\n"
            );
            answer(&text).finding(Code::HandledDuringHold).is_some()
        };
        assert!(new("2027-06-05"));
        assert!(!new("2027-06-01"));
    }

    #[test]
    fn it_is_spoken_of_for_a_week_and_not_when_it_was_to_treat() {
        let text = |at: &str, course: &str| {
            let text = format!(
                "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[meal]]\nat = \"2027-06-01T18:00\"\noutcome = \"taken\"\n[[handling]]\nat = \"2027-06-02T18:00\"\nminutes = 10\n{course}"
            );
            answer(&text).finding(Code::HandledDuringHold).is_some()
        };
        let course = "[[treatment]]\nname = \"wash\"\nfrom = \"2027-06-01T18:10\"\nevery_hours = 24\ndoses = 9\ngiven = [\"2027-06-01T18:10\", \"2027-06-02T18:10\"]\n";
        for (at, course, told) in
            [("2027-06-09T17:59", "", true), ("2027-06-09T18:00", "", false), ("2027-06-03T12:00", course, false)]
        {
            assert_eq!(text(at, course), told, "{at} {course}");
        }
    }
}
