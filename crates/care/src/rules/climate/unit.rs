//! A temperature that looks like degrees Fahrenheit.

use super::readings::{Climate, Felt, place};
use crate::answer::{Code, Finding, Severity, Sure, Task};
use crate::draft::Draft;
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, celsius, number};
use crate::warmth::may_be_swapped;

/// The unit of a temperature.
pub const RULE: Rule = Rule {
    key: "unit",
    says: "A temperature that is no place to live in °C and a usual one in °F is asked about, never converted silently; a hot surface is told as hot all the same.",
    because: "A wrong unit hides both the cold and the burn.",
    sources: &["surface_real", "fahrenheit_pair"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    let climate = Climate::of(view);
    let Some(newest) = climate.doubtful.first() else { return };
    let Some(as_c) = in_celsius(newest) else { return };
    let line = lines::low("surface_real");
    let where_ = place(newest.spot());
    let (says, does, severity, sure) = if climate.is_fahrenheit {
        let others = climate.doubtful.iter().find(|one| one.spot() != newest.spot());
        let both =
            others.map_or(String::new(), |other| format!(" and {} for {}", number(other.degrees), place(other.spot())));
        let read = match others.and_then(in_celsius) {
            Some(other) => format!("{} and {}", celsius(as_c), celsius(other)),
            None => celsius(as_c),
        };
        (
            format!(
                "{} was noted for {where_}{both} as °C, which no enclosure bears; read as °F that is {read}.",
                number(newest.degrees)
            ),
            "Read the thermometer again and note it in its own unit; if it is degrees Celsius after all, take the animal out of that heat at once.",
            Severity::Act,
            Sure::Likely,
        )
    } else {
        let percent = newest.entry.humidity_pct.filter(|_| may_be_swapped(newest.entry));
        let or = percent.map_or(String::new(), |percent| {
            format!(
                ", or temperature and humidity stand in each other's place ({} at {:.0} %)",
                celsius(percent),
                newest.degrees
            )
        });
        (
            format!(
                "{} noted for {where_} is very hot, or it is degrees Fahrenheit ({}){or}.",
                celsius(newest.degrees),
                celsius(as_c)
            ),
            "Treat it as hot until you have measured again with another thermometer, and note the unit.",
            Severity::Watch,
            Sure::Possible,
        )
    };
    let records = climate.doubtful.iter().take(4).map(|one| one.record());
    let record = newest.record();
    draft.due(
        Task::CheckClimate,
        RULE.key,
        "A temperature is in doubt: measure it again today.",
        view.today(),
        None,
        vec![record],
    );
    draft.find(
        Finding::new(Code::UnitSuspect, severity, RULE.key, says, does)
            .on(records)
            .by(&line, "°C")
            .sure(sure)
            .caution("sensors"),
    );
}

/// The figure read as degrees Fahrenheit, in °C.
fn in_celsius(felt: &Felt<'_>) -> Option<f64> {
    units::Celsius::from_fahrenheit(felt.degrees).map(units::Celsius::degrees)
}

#[cfg(test)]
mod tests {
    use super::super::tests::{on_an_evening, read, severity, told};
    use super::*;
    use crate::answer::Severity::{Act, Urgent, Watch};

    #[test]
    fn a_hot_surface_alone_is_told_as_hot_and_asked_about() {
        for (degrees, unit, hot) in [
            ("49.9", None, Some(Urgent)),
            ("50", Some(Watch), Some(Urgent)),
            ("88", Some(Watch), Some(Urgent)),
            ("120", None, Some(Urgent)),
        ] {
            let answer = on_an_evening("corn_snake", &read(&[&format!("warm-surface 14:00 {degrees}")]));
            assert_eq!(severity(&answer, Code::UnitSuspect), unit, "{degrees}");
            assert_eq!(severity(&answer, Code::WarmSurfaceHot), hot, "{degrees}");
        }
    }

    #[test]
    fn two_places_that_make_sense_in_fahrenheit_raise_no_alarm_of_heat() {
        for (lines, unit, hottest) in [
            (&["warm-surface 14:00 90", "cool-air 14:00 76"][..], Some(Act), None),
            (&["warm-air 14:00 86", "cool-air 14:00 74"], Some(Act), None),
            (&["warm-surface 14:00 90", "room 14:00 70"], Some(Act), None),
            // One place is read rightly: the other may be hot.
            (&["warm-surface 14:00 90", "cool-air 14:00 24"], Some(Watch), Some(Urgent)),
            // Twice the same place.
            (&["warm-air 14:00 86", "warm-air 15:00 85"], Some(Watch), Some(Urgent)),
            // 60 and 55 °F would be 15.6 and 12.8 °C, colder than this species is kept: hot, until it is known.
            (&["warm-air 14:00 60", "cool-air 14:00 55"], Some(Watch), Some(Urgent)),
        ] {
            let answer = on_an_evening("corn_snake", &read(lines));
            assert_eq!(severity(&answer, Code::UnitSuspect), unit, "{lines:?}");
            assert_eq!(told(&answer).into_iter().map(|(_, severity)| severity).max(), hottest, "{lines:?}");
            assert!(answer.due(Task::CheckClimate).is_some(), "{lines:?}");
        }
    }

    #[test]
    fn usual_temperatures_are_not_asked_about() {
        let answer = on_an_evening("corn_snake", &read(&["warm-surface 14:00 31", "cool-air 14:00 23"]));
        assert_eq!(severity(&answer, Code::UnitSuspect), None);
    }
}
