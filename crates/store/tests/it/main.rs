//! The store as its callers see it, against real SQLite.

#![expect(clippy::unwrap_used, reason = "in a test a surprise is a failure")]

mod case;
mod chain;
mod export;
mod facts;
mod files;
mod kinds;
mod places;
mod reckoned;
mod refusals;
mod scale;
mod story;
mod support;
mod walks;
