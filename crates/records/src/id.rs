//! Names of records: UUIDv7, lower-case, made where the record is made.

use std::fmt;

/// The name of a record, an animal or an enclosure. Later ones sort after earlier ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RecordId(pub uuid::Uuid);

impl RecordId {
    /// Reads a UUID; `None` when it is none.
    pub fn read(text: &str) -> Option<RecordId> {
        uuid::Uuid::try_parse(text).ok().map(RecordId)
    }
}

impl fmt::Display for RecordId {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}", self.0.hyphenated())
    }
}

impl serde::Serialize for RecordId {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}
