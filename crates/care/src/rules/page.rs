//! `docs/rules.md`, written from the rules themselves.

use std::fmt::Write;

use super::all;
use crate::lines;

/// The page that lists every rule with its reason and the general rules it rests on.
pub fn rules_page() -> String {
    let mut page = String::from(
        "# The rules\n\nWritten from the code and the species data by a test; do not edit. Values of a species come first wherever its profile\nholds them, and a household's override before both. Status: how a value is known.\n",
    );
    for rule in all() {
        // Writing to a string does not fail.
        let _ = write!(page, "\n## {}\n\n{}\n\nWhy: {}\n", rule.key, rule.says, rule.because);
        for id in rule.sources {
            let Some(general) = lines::rule(id) else { continue };
            let value = general.figure.as_ref().map_or(String::new(), |figure| {
                let span = if figure.low == figure.high {
                    figure.low.to_string()
                } else {
                    format!("{} to {}", figure.low, figure.high)
                };
                format!(" = {span} {}", general.unit.as_deref().unwrap_or_default())
            });
            let _ = writeln!(
                page,
                "- `{id}`{}: {} ({}, {})",
                value.trim_end(),
                general.text,
                general.source,
                general.status.key()
            );
        }
    }
    page
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::path::Path;

    #[test]
    fn the_page_of_rules_is_fresh() {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/rules.md");
        let fresh = rules_page();
        if std::env::var_os("WRITE_DOCS").is_some() {
            std::fs::write(&path, &fresh).unwrap();
        }
        let there = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(there == fresh, "docs/rules.md is stale: run `WRITE_DOCS=1 cargo test -p care page` and commit it");
    }

    #[test]
    fn every_rule_has_a_key_of_its_own_and_a_source_that_exists() {
        let mut keys = BTreeSet::new();
        for rule in all() {
            assert!(keys.insert(rule.key), "`{}` is the key of two rules", rule.key);
            assert!(!rule.sources.is_empty() && !rule.says.is_empty() && !rule.because.is_empty(), "{}", rule.key);
            for id in rule.sources {
                assert!(lines::rule(id).is_some(), "rule {} rests on `{id}`, which is not in the data", rule.key);
            }
        }
    }
}
