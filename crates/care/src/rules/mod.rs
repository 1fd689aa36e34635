//! The rules, one file each: text, reason, source, code and tests.
//!
//! Every rule looks at a [`View`] and writes into a [`Draft`]. The order of [`GROUPS`] matters only where one rule
//! looks at what another wrote: what stands against a meal comes before the meal itself.

pub mod arrival;
pub mod climate;
pub mod feeding;
pub mod forecast;
pub mod handling;
pub mod health;
pub mod housing;
pub mod mass;
pub mod missing;
pub mod page;
pub mod people;
pub mod plan;
pub mod prey;
pub mod shed;

use crate::draft::Draft;
use crate::view::View;

/// A rule.
pub struct Rule {
    /// Its key, as answers name it.
    pub key: &'static str,
    /// What it says, in one sentence.
    pub says: &'static str,
    /// Why.
    pub because: &'static str,
    /// The general rules (ids in the species data) that it rests on; the profile's values name their own source.
    pub sources: &'static [&'static str],
    /// Looks and writes.
    pub check: fn(&View<'_>, &mut Draft),
}

/// Every rule, group by group, in the order in which they run.
pub const GROUPS: &[&[Rule]] = &[
    arrival::LIST,
    health::LIST,
    climate::LIST,
    shed::LIST,
    feeding::LIST,
    mass::LIST,
    handling::LIST,
    people::LIST,
    plan::LIST,
    housing::LIST,
    missing::LIST,
];

/// Every rule, in the order in which they run.
pub fn all() -> impl Iterator<Item = &'static Rule> {
    GROUPS.iter().flat_map(|group| group.iter())
}
