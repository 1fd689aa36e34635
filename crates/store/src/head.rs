//! The head of a record: whose it is, when it happened, who wrote it down when, what became of it.

use records::choice::Choice;
use records::{Fact, Kind, RecordId};
use rusqlite::Row;
use units::{Moment, Precision, When, Zone};

use crate::chain::Hash;
use crate::error::StoreError;
use crate::reading::Zones;

/// What is known of a record beside what it says.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// Its place in the order of writing, from 1.
    pub seq: u64,
    /// Its name.
    pub id: RecordId,
    /// Its kind.
    pub kind: Kind,
    /// The animal it is about.
    pub animal: Option<RecordId>,
    /// The enclosure it is about.
    pub enclosure: Option<RecordId>,
    /// When it happened; `None` for what has no date.
    pub happened: Option<When>,
    /// The zone it was written in.
    pub zone: Zone,
    /// When it was written down.
    pub recorded_at: Moment,
    /// By whom.
    pub by: String,
    /// The record that it replaces.
    pub corrects: Option<RecordId>,
    /// Why it replaces it.
    pub why: Option<String>,
    /// The first record of the act of entry that it belongs to.
    pub batch: u64,
    /// The fingerprint of the file it was read from.
    pub fingerprint: Option<String>,
    /// The record that replaces it.
    pub corrected_by: Option<RecordId>,
    /// Who removed it.
    pub removed: Option<Removed>,
    /// The hash of the record written before it.
    pub forerunner: Hash,
    /// Its own hash.
    pub hash: Hash,
}

impl Head {
    /// Does it hold now: neither replaced nor removed?
    pub fn is_current(&self) -> bool {
        self.corrected_by.is_none() && self.removed.is_none()
    }
}

/// Who took a record back, when and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Removed {
    /// By whom.
    pub by: String,
    /// When.
    pub at: Moment,
    /// Why.
    pub why: Option<String>,
}

/// A record as it is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Stored {
    /// Whose, when, by whom.
    pub head: Head,
    /// What it says.
    pub fact: Fact,
}

/// The columns of the table `record`, as they are hashed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct HeadRow {
    pub seq: i64,
    pub id: String,
    pub kind: String,
    pub animal_id: Option<String>,
    pub enclosure_id: Option<String>,
    pub happened: Option<String>,
    pub happened_from_s: Option<i64>,
    pub happened_to_s: Option<i64>,
    pub precision: Option<String>,
    pub zone: Option<String>,
    pub recorded_at_s: i64,
    pub recorded_by: String,
    pub corrects: Option<String>,
    pub story: i64,
    pub why: Option<String>,
    pub batch: i64,
    pub fingerprint: Option<String>,
    pub forerunner: Hash,
    pub hash: Hash,
}

impl HeadRow {
    /// Reads the columns in the order in which all queries of this crate name them.
    pub fn read(row: &Row<'_>) -> rusqlite::Result<HeadRow> {
        Ok(HeadRow {
            seq: row.get(0)?,
            id: row.get(1)?,
            kind: row.get(2)?,
            animal_id: row.get(3)?,
            enclosure_id: row.get(4)?,
            happened: row.get(5)?,
            happened_from_s: row.get(6)?,
            happened_to_s: row.get(7)?,
            precision: row.get(8)?,
            zone: row.get(9)?,
            recorded_at_s: row.get(10)?,
            recorded_by: row.get(11)?,
            corrects: row.get(12)?,
            story: row.get(13)?,
            why: row.get(14)?,
            batch: row.get(15)?,
            fingerprint: row.get(16)?,
            forerunner: Hash(row.get(17)?),
            hash: Hash(row.get(18)?),
        })
    }

    /// The kind, where this version knows it.
    pub fn known_kind(&self) -> Option<Kind> {
        Kind::from_key(&self.kind)
    }

    /// The head in the words of the caller, without what became of the record later.
    pub fn head(&self, kind: Kind, zones: &mut Zones) -> Result<Head, StoreError> {
        let unreadable = |what: &str| StoreError::Unreadable { id: self.id.clone(), what: what.to_owned() };
        let id = |text: &str| RecordId::read(text).ok_or_else(|| unreadable("an id is no UUID"));
        let happened = match (self.happened_from_s, self.happened_to_s, self.precision.as_deref()) {
            (Some(from), Some(to), Some(precision)) => Some(When {
                from: Moment(from),
                to: Moment(to),
                precision: Precision::from_key(precision).ok_or_else(|| unreadable("its precision is unknown"))?,
            }),
            _ => None,
        };
        Ok(Head {
            seq: self.seq.unsigned_abs(),
            id: id(&self.id)?,
            kind,
            animal: self.animal_id.as_deref().map(id).transpose()?,
            enclosure: self.enclosure_id.as_deref().map(id).transpose()?,
            happened,
            zone: zones.get(self.zone.as_deref()).ok_or_else(|| unreadable("its time zone is unknown"))?,
            recorded_at: Moment(self.recorded_at_s),
            by: self.recorded_by.clone(),
            corrects: self.corrects.as_deref().map(id).transpose()?,
            why: self.why.clone(),
            batch: self.batch.unsigned_abs(),
            fingerprint: self.fingerprint.clone(),
            corrected_by: None,
            removed: None,
            forerunner: self.forerunner,
            hash: self.hash,
        })
    }
}
