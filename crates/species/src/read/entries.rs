//! The smaller kinds of data.

use super::{File, Table};
use crate::entries::{Ask, Caution, ContactTime, Disinfectant, Genus, Grade, PreyClass, Source, UvZone};
use crate::fault::propose;

/// Reads all tables of one name in a file.
fn all<T>(file: &File<'_>, name: &'static str, read: impl Fn(&Table<'_>) -> T) -> Vec<T> {
    let root = Table::root(file);
    let mut entries = Vec::new();
    for table in root.tables(name) {
        entries.push(read(&table));
        table.done();
    }
    root.done();
    entries
}

/// Sources: each table's name is the key.
pub(crate) fn sources(file: &File<'_>) -> Vec<Source> {
    let root = Table::root(file);
    let mut sources = Vec::new();
    for (key, at, value) in root.entries() {
        file.name_once("source", key, &at);
        let Some(table) = root.table_in(key, value) else { continue };
        sources.push(Source {
            key: key.to_owned(),
            grade: table.choice("grade", &Grade::ALL, Grade::key).unwrap_or(Grade::M),
            cite: table.need_text("cite"),
            address: table.text("address"),
            read: table.text("read"),
        });
        table.done();
    }
    sources
}

pub(crate) fn prey_classes(file: &File<'_>) -> Vec<PreyClass> {
    all(file, "prey_class", |table| PreyClass {
        key: table.need_key("key", "prey class"),
        animal: table.need_text("animal"),
        size: table.text("size"),
        mass_g: table.figure("mass_g"),
        age_d: table.figure("age_d"),
        diameter_mm: table.figure("diameter_mm"),
        length_mm: table.figure("length_mm"),
        note: table.text("note"),
    })
}

pub(crate) fn disinfectants(file: &File<'_>) -> Vec<Disinfectant> {
    all(file, "disinfectant", |table| {
        let mut contact_min = Vec::new();
        for time in table.tables("contact_min") {
            let what = time.text("what");
            contact_min.extend(time.sourced_figure("contact_min").map(|figure| ContactTime { what, figure }));
            time.done();
        }
        Disinfectant {
            key: table.need_key("key", "disinfectant"),
            name: table.need_text("name"),
            dilution: table.need_text("dilution"),
            contact_min,
            source: table.source(),
            status: table.status(),
            note: table.text("note"),
        }
    })
}

pub(crate) fn uv_zones(file: &File<'_>) -> Vec<UvZone> {
    all(file, "uv_zone", |table| UvZone {
        // A number of a zone is small and whole; the cast cannot lose anything of it.
        zone: table.need_number("zone").clamp(0.0, 9.0) as u8,
        uvi_mean: table.need_pair("uvi_mean"),
        uvi_max: table.need_pair("uvi_max"),
        who: table.need_text("who"),
        source: table.source(),
        status: table.status(),
    })
}

pub(crate) fn cautions(file: &File<'_>) -> Vec<Caution> {
    all(file, "caution", |table| {
        let also = table.spanned_texts("also");
        for (source, at) in &also {
            table.known_source(source, at);
        }
        Caution {
            key: table.need_key("key", "caution"),
            text: table.need_text("text"),
            source: table.source(),
            also: also.into_iter().map(|(source, _)| source).collect(),
            status: table.status(),
        }
    })
}

pub(crate) fn genera(file: &File<'_>) -> Vec<Genus> {
    all(file, "genus", |table| Genus {
        genus: table.need_key("genus", "genus"),
        family: table.need_text("family"),
        source: table.source(),
        status: table.status(),
    })
}

pub(crate) fn asks(file: &File<'_>) -> Vec<Ask> {
    all(file, "ask", |table| {
        let profiles = table.spanned_texts("profiles");
        let known = &file.known.profiles;
        for (profile, at) in &profiles {
            if !known.contains(profile) {
                file.fault(
                    at,
                    format!("there is no profile `{profile}`"),
                    propose(profile, known.iter().map(String::as_str)),
                );
            }
        }
        let name = table.need_text("name");
        file.name_once("name to ask about", &name, &table.at);
        Ask { name, profiles: profiles.into_iter().map(|(profile, _)| profile).collect(), why: table.need_text("why") }
    })
}
