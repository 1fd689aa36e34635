//! Where the records lie, who writes and in which zone: what every command needs before it can do anything.

use std::ffi::OsString;
use std::path::PathBuf;

use records::{Fact, Fault, RecordId};
use store::{NewRecord, RECORDS_FILE};
use units::{Moment, Zone};
use web::desk::{Access, Desk, ZONE};

use crate::amount;
use crate::arguments::Everywhere;
use crate::exit::Ended;

/// What was said for every command.
#[derive(Clone, Debug)]
pub struct Home {
    folder: Option<PathBuf>,
    by: Option<String>,
    zone: Option<String>,
}

impl Home {
    /// From the options and, where they are silent, the machine.
    pub fn new(said: &Everywhere) -> Home {
        Home { folder: said.folder.clone(), by: said.by.clone(), zone: said.zone.clone() }
    }

    /// The folder of the records.
    pub fn folder(&self) -> Result<PathBuf, Ended> {
        let found = self.folder.clone().or_else(|| data_folder(&|name| std::env::var_os(name)));
        found.ok_or_else(|| {
            Fault::new("there is no folder for the records", "this machine", "name one with --folder").into()
        })
    }

    /// Was a folder named?
    pub fn folder_is_named(&self) -> bool {
        self.folder.is_some()
    }

    /// Who writes.
    pub fn by(&self) -> String {
        let user = || ["USER", "USERNAME"].into_iter().find_map(|name| std::env::var(name).ok());
        self.by.clone().or_else(user).filter(|name| !name.trim().is_empty()).unwrap_or_else(|| "keeper".to_owned())
    }

    /// The zone that was named.
    pub fn zone(&self) -> Result<Option<Zone>, Ended> {
        let Some(name) = &self.zone else { return Ok(None) };
        match Zone::named(name) {
            Some(zone) => Ok(Some(zone)),
            None => {
                Err(Fault::new(format!("there is no time zone `{name}`"), "--zone", "name one such as Europe/Lisbon")
                    .into())
            }
        }
    }

    /// The records, to be read.
    pub fn reading(&self) -> Result<Desk, Ended> {
        Ok(Desk::open(&self.folder()?, Access::Read, self.zone()?)?)
    }

    /// The records, to be written to; they must be there.
    pub fn writing(&self) -> Result<Desk, Ended> {
        let folder = self.folder()?;
        if !folder.join(RECORDS_FILE).exists() {
            // The store says it best.
            return self.reading();
        }
        Ok(Desk::open(&folder, Access::Write, self.zone()?)?)
    }

    /// The records, to be written to; they are made where there are none. The zone in which a household begins is
    /// kept, so that its days stay the same days wherever it is read.
    pub fn beginning(&self) -> Result<Desk, Ended> {
        let is_new = !self.folder()?.join(RECORDS_FILE).exists();
        let desk = self.empty()?;
        if is_new {
            desk.store().set_setting(ZONE, desk.zone().name())?;
        }
        Ok(desk)
    }

    /// The same, with no setting made.
    pub fn empty(&self) -> Result<Desk, Ended> {
        Ok(Desk::open(&self.folder()?, Access::Write, self.zone()?)?)
    }

    /// The records, to be written to; where there are none, records in memory: what turns out to be faulty or a mere
    /// trial leaves no folder behind. [`Home::settled`] makes them.
    pub fn beginning_or_trial(&self) -> Result<Desk, Ended> {
        if self.folder()?.join(RECORDS_FILE).exists() { self.beginning() } else { Ok(Desk::in_memory(self.zone()?)?) }
    }

    /// The same records on disk.
    pub fn settled(&self, desk: Desk) -> Result<Desk, Ended> {
        if desk.store().folder().is_some() { Ok(desk) } else { self.beginning() }
    }

    /// The moment that `--at` names, else now.
    pub fn at(desk: &Desk, text: Option<&str>) -> Result<Moment, Ended> {
        let Some(text) = text else { return Ok(desk.now()) };
        Ok(crate::clock::named(&amount::date(text, desk.zone(), desk.now()), desk.zone())?)
    }
}

/// Where this machine keeps data of programs; `env` gives its settings.
fn data_folder(env: &dyn Fn(&str) -> Option<OsString>) -> Option<PathBuf> {
    let set = |name: &str| env(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    if let Some(data) = set("XDG_DATA_HOME") {
        return Some(data.join("warmside"));
    }
    if cfg!(windows) {
        return set("APPDATA").map(|data| data.join("Warmside"));
    }
    let home = set("HOME")?;
    Some(if cfg!(target_os = "macos") {
        home.join("Library").join("Application Support").join("Warmside")
    } else {
        home.join(".local").join("share").join("warmside")
    })
}

/// Whom a record is about.
#[derive(Clone, Debug, PartialEq)]
pub enum About {
    /// An animal.
    Animal(RecordId, String),
    /// An enclosure.
    Enclosure(RecordId, String),
    /// Everyone.
    Everyone,
}

impl About {
    /// The animal or the enclosure that someone names; an animal comes first where both are called so.
    pub fn found(desk: &Desk, name: &str) -> Result<About, Ended> {
        use web::desk::DeskError;
        match desk.find_animal(name) {
            Ok(row) => {
                let shown = row.animal.name.unwrap_or_else(|| row.id.to_string());
                Ok(About::Animal(row.id, shown))
            }
            Err(DeskError::NotFound(fault)) => match desk.find_enclosure(name) {
                Ok(row) => {
                    let shown = row.enclosure.name.unwrap_or_else(|| row.id.to_string());
                    Ok(About::Enclosure(row.id, shown))
                }
                Err(DeskError::NotFound(_)) => {
                    let what = format!("there is no animal and no enclosure `{name}`");
                    Err(Ended::NotFound(Fault::new(what, fault.place, fault.mend)))
                }
                Err(other) => Err(other.into()),
            },
            Err(other) => Err(other.into()),
        }
    }

    /// The animal that someone names.
    pub fn animal(desk: &Desk, name: &str) -> Result<About, Ended> {
        let row = desk.find_animal(name)?;
        let shown = row.animal.name.unwrap_or_else(|| row.id.to_string());
        Ok(About::Animal(row.id, shown))
    }

    /// A new record about it.
    pub fn record(&self, desk: &Desk, fact: Fact) -> NewRecord {
        let new = desk.new_record(fact);
        match self {
            About::Animal(id, _) => new.about(*id),
            About::Enclosure(id, _) => new.at(*id),
            About::Everyone => new,
        }
    }

    /// What it is called.
    pub fn name(&self) -> &str {
        match self {
            About::Animal(_, name) | About::Enclosure(_, name) => name,
            About::Everyone => "everyone",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_records_lie_where_the_machine_keeps_data() {
        let with = |set: &'static [(&'static str, &'static str)]| {
            data_folder(&move |name| set.iter().find(|(key, _)| *key == name).map(|(_, value)| OsString::from(value)))
        };
        assert_eq!(with(&[("XDG_DATA_HOME", "/data"), ("HOME", "/home/x")]), Some(PathBuf::from("/data/warmside")));
        assert_eq!(with(&[("XDG_DATA_HOME", "")]), None);
        if cfg!(target_os = "linux") {
            assert_eq!(with(&[("HOME", "/home/x")]), Some(PathBuf::from("/home/x/.local/share/warmside")));
        }
    }
}
