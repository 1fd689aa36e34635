//! `docs/sources.md`: all sources, how much of each was read, and what rests on it.

use crate::entries::{Grade, Source};
use crate::library::Library;

/// The page of sources, in Markdown. It is kept as `docs/sources.md`, and a test fails when that is stale.
pub fn sources_page(library: &Library) -> String {
    let mut page = String::from(OPENING);
    for grade in Grade::ALL {
        let of_grade: Vec<&Source> = library.sources.values().filter(|source| source.grade == grade).collect();
        if of_grade.is_empty() {
            continue;
        }
        page.push_str(&format!("\n## {}: {}\n\n", grade.key(), grade.says()));
        for source in of_grade {
            page.push_str(&entry(library, source));
        }
    }
    page
}

const OPENING: &str = "\
# Sources

Every value in a profile or a rule names its source and how sure it is: *verified* (it stood in the part that was read),
*common-practice* (what the trade and keepers commonly do), *from-memory* (believed from the source that is named, not
read). A value that was calculated or judged from others has the status of the weakest of them. A household may set any
value itself, with its own reason; it is then shown as the household's.

The sources stand by weight, in six grades. Addresses change: look before quoting one. This page is made from
`crates/species/data`; change it there.
";

fn entry(library: &Library, source: &Source) -> String {
    let mut entry = format!("- **{}**: {}", source.key, sentence(&source.cite));
    if let Some(address) = &source.address {
        entry.push_str(&format!(" Found at: {}", sentence(address)));
    }
    if let Some(read) = &source.read {
        entry.push_str(&format!(" Read: {}", sentence(read)));
    }
    entry.push_str(&format!(" Used by: {}.\n", used_by(library, &source.key)));
    entry
}

fn used_by(library: &Library, source: &str) -> String {
    const MOST: usize = 5;
    let files: Vec<&str> = library.cited_by(source).map(|file| file.trim_end_matches(".toml")).collect();
    let named = files.iter().take(MOST).copied().collect::<Vec<_>>().join(", ");
    match files.len().saturating_sub(MOST) {
        0 if named.is_empty() => "nothing".into(),
        0 => named,
        more => format!("{named} and {more} more"),
    }
}

fn sentence(text: &str) -> String {
    format!("{}.", text.trim_end_matches('.'))
}
