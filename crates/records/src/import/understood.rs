//! What was understood of a table: shown to the keeper before anything is kept.

use std::collections::HashMap;

use units::{Moment, Zone};

use super::meaning::Meaning;
use crate::case::Case;
use crate::facts::{Animal, Fact, Kind};
use crate::fault::Fault;
use crate::timeline::{Entry, Key, Timeline};

/// A table as it was understood. Nothing of it may be kept while [`Understood::questions`] are open; until then
/// [`Understood::animals`] is empty.
#[derive(Clone, Debug, PartialEq)]
pub struct Understood {
    /// The encoding of the file, by name.
    pub encoding: String,
    /// The sign between cells.
    pub delimiter: char,
    /// The columns, in the order of the file.
    pub columns: Vec<Column>,
    /// What must be answered before anything is kept.
    pub questions: Vec<Question>,
    /// Rows that hold something about an animal.
    pub rows: usize,
    /// Rows that hold nothing.
    pub blank_rows: usize,
    /// Rows that hold something that is not about an animal: titles, comments, repeated headers, totals.
    pub left_out: Vec<LeftOut>,
    /// The animals, in the order in which the file names them, each with what happened.
    pub animals: Vec<ImportedAnimal>,
    /// The first rows, as they stand and as they were understood.
    pub samples: Vec<Sample>,
    /// What was understood and looks odd.
    pub doubts: Vec<Fault>,
    /// The fingerprint of the file: the same bytes have the same one. 32 hexadecimal digits.
    pub fingerprint: String,
}

/// A column as it was understood.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Column {
    /// Its header; made up from its place where it has none, or where another column has the same.
    pub header: String,
    /// What it means.
    pub meaning: Meaning,
    /// The unit of its figures, where there is one for all of them.
    pub unit: Option<String>,
    /// Why it was understood so.
    pub because: String,
}

/// What a question is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum About {
    /// How the file is encoded: answered by `Answers::encoding`.
    Encoding,
    /// Day or month first: `Answers::date_order`.
    DateOrder,
    /// Point or comma before decimals: `Answers::decimal`.
    Decimal,
    /// The unit of masses: `Answers::mass_unit`, or `Answers::units` column by column.
    MassUnit,
    /// The unit of lengths: `Answers::length_unit`, or `Answers::units` column by column.
    LengthUnit,
    /// The unit of temperatures: `Answers::temperature_unit`, or `Answers::units` column by column.
    TemperatureUnit,
    /// What the column with this header means: `Answers::columns`.
    Column(String),
    /// The species: `Answers::species`.
    Species,
    /// The animal: `Answers::animal`.
    Animal,
    /// Whether a row without an animal belongs to the one above: `Answers::fill_down`.
    FillDown,
    /// What became of meals: `Answers::outcome`.
    Outcome,
    /// One item or all of a meal: `Answers::meal_mass_is`.
    MealMass,
    /// Not offered or refused: `Answers::no_meal`.
    NoMeal,
}

impl About {
    /// Its key: `date-order`, `mass-unit` ...
    pub fn key(&self) -> &'static str {
        match self {
            About::Encoding => "encoding",
            About::DateOrder => "date-order",
            About::Decimal => "decimal",
            About::MassUnit => "mass-unit",
            About::LengthUnit => "length-unit",
            About::TemperatureUnit => "temperature-unit",
            About::Column(_) => "column",
            About::Species => "species",
            About::Animal => "animal",
            About::FillDown => "fill-down",
            About::Outcome => "outcome",
            About::MealMass => "meal-mass",
            About::NoMeal => "no-meal",
        }
    }
}

impl serde::Serialize for About {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self {
            About::Column(header) => to.serialize_str(&format!("column {header}")),
            about => to.serialize_str(about.key()),
        }
    }
}

/// Something that the table leaves open.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Question {
    /// What it is about.
    pub about: About,
    /// The answers that can be given, as they are written; empty where any text is one.
    pub choices: Vec<String>,
    /// Why it is asked.
    pub because: String,
    /// A cell where it matters, and what each answer makes of it.
    pub example: String,
}

/// A row that is not about an animal.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct LeftOut {
    /// Its line in the file, from 1.
    pub line: u32,
    /// Why it was left out.
    pub because: String,
}

/// A row as it stands and as it was understood.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Sample {
    /// Its line in the file, from 1.
    pub line: u32,
    /// Its cells as they stand.
    pub cells: Vec<String>,
    /// What it becomes, in words.
    pub becomes: Vec<String>,
}

/// An animal of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct ImportedAnimal {
    /// What the table calls it.
    pub name: String,
    /// Who it is.
    pub animal: Animal,
    /// What happened, each with its line in the file, in the order of the file.
    pub facts: Vec<(u32, Fact)>,
}

impl Understood {
    /// The animals, once nothing is left open; the open questions otherwise. The one way to what may be kept.
    pub fn ready(&self) -> Result<&[ImportedAnimal], &[Question]> {
        if self.questions.is_empty() { Ok(&self.animals) } else { Err(&self.questions) }
    }
}

impl ImportedAnimal {
    /// Its records with their keys, as a timeline takes them: kind, place among its kind, line in the file.
    pub fn entries(&self) -> Vec<(Key, Fact)> {
        let mut counts: HashMap<Kind, u32> = HashMap::new();
        let keyed = self.facts.iter().map(|(line, fact)| {
            let kind = fact.kind();
            let next = counts.entry(kind).or_insert(0);
            let index = *next;
            *next += 1;
            (Key { kind, index, line: Some(*line), id: None }, fact.clone())
        });
        keyed.collect()
    }

    /// What is to be appended to a store: the animal first, then what happened.
    pub fn records(&self) -> impl Iterator<Item = Fact> + '_ {
        std::iter::once(Fact::Animal(self.animal.clone())).chain(self.facts.iter().map(|(_, fact)| fact.clone()))
    }

    /// The animal as a case, to be assessed without a database.
    pub fn case(&self, zone: &Zone, at: Option<Moment>) -> Case {
        Case {
            at,
            zone: zone.clone(),
            animal: Entry { key: Key { kind: Kind::Animal, index: 0, line: None, id: None }, it: self.animal.clone() },
            timeline: Timeline::new(self.entries()),
            enclosure: None,
            heaters: Vec::new(),
            household: None,
            freezer: Vec::new(),
            overrides: Vec::new(),
        }
    }
}

/// A cell as it is shown in a message: one line, not too long.
pub(super) fn shortened(cell: &str) -> String {
    const LONGEST: usize = 40;
    let line = cell.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= LONGEST {
        return line;
    }
    let cut: String = line.chars().take(LONGEST - 1).collect();
    format!("{}…", cut.trim_end())
}
