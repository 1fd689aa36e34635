//! What happened: animals, enclosures and everything that a keeper or a sensor saw, as plain data.
//!
//! This crate must never know a rule, a need, a threshold, SQL, HTML or the clock. It says what can be written down,
//! reads it from text of any origin with every fault at once ([`Reader`]), and lays an animal's records out in time
//! ([`Timeline`]). Whether what is written is good or bad for the animal is for `care` to say.
//!
//! Start with [`Fact`]: one variant for each kind of record. [`case_file`] reads all that is known of one animal from
//! a TOML file, [`import`] reads a keeper's own table.

pub mod case;
pub mod case_file;
pub mod choice;
pub mod facts;
pub mod fault;
pub mod fields;
pub mod id;
pub mod import;
pub mod timeline;

pub use case::Case;
pub use facts::{Fact, Kind};
pub use fault::Fault;
pub use fields::{Fields, Raw, Reader};
pub use id::RecordId;
pub use timeline::{Entry, Key, Timeline};
