//! What a species needs, as data with sources.
//!
//! The data are TOML files in `data/`: one profile to a species (`python_regius.toml`), four general profiles that
//! serve for a family (`general_python.toml` ...), the general rules (`general.toml`), the lines that the assessment
//! draws (`general_assessment.toml`, `general_climate.toml` ...), facts of the trade (`trade.toml`), what signs seen on
//! an animal mean (`signs.toml`), prey classes, disinfectants, zones of ultraviolet light, cautions, names that must be
//! asked about,
//! and all sources (`sources.toml`). Every value has its unit in its key, a source and a status; where sources
//! disagree both values are kept and the first is the default. What was corrected is in `data/CORRECTIONS.md`.
//!
//! This crate must never know: individual animals, SQL, HTML, the clock. It reads nothing at run time.
//!
//! Start at [`library`], then [`Library::find`] and [`Profile`]. A household's own values come in by
//! [`Profile::with_overrides`]. Reading and its faults are in `read.rs`.

mod data;
mod entries;
mod fault;
mod figure;
mod find;
mod inherit;
mod library;
mod overrides;
mod places;
mod profile;
mod read;
mod rule;
mod sources_page;
mod unit;

pub use entries::{Ask, Caution, ContactTime, Disinfectant, Genus, Grade, PreyClass, Sign, Source, UvZone};
pub use fault::DataFault;
pub use figure::{Alternative, ByStage, Figure, Figures, Provenance, Status};
pub use find::Found;
pub use library::{Library, library};
pub use overrides::{HOUSEHOLD, Override};
pub use profile::{
    Brumation, Climate, EnclosureAlternative, EnclosureNeeds, Fasting, FastingSeason, Feeding, FeedingAlternative,
    FeedingFrom, Habit, Humidity, Law, Life, PreyLimit, Profile, Ration, RefusalAlert, Shed, Size, Temperature,
    WaterNeeds, Who,
};
pub use rule::{Rule, RuleGroup};
pub use sources_page::sources_page;
pub use unit::unit_of;
