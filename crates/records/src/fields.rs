//! Reading a record from named fields, whatever they come from: a TOML table, a form, a command line, a row.
//!
//! A [`Reader`] returns *all* faults at once, each with its place, and refuses fields that nobody asked for.

use units::{When, Zone};

use crate::choice::Choice;
use crate::fault::{Fault, nearest};

/// A value as it was written.
#[derive(Clone, Debug, PartialEq)]
pub enum Raw {
    /// Text; dates are text.
    Text(String),
    /// A number.
    Number(f64),
    /// True or false.
    Flag(bool),
    /// Several values.
    List(Vec<Raw>),
}

impl Raw {
    /// The value as it would be typed.
    pub fn shown(&self) -> String {
        match self {
            Raw::Text(text) => text.clone(),
            Raw::Number(number) => number.to_string(),
            Raw::Flag(flag) => flag.to_string(),
            Raw::List(list) => list.iter().map(Raw::shown).collect::<Vec<_>>().join(", "),
        }
    }
}

/// Named fields with their places.
pub trait Fields {
    /// The value of a field; `None` when it is absent or left empty.
    fn value(&self, key: &str) -> Option<Raw>;
    /// The names of all fields that are there.
    fn keys(&self) -> Vec<String>;
    /// Where a field (or, when it is absent, the whole) stands, in the reader's words.
    fn place(&self, key: &str) -> String;
}

/// Reads fields and collects the faults.
pub struct Reader<'a> {
    fields: &'a dyn Fields,
    zone: &'a Zone,
    known: Vec<&'static str>,
    faults: Vec<Fault>,
}

/// The widest range of a number that can be true at all; what lies outside is a slip, not a reading.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    low: f64,
    high: f64,
    unit: &'static str,
}

impl Limits {
    /// From `low` to `high`, both allowed, in `unit`.
    pub const fn new(low: f64, high: f64, unit: &'static str) -> Limits {
        Limits { low, high, unit }
    }
}

impl<'a> Reader<'a> {
    /// A reader of `fields`, whose clock times are those of `zone`.
    pub fn new(fields: &'a dyn Fields, zone: &'a Zone) -> Reader<'a> {
        Reader { fields, zone, known: Vec::new(), faults: Vec::new() }
    }

    /// The zone in which clock times are read.
    pub fn zone(&self) -> &'a Zone {
        self.zone
    }

    /// Adds a fault about a field.
    pub fn object(&mut self, key: &str, what: impl Into<String>, mend: impl Into<String>) {
        self.faults.push(Fault::new(what, self.fields.place(key), mend));
    }

    /// The raw value of a field.
    pub fn raw(&mut self, key: &'static str) -> Option<Raw> {
        self.known.push(key);
        self.fields.value(key)
    }

    /// A text.
    pub fn text(&mut self, key: &'static str) -> Option<String> {
        match self.raw(key)? {
            Raw::Text(text) => Some(text.trim().to_owned()).filter(|text| !text.is_empty()),
            other => {
                self.object(key, format!("`{key}` is {}, not a text", other.shown()), "put it in quotes");
                None
            }
        }
    }

    /// A number within `limits`.
    pub fn number(&mut self, key: &'static str, limits: Limits) -> Option<f64> {
        let number = match self.raw(key)? {
            Raw::Number(number) => number,
            Raw::Text(text) => match read_number(&text) {
                Some(number) => number,
                None => {
                    self.object(
                        key,
                        format!("`{text}` is not a number (`{key}`)"),
                        "write digits, with a point or a comma for decimals",
                    );
                    return None;
                }
            },
            other => {
                self.object(key, format!("`{key}` is {}, not a number", other.shown()), "write digits only");
                return None;
            }
        };
        if !(limits.low..=limits.high).contains(&number) {
            let Limits { low, high, unit } = limits;
            self.object(
                key,
                format!("`{key}` cannot be {number}"),
                format!("give it in {unit}, between {low} and {high}; leave it out when it is not known"),
            );
            return None;
        }
        Some(number)
    }

    /// A whole number from 0 (or `least`) up.
    pub fn count(&mut self, key: &'static str, least: u32, most: u32) -> Option<u32> {
        let number = self.number(key, Limits::new(f64::from(least), f64::from(most), "whole numbers"))?;
        if number.fract() != 0.0 {
            self.object(key, format!("`{key}` is {number}, not a whole number"), "round it");
            return None;
        }
        Some(number as u32)
    }

    /// True or false.
    pub fn flag(&mut self, key: &'static str) -> Option<bool> {
        match self.raw(key)? {
            Raw::Flag(flag) => Some(flag),
            Raw::Text(text) if matches!(text.trim(), "true" | "yes" | "on" | "1") => Some(true),
            Raw::Text(text) if matches!(text.trim(), "false" | "no" | "off" | "0") => Some(false),
            other => {
                self.object(
                    key,
                    format!("`{key}` is {}, neither true nor false", other.shown()),
                    "write true or false, or leave it out",
                );
                None
            }
        }
    }

    /// One of a few words.
    pub fn choice<T: Choice>(&mut self, key: &'static str) -> Option<T> {
        let text = self.text(key)?;
        self.chosen(key, &text)
    }

    /// Several of a few words: a list, or one text with commas.
    pub fn choices<T: Choice>(&mut self, key: &'static str) -> Vec<T> {
        let texts: Vec<String> = match self.raw(key) {
            None => return Vec::new(),
            Some(Raw::List(list)) => list.iter().map(Raw::shown).collect(),
            Some(other) => other.shown().split(',').map(|part| part.trim().to_owned()).collect(),
        };
        texts.iter().filter(|text| !text.is_empty()).filter_map(|text| self.chosen(key, text)).collect()
    }

    fn chosen<T: Choice>(&mut self, key: &str, text: &str) -> Option<T> {
        let chosen = T::from_key(text);
        if chosen.is_none() {
            let near = nearest(text, T::keys(), 3);
            let mend = if near.is_empty() {
                format!("choose one of: {}", T::keys().collect::<Vec<_>>().join(", "))
            } else {
                format!("did you mean {}?", near.join(" or "))
            };
            self.object(key, format!("`{text}` is no {} (`{key}`)", T::WHAT), mend);
        }
        chosen
    }

    /// A date, as precisely as it is written.
    pub fn when(&mut self, key: &'static str) -> Option<When> {
        let text = match self.raw(key)? {
            Raw::Text(text) => text,
            other => other.shown(),
        };
        self.date(key, &text)
    }

    /// Several dates: a list, or one text with commas.
    pub fn dates(&mut self, key: &'static str) -> Vec<When> {
        let texts: Vec<String> = match self.raw(key) {
            None => return Vec::new(),
            Some(Raw::List(list)) => list.iter().map(Raw::shown).collect(),
            Some(other) => other.shown().split(',').map(|part| part.trim().to_owned()).collect(),
        };
        texts.iter().filter(|text| !text.is_empty()).filter_map(|text| self.date(key, text)).collect()
    }

    fn date(&mut self, key: &str, text: &str) -> Option<When> {
        let when = self.zone.read(text);
        if when.is_none() {
            self.object(
                key,
                format!("`{text}` is not a date (`{key}`)"),
                "write it as 2026-03-14 or 2026-03-14T19:30; a month (2026-03) or a year is enough where no more is known",
            );
        }
        when
    }

    /// A date known at least to the day, with or without an hour.
    pub fn day(&mut self, key: &'static str) -> Option<When> {
        let when = self.when(key)?;
        if units::Precision::Day < when.precision {
            let shown = self.zone.write_when(when);
            self.object(key, format!("`{shown}` is not a day (`{key}`)"), "give the day, as 2026-03-14");
            return None;
        }
        Some(when)
    }

    /// Says that a field must be there.
    pub fn require<T>(&mut self, key: &'static str, value: Option<T>) -> Option<T> {
        if value.is_none() && self.fields.value(key).is_none() {
            self.object(key, format!("`{key}` is missing"), format!("add `{key}`"));
        }
        value
    }

    /// Ends the reading: fields that nobody asked for are faults too.
    pub fn finish(mut self) -> Vec<Fault> {
        for key in self.fields.keys() {
            if self.known.contains(&key.as_str()) {
                continue;
            }
            let mend = match nearest(&key, self.known.iter().copied(), 1).first() {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("known here: {}", self.known.join(", ")),
            };
            self.object(&key, format!("unknown key `{key}`"), mend);
        }
        self.faults
    }

    /// Were there faults so far?
    pub fn is_faulty(&self) -> bool {
        !self.faults.is_empty()
    }
}

/// Reads a number as people write it: a point or a comma for decimals, spaces around it.
pub fn read_number(text: &str) -> Option<f64> {
    let text = text.trim();
    let number: f64 = text.parse().or_else(|_| text.replacen(',', ".", 1).parse()).ok()?;
    number.is_finite().then_some(number)
}

/// Fields given in code or on a command line, each with the name of its place.
#[derive(Clone, Debug, Default)]
pub struct Given {
    /// The fields: key and value.
    pub pairs: Vec<(String, Raw)>,
    /// What the whole is called in a message: «the form», «the command line».
    pub origin: String,
}

impl Fields for Given {
    fn value(&self, key: &str) -> Option<Raw> {
        let (_, value) = self.pairs.iter().find(|(name, _)| name == key)?;
        match value {
            Raw::Text(text) if text.trim().is_empty() => None,
            value => Some(value.clone()),
        }
    }

    fn keys(&self) -> Vec<String> {
        self.pairs.iter().map(|(key, _)| key.clone()).collect()
    }

    fn place(&self, key: &str) -> String {
        if key.is_empty() { self.origin.clone() } else { format!("{}, {key}", self.origin) }
    }
}
