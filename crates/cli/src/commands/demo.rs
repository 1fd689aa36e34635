//! `warmside demo`: a household made up for a moment, in a new folder, served at once.

use records::Fault;
use web::desk::{Access, Desk, ZONE};

use crate::arguments::Demo;
use crate::demo;
use crate::exit::Done;
use crate::home::Home;
use crate::out::Out;

/// Makes it and serves it.
pub fn run(asked: &Demo, home: &Home, out: &mut Out) -> Done {
    let zone = home.zone()?.unwrap_or_else(Desk::zone_of_this_machine);
    let clock = crate::clock::now();
    let now = match &asked.at {
        Some(text) => crate::clock::named(&crate::amount::date(text, &zone, clock), &zone)?,
        None => clock,
    };
    let folder = if home.folder_is_named() {
        home.folder()?
    } else {
        let shown = zone.clock(clock);
        let name = format!("demo-{}-{:02}{:02}{:02}", shown.date(), shown.hour(), shown.minute(), shown.second());
        home.folder()?.join(name)
    };
    if folder.join(store::RECORDS_FILE).exists() {
        let mend = "name a new folder, so that nothing of yours is mixed with what is made up";
        return Err(Fault::new("there are records in the folder already", folder.display().to_string(), mend).into());
    }
    let desk = Desk::open(&folder, Access::Write, Some(zone))?;
    desk.store().set_setting(ZONE, desk.zone().name())?;
    let made = demo::make(&desk, now)?;
    out.line(format!("Made up {} animals with {} records; none of them is real.", made.animals, made.records));
    out.line(format!("`warmside --folder {} rounds` walks past them.", folder.display()));
    if asked.no_serve {
        return Ok(());
    }
    super::serve::serve(desk, asked.port, out)
}
