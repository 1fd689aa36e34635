//! `warmside assess FILE`: the answer about one animal, without a database.

use std::io::Read;
use std::path::Path;

use records::{Case, Fault, case_file};
use render::terminal::{self, Look};
use units::Moment;
use web::desk::Desk;

use crate::amount;
use crate::arguments::Assess;
use crate::clock;
use crate::exit::{Done, Ended};
use crate::out::Out;

/// Reads the case, asks, answers.
pub fn run(asked: &Assess, out: &mut Out) -> Done {
    let (case, at) = case_at(&asked.file, asked.at.as_deref())?;
    let answer = care::assess(&case, at)?;
    if asked.json {
        out.json(&render::json::answer(&answer));
    } else {
        out.text(&terminal::answer(&answer, case.animal.name.as_deref(), Look { width: out.width(), why: asked.why }));
    }
    Ok(())
}

/// The case in a file, and the moment asked about: the one that was typed, else the file's, else now.
pub fn case_at(file: &Path, at: Option<&str>) -> Result<(Case, Moment), Ended> {
    let name = file.display().to_string();
    let bytes = read(file).map_err(|error| {
        Ended::NotFound(Fault::new(format!("the file cannot be read: {error}"), name.clone(), "check the path"))
    })?;
    let case = case_file::read(&name, &bytes)?;
    // A case without a zone is counted in clock time: what the clock on the wall shows now.
    let now = match case.zone.is_known() {
        true => clock::now(),
        false => case.zone.moment(Desk::zone_of_this_machine().clock(clock::now())),
    };
    let at = match (at, case.at) {
        (Some(text), _) => clock::named(&amount::date(text, &case.zone, now), &case.zone)?,
        (None, Some(at)) => at,
        (None, None) => now,
    };
    Ok((case, at))
}

fn read(file: &Path) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let most = case_file::MOST_BYTES as u64 + 1;
    if file.as_os_str() == "-" {
        std::io::stdin().lock().take(most).read_to_end(&mut bytes)?;
    } else {
        std::fs::File::open(file)?.take(most).read_to_end(&mut bytes)?;
    }
    Ok(bytes)
}
