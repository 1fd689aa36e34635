//! The program as a keeper meets it: one process for each command, a folder of its own for each test.

#![allow(clippy::expect_used, clippy::panic, reason = "what helps a test fails as loudly as the test")]

mod bad;
mod calibrating;
mod entry;
mod home;
mod keeping;
mod made_up;
mod reading;
mod tables;
