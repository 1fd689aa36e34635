//! The page in a browser: the built program, a folder of its own, Chromium.
//!
//! Without Chromium the tests are left out and say so; under CI they fail.

#![expect(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "in a test a surprise is a failure")]
#![expect(clippy::print_stderr, reason = "a test that is left out says so")]

mod access;
mod evening;
mod stand;
mod vendor;
