//! The enclosure twin.

pub mod compare;
pub mod humidity;
pub mod power_cut;
pub mod runaway;
pub mod season;
pub mod warmth;
