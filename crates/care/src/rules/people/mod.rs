//! People: those at risk in the house, the authority, the veterinarian, and what the keeper is asked about the records.

mod hygiene;
mod permit;
mod suspect;
mod vet_visit;

pub use vet_visit::is_about_the_animal;

use super::Rule;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[hygiene::RULE, permit::RULE, suspect::RULE, vet_visit::RULE];
