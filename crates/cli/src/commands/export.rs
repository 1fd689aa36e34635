//! `warmside export FOLDER`: a table for each kind of record, and one file with everything.

use std::collections::HashMap;
use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;

use records::choice::Choice;
use records::{Fault, Kind, RecordId};
use render::export::{Row, Table};
use render::pages::form;
use store::{StoreError, Stored};
use web::desk::Desk;

use crate::arguments::Export;
use crate::exit::{Done, Ended};
use crate::home::Home;
use crate::kinds;
use crate::out::Out;

/// The file with everything.
pub const EVERYTHING: &str = "everything.json";
/// How that file begins; the version of its layout stands in it.
pub const BEGINS: &str = "{\"warmside_export\":1,";

/// Writes everything out.
pub fn run(asked: &Export, home: &Home, out: &mut Out) -> Done {
    let desk = home.reading()?;
    let to = &asked.to;
    let io = |error: std::io::Error| io_fault(&error, to);
    if to.exists() && to.read_dir().map_err(io)?.next().is_some() {
        return Err(Fault::new(
            "the folder is not empty",
            to.display().to_string(),
            "name a new folder, so that nothing is overwritten",
        )
        .into());
    }
    std::fs::create_dir_all(to).map_err(io)?;
    let records = everything(&desk, &to.join(EVERYTHING))?;
    let rows = tables(&desk, to)?;
    out.line(format!("{records} entries written to {}.", to.join(EVERYTHING).display()));
    out.line(format!("{rows} records as they stand written to tables beside it."));
    Ok(())
}

fn io_fault(error: &std::io::Error, place: &Path) -> Ended {
    Ended::Failed(Fault::new(
        format!("it cannot be written: {error}"),
        place.display().to_string(),
        "check that the disk is there and may be written",
    ))
}

/// Every entry in the order of writing, one to a line, so that it can be restored without holding all of it at once.
fn everything(desk: &Desk, path: &Path) -> Result<u64, Ended> {
    let mut to = BufWriter::new(File::create(path).map_err(|error| io_fault(&error, path))?);
    let settings: serde_json::Map<String, serde_json::Value> =
        desk.store().settings()?.into_iter().map(|(key, value)| (key, value.into())).collect();
    let mut count = 0u64;
    let io = |cause| StoreError::Io { path: path.to_owned(), cause };
    write!(to, "{BEGINS}\"settings\":{},\"records\":[", serde_json::Value::Object(settings)).map_err(io)?;
    desk.store().all_records(&mut |line| {
        let before = if count == 0 { "\n" } else { ",\n" };
        count += 1;
        write!(to, "{before}{}", line.to_json()).map_err(io)
    })?;
    write!(to, "\n]}}\n").and_then(|()| to.flush()).map_err(io)?;
    Ok(count)
}

/// The fields of a kind of record, in the order of the case file.
fn keys(kind: Kind) -> Vec<&'static str> {
    match kinds::of_kind(kind) {
        Some(entry) => {
            let is_own = |key: &&str| kind != Kind::Animal || *key != kinds::ENCLOSURE;
            entry.fields.iter().map(|field| field.key).filter(is_own).collect()
        }
        None => form::fields(kind).iter().map(|spec| spec.key).collect(),
    }
}

/// Names by id.
struct Names {
    animals: HashMap<RecordId, String>,
    enclosures: HashMap<RecordId, String>,
}

/// What stands now, a table for each kind that has any.
fn tables(desk: &Desk, folder: &Path) -> Result<u64, Ended> {
    let animals = desk.store().animals(true)?;
    let enclosures = desk.store().enclosures()?;
    let names = Names {
        animals: animals.iter().map(|row| (row.id, row.animal.name.clone().unwrap_or_default())).collect(),
        enclosures: enclosures.iter().map(|row| (row.id, row.enclosure.name.clone().unwrap_or_default())).collect(),
    };
    let mut open: HashMap<Kind, Table<BufWriter<File>>> = HashMap::new();
    let mut count = 0;
    for row in &animals {
        let history = desk.store().history(row.id)?;
        count += put(&mut open, folder, &names, history.iter())?;
    }
    for row in &enclosures {
        // What was noted while looking at an animal stands with the animal.
        let history = desk.store().history_of_enclosure(row.id)?;
        count += put(&mut open, folder, &names, history.iter().filter(|one| one.head.animal.is_none()))?;
    }
    count += put(&mut open, folder, &names, desk.store().history_of_household()?.iter())?;
    for table in open.into_values() {
        table.finish().map_err(|error| io_fault(&error, folder))?;
    }
    Ok(count)
}

fn put<'a>(
    open: &mut HashMap<Kind, Table<BufWriter<File>>>,
    folder: &Path,
    names: &Names,
    history: impl DoubleEndedIterator<Item = &'a Stored>,
) -> Result<u64, Ended> {
    let mut count = 0;
    for one in history.rev().filter(|one| one.head.is_current()) {
        let kind = one.head.kind;
        let path = folder.join(format!("{}.csv", kind.key()));
        let io = |error: std::io::Error| io_fault(&error, &path);
        let table = match open.entry(kind) {
            std::collections::hash_map::Entry::Occupied(there) => there.into_mut(),
            std::collections::hash_map::Entry::Vacant(free) => {
                let file = BufWriter::new(File::create(&path).map_err(io)?);
                free.insert(Table::new(file, &keys(kind)).map_err(io)?)
            }
        };
        let named = |id: Option<RecordId>, names: &HashMap<RecordId, String>| {
            id.map(|id| (id.to_string(), names.get(&id).cloned().unwrap_or_default()))
        };
        let row = Row {
            record: one.head.id.to_string(),
            animal: named(one.head.animal, &names.animals),
            enclosure: named(one.head.enclosure, &names.enclosures),
            zone: &one.head.zone,
            written_down: one.head.recorded_at,
            by: &one.head.by,
            fact: &one.fact,
        };
        table.row(&row).map_err(io)?;
        count += 1;
    }
    Ok(count)
}
