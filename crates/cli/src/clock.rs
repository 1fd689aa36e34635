//! The one question to the clock, where no desk is there to ask.

use units::{Moment, Zone};

/// Now.
#[expect(clippy::disallowed_methods, reason = "the command line asks the clock once, here, and hands the answer on")]
pub fn now() -> Moment {
    Moment(jiff::Timestamp::now().as_second())
}

/// The moment that a text names: a day, or a day with an hour.
pub fn named(text: &str, zone: &Zone) -> Result<Moment, records::Fault> {
    match zone.read(text).filter(|when| when.precision <= units::Precision::Day) {
        Some(when) => Ok(when.asked()),
        None => Err(records::Fault::new(
            format!("`{text}` is not a moment"),
            "--at",
            "write it as 2026-03-14 or 2026-03-14T19:30",
        )),
    }
}
