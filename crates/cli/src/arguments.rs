//! The commands and their options.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

use crate::{kinds, questions};

/// Knows what your snakes need now, what must wait, and why.
///
/// Begin with `warmside demo`, or with `warmside add animal NAME --species "corn snake"`, then `warmside rounds`.
#[derive(Debug, Parser)]
#[command(name = "warmside", version, about, disable_help_subcommand = true, max_term_width = 100)]
pub struct Arguments {
    #[command(flatten)]
    pub everywhere: Everywhere,
    #[command(subcommand)]
    pub command: Command,
}

/// What can be said with every command.
#[derive(Clone, Debug, Args)]
pub struct Everywhere {
    /// The folder of the records [default: this machine's folder for data]
    #[arg(
        long,
        global = true,
        value_name = "FOLDER",
        env = "WARMSIDE_FOLDER",
        hide_env_values = true,
        help_heading = "Everywhere"
    )]
    pub folder: Option<PathBuf>,
    /// Who writes this down [default: the name of the user]
    #[arg(
        long,
        global = true,
        value_name = "NAME",
        env = "WARMSIDE_BY",
        hide_env_values = true,
        help_heading = "Everywhere"
    )]
    pub by: Option<String>,
    /// The time zone of dates, such as Europe/Lisbon [default: the household's, else this machine's]
    #[arg(
        long,
        global = true,
        value_name = "ZONE",
        env = "WARMSIDE_ZONE",
        hide_env_values = true,
        help_heading = "Everywhere"
    )]
    pub zone: Option<String>,
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Makes up a household in a new folder and shows it
    Demo(Demo),
    /// Serves the page of the household on this machine
    Serve(Serve),
    /// Today's walk past every enclosure: what is due, what must wait, what was found
    Rounds(Rounds),
    /// Answers about one animal from a file that holds what is known of it
    Assess(Assess),
    /// Adds an animal, an enclosure, a heater, or what holds for the household
    #[command(subcommand)]
    Add(kinds::Added),
    /// Writes down what was seen or done
    #[command(subcommand)]
    Log(kinds::Logged),
    /// Shows an animal or an enclosure: what stands now and why, and its records
    Show(Show),
    /// When an animal is likely to shed next, how regular it is, and how damp it was before bad sheds
    Sheds(Studied),
    /// Whether its refusals are unusual, how likely the next offer is taken, what a fast costs, and six checks
    Refusals(Studied),
    /// What holds an animal's mass, what makes it grow or fat, what it was fed, and what the schools say
    Ration(Studied),
    /// How an animal stands against its own best, its length, the eye, and others of its age
    Condition(Studied),
    /// Takes back what was entered last, or one record
    Undo(Undo),
    /// Puts back what `undo` took
    Redo,
    /// Puts right a record; what stood before stays in the history
    Correct(Correct),
    /// Lists the species, or shows what one needs, with the source of every value
    Species(Species),
    /// Sets a value of the profile for one animal, with a reason
    Override(Override),
    /// Reads a table of records: shows what it understood, asks what is open, keeps all or nothing
    Import(Box<Import>),
    /// Reads a log of temperatures: how much heat an enclosure loses and holds, so that later answers rest on it
    Calibrate(Calibrate),
    /// Writes everything out: a table for each kind of record, and one file with everything
    Export(Export),
    /// Brings back everything from an exported file, into an empty folder
    Restore(Restore),
    /// Checks that every record is as it was written
    Verify,
    /// Copies the records to a file and proves the copy
    Backup(Backup),
    #[command(flatten)]
    Question(questions::Asked),
}

#[derive(Debug, Args)]
pub struct Demo {
    /// The moment around which the household is made up [default: now]
    #[arg(long, value_name = "MOMENT")]
    pub at: Option<String>,
    /// Make the household and do not serve it
    #[arg(long)]
    pub no_serve: bool,
    /// The port of the page [default: 7878, or the next that is free]
    #[arg(long)]
    pub port: Option<u16>,
}

#[derive(Debug, Args)]
pub struct Serve {
    /// The port [default: 7878, or the next that is free]
    #[arg(long)]
    pub port: Option<u16>,
}

#[derive(Debug, Args)]
pub struct Rounds {
    /// The moment asked about, such as 2026-03-14T19:30 or yesterday [default: now]
    #[arg(long, value_name = "MOMENT")]
    pub at: Option<String>,
    /// Only this room
    #[arg(long)]
    pub room: Option<String>,
    /// Give the reasons too
    #[arg(long)]
    pub why: bool,
    /// Print the walk as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct Assess {
    /// The case file (TOML); `-` reads standard input
    pub file: PathBuf,
    /// The moment asked about, such as 2026-03-14T19:30 [default: the file's, else now]
    #[arg(long, value_name = "MOMENT")]
    pub at: Option<String>,
    /// Give the reasons and the sources too
    #[arg(long)]
    pub why: bool,
    /// Print the whole answer as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct Show {
    /// The animal or the enclosure, by name or id; without one, all are listed
    pub name: Option<String>,
    /// The moment asked about [default: now]
    #[arg(long, value_name = "MOMENT")]
    pub at: Option<String>,
    /// Give the reasons and the sources too
    #[arg(long)]
    pub why: bool,
    /// Show all records, also what was corrected or taken back
    #[arg(long)]
    pub all: bool,
    /// Print it as JSON
    #[arg(long)]
    pub json: bool,
}

/// What is looked into, and of whom.
#[derive(Debug, Args)]
pub struct Studied {
    /// The animal, by name or id
    #[arg(required_unless_present = "case")]
    pub animal: Option<String>,
    /// A case file (TOML) in place of an animal on record; `-` reads standard input
    #[arg(long, value_name = "FILE", conflicts_with = "animal")]
    pub case: Option<PathBuf>,
    /// The moment asked about, such as 2026-03-14T19:30 [default: now]
    #[arg(long, value_name = "MOMENT")]
    pub at: Option<String>,
    /// Give the reasons and the sources too
    #[arg(long)]
    pub why: bool,
    /// Print it as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct Undo {
    /// One record, by its id as `show` prints it [default: what was entered last]
    pub record: Option<String>,
    /// Why it is taken back
    #[arg(long, value_name = "TEXT")]
    pub why: Option<String>,
}

#[derive(Debug, Args)]
pub struct Correct {
    /// The record, by its id as `show` prints it
    pub record: String,
    /// What is to stand: a key of the case file and its value, such as mass_g=24; an empty value takes it out
    #[arg(required = true, value_name = "KEY=VALUE")]
    pub fields: Vec<String>,
    /// Why
    #[arg(long, value_name = "TEXT", default_value = "corrected")]
    pub why: String,
    /// Yes, what looks odd is so
    #[arg(long)]
    pub yes: bool,
}

#[derive(Debug, Args)]
pub struct Species {
    /// A common or scientific name, or the key of a profile; all are listed without one
    pub name: Vec<String>,
    /// Print it as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct Override {
    /// The animal, by name or id
    pub animal: String,
    /// Which value: its path in the profile, such as temperature.night_min_c
    pub path: String,
    /// The value, or the low end of a range
    #[arg(allow_negative_numbers = true)]
    pub low: String,
    /// The high end of a range
    #[arg(allow_negative_numbers = true)]
    pub high: Option<String>,
    /// Why, for example a veterinarian's word
    #[arg(long, value_name = "TEXT")]
    pub reason: String,
}

#[derive(Debug, Args)]
pub struct Import {
    /// The table (CSV, or with semicolons or tabs)
    pub file: PathBuf,
    /// Show what would be kept, and keep nothing
    #[arg(long)]
    pub dry_run: bool,
    /// The animal, where the table has no column for it
    #[arg(long)]
    pub animal: Option<String>,
    /// The species of animals for which the table names none
    #[arg(long)]
    pub species: Option<String>,
    /// Which comes first in a date such as 03/04/2025: day-first or month-first
    #[arg(long, value_name = "WORD")]
    pub date_order: Option<String>,
    /// The sign before decimals: point or comma
    #[arg(long, value_name = "WORD")]
    pub decimal: Option<String>,
    /// The unit of masses that name none: grams, kilograms, ounces or pounds
    #[arg(long, value_name = "WORD")]
    pub mass_unit: Option<String>,
    /// The unit of lengths that name none: centimetres, metres, inches or feet
    #[arg(long, value_name = "WORD")]
    pub length_unit: Option<String>,
    /// The unit of temperatures that name none: celsius or fahrenheit
    #[arg(long, value_name = "WORD")]
    pub temperature_unit: Option<String>,
    /// What a column means, such as "Wt=weight"; can be said more than once
    #[arg(long = "column", value_name = "HEADER=MEANING")]
    pub columns: Vec<String>,
    /// The unit of a column, such as "Wt=g"; can be said more than once
    #[arg(long = "unit", value_name = "HEADER=UNIT")]
    pub units: Vec<String>,
    /// How the file is encoded, such as windows-1252
    #[arg(long, value_name = "NAME")]
    pub encoding: Option<String>,
    /// A row without an animal is about the animal of the row above: yes or no
    #[arg(long, value_name = "yes|no")]
    pub fill_down: Option<String>,
    /// What became of meals about which the table says nothing: taken, refused, left or unseen
    #[arg(long, value_name = "WORD")]
    pub outcome: Option<String>,
    /// What the mass of a meal of several items stands for: each or total
    #[arg(long, value_name = "WORD")]
    pub meal_mass: Option<String>,
    /// What a «no» under a meal's column stands for: not-offered or refused
    #[arg(long, value_name = "WORD")]
    pub no_meal: Option<String>,
    /// Yes, what looks odd is so
    #[arg(long)]
    pub yes: bool,
}

#[derive(Debug, Args)]
pub struct Calibrate {
    /// The enclosure, by name or id
    pub enclosure: String,
    /// The log (CSV, or with semicolons or tabs): columns time, warm_c, cool_c, room_c and, where the heater was logged,
    /// heater_w (watts), heater_pct (share of its power) or heater_on (1 and 0)
    pub log: PathBuf,
    /// The power of its heater, in W, where a meter says another than the label on record
    #[arg(long, value_name = "WATTS")]
    pub watts: Option<String>,
    /// Keep what the log says, so that later answers rest on it
    #[arg(long)]
    pub keep: bool,
    /// Which comes first in a date such as 03/04/2025: day-first or month-first
    #[arg(long, value_name = "WORD")]
    pub date_order: Option<String>,
    /// The sign before decimals: point or comma
    #[arg(long, value_name = "WORD")]
    pub decimal: Option<String>,
    /// The unit of temperatures that name none: celsius or fahrenheit
    #[arg(long, value_name = "WORD")]
    pub temperature_unit: Option<String>,
    /// Give the sources too
    #[arg(long)]
    pub why: bool,
    /// Print the whole answer as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct Export {
    /// The folder to write to; it is made, or must be empty
    pub to: PathBuf,
}

#[derive(Debug, Args)]
pub struct Restore {
    /// The file with everything that `export` wrote
    pub file: PathBuf,
}

#[derive(Debug, Args)]
pub struct Backup {
    /// The file to write, which must not exist [default: a dated file in the folder `backups` beside the records]
    pub to: Option<PathBuf>,
}
