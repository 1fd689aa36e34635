//! Are the records as they were written?

use std::collections::BTreeMap;

use records::Kind;
use records::choice::Choice;
use rusqlite::Connection;

use crate::cell::Cell;
use crate::chain::{self, Field, Hash};
use crate::error::StoreError;
use crate::export::heads_after;
use crate::head::HeadRow;
use crate::history::REMOVAL;
use crate::open::Store;
use crate::reading::cells_of;
use crate::remove::removal_at;
use crate::tables::table;

/// What a walk along the chain found.
#[derive(Clone, Debug, PartialEq)]
pub struct Verified {
    /// How many records were found whole, before the first broken one.
    pub records: u64,
    /// How many removals.
    pub removals: u64,
    /// The hash of the last whole one: compare it with that of a backup.
    pub end: Hash,
    /// The first that is not as it was written.
    pub broken: Option<Broken>,
    /// What the database finds wrong with its own file.
    pub damage: Vec<String>,
}

impl Verified {
    /// Is everything as it was written?
    pub fn is_sound(&self) -> bool {
        self.broken.is_none() && self.damage.is_empty()
    }
}

/// A record that is not as it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Broken {
    /// Its place in the order of writing.
    pub seq: u64,
    /// Its name.
    pub id: String,
    /// Its kind.
    pub kind: String,
    /// What does not fit.
    pub what: String,
}

impl Store {
    /// Walks along the whole chain and has the database check its own file. Nothing is changed.
    ///
    /// It finds what was altered or taken out by accident or in passing; that the newest records were cut off shows
    /// only in comparison with a backup.
    pub fn verify(&self) -> Result<Verified, StoreError> {
        let damage = self.read(damage)?;
        let mut found = Verified { records: 0, removals: 0, end: Hash::NONE, broken: None, damage };
        let mut after = 0;
        let mut counts = BTreeMap::new();
        while found.broken.is_none() {
            let next = self.read(|db| walk(db, after, &mut found, &mut counts))?;
            match next {
                Some(seq) => after = seq,
                None => break,
            }
        }
        if found.broken.is_none() {
            self.read(|db| strays(db, after, &counts, &mut found.damage))?;
        }
        Ok(found)
    }
}

/// What the database finds wrong with its own file, at most ten things.
fn damage(db: &Connection) -> Result<Vec<String>, StoreError> {
    const SQL: &str = "pragma quick_check(10)";
    let mut query = db.prepare(SQL)?;
    let rows = query.query_map([], |row| row.get::<_, String>(0))?;
    let rows = rows.collect::<Result<Vec<_>, _>>()?;
    Ok(rows.into_iter().filter(|row| row != "ok").collect())
}

/// Walks one page on; gives the place reached.
fn walk(
    db: &Connection,
    after: i64,
    found: &mut Verified,
    counts: &mut BTreeMap<String, i64>,
) -> Result<Option<i64>, StoreError> {
    let heads = heads_after(db, after, i64::MAX)?;
    let mut reached = after;
    for head in &heads {
        if let Some(what) = fault(db, head, reached, found.end)? {
            let seq = head.seq.unsigned_abs();
            found.broken = Some(Broken { seq, id: head.id.clone(), kind: head.kind.clone(), what });
            return Ok(None);
        }
        *counts.entry(head.kind.clone()).or_default() += 1;
        if head.kind == REMOVAL {
            found.removals += 1;
        } else {
            found.records += 1;
        }
        found.end = head.hash;
        reached = head.seq;
    }
    Ok(heads.last().map(|head| head.seq))
}

/// What is wrong with a record, if anything is.
fn fault(db: &Connection, head: &HeadRow, before: i64, forerunner: Hash) -> Result<Option<String>, StoreError> {
    if head.seq != before + 1 {
        return Ok(Some(format!("record {} is missing before it", before + 1)));
    }
    if head.forerunner != forerunner {
        return Ok(Some("it does not fit its forerunner".to_owned()));
    }
    let text = if head.kind == REMOVAL {
        removal_at(db, head.seq)?.map(|removal| removal.canonical(head))
    } else {
        let Some(kind) = head.known_kind() else {
            // A kind of a newer version: its place in the chain was checked, its fields cannot be.
            return Ok(None);
        };
        let table = table(kind);
        match cells_of(db, table, head.seq) {
            Ok(cells) => cells.map(|cells| text_of(head, kind, &cells)),
            Err(StoreError::Damaged { what }) => return Ok(Some(what)),
            Err(other) => return Err(other),
        }
    };
    Ok(match text {
        None => Some("its fields are missing".to_owned()),
        Some(text) if Hash::of(&text) != head.hash => Some("it is not as it was written".to_owned()),
        Some(_) => None,
    })
}

fn text_of(head: &HeadRow, kind: Kind, cells: &[Option<Cell>]) -> String {
    let named =
        table(kind).columns.iter().zip(cells).map(|(column, cell)| -> Field<'_> { (column.name, cell.as_ref()) });
    chain::canonical(head, named)
}

/// Fields without a head, as far as the chain was walked.
fn strays(
    db: &Connection,
    reached: i64,
    counts: &BTreeMap<String, i64>,
    damage: &mut Vec<String>,
) -> Result<(), StoreError> {
    for kind in Kind::ALL {
        let name = table(*kind).name;
        let rows: i64 = db.query_row(table(*kind).count, [reached], |row| row.get(0))?;
        let heads = counts.get(kind.key()).copied().unwrap_or(0);
        if rows != heads {
            damage.push(format!("the table {name} holds {rows} rows for {heads} records"));
        }
    }
    Ok(())
}
