//! The program: commands, settings, and the only place that joins everything.
//!
//! Start with [`arguments`]: one variant for each command; each has its file in [`commands`]. What can be written down
//! is one table, [`kinds`].

mod amount;
mod arguments;
mod clock;
mod commands;
mod demo;
mod exit;
mod home;
mod kinds;
mod out;
mod questions;

use clap::Parser;

fn main() -> std::process::ExitCode {
    let arguments = arguments::Arguments::parse();
    let mut out = out::Out::new();
    let ended = commands::run(arguments, &mut out);
    exit::code(ended, &mut out)
}
