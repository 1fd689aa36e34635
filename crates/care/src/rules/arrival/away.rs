//! Missing, back again, or with somebody else.

use records::choice::Choice;
use records::facts::{EndingWhat, Reading, Sign, SignKind, Spot, Stage};
use records::timeline::Entry;
use species::Climate;
use units::When;

use super::{is_gone, missing_before};
use crate::answer::{Action, Code, Evidence, Finding, Severity, State, Sure};
use crate::draft::{Draft, Line, Strength, seen};
use crate::lines;
use crate::rules::{Rule, handling};
use crate::signs;
use crate::view::{View, celsius, days, metres, number, small};

/// Missing: search; everything else waits. Found: look it over.
pub const RULE: Rule = Rule {
    key: "away",
    says: "A missing animal is searched for and everything else waits; now, where the cold or its size makes it dangerous. Back again, it is looked over and weighed.",
    because: "Most are found near by in the first days, in warm dark places; cold kills a tropical animal within hours, and a giant is a danger to others.",
    sources: &["escape_check", "power_alert_tropical", "power_alert_temperate", "two_person_length", "returned_watch"],
    check,
};

const ALL_ACTIONS: [Action; 4] = [Action::OfferMeal, Action::Handle, Action::Move, Action::FullClean];

fn check(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() {
        return;
    }
    match view.missing_since() {
        Some(missing) => is_missing(view, draft, missing),
        None => {
            is_back(view, draft);
            is_elsewhere(view, draft);
        }
    }
}

fn is_missing(view: &View<'_>, draft: &mut Draft, missing: &Entry<Sign>) {
    let last_seen = view.line.seen.iter().rev().find(|one| one.at.from <= missing.at.to);
    let mut says = format!("Missing since {}{}", view.date_of(missing.at), ago(view, missing.at));
    if let Some(last) = last_seen {
        says.push_str(&format!("; last seen on {}{}", view.date_of(last.at), ago(view, last.at)));
    }
    draft.state(State::Away, missing.at.from, None, format!("{says}."));
    for action in ALL_ACTIONS {
        let why = format!("It has been missing since {}.", view.date_of(missing.at));
        draft.hold_open(
            action,
            Strength::Emergency,
            RULE.key,
            why,
            missing.at.from,
            "it has been found",
            vec![seen(missing)],
        );
    }

    let meaning = signs::meaning(SignKind::Missing, missing.grade);
    let mut does = meaning.map_or_else(|| "Search today.".to_owned(), |meaning| meaning.does.to_owned());
    let mut records = vec![seen(missing)];
    records.extend(last_seen.map(seen));
    let danger = cold(view, missing).or_else(|| large(view));
    let severity =
        if danger.is_some() { Severity::Urgent } else { meaning.map_or(Severity::Act, |meaning| meaning.severity) };
    if let Some(danger) = &danger {
        says.push_str(&format!("; {}", danger.says));
        does = format!("{}; then {}", danger.does, small(&does));
        records.extend(danger.record);
    }
    says.push('.');
    let caution = if danger.as_ref().is_some_and(|danger| danger.is_size) { "large-constrictor" } else { "escape" };
    let finding = Finding::new(Code::Escape, severity, RULE.key, says, does).on(records).caution(caution);
    draft.find(match danger {
        Some(danger) => finding.by(&danger.line, danger.unit),
        None => finding.by(&lines::low("escape_check"), "h"),
    });
}

/// «, 3 h ago», «, 12 days ago»; of a day without an hour « (today)», « (yesterday)».
fn ago(view: &View<'_>, at: When) -> String {
    let since = view.days_since(at);
    if at.has_hour() && since < 2.0 {
        format!(", {} h ago", number((since * 24.0).floor()))
    } else if view.today() <= at.from {
        " (today)".to_owned()
    } else if since < 1.0 {
        " (yesterday)".to_owned()
    } else {
        format!(", {} ago", days(since))
    }
}

/// What makes an escape dangerous.
struct Danger {
    says: String,
    does: &'static str,
    line: Line,
    unit: &'static str,
    record: Option<Evidence>,
    is_size: bool,
}

/// Colder than its kind bears, outdoors or in the room, since it went or shortly before.
fn cold(view: &View<'_>, missing: &Entry<Sign>) -> Option<Danger> {
    let urgent = match view.profile.climate {
        Climate::Tropical => lines::step("power_alert_tropical", 2),
        Climate::Temperate => lines::step("power_alert_temperate", 2),
    };
    let since = missing.at.from.plus_days(-1.0);
    let near = |one: &&Entry<Reading>| matches!(one.spot, Spot::Outdoors | Spot::Room) && since <= one.at.to;
    let coldest =
        view.line.readings.iter().filter(near).filter_map(|one| one.temperature_c.map(|degrees| (degrees, one)));
    let (degrees, reading) =
        coldest.min_by(|a, b| a.0.total_cmp(&b.0)).filter(|(degrees, _)| *degrees < urgent.value)?;
    let place = if reading.spot == Spot::Outdoors { "outdoors" } else { "in the room" };
    Some(Danger {
        says: format!("it is {} {place}, under the {} that its kind bears", celsius(degrees), celsius(urgent.value)),
        does: "Shut every way out now and keep the rooms warm",
        line: urgent,
        unit: "°C",
        record: Some(seen(reading)),
        is_size: false,
    })
}

/// Large enough to be a danger to people and other animals.
fn large(view: &View<'_>) -> Option<Danger> {
    let line = lines::low("two_person_length");
    let length = handling::length_m(view).filter(|_| view.is_constrictor_family());
    let grown_giant =
        handling::is_giant(view) && matches!(view.stage, Some(Stage::Subadult | Stage::Adult | Stage::Aged));
    let says = match &length {
        Some(length) if line.value <= length.value => {
            format!("at {} it is a danger to children and other animals", metres(length.value))
        }
        None if grown_giant => "grown, its kind is a danger to children and other animals".to_owned(),
        _ => return None,
    };
    let record = length.and_then(|length| length.record);
    Some(Danger {
        says,
        does: "Bring children and other animals out of the house first, and call a second adult",
        line,
        unit: "m",
        record,
        is_size: true,
    })
}

/// Found lately: what to look at.
fn is_back(view: &View<'_>, draft: &mut Draft) {
    let Some(found) = view.line.signs.iter().rev().find(|one| one.sign == SignKind::Found) else { return };
    let watch = lines::low("returned_watch");
    if found.at.to.plus_days(watch.value) <= view.now || is_gone(view) {
        return;
    }
    let Some(missing) = missing_before(view, found) else { return };
    let says = format!("It was missing from {} and found on {}.", view.date_of(missing.at), view.date_of(found.at));
    let does = format!(
        "Look it over for wounds, kinks, burns, mites and wheezing, give water and its own warmth, weigh it, and close the way it took; then watch it for {} days.",
        number(watch.value)
    );
    draft.find(
        Finding::new(Code::Escape, Severity::Watch, RULE.key, says, does)
            .on([seen(found), seen(missing)])
            .by(&watch, "d")
            .sure(Sure::Firm),
    );
}

/// Lent, sold or given away.
fn is_elsewhere(view: &View<'_>, draft: &mut Draft) {
    let Some(ending) = view.line.endings.last() else { return };
    if !matches!(ending.what, EndingWhat::Lent | EndingWhat::Sold | EndingWhat::Given) {
        return;
    }
    let why = format!(
        "It has been {} since {}.",
        if ending.what == EndingWhat::Given { "given away".to_owned() } else { ending.what.words() },
        view.date_of(ending.at)
    );
    draft.state(State::Away, ending.at.from, None, why.clone());
    for action in ALL_ACTIONS {
        draft.hold_open(
            action,
            Strength::Plan,
            RULE.key,
            why.clone(),
            ending.at.from,
            "it is back",
            vec![seen(ending)],
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn missing(animal: &str, rest: &str) -> crate::Answer {
        answer(&format!(
            "at = \"2027-01-12T20:00\"\n[animal]\n{animal}\n[[sign]]\nat = \"2027-01-12T08:00\"\nsign = \"missing\"\n{rest}"
        ))
    }

    #[test]
    fn everything_waits_while_it_is_missing() {
        let answer = missing("species = \"corn_snake\"", "[[meal]]\nat = \"2026-12-01\"\noutcome = \"taken\"\n");
        assert!(answer.is_in(State::Away));
        for action in ALL_ACTIONS {
            assert_eq!(
                answer.hold(action).map(|hold| (hold.until, hold.ends_with)),
                Some((None, Some("it has been found"))),
                "{action}"
            );
        }
        assert!(answer.due.is_empty(), "nothing is due for one that is not there");
        assert_eq!(answer.finding(Code::Escape).map(|found| found.severity), Some(Severity::Act));
    }

    #[test]
    fn it_says_for_how_long() {
        for (since, words) in [
            ("2027-01-12T08:00", "at 08:00, 12 h ago."),
            ("2027-01-12", "(today)."),
            ("2027-01-11", "(yesterday)."),
            ("2027-01-02", "2 Jan 2027, 9 days ago."),
        ] {
            let answer = answer(&format!(
                "at = \"2027-01-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\n[[sign]]\nat = \"{since}\"\nsign = \"missing\"\n"
            ));
            let says = &answer.finding(Code::Escape).unwrap().says;
            assert!(says.ends_with(words), "{says}");
        }
    }

    #[test]
    fn cold_makes_it_urgent_by_what_its_kind_bears() {
        //    species       spot        °C     severity      (18 °C tropical, 5 °C temperate: lines of the power cut rules)
        for (species, spot, degrees, severity) in [
            ("ball_python", "outdoors", 17.9, Severity::Urgent),
            ("ball_python", "outdoors", 18.0, Severity::Act),
            ("ball_python", "room", 12.0, Severity::Urgent),
            ("ball_python", "warm-air", 12.0, Severity::Act),
            ("corn_snake", "outdoors", 12.0, Severity::Act),
            ("corn_snake", "outdoors", 4.9, Severity::Urgent),
        ] {
            let reading =
                format!("[[reading]]\nat = \"2027-01-12T18:00\"\nspot = \"{spot}\"\ntemperature_c = {degrees}\n");
            let answer = missing(&format!("species = \"{species}\""), &reading);
            assert_eq!(
                answer.finding(Code::Escape).map(|found| found.severity),
                Some(severity),
                "{species}, {degrees} °C {spot}"
            );
        }
    }

    #[test]
    fn a_large_constrictor_at_large_is_urgent() {
        for (species, cm, severity) in [
            ("boa_imperator", 239.0, Severity::Act),
            ("boa_imperator", 240.0, Severity::Urgent),
            ("corn_snake", 240.0, Severity::Act),
        ] {
            let length = format!("[[measurement]]\nat = \"2026-12-01\"\ntotal_length_cm = {cm}\n");
            let answer = missing(&format!("species = \"{species}\""), &length);
            assert_eq!(
                answer.finding(Code::Escape).map(|found| found.severity),
                Some(severity),
                "{species} of {cm} cm"
            );
            assert!(answer.finding(Code::Escape).unwrap().caution.is_some(), "{species} of {cm} cm");
        }
        let unmeasured = missing("species = \"Python bivittatus\"\nstage = \"adult\"", "");
        assert_eq!(unmeasured.finding(Code::Escape).map(|found| found.severity), Some(Severity::Urgent));
    }

    #[test]
    fn found_again_it_is_looked_over_for_a_week() {
        for (found, told) in [("2027-01-12T19:00", true), ("2027-01-05T21:00", true), ("2027-01-05T20:00", false)] {
            let answer = answer(&format!(
                "at = \"2027-01-12T20:00\"\n[animal]\nspecies = \"ball_python\"\n[[sign]]\nat = \"2027-01-04T08:00\"\nsign = \"missing\"\n\
                 [[sign]]\nat = \"{found}\"\nsign = \"found\"\n"
            ));
            assert_eq!(
                answer.finding(Code::Escape).map(|found| found.severity),
                told.then_some(Severity::Watch),
                "found on {found}"
            );
            assert!(!answer.is_in(State::Away));
        }
    }

    #[test]
    fn a_lent_animal_is_away_until_it_is_returned() {
        let lent = "[[ending]]\nat = \"2027-01-02\"\nwhat = \"lent\"\n";
        let back = "[[ending]]\nat = \"2027-01-10\"\nwhat = \"returned\"\n";
        for (endings, away) in [(lent.to_owned(), true), (format!("{lent}{back}"), false)] {
            let answer = answer(&format!("at = \"2027-01-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\n{endings}"));
            assert_eq!(answer.is_in(State::Away), away, "{endings}");
        }
    }
}
