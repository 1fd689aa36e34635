//! No threshold stands in code: what a rule asks for is in the data, with a source.

use std::collections::BTreeSet;

use crate::tree::files;

/// The literals that stand right after `call` (such as `lines::low("`), each with the rest of its line.
fn asked<'a>(text: &'a str, call: &str) -> Vec<(&'a str, &'a str)> {
    let start = format!("{call}(\"");
    let mut found = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find(&start) {
        rest = &rest[at + start.len()..];
        if let Some(end) = rest.find('"') {
            let line_end = rest.find('\n').unwrap_or(rest.len());
            found.push((&rest[..end], &rest[(end + 1).min(line_end)..line_end]));
        }
    }
    found
}

#[test]
fn every_line_that_a_rule_asks_for_is_in_the_data() {
    let library = species::library();
    let mut count = 0;
    for (path, text) in files("crates/care/src", &[".rs"]) {
        for call in
            ["low", "high", "step", "group", "group_step", "source", "rule"].map(|call| format!("lines::{call}"))
        {
            for (id, rest) in asked(&text, &call) {
                let rule = library.rule(id).or_else(|| library.trade_fact(id));
                let rule = rule.unwrap_or_else(|| panic!("{path}: no rule of the data is called `{id}`"));
                let has = match call.as_str() {
                    "lines::low" | "lines::high" => rule.figure.is_some(),
                    "lines::step" => !rule.steps.is_empty(),
                    "lines::group" | "lines::group_step" => {
                        match rest.strip_prefix(", \"").and_then(|rest| rest.split('"').next()) {
                            Some(group) => rule.group(group).is_some(),
                            None => !rule.groups.is_empty(),
                        }
                    }
                    _ => true,
                };
                assert!(has, "{path}: `{id}` has not what {call} asks for");
                count += 1;
            }
        }
    }
    assert!(50 < count, "the rules ask for many lines, {count} were found");
}

#[test]
fn every_rule_names_sources_that_are_in_the_data_and_its_text() {
    let library = species::library();
    let mut keys = BTreeSet::new();
    for rule in care::rules::all() {
        assert!(keys.insert(rule.key), "two rules are called `{}`", rule.key);
        assert!(rule.says.ends_with('.') && rule.because.ends_with('.'), "`{}` says what it holds and why", rule.key);
        for id in rule.sources {
            assert!(
                library.rule(id).or_else(|| library.trade_fact(id)).is_some(),
                "`{}` rests on `{id}`, which is not in the data",
                rule.key
            );
        }
    }
}

#[test]
fn every_value_of_the_data_names_a_source_that_exists() {
    let library = species::library();
    for rule in library.rules.iter().chain(&library.trade) {
        assert!(library.source(&rule.source).is_some(), "{}: {}", rule.id, rule.source);
    }
    for profile in &library.profiles {
        for path in profile.value_paths() {
            if let Some(figure) = profile.value(&path) {
                assert!(library.source(&figure.source).is_some(), "{}: {path}: {}", profile.key, figure.source);
            }
        }
    }
}
