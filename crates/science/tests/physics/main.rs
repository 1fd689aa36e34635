//! Heat and moisture against published examples and the values of reference libraries.
//!
//! The tables in `tests/tables` say in their first line what they were computed with.

mod air;

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
