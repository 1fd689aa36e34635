//! Answers that were reckoned, kept until something changes what they rest on.

use records::RecordId;
use rusqlite::{Connection, OptionalExtension, Row, params};
use units::Moment;

use crate::append::end_of_chain;
use crate::error::StoreError;
use crate::open::Store;

/// How far the records were written when something was read from them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position(pub u64);

/// An answer about one animal.
#[derive(Clone, Debug, PartialEq)]
pub struct Reckoned {
    /// Which animal.
    pub animal: RecordId,
    /// The answer, as JSON.
    pub answer: String,
    /// The version of rules and profiles that gave it.
    pub rules_version: String,
    /// The moment it is about.
    pub reckoned_for: Moment,
    /// Until when it holds if nothing is recorded; `None` when only a record can change it.
    pub valid_until: Option<Moment>,
    /// Did something change since? (Kept by the store; ignored by [`Store::keep_reckoned`].)
    pub stale: bool,
}

const ONE: &str = "
    select animal_id, answer, rules_version, reckoned_for_s, valid_until_s, stale from reckoned
    where animal_id = ?1 and answer is not null";
const NEXT_PAGE: &str = "
    select animal_id, answer, rules_version, reckoned_for_s, valid_until_s, stale from reckoned
    where ?1 < animal_id and answer is not null order by animal_id limit 100";
const KEEP: &str = "
    update reckoned
    set answer = ?2, rules_version = ?3, reckoned_for_s = ?4, valid_until_s = ?5, stale = ?6 < changed_seq
    where animal_id = ?1";
const STALE: &str = "
    select k.animal_id from reckoned as k cross join whereabouts as w on w.animal_id = k.animal_id
    where not w.has_left
        and (k.stale or k.answer is null or k.rules_version is not ?1 or k.valid_until_s <= ?2 or ?2 < k.reckoned_for_s)
    order by k.animal_id limit ?3";

fn read(row: &Row<'_>) -> rusqlite::Result<Option<Reckoned>> {
    let animal: String = row.get(0)?;
    Ok(RecordId::read(&animal).map(|animal| -> rusqlite::Result<Reckoned> {
        Ok(Reckoned {
            animal,
            answer: row.get(1)?,
            rules_version: row.get(2)?,
            reckoned_for: Moment(row.get(3)?),
            valid_until: row.get::<_, Option<i64>>(4)?.map(Moment),
            stale: row.get(5)?,
        })
    }))
    .and_then(Option::transpose)
}

fn page(db: &Connection, after: &str) -> Result<Vec<Reckoned>, StoreError> {
    let mut query = db.prepare_cached(NEXT_PAGE)?;
    let rows = query.query_map([after], read)?.collect::<Result<Vec<_>, _>>()?;
    Ok(rows.into_iter().flatten().collect())
}

impl Store {
    /// How far the records are written. Ask before reading the case that an answer is reckoned from.
    pub fn position(&self) -> Result<Position, StoreError> {
        self.read(|db| Ok(Position(end_of_chain(db)?.0.unsigned_abs())))
    }

    /// The answers that are kept, of these animals or of all, in the order asked for or of names. `each` may use the
    /// store.
    pub fn reckoned(
        &self,
        animals: Option<&[RecordId]>,
        each: &mut dyn FnMut(Reckoned) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        match animals {
            Some(animals) => {
                for animal in animals {
                    let one = self.read(|db| {
                        let mut query = db.prepare_cached(ONE)?;
                        Ok(query.query_row([animal.to_string()], read).optional()?.flatten())
                    })?;
                    one.map_or(Ok(()), &mut *each)?;
                }
                Ok(())
            }
            None => {
                let mut after = String::new();
                loop {
                    let found = self.read(|db| page(db, &after))?;
                    let Some(last) = found.last() else {
                        return Ok(());
                    };
                    after = last.animal.to_string();
                    found.into_iter().try_for_each(&mut *each)?;
                }
            }
        }
    }

    /// Keeps answers that were reckoned from the records as they stood at `seen`. What was written since keeps an
    /// answer stale; an animal that was removed since is passed over.
    pub fn keep_reckoned(&self, answers: &[Reckoned], seen: Position) -> Result<(), StoreError> {
        if answers.is_empty() {
            return Ok(());
        }
        self.write(|db| {
            let mut keep = db.prepare_cached(KEEP)?;
            for one in answers {
                keep.execute(params![
                    one.animal.to_string(),
                    one.answer,
                    one.rules_version,
                    one.reckoned_for.0,
                    one.valid_until.map(|until| until.0),
                    i64::try_from(seen.0).unwrap_or(i64::MAX),
                ])?;
            }
            Ok(())
        })
    }

    /// At most `most` animals of the household whose answer must be reckoned anew at `now`: none is kept, something
    /// changed, it came from other rules, it is past its time, or it is about a later moment.
    pub fn next_stale(&self, rules_version: &str, now: Moment, most: usize) -> Result<Vec<RecordId>, StoreError> {
        self.read(|db| {
            let mut query = db.prepare_cached(STALE)?;
            let most = i64::try_from(most).unwrap_or(i64::MAX);
            let ids = query.query_map(params![rules_version, now.0, most], |row| row.get::<_, String>(0))?;
            let ids = ids.collect::<Result<Vec<_>, _>>()?;
            Ok(ids.iter().filter_map(|id| RecordId::read(id)).collect())
        })
    }
}
