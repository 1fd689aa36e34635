//! What is last of each animal, enclosure and of the household, kept in the transaction that writes it.

use records::choice::Choice;
use records::facts::Subject;
use records::{Kind, RecordId};
use rusqlite::{Connection, OptionalExtension, params};

use crate::error::StoreError;
use crate::head::Stored;
use crate::history::stored_at;
use crate::open::Store;
use crate::reading::Zones;

/// Of what something is the last.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum SubjectRow {
    Animal(String),
    Enclosure(String),
    Household,
}

impl SubjectRow {
    /// Whose last a record of `kind` can be.
    pub fn of(kind: Kind, animal: Option<&str>, enclosure: Option<&str>) -> SubjectRow {
        match (kind.subject(), animal, enclosure) {
            (Subject::Enclosure, _, Some(enclosure)) => SubjectRow::Enclosure(enclosure.to_owned()),
            (_, Some(animal), _) => SubjectRow::Animal(animal.to_owned()),
            (_, None, Some(enclosure)) => SubjectRow::Enclosure(enclosure.to_owned()),
            (_, None, None) => SubjectRow::Household,
        }
    }

    fn key(&self) -> &str {
        match self {
            SubjectRow::Animal(id) | SubjectRow::Enclosure(id) => id,
            SubjectRow::Household => HOUSEHOLD,
        }
    }
}

/// How the household is named in `last.subject_id`.
const HOUSEHOLD: &str = "household";

/// How many rows were made anew.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rebuilt {
    /// Rows that say what is last.
    pub last: u64,
    /// Animals whose answer has to be reckoned anew.
    pub animals: u64,
}

impl Store {
    /// The last record of an animal or enclosure (or, without one, of the household) that holds now. `what` is the
    /// key of a kind of record, `cleaning-water`, `cleaning-spot`, `cleaning-full` or `meal-taken`.
    pub fn last(&self, subject: Option<RecordId>, what: &str) -> Result<Option<Stored>, StoreError> {
        self.read(|db| {
            let subject = subject.map_or(HOUSEHOLD.to_owned(), |id| id.to_string());
            let mut query = db.prepare_cached(LAST)?;
            let seq = query.query_row(params![subject, what], |row| row.get(0)).optional()?;
            seq.map_or(Ok(None), |seq| stored_at(db, seq, &mut Zones::default()))
        })
    }

    /// Makes everything anew that is derived from the records: what is last, and a place for each animal's answer,
    /// all of them stale.
    pub fn rebuild(&self) -> Result<Rebuilt, StoreError> {
        self.write(|db| rebuild(db))
    }
}

const LAST: &str = "select seq from last where subject_id = ?1 and what = ?2";
const FORGET: &str = "delete from last where subject_id = ?1 and (what = ?2 or what glob ?2 || '-*')";
const KEEP: &str = "insert or replace into last (subject_id, what, seq, happened_from_s) values (?1, ?2, ?3, ?4)";

const LAST_OF_ANIMAL: &str = "
    select seq, happened_from_s from current_record
    where animal_id = ?1 and kind = ?2 and (?3 or enclosure_id is null)
    order by happened_from_s desc, seq desc limit 1";
const LAST_OF_ENCLOSURE: &str = "
    select seq, happened_from_s from current_record
    where enclosure_id = ?1 and kind = ?2 and (not ?3 or animal_id is null)
    order by happened_from_s desc, seq desc limit 1";
const LAST_OF_HOUSEHOLD: &str = "
    select seq, happened_from_s from current_record
    where ?1 = 'household' and animal_id is null and enclosure_id is null and kind = ?2 and ?3 is not null
    order by happened_from_s desc, seq desc limit 1";
const LAST_TAKEN: &str = "
    select seq, happened_from_s from current_meal
    where animal_id = ?1 and outcome = 'taken'
    order by happened_from_s desc, seq desc limit 1";
const LAST_CHORE_OF_ANIMAL: &str = "
    select seq, happened_from_s from current_cleaning
    where animal_id = ?1 and enclosure_id is null and task = ?2
    order by happened_from_s desc, seq desc limit 1";
const LAST_CHORE_OF_ENCLOSURE: &str = "
    select seq, happened_from_s from current_cleaning
    where enclosure_id = ?1 and task = ?2
    order by happened_from_s desc, seq desc limit 1";

/// Finds anew what is last of a kind, and keeps it.
pub(crate) fn keep(db: &Connection, subject: &SubjectRow, kind: Kind) -> Result<(), StoreError> {
    let key = subject.key();
    db.prepare_cached(FORGET)?.execute(params![key, kind.key()])?;
    let sql = match subject {
        SubjectRow::Animal(_) => LAST_OF_ANIMAL,
        SubjectRow::Enclosure(_) => LAST_OF_ENCLOSURE,
        SubjectRow::Household => LAST_OF_HOUSEHOLD,
    };
    let of_animals = kind.subject() == Subject::Animal;
    keep_one(db, key, kind.key(), sql, params![key, kind.key(), of_animals])?;
    match (kind, subject) {
        (Kind::Meal, SubjectRow::Animal(_)) => keep_one(db, key, "meal-taken", LAST_TAKEN, [key]),
        (Kind::Cleaning, SubjectRow::Animal(_) | SubjectRow::Enclosure(_)) => {
            let of_animal = matches!(subject, SubjectRow::Animal(_));
            let sql = if of_animal { LAST_CHORE_OF_ANIMAL } else { LAST_CHORE_OF_ENCLOSURE };
            for task in records::facts::CleaningTask::keys() {
                keep_one(db, key, &format!("cleaning-{task}"), sql, params![key, task])?;
            }
            Ok(())
        }
        _ => Ok(()),
    }
}

fn keep_one(
    db: &Connection,
    subject: &str,
    what: &str,
    sql: &str,
    params: impl rusqlite::Params,
) -> Result<(), StoreError> {
    let found: Option<(i64, Option<i64>)> =
        db.prepare_cached(sql)?.query_row(params, |row| Ok((row.get(0)?, row.get(1)?))).optional()?;
    if let Some((seq, from_s)) = found {
        db.prepare_cached(KEEP)?.execute(params![subject, what, seq, from_s])?;
    }
    Ok(())
}

const SUBJECTS: &str = "select distinct kind, animal_id, enclosure_id from record where kind <> 'removal'";
const EMPTY: &str = "delete from last; delete from reckoned;";
const PLACES: &str = "
    insert into reckoned (animal_id, stale, changed_seq)
    select animal_id, 1, (select coalesce(max(seq), 0) from record) from current_animal";

/// Empties and fills the derived tables.
pub(crate) fn rebuild(db: &Connection) -> Result<Rebuilt, StoreError> {
    db.execute_batch(EMPTY)?;
    let mut subjects = std::collections::BTreeSet::new();
    {
        let mut query = db.prepare(SUBJECTS)?;
        let mut rows = query.query([])?;
        while let Some(row) = rows.next()? {
            let kind: String = row.get(0)?;
            let (animal, enclosure): (Option<String>, Option<String>) = (row.get(1)?, row.get(2)?);
            if let Some(kind) = Kind::from_key(&kind) {
                subjects.insert((SubjectRow::of(kind, animal.as_deref(), enclosure.as_deref()), kind));
            }
        }
    }
    for (subject, kind) in &subjects {
        keep(db, subject, *kind)?;
    }
    let last: i64 = db.query_row("select count(*) from last", [], |row| row.get(0))?;
    let animals = db.execute(PLACES, [])?;
    Ok(Rebuilt { last: last.unsigned_abs(), animals: animals as u64 })
}
