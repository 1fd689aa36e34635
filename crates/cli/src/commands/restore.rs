//! `warmside restore FILE`: everything from an exported file, with the same names, times and hashes.

use std::fs::File;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;

use records::Fault;
use store::{Line, StoreError};

use super::export::BEGINS;
use crate::arguments::Restore;
use crate::exit::{Done, Ended};
use crate::home::Home;
use crate::out::Out;

/// Reads it back, all or nothing.
pub fn run(asked: &Restore, home: &Home, out: &mut Out) -> Done {
    let place = asked.file.display().to_string();
    let unreadable = |error: std::io::Error| {
        Ended::NotFound(Fault::new(format!("the file cannot be read: {error}"), place.clone(), "check the path"))
    };
    let file = File::open(&asked.file).map_err(unreadable)?;
    let mut entries =
        Entries { lines: BufReader::new(file).lines(), path: asked.file.clone(), number: 1, has_ended: false };
    let head = entries.lines.next().transpose().map_err(unreadable)?.unwrap_or_default();
    let settings = settings(&head).ok_or_else(|| {
        let mend = "name the file everything.json that `warmside export` wrote";
        Fault::new("this is no exported file of Warmside", place.clone(), mend)
    })?;
    let desk = home.empty()?;
    let restored = desk.store().restore(&mut entries);
    let count = restored.map_err(|error| match Ended::from(error) {
        Ended::Faults(faults) => {
            let at_line = |fault: Fault| Fault { place: format!("{place}, line {}", entries.number), ..fault };
            Ended::Faults(faults.into_iter().map(at_line).collect())
        }
        other => other,
    })?;
    for (key, value) in &settings {
        desk.store().set_setting(key, value.as_str())?;
    }
    out.line(format!("{count} entries restored."));
    Ok(())
}

/// The entries of the file, one to a line.
struct Entries {
    lines: std::io::Lines<BufReader<File>>,
    path: PathBuf,
    number: u32,
    has_ended: bool,
}

impl Iterator for Entries {
    type Item = Result<Line, StoreError>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.has_ended {
            return None;
        }
        self.number += 1;
        let text = match self.lines.next() {
            Some(Ok(text)) => text,
            Some(Err(cause)) => return Some(Err(StoreError::Io { path: self.path.clone(), cause })),
            None => {
                self.has_ended = true;
                return Some(Err(StoreError::Broken { seq: 0, what: "the file breaks off before its end".to_owned() }));
            }
        };
        let text = text.trim();
        if text == "]}" {
            self.has_ended = true;
            return None;
        }
        Some(Line::from_json(text.strip_suffix(',').unwrap_or(text)))
    }
}

/// The settings in the first line.
fn settings(head: &str) -> Option<serde_json::Map<String, serde_json::Value>> {
    head.starts_with(BEGINS).then_some(())?;
    let whole = format!("{head}]}}");
    match serde_json::from_str::<serde_json::Value>(&whole).ok()?.get_mut("settings")?.take() {
        serde_json::Value::Object(settings) => Some(settings),
        _ => None,
    }
}
