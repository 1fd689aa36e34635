//! The enclosures of the household, their heaters and who lives in them; the household itself and its freezer.

use std::collections::HashMap;

use records::facts::{Enclosure, Fitted, FreezerLot, Heater, Household, Reading};
use records::{Entry, Fact, Key, Kind, RecordId};
use rusqlite::{Connection, params};
use units::Moment;

use crate::animals::{self, walk_order};
use crate::error::StoreError;
use crate::history::stored_at;
use crate::names;
use crate::open::Store;
use crate::reading::Zones;
use crate::tables::{Found, lines, table};

/// An enclosure, what heats it and who lives in it.
#[derive(Clone, Debug, PartialEq)]
pub struct EnclosureRow {
    /// Its name in the store: that of its first record, whatever was corrected since.
    pub id: RecordId,
    /// What is known of it.
    pub enclosure: Enclosure,
    /// Its heaters.
    pub heaters: Vec<Entry<Heater>>,
    /// The animals that live in it.
    pub animals: Vec<RecordId>,
    /// What a log said about it: of several that stand, the one that ends last, the newest of those.
    pub fitted: Option<Entry<Fitted>>,
}

/// An entry of a case or list, with its place in the list of its kind.
pub(crate) fn entry<T>(kind: Kind, index: usize, id: RecordId, it: T) -> Entry<T> {
    Entry { key: Key { kind, index: u32::try_from(index).unwrap_or(u32::MAX), line: None, id: Some(id) }, it }
}

fn rows(db: &Connection) -> Result<Vec<EnclosureRow>, StoreError> {
    let mut zones = Zones::default();
    let mut heaters: HashMap<RecordId, Vec<Entry<Heater>>> = HashMap::new();
    for line in lines(db, table(Kind::Heater), table(Kind::Heater).all, [], &mut zones)? {
        if let (Fact::Heater(it), Some(enclosure)) = (line.fact, line.enclosure) {
            let there = heaters.entry(enclosure).or_default();
            there.push(entry(Kind::Heater, there.len(), line.id, it));
        }
    }
    let mut living: HashMap<RecordId, Vec<RecordId>> = HashMap::new();
    for row in animals::rows(db)?.into_iter().filter(|row| !row.has_left()) {
        if let Some(enclosure) = row.enclosure {
            living.entry(enclosure).or_default().push(row.id);
        }
    }
    let mut fitted = fitted(db, &mut zones)?;
    let mut out: Vec<EnclosureRow> = animals::enclosures_by_id(db, &mut zones)?
        .into_iter()
        .map(|(id, enclosure)| EnclosureRow {
            id,
            enclosure,
            heaters: heaters.remove(&id).unwrap_or_default(),
            animals: living.remove(&id).unwrap_or_default(),
            fitted: fitted.remove(&id),
        })
        .collect();
    out.sort_by(|one, other| {
        let (a, b) = (&one.enclosure, &other.enclosure);
        names::order_known(a.room.as_deref(), b.room.as_deref())
            .then_with(|| walk_order(a.walk, b.walk))
            .then_with(|| names::order_known(a.name.as_deref(), b.name.as_deref()))
            .then_with(|| one.id.cmp(&other.id))
    });
    Ok(out)
}

/// What the last log of each enclosure said.
fn fitted(db: &Connection, zones: &mut Zones) -> Result<HashMap<RecordId, Entry<Fitted>>, StoreError> {
    let mut found = lines(db, table(Kind::Fitted), table(Kind::Fitted).all, [], zones)?;
    found.sort_by_key(|line| (line.from_s, line.seq));
    let by_enclosure = |line: Found| match line.fact {
        Fact::Fitted(it) => Some((line.enclosure?, entry(Kind::Fitted, 0, line.id, it))),
        _ => None,
    };
    Ok(found.into_iter().filter_map(by_enclosure).collect())
}

/// Like `of_enclosure` of the shared queries, but bounded by what the index holds: years of readings are passed over.
const READINGS: &str = "
    select seq, id, zone, happened_from_s, animal_id, enclosure_id,
        at, spot, temperature_c, humidity_pct, period, means, hours
    from current_reading
    where enclosure_id = ?1 and ?2 <= happened_from_s and happened_from_s <= ?3
    order by happened_from_s, seq";

/// What stood of an enclosure and its heaters before a place in the order of writing.
const STOOD: &str = "
    select r.seq from record as r
    where r.enclosure_id = ?1 and r.kind in ('enclosure', 'heater') and r.seq < ?2
        and coalesce((select v.puts_back from removal as v where v.removes = r.id and v.seq < ?2
            order by v.seq desc limit 1), 1) = 1
        and not exists (
            select 1 from record as n
            where n.story = r.story and n.corrects is not null and r.seq < n.seq and n.seq < ?2
                and coalesce((select v.puts_back from removal as v where v.removes = n.id and v.seq < ?2
                    order by v.seq desc limit 1), 1) = 1)
    order by r.story";

/// The household record that holds, where there is one.
pub(crate) fn household(db: &Connection, zones: &mut Zones) -> Result<Option<(RecordId, Household)>, StoreError> {
    let of_household = lines(db, table(Kind::Household), table(Kind::Household).of_household, [], zones)?;
    let newest = of_household.into_iter().max_by_key(|line| line.seq);
    Ok(newest.and_then(|line| match line.fact {
        Fact::Household(it) => Some((line.id, it)),
        _ => None,
    }))
}

/// Frozen prey, oldest first; lots that are used up too.
pub(crate) fn freezer(db: &Connection, zones: &mut Zones) -> Result<Vec<Entry<FreezerLot>>, StoreError> {
    let lots = lines(db, table(Kind::FreezerLot), table(Kind::FreezerLot).of_household, [], zones)?;
    let lot = |(index, line): (usize, Found)| match line.fact {
        Fact::FreezerLot(it) => Some(entry(Kind::FreezerLot, index, line.id, it)),
        _ => None,
    };
    Ok(lots.into_iter().enumerate().filter_map(lot).collect())
}

impl Store {
    /// The enclosures in walking order.
    pub fn enclosures(&self) -> Result<Vec<EnclosureRow>, StoreError> {
        self.read(rows)
    }

    /// The enclosures that someone means: by exact id, else by name without regard to case, else by the beginning of
    /// either.
    pub fn find_enclosure(&self, name_or_id: &str) -> Result<Vec<EnclosureRow>, StoreError> {
        let all = self.read(rows)?;
        Ok(names::sought(all, name_or_id, |row| row.id.to_string(), |row| row.enclosure.name.clone()))
    }

    /// The readings of an enclosure that begin from `from` to `to`, both included, oldest first; those noted while
    /// looking at an animal among them.
    pub fn readings_of(&self, enclosure: RecordId, from: Moment, to: Moment) -> Result<Vec<Reading>, StoreError> {
        self.read(|db| {
            let span = params![enclosure.to_string(), from.0, to.0];
            let found = lines(db, table(Kind::Reading), READINGS, span, &mut Zones::default())?;
            let reading = |line: Found| match line.fact {
                Fact::Reading(it) => Some(it),
                _ => None,
            };
            Ok(found.into_iter().filter_map(reading).collect())
        })
    }

    /// An enclosure and its heaters as they stood on record when a record about it was written; `None` where that is no
    /// record of an enclosure.
    pub fn enclosure_when(&self, record: RecordId) -> Result<Option<(Enclosure, Vec<Heater>)>, StoreError> {
        let Some(head) = self.record(record)?.map(|stored| stored.head) else { return Ok(None) };
        let Some(enclosure) = head.enclosure else { return Ok(None) };
        self.read(|db| {
            let before = i64::try_from(head.seq).unwrap_or(i64::MAX);
            let mut query = db.prepare_cached(STOOD)?;
            let seqs = query.query_map(params![enclosure.to_string(), before], |row| row.get::<_, i64>(0))?;
            let (mut stood, mut heaters) = (None, Vec::new());
            for seq in seqs {
                match stored_at(db, seq?, &mut Zones::default())?.map(|stored| stored.fact) {
                    Some(Fact::Enclosure(it)) => stood = Some(it),
                    Some(Fact::Heater(it)) => heaters.push(it),
                    _ => {}
                }
            }
            Ok(stood.map(|enclosure| (enclosure, heaters)))
        })
    }

    /// What holds for the whole household, and the record that says it.
    pub fn household(&self) -> Result<Option<(RecordId, Household)>, StoreError> {
        self.read(|db| household(db, &mut Zones::default()))
    }

    /// Frozen prey by lots, the oldest first.
    pub fn freezer(&self) -> Result<Vec<Entry<FreezerLot>>, StoreError> {
        self.read(|db| freezer(db, &mut Zones::default()))
    }
}
