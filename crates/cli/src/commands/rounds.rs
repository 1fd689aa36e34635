//! `warmside rounds`: today's walk past every enclosure.

use records::Fault;
use render::terminal::{self, Look};
use web::desk::{Access, Desk, DeskError};

use crate::arguments::Rounds;
use crate::exit::{Done, Ended};
use crate::home::Home;
use crate::out::Out;

/// Walks and tells.
pub fn run(asked: &Rounds, home: &Home, out: &mut Out) -> Done {
    let desk = desk(home)?;
    let at = Home::at(&desk, asked.at.as_deref())?;
    let rounds = desk.rounds(at)?;
    if let Some(room) = &asked.room {
        let rooms: Vec<&str> = rounds.places.iter().map(|place| place.room.as_str()).collect();
        if !rooms.iter().any(|one| one.to_lowercase() == room.trim().to_lowercase()) {
            let mut named: Vec<&str> = rooms.into_iter().filter(|room| !room.is_empty()).collect();
            named.dedup();
            let mend = if named.is_empty() {
                "leave --room out".to_owned()
            } else {
                format!("name one of: {}", named.join(", "))
            };
            return Err(Ended::NotFound(Fault::new(format!("no animal lives in a room `{room}`"), "--room", mend)));
        }
    }
    if asked.json {
        out.json(&render::export::rounds(&rounds, asked.room.as_deref()));
    } else {
        out.text(&terminal::rounds(&rounds, asked.room.as_deref(), Look { width: out.width(), why: asked.why }));
    }
    Ok(())
}

/// For writing where nobody else does, so that what is reckoned is kept; else for reading.
fn desk(home: &Home) -> Result<Desk, Ended> {
    let folder = home.folder()?;
    if !folder.join(store::RECORDS_FILE).exists() {
        return home.reading();
    }
    match Desk::open(&folder, Access::Write, home.zone()?) {
        Ok(desk) => Ok(desk),
        Err(DeskError::Busy(_) | DeskError::Failed(_)) => home.reading(),
        Err(other) => Err(other.into()),
    }
}
