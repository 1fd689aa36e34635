//! General rules and facts of the trade.

use std::collections::BTreeMap;

use super::{File, Table, figure};
use crate::figure::Provenance;
use crate::rule::{Rule, RuleGroup};

/// All rules of a file.
pub(crate) fn rules(file: &File<'_>, kind: &'static str) -> Vec<Rule> {
    let root = Table::root(file);
    let rules = root.tables("rule").into_iter().map(|table| rule(table, kind)).collect();
    root.done();
    rules
}

fn rule(table: Table<'_>, kind: &'static str) -> Rule {
    let id = table.need_key("id", kind);
    let from = table.provenance();
    let unit = table.text("unit");
    let range = table.range(&id);
    let steps = table.numbers("steps");
    if unit.is_none() && (range.is_some() || !steps.is_empty()) {
        table.file.fault(&table.at, format!("the value of the rule `{id}` has no unit"), "add `unit = \"...\"`");
    }
    let rule = Rule {
        topic: table.need_text("topic"),
        text: table.need_text("text"),
        figure: range.map(|(low, mid, high)| figure(low, mid, high, &from)),
        groups: table.tables("groups").into_iter().map(|one| group(one, &from, unit.as_ref())).collect(),
        alternatives: table.alternatives("alternatives"),
        never: table.text("never"),
        id,
        unit,
        steps,
        source: from.source,
        status: from.status,
        derived: from.derived,
        note: from.note,
    };
    table.done();
    rule
}

/// A group without a source has the rule's; without a unit, the rule's.
fn group(table: Table<'_>, rule_from: &Provenance, rule_unit: Option<&String>) -> RuleGroup {
    let name = table.need_text("group");
    let from = if table.has_source() {
        table.provenance()
    } else {
        Provenance { note: table.text("note"), ..rule_from.clone() }
    };
    let mut numbers = BTreeMap::new();
    if let Some(further) = table.table("numbers") {
        for (key, _, value) in further.entries() {
            numbers.extend(further.number_in(key, value).map(|number| (key.to_owned(), number)));
        }
    }
    let group = RuleGroup {
        figure: table.range(&name).map(|(low, mid, high)| figure(low, mid, high, &from)),
        steps: table.numbers("steps"),
        unit: table.text("unit").or_else(|| rule_unit.cloned()),
        group: name,
        numbers,
    };
    table.done();
    group
}
