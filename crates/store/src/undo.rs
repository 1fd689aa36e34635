//! Undoing an act of entry, and undoing that.

use records::choice::Choice;
use records::{Kind, RecordId};
use rusqlite::{Connection, OptionalExtension, params};
use units::Moment;

use crate::append::{Pen, Stamp, known, must_stand};
use crate::error::StoreError;
use crate::history::REMOVAL;
use crate::open::Store;
use crate::remove::Gone;

/// What an act of entry did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ActWhat {
    /// Records were written down.
    Entry,
    /// Records were taken back.
    Removal,
    /// Another act was undone.
    Undoing,
}

/// Everything that was written at once.
#[derive(Clone, Debug, PartialEq)]
pub struct Act {
    /// Its first place in the order of writing.
    pub batch: u64,
    /// What it did.
    pub what: ActWhat,
    /// The records that were written, or taken back or put back.
    pub ids: Vec<RecordId>,
    /// Their kinds, each once, in the order of the entry.
    pub kinds: Vec<Kind>,
    /// When it was written.
    pub at: Moment,
    /// By whom.
    pub by: String,
}

impl Act {
    /// Its kinds as words: «meal, weighing».
    pub fn words(&self) -> String {
        self.kinds.iter().map(|kind| kind.words()).collect::<Vec<_>>().join(", ")
    }
}

/// One row of an act: a record, or what a removal did to one.
struct Done {
    /// The record that was written, or removed or put back.
    id: String,
    /// The removal's own word, where it is one.
    puts_back: Option<bool>,
    /// The act that it undid.
    undoes: Option<i64>,
    recorded_at_s: i64,
    by: String,
}

const OF_BATCH: &str = "
    select coalesce(v.removes, r.id), v.puts_back, v.undoes, r.recorded_at_s, r.recorded_by
    from record as r left join removal as v on v.seq = r.seq
    where ?1 <= r.seq and r.batch = ?1 and r.seq < coalesce(
        (select min(n.seq) from record as n where ?1 < n.seq and n.batch = n.seq), 9223372036854775807)
    order by r.seq";

fn done(db: &Connection, batch: i64) -> Result<Vec<Done>, StoreError> {
    let mut query = db.prepare_cached(OF_BATCH)?;
    let rows = query.query_map([batch], |row| {
        Ok(Done {
            id: row.get(0)?,
            puts_back: row.get(1)?,
            undoes: row.get(2)?,
            recorded_at_s: row.get(3)?,
            by: row.get(4)?,
        })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

const LAST_WORD: &str = "select puts_back from removal where removes = ?1 order by seq desc limit 1";

/// Would undoing this row change anything: does the record stand, or is what the removal did still so? (It may have
/// been undone and done again since: then it is so again.)
fn holds(db: &Connection, row: &Done) -> Result<bool, StoreError> {
    let last: Option<bool> = db.prepare_cached(LAST_WORD)?.query_row([&row.id], |row| row.get(0)).optional()?;
    match row.puts_back {
        None => Ok(known(db, &row.id)?.is_some_and(|record| record.stands)),
        Some(word) => Ok(last == Some(word)),
    }
}

fn act(db: &Connection, batch: i64) -> Result<Option<Act>, StoreError> {
    let rows = done(db, batch)?;
    let Some(first) = rows.first() else {
        return Ok(None);
    };
    let mut kinds = Vec::new();
    for row in &rows {
        let kind = known(db, &row.id)?.and_then(|record| Kind::from_key(&record.kind));
        kinds.extend(kind.filter(|kind| !kinds.contains(kind)));
    }
    let what = match (first.puts_back, first.undoes) {
        (None, _) => ActWhat::Entry,
        (Some(_), None) => ActWhat::Removal,
        (Some(_), Some(_)) => ActWhat::Undoing,
    };
    Ok(Some(Act {
        batch: batch.unsigned_abs(),
        what,
        ids: rows.iter().filter_map(|row| RecordId::read(&row.id)).collect(),
        kinds,
        at: Moment(first.recorded_at_s),
        by: first.by.clone(),
    }))
}

const UNDONE_BY: &str = "
    select r.batch from removal as v join record as r on r.seq = v.seq
    where v.undoes = ?1 order by v.seq desc limit 1";

/// Is an act in force? It is until it is undone, again when that was undone, and so on.
fn in_force(db: &Connection, batch: i64) -> Result<bool, StoreError> {
    let (mut act, mut in_force) = (batch, true);
    let mut query = db.prepare_cached(UNDONE_BY)?;
    while let Some(undoing) = query.query_row([act], |row| row.get(0)).optional()? {
        (act, in_force) = (undoing, !in_force);
    }
    Ok(in_force)
}

/// Can it be undone now: is it in force, and does anything of it still hold?
fn can_be_undone(db: &Connection, batch: i64) -> Result<bool, StoreError> {
    if !in_force(db, batch)? {
        return Ok(false);
    }
    for row in done(db, batch)? {
        if holds(db, &row)? {
            return Ok(true);
        }
    }
    Ok(false)
}

const ACTS: &str = "
    select r.seq from record as r left join removal as v on v.seq = r.seq
    where r.seq = r.batch and r.seq < ?1 and (?2 is null or r.recorded_by = ?2) and v.undoes is null
    order by r.seq desc limit 1";

// What undoes an undoing is none itself: it brought an act back, and that act is the one to undo.
const UNDOINGS: &str = "
    select r.seq from record as r join removal as v on v.seq = r.seq
    where r.seq = r.batch and r.seq < ?1 and (?2 is null or r.recorded_by = ?2) and v.undoes is not null
        and not exists (select 1 from removal as u where u.seq = v.undoes and u.undoes is not null)
    order by r.seq desc limit 1";

/// The newest of these acts that can be undone.
fn newest(db: &Connection, sql: &str, by: Option<&str>) -> Result<Option<Act>, StoreError> {
    let mut before = i64::MAX;
    loop {
        let mut query = db.prepare_cached(sql)?;
        let found = query.query_row(params![before, by], |row| row.get(0)).optional()?;
        let Some(batch) = found else {
            return Ok(None);
        };
        if can_be_undone(db, batch)? {
            return act(db, batch);
        }
        before = batch;
    }
}

impl Store {
    /// The newest act of entry or removal that was not undone yet; with `by`, of one person.
    pub fn last_act(&self, by: Option<&str>) -> Result<Option<Act>, StoreError> {
        self.read(|db| newest(db, ACTS, by))
    }

    /// The newest undoing that was not undone yet: what «do it again» would bring back.
    pub fn last_undone(&self, by: Option<&str>) -> Result<Option<Act>, StoreError> {
        self.read(|db| newest(db, UNDOINGS, by))
    }

    /// Undoes an act: what it wrote is taken back (and what that corrected stands again), what it took back stands
    /// again. [`StoreError::NothingToUndo`] when that was done already.
    pub fn undo(&self, act: &Act, stamp: &Stamp) -> Result<(), StoreError> {
        let batch = i64::try_from(act.batch).map_err(|_| StoreError::NothingToUndo)?;
        self.write(|db| {
            if !can_be_undone(db, batch)? {
                return Err(StoreError::NothingToUndo);
            }
            let mut pen = Pen::new(db, stamp)?;
            let mut gone = Gone::default();
            for row in done(db, batch)?.iter().rev() {
                if holds(db, row)? {
                    gone.remove(&mut pen, &row.id, row.puts_back == Some(false), None, Some(batch))?;
                }
            }
            gone.leaves_nothing_behind(db)?;
            for row in done(db, pen.batch())? {
                stands_on_something(db, &row)?;
            }
            pen.lift()
        })
    }
}

/// What stands again must be about an animal and an enclosure that are there.
fn stands_on_something(db: &Connection, row: &Done) -> Result<(), StoreError> {
    let Some(record) = known(db, &row.id)?.filter(|record| record.stands && record.kind != REMOVAL) else {
        return Ok(());
    };
    for (id, kind) in [(record.animal, Kind::Animal), (record.enclosure, Kind::Enclosure)] {
        if let Some(id) = id.as_deref().and_then(RecordId::read) {
            must_stand(db, id, kind).map_err(|_| StoreError::Gone(id))?;
        }
    }
    Ok(())
}
