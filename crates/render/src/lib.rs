//! Answers as text: JSON, the terminal, pages and sheets.
//!
//! Nothing is computed here that could not be had from the answer: units are chosen, numbers rounded, words put in
//! order. This crate must never know SQL, HTTP or the clock.
//!
//! Start with [`json`], the contract of the answer; [`terminal`] says the same to a tired keeper.

pub mod address;
pub mod amounts;
pub mod curve;
pub mod export;
pub mod json;
pub mod pages;
#[cfg(test)]
mod sample;
pub mod score;
pub mod section;
pub mod strip;
pub mod svg;
pub mod terminal;
pub mod wording;
