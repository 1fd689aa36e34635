//! One field of a record as it stands in a column.

use records::Raw;
use rusqlite::types::{ToSql, ToSqlOutput, ValueRef};

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sort {
    Text,
    Real,
    Whole,
    Flag,
}

/// A column of a table of records.
#[derive(Debug, PartialEq)]
pub(crate) struct Column {
    pub name: &'static str,
    pub sort: Sort,
}

/// The value in a column.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Cell {
    Text(String),
    Real(f64),
    Whole(i64),
    Flag(bool),
}

impl Cell {
    /// The value as the column holds it; `None` when the column cannot.
    pub fn from_raw(raw: &Raw, sort: Sort) -> Option<Cell> {
        Some(match (sort, raw) {
            (Sort::Text, Raw::Text(text)) => Cell::Text(text.clone()),
            // SQLite keeps no sign of a zero.
            (Sort::Real, Raw::Number(number)) if number.is_finite() => Cell::Real(number + 0.0),
            (Sort::Whole, Raw::Number(number)) if number.fract() == 0.0 && number.abs() < 9e15 => {
                Cell::Whole(*number as i64)
            }
            (Sort::Flag, Raw::Flag(flag)) => Cell::Flag(*flag),
            _ => return None,
        })
    }

    /// The value of a column of a row; `None` when it is null.
    pub fn from_sql(value: ValueRef<'_>, sort: Sort) -> Result<Option<Cell>, String> {
        Ok(Some(match (sort, value) {
            (_, ValueRef::Null) => return Ok(None),
            (Sort::Text, ValueRef::Text(bytes)) => {
                Cell::Text(std::str::from_utf8(bytes).map_err(|_| "a text is not UTF-8".to_owned())?.to_owned())
            }
            (Sort::Real, ValueRef::Real(number)) => Cell::Real(number),
            (Sort::Whole, ValueRef::Integer(number)) => Cell::Whole(number),
            (Sort::Flag, ValueRef::Integer(number)) => Cell::Flag(number != 0),
            (sort, value) => return Err(format!("a column of {sort:?} holds {}", value.data_type())),
        }))
    }

    /// The value as it is read by a [`records::Reader`].
    pub fn to_raw(&self) -> Raw {
        match self {
            Cell::Text(text) => Raw::Text(text.clone()),
            Cell::Real(number) => Raw::Number(*number),
            Cell::Whole(number) => Raw::Number(*number as f64),
            Cell::Flag(flag) => Raw::Flag(*flag),
        }
    }
}

impl ToSql for Cell {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        match self {
            Cell::Text(text) => text.to_sql(),
            Cell::Real(number) => number.to_sql(),
            Cell::Whole(number) => number.to_sql(),
            Cell::Flag(flag) => flag.to_sql(),
        }
    }
}
