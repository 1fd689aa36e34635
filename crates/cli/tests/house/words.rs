//! What never stands in a file: a forgotten task, a switched-off test, a path of somebody's machine.

use crate::tree::files;

#[test]
fn nothing_is_left_for_later_and_no_test_is_switched_off() {
    // Put together here, so that this file does not hold them itself.
    let words = [
        ["TO", "DO"].concat(),
        ["FIX", "ME"].concat(),
        ["un", "implemented!("].concat(),
        ["to", "do!("].concat(),
        ["#[ig", "nore"].concat(),
        ["/wo", "rk/"].concat(),
        ["/ho", "me/"].concat(),
        ["/ro", "ot/"].concat(),
    ];
    let is_of_a_test = |path: &str, word: &str| word.starts_with("/ho") && path.ends_with("cli/src/home.rs");
    for under in ["crates", "docs"] {
        for (path, text) in files(under, &[".rs", ".toml", ".md", ".html", ".css", ".js", ".sql"]) {
            for word in &words {
                assert!(!text.contains(word.as_str()) || is_of_a_test(&path, word), "{path} holds `{word}`");
            }
        }
    }
}

#[test]
fn nothing_is_printed_past_the_one_who_prints() {
    let calls = ["println!(", "eprintln!(", "print!(", "dbg!("];
    for (path, text) in files("crates", &[".rs"]) {
        let is_build = path.ends_with("/build.rs")
            || path.contains("/tests/")
            || path.contains("/benches/")
            || path.contains("/examples/");
        for line in text.lines().filter(|line| !is_build && !line.trim_start().starts_with("//")) {
            assert!(!calls.iter().any(|call| line.contains(call)), "{path} prints: {line}");
        }
    }
}

#[test]
fn every_crate_begins_with_what_it_is_for() {
    for (path, text) in files("crates", &["lib.rs", "main.rs"]) {
        let is_root = path.ends_with("/src/lib.rs") || path.ends_with("/src/main.rs");
        assert!(!is_root || text.starts_with("//! "), "{path}");
    }
}
