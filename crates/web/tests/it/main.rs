//! The pages by their addresses, without a socket.

#![expect(clippy::unwrap_used, clippy::panic, reason = "in a test a surprise is a failure")]

mod calibrating;
mod guarding;
mod house;
mod logging;
mod pages;
