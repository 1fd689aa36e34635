//! The rules of the house, held by tests: who may use whom, who may ask the clock, that every threshold has a source,
//! and what never stands in a file.

#![allow(clippy::expect_used, clippy::panic, reason = "what helps a test fails as loudly as the test")]

mod clock;
mod layers;
mod sources;
mod tree;
mod words;
