//! Settings of the household, such as units and zone. They are no records: they change, and keep no history.

use rusqlite::OptionalExtension;

use crate::error::StoreError;
use crate::open::Store;

const GET: &str = "select value from setting where key = ?1";
const SET: &str = "insert or replace into setting (key, value) values (?1, ?2)";
const CLEAR: &str = "delete from setting where key = ?1";
const ALL: &str = "select key, value from setting order by key";

impl Store {
    /// The value of a setting.
    pub fn setting(&self, key: &str) -> Result<Option<String>, StoreError> {
        self.read(|db| Ok(db.prepare_cached(GET)?.query_row([key], |row| row.get(0)).optional()?))
    }

    /// Sets a setting, or clears it.
    pub fn set_setting(&self, key: &str, value: Option<&str>) -> Result<(), StoreError> {
        self.write(|db| {
            match value {
                Some(value) => db.prepare_cached(SET)?.execute([key, value])?,
                None => db.prepare_cached(CLEAR)?.execute([key])?,
            };
            Ok(())
        })
    }

    /// All settings, by key.
    pub fn settings(&self) -> Result<Vec<(String, String)>, StoreError> {
        self.read(|db| {
            let mut query = db.prepare_cached(ALL)?;
            let rows = query.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }
}
