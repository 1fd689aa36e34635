//! The tables of the kinds of records, and the SQL that all of them share.
//!
//! The columns stand here in the order in which a record is hashed: a new column is added at the end, so that the
//! hashes of records written before stay true.

use records::{Fact, Kind, RecordId};
use rusqlite::{Connection, Params};

use crate::cell::{Cell, Column, Sort};
use crate::error::StoreError;
use crate::reading::{Cells, Zones};

/// The table of one kind of record.
#[derive(Debug, PartialEq)]
pub(crate) struct Table {
    pub kind: Kind,
    /// Its name in SQL.
    pub name: &'static str,
    pub columns: &'static [Column],
    /// Adds the fields of a record.
    pub insert: &'static str,
    /// The fields of the record with a place in the order of writing.
    pub by_seq: &'static str,
    /// What holds now about one animal; with `?2` also what was noted of its enclosure while looking at it.
    pub of_animal: &'static str,
    /// What holds now about one enclosure since `?2`; with `?3` also what was noted while looking at an animal.
    pub of_enclosure: &'static str,
    /// What holds now for the whole household.
    pub of_household: &'static str,
    /// All that holds now.
    pub all: &'static str,
    /// How many rows there are up to a place in the order of writing, or past the end of it.
    pub count: &'static str,
}

/// How many columns stand before the fields in `of_animal`, `of_enclosure`, `of_household` and `all`.
const BEFORE_FIELDS: usize = 6;

macro_rules! tables {
    ($($name:ident $kind:ident $table:literal { $($column:literal $sort:ident),+ $(,)? })+) => {
        $(static $name: Table = Table {
            kind: Kind::$kind,
            name: $table,
            columns: &[$(Column { name: $column, sort: Sort::$sort }),+],
            insert: concat!(
                "insert into \"", $table, "\" (seq", $(", \"", $column, "\"",)+ ") values (:seq", $(", :", $column,)+ ")"
            ),
            by_seq: concat!("select seq", $(", \"", $column, "\"",)+ " from \"", $table, "\" where seq = ?1"),
            of_animal: concat!(
                "select seq, id, zone, happened_from_s, animal_id, enclosure_id", $(", \"", $column, "\"",)+ " from current_", $table,
                " where animal_id = ?1 and (?2 or enclosure_id is null) order by happened_from_s, seq"
            ),
            of_enclosure: concat!(
                "select seq, id, zone, happened_from_s, animal_id, enclosure_id", $(", \"", $column, "\"",)+ " from current_", $table,
                " where enclosure_id = ?1 and (happened_to_s is null or ?2 <= happened_to_s)",
                " and (?3 or animal_id is null) order by happened_from_s, seq"
            ),
            of_household: concat!(
                "select seq, id, zone, happened_from_s, animal_id, enclosure_id", $(", \"", $column, "\"",)+ " from current_", $table,
                " where animal_id is null and enclosure_id is null order by happened_from_s, seq"
            ),
            all: concat!(
                "select r.seq, r.id, r.zone, r.happened_from_s, r.animal_id, r.enclosure_id",
                $(", t.\"", $column, "\"",)+ " from \"", $table,
                "\" as t cross join current_record as r on r.seq = t.seq order by t.seq"
            ),
            count: concat!(
                "select count(*) from \"", $table, "\" where seq <= ?1 or (select max(seq) from record) < seq"
            ),
        };)+

        /// The table of a kind of record.
        pub(crate) fn table(kind: Kind) -> &'static Table {
            match kind { $(Kind::$kind => &$name),+ }
        }
    };
}

tables! {
    ANIMAL Animal "animal" {
        "species" Text, "family" Text, "name" Text, "hatched" Text, "age_months" Real, "sex" Text, "arrived" Text,
        "stage" Text, "wild_caught" Flag, "used_to_handling" Flag, "never_fed" Flag, "complete_since" Text,
    }
    ENCLOSURE Enclosure "enclosure" {
        "name" Text, "room" Text, "walk" Real, "length_cm" Real, "width_cm" Real, "height_cm" Real, "material" Text,
        "lid" Text, "substrate" Text, "hides" Whole, "humid_hide" Flag, "cohabitants" Whole, "locks" Flag,
        "gaps" Flag, "floor_wet" Flag, "thickness_mm" Real, "lid_covered_pct" Real, "stands_on" Text,
        "substrate_cm" Real, "bowl_cm" Real,
    }
    HOUSEHOLD Household "household" {
        "other_reptiles" Flag, "quarantine_from" Text, "contacts_sick" Flag, "young_children" Flag, "region" Text,
        "room_c" Real, "room_night_c" Real, "room_winter_c" Real, "room_summer_c" Real, "room_pct" Real,
    }
    HEATER Heater "heater" {
        "kind" Text, "watts" Real, "thermostat" Text, "set_c" Real, "guarded" Flag, "inside" Flag, "probe" Text,
        "night_set_c" Real,
    }
    STAY Stay "stay" { "at" Text, "enclosure" Text }
    ENDING Ending "ending" { "at" Text, "what" Text, "note" Text }
    WEIGHING Weighing "weighing" { "at" Text, "mass_g" Real, "estimated" Flag, "body_score" Whole }
    MEASUREMENT Measurement "measurement" {
        "at" Text, "total_length_cm" Real, "snout_vent_cm" Real, "girth_cm" Real,
    }
    MEAL Meal "meal" {
        "at" Text, "prey" Text, "mass_g" Real, "count" Whole, "outcome" Text, "regurgitated_at" Text, "state" Text,
        "surface_c" Real, "minutes_left" Real, "thawed" Text, "frozen_on" Text, "refrozen" Flag,
    }
    SHED Shed "shed" {
        "dull_at" Text, "blue_at" Text, "cleared_at" Text, "shed_at" Text, "pieces" Whole, "retained" Text,
    }
    HANDLING Handling "handling" { "at" Text, "minutes" Real }
    CLEANING Cleaning "cleaning" { "at" Text, "task" Text }
    READING Reading "reading" {
        "at" Text, "spot" Text, "temperature_c" Real, "humidity_pct" Real, "period" Text, "means" Text, "hours" Real,
    }
    SIGN Sign "sign" { "at" Text, "sign" Text, "grade" Text, "cleared_at" Text, "note" Text }
    BREEDING Breeding "breeding" { "at" Text, "what" Text, "count" Whole }
    POWER Power "power" { "from" Text, "until" Text }
    TREATMENT Treatment "treatment" {
        "name" Text, "prescribed_by" Text, "from" Text, "every_hours" Real, "doses" Whole, "given" Text,
    }
    DOSE Dose "dose" { "at" Text, "treatment" Text }
    PLANNED Planned "planned" { "from" Text, "until" Text, "sitter" Flag, "what" Text }
    SEEN Seen "seen" { "at" Text }
    NOTE Note "note" { "at" Text, "text" Text }
    FREEZER_LOT FreezerLot "freezer_lot" { "class" Text, "count" Whole, "mass_g" Real, "bought" Text }
    OVERRIDE Override "override" { "path" Text, "low" Real, "high" Real, "reason" Text }
    FITTED Fitted "fitted" {
        "at" Text, "from" Text, "warm_to_room_w_k" Real, "warm_to_room_w_k_sd_pct" Real,
        "cool_to_room_w_k" Real, "cool_to_room_w_k_sd_pct" Real, "warm_to_cool_w_k" Real,
        "warm_to_cool_w_k_sd_pct" Real, "warm_kj_k" Real, "warm_kj_k_sd_pct" Real, "cool_kj_k" Real,
        "cool_kj_k_sd_pct" Real, "heater_share" Real, "heater_share_sd_pct" Real, "watts" Real, "rms_k" Real,
        "log_rows" Whole,
    }
}

/// What stands in a column when the record does not mention it, so that a reader of the table need not know.
pub(crate) fn unsaid(kind: Kind, column: &str) -> Option<Cell> {
    match (kind, column) {
        (Kind::Meal, "count") => Some(Cell::Whole(1)),
        (Kind::Meal, "refrozen") | (Kind::Weighing, "estimated") => Some(Cell::Flag(false)),
        (Kind::Reading, "means") => Some(Cell::Text("spot-check".to_owned())),
        _ => None,
    }
}

/// A record as one of the shared queries gives it.
#[derive(Clone, Debug)]
pub(crate) struct Found {
    pub seq: i64,
    pub id: RecordId,
    /// When it happened, at the earliest, in seconds.
    pub from_s: Option<i64>,
    pub animal: Option<RecordId>,
    pub enclosure: Option<RecordId>,
    pub fact: Fact,
}

/// Runs one of the shared queries of a table.
pub(crate) fn lines(
    db: &Connection,
    table: &'static Table,
    sql: &str,
    params: impl Params,
    zones: &mut Zones,
) -> Result<Vec<Found>, StoreError> {
    let mut query = db.prepare_cached(sql)?;
    let mut rows = query.query(params)?;
    let mut out = Vec::new();
    while let Some(row) = rows.next()? {
        let id: String = row.get(1)?;
        let zone: Option<String> = row.get(2)?;
        let unreadable = |what: &str| StoreError::Unreadable { id: id.clone(), what: what.to_owned() };
        let name = |text: Option<String>| text.as_deref().and_then(RecordId::read);
        let zone = zones.get(zone.as_deref()).ok_or_else(|| unreadable("its time zone is unknown"))?;
        let cells = Cells { table, cells: Cells::from_row(table, row, BEFORE_FIELDS)?, id: &id };
        out.push(Found {
            seq: row.get(0)?,
            id: RecordId::read(&id).ok_or_else(|| unreadable("its id is no UUID"))?,
            from_s: row.get(3)?,
            animal: name(row.get(4)?),
            enclosure: name(row.get(5)?),
            fact: cells.fact(&zone)?,
        });
    }
    Ok(out)
}
