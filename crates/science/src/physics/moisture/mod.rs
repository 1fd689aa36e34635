//! Water in the air of an enclosure: where it comes from, where it goes, how long it stays.
//!
//! Start with [`Balance`]. The evaporation laws in [`evaporation`] disagree by a factor of two among themselves; the
//! default is Shah's.

mod balance;
pub mod evaporation;

pub use balance::{AirExchange, Balance, Source, decay_of_misting, exchange_from_decay};
