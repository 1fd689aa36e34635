//! What was imported already.

use crate::error::StoreError;
use crate::open::Store;

const SEEN: &str = "
    select exists (
        select 1 from record as r where r.fingerprint = ?1
            and coalesce((select v.puts_back from removal as v where v.removes = r.id order by v.seq desc limit 1), 1) = 1)";

impl Store {
    /// Do records stand here that came from the file with this fingerprint? After the import was undone they do not.
    pub fn import_seen(&self, fingerprint: &str) -> Result<bool, StoreError> {
        self.read(|db| Ok(db.prepare_cached(SEEN)?.query_row([fingerprint], |row| row.get(0))?))
    }
}
