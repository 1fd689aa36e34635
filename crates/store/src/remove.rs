//! Taking records back. Nothing is deleted: a removal is written down like everything else.

use std::collections::BTreeSet;

use records::choice::Choice;
use records::{Kind, RecordId};
use rusqlite::{Connection, OptionalExtension, params};
use units::Moment;

use crate::append::{Pen, Stamp, known, story_stands};
use crate::cell::Cell;
use crate::chain::{self, Field, Hash};
use crate::error::StoreError;
use crate::head::HeadRow;
use crate::history::REMOVAL;
use crate::ids::new_id;
use crate::open::Store;

/// The fields of a removal.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct RemovalRow {
    pub removes: String,
    pub puts_back: bool,
    pub undoes: Option<i64>,
}

impl RemovalRow {
    /// Its values in the order in which they are hashed.
    pub fn cells(&self) -> [(&'static str, Option<Cell>); 3] {
        [
            ("removes", Some(Cell::Text(self.removes.clone()))),
            ("puts_back", Some(Cell::Flag(self.puts_back))),
            ("undoes", self.undoes.map(Cell::Whole)),
        ]
    }

    /// The canonical text of the removal.
    pub fn canonical(&self, head: &HeadRow) -> String {
        let cells = self.cells();
        chain::canonical(head, cells.iter().map(|(name, cell)| -> Field<'_> { (name, cell.as_ref()) }))
    }
}

impl Store {
    /// Takes records back, all or none: each with all that it corrected and all that corrects it, so that nothing of
    /// its story shows any more. An animal or enclosure goes only together with the records that are about it. What
    /// was taken back before is passed over.
    pub fn remove(&self, ids: &[RecordId], why: &str, stamp: &Stamp) -> Result<(), StoreError> {
        if ids.is_empty() {
            return Ok(());
        }
        self.write(|db| {
            let mut pen = Pen::new(db, stamp)?;
            let mut gone = Gone::default();
            for id in ids {
                let known = known(db, &id.to_string())?.ok_or(StoreError::NotFound(*id))?;
                if known.kind == REMOVAL {
                    return Err(StoreError::NotFound(*id));
                }
                for member in standing_of_story(db, known.story)? {
                    gone.remove(&mut pen, &member, false, Some(why), None)?;
                }
            }
            gone.leaves_nothing_behind(db)?;
            pen.lift()
        })
    }
}

const OF_STORY: &str = "
    select seq, id from standing_record where seq = ?1
    union all
    select seq, id from standing_record where story = ?1 and corrects is not null
    order by seq desc";

/// The records of a story that stand, newest first.
fn standing_of_story(db: &Connection, story: i64) -> Result<Vec<String>, StoreError> {
    let mut query = db.prepare_cached(OF_STORY)?;
    let rows = query.query_map([story], |row| row.get(1))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Animals and enclosures that were taken back in one act.
#[derive(Default)]
pub(crate) struct Gone {
    places: BTreeSet<(Kind, i64, String)>,
}

impl Gone {
    /// Writes that a record is taken back, or stands again.
    pub fn remove(
        &mut self,
        pen: &mut Pen<'_>,
        id: &str,
        puts_back: bool,
        why: Option<&str>,
        undoes: Option<i64>,
    ) -> Result<(), StoreError> {
        let name = RecordId::read(id);
        let missing = || name.map_or(StoreError::NothingToUndo, StoreError::NotFound);
        let old = known(pen.db, id)?.ok_or_else(missing)?;
        let kind = Kind::from_key(&old.kind).ok_or_else(missing)?;
        pen.touch_story(kind, old.story)?;
        let row = RemovalRow { removes: id.to_owned(), puts_back, undoes };
        // A name that nobody else has: the chain goes through no place twice.
        let mut head = pen.head(&RecordId(uuid::Uuid::nil()), REMOVAL);
        head.id = name_after(&head, id).to_string();
        head.animal_id = old.animal.clone();
        head.enclosure_id = old.enclosure.clone();
        head.why = why.map(str::trim).filter(|why| !why.is_empty()).map(str::to_owned);
        head.hash = Hash::of(&row.canonical(&head));
        pen.put(&head)?;
        put_removal(pen.db, head.seq, &row)?;
        if matches!(kind, Kind::Animal | Kind::Enclosure) {
            let first = if kind == Kind::Animal { old.animal } else { old.enclosure };
            self.places.extend(first.map(|first| (kind, old.story, first)));
        }
        Ok(())
    }

    /// Refuses when an animal or enclosure went and records about it stayed.
    pub fn leaves_nothing_behind(&self, db: &Connection) -> Result<(), StoreError> {
        for (kind, story, id) in &self.places {
            if story_stands(db, *story)? {
                continue;
            }
            let sql = if *kind == Kind::Animal { LEFT_OF_ANIMAL } else { LEFT_OF_ENCLOSURE };
            let others: i64 = db.prepare_cached(sql)?.query_row([id], |row| row.get(0))?;
            if 0 < others {
                let id = RecordId::read(id).ok_or(StoreError::NothingToUndo)?;
                return Err(StoreError::InUse { id, others: others.unsigned_abs() });
            }
        }
        Ok(())
    }
}

const LEFT_OF_ANIMAL: &str = "select count(*) from current_record where animal_id = ?1";
const LEFT_OF_ENCLOSURE: &str = "
    select (select count(*) from current_record where enclosure_id = ?1)
        + (select count(*) from stay as s join current_record as r on r.seq = s.seq where s.enclosure = ?1)";

/// A name made of what is removed and the place in the chain, so that the same acts give the same file.
fn name_after(head: &HeadRow, removes: &str) -> RecordId {
    let hash = Hash::of(&format!("{} {} {removes}", head.forerunner, head.seq)).0;
    let mut random = [0; 10];
    random.iter_mut().zip(hash).for_each(|(byte, of_hash)| *byte = of_hash);
    new_id(Moment(head.recorded_at_s), random)
}

const PUT_REMOVAL: &str = "insert into removal (seq, removes, puts_back, undoes) values (?1, ?2, ?3, ?4)";

/// Adds the fields of a removal; its head was added just before.
pub(crate) fn put_removal(db: &Connection, seq: i64, row: &RemovalRow) -> Result<(), StoreError> {
    db.prepare_cached(PUT_REMOVAL)?.execute(params![seq, row.removes, row.puts_back, row.undoes])?;
    Ok(())
}

const REMOVAL_AT: &str = "select removes, puts_back, undoes from removal where seq = ?1";

/// The removal with a place in the order of writing.
pub(crate) fn removal_at(db: &Connection, seq: i64) -> Result<Option<RemovalRow>, StoreError> {
    let mut query = db.prepare_cached(REMOVAL_AT)?;
    let found = query
        .query_row([seq], |row| Ok(RemovalRow { removes: row.get(0)?, puts_back: row.get(1)?, undoes: row.get(2)? }));
    Ok(found.optional()?)
}
