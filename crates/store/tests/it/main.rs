//! The store as its callers see it, against real SQLite.

#![expect(clippy::unwrap_used, reason = "in a test a surprise is a failure")]

mod case;
mod facts;
mod kinds;
mod places;
mod refusals;
mod story;
mod support;
