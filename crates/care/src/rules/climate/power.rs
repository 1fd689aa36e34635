//! Power cuts: while one lasts, and the day after.

use records::facts::Power;
use records::timeline::Entry;

use super::cold::{chill_now, cold_lines, since_the_cut};
use super::readings::{Climate, Felt, is_home, measured};
use crate::answer::{Action, Code, Finding, Severity, Task};
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, celsius};

/// A power cut.
pub const RULE: Rule = Rule {
    key: "power-cut",
    says: "While the power is out the temperature is read every few hours and nothing is fed; after a cut that cooled the enclosure, no food for a day.",
    because: "A meal in a cooling animal is not digested; and a short cut that cooled nothing asks for nothing.",
    sources: &["power_no_food", "power_food_after", "power_measure", "power_cools"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if !is_home(view) {
        return;
    }
    match view.power_out() {
        Some(cut) => out(view, draft, cut),
        None => back(view, draft),
    }
}

fn out(view: &View<'_>, draft: &mut Draft, cut: &Entry<Power>) {
    let climate = Climate::of(view);
    let hours = view.now.hours_since(cut.from.from);
    let measure = lines::low("power_measure");
    let last = since_the_cut(&climate).into_iter().max_by_key(|one| one.at);
    let chill = chill_now(view, &climate);
    let unread_h = last.map_or(hours, |last| view.now.hours_since(last.at));
    let cold = chill.as_ref().is_some_and(|chill| Severity::Act <= chill.severity);
    let unknown = last.is_none() && measure.value <= hours && !view.is_brumating();
    // That it is cold is told by the rule for cold; here it is told that nobody knows.
    let severity = if unknown { Severity::Act } else { Severity::Watch };
    let long = if hours < 1.0 { "less than an hour".to_owned() } else { format!("{hours:.0} h") };
    let lines = cold_lines(view);
    let says = match &last {
        Some(last) => format!("The power has been out for {long}; {}.", lower(&measured(view, last))),
        None => format!("The power has been out for {long}, and nothing was measured since."),
    };
    let does = if cold {
        "Ask when the power will be back, and look now for a warm place where the animal can spend the night."
            .to_owned()
    } else if unread_h < measure.value {
        format!(
            "Keep the enclosure closed and read the temperature again within {:.0} h; under {} it needs warming.",
            measure.value,
            celsius(lines.warn.value)
        )
    } else {
        format!(
            "Read the temperature now and every {:.0} h; under {} wrap the enclosure and warm the air in it.",
            measure.value,
            celsius(lines.warn.value)
        )
    };
    if measure.value <= unread_h {
        let why = format!("The power is out and nothing was measured for {unread_h:.0} h.");
        draft.due(Task::CheckClimate, RULE.key, why, view.today(), None, vec![seen(cut)]);
    }
    let why = "The power is out: a meal is not digested in a cooling enclosure.";
    let ends = "the power is back and the enclosure warm for a day";
    let records = vec![seen(cut)];
    draft.hold_open(Action::OfferMeal, Strength::Emergency, RULE.key, why, cut.from.from, ends, records);
    draft.find(
        Finding::new(Code::PowerOut, severity, RULE.key, says, does)
            .on([seen(cut)])
            .on(last.iter().map(Felt::record))
            .by(&lines.warn, "°C")
            .caution("power-cut"),
    );
}

/// With a small letter, for the middle of a sentence.
fn lower(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}

fn back(view: &View<'_>, draft: &mut Draft) {
    let Some((cut, until)) = view.line.power.iter().rev().find_map(|cut| Some((cut, cut.until?))) else { return };
    let after = lines::low("power_food_after");
    let free = until.to.plus_hours(after.value);
    if free <= view.now {
        return;
    }
    let climate = Climate::of(view);
    let warn = cold_lines(view).warn;
    let during: Vec<Felt<'_>> = climate
        .felt
        .iter()
        .filter(|one| cut.from.from <= one.entry.at.to && one.entry.at.from <= until.to)
        .copied()
        .collect();
    let warmest = during.iter().max_by(|a, b| a.degrees.total_cmp(&b.degrees));
    let hours = until.to.hours_since(cut.from.from);
    let cooled = match warmest {
        Some(warmest) => warmest.degrees < warn.value,
        None => lines::low("power_cools").value <= hours,
    };
    let long = if hours < 1.0 { format!("{:.0} minutes", hours * 60.0) } else { format!("{hours:.0} h") };
    let back = view.date_of(until);
    let (says, does, severity) = match (cooled, warmest) {
        (true, Some(warmest)) => (
            format!("The power was out for {long} until {back}; {}.", lower(&measured(view, warmest))),
            "See that the warm side is back in its range, and leave the animal in peace until it has been so for a day.",
            Severity::Watch,
        ),
        (true, None) => (
            format!("The power was out for {long} until {back}, and nothing was measured while it was."),
            "Measure the warm side now, and leave the animal in peace until it has been in its range for a day.",
            Severity::Watch,
        ),
        (false, _) => (
            format!("The power was out for {long} until {back}; nothing cooled that matters."),
            "Look whether every thermostat and timer runs again as it was set.",
            Severity::Note,
        ),
    };
    if cooled {
        let why =
            format!("The power was out for {long}: no meal before the heat has been back for {:.0} h.", after.value);
        let from = cut.from.from;
        draft.hold_until(Action::OfferMeal, Strength::Emergency, RULE.key, why, from, free, vec![seen(cut)]);
    }
    let finding = Finding::new(Code::PowerOut, severity, RULE.key, says, does)
        .on([seen(cut)])
        .on(warmest.filter(|_| cooled).map(Felt::record));
    draft.find(if cooled { finding.by(&after, "h") } else { finding.from(lines::source("power_cools")) });
}

#[cfg(test)]
mod tests {
    use super::super::tests::{at, read, severity, told};
    use super::*;
    use crate::answer::Severity::{Act, Note, Watch};
    use crate::testing::moment;

    fn cut(from: &str, until: Option<&str>) -> String {
        let until = until.map_or(String::new(), |until| format!("until = \"2027-04-{until}\"\n"));
        format!("[[power]]\nfrom = \"2027-04-{from}\"\n{until}")
    }

    #[test]
    fn while_it_is_out_nothing_is_fed_and_the_temperature_is_read() {
        let out = cut("06T10:00", None);
        for (now, lines, expected, check) in [
            ("2027-04-06T13:00", &[][..], Watch, false),
            ("2027-04-06T14:00", &[], Act, true),
            ("2027-04-06T15:00", &["room 13:00 26"], Watch, false),
            ("2027-04-06T18:00", &["room 13:00 26"], Watch, true),
            ("2027-04-06T15:00", &["room 14:00 21.9"], Watch, false),
        ] {
            let answer = at(now, "ball_python", &format!("{out}{}", read(lines)));
            assert_eq!(severity(&answer, Code::PowerOut), Some(expected), "{now} {lines:?}");
            let measure = answer.due(Task::CheckClimate).is_some_and(|due| due.rule == RULE.key);
            assert_eq!(measure, check, "{now} {lines:?}");
            let hold = answer.hold(Action::OfferMeal).unwrap();
            assert_eq!((hold.from, hold.until), (moment("2027-04-06T10:00"), None));
        }
    }

    #[test]
    fn in_a_power_cut_the_warmest_place_counts_and_the_room_is_one() {
        let out = cut("06T08:00", None);
        for (species, lines, expected) in [
            ("ball_python", &["room 14:00 25"][..], None),
            ("ball_python", &["room 14:00 22"], None),
            ("ball_python", &["room 14:00 21.9"], Some(Severity::Act)),
            ("ball_python", &["room 14:00 17.9"], Some(Severity::Urgent)),
            ("ball_python", &["room 14:00 17.9", "warm-air 14:00 23"], None),
            ("corn_snake", &["room 14:00 18"], None),
            ("corn_snake", &["room 14:00 17.9"], Some(Severity::Watch)),
            ("corn_snake", &["room 14:00 11.9"], Some(Severity::Act)),
            ("corn_snake", &["room 14:00 4.9"], Some(Severity::Urgent)),
            // Readings from before the cut say nothing of it.
            ("corn_snake", &["warm-air 07:00 28", "room 14:00 11.9"], Some(Severity::Act)),
        ] {
            let answer = at("2027-04-06T15:00", species, &format!("{out}{}", read(lines)));
            let cold = told(&answer).into_iter().map(|(_, severity)| severity).max();
            assert_eq!(cold, expected, "{species} {lines:?}");
        }
    }

    #[test]
    fn food_inside_and_hatchlings_are_chilled_sooner() {
        let cold = format!("{}{}", cut("06T08:00", None), read(&["room 14:00 20"]));
        let worst = |answer: &crate::Answer| told(answer).into_iter().map(|(_, severity)| severity).max();
        assert_eq!(worst(&at("2027-04-06T15:00", "corn_snake", &cold)), None);
        let fed = format!("{cold}[[meal]]\nat = \"2027-04-05T20:00\"\noutcome = \"taken\"\n");
        assert_eq!(worst(&at("2027-04-06T15:00", "corn_snake", &fed)), Some(Severity::Act));
        let hatchling = crate::testing::answer(&format!(
            "at = \"2027-04-06T15:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"hatchling\"\n{cold}"
        ));
        assert_eq!(worst(&hatchling), Some(Severity::Act));
    }

    #[test]
    fn a_cut_that_is_over() {
        let long = cut("06T01:00", Some("06T06:00"));
        for (case, lines, said, held) in [
            (cut("06T02:00", Some("06T02:40")), &[][..], Some(Note), false),
            (cut("06T02:00", Some("06T03:59")), &[], Some(Note), false),
            (cut("06T02:00", Some("06T04:00")), &[], Some(Watch), true),
            (long.clone(), &["warm-air 05:00 24"], Some(Note), false),
            (long.clone(), &["warm-air 05:00 21", "warm-air 14:00 30"], Some(Watch), true),
            (cut("04T01:00", Some("04T06:00")), &[], None, false),
        ] {
            let answer = at("2027-04-06T15:00", "ball_python", &format!("{case}{}", read(lines)));
            assert_eq!(severity(&answer, Code::PowerOut), said, "{case} {lines:?}");
            assert_eq!(answer.hold(Action::OfferMeal).is_some(), held, "{case} {lines:?}");
        }
        let answer = at("2027-04-06T15:00", "ball_python", &long);
        assert_eq!(
            answer.hold(Action::OfferMeal).unwrap().until,
            Some(moment("2027-04-07T06:00")),
            "a day of heat first"
        );
    }
}
