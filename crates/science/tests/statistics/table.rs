//! The tables of statistics.

#[path = "../tables/reader.rs"]
mod reader;

pub use reader::{Row, Worst};

/// The rows of a table; it must not be empty.
pub fn rows(name: &str) -> Vec<Row> {
    reader::rows(&format!("statistics/{name}"))
}

/// The one row of a table whose column has this text.
pub fn row(name: &str, column: &str, text: &str) -> Row {
    let mut found: Vec<Row> = rows(name).into_iter().filter(|row| row.text(column) == text).collect();
    assert_eq!(found.len(), 1, "{name} has {} rows with {column} = {text}", found.len());
    found.remove(0)
}
