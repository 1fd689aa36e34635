//! What a question asks for: one table for the form and for the command line.

use super::Unit;

/// What is written into a field.
#[derive(Clone, Copy, Debug)]
pub enum Entry {
    /// A number in a unit; another unit may be typed with its own sign.
    Number(Unit),
    /// A whole number.
    Count,
    /// One of a few: the key and the word for it.
    Choice(fn() -> Vec<(&'static str, String)>),
    /// Yes, no or not told.
    Flag,
    /// A day with its hour.
    Moment,
    /// An hour of the day as `19:30`.
    Clock,
    /// A short text.
    Text,
    /// Several lines, one thing in each.
    Lines,
}

/// Under which heading a field stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// What the question itself is about.
    Question,
    /// Measures and walls.
    Enclosure,
    /// Heater and thermostat.
    Heating,
    /// The room it stands in.
    Room,
    /// For whom.
    Animal,
    /// What is compared with it.
    Second,
}

impl Group {
    /// The heading.
    pub fn title(self) -> &'static str {
        match self {
            Group::Question => "The question",
            Group::Enclosure => "The enclosure",
            Group::Heating => "Heater and thermostat",
            Group::Room => "The room",
            Group::Animal => "The animal",
            Group::Second => "The second enclosure, where it differs",
        }
    }
}

/// A field of a question.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Its key: also the option of the command line, with `-` for `_`.
    pub key: &'static str,
    /// Its label.
    pub label: &'static str,
    /// A hint under it; empty where the label says all.
    pub hint: &'static str,
    /// What is written into it.
    pub entry: Entry,
    /// Where it stands.
    pub group: Group,
    /// Is it asked for only by those who want to be exact?
    pub extra: bool,
}

impl Field {
    /// A field that everyone sees.
    pub const fn new(key: &'static str, label: &'static str, entry: Entry, group: Group) -> Field {
        Field { key, label, hint: "", entry, group, extra: false }
    }

    /// With a hint.
    #[must_use]
    pub const fn hint(self, hint: &'static str) -> Field {
        Field { hint, ..self }
    }

    /// Behind «more».
    #[must_use]
    pub const fn extra(self) -> Field {
        Field { extra: true, ..self }
    }
}
