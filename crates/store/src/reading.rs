//! Rows read back as records, by the same reading as forms and case files.

use std::collections::HashMap;

use records::{Fact, Fields, Raw, Reader};
use rusqlite::{Connection, OptionalExtension, Row};
use units::Zone;

use crate::cell::Cell;
use crate::error::StoreError;
use crate::tables::Table;

/// Zones by name, looked up once.
#[derive(Default)]
pub(crate) struct Zones(HashMap<String, Zone>);

impl Zones {
    /// The zone of a name; no name means clock time without a zone. `None` when there is no such zone.
    pub fn get(&mut self, name: Option<&str>) -> Option<Zone> {
        let Some(name) = name else {
            return Some(Zone::none());
        };
        if let Some(zone) = self.0.get(name) {
            return Some(zone.clone());
        }
        let zone = Zone::named(name)?;
        self.0.insert(name.to_owned(), zone.clone());
        Some(zone)
    }
}

/// The fields of a record in the order of the columns of its table.
pub(crate) struct Cells<'a> {
    pub table: &'static Table,
    pub cells: Vec<Option<Cell>>,
    pub id: &'a str,
}

impl Cells<'_> {
    /// Reads the columns of a table from a row in which they begin at `first`.
    pub fn from_row(table: &'static Table, row: &Row<'_>, first: usize) -> Result<Vec<Option<Cell>>, StoreError> {
        let mut cells = Vec::with_capacity(table.columns.len());
        for (at, column) in table.columns.iter().enumerate() {
            let cell = Cell::from_sql(row.get_ref(first + at)?, column.sort);
            cells.push(cell.map_err(|what| StoreError::Damaged { what: format!("{}: {what}", table.name) })?);
        }
        Ok(cells)
    }

    /// The record that they say.
    pub fn fact(&self, zone: &Zone) -> Result<Fact, StoreError> {
        let mut reader = Reader::new(self, zone);
        let fact = Fact::read(self.table.kind, &mut reader);
        let faults = reader.finish();
        match fact {
            Some(fact) if faults.is_empty() => Ok(fact),
            _ => {
                let what = faults.into_iter().map(|fault| fault.what).collect::<Vec<_>>().join("; ");
                Err(StoreError::Unreadable { id: self.id.to_owned(), what })
            }
        }
    }

    /// Names and values, as they are hashed.
    pub fn fields(&self) -> impl Iterator<Item = (&str, Option<&Cell>)> {
        self.table.columns.iter().zip(&self.cells).map(|(column, cell)| (column.name, cell.as_ref()))
    }
}

impl Fields for Cells<'_> {
    fn value(&self, key: &str) -> Option<Raw> {
        let at = self.table.columns.iter().position(|column| column.name == key)?;
        self.cells.get(at)?.as_ref().map(Cell::to_raw)
    }

    fn keys(&self) -> Vec<String> {
        self.fields().filter(|(_, cell)| cell.is_some()).map(|(name, _)| name.to_owned()).collect()
    }

    fn place(&self, key: &str) -> String {
        format!("record {}, {}.{key}", self.id, self.table.name)
    }
}

/// The fields of the record with a place in the order of writing; `None` when its table has no such row.
pub(crate) fn cells_of(
    db: &Connection,
    table: &'static Table,
    seq: i64,
) -> Result<Option<Vec<Option<Cell>>>, StoreError> {
    let mut query = db.prepare_cached(table.by_seq)?;
    let found = query.query_row([seq], |row| Ok(Cells::from_row(table, row, 1))).optional()?;
    found.transpose()
}
