//! Fields of a record gathered from the cells of a row, each with the column it came from.

use units::{When, Zone};

use crate::choice::Choice;
use crate::facts::{Fact, Kind};
use crate::fault::Fault;
use crate::fields::{Fields, Raw, Reader};

/// Fields of one record, on their way to being read.
pub(super) struct Slip<'a> {
    zone: &'a Zone,
    place: String,
    pairs: Vec<(&'static str, Raw, Option<String>)>,
}

impl<'a> Slip<'a> {
    /// A slip for a record of the row at `place`.
    pub fn new(zone: &'a Zone, place: String) -> Slip<'a> {
        Slip { zone, place, pairs: Vec::new() }
    }

    /// A moment or a day.
    pub fn when(mut self, key: &'static str, when: When) -> Self {
        self.pairs.push((key, Raw::Text(self.zone.write_when(when)), None));
        self
    }

    /// A number, from a column.
    pub fn number(mut self, key: &'static str, number: Option<f64>, column: Option<&str>) -> Self {
        self.pairs.extend(number.map(|number| (key, Raw::Number(number), column.map(str::to_owned))));
        self
    }

    /// A text.
    pub fn text(mut self, key: &'static str, text: Option<&str>) -> Self {
        self.pairs.extend(text.map(|text| (key, Raw::Text(text.to_owned()), None)));
        self
    }

    /// One of a few words.
    pub fn choice<T: Choice>(self, key: &'static str, choice: Option<T>) -> Self {
        self.text(key, choice.map(Choice::key))
    }

    /// True, where it is.
    pub fn flag(mut self, key: &'static str, flag: bool) -> Self {
        self.pairs.extend(flag.then_some((key, Raw::Flag(true), None)));
        self
    }

    /// Reads the record; faults go to `faults`.
    pub fn read(self, kind: Kind, faults: &mut Vec<Fault>) -> Option<Fact> {
        let mut reader = Reader::new(&self, self.zone);
        let fact = Fact::read(kind, &mut reader);
        let found = reader.finish();
        let clean = found.is_empty();
        faults.extend(found);
        fact.filter(|_| clean)
    }
}

impl Fields for Slip<'_> {
    fn value(&self, key: &str) -> Option<Raw> {
        self.pairs.iter().find(|(name, ..)| *name == key).map(|(_, value, _)| value.clone())
    }
    fn keys(&self) -> Vec<String> {
        self.pairs.iter().map(|(key, ..)| (*key).to_owned()).collect()
    }
    fn place(&self, key: &str) -> String {
        match self.pairs.iter().find(|(name, ..)| *name == key) {
            Some((_, _, Some(column))) => format!("{}, column {column}", self.place),
            _ => self.place.clone(),
        }
    }
}
