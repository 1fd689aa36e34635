//! Reads a table, and keeps the largest difference. The checks of physics and of statistics share it.

#![allow(dead_code, reason = "two programs of tests share it, and neither needs all of it")]

use std::collections::HashMap;

pub struct Row(HashMap<String, String>);

impl Row {
    pub fn text(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("no column {column}"))
    }

    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse().unwrap_or_else(|_| panic!("{column}: {text:?} is no number"))
    }

    pub fn maybe(&self, column: &str) -> Option<f64> {
        self.text(column).parse().ok()
    }

    pub fn count(&self, column: &str) -> usize {
        let text = self.text(column);
        text.parse().unwrap_or_else(|_| panic!("{column}: {text:?} is no count"))
    }

    /// Numbers with spaces between.
    pub fn numbers(&self, column: &str) -> Vec<f64> {
        let word = |word: &str| word.parse().unwrap_or_else(|_| panic!("{column}: {word:?} is no number"));
        self.text(column).split_whitespace().map(word).collect()
    }

    pub fn counts(&self, column: &str) -> Vec<usize> {
        let word = |word: &str| word.parse().unwrap_or_else(|_| panic!("{column}: {word:?} is no count"));
        self.text(column).split_whitespace().map(word).collect()
    }
}

/// The rows of a table; it must not be empty.
pub fn rows(name: &str) -> Vec<Row> {
    let path = format!("{}/tests/tables/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(&path).unwrap();
    let header = reader.headers().unwrap().clone();
    let rows: Vec<Row> = reader
        .records()
        .map(|record| Row(header.iter().map(String::from).zip(record.unwrap().iter().map(String::from)).collect()))
        .collect();
    assert!(!rows.is_empty(), "{name} is empty");
    rows
}

/// The largest difference seen, and where.
#[derive(Default)]
pub struct Worst {
    off: f64,
    at: String,
    count: usize,
}

impl Worst {
    pub fn relative(&mut self, got: f64, wanted: f64, at: impl std::fmt::Display) {
        let off = if got == wanted { 0.0 } else { (got / wanted - 1.0).abs() };
        self.note(off, got, wanted, at);
    }

    pub fn absolute(&mut self, got: f64, wanted: f64, at: impl std::fmt::Display) {
        self.note((got - wanted).abs(), got, wanted, at);
    }

    /// All of two lists, which must be equally long.
    pub fn all_relative(&mut self, got: &[f64], wanted: &[f64], at: impl std::fmt::Display) {
        assert_eq!(got.len(), wanted.len(), "{at}");
        for (k, (got, wanted)) in got.iter().zip(wanted).enumerate() {
            self.relative(*got, *wanted, format!("{at}, {k}"));
        }
    }

    pub fn all_absolute(&mut self, got: &[f64], wanted: &[f64], at: impl std::fmt::Display) {
        assert_eq!(got.len(), wanted.len(), "{at}");
        for (k, (got, wanted)) in got.iter().zip(wanted).enumerate() {
            self.absolute(*got, *wanted, format!("{at}, {k}"));
        }
    }

    fn note(&mut self, off: f64, got: f64, wanted: f64, at: impl std::fmt::Display) {
        self.count += 1;
        if off.is_nan() || self.off < off {
            self.off = off;
            self.at = format!("{at}: got {got}, the table has {wanted}");
        }
    }

    #[track_caller]
    pub fn within(self, tolerance: f64) {
        assert!(0 < self.count, "nothing was compared");
        assert!(self.off <= tolerance, "off by {:.3e}, allowed are {tolerance:e}; at {}", self.off, self.at);
    }
}
