//! What the cells of a column look like, whatever stands above them.

use units::Zone;

use super::meaning::Meaning;
use super::table::Table;
use super::unit::Quantity;
use super::{date, event, number, prey, says};

/// So many cells show what a column holds.
const ENOUGH: usize = 2_000;

/// How many cells of a column look like what.
#[derive(Clone, Debug, Default)]
pub(super) struct Content {
    /// Cells that hold something.
    pub filled: usize,
    numbers: usize,
    of_mass: usize,
    of_length: usize,
    of_temperature: usize,
    of_humidity: usize,
    noughts_and_ones: usize,
    days: usize,
    dates: usize,
    clocks: usize,
    yes_or_no: usize,
    sexes: usize,
    outcomes: usize,
    prey: usize,
    events: usize,
    sheds: usize,
    lettered: usize,
    binomials: usize,
    /// Does it count the rows?
    pub is_serial: bool,
}

impl Content {
    /// Looks at a column.
    pub fn of(table: &Table, column: usize) -> Content {
        let mut content = Content { is_serial: true, ..Content::default() };
        let mut last = None;
        for (_, cell) in table.filled(column).filter(|(_, cell)| !says::is_nothing(cell)).take(ENOUGH) {
            content.look(cell);
            let whole: Option<i64> = cell.trim_start_matches('#').parse().ok();
            content.is_serial &= whole.is_some() && last.is_none_or(|last: i64| whole == last.checked_add(1));
            last = whole;
        }
        content.is_serial &= 3 <= content.filled;
        content
    }

    fn look(&mut self, cell: &str) {
        self.filled += 1;
        let figure = number::read(cell);
        let written = date::read(cell, &Zone::none());
        if figure.is_none() && written.is_none() {
            self.look_at_words(cell);
        }
        if let Some(figure) = figure {
            self.numbers += 1;
            match figure.unit().map(super::unit::Unit::quantity) {
                Some(Quantity::Mass) => self.of_mass += 1,
                Some(Quantity::Length) => self.of_length += 1,
                Some(Quantity::Temperature) => self.of_temperature += 1,
                Some(Quantity::Humidity) => self.of_humidity += 1,
                _ => {}
            }
            self.noughts_and_ones += usize::from(matches!(cell, "0" | "1"));
        }
        if let Some(written) = written {
            self.dates += 1;
            self.days += usize::from(written.is_day());
        }
        self.clocks += usize::from(date::clock(cell).is_some());
        self.yes_or_no += usize::from(says::yes(cell).is_some());
        self.sexes += usize::from(says::sex(cell).is_some());
    }

    fn look_at_words(&mut self, cell: &str) {
        self.lettered += usize::from(cell.chars().any(char::is_alphabetic));
        self.binomials += usize::from(is_binomial(cell));
        let words = prey::read(cell);
        self.outcomes += usize::from(words.outcome.is_some());
        self.prey += usize::from(words.names_prey);
        let events = event::read(cell);
        self.events += usize::from(!events.happenings.is_empty());
        let shed = |happening: &event::Happening| matches!(happening, event::Happening::Shed(_));
        self.sheds += usize::from(events.happenings.iter().any(shed) || super::rows::shed_words(cell).is_some());
    }

    /// Do at least half of the cells look so?
    fn half(&self, cells: usize) -> bool {
        0 < cells && self.filled <= 2 * cells
    }

    fn most(&self, cells: usize) -> bool {
        0 < cells && 4 * self.filled <= 5 * cells
    }

    /// Are its cells numbers?
    pub fn is_numeric(&self) -> bool {
        self.half(self.numbers)
    }

    /// Is any of its cells a date?
    pub fn has_dates(&self) -> bool {
        0 < self.dates
    }

    /// Are its cells days?
    pub fn is_days(&self) -> bool {
        self.most(self.days)
    }

    /// Are its cells all of one quantity, by the units behind them?
    pub fn quantity(&self) -> Option<Quantity> {
        match () {
            () if self.most(self.of_mass) => Some(Quantity::Mass),
            () if self.most(self.of_length) => Some(Quantity::Length),
            () if self.most(self.of_temperature) => Some(Quantity::Temperature),
            () if self.most(self.of_humidity) => Some(Quantity::Humidity),
            () => None,
        }
    }

    /// Can the column mean this?
    pub fn fits(&self, meaning: Meaning) -> bool {
        match meaning {
            Meaning::Animal => !self.is_serial,
            Meaning::Species => self.half(self.lettered) && !self.half(self.events),
            Meaning::Sex => self.half(self.sexes),
            Meaning::Hatched | Meaning::Arrived => self.half(self.dates),
            Meaning::Date => self.half(self.days),
            Meaning::Time => self.half(self.clocks),
            Meaning::Outcome => {
                self.half(self.outcomes) && self.prey == 0
                    || self.half(self.yes_or_no + self.outcomes) && self.numbers == self.noughts_and_ones
            }
            Meaning::Prey => self.half(self.prey + self.outcomes) && 0 < self.prey,
            Meaning::MealMass => self.half(self.numbers) && self.half(self.of_mass),
            Meaning::Event => self.half(self.events),
            Meaning::Shed => self.half(self.sheds + self.yes_or_no + self.days),
            Meaning::Handling => self.half(self.numbers + self.yes_or_no),
            Meaning::Cleaning => self.half(self.events + self.yes_or_no),
            Meaning::Note | Meaning::Ignored | Meaning::Value | Meaning::Unit => true,
            meaning => meaning.quantity().is_some() && self.is_numeric(),
        }
    }

    /// What the cells alone tell, where they tell it beyond doubt.
    pub fn tells(&self) -> Option<Meaning> {
        match () {
            () if self.most(self.days) => Some(Meaning::Date),
            () if self.most(self.prey) && self.numbers == 0 => Some(Meaning::Prey),
            () if self.most(self.events) => Some(Meaning::Event),
            () if self.most(self.binomials) => Some(Meaning::Species),
            () if self.filled == self.sexes && self.numbers == 0 && self.yes_or_no == 0 => Some(Meaning::Sex),
            () => None,
        }
    }
}

/// Two Latin words, as a species is written: «Boa imperator».
fn is_binomial(cell: &str) -> bool {
    let words: Vec<&str> = cell.split(' ').collect();
    let [genus, species] = words.as_slice() else {
        return false;
    };
    let mut letters = genus.chars();
    letters.next().is_some_and(char::is_uppercase)
        && 2 < genus.len()
        && 3 < species.len()
        && letters.chain(species.chars()).all(|c| c.is_ascii_lowercase())
        && ["us", "a", "is", "um", "ae", "or", "i", "ii", "er", "ns", "es", "ix", "os", "on", "e"]
            .iter()
            .any(|end| species.ends_with(end))
}
