//! Reading data files: every value with its place, every fault with line and column, all faults at once.
//!
//! [`File`] is one file and what it may refer to; [`Table`] is a table in it that notes which keys were asked for, so
//! that [`Table::done`] can name the ones that nobody knows.

mod entries;
mod profiles;
mod rules;
mod signs;
mod table;

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use toml::de::DeTable;

use crate::fault::DataFault;
use crate::find::compared;

pub(crate) use entries::{asks, cautions, disinfectants, genera, prey_classes, sources, uv_zones};
pub(crate) use profiles::profile;
pub(crate) use rules::rules;
pub(crate) use signs::signs;
use table::{Table, figure};

/// What is wrong in any file, so far.
pub(crate) type Faults = RefCell<Vec<DataFault>>;

/// A text as a tree; `None`, and faults, when it is no TOML.
pub(crate) fn tree<'a>(name: &str, text: &'a str, faults: &Faults) -> Option<DeTable<'a>> {
    let (tree, wrong) = DeTable::parse_recoverable(text);
    let is_whole = wrong.is_empty();
    for fault in wrong {
        let (line, column) = line_and_column(text, fault.span().unwrap_or(0..0).start);
        faults.borrow_mut().push(DataFault {
            what: format!("this is not TOML: {}", fault.message()),
            file: name.into(),
            line,
            column,
            mend: "mend the line; names and text stand in quotes, tables in square brackets".into(),
        });
    }
    is_whole.then(|| tree.into_inner())
}

/// One text of each table of a name, with no fault told: for a first look.
pub(crate) fn texts_in<'a>(tree: &'a DeTable<'_>, tables: &'a str, key: &'a str) -> impl Iterator<Item = &'a str> {
    let tables = tree.get(tables).and_then(|tables| tables.get_ref().as_array());
    tables.into_iter().flatten().filter_map(move |table| table.get_ref().get(key)?.get_ref().as_str())
}

fn line_and_column(text: &str, offset: usize) -> (usize, usize) {
    let before = text.get(..offset).unwrap_or(text);
    let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let line = before.bytes().filter(|byte| *byte == b'\n').count() + 1;
    let column = before.get(line_start..).unwrap_or_default().chars().count() + 1;
    (line, column)
}

/// The file of sources; what stands in it cites nothing.
pub(crate) const SOURCES: &str = "sources.toml";

/// What a file may refer to, and what was named so far.
#[derive(Default)]
pub(crate) struct Known {
    /// Keys of sources.
    pub sources: BTreeSet<String>,
    /// Keys of prey classes.
    pub prey: BTreeSet<String>,
    /// Keys of cautions.
    pub cautions: BTreeSet<String>,
    /// Keys of profiles.
    pub profiles: BTreeSet<String>,
    /// Names that may belong to several profiles.
    pub asked: BTreeSet<String>,
    /// Where each key or name was given first, by kind and name.
    named: RefCell<BTreeMap<(&'static str, String), String>>,
    /// The files that cite each source.
    pub cited: RefCell<BTreeMap<String, BTreeSet<String>>>,
}

/// One file.
pub(crate) struct File<'a> {
    pub name: &'a str,
    pub text: &'a str,
    pub tree: &'a DeTable<'a>,
    pub known: &'a Known,
    pub faults: &'a Faults,
}

impl File<'_> {
    pub fn fault(&self, at: &Range<usize>, what: impl Into<String>, mend: impl Into<String>) {
        let (line, column) = line_and_column(self.text, at.start);
        let fault = DataFault { what: what.into(), file: self.name.into(), line, column, mend: mend.into() };
        self.faults.borrow_mut().push(fault);
    }

    /// Notes that a key or name is given here; a second one is a fault.
    pub fn name_once(&self, kind: &'static str, name: &str, at: &Range<usize>) {
        let (line, column) = line_and_column(self.text, at.start);
        let here = format!("{}:{line}:{column}", self.name);
        let key = if kind.starts_with("name") { compared(name) } else { name.to_owned() };
        let earlier = self.known.named.borrow_mut().entry((kind, key)).or_insert_with(|| here.clone()).clone();
        if earlier != here {
            let mend = if kind == "name" {
                "take one out, or list the name in names.toml with both profiles".into()
            } else {
                format!("give each {kind} its own")
            };
            self.fault(at, format!("the {kind} `{name}` is already used at {earlier}"), mend);
        }
    }
}
