//! Numbered steps from an empty file to the newest schema. A step is never edited: a change is a new step.

use rusqlite::{Connection, TransactionBehavior};

use crate::error::StoreError;

/// The steps; the first makes schema 1.
const STEPS: [&str; 3] = [
    include_str!("../migrations/0001_records.sql"),
    include_str!("../migrations/0002_heat.sql"),
    include_str!("../migrations/0003_body_score.sql"),
];

/// The newest schema that this version knows.
pub const SCHEMA: i64 = STEPS.len() as i64;

/// The mark in the header of the file by which it is known as ours.
pub(crate) const APPLICATION_ID: i64 = 0x5741_524d;

/// The schema of a file; 0 when nothing was made yet.
pub(crate) fn schema_of(db: &Connection) -> Result<i64, StoreError> {
    Ok(db.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

/// Is the file ours?
pub(crate) fn is_ours(db: &Connection) -> Result<bool, StoreError> {
    let mark: i64 = db.pragma_query_value(None, "application_id", |row| row.get(0))?;
    Ok(mark == APPLICATION_ID)
}

/// Brings a file to the newest schema, one transaction for each step.
pub(crate) fn migrate(db: &mut Connection) -> Result<(), StoreError> {
    run(db, &STEPS)
}

fn run(db: &mut Connection, steps: &[&str]) -> Result<(), StoreError> {
    for (made, step) in (1i64..).zip(steps) {
        if made <= schema_of(db)? {
            continue;
        }
        let step_of = db.transaction_with_behavior(TransactionBehavior::Immediate)?;
        step_of.execute_batch(step)?;
        step_of.pragma_update(None, "application_id", APPLICATION_ID)?;
        step_of.pragma_update(None, "user_version", made)?;
        step_of.commit()?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_step_begins_with_a_comment_that_says_why() {
        for step in STEPS {
            assert!(step.starts_with("-- "), "{}", step.lines().next().unwrap_or_default());
        }
    }

    #[test]
    fn only_steps_that_were_not_made_are_made() {
        let mut db = Connection::open_in_memory().unwrap();
        run(&mut db, &["create table one (a)"]).unwrap();
        run(&mut db, &["create table one (a)", "create table two (a)"]).unwrap();
        assert_eq!(schema_of(&db).unwrap(), 2);
    }

    #[test]
    fn a_step_that_fails_leaves_the_file_as_it_was() {
        let mut db = Connection::open_in_memory().unwrap();
        let steps = ["create table one (a)", "create table two (a); create table one (a)"];
        assert!(run(&mut db, &steps).is_err());
        assert_eq!(schema_of(&db).unwrap(), 1);
        let tables: i64 = db.query_row("select count(*) from sqlite_schema", [], |row| row.get(0)).unwrap();
        assert_eq!(tables, 1);
    }
}
