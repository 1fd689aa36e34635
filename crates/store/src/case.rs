//! The case of an animal: its own records, those of the enclosure it lives in, and what of the household bears on it.

use std::collections::HashMap;

use records::facts::{FreezerLot, Household, Override, Subject};
use records::{Case, Entry, Fact, Key, Kind, RecordId, Timeline};
use rusqlite::{Connection, OptionalExtension, params};
use units::{Moment, Zone};

use crate::enclosures::{entry, freezer, household};
use crate::error::StoreError;
use crate::open::Store;
use crate::reading::Zones;
use crate::tables::{Found, lines, table};

/// The kinds that have a place in an animal's timeline.
const IN_TIMELINE: [Kind; 16] = [
    Kind::Weighing,
    Kind::Measurement,
    Kind::Meal,
    Kind::Shed,
    Kind::Handling,
    Kind::Cleaning,
    Kind::Reading,
    Kind::Sign,
    Kind::Breeding,
    Kind::Power,
    Kind::Treatment,
    Kind::Dose,
    Kind::Planned,
    Kind::Seen,
    Kind::Note,
    Kind::Ending,
];

/// The kinds that can be written about an enclosure.
fn can_be_of_enclosure(kind: Kind) -> bool {
    kind.subject() == Subject::Enclosure || matches!(kind, Kind::Seen | Kind::Note | Kind::Planned | Kind::Override)
}

/// The kinds that can be written about everyone.
fn can_be_of_household(kind: Kind) -> bool {
    matches!(kind, Kind::Power | Kind::Planned | Kind::Note | Kind::Override)
}

/// What of the household bears on every animal, read once for all of them.
struct House {
    household: Option<Entry<Household>>,
    freezer: Vec<Entry<FreezerLot>>,
    /// Records about everyone, by kind.
    shared: HashMap<Kind, Vec<Found>>,
}

impl House {
    fn of(db: &Connection, zones: &mut Zones) -> Result<House, StoreError> {
        let mut shared = HashMap::new();
        for kind in IN_TIMELINE.into_iter().chain([Kind::Override]).filter(|kind| can_be_of_household(*kind)) {
            shared.insert(kind, lines(db, table(kind), table(kind).of_household, [], zones)?);
        }
        let household = household(db, zones)?.map(|(id, it)| entry(Kind::Household, 0, id, it));
        Ok(House { household, freezer: freezer(db, zones)?, shared })
    }

    /// The household as an animal finds it: others that live in the house are other reptiles.
    fn household_of(&self, db: &Connection, animal: RecordId) -> Result<Option<Entry<Household>>, StoreError> {
        let mut found = self.household.clone();
        if others_live(db, animal)? {
            let key = Key { kind: Kind::Household, index: 0, line: None, id: None };
            let household = found.get_or_insert_with(|| Entry { key, it: Household::default() });
            household.it.other_reptiles = Some(true);
        }
        Ok(found)
    }
}

const OTHERS_LIVE: &str = "select exists (select 1 from whereabouts where animal_id <> ?1 and not has_left)";

/// Do other animals live in the house?
fn others_live(db: &Connection, animal: RecordId) -> Result<bool, StoreError> {
    Ok(db.prepare_cached(OTHERS_LIVE)?.query_row([animal.to_string()], |row| row.get(0))?)
}

const OTHERS_IN: &str = "
    select count(*)
    from stay as s
    join record as r on r.seq = s.seq
    join last as l on l.subject_id = r.animal_id and l.what = 'stay' and l.seq = s.seq
    join whereabouts as w on w.animal_id = r.animal_id
    where s.enclosure = ?1 and r.animal_id <> ?2 and not w.has_left";

/// How many other animals live in an enclosure.
fn others_in(db: &Connection, enclosure: RecordId, animal: RecordId) -> Result<u32, StoreError> {
    let mut query = db.prepare_cached(OTHERS_IN)?;
    Ok(query.query_row(params![enclosure.to_string(), animal.to_string()], |row| row.get(0))?)
}

const HOME: &str = "
    select enclosure_id, since_s from whereabouts
    where animal_id = ?1 and enclosure_id is not null and since_s is not null";

/// The enclosure that an animal lives in, and since when.
fn home_of(db: &Connection, animal: RecordId) -> Result<Option<(RecordId, i64)>, StoreError> {
    let mut query = db.prepare_cached(HOME)?;
    let found: Option<(String, i64)> =
        query.query_row([animal.to_string()], |row| Ok((row.get(0)?, row.get(1)?))).optional()?;
    Ok(found.and_then(|(id, since_s)| Some((RecordId::read(&id)?, since_s))))
}

/// The records of a kind that bear on an animal, in order of time.
fn of_kind(
    db: &Connection,
    kind: Kind,
    animal: RecordId,
    home: Option<(RecordId, i64)>,
    house: &House,
    zones: &mut Zones,
) -> Result<Vec<(RecordId, Fact)>, StoreError> {
    let table = table(kind);
    let of_enclosure = kind.subject() == Subject::Enclosure;
    let mut found = lines(db, table, table.of_animal, params![animal.to_string(), !of_enclosure], zones)?;
    if let Some((enclosure, since_s)) = home
        && can_be_of_enclosure(kind)
    {
        found.extend(lines(
            db,
            table,
            table.of_enclosure,
            params![enclosure.to_string(), since_s, of_enclosure],
            zones,
        )?);
    }
    found.extend(house.shared.get(&kind).into_iter().flatten().cloned());
    found.sort_by_key(|one| (one.from_s, one.seq));
    Ok(found.into_iter().map(|one| (one.id, one.fact)).collect())
}

impl Store {
    /// The weighings and measurements that hold now of some animals, in order of time: what others are held against.
    pub fn bodies_of(&self, animals: &[RecordId]) -> Result<Vec<(RecordId, Vec<Fact>)>, StoreError> {
        self.read(|db| {
            let mut zones = Zones::default();
            let mut found = Vec::with_capacity(animals.len());
            for animal in animals {
                let mut facts = Vec::new();
                for table in [table(Kind::Weighing), table(Kind::Measurement)] {
                    let of = lines(db, table, table.of_animal, params![animal.to_string(), true], &mut zones)?;
                    facts.extend(of.into_iter().map(|one| one.fact));
                }
                found.push((*animal, facts));
            }
            Ok(found)
        })
    }
}

const TOLD_AGE_AT: &str = "
    select min(r.recorded_at_s) from standing_record as r join animal as a on a.seq = r.seq
    where r.animal_id = ?1 and r.kind = 'animal' and a.age_months = ?2";

/// A value of its own, and for whom it holds.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnValue {
    /// The animal it was written about.
    pub animal: Option<RecordId>,
    /// The enclosure it was written about.
    pub enclosure: Option<RecordId>,
    /// The value.
    pub value: Entry<Override>,
}

impl OwnValue {
    /// Does it hold for an animal that lives in `home`, as in the case of that animal?
    pub fn holds_for(&self, animal: RecordId, home: Option<RecordId>) -> bool {
        match (self.animal, self.enclosure) {
            (Some(of), _) => of == animal,
            (None, Some(of)) => home == Some(of),
            (None, None) => true,
        }
    }
}

/// A mean month of the Gregorian calendar (365.2425 days / 12).
const MONTH_DAYS: f64 = 30.436_875;

fn case(
    db: &Connection,
    animal: RecordId,
    zone: &Zone,
    house: &House,
    zones: &mut Zones,
) -> Result<Option<Case>, StoreError> {
    let known =
        lines(db, table(Kind::Animal), table(Kind::Animal).of_animal, params![animal.to_string(), true], zones)?;
    let Some(Fact::Animal(mut it)) = known.into_iter().next().map(|line| line.fact) else {
        return Ok(None);
    };
    // «Four months old» was true when it was written; the month of hatching stays true.
    if let (None, Some(months)) = (it.hatched, it.age_months) {
        let mut query = db.prepare_cached(TOLD_AGE_AT)?;
        let told_at: Option<i64> = query.query_row(params![animal.to_string(), months], |row| row.get(0))?;
        let hatched = told_at.map(|at| zone.date(Moment(at).plus_days(-months * MONTH_DAYS)));
        if let Some(span) = hatched.and_then(|date| zone.month(date.year(), date.month())) {
            it.hatched = Some(span);
            it.age_months = None;
        }
    }
    let home = home_of(db, animal)?;
    let mut enclosure = None;
    if let Some((id, _)) = home {
        let all = params![id.to_string(), i64::MIN, true];
        let found = lines(db, table(Kind::Enclosure), table(Kind::Enclosure).of_enclosure, all, zones)?;
        if let Some(Fact::Enclosure(mut it)) = found.into_iter().next().map(|line| line.fact) {
            if it.cohabitants.is_none() {
                it.cohabitants = Some(others_in(db, id, animal)?);
            }
            enclosure = Some(entry(Kind::Enclosure, 0, id, it));
        }
    }
    let home = home.filter(|_| enclosure.is_some());
    let mut facts = Vec::new();
    for kind in IN_TIMELINE {
        for (index, (id, fact)) in of_kind(db, kind, animal, home, house, zones)?.into_iter().enumerate() {
            let index = u32::try_from(index).unwrap_or(u32::MAX);
            facts.push((Key { kind, index, line: None, id: Some(id) }, fact));
        }
    }
    let mut heaters = Vec::new();
    for (id, fact) in of_kind(db, Kind::Heater, animal, home, house, zones)? {
        if let Fact::Heater(it) = fact {
            heaters.push(entry(Kind::Heater, heaters.len(), id, it));
        }
    }
    let mut overrides: Vec<Entry<Override>> = Vec::new();
    for (id, fact) in of_kind(db, Kind::Override, animal, home, house, zones)? {
        if let Fact::Override(it) = fact {
            overrides.push(entry(Kind::Override, overrides.len(), id, it));
        }
    }
    Ok(Some(Case {
        at: None,
        zone: zone.clone(),
        animal: entry(Kind::Animal, 0, animal, it),
        timeline: Timeline::new(facts),
        enclosure,
        heaters,
        household: house.household_of(db, animal)?,
        freezer: house.freezer.clone(),
        overrides,
    }))
}

const ANIMALS_BY_ID: &str = "select animal_id from whereabouts where not has_left order by animal_id";

impl Store {
    /// All values of a profile that do not hold here, in the order of writing.
    pub fn own_values(&self) -> Result<Vec<OwnValue>, StoreError> {
        let found =
            self.read(|db| lines(db, table(Kind::Override), table(Kind::Override).all, [], &mut Zones::default()))?;
        let own = |(index, line): (usize, Found)| match line.fact {
            Fact::Override(it) => {
                let (animal, enclosure) = (line.animal, line.enclosure);
                Some(OwnValue { animal, enclosure, value: entry(Kind::Override, index, line.id, it) })
            }
            _ => None,
        };
        Ok(found.into_iter().enumerate().filter_map(own).collect())
    }

    /// All that is known of one animal and bears on it, with dates read in the zone they were written in; `None` when
    /// there is no such animal. Keys carry the names of the records (of animal and enclosure that of the first).
    ///
    /// It holds the animal's own records; chores, readings and heaters of the enclosure it lives in, since it moved
    /// in; and power cuts, frozen prey, plans, notes and overrides that were written about nobody in particular. An
    /// age that was told in months is given as the month of hatching. Where others live in the house,
    /// `other_reptiles` is true; `cohabitants` are counted where they were not told.
    pub fn case_of(&self, animal: RecordId, zone: &Zone) -> Result<Option<Case>, StoreError> {
        self.read(|db| {
            let mut zones = Zones::default();
            let house = House::of(db, &mut zones)?;
            case(db, animal, zone, &house, &mut zones)
        })
    }

    /// The cases of all animals that are in the household, one by one, so that memory stays flat. What of the
    /// household bears on all of them is read once. `each` may use the store.
    pub fn each_case(
        &self,
        zone: &Zone,
        each: &mut dyn FnMut(RecordId, Case) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        let animals = self.read(|db| {
            let mut query = db.prepare(ANIMALS_BY_ID)?;
            let ids = query.query_map([], |row| row.get::<_, String>(0))?.collect::<Result<Vec<_>, _>>()?;
            Ok(ids.iter().filter_map(|id| RecordId::read(id)).collect::<Vec<_>>())
        })?;
        self.each_case_of(&animals, zone, each)
    }

    /// The cases of these animals, one by one, in the order asked for; those that are not there are passed over.
    pub fn each_case_of(
        &self,
        animals: &[RecordId],
        zone: &Zone,
        each: &mut dyn FnMut(RecordId, Case) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        let mut zones = Zones::default();
        let house = self.read(|db| House::of(db, &mut zones))?;
        for animal in animals {
            let found = self.read(|db| case(db, *animal, zone, &house, &mut zones))?;
            if let Some(found) = found {
                each(*animal, found)?;
            }
        }
        Ok(())
    }
}
