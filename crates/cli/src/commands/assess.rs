//! `warmside assess FILE`: the answer about one animal, without a database.

use std::io::Read;

use records::{Fault, case_file};

use crate::arguments::Assess;
use crate::clock;
use crate::exit::{Done, Ended};
use crate::out::Out;

/// Reads the case, asks, answers.
pub fn run(asked: &Assess, out: &mut Out) -> Done {
    let name = asked.file.display().to_string();
    let bytes = read(asked).map_err(|error| Ended::NotFound(Fault::new(format!("the file cannot be read: {error}"), name.clone(), "check the path")))?;
    let case = case_file::read(&name, &bytes)?;
    let at = match (&asked.at, case.at) {
        (None, Some(at)) => at,
        (told, _) => clock::at(told.as_deref(), &case.zone)?,
    };
    let answer = care::assess(&case, at)?;
    let json = render::json::answer(&answer);
    out.line(serde_json::to_string_pretty(&json).map_err(|error| Ended::Failed(Fault::new(error.to_string(), name, "report this")))?);
    Ok(())
}

fn read(asked: &Assess) -> std::io::Result<Vec<u8>> {
    if asked.file.as_os_str() == "-" {
        let mut bytes = Vec::new();
        std::io::stdin().lock().take(case_file::MOST_BYTES as u64 + 1).read_to_end(&mut bytes)?;
        return Ok(bytes);
    }
    let mut bytes = Vec::new();
    std::fs::File::open(&asked.file)?.take(case_file::MOST_BYTES as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}
