//! The program: commands, settings, and the only place that joins everything.
//!
//! Start with [`arguments`]: one variant for each command; each has its file in [`commands`].

mod arguments;
mod clock;
mod commands;
mod exit;
mod out;

use clap::Parser;

fn main() -> std::process::ExitCode {
    let arguments = arguments::Arguments::parse();
    let mut out = out::Out::new();
    let ended = commands::run(arguments, &mut out);
    exit::code(ended, &mut out)
}
