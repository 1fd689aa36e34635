//! The questions that need no record, each a command made from its fields: the options are the keys with dashes.

use care::what_if::{Entry, Field, Question};
use clap::{Arg, ArgAction, ArgMatches, Command};

use render::amounts;

use crate::kinds::dashed;

/// A question as it was typed.
#[derive(Clone, Debug)]
pub struct Asked {
    /// Which.
    pub question: Question,
    /// The enclosure on record that it is about, by name or id.
    pub enclosure: Option<String>,
    /// The animal on record that it is about, by name or id.
    pub animal: Option<String>,
    /// The moment asked about.
    pub at: Option<String>,
    /// The fields, as typed.
    pub fields: Vec<(String, String)>,
    /// Print it as JSON.
    pub json: bool,
    /// Give the sources too.
    pub why: bool,
}

// Names of the arguments that are no field; no field is in capitals.
const ENCLOSURE: &str = "ENCLOSURE";
const ANIMAL: &str = "ANIMAL";
const AT: &str = "AT";
const JSON: &str = "JSON";
const WHY: &str = "WHY";

fn command_of(question: Question) -> Command {
    let flag = |name: &'static str, long: &'static str, help: &'static str| {
        Arg::new(name).long(long).help(help).action(ArgAction::SetTrue)
    };
    let mut command = Command::new(question.key())
        .about(format!("{}: {}", question.title().trim_end_matches('?'), question.about()))
        .allow_negative_numbers(true);
    if question.is_about_an_enclosure() {
        let help = "An enclosure on record, by name or id; what is recorded of it need not be typed";
        command = command.arg(Arg::new(ENCLOSURE).value_name("ENCLOSURE").help(help));
    }
    if question.is_about_an_animal() {
        command = command
            .arg(Arg::new(ANIMAL).value_name("ANIMAL").help("An animal on record, by name or id").required(true));
    }
    let at = "The moment asked about, such as 2026-03-14T19:30 [default: now]";
    command = command
        .arg(Arg::new(AT).long("at").value_name("MOMENT").help(at))
        .arg(flag(WHY, "why", "Give the sources too"))
        .arg(flag(JSON, "json", "Print the whole answer as JSON"));
    question.fields().iter().fold(command, |command, field| command.arg(option(field)))
}

/// A label with its unit, and its hint.
fn help(field: &Field) -> String {
    let unit = match field.entry {
        Entry::Number(unit) if !amounts::sign(unit).is_empty() => format!(", in {}", amounts::sign(unit)),
        _ => String::new(),
    };
    let hint = if field.hint.is_empty() { String::new() } else { format!(" ({})", field.hint) };
    let more = match field.entry {
        Entry::Choice(words) => {
            format!(" [{}]", words().into_iter().map(|(key, _)| key).collect::<Vec<_>>().join(", "))
        }
        Entry::Lines => " [may be said several times]".to_owned(),
        _ => String::new(),
    };
    format!("{}{unit}{hint}{more}", field.label)
}

fn option(field: &Field) -> Arg {
    let arg = Arg::new(field.key).long(dashed(field.key)).help(help(field)).help_heading(field.group.title());
    match field.entry {
        Entry::Flag => arg
            .value_name("true|false")
            .num_args(0..=1)
            .require_equals(true)
            .default_missing_value("true")
            .action(ArgAction::Set),
        Entry::Lines => arg.value_name("LINE").action(ArgAction::Append),
        Entry::Choice(_) => arg.value_name("WORD").action(ArgAction::Set),
        Entry::Moment => arg.value_name("MOMENT").action(ArgAction::Set),
        Entry::Clock => arg.value_name("HH:MM").action(ArgAction::Set),
        Entry::Number(_) | Entry::Count | Entry::Text => {
            arg.value_name("VALUE").allow_negative_numbers(true).action(ArgAction::Set)
        }
    }
}

fn asked(matches: &ArgMatches) -> Result<Asked, clap::Error> {
    let missing = || clap::Error::new(clap::error::ErrorKind::MissingSubcommand);
    let (word, matches) = matches.subcommand().ok_or_else(missing)?;
    let question = Question::from_key(word).ok_or_else(missing)?;
    let mut fields = Vec::new();
    for field in question.fields() {
        let values = matches.get_many::<String>(field.key).into_iter().flatten();
        fields.extend(values.map(|value| (field.key.to_owned(), value.clone())));
    }
    Ok(Asked {
        question,
        enclosure: question.is_about_an_enclosure().then(|| matches.get_one::<String>(ENCLOSURE).cloned()).flatten(),
        animal: question.is_about_an_animal().then(|| matches.get_one::<String>(ANIMAL).cloned()).flatten(),
        at: matches.get_one::<String>(AT).cloned(),
        fields,
        json: matches.get_flag(JSON),
        why: matches.get_flag(WHY),
    })
}

impl clap::FromArgMatches for Asked {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
        asked(matches)
    }
    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        *self = asked(matches)?;
        Ok(())
    }
}

impl clap::Subcommand for Asked {
    fn augment_subcommands(command: Command) -> Command {
        Question::ALL.into_iter().fold(command, |command, question| command.subcommand(command_of(question)))
    }
    fn augment_subcommands_for_update(command: Command) -> Command {
        Self::augment_subcommands(command)
    }
    fn has_subcommand(name: &str) -> bool {
        Question::from_key(name).is_some()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::{CommandFactory, Parser};

    use crate::arguments::Arguments;

    #[test]
    fn every_question_is_a_command_and_no_option_stands_twice() {
        Arguments::command().debug_assert();
        for question in Question::ALL {
            let help = command_of(question).render_long_help().to_string();
            for field in question.fields() {
                assert!(help.contains(&format!("--{}", dashed(field.key))), "{} {}", question.key(), field.key);
                assert!(!field.label.is_empty() && field.key.to_lowercase() == field.key, "{}", field.key);
            }
            let whom: &[&str] = if question.is_about_an_animal() { &["Hazel"] } else { &[] };
            let line = [&["warmside", question.key()], whom].concat();
            assert!(Arguments::try_parse_from(line).is_ok(), "{}", question.key());
        }
    }

    #[test]
    fn an_enclosure_is_named_only_where_the_question_is_about_one() {
        let parse = |line: &[&str]| Arguments::try_parse_from(line).is_ok();
        assert!(parse(&["warmside", "power-cut", "S1"]));
        assert!(!parse(&["warmside", "thaw", "S1"]));
        assert!(parse(&["warmside", "growth", "Hazel", "--ration", "20"]));
        assert!(!parse(&["warmside", "growth"]));
    }
}
