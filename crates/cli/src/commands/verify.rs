//! `warmside verify`: is every record as it was written?

use records::Fault;

use crate::exit::{Done, Ended};
use crate::home::Home;
use crate::out::Out;

/// Walks along the whole chain.
pub fn run(home: &Home, out: &mut Out) -> Done {
    let desk = home.reading()?;
    let found = desk.store().verify()?;
    if found.is_sound() {
        out.line(format!("Sound: {} records and {} removals are as they were written.", found.records, found.removals));
        out.line(format!("The chain ends with {}.", found.end));
        return Ok(());
    }
    let place = desk.store().folder().map(|folder| folder.display().to_string()).unwrap_or_default();
    let what = match (&found.broken, found.damage.first()) {
        (Some(broken), _) => {
            format!("record {} ({}, {}) is not as it was written: {}", broken.seq, broken.kind, broken.id, broken.what)
        }
        (None, Some(damage)) => format!("the file is damaged: {damage}"),
        (None, None) => "the records are not sound".to_owned(),
    };
    Err(Ended::Failed(Fault::new(what, place, "keep the file as it is and restore the newest backup")))
}
