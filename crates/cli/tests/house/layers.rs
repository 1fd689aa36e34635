//! A new arrow between the crates is a decision, not an accident.

use crate::tree::{files, root};

/// The crates and which of ours each may use.
const LAYERS: [(&str, &[&str]); 9] = [
    ("units", &[]),
    ("science", &["units"]),
    ("species", &["units"]),
    ("records", &["units"]),
    ("care", &["units", "science", "species", "records"]),
    ("store", &["units", "records"]),
    ("render", &["units", "species", "records", "care"]),
    ("web", &["units", "science", "species", "records", "care", "store", "render"]),
    ("cli", &["units", "science", "species", "records", "care", "store", "render", "web"]),
];

fn manifest(name: &str) -> toml::Table {
    let path = root().join("crates").join(name).join("Cargo.toml");
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    text.parse().unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

#[test]
fn each_crate_uses_only_what_lies_below_it() {
    let ours: Vec<&str> = LAYERS.iter().map(|(name, _)| *name).collect();
    for (name, allowed) in LAYERS {
        let manifest = manifest(name);
        for section in ["dependencies", "build-dependencies"] {
            let Some(used) = manifest.get(section).and_then(toml::Value::as_table) else { continue };
            for one in used.keys().filter(|one| ours.contains(&one.as_str())) {
                assert!(allowed.contains(&one.as_str()), "{name} must not use {one} ({section})");
            }
        }
        assert!(
            !manifest.contains_key("target"),
            "{name}: what a crate uses on one system only is a decision to be written here"
        );
    }
}

#[test]
fn every_crate_stands_in_the_table() {
    let mut there: Vec<String> = std::fs::read_dir(root().join("crates"))
        .expect("the crates")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .filter(|name| name != "browser-tests")
        .collect();
    there.sort();
    let mut known: Vec<&str> = LAYERS.iter().map(|(name, _)| *name).collect();
    known.sort_unstable();
    assert_eq!(there, known);
}

#[test]
fn sql_stands_in_the_store_alone() {
    let verbs = ["select ", "insert into ", "delete from "];
    for (path, text) in files("crates", &[".rs"]) {
        let is_free = path.starts_with("crates/store/") || path.starts_with("crates/cli/tests/house/");
        let literals = text.lines().filter(|line| !line.trim_start().starts_with("//"));
        for line in literals.filter(|_| !is_free) {
            let lower = line.to_lowercase();
            let is_sql = verbs.iter().any(|verb| lower.contains(&format!("\"{verb}"))) && lower.contains(" from ");
            assert!(!is_sql, "{path} speaks SQL: {line}");
        }
    }
}
