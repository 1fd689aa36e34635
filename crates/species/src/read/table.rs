//! A table of a file: its texts, numbers and figures, with every fault placed.

use std::cell::RefCell;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{File, SOURCES};
use crate::fault::propose;
use crate::figure::{Alternative, Figure, Figures, Provenance, Status};
use crate::unit;

type Value<'a> = &'a Spanned<DeValue<'a>>;

/// A table of a file.
pub(crate) struct Table<'a> {
    pub file: &'a File<'a>,
    table: &'a DeTable<'a>,
    /// Where it is, for what is missing.
    pub at: Range<usize>,
    /// What it is called, for what is missing.
    what: String,
    asked: RefCell<Vec<&'static str>>,
}

impl<'a> Table<'a> {
    pub fn root(file: &'a File<'a>) -> Table<'a> {
        Table::new(file, file.tree, 0..0, "the file".into())
    }

    fn new(file: &'a File<'a>, table: &'a DeTable<'a>, at: Range<usize>, what: String) -> Table<'a> {
        Table { file, table, at, what, asked: RefCell::default() }
    }

    fn get(&self, key: &'static str) -> Option<Value<'a>> {
        self.asked.borrow_mut().push(key);
        self.table.iter().find(|(name, _)| name.get_ref() == key).map(|(_, value)| value)
    }

    /// All keys with their values, for a table whose keys are names.
    pub fn entries(&self) -> impl Iterator<Item = (&'a str, Range<usize>, Value<'a>)> {
        self.table.iter().map(|(name, value)| (name.get_ref().as_ref(), name.span(), value))
    }

    fn missing(&self, key: &str) {
        self.file.fault(&self.at, format!("{} has no `{key}`", self.what), format!("add `{key} = ...`"));
    }

    fn wrong(&self, key: &str, value: Value<'a>, wanted: &str) {
        let found = match value.get_ref() {
            DeValue::String(_) => "text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        let what = format!("`{key}` is {found}, not {wanted}");
        self.file.fault(&value.span(), what, format!("write {wanted}"));
    }

    /// Ends the reading: keys that nobody asked for are faults.
    pub fn done(self) {
        let asked = self.asked.borrow();
        for (name, _) in self.table {
            if !asked.contains(&name.get_ref().as_ref()) {
                let what = format!("{} has an unknown key `{}`", self.what, name.get_ref());
                self.file.fault(&name.span(), what, propose(name.get_ref(), asked.iter().copied()));
            }
        }
    }

    pub fn text(&self, key: &'static str) -> Option<String> {
        let value = self.get(key)?;
        match value.get_ref() {
            DeValue::String(text) if !text.trim().is_empty() => {
                self.cite_what_stands_in(text);
                Some(text.as_ref().to_owned())
            }
            DeValue::String(_) => {
                self.file.fault(&value.span(), format!("`{key}` is empty"), "write something, or take the line out");
                None
            }
            _ => {
                self.wrong(key, value, "text in quotes");
                None
            }
        }
    }

    /// A text with its place.
    pub fn spanned_text(&self, key: &'static str) -> Option<(String, Range<usize>)> {
        let at = self.get(key)?.span();
        Some((self.text(key)?, at))
    }

    pub fn need_text(&self, key: &'static str) -> String {
        if self.get(key).is_none() {
            self.missing(key);
        }
        self.text(key).unwrap_or_default()
    }

    /// A text that names something and may be given once among its kind.
    pub fn need_key(&self, key: &'static str, kind: &'static str) -> String {
        let text = self.need_text(key);
        if let Some(value) = self.get(key).filter(|_| !text.is_empty()) {
            self.file.name_once(kind, &text, &value.span());
        }
        text
    }

    /// One of a few words.
    pub fn choice<T: Copy>(&self, key: &'static str, all: &[T], word: impl Fn(T) -> &'static str) -> Option<T> {
        if self.get(key).is_none() {
            let words: Vec<&str> = all.iter().map(|one| word(*one)).collect();
            let mend = format!("add `{key} = \"...\"`, one of {}", words.join(", "));
            self.file.fault(&self.at, format!("{} has no `{key}`", self.what), mend);
        }
        let (text, at) = self.spanned_text(key)?;
        let found = all.iter().copied().find(|one| word(*one) == text);
        if found.is_none() {
            let what = format!("`{text}` is not a known {key}");
            self.file.fault(&at, what, propose(&text, all.iter().map(|one| word(*one))));
        }
        found
    }

    pub fn flag(&self, key: &'static str) -> Option<bool> {
        let value = self.get(key)?;
        let flag = value.get_ref().as_bool();
        if flag.is_none() {
            self.wrong(key, value, "true or false");
        }
        flag
    }

    pub fn texts(&self, key: &'static str) -> Vec<String> {
        self.spanned_texts(key).into_iter().map(|(text, _)| text).collect()
    }

    /// Texts with their places.
    pub fn spanned_texts(&self, key: &'static str) -> Vec<(String, Range<usize>)> {
        let Some(value) = self.get(key) else { return Vec::new() };
        let Some(array) = value.get_ref().as_array() else {
            self.wrong(key, value, "a list of texts");
            return Vec::new();
        };
        let mut texts = Vec::new();
        for one in array {
            match one.get_ref().as_str() {
                Some(text) => {
                    self.cite_what_stands_in(text);
                    texts.push((text.to_owned(), one.span()));
                }
                None => self.wrong(key, one, "text in quotes"),
            }
        }
        texts
    }

    pub fn number(&self, key: &'static str) -> Option<f64> {
        self.number_in(key, self.get(key)?)
    }

    pub fn need_number(&self, key: &'static str) -> f64 {
        if self.get(key).is_none() {
            self.missing(key);
        }
        self.number(key).unwrap_or_default()
    }

    /// A number by the name of its key, so that its unit is known.
    pub fn number_in(&self, key: &str, value: Value<'a>) -> Option<f64> {
        let number = match value.get_ref() {
            DeValue::Integer(number) => number.as_str().parse::<f64>().ok(),
            DeValue::Float(number) => number.as_str().parse::<f64>().ok(),
            _ => {
                self.wrong(key, value, "a number");
                return None;
            }
        };
        if number.is_none_or(|number| !number.is_finite()) {
            self.file.fault(&value.span(), format!("`{key}` is not a finite number"), "write a number");
            return None;
        }
        number
    }

    pub fn numbers(&self, key: &'static str) -> Vec<f64> {
        let Some(value) = self.get(key) else { return Vec::new() };
        let Some(array) = value.get_ref().as_array() else {
            self.wrong(key, value, "a list of numbers");
            return Vec::new();
        };
        array.iter().filter_map(|one| self.number_in(key, one)).collect()
    }

    /// Exactly `N` numbers.
    pub fn several<const N: usize>(&self, key: &'static str) -> Option<[f64; N]> {
        let value = self.get(key)?;
        let numbers = <[f64; N]>::try_from(self.numbers(key)).ok();
        if numbers.is_none() {
            self.file.fault(
                &value.span(),
                format!("`{key}` does not have {N} numbers"),
                format!("write {N} numbers in square brackets"),
            );
        }
        numbers
    }

    /// Two numbers, the low one first.
    pub fn pair(&self, key: &'static str) -> Option<(f64, f64)> {
        let [low, high] = self.several::<2>(key)?;
        if let Some(value) = self.get(key) {
            self.check_range(key, low, high, &value.span());
        }
        Some((low, high))
    }

    pub fn need_pair(&self, key: &'static str) -> (f64, f64) {
        if self.get(key).is_none() {
            self.missing(key);
        }
        self.pair(key).unwrap_or_default()
    }

    fn check_range(&self, key: &str, low: f64, high: f64, at: &Range<usize>) {
        if high < low {
            self.file.fault(
                at,
                format!("`{key}`: the low end {low} is above the high end {high}"),
                "exchange the two, or mend the wrong one",
            );
        }
    }

    pub fn table(&self, key: &'static str) -> Option<Table<'a>> {
        let value = self.get(key)?;
        self.table_in(key, value)
    }

    pub fn table_in(&self, key: &str, value: Value<'a>) -> Option<Table<'a>> {
        match value.get_ref().as_table() {
            Some(table) => Some(Table::new(self.file, table, value.span(), format!("`{key}`"))),
            None => {
                self.wrong(key, value, "a table");
                None
            }
        }
    }

    pub fn need_table(&self, key: &'static str) -> Option<Table<'a>> {
        if self.get(key).is_none() {
            self.missing(key);
        }
        self.table(key)
    }

    /// A list of tables; a single table is a list of one.
    pub fn tables(&self, key: &'static str) -> Vec<Table<'a>> {
        let Some(value) = self.get(key) else { return Vec::new() };
        match value.get_ref().as_array() {
            Some(array) => array.iter().filter_map(|one| self.table_in(key, one)).collect(),
            None => self.table_in(key, value).into_iter().collect(),
        }
    }

    /// All figures under a key, the default first.
    pub fn figures(&self, key: &'static str) -> Figures {
        Figures(self.tables(key).into_iter().filter_map(|table| table.into_figure(key)).collect())
    }

    /// The one figure under a key.
    pub fn figure(&self, key: &'static str) -> Option<Figure> {
        self.table(key)?.into_figure(key)
    }

    /// What other sources say, in the unit of the key.
    pub fn alternatives(&self, key: &'static str) -> Vec<Alternative> {
        let read = |table: Table<'a>| {
            let what = table.text("what");
            let unit = table.text("unit").or_else(|| unit::unit_of(key).map(str::to_owned));
            let from = table.provenance();
            let figure = table.range(key).map(|(low, mid, high)| figure(low, mid, high, &from));
            table.done();
            Alternative { what, figure, unit, from }
        };
        self.tables(key).into_iter().map(read).collect()
    }

    fn into_figure(self, key: &str) -> Option<Figure> {
        let figure = self.sourced_figure(key);
        if figure.is_none() && !self.has_any(&["value", "low", "high"]) {
            self.file.fault(
                &self.at,
                format!("`{key}` has no value"),
                "add `value = ...`, or `low = ...` and `high = ...`",
            );
        }
        self.done();
        figure
    }

    fn has_any(&self, keys: &[&str]) -> bool {
        self.table.iter().any(|(name, _)| keys.contains(&name.get_ref().as_ref()))
    }

    /// The value in this table with its source, if it has one; the caller ends the reading.
    pub fn sourced_figure(&self, key: &str) -> Option<Figure> {
        let from = self.provenance();
        self.range(key).map(|(low, mid, high)| figure(low, mid, high, &from))
    }

    /// `value`, or `low` and `high` (and `mid`), in this table.
    pub fn range(&self, key: &str) -> Option<(f64, Option<f64>, f64)> {
        let (value, low, mid, high) =
            (self.number("value"), self.number("low"), self.number("mid"), self.number("high"));
        let found = match (value, low, high) {
            (Some(value), None, None) => (value, mid, value),
            (None, Some(low), Some(high)) => (low, mid, high),
            _ => {
                // A number that cannot be read was told already.
                let one_end = self.has("low") != self.has("high");
                if one_end || self.has("value") && self.has("low") {
                    let what = format!("`{key}` has only one end, or a value beside its ends");
                    self.file.fault(&self.at, what, "write `value = ...`, or `low = ...` and `high = ...`");
                }
                return None;
            }
        };
        let (low, mid, high) = found;
        let at = self.get(if value.is_some() { "value" } else { "low" }).map_or(self.at.clone(), Spanned::span);
        self.check_range(key, low, high, &at);
        if let Some(mid) = mid.filter(|mid| low <= high && (*mid < low || high < *mid)) {
            let what = format!("`{key}`: the middle {mid} is outside {low} to {high}");
            self.file.fault(&at, what, "mend the wrong one");
        }
        if let Some(mend) = unit::unlikely(key, low, high) {
            self.file.fault(&at, format!("`{key}`: {} is not likely", unit::range(low, high)), mend);
        }
        Some(found)
    }

    /// `source`, `status`, `derived` and `note` of this table.
    pub fn provenance(&self) -> Provenance {
        Provenance {
            source: self.source(),
            status: self.status(),
            derived: self.flag("derived").unwrap_or_default(),
            note: self.text("note"),
        }
    }

    pub fn has(&self, key: &str) -> bool {
        self.has_any(&[key])
    }

    pub fn has_source(&self) -> bool {
        self.has_any(&["source", "status"])
    }

    pub fn source(&self) -> String {
        if self.get("source").is_none() {
            self.file.fault(
                &self.at,
                format!("{} has no source", self.what),
                "add `source = \"...\"`, a key of sources.toml",
            );
            return String::new();
        }
        let source = self.text("source").unwrap_or_default();
        if let Some(value) = self.get("source").filter(|_| !source.is_empty()) {
            self.known_source(&source, &value.span());
        }
        source
    }

    pub fn known_source(&self, source: &str, at: &Range<usize>) {
        let sources = &self.file.known.sources;
        if sources.contains(source) {
            self.cite(source);
        } else {
            let what = format!("the source `{source}` is not in sources.toml");
            self.file.fault(at, what, propose(source, sources.iter().map(String::as_str)));
        }
    }

    fn cite(&self, source: &str) {
        let mut cited = self.file.known.cited.borrow_mut();
        cited.entry(source.to_owned()).or_default().insert(self.file.name.to_owned());
    }

    /// A text cites the sources whose keys stand in it. Keys that are common words do not count.
    fn cite_what_stands_in(&self, text: &str) {
        const COMMON_WORDS: [&str; 3] = ["design", "review", "trade"];
        let known = self.file.known;
        let words = text.split(|one: char| !one.is_ascii_alphanumeric() && one != '-');
        if self.file.name == SOURCES {
            return;
        }
        for key in words.filter(|word| known.sources.contains(*word) && !COMMON_WORDS.contains(word)) {
            self.cite(key);
        }
    }

    pub fn status(&self) -> Status {
        self.choice("status", &Status::IN_DATA, Status::key).unwrap_or(Status::FromMemory)
    }
}

pub(crate) fn figure(low: f64, mid: Option<f64>, high: f64, from: &Provenance) -> Figure {
    Figure {
        low,
        high,
        mid,
        source: from.source.clone(),
        status: from.status,
        derived: from.derived,
        note: from.note.clone(),
    }
}
