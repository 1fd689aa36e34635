//! Chores: water, waste, the floor.

use records::facts::{CleaningTask, PlannedWhat};
use units::{Moment, When};

use crate::answer::{Action, Code, Evidence, Finding, Severity, State, Task};
use crate::draft::{Draft, Line, seen, seen_at};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, days};

/// Fresh water.
pub const WATER: Rule = Rule {
    key: "fresh-water",
    says: "Water is changed every day and is overdue after two, for every species; in a winter rest every week or two.",
    because: "A snake drinks, soaks and leaves waste in the same bowl.",
    sources: &["water_change", "brum_check"],
    check: water,
};
/// Waste.
pub const SPOT: Rule = Rule {
    key: "waste",
    says: "Waste, shed skin and wet patches are looked for every day; two weeks without a look are too long.",
    because: "What lies there breeds what makes skin and gut ill.",
    sources: &["spot_clean", "spot_clean_overdue"],
    check: spot,
};
/// The floor.
pub const FULL: Rule = Rule {
    key: "full-clean",
    says: "The floor is replaced and everything disinfected every two to three months, a planted floor in part once or twice a year; never in a shed, in a winter rest, with a meal inside or while she carries or broods.",
    because: "Waste soaks in where no spot cleaning reaches; and the animal is lifted out for it.",
    sources: &["substrate", "full_clean_bioactive"],
    check: full,
};

/// The last time a chore was done, or the day from which the records hold everything. Before that, and with neither,
/// nothing is known: what was not written down was not necessarily left undone.
struct Last {
    at: When,
    record: Evidence,
    is_done: bool,
}

fn last(view: &View<'_>, task: CleaningTask) -> Option<Last> {
    let since = view.case.animal.complete_since.filter(|since| since.to <= view.now);
    if since.is_none() && !view.line.cleanings.iter().any(|one| one.task == task) {
        return None;
    }
    // A full clean brings fresh water and a clean floor.
    let done = view.line.cleanings.iter().rev().find(|one| one.task == task || one.task == CleaningTask::Full);
    match done {
        Some(done) => Some(Last { at: done.at, record: seen(done), is_done: true }),
        None => since.map(|at| Last { at, record: seen_at(view.case.animal.key, at), is_done: false }),
    }
}

/// Is there an animal in the enclosure to do it for?
fn is_there(view: &View<'_>) -> bool {
    !view.is_dead() && view.missing_since().is_none() && !view.is_elsewhere()
}

fn done(view: &View<'_>, last: &Last, what: &str) -> String {
    if last.is_done {
        format!("{what} on {}", view.date_of(last.at))
    } else {
        format!("Nothing is noted of it since {}", view.date(last.at.from))
    }
}

fn water(view: &View<'_>, draft: &mut Draft) {
    let Some(last) = last(view, CleaningTask::Water).filter(|_| is_there(view)) else { return };
    let (due, over, long) = if view.is_brumating() {
        let (low, high) = (lines::low("brum_check"), lines::high("brum_check"));
        let long = high.with(2.0 * 24.0 * high.value);
        (low.with(24.0 * low.value), high.with(24.0 * high.value), long)
    } else {
        let own = view.profile.water.as_ref().map(|water| &water.change_h);
        let (low, high) = match own {
            Some(own) => (Line::low(own), Line::high(own)),
            None => (lines::low("water_change"), lines::high("water_change")),
        };
        (low, high, lines::low("water_long_overdue"))
    };
    let opens = view.day_of(last.at.from.plus_hours(due.value));
    let overdue_at = last.at.to.plus_hours(over.value);
    let every = if due.value < 48.0 { format!("{:.0} h", due.value) } else { days(due.value / 24.0) };
    let why = format!("{}: fresh water is wanted every {every}.", done(view, &last, "The water was changed"));
    open(view, draft, Task::ChangeWater, WATER.key, why, opens, Some(overdue_at), &last);
    if view.now <= overdue_at {
        return;
    }
    let is_long = long.value < view.now.hours_since(last.at.to);
    let severity = if is_long { Severity::Act } else { Severity::Watch };
    let says = format!(
        "{}; {:.0} h is the longest it should stand.",
        done(view, &last, "The water was last changed"),
        over.value
    );
    let does = "Empty, scrub and fill the bowl now, and note it.";
    let line = if is_long { &long } else { &over };
    draft.find(
        Finding::new(Code::WaterOverdue, severity, WATER.key, says, does)
            .on([last.record])
            .by(line, "h")
            .caution("hygiene"),
    );
}

/// Puts a task where it belongs: open now, or ahead.
#[expect(clippy::too_many_arguments, reason = "the parts of one task, passed on once")]
fn open(
    view: &View<'_>,
    draft: &mut Draft,
    task: Task,
    rule: &'static str,
    why: String,
    from: Moment,
    by: Option<Moment>,
    last: &Last,
) {
    let records = vec![last.record];
    if from <= view.now {
        draft.due(task, rule, why, from, by, records);
    } else {
        draft.ahead(task, rule, why, from, by, records);
    }
}

fn spot(view: &View<'_>, draft: &mut Draft) {
    let Some(last) = last(view, CleaningTask::Spot).filter(|_| is_there(view) && !view.is_brumating()) else { return };
    let every = lines::low("spot_clean");
    let opens = view.day_of(last.at.from.plus_days(every.value));
    let why = format!("{}: waste is looked for every day.", done(view, &last, "Waste was looked for"));
    open(view, draft, Task::SpotClean, SPOT.key, why, opens, None, &last);
    let over = lines::low("spot_clean_overdue");
    let days_since = view.days_since(last.at);
    if days_since <= over.value {
        return;
    }
    let says = format!("{}, {} ago.", done(view, &last, "Waste was last looked for"), days(days_since));
    let does = "Take out waste, shed skin and wet patches today, and note it.";
    draft.find(
        Finding::new(Code::CleanOverdue, Severity::Watch, SPOT.key, says, does)
            .on([last.record])
            .by(&over, "d")
            .caution("hygiene"),
    );
}

/// Words in a keeper's name of a floor that lives and is not replaced as a whole.
const LIVING: [&str; 4] = ["bioactive", "bio-active", "planted", "living"];

fn full(view: &View<'_>, draft: &mut Draft) {
    let Some(last) = last(view, CleaningTask::Full).filter(|_| is_there(view)) else { return };
    let substrate = view.enclosure().and_then(|enclosure| enclosure.substrate.as_deref()).map(str::to_lowercase);
    let lives = substrate.as_ref().is_some_and(|name| LIVING.iter().any(|word| name.contains(word)));
    let id = if lives { "full_clean_bioactive" } else { "substrate" };
    let (due, over) = (lines::low(id), lines::high(id));
    let opens = view.day_of(last.at.from.plus_days(due.value));
    let by = last.at.to.plus_days(over.value);
    let what = if lives { "The floor was last renewed in part" } else { "The floor was last replaced" };
    let why = format!("{}: it is due after {:.0} days.", done(view, &last, what), due.value);
    if view.now < opens {
        open(view, draft, Task::FullClean, FULL.key, why, opens, Some(by), &last);
        return;
    }
    if let Some(spared) = spared(view, draft) {
        if let Some(until) = spared.until {
            let why = format!("{why} {}", spared.why);
            draft.ahead(Task::FullClean, FULL.key, why, until, None, vec![last.record]);
        }
        return;
    }
    open(view, draft, Task::FullClean, FULL.key, why, opens, Some(by), &last);
    if view.now <= by {
        return;
    }
    let says = format!("{}, {} ago.", done(view, &last, what), days(view.days_since(last.at)));
    let does = if lives {
        "Renew the top layer in part, and leave the rest to its fauna."
    } else {
        "Replace the floor, clean and disinfect everything, and let it dry before the animal goes back in."
    };
    // One floor, one finding: with a substrate named it is the substrate, else the cleaning.
    let code = if substrate.is_some() { Code::SubstrateOverdue } else { Code::CleanOverdue };
    draft.find(
        Finding::new(code, Severity::Watch, FULL.key, says, does)
            .on([last.record])
            .by(&over, "d")
            .caution("disinfectants"),
    );
}

/// Why a full clean waits, and until when where that is known.
struct Spared {
    why: &'static str,
    until: Option<Moment>,
}

fn spared(view: &View<'_>, draft: &Draft) -> Option<Spared> {
    if view.open_shed().is_some() {
        return Some(Spared { why: "It waits until the skin is off.", until: None });
    }
    if view.brooding().is_some() {
        return Some(Spared { why: "It waits until the eggs have hatched or were taken from her.", until: None });
    }
    if view.gravid().is_some() {
        return Some(Spared { why: "It waits until she has laid or given birth.", until: None });
    }
    if let Some(rest) = view.brumation(0.0) {
        return Some(Spared { why: "It waits until the winter rest is over.", until: Some(rest.ends()) });
    }
    let away = view
        .line
        .planned
        .iter()
        .find(|plan| plan.what == PlannedWhat::KeeperAway && plan.from.from <= view.now && view.now < plan.ends());
    if let Some(away) = away {
        return Some(Spared { why: "It waits until the keeper is back.", until: Some(away.ends()) });
    }
    let held = [Action::FullClean, Action::Move].into_iter().filter_map(|action| draft.held_until(action));
    let held = held.reduce(|a, b| a.zip(b).map(|(a, b)| a.max(b)));
    if let Some(until) = held {
        return Some(Spared { why: "It waits until the animal may be lifted out.", until });
    }
    draft.is_in(State::Settling).then_some(Spared { why: "It waits until the animal has settled in.", until: None })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};

    fn corn(at: &str, more: &str) -> crate::Answer {
        answer(&format!("at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{more}"))
    }
    fn chore(at: &str, task: &str) -> String {
        format!("[[cleaning]]\nat = \"{at}\"\ntask = \"{task}\"\n")
    }
    fn severity(answer: &crate::Answer, code: Code) -> Option<Severity> {
        answer.finding(code).map(|one| one.severity)
    }

    #[test]
    fn water_is_due_the_next_day_and_overdue_after_two() {
        let water = chore("2027-05-04T08:00", "water");
        for (at, due, said) in [
            ("2027-05-04T23:59", false, None),
            ("2027-05-05T00:00", true, None),
            ("2027-05-06T08:00", true, None),
            ("2027-05-06T09:00", true, Some(Severity::Watch)),
            ("2027-05-08T08:00", true, Some(Severity::Watch)),
            ("2027-05-08T09:00", true, Some(Severity::Act)),
        ] {
            let answer = corn(at, &water);
            assert_eq!(answer.due(Task::ChangeWater).is_some(), due, "{at}");
            assert_eq!(severity(&answer, Code::WaterOverdue), said, "{at}");
        }
        let next = corn("2027-05-04T20:00", &water);
        let ahead = next.ahead.iter().find(|one| one.task == Task::ChangeWater).unwrap();
        assert_eq!(ahead.from, moment("2027-05-05T00:00"));
    }

    #[test]
    fn water_of_a_day_without_an_hour_is_counted_from_its_end() {
        let water = chore("2027-05-04", "water");
        assert!(corn("2027-05-06T23:00", &water).finding(Code::WaterOverdue).is_none());
        assert!(corn("2027-05-07T01:00", &water).finding(Code::WaterOverdue).is_some());
    }

    #[test]
    fn in_a_winter_rest_water_waits_a_week() {
        let rest = "[[planned]]\nfrom = \"2027-12-01\"\nuntil = \"2028-02-10\"\nwhat = \"brumation\"\n";
        let water = chore("2028-01-01T08:00", "water");
        for (at, due, overdue) in
            [("2028-01-07T12:00", false, false), ("2028-01-08T12:00", true, false), ("2028-01-15T09:00", true, true)]
        {
            let answer = corn(at, &format!("{rest}{water}"));
            assert_eq!(answer.due(Task::ChangeWater).is_some(), due, "{at}");
            assert_eq!(answer.finding(Code::WaterOverdue).is_some(), overdue, "{at}");
        }
    }

    #[test]
    fn what_was_never_written_down_is_not_overdue() {
        let silent = corn("2027-05-04T12:00", "");
        for task in [Task::ChangeWater, Task::SpotClean, Task::FullClean] {
            assert!(silent.due(task).is_none(), "{task}");
        }
        let whole = answer(
            "at = \"2027-05-04T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\ncomplete_since = \"2027-01-01\"\n",
        );
        assert_eq!(severity(&whole, Code::WaterOverdue), Some(Severity::Act));
        assert_eq!(severity(&whole, Code::CleanOverdue), Some(Severity::Watch));
    }

    #[test]
    fn waste_is_looked_for_every_day_and_overdue_after_two_weeks() {
        let spot = chore("2027-05-04T08:00", "spot");
        for (at, due, said) in [
            ("2027-05-04T20:00", false, false),
            ("2027-05-05T07:00", true, false),
            ("2027-05-18T08:00", true, false),
            ("2027-05-18T09:00", true, true),
        ] {
            let answer = corn(at, &spot);
            assert_eq!(answer.due(Task::SpotClean).is_some(), due, "{at}");
            assert_eq!(answer.finding(Code::CleanOverdue).is_some(), said, "{at}");
        }
    }

    #[test]
    fn a_full_clean_is_fresh_water_too_but_starts_no_count_of_its_own() {
        let full = chore("2027-05-04T08:00", "full");
        assert!(corn("2027-05-10T08:00", &full).due(Task::ChangeWater).is_none(), "water was never noted");
        let both = format!("{}{full}", chore("2027-05-03T08:00", "water"));
        assert!(corn("2027-05-04T20:00", &both).due(Task::ChangeWater).is_none(), "the full clean brought it");
        assert!(corn("2027-05-05T20:00", &both).due(Task::ChangeWater).is_some());
    }

    #[test]
    fn the_floor_is_due_after_two_months_and_overdue_after_three() {
        let with = |at: &str| format!("{}{}{}", chore("2027-03-01", "full"), chore(at, "spot"), chore(at, "water"));
        for (at, due, said) in [
            ("2027-04-29T12:00", false, None),
            ("2027-04-30T12:00", true, None),
            ("2027-05-30T23:00", true, None),
            ("2027-05-31T12:00", true, Some(Severity::Watch)),
        ] {
            let answer = corn(at, &with(&at[..10]));
            assert_eq!(answer.due(Task::FullClean).is_some(), due, "{at}");
            assert_eq!(severity(&answer, Code::CleanOverdue), said, "{at}");
        }
        let at = "2027-05-31T12:00";
        let named = corn(at, &format!("{}[enclosure]\nsubstrate = \"aspen\"\n", with("2027-05-31")));
        assert!(named.finding(Code::SubstrateOverdue).is_some() && named.finding(Code::CleanOverdue).is_none());
        let planted = corn(at, &format!("{}[enclosure]\nsubstrate = \"planted soil\"\n", with("2027-05-31")));
        assert!(planted.finding(Code::SubstrateOverdue).is_none() && planted.due(Task::FullClean).is_none());
    }

    #[test]
    fn a_full_clean_waits_for_what_must_not_be_disturbed() {
        let old = chore("2027-03-01", "full");
        let at = "2027-05-20T12:00";
        assert!(corn(at, &old).due(Task::FullClean).is_some());
        for (what, more) in [
            ("a shed", "[[shed]]\ndull_at = \"2027-05-15\"\n"),
            ("eggs inside", "[[breeding]]\nat = \"2027-05-01\"\nwhat = \"gravid\"\n"),
            ("a winter rest", "[[planned]]\nfrom = \"2027-05-01\"\nuntil = \"2027-06-20\"\nwhat = \"brumation\"\n"),
            (
                "the keeper's absence",
                "[[planned]]\nfrom = \"2027-05-18\"\nuntil = \"2027-05-25\"\nwhat = \"keeper-away\"\nsitter = true\n",
            ),
            ("a meal inside", "[[meal]]\nat = \"2027-05-19T20:00\"\noutcome = \"taken\"\n"),
        ] {
            let answer = corn(at, &format!("{old}{more}"));
            assert!(answer.due(Task::FullClean).is_none(), "{what}");
        }
        let away = corn(
            at,
            &format!(
                "{old}[[planned]]\nfrom = \"2027-05-18\"\nuntil = \"2027-05-25\"\nwhat = \"keeper-away\"\nsitter = true\n"
            ),
        );
        let ahead = away.ahead.iter().find(|one| one.task == Task::FullClean).unwrap();
        assert_eq!(ahead.from, moment("2027-05-26T00:00"), "when the keeper is back");
    }
}
