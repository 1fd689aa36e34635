//! Everything in the order of writing, out and back in: the same names, times and hashes.
//!
//! A line carries what was written letter for letter beside what it says, so that a later version, with other time
//! zone tables, still gives back the same line and the same hash.

use records::choice::Choice;
use records::{Kind, RecordId};
use rusqlite::Connection;
use serde_json::{Map, Value};
use units::{Moment, Zone};

use crate::append::{put_fields, put_head};
use crate::cell::{Cell, Sort};
use crate::chain::{self, Hash};
use crate::error::StoreError;
use crate::head::{HeadRow, Stored};
use crate::history::REMOVAL;
use crate::last;
use crate::migrate::SCHEMA;
use crate::open::Store;
use crate::reading::{Cells, Zones, cells_of};
use crate::remove::{RemovalRow, put_removal, removal_at};
use crate::tables::{Table, table};

/// One line of what was written, in the order of writing.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    head: HeadRow,
    fields: Columns,
    written: Written,
}

/// What a line says.
#[derive(Clone, Debug, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "lines are handed over one by one and most are records")]
pub enum Written {
    /// A record. What became of it later is told by the lines that follow.
    Record(Stored),
    /// A record was taken back, or put back again.
    Removal(Removal),
}

/// A record was taken back, or put back again.
#[derive(Clone, Debug, PartialEq)]
pub struct Removal {
    /// Its place in the order of writing.
    pub seq: u64,
    /// Its own name.
    pub id: RecordId,
    /// The record that is taken or put back.
    pub of: RecordId,
    /// Does the record stand again?
    pub puts_back: bool,
    /// The act that was undone by it.
    pub undoes: Option<u64>,
    /// The animal that the record is about.
    pub animal: Option<RecordId>,
    /// The enclosure that the record is about.
    pub enclosure: Option<RecordId>,
    /// The zone it was written in.
    pub zone: Zone,
    /// When it was written down.
    pub recorded_at: Moment,
    /// By whom.
    pub by: String,
    /// Why.
    pub why: Option<String>,
    /// The first record of the act that it belongs to.
    pub batch: u64,
    /// Its own hash.
    pub hash: Hash,
}

#[derive(Clone, Debug, PartialEq)]
enum Columns {
    Record(&'static Table, Vec<Option<Cell>>),
    Removal(RemovalRow),
}

impl Columns {
    fn canonical(&self, head: &HeadRow) -> String {
        match self {
            Columns::Record(table, cells) => {
                let named = table.columns.iter().zip(cells).map(|(column, cell)| (column.name, cell.as_ref()));
                chain::canonical(head, named)
            }
            Columns::Removal(removal) => removal.canonical(head),
        }
    }
}

impl Line {
    /// Its place in the order of writing.
    pub fn seq(&self) -> u64 {
        self.head.seq.unsigned_abs()
    }

    /// What it says.
    pub fn written(&self) -> &Written {
        &self.written
    }

    /// The line of JSON that is hashed, with the hash as its last key.
    pub fn to_json(&self) -> String {
        let mut line = self.fields.canonical(&self.head);
        line.pop();
        line.push_str(&format!(",\"hash\":\"{}\"}}", self.head.hash));
        line
    }

    /// Reads a line that [`Line::to_json`] wrote, and checks its hash.
    pub fn from_json(text: &str) -> Result<Line, StoreError> {
        let value: Map<String, Value> = serde_json::from_str(text).map_err(|error| broken(0, error.to_string()))?;
        let seq = value.get("seq").and_then(Value::as_i64).ok_or_else(|| broken(0, "`seq` is missing"))?;
        let (head, fields) = Parsed { seq, value }.read()?;
        Line::of(head, fields, &mut Zones::default())
    }

    /// A line of its parts, when it fits its own hash.
    fn of(head: HeadRow, fields: Columns, zones: &mut Zones) -> Result<Line, StoreError> {
        if Hash::of(&fields.canonical(&head)) != head.hash {
            return Err(broken(head.seq, "it does not fit its hash"));
        }
        let written = match &fields {
            Columns::Record(table, cells) => {
                let told = head.head(table.kind, zones)?;
                let fact = Cells { table, cells: cells.clone(), id: &head.id }.fact(&told.zone)?;
                Written::Record(Stored { head: told, fact })
            }
            Columns::Removal(removal) => Written::Removal(removal_of(&head, removal, zones)?),
        };
        Ok(Line { head, fields, written })
    }

    /// Reads the line at a place in the order of writing.
    fn read(db: &Connection, head: HeadRow, zones: &mut Zones) -> Result<Line, StoreError> {
        let missing = || StoreError::Damaged { what: format!("the fields of record {} are missing", head.seq) };
        let fields = if head.kind == REMOVAL {
            Columns::Removal(removal_at(db, head.seq)?.ok_or_else(missing)?)
        } else {
            let kind = head.known_kind().ok_or(StoreError::Newer { file: SCHEMA + 1, known: SCHEMA })?;
            Columns::Record(table(kind), cells_of(db, table(kind), head.seq)?.ok_or_else(missing)?)
        };
        Line::of(head, fields, zones)
    }
}

fn removal_of(head: &HeadRow, removal: &RemovalRow, zones: &mut Zones) -> Result<Removal, StoreError> {
    let id = |text: &str| RecordId::read(text).ok_or_else(|| broken(head.seq, "an id is no UUID"));
    Ok(Removal {
        seq: head.seq.unsigned_abs(),
        id: id(&head.id)?,
        of: id(&removal.removes)?,
        puts_back: removal.puts_back,
        undoes: removal.undoes.map(i64::unsigned_abs),
        animal: head.animal_id.as_deref().map(id).transpose()?,
        enclosure: head.enclosure_id.as_deref().map(id).transpose()?,
        zone: zones.get(head.zone.as_deref()).ok_or_else(|| broken(head.seq, "its time zone is unknown"))?,
        recorded_at: Moment(head.recorded_at_s),
        by: head.recorded_by.clone(),
        why: head.why.clone(),
        batch: head.batch.unsigned_abs(),
        hash: head.hash,
    })
}

fn broken(seq: i64, what: impl Into<String>) -> StoreError {
    StoreError::Broken { seq: seq.unsigned_abs(), what: what.into() }
}

/// A line of JSON that is being read; what is left over in the end is unknown.
struct Parsed {
    seq: i64,
    value: Map<String, Value>,
}

impl Parsed {
    fn text(&mut self, key: &str) -> Result<Option<String>, StoreError> {
        match self.value.remove(key) {
            None => Ok(None),
            Some(Value::String(text)) => Ok(Some(text)),
            Some(_) => Err(broken(self.seq, format!("`{key}` is not a text"))),
        }
    }

    fn whole(&mut self, key: &str) -> Result<Option<i64>, StoreError> {
        match self.value.remove(key) {
            None => Ok(None),
            Some(value) => value.as_i64().map(Some).ok_or_else(|| broken(self.seq, format!("`{key}` is not whole"))),
        }
    }

    fn must<T>(&self, key: &str, value: Option<T>) -> Result<T, StoreError> {
        value.ok_or_else(|| broken(self.seq, format!("`{key}` is missing")))
    }

    fn must_text(&mut self, key: &str) -> Result<String, StoreError> {
        let text = self.text(key)?;
        self.must(key, text)
    }

    fn must_whole(&mut self, key: &str) -> Result<i64, StoreError> {
        let whole = self.whole(key)?;
        self.must(key, whole)
    }

    fn hash(&mut self, key: &str) -> Result<Hash, StoreError> {
        let text = self.must_text(key)?;
        self.must(key, Hash::read(&text))
    }

    fn read(mut self) -> Result<(HeadRow, Columns), StoreError> {
        let head = HeadRow {
            seq: self.must_whole("seq")?,
            id: self.must_text("id")?,
            kind: self.must_text("kind")?,
            animal_id: self.text("animal_id")?,
            enclosure_id: self.text("enclosure_id")?,
            happened: self.text("happened")?,
            happened_from_s: self.whole("happened_from_s")?,
            happened_to_s: self.whole("happened_to_s")?,
            precision: self.text("precision")?,
            zone: self.text("zone")?,
            recorded_at_s: self.must_whole("recorded_at_s")?,
            recorded_by: self.must_text("recorded_by")?,
            corrects: self.text("corrects")?,
            story: self.must_whole("story")?,
            why: self.text("why")?,
            batch: self.must_whole("batch")?,
            fingerprint: self.text("fingerprint")?,
            forerunner: self.hash("forerunner")?,
            hash: self.hash("hash")?,
        };
        let Some(Value::Object(fields)) = self.value.remove("fields") else {
            return Err(broken(self.seq, "`fields` are missing"));
        };
        self.nothing_left(&head.kind)?;
        self.value = fields;
        let columns = if head.kind == REMOVAL {
            let removes = self.must_text("removes")?;
            let puts_back = match self.value.remove("puts_back") {
                Some(Value::Bool(flag)) => flag,
                _ => return Err(broken(self.seq, "`puts_back` is missing")),
            };
            Columns::Removal(RemovalRow { removes, puts_back, undoes: self.whole("undoes")? })
        } else {
            let kind = Kind::from_key(&head.kind)
                .ok_or_else(|| broken(self.seq, format!("`{}` is no kind that this version knows", head.kind)))?;
            let mut cells = Vec::new();
            for column in table(kind).columns {
                let value = self.value.remove(column.name);
                let cell = value.map(|value| {
                    cell(value, column.sort).ok_or_else(|| broken(self.seq, format!("`{}` does not fit", column.name)))
                });
                cells.push(cell.transpose()?);
            }
            Columns::Record(table(kind), cells)
        };
        self.nothing_left(&head.kind)?;
        Ok((head, columns))
    }

    fn nothing_left(&self, kind: &str) -> Result<(), StoreError> {
        match self.value.keys().next() {
            None => Ok(()),
            Some(key) => Err(broken(self.seq, format!("`{key}` is unknown in a {kind}"))),
        }
    }
}

fn cell(value: Value, sort: Sort) -> Option<Cell> {
    match (sort, value) {
        (Sort::Text, Value::String(text)) => Some(Cell::Text(text)),
        (Sort::Real, Value::Number(number)) => number.as_f64().map(Cell::Real),
        (Sort::Whole, Value::Number(number)) => number.as_i64().map(Cell::Whole),
        (Sort::Flag, Value::Bool(flag)) => Some(Cell::Flag(flag)),
        _ => None,
    }
}

const PAGE: &str = "
    select seq, id, kind, animal_id, enclosure_id, happened, happened_from_s, happened_to_s, precision, zone,
        recorded_at_s, recorded_by, corrects, story, why, batch, fingerprint, forerunner_hash, hash
    from record where ?1 < seq and seq <= ?2 order by seq limit 500";

/// The heads that follow a place in the order of writing.
pub(crate) fn heads_after(db: &Connection, seq: i64, until: i64) -> Result<Vec<HeadRow>, StoreError> {
    let mut query = db.prepare_cached(PAGE)?;
    let rows = query.query_map([seq, until], HeadRow::read)?;
    Ok(rows.collect::<Result<_, _>>()?)
}

impl Store {
    /// Everything that was written until now, in the order of writing, corrections and removals among it. `each` may
    /// use the store; no reader is kept open while it runs.
    pub fn all_records(&self, each: &mut dyn FnMut(Line) -> Result<(), StoreError>) -> Result<(), StoreError> {
        let until = i64::try_from(self.position()?.0).unwrap_or(i64::MAX);
        let mut zones = Zones::default();
        let mut after = 0;
        loop {
            let page = self.read(|db| {
                let heads = heads_after(db, after, until)?;
                heads.into_iter().map(|head| Line::read(db, head, &mut zones)).collect::<Result<Vec<_>, _>>()
            })?;
            let Some(last) = page.last() else {
                return Ok(());
            };
            after = last.head.seq;
            page.into_iter().try_for_each(&mut *each)?;
        }
    }

    /// Writes exported lines into an empty store: the same names, times and hashes. All or none; gives their number.
    pub fn restore(&self, lines: &mut dyn Iterator<Item = Result<Line, StoreError>>) -> Result<u64, StoreError> {
        self.write(|db| {
            let mut end = crate::append::end_of_chain(db)?;
            if end.0 != 0 {
                return Err(StoreError::NotEmpty);
            }
            for line in lines {
                let Line { head, fields, .. } = line?;
                if head.seq != end.0 + 1 {
                    return Err(broken(head.seq, format!("record {} is missing before it", end.0 + 1)));
                }
                if head.forerunner != end.1 {
                    return Err(broken(head.seq, "it does not fit its forerunner"));
                }
                put_head(db, &head)?;
                match fields {
                    Columns::Removal(removal) => put_removal(db, head.seq, &removal)?,
                    Columns::Record(table, cells) => {
                        put_fields(db, head.seq, &Cells { table, cells, id: &head.id })?;
                    }
                }
                end = (head.seq, head.hash);
            }
            last::rebuild(db)?;
            Ok(end.0.unsigned_abs())
        })
    }
}
