//! The one question to the clock.

use units::{Moment, Zone};

/// Now.
#[expect(clippy::disallowed_methods, reason = "the command line asks the clock once, here, and hands the answer on")]
pub fn now() -> Moment {
    Moment(jiff::Timestamp::now().as_second())
}

/// The moment that `--at` names, else now.
pub fn at(text: Option<&str>, zone: &Zone) -> Result<Moment, records::Fault> {
    let Some(text) = text else { return Ok(now()) };
    match zone.read(text).filter(|when| when.precision <= units::Precision::Day) {
        Some(when) => Ok(when.from),
        None => Err(records::Fault::new(format!("`{text}` is not a moment"), "--at", "write it as 2026-03-14 or 2026-03-14T19:30")),
    }
}
