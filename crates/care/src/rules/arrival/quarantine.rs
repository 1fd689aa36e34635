//! Apart from the others.

use records::facts::{PlannedWhat, Sign};
use records::timeline::Entry;
use units::{Moment, When};

use super::{Began, beginnings, by_household, cohabitants, has_others, is_gone, known_end};
use crate::answer::{Action, Code, Evidence, Finding, Severity, State, Task};
use crate::draft::{Draft, Line, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::signs;
use crate::view::{View, days, number};

/// A new animal lives apart from the others.
pub const RULE: Rule = Rule {
    key: "quarantine",
    says: "Where other reptiles live, a new animal lives apart for 180 days (365 from the wild), counted anew from the last sign that others could catch; no visits, shows or sharing.",
    because: "What it may carry shows late, and travels on hands, tools and air.",
    sources: &[
        "quarantine_default",
        "quarantine_wild_import",
        "quarantine_all_in_all_out",
        "quarantine_tests",
        "quarantine_check",
    ],
    check,
};

/// From when it is apart, and why.
struct Start {
    at: When,
    words: String,
    record: Vec<Evidence>,
}

fn start(view: &View<'_>) -> Option<Start> {
    if let Some(at) = view.household().and_then(|house| house.quarantine_from).filter(|at| at.from <= view.now) {
        return Some(Start {
            at,
            words: format!("It has been apart since {}", view.date_of(at)),
            record: by_household(view),
        });
    }
    if !has_others(view) {
        return None;
    }
    // Long away, it may have met anything: apart again.
    let long = lines::low("absence_long").value;
    let counts = |began: &Began| began.away_d.is_none_or(|away_d| long <= away_d);
    let began = beginnings(view).into_iter().rev().find(counts)?;
    let words = format!("{}, and other reptiles live in the house", began.words);
    Some(Start { at: began.at, words, record: vec![began.evidence] })
}

/// Signs since then that others could catch, the earliest first: each begins the count anew.
fn contagious<'v>(view: &'v View<'_>, since: Moment) -> impl Iterator<Item = &'v Entry<Sign>> {
    let catching = |one: &Entry<Sign>| signs::meaning(one.sign, one.grade).is_some_and(|meaning| meaning.contagious);
    view.line.signs.iter().filter(move |one| since <= one.at.to && catching(one))
}

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let Some(mut start) = start(view) else { return };
    let wild = view.case.animal.wild_caught == Some(true);
    let line = lines::high(if wild { "quarantine_wild_import" } else { "quarantine_default" });
    let since = start.at.from;
    let mut until = known_end(view, start.at).plus_days(line.value);
    let mut anew = None;
    for sign in contagious(view, since).take_while(|sign| sign.at.from <= view.now) {
        if sign.at.from < until {
            until = until.max(sign.at.to.plus_days(line.value));
            anew = Some(sign);
        }
    }
    if until <= view.now {
        return;
    }
    if let Some(sign) = anew {
        start.words.push_str(&format!("; the count began anew with a sign on {}", view.date_of(sign.at)));
        start.record.push(seen(sign));
    }
    let so_far = days(view.now.days_since(since));
    let why = format!(
        "{}: {so_far} so far, apart until {} with its own room, tools and washed hands.",
        start.words,
        view.date(until)
    );
    draft.state(State::Quarantine, since, Some(until), why);
    outings(view, draft, &start, since, until, &line);
    sharing(view, draft, &start, until, &line);
    tasks(view, draft, &start, since, until);
}

/// Visits and shows: put off, or done against it.
fn outings(view: &View<'_>, draft: &mut Draft, start: &Start, since: Moment, until: Moment, line: &Line) {
    let is_outing = |what| matches!(what, PlannedWhat::Visit | PlannedWhat::Show | PlannedWhat::AnimalAway);
    let name = |what| match what {
        PlannedWhat::Show => "A show",
        PlannedWhat::Visit => "A visit",
        _ => "A stay elsewhere",
    };
    let planned =
        view.line.planned.iter().find(|plan| is_outing(plan.what) && view.now < plan.ends() && plan.from.from < until);
    if let Some(plan) = planned {
        let says = format!(
            "{} is planned for {}, in its quarantine until {}.",
            name(plan.what),
            view.date_of(plan.from),
            view.date(until)
        );
        let does = "Call it off: in quarantine it goes nowhere and nobody handles it but its keeper.";
        let records = start.record.iter().copied().chain([seen(plan)]);
        draft.find(
            Finding::new(Code::QuarantineOpen, Severity::Act, RULE.key, says, does)
                .on(records)
                .by(line, "d")
                .caution("quarantine"),
        );
        let why = format!("In quarantine until {}: no visits, no shows.", view.date(until));
        draft.hold_until(Action::Handle, Strength::Quarantine, RULE.key, why, since, until, vec![seen(plan)]);
        return;
    }
    let lately = lines::low("handled_lately").value;
    let done = view.line.planned.iter().rev().find(|plan| {
        is_outing(plan.what)
            && since <= plan.from.from
            && plan.ends() <= view.now
            && view.now.days_since(plan.ends()) <= lately
    });
    if let Some(plan) = done {
        let says = format!("{} took place on {}, in its quarantine.", name(plan.what), view.date_of(plan.from));
        let does = "Tell those who handled other reptiles afterwards, and watch both sides for mites, wheezing and poor appetite.";
        draft.find(
            Finding::new(Code::QuarantineBreach, Severity::Watch, RULE.key, says, does)
                .on([seen(plan)])
                .by(line, "d")
                .caution("quarantine"),
        );
    }
}

fn sharing(view: &View<'_>, draft: &mut Draft, start: &Start, until: Moment, line: &Line) {
    let others = cohabitants(view);
    if others == 0 {
        return;
    }
    let with = if others == 1 { "another animal".to_owned() } else { format!("{others} others") };
    let says = format!("It shares its enclosure with {with}, in its quarantine until {}.", view.date(until));
    let does =
        "Give it an enclosure of its own in another room today; all of them count as one quarantine from now on.";
    let records =
        start.record.iter().copied().chain(view.enclosure().map(|enclosure| crate::draft::undated(enclosure.key)));
    draft.find(
        Finding::new(Code::QuarantineBreach, Severity::Act, RULE.key, says, does)
            .on(records)
            .by(line, "d")
            .caution("quarantine"),
    );
}

fn tasks(view: &View<'_>, draft: &mut Draft, start: &Start, since: Moment, until: Moment) {
    let every = lines::low("quarantine_check").value;
    let weighed = view.line.weighings.last().map(|one| one.at.from);
    let looked = view.line.signs.last().map(|one| one.at.from);
    let last = weighed.into_iter().chain(looked).max().filter(|last| since <= *last).unwrap_or(since);
    let next = view.day_of(last.plus_days(every));
    let why = format!(
        "In quarantine it is looked over for mites, breathing and stools, and weighed, every {} days.",
        number(every)
    );
    add(view, draft, Task::QuarantineCheck, why, next, None, start.record.clone());

    let window = lines::low("faecal_test_window").value;
    let entry_by = known_end(view, start.at).plus_days(window);
    if view.now < entry_by {
        let why = "A fresh stool is tested at the beginning of the quarantine, and again before its end.";
        draft.due(Task::FaecalTest, RULE.key, why, view.day_of(since), Some(entry_by), start.record.clone());
        return;
    }
    let why = format!("A fresh stool is tested before the quarantine ends on {}.", view.date(until));
    add(view, draft, Task::FaecalTest, why, view.day_of(until.plus_days(-window)), Some(until), start.record.clone());
}

fn add(
    view: &View<'_>,
    draft: &mut Draft,
    task: Task,
    why: String,
    from: Moment,
    by: Option<Moment>,
    records: Vec<Evidence>,
) {
    if from <= view.now {
        draft.due(task, RULE.key, why, from, by, records);
    } else {
        draft.ahead(task, RULE.key, why, from, by, records);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};

    fn newcomer(at: &str, animal: &str, rest: &str) -> crate::Answer {
        answer(&format!(
            "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\narrived = \"2027-02-01\"\n{animal}[household]\nother_reptiles = true\n{rest}"
        ))
    }

    fn apart_until(answer: &crate::Answer) -> Option<Moment> {
        answer.states.iter().find(|one| one.state == State::Quarantine).and_then(|one| one.until)
    }

    #[test]
    fn it_lasts_half_a_year_and_from_the_wild_a_year() {
        // 180 d: the cautious end of 90 to 180 (read in the veterinary quarantine page); 365 d for animals from the wild.
        for (animal, at, until) in [
            ("", "2027-03-01T09:00", Some("2027-08-01T00:00")),
            ("", "2027-07-31T23:00", Some("2027-08-01T00:00")),
            ("", "2027-08-01T00:00", None),
            ("wild_caught = true\n", "2027-08-01T00:00", Some("2028-02-02T00:00")),
        ] {
            assert_eq!(apart_until(&newcomer(at, animal, "")), until.map(moment), "{animal} at {at}");
        }
    }

    #[test]
    fn alone_in_the_house_there_is_nobody_to_be_apart_from() {
        let answer = answer(
            "at = \"2027-03-01T09:00\"\n[animal]\nspecies = \"corn_snake\"\narrived = \"2027-02-01\"\n[household]\nother_reptiles = false\n",
        );
        assert!(!answer.is_in(State::Quarantine));
    }

    #[test]
    fn a_sign_that_others_could_catch_begins_the_count_anew() {
        let mites = "[[sign]]\nat = \"2027-02-20\"\nsign = \"mites-seen\"\n";
        assert_eq!(apart_until(&newcomer("2027-03-01T09:00", "", mites)), Some(moment("2027-08-20T00:00")));
        assert_eq!(
            apart_until(&newcomer("2027-08-10T09:00", "", mites)),
            Some(moment("2027-08-20T00:00")),
            "also when the first count would be over"
        );
        let late = "[[sign]]\nat = \"2027-08-05\"\nsign = \"mites-seen\"\n";
        assert_eq!(
            apart_until(&newcomer("2027-08-10T09:00", "", late)),
            None,
            "after its end there is nothing to begin anew"
        );
        let rub = "[[sign]]\nat = \"2027-02-20\"\nsign = \"rubbed-nose\"\n";
        assert_eq!(apart_until(&newcomer("2027-03-01T09:00", "", rub)), Some(moment("2027-08-01T00:00")));
    }

    #[test]
    fn an_outing_in_that_time_is_called_off() {
        for (day, told) in [("2027-03-03", true), ("2027-07-31", true), ("2027-08-01", false)] {
            let answer = newcomer("2027-03-01T09:00", "", &format!("[[planned]]\nfrom = \"{day}\"\nwhat = \"show\"\n"));
            assert_eq!(
                answer.finding(Code::QuarantineOpen).map(|found| found.severity),
                told.then_some(Severity::Act),
                "{day}"
            );
            assert_eq!(answer.hold(Action::Handle).is_some_and(|hold| hold.because[0].rule == RULE.key), told, "{day}");
        }
        let quiet = newcomer("2027-03-01T09:00", "", "");
        assert!(quiet.findings.iter().all(|found| found.severity < Severity::Act), "by itself the state says enough");
    }

    #[test]
    fn an_outing_that_took_place_is_spoken_of() {
        let answer = newcomer("2027-03-01T09:00", "", "[[planned]]\nfrom = \"2027-02-26\"\nwhat = \"visit\"\n");
        assert_eq!(answer.finding(Code::QuarantineBreach).map(|found| found.severity), Some(Severity::Watch));
    }

    #[test]
    fn sharing_an_enclosure_is_mended_today() {
        for (others, told) in [(0, false), (1, true)] {
            let answer = newcomer("2027-03-01T09:00", "", &format!("[enclosure]\ncohabitants = {others}\n"));
            assert_eq!(
                answer.finding(Code::QuarantineBreach).is_some_and(|found| found.severity == Severity::Act),
                told
            );
        }
    }

    #[test]
    fn it_is_looked_over_every_week() {
        //    weighed          now                  due now
        for (weighed, at, due) in [("2027-02-20", "2027-02-26T09:00", false), ("2027-02-20", "2027-02-27T00:00", true)]
        {
            let answer = newcomer(at, "", &format!("[[weighing]]\nat = \"{weighed}\"\nmass_g = 200\n"));
            assert_eq!(answer.due(Task::QuarantineCheck).is_some(), due, "{at}");
            assert_eq!(answer.ahead.iter().any(|one| one.task == Task::QuarantineCheck), !due, "{at}");
        }
    }

    #[test]
    fn stools_are_tested_at_the_beginning_and_before_the_end() {
        for (at, due) in [
            ("2027-02-15T23:00", true),
            ("2027-02-16T00:00", false),
            ("2027-07-17T23:00", false),
            ("2027-07-18T00:00", true),
        ] {
            assert_eq!(newcomer(at, "", "").due(Task::FaecalTest).is_some(), due, "{at}");
        }
    }

    #[test]
    fn back_after_a_long_absence_it_is_apart_again() {
        for (missing, apart) in [("2027-01-03T10:00", true), ("2027-01-03T11:00", false)] {
            let answer = answer(&format!(
                "at = \"2027-02-03T09:00\"\n[animal]\nspecies = \"corn_snake\"\n[household]\nother_reptiles = true\n\
                 [[sign]]\nat = \"{missing}\"\nsign = \"missing\"\n[[sign]]\nat = \"2027-02-02T10:00\"\nsign = \"found\"\n"
            ));
            assert_eq!(answer.is_in(State::Quarantine), apart, "missing since {missing}");
        }
    }
}
