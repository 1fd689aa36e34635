//! The enclosures of the household, their heaters and who lives in them; the household itself and its freezer.

use std::collections::HashMap;

use records::facts::{Enclosure, FreezerLot, Heater, Household};
use records::{Entry, Fact, Key, Kind, RecordId};
use rusqlite::Connection;

use crate::animals::{self, walk_order};
use crate::error::StoreError;
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
    let mut out: Vec<EnclosureRow> = animals::enclosures_by_id(db, &mut zones)?
        .into_iter()
        .map(|(id, enclosure)| EnclosureRow {
            id,
            enclosure,
            heaters: heaters.remove(&id).unwrap_or_default(),
            animals: living.remove(&id).unwrap_or_default(),
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

    /// What holds for the whole household, and the record that says it.
    pub fn household(&self) -> Result<Option<(RecordId, Household)>, StoreError> {
        self.read(|db| household(db, &mut Zones::default()))
    }

    /// Frozen prey by lots, the oldest first.
    pub fn freezer(&self) -> Result<Vec<Entry<FreezerLot>>, StoreError> {
        self.read(|db| freezer(db, &mut Zones::default()))
    }
}
