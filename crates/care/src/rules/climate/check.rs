//! Temperatures are read from time to time, and again after one that was wrong.

use super::readings::{Climate, is_home};
use crate::answer::{Code, Severity, Task};
use crate::draft::{Draft, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::View;

/// Read at least once a week.
pub const RULE: Rule = Rule {
    key: "climate-check",
    says: "Where temperatures are noted, they are read at least once a week, and again on the day on which one was wrong.",
    because: "A heater that fails or a room that cools shows in a reading first.",
    sources: &["climate_check"],
    check,
};

/// What is put right today and then measured again.
const TEMPERATURE: [Code; 8] = [
    Code::WarmSurfaceHot,
    Code::WarmAirHot,
    Code::CoolSideWarm,
    Code::WarmSurfaceCool,
    Code::WarmAirCool,
    Code::CoolSideCold,
    Code::NightCold,
    Code::TooColdToDigest,
];

fn check(view: &View<'_>, draft: &mut Draft) {
    if !is_home(view) {
        return;
    }
    let wrong = TEMPERATURE.into_iter().filter_map(|code| draft.found(code)).find(|it| Severity::Act <= it.severity);
    if let Some(wrong) = wrong {
        let records = wrong.records.clone();
        let why = "A temperature was wrong: put it right and measure again today.";
        draft.due(Task::CheckClimate, RULE.key, why, view.today(), None, records);
        return;
    }
    let Some(last) = view.line.readings.iter().rev().find(|one| one.temperature_c.is_some()) else { return };
    let every = lines::low("climate_check");
    let opens = view.day_of(last.at.from.plus_days(every.value));
    let why = format!(
        "Temperatures were last read on {}: once a week is wanted, both ends and the night.",
        view.date(last.at.from)
    );
    if opens <= view.now {
        draft.due(Task::CheckClimate, RULE.key, why, opens, None, vec![seen(last)]);
    } else if !Climate::of(view).felt.is_empty() {
        draft.ahead(Task::CheckClimate, RULE.key, why, opens, None, vec![seen(last)]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};

    fn corn(at: &str, degrees: f64) -> crate::Answer {
        answer(&format!(
            "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n\
             [[reading]]\nat = \"2027-04-05T14:00\"\nspot = \"warm-air\"\ntemperature_c = {degrees}\n"
        ))
    }

    #[test]
    fn temperatures_are_read_again_after_a_week() {
        for (at, due) in [("2027-04-11T23:00", false), ("2027-04-12T00:00", true), ("2027-05-20T12:00", true)] {
            assert_eq!(corn(at, 28.5).due(Task::CheckClimate).is_some(), due, "{at}");
        }
        let soon = corn("2027-04-06T12:00", 28.5);
        let ahead = soon.ahead.iter().find(|one| one.task == Task::CheckClimate).unwrap();
        assert_eq!(ahead.from, moment("2027-04-12T00:00"));
    }

    #[test]
    fn what_was_wrong_is_measured_again_today() {
        for (degrees, due) in [(28.5, false), (31.0, false), (36.0, true), (23.0, true), (25.0, false)] {
            assert_eq!(corn("2027-04-05T18:00", degrees).due(Task::CheckClimate).is_some(), due, "{degrees} °C");
        }
    }

    #[test]
    fn where_nothing_was_ever_read_nothing_is_due() {
        let none = answer("at = \"2027-04-05T18:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n");
        assert!(none.due(Task::CheckClimate).is_none());
    }
}
