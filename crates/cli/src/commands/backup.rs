//! `warmside backup [FILE]`: a copy of the records, proved by opening it.

use crate::arguments::Backup;
use crate::exit::Done;
use crate::home::Home;
use crate::out::Out;

/// Copies and proves.
pub fn run(asked: &Backup, home: &Home, out: &mut Out) -> Done {
    let desk = home.reading()?;
    let to = match &asked.to {
        Some(to) => to.clone(),
        None => {
            let clock = desk.zone().clock(desk.now());
            let name =
                format!("records-{}-{:02}{:02}{:02}.db", clock.date(), clock.hour(), clock.minute(), clock.second());
            home.folder()?.join("backups").join(name)
        }
    };
    let proved = desk.store().backup(&to)?;
    out.line(format!("{} records copied to {} and proved.", proved.records, to.display()));
    out.line(format!("The chain ends with {}.", proved.end));
    Ok(())
}
