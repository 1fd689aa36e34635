//! The commands and their options.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

/// Knows what your snakes need now, what must wait, and why.
#[derive(Debug, Parser)]
#[command(name = "warmside", version, about, disable_help_subcommand = true)]
pub struct Arguments {
    #[command(subcommand)]
    pub command: Command,
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Answers about one animal from a file that holds what is known of it
    Assess(Assess),
}

#[derive(Debug, Args)]
pub struct Assess {
    /// The case file (TOML); `-` reads standard input
    pub file: PathBuf,
    /// The moment asked about, such as 2026-03-14T19:30 [default: the file's, else now]
    #[arg(long, value_name = "MOMENT")]
    pub at: Option<String>,
    /// Print the whole answer as JSON
    #[arg(long)]
    pub json: bool,
}
