//! The case file: a TOML file that holds what is known of one animal, so that anyone can ask without a database.
//!
//! Everything but the species is optional. Every fault names line and column, and all are told at once.

use toml::Spanned;
use toml::de::{DeTable, DeValue};
use units::Zone;

use crate::case::Case;
use crate::facts::{Fact, Kind};
use crate::fault::{Fault, nearest};
use crate::fields::{Fields, Raw, Reader};
use crate::timeline::{Entry, Key, Timeline};

/// The arrays of tables and the kind of record that each holds.
const LISTS: [(&str, Kind); 18] = [
    ("weighing", Kind::Weighing),
    ("measurement", Kind::Measurement),
    ("meal", Kind::Meal),
    ("shed", Kind::Shed),
    ("handling", Kind::Handling),
    ("cleaning", Kind::Cleaning),
    ("reading", Kind::Reading),
    ("sign", Kind::Sign),
    ("breeding", Kind::Breeding),
    ("power", Kind::Power),
    ("treatment", Kind::Treatment),
    ("planned", Kind::Planned),
    ("seen", Kind::Seen),
    ("note", Kind::Note),
    ("ending", Kind::Ending),
    ("heater", Kind::Heater),
    ("freezer", Kind::FreezerLot),
    ("override", Kind::Override),
];
const TABLES: [(&str, Kind); 3] =
    [("animal", Kind::Animal), ("enclosure", Kind::Enclosure), ("household", Kind::Household)];

/// Files larger than this are no cases; reading stops before memory does.
pub const MOST_BYTES: usize = 50 * 1024 * 1024;

/// Reads a case from the bytes of a file called `name`, or tells all its faults.
pub fn read(name: &str, bytes: &[u8]) -> Result<Case, Vec<Fault>> {
    if MOST_BYTES < bytes.len() {
        let what = format!(
            "the file holds {} MB, more than the {} MB that are read",
            bytes.len() / 1_048_576,
            MOST_BYTES / 1_048_576
        );
        return Err(vec![Fault::new(what, name, "leave out what is older than the question needs")]);
    }
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text.strip_prefix('\u{feff}').unwrap_or(text),
        Err(error) => {
            let place = position(
                name,
                &String::from_utf8_lossy(bytes.get(..error.valid_up_to()).unwrap_or_default()),
                usize::MAX,
            );
            return Err(vec![Fault::new("the file is not UTF-8 text", place, "save it as UTF-8 in a text editor")]);
        }
    };
    if text.trim().is_empty() {
        let mend = "write at least [animal] with species = \"...\"";
        return Err(vec![Fault::new("the file is empty", name, mend)]);
    }
    let root = DeTable::parse(text).map_err(|error| {
        let at = error.span().map_or(usize::MAX, |span| span.start);
        vec![Fault::new(
            format!("not TOML: {}", error.message()),
            position(name, text, at),
            "mend the line, or compare it with an example in docs/cases",
        )]
    })?;
    File { name, lines: Lines::new(text) }.case(root.get_ref())
}

struct File<'a> {
    name: &'a str,
    lines: Lines<'a>,
}

impl File<'_> {
    fn case(&self, root: &DeTable<'_>) -> Result<Case, Vec<Fault>> {
        let mut faults = Vec::new();
        let zone = self.zone(root, &mut faults);
        let mut known: Vec<&str> = vec!["at", "zone"];
        known.extend(LISTS.iter().chain(&TABLES).map(|(key, _)| *key));
        for (key, value) in root.iter() {
            if known.contains(&key.get_ref().as_ref()) {
                continue;
            }
            let place = self.place(key.span().start);
            let name = key.get_ref();
            let mend = match nearest(name, known.iter().copied(), 1).first() {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("known here: {}", known.join(", ")),
            };
            let _ = value;
            faults.push(Fault::new(format!("unknown key `{name}`"), place, mend));
        }

        let at = self.at(root, &zone, &mut faults);
        let mut facts = Vec::new();
        let mut heaters = Vec::new();
        let mut freezer = Vec::new();
        let mut overrides = Vec::new();
        for (list, kind) in LISTS {
            let Some((key, value)) = root.get_key_value(list) else {
                continue;
            };
            let DeValue::Array(items) = value.get_ref() else {
                let mend = format!("write [[{list}]] with two brackets: there may be several");
                faults.push(Fault::new(format!("`{list}` is not a list"), self.place(key.span().start), mend));
                continue;
            };
            for (index, item) in items.iter().enumerate() {
                let Some((key, fact)) = self.fact(list, kind, index, item, &zone, &mut faults) else {
                    continue;
                };
                match fact {
                    Fact::Heater(it) => heaters.push(Entry { key, it }),
                    Fact::FreezerLot(it) => freezer.push(Entry { key, it }),
                    Fact::Override(it) => overrides.push(Entry { key, it }),
                    fact => facts.push((key, fact)),
                }
            }
        }
        let animal = match self.single("animal", Kind::Animal, root, &zone, &mut faults) {
            Some((key, Fact::Animal(it))) => Some(Entry { key, it }),
            _ => None,
        };
        let enclosure = match self.single("enclosure", Kind::Enclosure, root, &zone, &mut faults) {
            Some((key, Fact::Enclosure(it))) => Some(Entry { key, it }),
            _ => None,
        };
        let household = match self.single("household", Kind::Household, root, &zone, &mut faults) {
            Some((key, Fact::Household(it))) => Some(Entry { key, it }),
            _ => None,
        };
        if root.get("animal").is_none() {
            faults.push(Fault::new("`[animal]` is missing", self.name, "write [animal] with species = \"...\""));
        }
        match animal {
            Some(animal) if faults.is_empty() => {
                let timeline = Timeline::new(facts);
                Ok(Case { at, zone, animal, timeline, enclosure, heaters, household, freezer, overrides })
            }
            _ => Err(faults),
        }
    }

    fn zone(&self, root: &DeTable<'_>, faults: &mut Vec<Fault>) -> Zone {
        let Some(value) = root.get("zone") else {
            return Zone::none();
        };
        let shown = raw(value.get_ref()).shown();
        Zone::named(&shown).unwrap_or_else(|| {
            let place = self.place(value.span().start);
            faults.push(Fault::new(
                format!("`{shown}` is no time zone (`zone`)"),
                place,
                "write a name such as \"Europe/Lisbon\", or leave it out",
            ));
            Zone::none()
        })
    }

    fn at(&self, root: &DeTable<'_>, zone: &Zone, faults: &mut Vec<Fault>) -> Option<units::Moment> {
        let value = root.get("at")?;
        let shown = raw(value.get_ref()).shown();
        match zone.read(&shown).filter(|when| when.precision <= units::Precision::Day) {
            Some(when) => Some(when.asked()),
            None => {
                let place = self.place(value.span().start);
                faults.push(Fault::new(
                    format!("`{shown}` is not a moment (`at`)"),
                    place,
                    "write it as 2026-03-14T19:30",
                ));
                None
            }
        }
    }

    fn single(
        &self,
        name: &str,
        kind: Kind,
        root: &DeTable<'_>,
        zone: &Zone,
        faults: &mut Vec<Fault>,
    ) -> Option<(Key, Fact)> {
        let (key, value) = root.get_key_value(name)?;
        if let DeValue::Array(_) = value.get_ref() {
            let mend = format!("write [{name}] with one bracket: there is only one");
            faults.push(Fault::new(format!("`{name}` is a list"), self.place(key.span().start), mend));
            return None;
        }
        self.fact(name, kind, 0, value, zone, faults)
    }

    fn fact(
        &self,
        list: &str,
        kind: Kind,
        index: usize,
        item: &Spanned<DeValue<'_>>,
        zone: &Zone,
        faults: &mut Vec<Fault>,
    ) -> Option<(Key, Fact)> {
        let DeValue::Table(table) = item.get_ref() else {
            faults.push(Fault::new(
                format!("`{list}` is not a table"),
                self.place(item.span().start),
                format!("write [{list}] and its keys below"),
            ));
            return None;
        };
        // The span of a table that stands under its own header is the header; of an inline one, its brace.
        let start = table.iter().next().map_or(item.span().start, |(key, _)| item.span().start.min(key.span().start));
        let fields = Table { file: self, table, list, start };
        let mut reader = Reader::new(&fields, zone);
        let fact = Fact::read(kind, &mut reader);
        let found = reader.finish();
        let clean = found.is_empty();
        faults.extend(found);
        let line = u32::try_from(self.lines.line_and_column(start).0).ok();
        fact.filter(|_| clean).map(|fact| (Key { kind, index: index as u32, line, id: None }, fact))
    }

    fn place(&self, at: usize) -> String {
        let (line, column) = self.lines.line_and_column(at);
        format!("{}, line {line}, column {column}", self.name)
    }
}

struct Table<'a> {
    file: &'a File<'a>,
    table: &'a DeTable<'a>,
    list: &'a str,
    start: usize,
}

impl Fields for Table<'_> {
    fn value(&self, key: &str) -> Option<Raw> {
        Some(raw(self.table.get(key)?.get_ref()))
    }
    fn keys(&self) -> Vec<String> {
        self.table.keys().map(|key| key.get_ref().to_string()).collect()
    }
    fn place(&self, key: &str) -> String {
        let at = self.table.get_key_value(key).map_or(self.start, |(key, _)| key.span().start);
        format!("{} ({})", self.file.place(at), self.list)
    }
}

fn raw(value: &DeValue<'_>) -> Raw {
    match value {
        DeValue::String(text) => Raw::Text(text.to_string()),
        DeValue::Integer(number) => Raw::Number(integer(number.as_str(), number.radix())),
        DeValue::Float(number) => Raw::Number(number.as_str().parse().unwrap_or(f64::NAN)),
        DeValue::Boolean(flag) => Raw::Flag(*flag),
        DeValue::Datetime(date) => Raw::Text(date.to_string()),
        DeValue::Array(items) => Raw::List(items.iter().map(|item| raw(item.get_ref())).collect()),
        // No field holds a table: as a list it is refused by every one of them, where as a text it would be taken.
        DeValue::Table(_) => Raw::List(vec![Raw::Text("a table".to_owned())]),
    }
}

/// The value of an integer of any size: one that no machine word holds is still out of range, not absent.
fn integer(digits: &str, radix: u32) -> f64 {
    match i128::from_str_radix(digits, radix) {
        Ok(number) => number as f64,
        Err(_) if digits.starts_with('-') => f64::NEG_INFINITY,
        Err(_) => f64::INFINITY,
    }
}

/// Where each line of a text begins, so that a place is found without counting again.
struct Lines<'a> {
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    fn new(text: &'a str) -> Lines<'a> {
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Lines { text, starts }
    }

    /// Line and column, both from 1, of a byte of the text.
    fn line_and_column(&self, at: usize) -> (usize, usize) {
        let mut end = at.min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        let line = self.starts.partition_point(|start| *start <= end).max(1);
        let start = self.starts.get(line - 1).copied().unwrap_or_default();
        (line, self.text.get(start..end).unwrap_or_default().chars().count() + 1)
    }
}

fn line_and_column(text: &str, at: usize) -> (usize, usize) {
    Lines::new(text).line_and_column(at)
}

fn position(name: &str, text: &str, at: usize) -> String {
    let (line, column) = line_and_column(text, at);
    format!("{name}, line {line}, column {column}")
}
