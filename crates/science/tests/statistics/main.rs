//! Statistics against certified values and the values of reference libraries.
//!
//! The tables in `tests/tables/statistics` say in their first line what they were computed with.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "all of this is tests: their helpers stand outside of #[test] functions"
)]

mod change;
mod growth;
mod intervals;
mod least_squares;
mod nist;
mod rates;
mod series;
mod summary;
mod table;
mod trend;
