//! Records as they were written, with what became of them.

use records::{Kind, RecordId};
use rusqlite::{Connection, Params, Row};
use units::Moment;

use crate::error::StoreError;
use crate::head::{HeadRow, Removed, Stored};
use crate::open::Store;
use crate::reading::{Cells, Zones, cells_of};
use crate::tables::table;

/// The columns of a head in the order in which they are read, and what became of the record: the next of its story
/// that stands, and the removal that holds.
macro_rules! stored {
    ($rest:literal) => {
        concat!(
            "select r.seq, r.id, r.kind, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s,
                r.precision, r.zone, r.recorded_at_s, r.recorded_by, r.corrects, r.story, r.why, r.batch,
                r.fingerprint, r.forerunner_hash, r.hash,
                (select n.id from record as n
                    where n.story = r.story and n.corrects is not null and r.seq < n.seq
                        and coalesce((select v.puts_back from removal as v where v.removes = n.id
                            order by v.seq desc limit 1), 1) = 1
                    order by n.seq limit 1),
                x.removed_by, x.removed_at_s, x.why
            from ",
            $rest
        )
    };
}

const BY_SEQ: &str = stored!("record as r left join removed_record as x on x.id = r.id where r.seq = ?1");

/// The record with a place in the order of writing; `None` for a removal or a kind that this version does not know.
pub(crate) fn stored_at(db: &Connection, seq: i64, zones: &mut Zones) -> Result<Option<Stored>, StoreError> {
    Ok(all(db, BY_SEQ, [seq], zones)?.into_iter().next())
}

fn all(db: &Connection, sql: &str, params: impl Params, zones: &mut Zones) -> Result<Vec<Stored>, StoreError> {
    let mut query = db.prepare_cached(sql)?;
    let mut rows = query.query(params)?;
    let mut out = Vec::new();
    while let Some(row) = rows.next()? {
        out.extend(stored(db, row, zones)?);
    }
    Ok(out)
}

fn stored(db: &Connection, row: &Row<'_>, zones: &mut Zones) -> Result<Option<Stored>, StoreError> {
    let line = HeadRow::read(row)?;
    let Some(kind) = line.known_kind() else {
        return Ok(None);
    };
    let mut head = line.head(kind, zones)?;
    head.corrected_by = row.get::<_, Option<String>>(19)?.as_deref().and_then(RecordId::read);
    let removed_by: Option<String> = row.get(20)?;
    if let Some(by) = removed_by {
        head.removed = Some(Removed { by, at: Moment(row.get(21)?), why: row.get(22)? });
    }
    let table = table(kind);
    let cells = cells_of(db, table, line.seq)?.ok_or_else(|| StoreError::Damaged {
        what: format!("the fields of record {} ({}) are missing", line.seq, line.id),
    })?;
    let fact = Cells { table, cells, id: &line.id }.fact(&head.zone)?;
    Ok(Some(Stored { head, fact }))
}

impl Store {
    /// Everything written about one animal, newest first, with what was corrected or removed since.
    pub fn history(&self, animal: RecordId) -> Result<Vec<Stored>, StoreError> {
        const SQL: &str = stored!(
            "record as r left join removed_record as x on x.id = r.id
            where r.animal_id = ?1 and r.kind <> 'removal'
            order by coalesce(r.happened_from_s, r.recorded_at_s) desc, r.seq desc"
        );
        self.read(|db| all(db, SQL, [animal.to_string()], &mut Zones::default()))
    }

    /// Everything written about one enclosure, newest first, with what was corrected or removed since.
    pub fn history_of_enclosure(&self, enclosure: RecordId) -> Result<Vec<Stored>, StoreError> {
        const SQL: &str = stored!(
            "record as r left join removed_record as x on x.id = r.id
            where r.enclosure_id = ?1 and r.kind <> 'removal'
            order by coalesce(r.happened_from_s, r.recorded_at_s) desc, r.seq desc"
        );
        self.read(|db| all(db, SQL, [enclosure.to_string()], &mut Zones::default()))
    }

    /// Everything written about the whole household, newest first: power cuts, frozen prey, plans for everyone.
    pub fn history_of_household(&self) -> Result<Vec<Stored>, StoreError> {
        const SQL: &str = stored!(
            "record as r left join removed_record as x on x.id = r.id
            where r.animal_id is null and r.enclosure_id is null and r.kind <> 'removal'
            order by coalesce(r.happened_from_s, r.recorded_at_s) desc, r.seq desc"
        );
        self.read(|db| all(db, SQL, [], &mut Zones::default()))
    }

    /// One record, whatever became of it.
    pub fn record(&self, id: RecordId) -> Result<Option<Stored>, StoreError> {
        const SQL: &str = stored!("record as r left join removed_record as x on x.id = r.id where r.id = ?1");
        self.read(|db| Ok(all(db, SQL, [id.to_string()], &mut Zones::default())?.into_iter().next()))
    }

    /// The records that hold now and were written down from `from` until before `to`, newest first.
    pub fn done_on(&self, from: Moment, to: Moment) -> Result<Vec<Stored>, StoreError> {
        const SQL: &str = stored!(
            "current_record as r left join removed_record as x on x.id = r.id
            where ?1 <= r.recorded_at_s and r.recorded_at_s < ?2
            order by r.seq desc"
        );
        self.read(|db| all(db, SQL, [from.0, to.0], &mut Zones::default()))
    }

    /// How many records there are of kinds that this version does not know. They are kept; the page says so.
    pub fn unknown(&self) -> Result<Vec<(String, u64)>, StoreError> {
        const SQL: &str = "select kind, count(*) from record group by kind order by kind";
        self.read(|db| {
            let mut query = db.prepare(SQL)?;
            let rows = query.query_map([], |row| Ok((row.get::<_, String>(0)?, row.get::<_, i64>(1)?)))?;
            let counts = rows.collect::<Result<Vec<_>, _>>()?;
            let known = |kind: &str| kind == REMOVAL || <Kind as records::choice::Choice>::from_key(kind).is_some();
            Ok(counts.into_iter().filter(|(kind, _)| !known(kind)).map(|(kind, n)| (kind, n.unsigned_abs())).collect())
        })
    }
}

/// The kind under which a removal stands in the order of writing.
pub(crate) const REMOVAL: &str = "removal";
