//! One file for each command.

mod assess;

use crate::arguments::{Arguments, Command};
use crate::exit::Done;
use crate::out::Out;

/// Runs a command.
pub fn run(arguments: Arguments, out: &mut Out) -> Done {
    match arguments.command {
        Command::Assess(asked) => assess::run(&asked, out),
    }
}
