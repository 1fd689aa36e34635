//! What can go wrong in the store, in words for the reader.

use std::path::PathBuf;

use records::{Fault, RecordId};

/// What went wrong. Unless it says otherwise, nothing was changed.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Another process writes to this folder.
    #[error("another Warmside is writing to {}", folder.display())]
    Busy {
        /// The folder.
        folder: PathBuf,
    },
    /// Another connection held the file for too long.
    #[error("the records were in use for too long")]
    Waited,
    /// There are no records in the folder.
    #[error("there are no records in {}", folder.display())]
    NoHousehold {
        /// The folder.
        folder: PathBuf,
    },
    /// The store was opened for reading.
    #[error("the records were opened for reading only")]
    ReadOnly,
    /// The file was written by a newer version.
    #[error("the records were written by a newer version (schema {file}; this version knows {known})")]
    Newer {
        /// Schema of the file.
        file: i64,
        /// The newest schema that this version knows.
        known: i64,
    },
    /// The file is a database, but not one of this program.
    #[error("{} does not hold records of Warmside", path.display())]
    NotOurs {
        /// The file.
        path: PathBuf,
    },
    /// The file is damaged.
    #[error("the file of the records is damaged: {what}")]
    Damaged {
        /// What was found.
        what: String,
    },
    /// The disk is full.
    #[error("the disk is full: nothing was written")]
    Full,
    /// There is no such record.
    #[error("there is no record {0}")]
    NotFound(RecordId),
    /// The record was removed.
    #[error("the record {0} was removed")]
    Gone(RecordId),
    /// Another record has this name.
    #[error("another record is already named {0}")]
    IdTaken(RecordId),
    /// Other records still point to what was to be removed.
    #[error("{others} other records are about {id}")]
    InUse {
        /// What was to be removed.
        id: RecordId,
        /// How many records point to it.
        others: u64,
    },
    /// It was undone already, or something newer stands on it.
    #[error("there is nothing left of this entry to undo")]
    NothingToUndo,
    /// What was to be written cannot be true or is not complete.
    #[error("{}", .0.iter().map(|fault| fault.what.as_str()).collect::<Vec<_>>().join("; "))]
    Faults(Vec<Fault>),
    /// A stored record cannot be read by this version.
    #[error("the record {id} cannot be read: {what}")]
    Unreadable {
        /// Which.
        id: String,
        /// Why.
        what: String,
    },
    /// Records can be restored only into an empty store.
    #[error("there are records here already")]
    NotEmpty,
    /// A record that was to be restored does not fit its hash or its forerunner.
    #[error("record {seq} is not as it was written: {what}")]
    Broken {
        /// Its place in the order of writing.
        seq: u64,
        /// What does not fit.
        what: String,
    },
    /// The file to be written exists already.
    #[error("{} exists already", path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// A file could not be read or written.
    #[error("{}: {cause}", path.display())]
    Io {
        /// The file or folder.
        path: PathBuf,
        /// Why.
        cause: std::io::Error,
    },
    /// The database refused for another reason.
    #[error("the database refused: {0}")]
    Sql(rusqlite::Error),
}

impl StoreError {
    /// One fault of a record that was to be written.
    pub(crate) fn fault(what: impl Into<String>, place: impl Into<String>, mend: impl Into<String>) -> StoreError {
        StoreError::Faults(vec![Fault::new(what, place, mend)])
    }

    /// One thing to do now.
    pub fn mend(&self) -> String {
        match self {
            StoreError::Busy { .. } => "close the other one, or use its page; reading goes on".into(),
            StoreError::Waited => "try again".into(),
            StoreError::NoHousehold { .. } => "name the right folder, or begin by adding an animal".into(),
            StoreError::ReadOnly => "open the records for writing".into(),
            StoreError::Newer { .. } => "reading goes on; update Warmside to write".into(),
            StoreError::NotOurs { .. } => "name the folder that holds records.db of Warmside".into(),
            StoreError::Damaged { .. } => {
                "keep the file as it is and restore the newest backup; do not begin again".into()
            }
            StoreError::Full => "free some space and enter it again; what was recorded before is safe".into(),
            StoreError::NotFound(_) => "look it up in the list".into(),
            StoreError::Gone(_) => "put it back first, or enter it anew".into(),
            StoreError::IdTaken(_) => "enter it again; it gets a new name".into(),
            StoreError::InUse { .. } => "remove those records first; an animal that left gets an ending instead".into(),
            StoreError::NothingToUndo => "look at the history: it shows what stands".into(),
            StoreError::Faults(faults) => faults.iter().map(|fault| fault.mend.as_str()).collect::<Vec<_>>().join("; "),
            StoreError::Unreadable { .. } => "update Warmside; the record is kept as it is".into(),
            StoreError::NotEmpty => "restore into an empty folder".into(),
            StoreError::Broken { .. } => "use another export or a backup; nothing was restored".into(),
            StoreError::Exists { .. } => "choose another name".into(),
            StoreError::Io { .. } => "check that the disk is there and may be written".into(),
            StoreError::Sql(_) => "this is a fault of Warmside; what was recorded before is safe".into(),
        }
    }
}

impl From<rusqlite::Error> for StoreError {
    fn from(cause: rusqlite::Error) -> StoreError {
        use rusqlite::ErrorCode;
        match cause.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => StoreError::Full,
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => StoreError::Waited,
            Some(ErrorCode::ReadOnly) => StoreError::ReadOnly,
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
                StoreError::Damaged { what: cause.to_string() }
            }
            _ => StoreError::Sql(cause),
        }
    }
}
