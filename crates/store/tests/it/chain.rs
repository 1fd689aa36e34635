//! Append-only tables and the chain: what is refused, and what is found when someone gets around that.

use records::facts::Outcome;
use rusqlite::Connection;
use store::{NewRecord, RECORDS_FILE, Store};
use tempfile::TempDir;

use crate::support::*;

/// A folder with an animal and four records, one of them corrected and one removed; the file is closed.
fn folder() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path(), store::Access::Write).unwrap();
    fill(&store);
    folder
}

/// Records: 1 animal, 2 weighing, 3 meal, 4 correction of 2, 5 removal of 3.
pub fn fill(store: &Store) {
    let me = id(1);
    store.append(&[NewRecord::new(me, records::Fact::Animal(animal("Fern")))], &stamp()).unwrap();
    let new = [
        NewRecord::new(id(2), weighing("2026-02-01", 50.0)).about(me),
        NewRecord::new(id(3), meal("2026-02-02", Outcome::Taken)).about(me),
    ];
    store.append(&new, &stamp()).unwrap();
    let mended = NewRecord::new(id(4), weighing("2026-02-01", 51.0)).instead_of(id(2), "read wrongly");
    store.append(&[mended], &stamp()).unwrap();
    store.remove(&[id(3)], "another animal's", &stamp()).unwrap();
}

fn open_raw(folder: &TempDir) -> Connection {
    Connection::open(folder.path().join(RECORDS_FILE)).unwrap()
}

/// Every table that holds records.
fn tables(db: &Connection) -> Vec<String> {
    let mut query = db
        .prepare("select name from sqlite_schema where type = 'table' and name not in ('record_kind', 'last', 'reckoned', 'setting')")
        .unwrap();
    query.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect()
}

#[test]
fn no_table_of_records_can_be_changed_or_emptied() {
    // The small database of the newest schema holds a record of every kind.
    let folder = tempfile::tempdir().unwrap();
    std::fs::copy(crate::files::fixture(store::SCHEMA), folder.path().join(RECORDS_FILE)).unwrap();
    let db = open_raw(&folder);
    let tables = tables(&db);
    assert_eq!(tables.len(), 26, "{tables:?}");
    for table in tables {
        let rows: i64 = db.query_row(&format!("select count(*) from \"{table}\""), [], |row| row.get(0)).unwrap();
        assert!(0 < rows, "{table}");
        let refused =
            |sql: &str| db.execute(&sql.replace("TABLE", &format!("\"{table}\"")), []).unwrap_err().to_string();
        assert_eq!(refused("update TABLE set seq = seq"), "records are never changed: write a correction", "{table}");
        assert_eq!(refused("delete from TABLE"), "records are never deleted: write a removal", "{table}");
        let once = refused("insert or replace into TABLE select * from TABLE");
        assert!(once.contains("end of the chain") || once.contains("written once"), "{table}: {once}");
    }
}

#[test]
fn a_record_is_written_at_the_end_of_the_chain_or_not_at_all() {
    let folder = folder();
    let db = open_raw(&folder);
    let copy = "insert into record select {seq}, 'f' || substr(id, 2), kind, animal_id, enclosure_id, happened,
        happened_from_s, happened_to_s, precision, zone, recorded_at_s, recorded_by, null, {seq}, why, {seq},
        fingerprint, {forerunner}, hash from record where seq = 2";
    for (seq, forerunner) in [("7", "hash"), ("6", "hash"), ("2", "forerunner_hash")] {
        let sql = copy.replace("{seq}", seq).replace("{forerunner}", forerunner);
        let refused = db.execute(&sql, []).unwrap_err().to_string();
        assert_eq!(refused, "a record is only ever added at the end of the chain", "{seq}");
    }
    let fields = db.execute("insert into weighing (seq, at, mass_g, estimated) values (3, '2026', 1, 0)", []);
    assert_eq!(fields.unwrap_err().to_string(), "the fields of a record are written once, with its head");
}

#[test]
fn an_untouched_chain_is_sound() {
    let folder = folder();
    let store = Store::open(folder.path(), store::Access::Read).unwrap();
    let found = store.verify().unwrap();
    assert!(found.is_sound());
    assert_eq!((found.records, found.removals), (4, 1));
    assert_eq!(found.end.to_string().len(), 64);
    assert_ne!(found.end, store::Hash::NONE);
    assert!(Store::in_memory().unwrap().verify().unwrap().is_sound());
}

#[test]
fn the_first_record_that_was_tampered_with_is_named() {
    let tampering: [(&str, &str, u64, &str); 8] = [
        ("weighing", "update weighing set mass_g = 49 where seq = 2", 2, "it is not as it was written"),
        ("meal", "update meal set outcome = 'refused'", 3, "it is not as it was written"),
        ("record", "update record set recorded_by = 'x' where seq = 4", 4, "it is not as it was written"),
        ("record", "update record set hash = zeroblob(32) where seq = 3", 3, "it is not as it was written"),
        (
            "record",
            "update record set forerunner_hash = zeroblob(32) where seq = 4",
            4,
            "it does not fit its forerunner",
        ),
        ("meal", "delete from meal", 3, "its fields are missing"),
        ("removal", "update removal set puts_back = 1", 5, "it is not as it was written"),
        ("removal", "delete from removal; delete from record where seq in (3, 5)", 4, "record 3 is missing before it"),
    ];
    for (table, sql, seq, what) in tampering {
        let folder = folder();
        let db = open_raw(&folder);
        let triggers = format!(
            "pragma foreign_keys = off; drop trigger {table}_stays; drop trigger {table}_remains;
            drop trigger if exists record_remains;"
        );
        db.execute_batch(&triggers).unwrap();
        db.execute_batch(sql).unwrap();
        drop(db);
        let found = Store::open(folder.path(), store::Access::Read).unwrap().verify().unwrap();
        let broken = found.broken.clone().unwrap();
        assert_eq!((broken.seq, broken.what.as_str()), (seq, what), "{sql}");
        assert!(!found.is_sound());
        let whole = if what.ends_with("is missing before it") { seq - 2 } else { seq - 1 };
        assert_eq!(found.records + found.removals, whole, "{sql}");
    }
}

#[test]
fn fields_without_a_record_are_found() {
    let folder = folder();
    let db = open_raw(&folder);
    db.execute_batch("drop trigger seen_is_next; insert into seen (seq, at) values (1, '2026-01-01')").unwrap();
    drop(db);
    let found = Store::open(folder.path(), store::Access::Read).unwrap().verify().unwrap();
    assert_eq!(found.damage, ["the table seen holds 1 rows for 0 records"]);
}

#[test]
fn anyone_can_check_a_line_with_a_tool_of_their_own() {
    let store = Store::in_memory().unwrap();
    fill(&store);
    let mut lines = Vec::new();
    store
        .all_records(&mut |line| {
            lines.push(line.to_json());
            Ok(())
        })
        .unwrap();
    let mut forerunner = store::Hash::NONE;
    for line in &lines {
        let (hashed, hash) = line.split_once(",\"hash\":\"").unwrap();
        assert!(line.contains(&format!("\"forerunner\":\"{forerunner}\"")));
        forerunner = store::Hash::of(&format!("{hashed}}}"));
        assert_eq!(hash, format!("{forerunner}\"}}"));
    }
    insta::assert_snapshot!(lines.join("\n"));
}
