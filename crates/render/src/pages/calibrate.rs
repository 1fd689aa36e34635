//! A log of an enclosure: the form that takes it, and what it says.

use askama::Template;
use care::twin::calibrate::Kept;
use care::twin::words;
use care::what_if::Reckoning;
use records::Fault;
use records::facts::{Enclosure, Fitted, Heater};
use units::Moment;

use super::frame::Frame;
use super::html;
use super::reckoned::{self, ReckonedView};
use crate::wording::{self, Clock};

/// The fields of the form.
pub mod field {
    /// The file.
    pub const FILE: &str = "file";
    /// The log as pasted.
    pub const LOG: &str = "log";
    /// Watts of the heater.
    pub const WATTS: &str = "watts";
    /// Keep what it says.
    pub const KEEP: &str = "keep";
    /// The name under which it is kept.
    pub const ID: &str = "id";
    /// Whether day or month comes first.
    pub const DATE_ORDER: &str = "date_order";
    /// The sign before decimals.
    pub const DECIMAL: &str = "decimal";
    /// The unit of temperatures.
    pub const TEMPERATURE_UNIT: &str = "temperature_unit";
}

/// What a log's page is made of.
pub struct Sheet<'a> {
    /// Id of the enclosure.
    pub id: &'a str,
    /// The enclosure.
    pub enclosure: &'a Enclosure,
    /// Its heaters.
    pub heaters: &'a [Heater],
    /// What was typed: key and value.
    pub typed: &'a [(String, String)],
    /// What is kept, in words.
    pub kept: Option<String>,
    /// A new name for the record.
    pub new_id: String,
    /// What came of it, where a log was given.
    pub outcome: Option<Result<&'a Reckoning, &'a [Fault]>>,
    /// What became of it: kept or not.
    pub became: Option<String>,
    /// Can anything be written down?
    pub writable: bool,
}

/// What is kept of a log, since when, and what it changed.
pub fn kept(fitted: &Fitted, since: Option<Moment>, kept: Option<&Kept>, clock: &Clock) -> String {
    let lasted = words::lasted(fitted.at.from.hours_since(fitted.from.from));
    let since = since.map_or(String::new(), |since| format!(", kept {}", clock.moment(since)));
    let says = kept.map_or(String::new(), |kept| format!(" {}", wording::kept(&kept.says)));
    format!("The log of {lasted} until {}{since}.{says}", clock.moment(fitted.at.from))
}

struct Choice {
    name: &'static str,
    label: &'static str,
    options: Vec<(&'static str, &'static str, bool)>,
}

#[derive(Template)]
#[template(path = "calibrate.html")]
struct Page<'a> {
    frame: &'a Frame,
    name: String,
    action: String,
    back: String,
    kept: Option<String>,
    became: Option<String>,
    faults: &'a [Fault],
    answer: Option<ReckonedView>,
    id: String,
    log: &'a str,
    watts: &'a str,
    on_record: String,
    keeps: bool,
    choices: Vec<Choice>,
    choices_are_open: bool,
    writable: bool,
}

/// The page of a log.
pub fn page(frame: &Frame, sheet: &Sheet<'_>, clock: &Clock) -> String {
    let get = |key: &str| sheet.typed.iter().find(|(name, _)| name == key).map_or("", |(_, value)| value.as_str());
    let choice = |name: &'static str, label: &'static str, words: [(&'static str, &'static str); 2]| {
        let options = std::iter::once(("", "as the log shows it")).chain(words);
        let value = get(name);
        Choice { name, label, options: options.map(|(key, text)| (key, text, key == value)).collect() }
    };
    let choices = vec![
        choice(
            field::DATE_ORDER,
            "In a date such as 03/04/2026",
            [("day-first", "the day comes first"), ("month-first", "the month comes first")],
        ),
        choice(field::DECIMAL, "The sign before decimals", [("point", "a point"), ("comma", "a comma")]),
        choice(field::TEMPERATURE_UNIT, "Temperatures", [("celsius", "in °C"), ("fahrenheit", "in °F")]),
    ];
    let (faults, answer) = match sheet.outcome {
        Some(Err(faults)) => (faults, None),
        Some(Ok(answer)) => {
            (&[][..], Some(reckoned::view(answer, clock, sheet.enclosure, sheet.heaters, &[field::WATTS])))
        }
        None => (&[][..], None),
    };
    let main = care::twin::description::strongest_first(sheet.heaters).into_iter().next();
    let on_record = main
        .and_then(|heater| heater.watts)
        .map_or(String::new(), |watts| format!("on record: {}{}W", wording::number(watts, 1), wording::STAY));
    html(&Page {
        frame,
        name: sheet.enclosure.name.clone().unwrap_or_else(|| "Enclosure without a name".to_owned()),
        action: format!("/enclosures/{}/calibrate", sheet.id),
        back: format!("/enclosures/{}", sheet.id),
        kept: sheet.kept.clone(),
        became: sheet.became.clone(),
        faults,
        answer,
        id: sheet.new_id.clone(),
        log: get(field::LOG),
        watts: get(field::WATTS),
        on_record,
        keeps: !get(field::KEEP).is_empty(),
        choices_are_open: choices
            .iter()
            .any(|one| one.options.iter().any(|(key, _, chosen)| *chosen && !key.is_empty())),
        choices,
        writable: sheet.writable,
    })
}
