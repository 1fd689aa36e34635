//! One file for each command.

mod add;
mod assess;
mod backup;
mod calibrate;
mod correct;
mod demo;
mod entered;
mod export;
mod import;
mod log;
mod own_value;
mod question;
mod restore;
mod rounds;
mod serve;
mod show;
mod species;
mod study;
mod undo;
mod verify;

use care::study::Study;

use crate::arguments::{Arguments, Command};
use crate::exit::Done;
use crate::home::Home;
use crate::out::Out;

/// Runs a command.
pub fn run(arguments: Arguments, out: &mut Out) -> Done {
    let home = Home::new(&arguments.everywhere);
    match arguments.command {
        Command::Demo(asked) => demo::run(&asked, &home, out),
        Command::Serve(asked) => serve::run(&asked, &home, out),
        Command::Rounds(asked) => rounds::run(&asked, &home, out),
        Command::Assess(asked) => assess::run(&asked, out),
        Command::Sheds(asked) => study::run(Study::Sheds, &asked, &home, out),
        Command::Refusals(asked) => study::run(Study::Refusals, &asked, &home, out),
        Command::Ration(asked) => study::run(Study::Ration, &asked, &home, out),
        Command::Condition(asked) => study::run(Study::Condition, &asked, &home, out),
        Command::Question(asked) => question::run(&asked, &home, out),
        Command::Add(asked) => add::run(&asked.0, &home, out),
        Command::Log(asked) => log::run(&asked.0, &home, out),
        Command::Show(asked) => show::run(&asked, &home, out),
        Command::Undo(asked) => undo::run(&asked, &home, out),
        Command::Redo => undo::again(&home, out),
        Command::Correct(asked) => correct::run(&asked, &home, out),
        Command::Species(asked) => species::run(&asked, out),
        Command::Override(asked) => own_value::run(&asked, &home, out),
        Command::Import(asked) => import::run(&asked, &home, out),
        Command::Calibrate(asked) => calibrate::run(&asked, &home, out),
        Command::Export(asked) => export::run(&asked, &home, out),
        Command::Restore(asked) => restore::run(&asked, &home, out),
        Command::Verify => verify::run(&home, out),
        Command::Backup(asked) => backup::run(&asked, &home, out),
    }
}
