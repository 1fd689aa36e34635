//! A prescribed course: when the next time is. The tool repeats what was prescribed; it never makes or changes it.

use records::facts::Treatment;
use records::timeline::Entry;
use units::{Moment, When};

use crate::answer::{Action, Code, Evidence, Finding, Severity, State, Task};
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::view::{View, number};

/// Give what was prescribed, reckoned from the last time given.
pub const RULE: Rule = Rule {
    key: "treatment",
    says: "A prescribed course is given as prescribed, reckoned from the last time given; never two at once, and after a missed one the veterinarian is asked.",
    because: "Only the veterinarian who prescribed it knows what a gap means.",
    sources: &["treatment_missed", "treatment_open_course", "treatment_forgotten", "handling_never"],
    check,
};

/// A course as it stands now.
struct Course<'a> {
    entry: &'a Entry<Treatment>,
    /// When the next time falls due, where an interval is told.
    next: Option<When>,
    /// How many whole intervals the next time is late.
    late: f64,
}

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let mut running: Vec<Course<'_>> = Vec::new();
    for entry in &view.line.treatments {
        match stand(view, entry) {
            Stand::Runs(course) => running.push(course),
            Stand::Begins(at) => {
                let why = format!("«{}» begins as prescribed.", entry.name);
                draft.ahead(Task::GiveTreatment, RULE.key, why, at, None, vec![seen(entry)]);
            }
            Stand::Forgotten(due) => forgotten(view, draft, entry, due),
            Stand::Over => {}
        }
    }
    if running.is_empty() {
        return;
    }
    state(view, draft, &running);
    due(view, draft, &running);
}

enum Stand<'a> {
    Runs(Course<'a>),
    Begins(Moment),
    Forgotten(Moment),
    Over,
}

fn stand<'a>(view: &View<'_>, entry: &'a Entry<Treatment>) -> Stand<'a> {
    if view.now < entry.from.from {
        return Stand::Begins(entry.from.from);
    }
    let given = entry.given.len();
    if entry.doses.is_some_and(|doses| doses as usize <= given) {
        return Stand::Over;
    }
    let last = entry.given.last().copied();
    let forgotten = lines::low("treatment_forgotten").value;
    let Some(every_h) = entry.every_hours else {
        let since = last.unwrap_or(entry.from);
        let quiet = view.days_since(since);
        return match (quiet <= forgotten, entry.doses) {
            (true, _) => Stand::Runs(Course { entry, next: None, late: 0.0 }),
            (false, Some(_)) => Stand::Forgotten(since.to),
            (false, None) => Stand::Over,
        };
    };
    // The first time is due when the course begins; every other from the last one given.
    let next = last.map_or(entry.from, |last| later(view, last, every_h));
    let late_h = view.now.hours_since(next.to).max(0.0);
    let late = (late_h / every_h).floor();
    let open_over = lines::low("treatment_open_course").value;
    if entry.doses.is_none() && open_over <= late {
        return Stand::Over;
    }
    if entry.doses.is_some() && forgotten < late_h / 24.0 {
        return Stand::Forgotten(next.to);
    }
    Stand::Runs(Course { entry, next: Some(next), late })
}

/// The next time after one that was given: to the hour where an hour was noted, else on its day.
fn later(view: &View<'_>, last: When, every_h: f64) -> When {
    if last.has_hour() {
        return When::exactly(last.from.plus_hours(every_h));
    }
    view.zone.day(view.zone.date(last.from.plus_hours(every_h)))
}

fn state(view: &View<'_>, draft: &mut Draft, running: &[Course<'_>]) {
    let since = running.iter().map(|course| course.entry.from.from).min().unwrap_or(view.now);
    let names: Vec<String> = running.iter().map(|course| progress(view, course)).collect();
    draft.state(State::UnderTreatment, since, None, format!("{}.", names.join("; ")));
    let records: Vec<Evidence> = running.iter().map(|course| seen(course.entry)).collect();
    let why = "Under treatment: handled only to treat it.";
    draft.hold_open(Action::Handle, Strength::Veterinary, RULE.key, why, since, "the course is over", records);
}

/// «ointment, 2 of 5 given, last on 3 May 2027 at 18:00»
fn progress(view: &View<'_>, course: &Course<'_>) -> String {
    let it = course.entry;
    let given = it.given.len();
    let of = it.doses.map(|doses| format!(" of {doses}")).unwrap_or_default();
    let last = it.given.last().map(|last| format!(", last on {}", view.date_of(*last))).unwrap_or_default();
    format!("«{}»: {given}{of} given{last}", it.name)
}

fn due(view: &View<'_>, draft: &mut Draft, running: &[Course<'_>]) {
    let scheduled = running.iter().filter_map(|course| course.next.map(|next| (next, course)));
    let (open, coming): (Vec<_>, Vec<_>) = scheduled.partition(|(next, _)| next.from <= view.now);
    if let Some(first) = open.iter().map(|(next, _)| next.from).min() {
        let missed = lines::low("treatment_missed").value;
        let sentences: Vec<String> = open.iter().map(|(next, course)| sentence(view, *next, course, missed)).collect();
        let by = open.iter().map(|(next, course)| next.to.plus_hours(course.entry.every_hours.unwrap_or(0.0))).min();
        let records = open.iter().map(|(_, course)| seen(course.entry)).collect();
        draft.due(Task::GiveTreatment, RULE.key, sentences.join(" "), first, by, records);
    }
    if let Some((next, course)) = coming.into_iter().min_by_key(|(next, _)| next.from) {
        let why = format!("{}; the next is due on {}.", progress(view, course), view.date_of(next));
        draft.ahead(Task::GiveTreatment, RULE.key, why, next.from, None, vec![seen(course.entry)]);
    }
}

fn sentence(view: &View<'_>, next: When, course: &Course<'_>, missed: f64) -> String {
    let it = course.entry;
    let said = format!("{}; due since {}", progress(view, course), view.date_of(next));
    if missed <= course.late {
        let every = number(it.every_hours.unwrap_or(0.0));
        format!(
            "{said}, more than one gap of {every} h ago: ask the veterinarian before giving it, and never give two at once."
        )
    } else {
        format!("{said}: give it as prescribed, and note the time.")
    }
}

/// Nothing was noted for long: the record or the course has a gap.
fn forgotten(view: &View<'_>, draft: &mut Draft, entry: &Entry<Treatment>, due: Moment) {
    let doses = entry.doses.unwrap_or(0);
    let says = format!(
        "Of «{}» {} of {doses} times are noted, and nothing since {}.",
        entry.name,
        entry.given.len(),
        view.date(due)
    );
    let does = "Note the times that were given, or ask the veterinarian whether the course still holds.";
    draft.find(
        Finding::new(Code::RecordMissing, Severity::Note, RULE.key, says, does)
            .on([seen(entry)])
            .by(&lines::low("treatment_forgotten"), "d"),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};

    fn course(at: &str, rest: &str) -> crate::Answer {
        answer(&format!(
            "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\n[[treatment]]\nname = \"wash\"\nprescribed_by = \"the practice\"\nfrom = \"2027-05-01T18:00\"\n{rest}"
        ))
    }

    #[test]
    fn the_next_time_is_reckoned_from_the_last_one_given() {
        let rest = "every_hours = 48\ndoses = 5\ngiven = [\"2027-05-01T18:00\", \"2027-05-03T20:30\"]\n";
        for (at, due) in [("2027-05-05T20:29", false), ("2027-05-05T20:30", true)] {
            let answer = course(at, rest);
            assert_eq!(answer.due(Task::GiveTreatment).is_some(), due, "{at}");
            assert!(answer.is_in(State::UnderTreatment), "{at}");
        }
        let ahead = course("2027-05-04T09:00", rest);
        assert!(
            ahead.ahead.iter().any(|one| one.task == Task::GiveTreatment && one.from == moment("2027-05-05T20:30"))
        );
    }

    #[test]
    fn the_first_time_is_due_when_the_course_begins() {
        for (at, due) in [("2027-05-01T17:59", false), ("2027-05-01T18:00", true)] {
            assert_eq!(course(at, "every_hours = 24\ndoses = 3\n").due(Task::GiveTreatment).is_some(), due, "{at}");
        }
    }

    #[test]
    fn after_a_missed_one_the_veterinarian_is_asked_and_one_is_due_not_two() {
        let rest = "every_hours = 24\ndoses = 7\ngiven = [\"2027-05-01T18:00\"]\n";
        for (at, asks) in [("2027-05-02T20:00", false), ("2027-05-03T17:59", false), ("2027-05-03T18:00", true)] {
            let answer = course(at, rest);
            assert_eq!(answer.due.iter().filter(|one| one.task == Task::GiveTreatment).count(), 1, "{at}");
            let why = &answer.due(Task::GiveTreatment).unwrap().why;
            assert_eq!(
                why.contains("ask the veterinarian") && why.contains("never give two at once"),
                asks,
                "{at}: {why}"
            );
        }
    }

    #[test]
    fn a_course_is_over_when_all_was_given() {
        for (given, runs) in [("\"2027-05-01T18:00\"", true), ("\"2027-05-01T18:00\", \"2027-05-02T18:00\"", false)] {
            let answer = course("2027-05-02T19:00", &format!("every_hours = 24\ndoses = 2\ngiven = [{given}]\n"));
            assert_eq!(answer.is_in(State::UnderTreatment), runs, "{given}");
            assert_eq!(answer.hold(Action::Handle).is_some(), runs, "{given}");
            assert_eq!(answer.due(Task::GiveTreatment).is_some(), runs, "{given}");
        }
    }

    #[test]
    fn a_course_without_an_end_runs_while_it_is_given() {
        let rest = "every_hours = 24\ngiven = [\"2027-05-01T18:00\", \"2027-05-02T18:00\"]\n";
        for (at, runs) in [("2027-05-03T20:00", true), ("2027-05-06T17:59", true), ("2027-05-06T18:00", false)] {
            assert_eq!(course(at, rest).is_in(State::UnderTreatment), runs, "{at}");
        }
    }

    #[test]
    fn a_course_that_was_left_is_asked_about() {
        let rest = "every_hours = 24\ndoses = 10\ngiven = [\"2027-05-01T18:00\"]\n";
        for (at, runs) in [("2027-06-01T18:00", true), ("2027-06-01T18:01", false)] {
            let answer = course(at, rest);
            assert_eq!(answer.is_in(State::UnderTreatment), runs, "{at}");
            assert_eq!(answer.finding(Code::RecordMissing).is_some(), !runs, "{at}");
        }
    }

    #[test]
    fn without_an_interval_nothing_can_fall_due() {
        let answer = course("2027-05-04T09:00", "doses = 3\ngiven = [\"2027-05-01T18:00\"]\n");
        assert!(answer.is_in(State::UnderTreatment));
        assert!(answer.due(Task::GiveTreatment).is_none());
    }

    #[test]
    fn given_on_a_day_without_an_hour_the_next_is_due_on_its_day() {
        let rest = "every_hours = 72\ndoses = 3\ngiven = [\"2027-05-01\"]\n";
        for (at, due) in [("2027-05-03T23:59", false), ("2027-05-04T00:00", true)] {
            assert_eq!(course(at, rest).due(Task::GiveTreatment).is_some(), due, "{at}");
        }
    }

    #[test]
    fn two_courses_due_at_once_are_both_named() {
        let answer = answer(
            "at = \"2027-05-02T19:00\"\n[animal]\nspecies = \"corn_snake\"\n[[treatment]]\nname = \"drops\"\nfrom = \"2027-05-01T18:00\"\nevery_hours = 24\ndoses = 3\ngiven = [\"2027-05-01T18:00\"]\n\
             [[treatment]]\nname = \"wash\"\nfrom = \"2027-05-02T18:00\"\nevery_hours = 12\ndoses = 3\n",
        );
        let why = &answer.due(Task::GiveTreatment).unwrap().why;
        assert!(why.contains("drops") && why.contains("wash"), "{why}");
    }
}
