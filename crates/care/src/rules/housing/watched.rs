//! Seen and looked after.

use records::facts::{Planned, PlannedWhat, SignKind};
use records::timeline::Entry;
use units::When;

use crate::answer::{Code, Evidence, Finding, Severity, Sure};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, days};

/// Seen from time to time.
pub const SEEN: Rule = Rule {
    key: "seen",
    says: "Somebody sees the animal at least once a week, or sees that it is in; in a winter rest every two weeks.",
    because: "An escape or an illness that nobody looks for is found too late.",
    sources: &["not_seen", "brum_check"],
    check: not_seen,
};
/// Looked after while the keeper is away.
pub const UNATTENDED: Rule = Rule {
    key: "unattended",
    says: "When the keeper is away for more than two days somebody looks in.",
    because: "Water runs dry, heaters fail and prey cools while nobody is there.",
    sources: &["unattended", "brum_check"],
    check: unattended,
};

/// The last record that shows that somebody saw the animal.
fn last_seen(view: &View<'_>) -> Option<(When, Evidence)> {
    let line = &view.line;
    let tells = |sign: SignKind| !matches!(sign, SignKind::Missing | SignKind::NoStool);
    let newest = [
        line.seen.last().map(|one| (one.at, seen(one))),
        line.weighings.iter().rev().find(|one| !one.estimated).map(|one| (one.at, seen(one))),
        line.measurements.last().map(|one| (one.at, seen(one))),
        line.handlings.last().map(|one| (one.at, seen(one))),
        line.meals.iter().rev().find(|one| one.was_eaten()).map(|one| (one.at, seen(one))),
        line.signs.iter().rev().find(|one| tells(one.sign)).map(|one| (one.at, seen(one))),
        line.sheds.iter().rev().find_map(|one| one.dull_at.max(one.blue_at).map(|at| (at, seen(one)))),
    ];
    newest.into_iter().flatten().max_by_key(|(at, _)| at.to)
}

fn not_seen(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() || view.missing_since().is_some() || view.is_elsewhere() {
        return;
    }
    // What was never written down was not necessarily not done.
    let keeps_all = view.case.animal.complete_since.is_some_and(|since| since.to <= view.now);
    if view.line.seen.is_empty() && !keeps_all {
        return;
    }
    let Some((at, record)) = last_seen(view) else { return };
    let days_since = view.days_since(at);
    let (watch, act) = if view.is_brumating() {
        let check = lines::high("brum_check");
        (check.clone(), check.with(2.0 * check.value))
    } else {
        (lines::low("not_seen"), lines::high("not_seen"))
    };
    if days_since <= watch.value {
        return;
    }
    let (severity, line) = if act.value < days_since { (Severity::Act, act) } else { (Severity::Watch, watch) };
    let says = format!("It was last seen on {}, {} ago.", view.date(at.from), days(days_since));
    let does =
        "Look for it in its hides and under the substrate today, without lifting it out, and note that it is in.";
    draft.find(Finding::new(Code::NotSeen, severity, SEEN.key, says, does).on([record]).by(&line, "d"));
}

fn unattended(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() {
        return;
    }
    let ahead_d = lines::low("unattended_ahead").value;
    let absence = view.line.planned.iter().find(|plan| {
        let near = plan.from.from <= view.now.plus_days(ahead_d) && view.now < plan.ends();
        plan.what == PlannedWhat::KeeperAway && plan.sitter != Some(true) && near
    });
    // An animal that goes elsewhere for that time is looked after there.
    let stays = |absence: &Entry<Planned>| {
        view.line.planned.iter().any(|plan| {
            plan.what == PlannedWhat::AnimalAway && plan.from.from <= absence.from.to && absence.ends() <= plan.ends()
        })
    };
    let Some(plan) = absence.filter(|absence| !stays(absence)) else { return };
    let hours = plan.ends().hours_since(plan.from.from);
    let (watch, act) = lines_of_absence(view);
    if hours <= watch.value {
        return;
    }
    let unasked = plan.sitter.is_none();
    let severity = if act.value < hours && !unasked { Severity::Act } else { Severity::Watch };
    let line = if severity == Severity::Act { act } else { watch };
    let who = if unasked { "nobody is named who looks in" } else { "nobody looks in" };
    let says = format!(
        "The keeper is away from {} for {}, and {who}.",
        view.date(plan.from.from),
        days((hours / 24.0).round())
    );
    let does = "Ask somebody to look in every other day: fresh water, the temperature read, the lock checked; no feeding and no handling.";
    let sure = if unasked { Sure::Possible } else { Sure::Firm };
    draft.find(
        Finding::new(Code::Unattended, severity, UNATTENDED.key, says, does).on([seen(plan)]).by(&line, "h").sure(sure),
    );
}

/// Hours for which nobody need look in: until water is overdue; in a winter rest until its look.
fn lines_of_absence(view: &View<'_>) -> (Line, Line) {
    if view.is_brumating() {
        let check = lines::high("brum_check");
        return (check.with(24.0 * check.value), check.with(48.0 * check.value));
    }
    (lines::low("unattended"), lines::high("unattended"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn corn(at: &str, more: &str) -> crate::Answer {
        answer(&format!("at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{more}"))
    }

    #[test]
    fn an_animal_is_looked_for_after_a_week() {
        let once = "[[seen]]\nat = \"2027-05-01T20:00\"\n";
        for (at, said) in [
            ("2027-05-08T20:00", None),
            ("2027-05-08T21:00", Some(Severity::Watch)),
            ("2027-05-15T20:00", Some(Severity::Watch)),
            ("2027-05-15T21:00", Some(Severity::Act)),
        ] {
            assert_eq!(corn(at, once).finding(Code::NotSeen).map(|one| one.severity), said, "{at}");
        }
        let weighed = format!("{once}[[weighing]]\nat = \"2027-05-12\"\nmass_g = 500\n");
        assert!(corn("2027-05-15T21:00", &weighed).finding(Code::NotSeen).is_none(), "a weighing shows it too");
    }

    #[test]
    fn where_nobody_notes_it_nothing_is_said() {
        let old = "[[weighing]]\nat = \"2027-03-01\"\nmass_g = 500\n";
        assert!(corn("2027-05-15T21:00", old).finding(Code::NotSeen).is_none());
        let whole = "at = \"2027-05-15T21:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\ncomplete_since = \"2027-02-01\"\n";
        assert!(answer(&format!("{whole}{old}")).finding(Code::NotSeen).is_some());
    }

    #[test]
    fn in_a_winter_rest_every_two_weeks_is_enough() {
        let rest = "[[planned]]\nfrom = \"2027-12-01\"\nuntil = \"2028-02-10\"\nwhat = \"brumation\"\n[[seen]]\nat = \"2028-01-01T12:00\"\n";
        assert!(corn("2028-01-15T12:00", rest).finding(Code::NotSeen).is_none());
        assert!(corn("2028-01-15T13:00", rest).finding(Code::NotSeen).is_some());
    }

    #[test]
    fn somebody_looks_in_while_the_keeper_is_away() {
        let away = |until: &str, sitter: &str| {
            format!("[[planned]]\nfrom = \"2027-06-10T08:00\"\nuntil = \"{until}\"\nwhat = \"keeper-away\"\n{sitter}")
        };
        let alone = "sitter = false\n";
        for (until, sitter, said) in [
            ("2027-06-12T08:00", alone, None),
            ("2027-06-12T09:00", alone, Some(Severity::Watch)),
            ("2027-06-14T08:00", alone, Some(Severity::Watch)),
            ("2027-06-14T09:00", alone, Some(Severity::Act)),
            ("2027-06-24T08:00", "sitter = true\n", None),
            ("2027-06-24T08:00", "", Some(Severity::Watch)),
        ] {
            let answer = corn("2027-06-08T12:00", &away(until, sitter));
            let found = answer.finding(Code::Unattended).map(|one| one.severity);
            assert_eq!(found, said, "until {until}, {sitter}");
        }
        let long = away("2027-06-24T08:00", alone);
        assert!(corn("2027-05-20T12:00", &long).finding(Code::Unattended).is_none(), "three weeks ahead");
        assert!(corn("2027-06-20T12:00", &long).finding(Code::Unattended).is_some(), "while it lasts");
        assert!(corn("2027-06-25T12:00", &long).finding(Code::Unattended).is_none(), "afterwards");
    }
}
