//! Reads a table, and keeps the largest difference.

use std::collections::HashMap;
use units::{Celsius, Metres, RelativeHumidity};

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

    pub fn celsius(&self, column: &str) -> Celsius {
        c(self.number(column))
    }

    pub fn metres(&self, column: &str) -> Metres {
        m(self.number(column))
    }

    pub fn percent(&self, column: &str) -> RelativeHumidity {
        RelativeHumidity::from_percent(self.number(column)).unwrap()
    }
}

pub fn c(degrees: f64) -> Celsius {
    Celsius::new(degrees).unwrap()
}

pub fn m(metres: f64) -> Metres {
    Metres::new(metres).unwrap()
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
        self.note((got / wanted - 1.0).abs(), got, wanted, at);
    }

    pub fn absolute(&mut self, got: f64, wanted: f64, at: impl std::fmt::Display) {
        self.note((got - wanted).abs(), got, wanted, at);
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
