//! A temperature that looks like degrees Fahrenheit.

use super::readings::{Climate, place};
use crate::answer::{Code, Finding, Severity, Sure, Task};
use crate::draft::Draft;
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, celsius, number};

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
    let Some(as_c) = units::Celsius::from_fahrenheit(newest.degrees).map(units::Celsius::degrees) else { return };
    let line = lines::low("surface_real");
    let where_ = place(newest.spot());
    let (says, does, severity, sure) = if climate.is_fahrenheit {
        let others = climate.doubtful.iter().find(|one| one.spot() != newest.spot());
        let both =
            others.map_or(String::new(), |other| format!(" and {} for {}", number(other.degrees), place(other.spot())));
        (
            format!(
                "{} was noted for {where_}{both} as °C, which no enclosure bears; read as °F it is {}.",
                number(newest.degrees),
                celsius(as_c)
            ),
            "Read the thermometer again and note it in its own unit; if it is degrees Celsius after all, take the animal out of that heat at once.",
            Severity::Act,
            Sure::Likely,
        )
    } else {
        (
            format!(
                "{} noted for {where_} is very hot, or it is degrees Fahrenheit ({}).",
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
