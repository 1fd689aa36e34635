//! `docs/sources.md` is made from the data.

use species::{library, sources_page};

#[test]
fn the_page_of_sources_is_fresh() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/sources.md");
    let fresh = sources_page(library());
    // To write the page anew: WRITE_DOCS=1 cargo test -p species --test sources_page
    if std::env::var_os("WRITE_DOCS").is_some() {
        std::fs::write(path, &fresh).unwrap();
    }
    let kept = std::fs::read_to_string(path).unwrap_or_default();
    assert!(kept == fresh, "docs/sources.md is stale: WRITE_DOCS=1 cargo test -p species --test sources_page");
}

#[test]
fn every_source_stands_on_the_page_with_what_rests_on_it() {
    let page = sources_page(library());
    for source in library().sources.values() {
        let line = page.lines().find(|line| line.starts_with(&format!("- **{}**: ", source.key)));
        let line = line.unwrap_or_else(|| panic!("{} is missing", source.key));
        assert!(!line.contains("Used by: nothing"), "nobody cites {}", source.key);
    }
}
