//! Opening a folder of records: one writer for all processes, a few readers.

use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};

use crate::error::StoreError;
use crate::migrate;

/// The file of the records in the folder.
pub const RECORDS_FILE: &str = "records.db";
/// The file whose lock the one writing process holds.
pub const LOCK_FILE: &str = "writer.lock";

const BUSY: Duration = Duration::from_secs(5);
/// Readers that are kept open when nobody reads.
const IDLE_READERS: usize = 4;

/// What the store is opened for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Access {
    /// Reading; nothing is made, locked or changed.
    Read,
    /// Reading and writing.
    Write,
}

/// The records of a household.
#[derive(Debug)]
pub struct Store {
    files: Files,
    newer: Option<i64>,
}

#[derive(Debug)]
enum Files {
    Memory(Mutex<Connection>),
    Folder {
        folder: PathBuf,
        path: PathBuf,
        readers: Mutex<Vec<Connection>>,
        writer: Option<Mutex<Connection>>,
        /// Held until everything above is closed; the system frees it when the process ends in any way.
        _lock: Option<File>,
    },
}

fn held<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Store {
    /// Opens the records in `folder`. For writing, folder and files are made where there are none, and an older
    /// schema is brought up to date (the file as it was is kept beside it). A file from a newer version is opened for
    /// reading only: then [`Store::newer`] tells its schema and every writing fails with [`StoreError::Newer`].
    pub fn open(folder: &Path, access: Access) -> Result<Store, StoreError> {
        let path = folder.join(RECORDS_FILE);
        match access {
            Access::Read => open_to_read(folder, &path),
            Access::Write => open_to_write(folder, &path),
        }
    }

    /// Records in memory, gone when the store is dropped.
    pub fn in_memory() -> Result<Store, StoreError> {
        let mut db = Connection::open_in_memory()?;
        settle(&db)?;
        migrate::migrate(&mut db)?;
        Ok(Store { files: Files::Memory(Mutex::new(db)), newer: None })
    }

    /// Opens one file of records for reading, such as a backup, whatever it is called.
    pub fn open_file(path: &Path) -> Result<Store, StoreError> {
        let schema = look_at(path)?;
        Ok(to_read(path.parent().unwrap_or(Path::new(".")), path, schema))
    }

    /// The folder; `None` in memory.
    pub fn folder(&self) -> Option<&Path> {
        match &self.files {
            Files::Memory(_) => None,
            Files::Folder { folder, .. } => Some(folder),
        }
    }

    /// The schema of the file, where a newer version wrote it.
    pub fn newer(&self) -> Option<i64> {
        self.newer
    }

    /// Can it be written to?
    pub fn is_writable(&self) -> bool {
        match &self.files {
            Files::Memory(_) => true,
            Files::Folder { writer, .. } => writer.is_some(),
        }
    }

    /// Runs `work` on one unchanging view of the records. Callers' own code is never run in here, so that no reader
    /// stays open for long and nothing waits for itself.
    pub(crate) fn read<T>(&self, work: impl FnOnce(&Connection) -> Result<T, StoreError>) -> Result<T, StoreError> {
        match &self.files {
            Files::Memory(db) => work(&held(db)),
            Files::Folder { path, readers, .. } => {
                let idle = held(readers).pop();
                let db = match idle {
                    Some(db) => db,
                    None => reader(path)?,
                };
                let view = db.unchecked_transaction()?;
                let result = work(&view);
                drop(view);
                let mut readers = held(readers);
                if readers.len() < IDLE_READERS {
                    readers.push(db);
                }
                result
            }
        }
    }

    /// Runs `work` in one transaction: all of it is kept, or none.
    pub(crate) fn write<T>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        if let Some(file) = self.newer {
            return Err(StoreError::Newer { file, known: migrate::SCHEMA });
        }
        let writer = match &self.files {
            Files::Memory(db) => db,
            Files::Folder { writer, .. } => writer.as_ref().ok_or(StoreError::ReadOnly)?,
        };
        let mut db = held(writer);
        let act = db.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let result = work(&act)?;
        act.commit()?;
        Ok(result)
    }
}

fn io(path: &Path) -> impl FnOnce(std::io::Error) -> StoreError + '_ {
    |cause| StoreError::Io { path: path.to_owned(), cause }
}

/// What every connection needs.
fn settle(db: &Connection) -> Result<(), StoreError> {
    db.busy_timeout(BUSY)?;
    db.set_prepared_statement_cache_capacity(128);
    // Plans do not hang on the values that are bound: otherwise statements are compiled anew at every use.
    db.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_QPSG, true)?;
    db.pragma_update(None, "foreign_keys", true)?;
    db.pragma_update(None, "recursive_triggers", true)?;
    db.pragma_update(None, "temp_store", "memory")?;
    db.pragma_update(None, "cache_size", -8_000)?;
    Ok(())
}

/// A connection that reads the records at `path`.
pub(crate) fn reader(path: &Path) -> Result<Connection, StoreError> {
    let db = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    settle(&db)?;
    db.pragma_update(None, "query_only", true)?;
    Ok(db)
}

/// A connection that writes to the records at `path`, which exist.
fn writer(path: &Path) -> Result<Connection, StoreError> {
    let db = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    settle(&db)?;
    let _: String = db.pragma_update_and_check(None, "journal_mode", "wal", |row| row.get(0))?;
    db.pragma_update(None, "synchronous", "full")?;
    let _: i64 = db.pragma_update_and_check(None, "journal_size_limit", 64 * 1_048_576, |row| row.get(0))?;
    Ok(db)
}

/// Is the file whole enough to be opened, and ours? Gives its schema.
fn look_at(path: &Path) -> Result<i64, StoreError> {
    // An empty file would pass for a new database; ours are never empty, since they are made under another name.
    if std::fs::metadata(path).map_err(io(path))?.len() == 0 {
        return Err(StoreError::Damaged { what: format!("{} is empty", path.display()) });
    }
    let db = reader(path)?;
    if !migrate::is_ours(&db)? {
        return Err(StoreError::NotOurs { path: path.to_owned() });
    }
    migrate::schema_of(&db)
}

fn open_to_read(folder: &Path, path: &Path) -> Result<Store, StoreError> {
    if !path.exists() {
        return Err(StoreError::NoHousehold { folder: folder.to_owned() });
    }
    let schema = look_at(path)?;
    if schema < migrate::SCHEMA {
        drop(open_to_write(folder, path)?);
    }
    Ok(to_read(folder, path, schema))
}

fn to_read(folder: &Path, path: &Path, schema: i64) -> Store {
    let (folder, path) = (folder.to_owned(), path.to_owned());
    let files = Files::Folder { folder, path, readers: Mutex::default(), writer: None, _lock: None };
    Store { files, newer: (migrate::SCHEMA < schema).then_some(schema) }
}

fn open_to_write(folder: &Path, path: &Path) -> Result<Store, StoreError> {
    std::fs::create_dir_all(folder).map_err(io(folder))?;
    let lock = lock(folder)?;
    if !path.exists() {
        make(folder, path)?;
    }
    let schema = look_at(path)?;
    if migrate::SCHEMA < schema {
        return Ok(to_read(folder, path, schema));
    }
    if schema < migrate::SCHEMA {
        let kept = folder.join(format!("records-schema-{schema}.db"));
        if !kept.exists() {
            reader(path)?.backup("main", &kept, None::<fn(rusqlite::backup::Progress)>)?;
        }
    }
    let mut db = writer(path)?;
    migrate::migrate(&mut db)?;
    Ok(Store {
        files: Files::Folder {
            folder: folder.to_owned(),
            path: path.to_owned(),
            readers: Mutex::default(),
            writer: Some(Mutex::new(db)),
            _lock: Some(lock),
        },
        newer: None,
    })
}

/// Takes the lock of the one writing process.
fn lock(folder: &Path) -> Result<File, StoreError> {
    let path = folder.join(LOCK_FILE);
    let file = File::options().create(true).truncate(false).write(true).open(&path).map_err(io(&path))?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(StoreError::Busy { folder: folder.to_owned() }),
        Err(TryLockError::Error(cause)) => Err(StoreError::Io { path, cause }),
    }
}

/// Makes the file under another name and gives it its own when it is whole, so that a power cut leaves either no
/// file or a good one.
fn make(folder: &Path, path: &Path) -> Result<(), StoreError> {
    let beginning = folder.join("records.db.new");
    for left_over in ["records.db.new", "records.db.new-wal", "records.db.new-shm", "records.db.new-journal"] {
        let left_over = folder.join(left_over);
        if left_over.exists() {
            std::fs::remove_file(&left_over).map_err(io(&left_over))?;
        }
    }
    let mut db = Connection::open(&beginning)?;
    settle(&db)?;
    db.pragma_update(None, "synchronous", "full")?;
    migrate::migrate(&mut db)?;
    db.close().map_err(|(_, cause)| cause)?;
    File::open(&beginning).and_then(|file| file.sync_all()).map_err(io(&beginning))?;
    std::fs::rename(&beginning, path).map_err(io(path))?;
    sync_folder(folder)
}

/// Makes a new name in a folder outlast a power cut, where the system needs to be told.
pub(crate) fn sync_folder(folder: &Path) -> Result<(), StoreError> {
    if cfg!(unix) {
        File::open(folder).and_then(|file| file.sync_all()).map_err(io(folder))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::append::{NewRecord, Stamp};
    use crate::ids::new_id;
    use records::Fact;
    use records::facts::{Enclosure, Note};
    use units::{Moment, Zone};

    #[test]
    fn a_store_can_be_shared_between_threads() {
        fn shared<T: Send + Sync>() {}
        shared::<Store>();
    }

    /// A note of some 100 kB.
    fn long_note(number: u8) -> NewRecord {
        let at = Zone::none().day(Zone::none().date(Moment(0)));
        let note = Note { at, text: "word ".repeat(20_000) };
        NewRecord::new(new_id(Moment(0), [number; 10]), Fact::Note(note))
    }

    #[test]
    fn a_full_disk_loses_nothing_and_writing_goes_on_when_there_is_room() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path(), Access::Write).unwrap();
        let stamp = Stamp { recorded_at: Moment(0), zone: Zone::none(), by: "keeper".into() };
        let limit = |pages: i64| {
            let Files::Folder { writer: Some(writer), .. } = &store.files else { panic!("it writes to a folder") };
            let _: i64 = held(writer).pragma_update_and_check(None, "max_page_count", pages, |row| row.get(0)).unwrap();
        };
        store
            .append(&[NewRecord::new(new_id(Moment(0), [0; 10]), Fact::Enclosure(Enclosure::default()))], &stamp)
            .unwrap();
        let used: i64 = store.read(|db| Ok(db.pragma_query_value(None, "page_count", |row| row.get(0))?)).unwrap();
        limit(used + 40);
        store.append(&[long_note(1)], &stamp).unwrap();
        let full = store.append(&[long_note(2), long_note(3)], &stamp).unwrap_err();
        assert!(matches!(full, StoreError::Full), "{full:?}");
        assert_eq!(store.position().unwrap().0, 2, "what was acknowledged is there, and no half of the rest");
        assert!(store.verify().unwrap().is_sound());
        limit(used + 400);
        store.append(&[long_note(2), long_note(3)], &stamp).unwrap();
        assert_eq!(store.position().unwrap().0, 4);
        assert!(store.verify().unwrap().is_sound());
    }
}
