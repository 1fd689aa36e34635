//! `warmside sheds`, `refusals` and the other studies: what the records of one animal say about one thing.

use care::study::Study;
use render::terminal::{self, Look};

use super::assess::case_at;
use crate::arguments::Studied;
use crate::exit::Done;
use crate::home::Home;
use crate::out::Out;

/// Looks into it, on record or in a case file.
pub fn run(study: Study, asked: &Studied, home: &Home, out: &mut Out) -> Done {
    let (case, at) = match (&asked.animal, &asked.case) {
        (Some(name), _) => {
            let desk = home.reading()?;
            let at = Home::at(&desk, asked.at.as_deref())?;
            (desk.case(desk.find_animal(name)?.id, at)?, at)
        }
        (None, Some(file)) => case_at(file, asked.at.as_deref())?,
        (None, None) => return Ok(()),
    };
    let found = study.of(&case, at)?;
    if asked.json {
        out.json(&render::json::reckoning(&found, at, &case.zone));
    } else {
        out.text(&terminal::reckoning(&found, at, &case.zone, Look { width: out.width(), why: asked.why }));
    }
    Ok(())
}
