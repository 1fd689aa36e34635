//! The animals of the household, in walking order.

use std::cmp::Ordering;
use std::collections::HashMap;

use records::choice::Choice;
use records::facts::{Animal, Enclosure, Ending, EndingWhat};
use records::{Fact, Kind, RecordId};
use rusqlite::Connection;

use crate::error::StoreError;
use crate::history::stored_at;
use crate::names;
use crate::open::Store;
use crate::reading::Zones;
use crate::tables::{lines, table};

/// An animal and where it is.
#[derive(Clone, Debug, PartialEq)]
pub struct AnimalRow {
    /// Its name in the store: that of its first record, whatever was corrected since.
    pub id: RecordId,
    /// What is known of it.
    pub animal: Animal,
    /// The enclosure it lives in.
    pub enclosure: Option<RecordId>,
    /// What that enclosure is called.
    pub enclosure_name: Option<String>,
    /// The room it stands in.
    pub room: Option<String>,
    /// Its place in the walk through the room.
    pub walk: Option<f64>,
    /// How its stay in the household ended, or that it is lent; `None` while it is here.
    pub ending: Option<Ending>,
}

impl AnimalRow {
    /// Has it left the household for good?
    pub fn has_left(&self) -> bool {
        self.ending.as_ref().is_some_and(|ending| is_final(ending.what))
    }
}

/// An animal that lives (or lived and died) near another.
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbour {
    /// Which.
    pub animal: RecordId,
    /// Do they share an enclosure?
    pub same_enclosure: bool,
    /// Are they known to share a room? Enclosures without a room stand in the same one.
    pub same_room: bool,
    /// How its stay ended.
    pub ending: Option<Ending>,
}

/// Does the animal not come back?
fn is_final(what: EndingWhat) -> bool {
    matches!(what, EndingWhat::Sold | EndingWhat::Given | EndingWhat::Died)
}

/// Where an animal is.
struct Place {
    enclosure: Option<RecordId>,
    ending: Option<EndingWhat>,
}

const WHEREABOUTS: &str = "select animal_id, enclosure_id, ending from whereabouts";

/// Where all animals are.
fn places(db: &Connection) -> Result<HashMap<RecordId, Place>, StoreError> {
    let mut query = db.prepare_cached(WHEREABOUTS)?;
    let mut rows = query.query([])?;
    let mut out = HashMap::new();
    while let Some(row) = rows.next()? {
        let id = |at: usize| -> rusqlite::Result<Option<RecordId>> {
            Ok(row.get::<_, Option<String>>(at)?.as_deref().and_then(RecordId::read))
        };
        let ending: Option<String> = row.get(2)?;
        let ending = ending.as_deref().and_then(EndingWhat::from_key).filter(|what| *what != EndingWhat::Returned);
        if let Some(animal) = id(0)? {
            out.insert(animal, Place { enclosure: id(1)?, ending });
        }
    }
    Ok(out)
}

/// The enclosures that hold now, by name.
pub(crate) fn enclosures_by_id(db: &Connection, zones: &mut Zones) -> Result<HashMap<RecordId, Enclosure>, StoreError> {
    let enclosures = lines(db, table(Kind::Enclosure), table(Kind::Enclosure).all, [], zones)?;
    Ok(enclosures
        .into_iter()
        .filter_map(|line| match line.fact {
            Fact::Enclosure(enclosure) => Some((line.enclosure?, enclosure)),
            _ => None,
        })
        .collect())
}

const LAST_ENDING: &str = "select seq from last where subject_id = ?1 and what = 'ending'";

fn ending_of(db: &Connection, animal: RecordId, zones: &mut Zones) -> Result<Option<Ending>, StoreError> {
    let seq = db.prepare_cached(LAST_ENDING)?.query_row([animal.to_string()], |row| row.get(0))?;
    Ok(stored_at(db, seq, zones)?.and_then(|stored| match stored.fact {
        Fact::Ending(ending) => Some(ending),
        _ => None,
    }))
}

/// All animals, those that left among them, in walking order.
pub(crate) fn rows(db: &Connection) -> Result<Vec<AnimalRow>, StoreError> {
    let mut zones = Zones::default();
    let places = places(db)?;
    let enclosures = enclosures_by_id(db, &mut zones)?;
    let mut out = Vec::with_capacity(places.len());
    for line in lines(db, table(Kind::Animal), table(Kind::Animal).all, [], &mut zones)? {
        let (Fact::Animal(animal), Some(id)) = (line.fact, line.animal) else {
            continue;
        };
        let place = places.get(&id);
        let ending = match place.and_then(|place| place.ending) {
            Some(_) => ending_of(db, id, &mut zones)?,
            None => None,
        };
        let enclosure = place.and_then(|place| place.enclosure);
        let stands_in = enclosure.and_then(|id| enclosures.get(&id));
        out.push(AnimalRow {
            id,
            animal,
            enclosure: enclosure.filter(|id| enclosures.contains_key(id)),
            enclosure_name: stands_in.and_then(|there| there.name.clone()),
            room: stands_in.and_then(|there| there.room.clone()),
            walk: stands_in.and_then(|there| there.walk),
            ending,
        });
    }
    out.sort_by(walking_order);
    Ok(out)
}

fn walking_order(one: &AnimalRow, other: &AnimalRow) -> Ordering {
    one.enclosure
        .is_none()
        .cmp(&other.enclosure.is_none())
        .then_with(|| names::order_known(one.room.as_deref(), other.room.as_deref()))
        .then_with(|| walk_order(one.walk, other.walk))
        .then_with(|| names::order_known(one.enclosure_name.as_deref(), other.enclosure_name.as_deref()))
        .then_with(|| one.enclosure.cmp(&other.enclosure))
        .then_with(|| names::order_known(one.animal.name.as_deref(), other.animal.name.as_deref()))
        .then_with(|| one.id.cmp(&other.id))
}

/// Enclosures with a place in the walk come before those without.
pub(crate) fn walk_order(one: Option<f64>, other: Option<f64>) -> Ordering {
    one.unwrap_or(f64::INFINITY).total_cmp(&other.unwrap_or(f64::INFINITY))
}

impl Store {
    /// The animals in walking order: room, place in the walk, enclosure, name. Those that left for good (sold, given
    /// away, died) only with `include_ended`; one that is lent stays in the list.
    pub fn animals(&self, include_ended: bool) -> Result<Vec<AnimalRow>, StoreError> {
        let mut all = self.read(rows)?;
        all.retain(|row| include_ended || !row.has_left());
        Ok(all)
    }

    /// The animals that someone means: by exact id, else by name without regard to case, else by the beginning of
    /// either. Those that left come last.
    pub fn find_animal(&self, name_or_id: &str) -> Result<Vec<AnimalRow>, StoreError> {
        let mut all = self.read(rows)?;
        all.sort_by_key(AnimalRow::has_left);
        Ok(names::sought(all, name_or_id, |row| row.id.to_string(), |row| row.animal.name.clone()))
    }

    /// The animals that live in the same room as another (or nobody knows where), and those that died there.
    pub fn neighbours(&self, animal: RecordId) -> Result<Vec<Neighbour>, StoreError> {
        let all = self.read(rows)?;
        let Some(me) = all.iter().find(|row| row.id == animal) else {
            return Ok(Vec::new());
        };
        let of_note = |row: &&AnimalRow| {
            row.ending.as_ref().is_none_or(|ending| matches!(ending.what, EndingWhat::Died | EndingWhat::Lent))
        };
        let near = |row: &AnimalRow| {
            let housed = me.enclosure.is_some() && row.enclosure.is_some();
            (!housed || row.room == me.room).then(|| Neighbour {
                animal: row.id,
                same_enclosure: housed && row.enclosure == me.enclosure,
                same_room: housed,
                ending: row.ending.clone(),
            })
        };
        Ok(all.iter().filter(|row| row.id != animal).filter(of_note).filter_map(near).collect())
    }
}
