//! What can go wrong at the desk, in words for the reader.

use records::{Fault, RecordId};
use store::StoreError;

/// Why something was not done. Nothing was kept.
#[derive(Debug)]
pub enum DeskError {
    /// Something in what was written is wrong.
    Faults(Vec<Fault>),
    /// Nothing of that name is there.
    NotFound(Fault),
    /// Another process is writing.
    Busy(Fault),
    /// The disk or the database did not do its part.
    Failed(Fault),
}

impl DeskError {
    /// What is wrong, with how to mend it.
    pub fn faults(&self) -> &[Fault] {
        match self {
            DeskError::Faults(faults) => faults,
            DeskError::NotFound(fault) | DeskError::Busy(fault) | DeskError::Failed(fault) => {
                std::slice::from_ref(fault)
            }
        }
    }

    /// There is no such animal.
    pub fn no_animal(name: &str) -> DeskError {
        DeskError::NotFound(Fault::new(
            format!("there is no animal `{name}`"),
            "the animal",
            "look it up in the list of animals",
        ))
    }

    /// There is no such enclosure.
    pub fn no_enclosure(name: &str) -> DeskError {
        let mend = "look it up in the list of enclosures";
        DeskError::NotFound(Fault::new(format!("there is no enclosure `{name}`"), "the enclosure", mend))
    }

    /// There is none of this name; the nearest are named.
    pub(crate) fn unknown(noun: &str, name: &str, names: &[String]) -> DeskError {
        let near = records::fault::nearest(name, names.iter().map(String::as_str), 3);
        let mend = match (near.as_slice(), names) {
            ([], []) => format!("add the {noun} first"),
            ([], [only]) => format!("the only {noun} here is {only}"),
            ([], _) => format!("look it up in the list of {noun}s"),
            (near, _) => format!("did you mean {}?", near.join(" or ")),
        };
        DeskError::NotFound(Fault::new(format!("there is no {noun} `{name}`"), format!("the {noun}"), mend))
    }

    /// A name fits more than one.
    pub(crate) fn several<'a>(
        nouns: &str,
        name: &str,
        found: impl Iterator<Item = (Option<&'a str>, RecordId)>,
    ) -> DeskError {
        let list: Vec<String> =
            found.take(6).map(|(name, id)| format!("{} ({id})", name.unwrap_or("without a name"))).collect();
        let mend = format!("give the whole name or the id: {}", list.join(", "));
        Fault::new(format!("`{name}` fits several {nouns}"), "the name", mend).into()
    }
}

impl From<Fault> for DeskError {
    fn from(fault: Fault) -> DeskError {
        DeskError::Faults(vec![fault])
    }
}

impl From<Vec<Fault>> for DeskError {
    fn from(faults: Vec<Fault>) -> DeskError {
        DeskError::Faults(faults)
    }
}

impl From<StoreError> for DeskError {
    fn from(error: StoreError) -> DeskError {
        let place = match &error {
            StoreError::Busy { folder } | StoreError::NoHousehold { folder } => folder.display().to_string(),
            StoreError::Io { path, .. } | StoreError::NotOurs { path } | StoreError::Exists { path } => {
                path.display().to_string()
            }
            _ => "the records".to_owned(),
        };
        let fault = Fault::new(error.to_string(), place, error.mend());
        match error {
            StoreError::Faults(faults) => DeskError::Faults(faults),
            StoreError::Busy { .. } | StoreError::Waited => DeskError::Busy(fault),
            StoreError::NotFound(_)
            | StoreError::Gone(_)
            | StoreError::NoHousehold { .. }
            | StoreError::NothingToUndo => DeskError::NotFound(fault),
            StoreError::InUse { .. }
            | StoreError::IdTaken(_)
            | StoreError::NotEmpty
            | StoreError::Exists { .. }
            | StoreError::NotOurs { .. }
            | StoreError::Broken { .. } => DeskError::Faults(vec![fault]),
            StoreError::ReadOnly
            | StoreError::Newer { .. }
            | StoreError::Damaged { .. }
            | StoreError::Full
            | StoreError::Unreadable { .. }
            | StoreError::Io { .. }
            | StoreError::Sql(_) => DeskError::Failed(fault),
        }
    }
}

impl std::fmt::Display for DeskError {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let texts: Vec<String> = self.faults().iter().map(ToString::to_string).collect();
        out.write_str(&texts.join("\n"))
    }
}

impl std::error::Error for DeskError {}
