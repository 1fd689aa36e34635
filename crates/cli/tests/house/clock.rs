//! A judgement must be repeatable for any day: only the edges ask the clock, in one place each.

use crate::tree::files;

const MAY_ASK: [&str; 2] = ["crates/cli/src/clock.rs", "crates/web/src/desk.rs"];

#[test]
fn only_two_files_ask_the_clock() {
    let questions: Vec<String> =
        ["Timestamp", "Zoned", "SystemTime"].iter().map(|clock| format!("{clock}::now")).collect();
    let mut asking = Vec::new();
    for (path, text) in files("crates", &[".rs"]) {
        let asks = text
            .lines()
            .filter(|line| !line.trim_start().starts_with("//"))
            .any(|line| questions.iter().any(|one| line.contains(one)));
        if asks {
            asking.push(path);
        }
    }
    assert_eq!(asking, MAY_ASK);
}

#[test]
fn the_compiler_is_told_so_too() {
    let told = std::fs::read_to_string(crate::tree::root().join("clippy.toml")).expect("clippy.toml");
    for clock in ["jiff::Timestamp", "std::time::SystemTime"] {
        assert!(told.contains(&format!("{clock}::now")), "{clock}");
    }
}
