//! The folder on disk: who may write, what is damaged, what is newer, what is backed up.

use std::fs;
use std::path::{Path, PathBuf};

use records::facts::{Note, Weighing};
use records::{Fact, Kind};
use rusqlite::Connection;
use store::{Access, NewRecord, RECORDS_FILE, SCHEMA, Store, StoreError};

use crate::chain::fill;
use crate::support::*;

fn note(number: u64, text: String) -> NewRecord {
    NewRecord::new(id(number), Fact::Note(Note { at: when("2026-02-01"), text })).about(id(1))
}

#[test]
fn the_bundled_database_does_not_lose_commits() {
    // 3.7.0 to 3.51.2 can damage a file in WAL mode when two connections write and checkpoint; 3.52.0 was withdrawn.
    assert!(3_051_003 <= rusqlite::version_number());
    assert_ne!(rusqlite::version_number(), 3_052_000);
}

#[test]
fn what_was_written_is_there_when_the_folder_is_opened_again() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("a/new/folder");
    let store = Store::open(&folder, Access::Write).unwrap();
    assert_eq!(store.folder(), Some(folder.as_path()));
    fill(&store);
    let before = store.history(id(1)).unwrap();
    drop(store);
    let names: Vec<_> = fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(names.len(), 2, "records.db and writer.lock, and nothing else: {names:?}");
    for access in [Access::Read, Access::Write] {
        assert_eq!(Store::open(&folder, access).unwrap().history(id(1)).unwrap(), before);
    }
}

#[test]
fn records_are_written_through_to_the_disk() {
    let home = tempfile::tempdir().unwrap();
    let _store = Store::open(home.path(), Access::Write).unwrap();
    let raw = Connection::open(home.path().join(RECORDS_FILE)).unwrap();
    let mode: String = raw.pragma_query_value(None, "journal_mode", |row| row.get(0)).unwrap();
    assert_eq!(mode, "wal");
}

#[test]
fn one_process_writes_and_reading_goes_on() {
    let home = tempfile::tempdir().unwrap();
    let writer = Store::open(home.path(), Access::Write).unwrap();
    fill(&writer);
    let second = Store::open(home.path(), Access::Write);
    assert!(matches!(second, Err(StoreError::Busy { folder }) if folder == home.path()));
    let reader = Store::open(home.path(), Access::Read).unwrap();
    assert_eq!(masses(&reader, id(1)), [51.0]);
    assert!(matches!(reader.append(&[note(20, "x".into())], &stamp()), Err(StoreError::ReadOnly)));
    assert!(!reader.is_writable() && writer.is_writable());
    writer.append(&[NewRecord::new(id(9), weighing("2026-02-20", 52.0)).about(id(1))], &stamp()).unwrap();
    assert_eq!(masses(&reader, id(1)), [51.0, 52.0], "what is committed is seen");
    drop(writer);
    Store::open(home.path(), Access::Write).unwrap();
}

#[test]
fn reading_goes_on_while_a_transaction_is_open() {
    let home = tempfile::tempdir().unwrap();
    let store = Store::open(home.path(), Access::Write).unwrap();
    fill(&store);
    let mut other = Connection::open(home.path().join(RECORDS_FILE)).unwrap();
    let open = other.transaction_with_behavior(rusqlite::TransactionBehavior::Immediate).unwrap();
    open.execute("insert into setting (key, value) values ('a', 'b')", []).unwrap();
    assert_eq!(masses(&store, id(1)), [51.0]);
    assert_eq!(store.setting("a").unwrap(), None);
    open.commit().unwrap();
    assert_eq!(store.setting("a").unwrap().as_deref(), Some("b"));
}

#[test]
fn many_threads_read_and_write_one_store() {
    let home = tempfile::tempdir().unwrap();
    let store = Store::open(home.path(), Access::Write).unwrap();
    fill(&store);
    std::thread::scope(|scope| {
        for thread in 0..4u64 {
            let store = &store;
            scope.spawn(move || {
                for number in 0..10 {
                    store.append(&[note(1_000 + thread * 100 + number, "simulated".into())], &stamp()).unwrap();
                    store.case_of(id(1), &lisbon()).unwrap().unwrap();
                }
            });
        }
    });
    assert_eq!(store.case_of(id(1), &lisbon()).unwrap().unwrap().timeline.notes.len(), 40);
    assert!(store.verify().unwrap().is_sound());
}

#[test]
fn reading_makes_nothing() {
    let home = tempfile::tempdir().unwrap();
    for folder in [home.path().to_owned(), home.path().join("missing")] {
        assert!(matches!(Store::open(&folder, Access::Read), Err(StoreError::NoHousehold { .. })));
    }
    assert_eq!(fs::read_dir(home.path()).unwrap().count(), 0);
}

/// A folder whose file is what `mend` makes of a good one.
fn damaged(mend: impl FnOnce(&Path)) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fill(&Store::open(home.path(), Access::Write).unwrap());
    mend(&home.path().join(RECORDS_FILE));
    home
}

#[test]
fn a_truncated_file_is_said_to_be_damaged_and_left_alone() {
    for keep in [0, 50, 4_096, 100_000] {
        let home = damaged(|path| {
            let bytes = fs::read(path).unwrap();
            assert!(100_000 < bytes.len());
            fs::write(path, &bytes[..keep]).unwrap();
        });
        for access in [Access::Read, Access::Write] {
            let error = Store::open(home.path(), access).unwrap_err();
            assert!(matches!(error, StoreError::Damaged { .. }), "{keep} bytes left: {error:?}");
            assert!(error.mend().contains("backup"));
        }
        assert_eq!(fs::metadata(home.path().join(RECORDS_FILE)).unwrap().len(), keep as u64);
    }
}

#[test]
fn a_page_of_rubbish_is_found() {
    let home = damaged(|path| {
        let mut bytes = fs::read(path).unwrap();
        let db = Connection::open(path).unwrap();
        let page: i64 =
            db.query_row("select rootpage from sqlite_schema where name = 'weighing'", [], |row| row.get(0)).unwrap();
        drop(db);
        bytes[(page as usize - 1) * 4_096..page as usize * 4_096].fill(0x5a);
        fs::write(path, bytes).unwrap();
    });
    let store = Store::open(home.path(), Access::Read).unwrap();
    let found = store.verify();
    let sound = matches!(&found, Ok(found) if found.is_sound());
    assert!(!sound, "{found:?}");
    assert!(matches!(store.case_of(id(1), &lisbon()), Err(StoreError::Damaged { .. })));
}

#[test]
fn a_file_of_something_else_is_not_touched() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join(RECORDS_FILE);
    Connection::open(&path).unwrap().execute_batch("create table other (a)").unwrap();
    for access in [Access::Read, Access::Write] {
        assert!(matches!(Store::open(home.path(), access), Err(StoreError::NotOurs { .. })));
    }
    fs::write(&path, "not a database at all, but long enough to be looked at".repeat(20)).unwrap();
    assert!(matches!(Store::open(home.path(), Access::Write), Err(StoreError::Damaged { .. })));
}

#[test]
fn a_file_of_a_newer_version_is_read_and_never_written() {
    let home = damaged(|path| {
        let db = Connection::open(path).unwrap();
        let newer = format!(
            "insert into record_kind (kind, says) values ('dream', 'What it dreamt of.');
            create table dream (seq integer primary key references record (seq), about text) strict;
            insert into record select seq + 1, 'f' || substr(id, 2), 'dream', '{}', null, null, null, null, null,
                null, recorded_at_s, recorded_by, null, seq + 1, null, seq + 1, null, hash, hash
            from record order by seq desc limit 1;
            insert into dream (seq, about) select max(seq), 'mice' from record;
            pragma user_version = {}",
            id(1),
            SCHEMA + 1
        );
        db.execute_batch(&newer).unwrap();
    });
    for access in [Access::Read, Access::Write] {
        let store = Store::open(home.path(), access).unwrap();
        assert_eq!(store.newer(), Some(SCHEMA + 1));
        assert_eq!(masses(&store, id(1)), [51.0]);
        assert_eq!(store.history(id(1)).unwrap().len(), 4, "what is not known cannot be shown");
        assert_eq!(store.unknown().unwrap(), [("dream".to_owned(), 1)], "and is said to be there");
        let refused = store.append(&[note(20, "x".into())], &stamp()).unwrap_err();
        let says =
            format!("the records were written by a newer version (schema {}; this version knows {SCHEMA})", SCHEMA + 1);
        assert_eq!((refused.to_string(), refused.mend()), (says, "reading goes on; update Warmside to write".into()));
        let exported = store.all_records(&mut |_| Ok(()));
        assert!(matches!(exported, Err(StoreError::Newer { .. })), "an export that leaves out records is none");
    }
}

#[test]
fn a_backup_is_a_whole_store_and_proved() {
    let home = tempfile::tempdir().unwrap();
    let store = Store::open(home.path(), Access::Write).unwrap();
    fill(&store);
    let to = home.path().join("backups/one.db");
    let proved = store.backup(&to).unwrap();
    assert_eq!(proved, store.verify().unwrap());
    assert_eq!(Store::open_file(&to).unwrap().history(id(1)).unwrap(), store.history(id(1)).unwrap());
    assert_eq!(fs::read_dir(to.parent().unwrap()).unwrap().count(), 1, "one file that stands by itself");
    assert!(matches!(store.backup(&to), Err(StoreError::Exists { path }) if path == to));
    Store::in_memory().unwrap().backup(&home.path().join("empty.db")).unwrap();
}

#[test]
fn a_backup_of_a_broken_chain_is_not_kept() {
    let home = damaged(|path| {
        let db = Connection::open(path).unwrap();
        db.execute_batch("drop trigger weighing_stays; update weighing set mass_g = 1").unwrap();
    });
    let to = home.path().join("copy.db");
    let refused = Store::open(home.path(), Access::Read).unwrap().backup(&to);
    assert!(matches!(refused, Err(StoreError::Broken { seq: 2, .. })), "{refused:?}");
    assert!(!to.exists());
    assert!(fs::read_dir(home.path()).unwrap().all(|entry| !entry.unwrap().path().ends_with("copy.db.part")));
}

/// The small database of a released schema.
pub fn fixture(schema: i64) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/fixtures/v{schema}.db"))
}

#[test]
fn an_older_schema_goes_on_along_the_same_chain() {
    for schema in 1..SCHEMA {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join(RECORDS_FILE);
        fs::copy(fixture(schema), &path).unwrap();
        let chain = |path: &Path| -> Vec<(String, Vec<u8>)> {
            let db = Connection::open(path).unwrap();
            let mut query = db.prepare("select id, hash from record order by seq").unwrap();
            query.query_map([], |row| Ok((row.get(0)?, row.get(1)?))).unwrap().map(Result::unwrap).collect()
        };
        let before = chain(&path);
        let store = Store::open(home.path(), Access::Write).unwrap();
        assert_eq!(chain(&path), before, "nothing that was written is touched");
        let found = store.verify().unwrap();
        assert!(found.is_sound(), "{found:?}");
        assert_eq!(Some(found.end.0.to_vec()), before.last().map(|(_, hash)| hash.clone()));
        let kept = home.path().join(format!("records-schema-{schema}.db"));
        assert_eq!(chain(&kept), before, "and the file as it was is kept beside it");

        let mut row = store.enclosures().unwrap().remove(0);
        let heat = (
            row.enclosure.thickness_mm,
            row.heaters[0].night_set_c,
            store.household().unwrap().unwrap().1.room_winter_c,
        );
        let known = if schema < 2 { (None, None, None) } else { (Some(4.0), Some(28.5), Some(16.5)) };
        assert_eq!(heat, known, "schema {schema}");
        let animal = store.animals(true).unwrap()[0].id;
        let scores = || -> Vec<Option<u8>> {
            let case = store.case_of(animal, &lisbon()).unwrap().unwrap();
            case.timeline.weighings.iter().map(|one| one.body_score).collect()
        };
        assert!(scores().iter().all(Option::is_none), "schema {schema} knew no score");
        let scored = Weighing { at: when("2026-02-14T12:00"), mass_g: 155.0, estimated: false, body_score: Some(6) };
        let scored = NewRecord::new(id(5_002), Fact::Weighing(scored)).about(animal);
        row.enclosure.thickness_mm = Some(4.0);
        let new = [
            NewRecord::new(id(5_000), Fact::Enclosure(row.enclosure)).instead_of(row.id, "measured"),
            NewRecord::new(id(5_001), fitted("2026-02-28T12:00", 20.0)).at(row.id),
            scored,
        ];
        store.append(&new, &stamp()).unwrap();
        let row = store.enclosures().unwrap().remove(0);
        assert_eq!(row.enclosure.thickness_mm, Some(4.0));
        assert_eq!(row.fitted.unwrap().key.id, Some(id(5_001)));
        assert_eq!(scores().last(), Some(&Some(6)));
        assert!(store.verify().unwrap().is_sound());
        let mut lines = Vec::new();
        store
            .all_records(&mut |line| {
                lines.push(line.to_json());
                Ok(())
            })
            .unwrap();
        let copy = Store::in_memory().unwrap();
        copy.restore(&mut lines.iter().map(|line| store::Line::from_json(line))).unwrap();
        assert_eq!(copy.verify().unwrap(), store.verify().unwrap(), "what was exported before can be read in later");
    }
}

#[test]
fn every_released_schema_opens_verifies_and_reads() {
    for schema in 1..=SCHEMA {
        let home = tempfile::tempdir().unwrap();
        fs::copy(fixture(schema), home.path().join(RECORDS_FILE)).unwrap();
        let store = Store::open(home.path(), Access::Write).unwrap();
        let found = store.verify().unwrap();
        assert!(found.is_sound(), "{found:?}");
        assert!(30 < found.records && 2 <= found.removals, "{found:?}");
        let mut kinds = std::collections::BTreeSet::new();
        let mut each = |line: store::Line| {
            if let store::Written::Record(stored) = line.written() {
                kinds.insert(stored.head.kind);
            }
            Ok(())
        };
        store.all_records(&mut each).unwrap();
        let all: Vec<Kind> = <Kind as records::choice::Choice>::ALL.to_vec();
        assert!(schema < SCHEMA || kinds.len() == all.len(), "the fixture holds every kind: {kinds:?}");
        let animals = store.animals(true).unwrap();
        let case = store.case_of(animals[0].id, &lisbon()).unwrap().unwrap();
        assert_eq!(case.timeline.weighings.last().map(|one| one.mass_g), Some(152.5), "as corrected");
        assert!(case.timeline.handlings.is_empty(), "as removed");
        store.append(&[NewRecord::new(id(5_000), Fact::Animal(animal("new")))], &stamp()).unwrap();
        assert!(store.verify().unwrap().is_sound());
    }
}
