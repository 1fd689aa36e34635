//! What an act of entry bears on: which «last» it may have moved, and whose answers it made stale.

use std::collections::BTreeSet;

use records::Kind;
use records::facts::Subject;
use rusqlite::{Connection, params};

use crate::append::{known, story_stands};
use crate::error::StoreError;
use crate::last::{self, SubjectRow};

/// Above so many animals whose neighbours would have to be looked up, everyone's answer is marked instead.
const COMPANY: usize = 50;

/// What an act of entry bears on.
#[derive(Default)]
pub(crate) struct Touched {
    subjects: BTreeSet<(SubjectRow, Kind)>,
    animals: BTreeSet<String>,
    /// Animals whose neighbours are concerned too.
    company: BTreeSet<String>,
    everyone: bool,
}

impl Touched {
    /// Notes a record that is about to be written or taken back.
    pub fn add(
        &mut self,
        db: &Connection,
        kind: Kind,
        animal: Option<&str>,
        enclosure: Option<&str>,
    ) -> Result<(), StoreError> {
        self.subjects.insert((SubjectRow::of(kind, animal, enclosure), kind));
        self.animals.extend(animal.map(str::to_owned));
        match (kind, animal, enclosure) {
            (Kind::Animal | Kind::Ending | Kind::Stay | Kind::Sign, Some(animal), _) => self.accompany(db, animal)?,
            (_, _, Some(enclosure)) if kind.subject() == Subject::Enclosure || animal.is_none() => {
                for animal in residents(db, enclosure)? {
                    if kind == Kind::Enclosure {
                        self.accompany(db, &animal)?;
                    }
                    self.animals.insert(animal);
                }
            }
            (_, None, None) => self.everyone = true,
            _ => {}
        }
        Ok(())
    }

    fn accompany(&mut self, db: &Connection, animal: &str) -> Result<(), StoreError> {
        if self.everyone || !self.company.insert(animal.to_owned()) {
            return Ok(());
        }
        if COMPANY < self.company.len() {
            self.everyone = true;
            return Ok(());
        }
        self.animals.extend(room_mates(db, animal)?);
        Ok(())
    }

    /// Keeps what is last and marks what is stale, after the records up to `seq` were written.
    pub fn settle(mut self, db: &Connection, seq: i64) -> Result<(), StoreError> {
        for (subject, kind) in &self.subjects {
            last::keep(db, subject, *kind)?;
        }
        let mut came_or_went = false;
        for (subject, kind) in &self.subjects {
            if let (SubjectRow::Animal(animal), Kind::Animal | Kind::Ending) = (subject, kind) {
                came_or_went = true;
                keep_place(db, animal, seq)?;
            }
        }
        if !self.everyone {
            for animal in &self.company {
                self.animals.extend(room_mates(db, animal)?);
            }
            // The first other animal of a house bears on all that live in it.
            self.everyone = came_or_went && living(db)? <= 2;
        }
        if self.everyone {
            db.prepare_cached(MARK_ALL)?.execute([seq])?;
        } else {
            let mut mark = db.prepare_cached(MARK_ONE)?;
            for animal in &self.animals {
                mark.execute(params![seq, animal])?;
            }
        }
        Ok(())
    }
}

const MARK_ALL: &str = "update reckoned set stale = 1, changed_seq = ?1";
const MARK_ONE: &str = "update reckoned set stale = 1, changed_seq = ?1 where animal_id = ?2";

const MAKE_PLACE: &str = "insert or ignore into reckoned (animal_id, stale, changed_seq) values (?1, 1, ?2)";
const TAKE_PLACE: &str = "delete from reckoned where animal_id = ?1";

/// Every animal that stands has a place for its answer, and no other.
fn keep_place(db: &Connection, animal: &str, seq: i64) -> Result<(), StoreError> {
    let stands = match known(db, animal)? {
        Some(first) => story_stands(db, first.story)?,
        None => false,
    };
    if stands {
        db.prepare_cached(MAKE_PLACE)?.execute(params![animal, seq])?;
    } else {
        db.prepare_cached(TAKE_PLACE)?.execute([animal])?;
    }
    Ok(())
}

const RESIDENTS: &str = "
    select r.animal_id
    from stay as s
    join record as r on r.seq = s.seq
    join last as l on l.subject_id = r.animal_id and l.what = 'stay' and l.seq = s.seq
    where s.enclosure = ?1";

/// The animals whose last stay is in an enclosure.
fn residents(db: &Connection, enclosure: &str) -> Result<Vec<String>, StoreError> {
    let mut query = db.prepare_cached(RESIDENTS)?;
    let rows = query.query_map([enclosure], |row| row.get(0))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

const ROOM_MATES: &str = "
    select r.animal_id
    from whereabouts as me
    join current_enclosure as mine on mine.enclosure_id = me.enclosure_id
    join current_enclosure as near on near.room is mine.room
    join stay as s on s.enclosure = near.enclosure_id
    join record as r on r.seq = s.seq
    join last as l on l.subject_id = r.animal_id and l.what = 'stay' and l.seq = s.seq
    where me.animal_id = ?1";

fn room_mates(db: &Connection, animal: &str) -> Result<Vec<String>, StoreError> {
    let mut query = db.prepare_cached(ROOM_MATES)?;
    let rows = query.query_map([animal], |row| row.get(0))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

const LIVING: &str = "select count(*) from whereabouts where not has_left";

/// How many animals live in the house.
fn living(db: &Connection) -> Result<i64, StoreError> {
    Ok(db.prepare_cached(LIVING)?.query_row([], |row| row.get(0))?)
}
