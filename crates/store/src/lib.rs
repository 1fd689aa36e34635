//! The household's records on disk: all SQL of the project.
//!
//! A [`Store`] is one folder with `records.db`. Records are only ever added: a correction is a new record that points
//! to the one it replaces, a removal is a record too, and the views `current_*` show the story as it stands. Each
//! record carries its own hash and its forerunner's ([`chain`]), so that [`Store::verify`] can tell whether anything
//! was altered. What is derived (`last`, `reckoned`) can be rebuilt at any time.
//!
//! This crate must never know a rule, a need or HTML, and it never asks the clock: when something was written down
//! comes in with a [`Stamp`]. It is blocking and simple: one writer, a few readers, no reader open while a caller's
//! own code runs.
//!
//! Start with [`Store::append`] and the schema in `migrations/0001_records.sql`; then [`Store::case_of`].

mod animals;
mod append;
mod backup;
mod case;
mod cell;
pub mod chain;
pub mod demo_scale;
mod enclosures;
mod error;
mod export;
mod head;
mod history;
mod ids;
mod import;
mod last;
mod migrate;
mod names;
mod open;
mod reading;
mod reckoned;
mod remove;
mod setting;
mod tables;
mod touch;
mod undo;
mod verify;

pub use animals::{AnimalRow, Neighbour};
pub use append::{NewRecord, Stamp};
pub use case::OwnValue;
pub use chain::Hash;
pub use enclosures::EnclosureRow;
pub use error::StoreError;
pub use export::{Line, Removal, Written};
pub use head::{Head, Removed, Stored};
pub use ids::{new_id, new_id_random};
pub use last::Rebuilt;
pub use migrate::SCHEMA;
pub use open::{Access, LOCK_FILE, RECORDS_FILE, Store};
pub use reckoned::{Position, Reckoned};
pub use undo::{Act, ActWhat};
pub use verify::{Broken, Verified};
