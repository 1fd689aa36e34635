//! `warmside sheds`, `refusals` and the other studies: what the records of one animal say about one thing.

use care::condition::Kin;
use care::study::Study;
use render::terminal::{self, Look};

use super::assess::case_at;
use crate::arguments::Studied;
use crate::exit::Done;
use crate::home::Home;
use crate::out::Out;

/// Looks into it, on record or in a case file.
pub fn run(study: Study, asked: &Studied, home: &Home, out: &mut Out) -> Done {
    let (case, at, kin) = match (&asked.animal, &asked.case) {
        (Some(name), _) => {
            let desk = home.reading()?;
            let at = Home::at(&desk, asked.at.as_deref())?;
            let id = desk.find_animal(name)?.id;
            let kin = if study.looks_at_kin() { desk.kin(id, at)? } else { Kin::default() };
            (desk.case(id, at)?, at, kin)
        }
        (None, Some(file)) => {
            let (case, at) = case_at(file, asked.at.as_deref())?;
            (case, at, Kin::default())
        }
        (None, None) => return Ok(()),
    };
    let found = study.of(&case, at, &kin)?;
    if asked.json {
        out.json(&render::json::reckoning(&found, at, &case.zone));
    } else {
        out.text(&terminal::reckoning(&found, at, &case.zone, Look { width: out.width(), why: asked.why }));
    }
    Ok(())
}
