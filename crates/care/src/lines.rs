//! The general thresholds, asked for by name. None stands in code: they are in `species/data/general.toml` (and the
//! facts of the trade in `trade.toml`), each with its source.

use std::collections::HashMap;
use std::sync::LazyLock;

use species::{Figure, Rule};

use crate::answer::SourceRef;
use crate::draft::Line;

static RULES: LazyLock<HashMap<&'static str, &'static Rule>> = LazyLock::new(|| {
    let library = species::library();
    library.trade.iter().chain(&library.rules).map(|rule| (rule.id.as_str(), rule)).collect()
});

/// A general rule by its id. Every id that the rules of this crate ask for is in the data: a test holds it.
pub fn rule(id: &str) -> Option<&'static Rule> {
    RULES.get(id).copied()
}

fn figure(id: &str) -> Option<(&'static Rule, &'static Figure)> {
    let rule = rule(id)?;
    Some((rule, rule.figure.as_ref()?))
}

/// The figure of a general rule: both ends and its middle.
pub fn whole(id: &str) -> Option<&'static Figure> {
    figure(id).map(|(_, figure)| figure)
}

/// The figure of a group of a general rule: both ends and its middle.
pub fn whole_of_group(id: &str, group: &str) -> Option<&'static Figure> {
    rule(id)?.group(group)?.figure.as_ref()
}

/// What stands for a threshold that is not there: no comparison with it holds, and its source says so.
fn absent() -> Line {
    Line { value: f64::NAN, source: SourceRef { key: "design".into(), status: species::Status::FromMemory } }
}

/// The low end of a general rule.
pub fn low(id: &str) -> Line {
    figure(id).map_or_else(absent, |(_, figure)| Line::low(figure))
}

/// The high end of a general rule.
pub fn high(id: &str) -> Line {
    figure(id).map_or_else(absent, |(_, figure)| Line::high(figure))
}

/// Lines of cold in a power cut: warn, act, urgent. The strict ones hold for a tropical species, a hatchling and an
/// animal with food inside, the others for the rest.
pub fn cold(is_strict: bool) -> [Line; 3] {
    let id = if is_strict { "power_alert_tropical" } else { "power_alert_temperate" };
    [0, 1, 2].map(|index| step(id, index))
}

/// One of the steps of a general rule (warn, act, urgent).
pub fn step(id: &str, index: usize) -> Line {
    let value = rule(id).and_then(|rule| rule.steps.get(index).copied().map(|value| (rule, value)));
    value.map_or_else(absent, |(rule, value)| Line { value, source: SourceRef::rule(rule) })
}

/// The value of a group of a general rule: the low end of its figure.
pub fn group(id: &str, group: &str) -> Line {
    let found = rule(id).and_then(|rule| rule.groups.iter().find(|one| one.group == group));
    found.and_then(|one| one.figure.as_ref()).map_or_else(absent, Line::low)
}

/// The value of a group of a general rule: the high end of its figure.
pub fn group_high(id: &str, group: &str) -> Line {
    let found = rule(id).and_then(|rule| rule.groups.iter().find(|one| one.group == group));
    found.and_then(|one| one.figure.as_ref()).map_or_else(absent, Line::high)
}

/// A step of a group of a general rule.
pub fn group_step(id: &str, group: &str, index: usize) -> Line {
    let found = rule(id).and_then(|rule| {
        let one = rule.groups.iter().find(|one| one.group == group)?;
        one.steps.get(index).map(|value| Line { value: *value, source: SourceRef::rule(rule) })
    });
    found.unwrap_or_else(absent)
}

/// Where a general rule comes from.
pub fn source(id: &str) -> SourceRef {
    rule(id).map_or_else(|| absent().source, SourceRef::rule)
}
