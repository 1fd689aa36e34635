//! Writing records down: one act of entry is one transaction, all or nothing.

use records::choice::Choice;
use records::facts::Subject;
use records::fields::Given;
use records::{Fact, Kind, Raw, Reader, RecordId};
use rusqlite::{Connection, OptionalExtension, Transaction, params};
use units::{Moment, When, Zone};

use crate::cell::Cell;
use crate::chain::{self, Hash};
use crate::error::StoreError;
use crate::head::HeadRow;
use crate::open::Store;
use crate::reading::{Cells, cells_of};
use crate::tables::{Table, table, unsaid};
use crate::touch::Touched;

/// A record to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct NewRecord {
    /// Its name, made where the record is made. The same record sent twice is kept once.
    pub id: RecordId,
    /// The animal it is about.
    pub animal: Option<RecordId>,
    /// The enclosure it is about. What is noted of an enclosure while looking at an animal is written to the
    /// enclosure that the animal lived in then.
    pub enclosure: Option<RecordId>,
    /// What it says.
    pub fact: Fact,
    /// The record that it replaces. Animal and enclosure are those of that record unless named.
    pub corrects: Option<RecordId>,
    /// Why it replaces it.
    pub why: Option<String>,
    /// The fingerprint of the file that it was read from.
    pub fingerprint: Option<String>,
}

impl NewRecord {
    /// A record about nobody yet, that replaces nothing.
    pub fn new(id: RecordId, fact: Fact) -> NewRecord {
        NewRecord { id, animal: None, enclosure: None, fact, corrects: None, why: None, fingerprint: None }
    }

    /// The same, about an animal.
    #[must_use]
    pub fn about(self, animal: RecordId) -> NewRecord {
        NewRecord { animal: Some(animal), ..self }
    }

    /// The same, about an enclosure.
    #[must_use]
    pub fn at(self, enclosure: RecordId) -> NewRecord {
        NewRecord { enclosure: Some(enclosure), ..self }
    }

    /// The same, in place of another record.
    #[must_use]
    pub fn instead_of(self, corrects: RecordId, why: &str) -> NewRecord {
        NewRecord { corrects: Some(corrects), why: Some(why.to_owned()), ..self }
    }
}

/// When, where on earth and by whom something is written down.
#[derive(Clone, Debug, PartialEq)]
pub struct Stamp {
    /// When.
    pub recorded_at: Moment,
    /// The zone in which its dates are meant; it must have a name, or be none.
    pub zone: Zone,
    /// By whom.
    pub by: String,
}

impl Store {
    /// Writes records down as one act of entry, all or none, and gives their names. It is on disk when this returns.
    ///
    /// A record whose name is taken by the very same record is passed over, so that sending twice keeps one. A second
    /// record of the household replaces the first.
    pub fn append(&self, new: &[NewRecord], stamp: &Stamp) -> Result<Vec<RecordId>, StoreError> {
        if new.is_empty() {
            return Ok(Vec::new());
        }
        self.write(|db| {
            let mut pen = Pen::new(db, stamp)?;
            for record in new {
                pen.write(record)?;
            }
            pen.lift()?;
            Ok(new.iter().map(|record| record.id).collect())
        })
    }
}

/// Adds records at the end of the chain.
pub(crate) struct Pen<'a> {
    pub db: &'a Transaction<'a>,
    stamp: &'a Stamp,
    zone_name: Option<String>,
    last: (i64, Hash),
    batch: i64,
    touched: Touched,
}

const END_OF_CHAIN: &str = "select seq, hash from record order by seq desc limit 1";

/// Place and hash of the last record.
pub(crate) fn end_of_chain(db: &Connection) -> Result<(i64, Hash), StoreError> {
    let mut query = db.prepare_cached(END_OF_CHAIN)?;
    let end = query.query_row([], |row| Ok((row.get(0)?, Hash(row.get(1)?)))).optional()?;
    Ok(end.unwrap_or((0, Hash::NONE)))
}

/// What a new record is about and replaces, checked.
struct Bearing {
    animal: Option<String>,
    enclosure: Option<String>,
    corrects: Option<String>,
    story: Option<i64>,
}

/// A record that is there already.
pub(crate) struct Known {
    pub seq: i64,
    pub kind: String,
    pub animal: Option<String>,
    pub enclosure: Option<String>,
    pub story: i64,
    pub stands: bool,
}

const KNOWN: &str = "
    select seq, kind, animal_id, enclosure_id, story,
        coalesce((select puts_back from removal where removes = record.id order by seq desc limit 1), 1) as stands
    from record where id = ?1";

/// The record of a name, where there is one.
pub(crate) fn known(db: &Connection, id: &str) -> Result<Option<Known>, StoreError> {
    let mut query = db.prepare_cached(KNOWN)?;
    let found = query.query_row([id], |row| {
        Ok(Known {
            seq: row.get(0)?,
            kind: row.get(1)?,
            animal: row.get(2)?,
            enclosure: row.get(3)?,
            story: row.get(4)?,
            stands: row.get(5)?,
        })
    });
    Ok(found.optional()?)
}

const STORY_STANDS: &str = "
    select exists (select 1 from standing_record where seq = ?1)
        or exists (select 1 from standing_record where story = ?1 and corrects is not null)";

/// Does any record of a story stand?
pub(crate) fn story_stands(db: &Connection, story: i64) -> Result<bool, StoreError> {
    Ok(db.prepare_cached(STORY_STANDS)?.query_row([story], |row| row.get(0))?)
}

/// Is the animal or enclosure of this name there, by the name of its first record, and not removed?
pub(crate) fn must_stand(db: &Connection, id: RecordId, kind: Kind) -> Result<(), StoreError> {
    match known(db, &id.to_string())? {
        Some(first) if first.kind == kind.key() && first.story == first.seq && story_stands(db, first.story)? => Ok(()),
        _ => Err(StoreError::NotFound(id)),
    }
}

const SUBJECTS_OF_STORY: &str = "
    select animal_id, enclosure_id from record where seq = ?1
    union
    select animal_id, enclosure_id from record where story = ?1 and corrects is not null";

/// An animal and an enclosure, where a record is about one.
type About = (Option<String>, Option<String>);

/// The animals and enclosures that the records of a story are about.
fn subjects_of(db: &Connection, story: i64) -> Result<Vec<About>, StoreError> {
    let mut query = db.prepare_cached(SUBJECTS_OF_STORY)?;
    let rows = query.query_map([story], |row| Ok((row.get(0)?, row.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

const CURRENT_HOUSEHOLD: &str = "
    select id from current_household where animal_id is null and enclosure_id is null order by seq desc limit 1";

const STAYED_IN: &str = "
    select enclosure from current_stay
    where animal_id = ?1 and happened_from_s <= ?2
    order by happened_from_s desc, seq desc limit 1";

impl<'a> Pen<'a> {
    pub fn new(db: &'a Transaction<'a>, stamp: &'a Stamp) -> Result<Pen<'a>, StoreError> {
        if stamp.by.trim().is_empty() {
            return Err(StoreError::fault("nobody is named as the writer", "by", "say who writes this down"));
        }
        let zone_name = stamp.zone.name().map(str::to_owned);
        if stamp.zone.is_known() && zone_name.is_none() {
            let mend = "name a zone, such as Europe/Lisbon, in the settings";
            return Err(StoreError::fault("the time zone of this machine has no name", "zone", mend));
        }
        let last = end_of_chain(db)?;
        Ok(Pen { db, stamp, zone_name, last, batch: last.0 + 1, touched: Touched::default() })
    }

    /// Ends the act: keeps what is last, and marks what was reckoned before as stale.
    pub fn lift(self) -> Result<(), StoreError> {
        self.touched.settle(self.db, self.last.0)
    }

    /// Writes one record.
    pub fn write(&mut self, new: &NewRecord) -> Result<(), StoreError> {
        let kind = new.fact.kind();
        let table = table(kind);
        let (cells, fact) = self.cells(table, new)?;
        if let Some(known) = known(self.db, &new.id.to_string())? {
            let other_animal = new.animal.is_some() && new.animal.map(|id| id.to_string()) != known.animal;
            let same = known.kind == kind.key()
                && !other_animal
                && cells_of(self.db, table, known.seq)?.is_some_and(|there| there == cells);
            return if same { Ok(()) } else { Err(StoreError::IdTaken(new.id)) };
        }
        let bearing = self.bearing(kind, new)?;
        if let Fact::Stay(stay) = &fact {
            must_stand(self.db, stay.enclosure, Kind::Enclosure)?;
        }
        let mut head = self.head(&new.id, kind.key());
        head.animal_id = bearing.animal;
        head.enclosure_id = bearing.enclosure;
        head.corrects = bearing.corrects;
        head.story = bearing.story.unwrap_or(head.seq);
        head.why = new.why.clone();
        head.fingerprint = new.fingerprint.clone();
        if let Some(when) = fact.when() {
            head.happened = Some(self.stamp.zone.write_when(when));
            head.happened_from_s = Some(when.from.0);
            head.happened_to_s = Some(when.to.0);
            head.precision = Some(when.precision.key().to_owned());
        }
        let id = head.id.clone();
        let cells = Cells { table, cells, id: &id };
        self.touch(kind, head.animal_id.as_deref(), head.enclosure_id.as_deref())?;
        if let Some(story) = bearing.story {
            self.touch_story(kind, story)?;
        }
        head.hash = Hash::of(&chain::canonical(&head, cells.fields()));
        self.put(&head)?;
        put_fields(self.db, head.seq, &cells)
    }

    /// The fields as they will stand, and the record that they say when read back: what cannot be read again is
    /// never written, and what is not kept (seconds, spaces around a text) is not pretended either.
    fn cells(&self, table: &'static Table, new: &NewRecord) -> Result<(Vec<Option<Cell>>, Fact), StoreError> {
        let fields = new.fact.fields(&self.stamp.zone);
        let origin = format!("{}, {}", table.kind.words(), new.id);
        if let Some((key, _)) = fields.iter().find(|(key, _)| table.columns.iter().all(|column| column.name != *key)) {
            return Err(StoreError::fault(format!("`{key}` has no place in the records"), origin, "leave it out"));
        }
        let pairs = fields.iter().map(|(key, raw)| ((*key).to_owned(), raw.clone())).collect();
        let given = Given { pairs, origin };
        let mut reader = Reader::new(&given, &self.stamp.zone);
        let fact = Fact::read(table.kind, &mut reader);
        let faults = reader.finish();
        let fact = match fact {
            Some(fact) if faults.is_empty() => fact,
            _ => return Err(StoreError::Faults(faults)),
        };
        let fields = fact.fields(&self.stamp.zone);
        let mut cells = Vec::with_capacity(table.columns.len());
        for column in table.columns {
            let raw = fields.iter().find(|(key, _)| *key == column.name).map(|(_, raw)| raw);
            let cell = match raw {
                None => unsaid(table.kind, column.name),
                Some(raw) => Some(Cell::from_raw(raw, column.sort).ok_or_else(|| misfit(table, column.name, raw))?),
            };
            cells.push(cell);
        }
        Ok((cells, fact))
    }

    /// Whom the record is about and what it replaces.
    fn bearing(&self, kind: Kind, new: &NewRecord) -> Result<Bearing, StoreError> {
        let mut animal = new.animal.map(|id| id.to_string());
        let mut enclosure = new.enclosure.map(|id| id.to_string());
        let mut corrects = new.corrects.map(|id| id.to_string());
        if kind == Kind::Household && corrects.is_none() {
            let mut query = self.db.prepare_cached(CURRENT_HOUSEHOLD)?;
            corrects = query.query_row([], |row| row.get(0)).optional()?;
        }
        let mut story = None;
        if let Some(id) = corrects.as_deref().and_then(RecordId::read) {
            let old = known(self.db, &id.to_string())?.ok_or(StoreError::NotFound(id))?;
            if old.kind != kind.key() {
                let what = format!("a {} cannot replace a {}", kind.words(), old.kind.replace('-', " "));
                return Err(StoreError::fault(what, "corrects", "remove the one and enter the other"));
            }
            if !story_stands(self.db, old.story)? {
                return Err(StoreError::Gone(id));
            }
            if animal.is_none() && enclosure.is_none() {
                animal = old.animal.clone();
                enclosure = old.enclosure.clone();
            }
            story = Some(old.story);
            if matches!(kind, Kind::Animal | Kind::Enclosure) {
                animal = old.animal;
                enclosure = old.enclosure;
            }
        }
        match kind {
            Kind::Animal if story.is_none() => (animal, enclosure) = (Some(new.id.to_string()), None),
            Kind::Enclosure if story.is_none() => (animal, enclosure) = (None, Some(new.id.to_string())),
            Kind::Animal | Kind::Enclosure => {}
            _ => self.check_subject(kind, new, &animal, &mut enclosure)?,
        }
        Ok(Bearing { animal, enclosure, corrects, story })
    }

    fn check_subject(
        &self,
        kind: Kind,
        new: &NewRecord,
        animal: &Option<String>,
        enclosure: &mut Option<String>,
    ) -> Result<(), StoreError> {
        for (id, kind) in [(animal, Kind::Animal), (&*enclosure, Kind::Enclosure)] {
            if let Some(id) = id.as_deref().and_then(RecordId::read) {
                must_stand(self.db, id, kind)?;
            }
        }
        let wrong = match (kind, animal.is_some(), enclosure.is_some()) {
            (Kind::Household | Kind::Power | Kind::FreezerLot, false, false) => None,
            (Kind::Household | Kind::Power | Kind::FreezerLot, ..) => {
                Some(("concerns the whole household", "name no animal and no enclosure"))
            }
            (Kind::Planned | Kind::Override | Kind::Note, ..) => None,
            (Kind::Seen | Kind::Cleaning | Kind::Reading | Kind::Heater, false, false) => {
                Some(("is about nothing yet", "name the animal or the enclosure"))
            }
            (Kind::Seen | Kind::Cleaning | Kind::Reading | Kind::Heater, ..) => None,
            (Kind::Fitted, false, true) => None,
            (Kind::Fitted, ..) => Some(("belongs to an enclosure", "name the enclosure and no animal")),
            (_, false, _) => Some(("is about no animal yet", "name the animal")),
            _ => None,
        };
        if let Some((what, mend)) = wrong {
            let place = new.id.to_string();
            return Err(StoreError::fault(format!("this {} {what}", kind.words()), place, mend));
        }
        if let (Subject::Enclosure, Some(animal), None) = (kind.subject(), animal, &enclosure) {
            let at = new.fact.when().map_or(self.stamp.recorded_at, |when: When| when.to);
            let mut query = self.db.prepare_cached(STAYED_IN)?;
            *enclosure = query.query_row(params![animal, at.0], |row| row.get(0)).optional()?;
        }
        Ok(())
    }

    /// A head at the end of the chain, of a record that is about nobody yet.
    pub fn head(&self, id: &RecordId, kind: &str) -> HeadRow {
        let (last, forerunner) = self.last;
        HeadRow {
            seq: last + 1,
            id: id.to_string(),
            kind: kind.to_owned(),
            animal_id: None,
            enclosure_id: None,
            happened: None,
            happened_from_s: None,
            happened_to_s: None,
            precision: None,
            zone: self.zone_name.clone(),
            recorded_at_s: self.stamp.recorded_at.0,
            recorded_by: self.stamp.by.trim().to_owned(),
            corrects: None,
            story: last + 1,
            why: None,
            batch: self.batch,
            fingerprint: None,
            forerunner,
            hash: Hash::NONE,
        }
    }

    /// Puts a head at the end of the chain.
    pub fn put(&mut self, head: &HeadRow) -> Result<(), StoreError> {
        put_head(self.db, head)?;
        self.last = (head.seq, head.hash);
        Ok(())
    }

    fn touch(&mut self, kind: Kind, animal: Option<&str>, enclosure: Option<&str>) -> Result<(), StoreError> {
        self.touched.add(self.db, kind, animal, enclosure)
    }

    /// Remembers all that the records of a story bear on: a correction may have been about another animal.
    pub fn touch_story(&mut self, kind: Kind, story: i64) -> Result<(), StoreError> {
        for (animal, enclosure) in subjects_of(self.db, story)? {
            self.touch(kind, animal.as_deref(), enclosure.as_deref())?;
        }
        Ok(())
    }

    /// The first record of this act.
    pub fn batch(&self) -> i64 {
        self.batch
    }
}

fn misfit(table: &Table, column: &str, raw: &Raw) -> StoreError {
    let what = format!("`{}` cannot be kept as {column}", raw.shown());
    StoreError::fault(what, table.kind.words(), "write it in another way")
}

const PUT_HEAD: &str = "
    insert into record (seq, id, kind, animal_id, enclosure_id, happened, happened_from_s, happened_to_s, precision,
        zone, recorded_at_s, recorded_by, corrects, story, why, batch, fingerprint, forerunner_hash, hash)
    values (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19)";

/// Adds a head.
pub(crate) fn put_head(db: &Connection, head: &HeadRow) -> Result<(), StoreError> {
    db.prepare_cached(PUT_HEAD)?.execute(params![
        head.seq,
        head.id,
        head.kind,
        head.animal_id,
        head.enclosure_id,
        head.happened,
        head.happened_from_s,
        head.happened_to_s,
        head.precision,
        head.zone,
        head.recorded_at_s,
        head.recorded_by,
        head.corrects,
        head.story,
        head.why,
        head.batch,
        head.fingerprint,
        head.forerunner.0,
        head.hash.0,
    ])?;
    Ok(())
}

/// Adds the fields of a record; its head was added just before.
pub(crate) fn put_fields(db: &Connection, seq: i64, cells: &Cells<'_>) -> Result<(), StoreError> {
    let mut query = db.prepare_cached(cells.table.insert)?;
    query.raw_bind_parameter(1, seq)?;
    for (at, cell) in cells.cells.iter().enumerate() {
        query.raw_bind_parameter(at + 2, cell.as_ref())?;
    }
    query.raw_execute()?;
    Ok(())
}
