//! The tables of physics, in units.

use units::{Celsius, Metres, RelativeHumidity};

#[path = "../tables/reader.rs"]
mod reader;

pub use reader::{Row, Worst, rows};

impl Row {
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
