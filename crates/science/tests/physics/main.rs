//! Heat and moisture against published examples and the values of reference libraries.
//!
//! The tables in `tests/tables` say in their first line what they were computed with.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "all of this is tests: their helpers stand outside of #[test] functions"
)]

mod air;
mod calibration;

mod conduction;
mod convection;
mod enclosure;
mod evaporation;
mod infrared;
mod network;
mod prey;
mod table;
mod walls;
mod worked_examples;
