//! A copy of the live records, proved by opening it.

use std::fs::File;
use std::path::Path;
use std::time::Duration;

use rusqlite::Connection;
use rusqlite::backup::Backup;

use crate::error::StoreError;
use crate::open::{Store, sync_folder};
use crate::verify::Verified;

/// Pages that are copied at a time; in between others may write.
const PAGES: i32 = 2_000;

impl Store {
    /// Copies the records to the file `to`, which must not exist, and proves the copy: it is opened, its whole chain
    /// walked, and its end compared with that of the original. A copy that does not hold is not left behind. Keeping
    /// several, and dating them, is the caller's part.
    pub fn backup(&self, to: &Path) -> Result<Verified, StoreError> {
        if to.exists() {
            return Err(StoreError::Exists { path: to.to_owned() });
        }
        let io = |cause| StoreError::Io { path: to.to_owned(), cause };
        let folder = to.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        std::fs::create_dir_all(folder).map_err(io)?;
        let mut name = to.file_name().unwrap_or_default().to_owned();
        name.push(".part");
        let part = folder.join(name);
        let _ = std::fs::remove_file(&part);
        let proved = self.copy(&part).and_then(|()| self.prove(&part));
        match proved {
            Ok(verified) => {
                File::open(&part).and_then(|file| file.sync_all()).map_err(io)?;
                std::fs::rename(&part, to).map_err(io)?;
                sync_folder(folder)?;
                Ok(verified)
            }
            Err(error) => {
                let _ = std::fs::remove_file(&part);
                Err(error)
            }
        }
    }

    fn copy(&self, to: &Path) -> Result<(), StoreError> {
        self.read(|db| {
            let mut copy = Connection::open(to)?;
            Backup::new(db, &mut copy)?.run_to_completion(PAGES, Duration::ZERO, None)?;
            // One file that stands by itself.
            let _: String = copy.pragma_update_and_check(None, "journal_mode", "delete", |row| row.get(0))?;
            copy.close().map_err(|(_, cause)| cause.into())
        })
    }

    fn prove(&self, copy: &Path) -> Result<Verified, StoreError> {
        let verified = Store::open_file(copy)?.verify()?;
        if let Some(broken) = &verified.broken {
            return Err(StoreError::Broken { seq: broken.seq, what: broken.what.clone() });
        }
        if let Some(what) = verified.damage.first() {
            return Err(StoreError::Damaged { what: what.clone() });
        }
        let seq = verified.records + verified.removals;
        let there = self.read(|db| hash_at(db, seq))?;
        if there != Some(verified.end.0) {
            return Err(StoreError::Broken { seq, what: "the copy does not end where the original does".to_owned() });
        }
        Ok(verified)
    }
}

/// The hash of the record with a place in the order of writing; before the first stands zero.
fn hash_at(db: &Connection, seq: u64) -> Result<Option<[u8; 32]>, StoreError> {
    use rusqlite::OptionalExtension;
    const SQL: &str = "select hash from record where seq = ?1";
    if seq == 0 {
        return Ok(Some([0; 32]));
    }
    let seq = i64::try_from(seq).unwrap_or(i64::MAX);
    Ok(db.query_row(SQL, [seq], |row| row.get(0)).optional()?)
}
