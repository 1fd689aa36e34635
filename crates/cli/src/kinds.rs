//! What can be written down from the command line: one table, from which the commands, their help and the reading of
//! their options are made. The options are the keys of a case file with dashes.

use clap::{Arg, ArgAction, ArgMatches, Command};
use records::Kind;
use records::choice::Choice;
use records::facts::{
    BreedingWhat, CleaningTask, EndingWhat, Grade, HeaterKind, Lid, Means, Outcome, Period, PlannedWhat, Prey,
    PreyState, Retained, Sex, SignKind, Spot, Stage, Stand, Thawing, Thermostat,
};

/// Whom or what a record is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Who {
    /// An animal, named first.
    Animal,
    /// An animal or an enclosure, named first.
    Place,
    /// An animal or an enclosure where one is named, else everyone.
    Anyone,
    /// The household: nobody is named.
    Nobody,
}

/// How a field is written.
#[derive(Clone, Copy, Debug)]
pub enum Form {
    /// Any text, a number or a date.
    Text,
    /// One (or several) of a few words.
    One(fn() -> Vec<&'static str>),
    /// True where it stands.
    Flag,
}

/// A field of a record.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Its key in the case file.
    pub key: &'static str,
    /// What it holds.
    pub help: &'static str,
    /// How it is written.
    pub form: Form,
}

/// A kind of record with the word that stands for it.
#[derive(Debug)]
pub struct Entry {
    /// The word on the command line.
    pub word: &'static str,
    /// The kind of record.
    pub kind: Kind,
    /// What it says, for the help.
    pub about: &'static str,
    /// Whom it is about.
    pub who: Who,
    /// The field that can be written without its name.
    pub main: Option<&'static str>,
    /// Its fields.
    pub fields: &'static [Field],
}

fn keys<T: Choice>() -> Vec<&'static str> {
    T::keys().collect()
}

const fn text(key: &'static str, help: &'static str) -> Field {
    Field { key, help, form: Form::Text }
}

const fn flag(key: &'static str, help: &'static str) -> Field {
    Field { key, help, form: Form::Flag }
}

const fn one(key: &'static str, help: &'static str, of: fn() -> Vec<&'static str>) -> Field {
    Field { key, help, form: Form::One(of) }
}

const AT: Field = text("at", "When: 2026-03-14, 2026-03-14T19:30, yesterday, 19:30 [default: now]");

/// What `log` writes down.
pub const LOG: &[Entry] = &[
    Entry {
        word: "meal",
        kind: Kind::Meal,
        about: "A meal offered, with its outcome",
        who: Who::Animal,
        main: Some("outcome"),
        fields: &[
            AT,
            one("prey", "Class of prey", keys::<Prey>),
            text("mass_g", "Mass of one item, such as 24 or 24g or 0.9oz"),
            text("count", "How many items [default: 1]"),
            one("outcome", "What became of it", keys::<Outcome>),
            text("regurgitated_at", "When it came up again"),
            one("state", "In what state it was offered", keys::<PreyState>),
            text("surface_c", "Temperature of its surface when offered"),
            text("minutes_left", "How long it was left with the animal"),
            one("thawed", "How it was thawed", keys::<Thawing>),
            text("frozen_on", "Since when it was frozen"),
            flag("refrozen", "Thawed, frozen again and thawed once more"),
        ],
    },
    Entry {
        word: "weight",
        kind: Kind::Weighing,
        about: "The animal on a scale",
        who: Who::Animal,
        main: Some("mass_g"),
        fields: &[
            AT,
            text("mass_g", "Body mass, such as 523 or 1.2kg"),
            flag("estimated", "Guessed, not weighed"),
            text("body_score", "Score of its shape by eye, 1 to 9 (5 is ideal)"),
        ],
    },
    Entry {
        word: "length",
        kind: Kind::Measurement,
        about: "A length or a girth",
        who: Who::Animal,
        main: Some("total_length_cm"),
        fields: &[
            AT,
            text("total_length_cm", "From snout to tip of the tail, such as 121 or 4ft"),
            text("snout_vent_cm", "From snout to vent"),
            text("girth_cm", "Around the widest part"),
        ],
    },
    Entry {
        word: "shed",
        kind: Kind::Shed,
        about: "A shed, or a step of it",
        who: Who::Animal,
        main: None,
        fields: &[
            text("dull_at", "Colours went dull"),
            text("blue_at", "Eyes went milky"),
            text("cleared_at", "Eyes cleared again"),
            text("shed_at", "Skin off [default: today, when no other step is given]"),
            text("pieces", "In how many pieces; 1 is a whole skin"),
            one("retained", "What stayed on, with commas between", keys::<Retained>),
        ],
    },
    Entry {
        word: "handling",
        kind: Kind::Handling,
        about: "A handling session",
        who: Who::Animal,
        main: Some("minutes"),
        fields: &[AT, text("minutes", "How long")],
    },
    Entry {
        word: "clean",
        kind: Kind::Cleaning,
        about: "A chore done",
        who: Who::Place,
        main: Some("task"),
        fields: &[AT, one("task", "Which", keys::<CleaningTask>)],
    },
    Entry {
        word: "reading",
        kind: Kind::Reading,
        about: "A temperature or humidity at a spot",
        who: Who::Place,
        main: Some("spot"),
        fields: &[
            AT,
            one("spot", "Where", keys::<Spot>),
            text("temperature_c", "Such as 31 or 31C or 88F"),
            text("humidity_pct", "Relative humidity in %"),
            one("period", "By day or by night", keys::<Period>),
            one("means", "What the figure stands for", keys::<Means>),
            text("hours", "The span that it covers"),
        ],
    },
    Entry {
        word: "sign",
        kind: Kind::Sign,
        about: "Something seen on the animal that may matter to its health",
        who: Who::Animal,
        main: Some("sign"),
        fields: &[
            AT,
            one("sign", "What", keys::<SignKind>),
            one("grade", "How marked", keys::<Grade>),
            text("cleared_at", "Gone since"),
            text("note", "Free words"),
        ],
    },
    Entry {
        word: "treatment",
        kind: Kind::Treatment,
        about: "A course that a veterinarian prescribed",
        who: Who::Animal,
        main: Some("name"),
        fields: &[
            text("name", "What was prescribed, in the veterinarian's words"),
            text("prescribed_by", "By whom"),
            text("from", "First time [default: today]"),
            text("every_hours", "Time between two, such as 24 or 2d"),
            text("doses", "How many times in all"),
            text("given", "When it was given so far, with commas between"),
        ],
    },
    Entry {
        word: "given",
        kind: Kind::Dose,
        about: "A prescribed course was given once",
        who: Who::Animal,
        main: Some("treatment"),
        fields: &[AT, text("treatment", "The name of the course")],
    },
    Entry {
        word: "seen",
        kind: Kind::Seen,
        about: "The animal was seen, or seen to be in",
        who: Who::Place,
        main: None,
        fields: &[AT],
    },
    Entry {
        word: "note",
        kind: Kind::Note,
        about: "Free words, about an animal, an enclosure or everyone",
        who: Who::Anyone,
        main: Some("text"),
        fields: &[AT, text("text", "The words")],
    },
    Entry {
        word: "plan",
        kind: Kind::Planned,
        about: "Something planned, for an animal or for everyone",
        who: Who::Anyone,
        main: Some("what"),
        fields: &[
            one("what", "What", keys::<PlannedWhat>),
            text("from", "From; a day is included"),
            text("until", "Until; a day is included"),
            flag("sitter", "Somebody looks in while the keeper is away"),
        ],
    },
    Entry {
        word: "breeding",
        kind: Kind::Breeding,
        about: "A step of breeding",
        who: Who::Animal,
        main: Some("what"),
        fields: &[AT, one("what", "Which", keys::<BreedingWhat>), text("count", "How many eggs or young")],
    },
    Entry {
        word: "power",
        kind: Kind::Power,
        about: "A power cut",
        who: Who::Nobody,
        main: None,
        fields: &[text("from", "Out since [default: now]"), text("until", "Back since; leave it out while it is out")],
    },
    Entry {
        word: "freezer",
        kind: Kind::FreezerLot,
        about: "Frozen prey bought",
        who: Who::Nobody,
        main: Some("class"),
        fields: &[
            one("class", "Class of prey", keys::<Prey>),
            text("count", "How many"),
            text("mass_g", "Mass of one item"),
            text("bought", "When [default: today]"),
        ],
    },
    Entry {
        word: "equipment",
        kind: Kind::Heater,
        about: "A heater of an enclosure, with its thermostat",
        who: Who::Place,
        main: Some("kind"),
        fields: HEATER,
    },
    Entry {
        word: "move",
        kind: Kind::Stay,
        about: "The animal moved into an enclosure",
        who: Who::Animal,
        main: Some("enclosure"),
        fields: &[AT, text("enclosure", "Which enclosure, by name or id")],
    },
    Entry {
        word: "end",
        kind: Kind::Ending,
        about: "The animal leaves the household, comes back from a loan, or dies",
        who: Who::Animal,
        main: Some("what"),
        fields: &[AT, one("what", "How", keys::<EndingWhat>), text("note", "Free words: to whom, of what")],
    },
];

const HEATER: &[Field] = &[
    one("kind", "Kind of heater", keys::<HeaterKind>),
    text("watts", "Power in W"),
    one("thermostat", "How its thermostat works", keys::<Thermostat>),
    text("set_c", "Set point, such as 33 or 91F"),
    text("night_set_c", "Set point by night, where it is another"),
    flag("guarded", "The animal cannot touch it"),
    flag("inside", "It is inside the enclosure"),
    text("probe", "Where the probe lies: a spot, between-mat-and-floor, loose or outside"),
];

/// What `add` makes.
pub const ADD: &[Entry] = &[
    Entry {
        word: "animal",
        kind: Kind::Animal,
        about: "An animal of the household",
        who: Who::Nobody,
        main: Some("name"),
        fields: &[
            text("name", "What it is called"),
            text("species", "A common or scientific name; `warmside species` lists them"),
            text("family", "Its family, where the species has no profile"),
            text("hatched", "Hatched or born: a day, a month (2024-06) or a year"),
            text("age_months", "Age in months, where the date is not known"),
            one("sex", "Its sex, as told", keys::<Sex>),
            text("arrived", "When it came into the household"),
            one("stage", "Its stage, where you set it", keys::<Stage>),
            flag("wild_caught", "Taken from the wild"),
            flag("used_to_handling", "Used to being handled"),
            flag("never_fed", "Has never eaten"),
            text("complete_since", "From when on the records hold everything"),
            text(ENCLOSURE, "The enclosure it lives in, by name or id"),
        ],
    },
    Entry {
        word: "enclosure",
        kind: Kind::Enclosure,
        about: "An enclosure",
        who: Who::Nobody,
        main: Some("name"),
        fields: &[
            text("name", "What it is called: the code on its door"),
            text("room", "The room it stands in"),
            text("walk", "Its place in the walk through the room, a number"),
            text("length_cm", "Inner length, such as 120 or 4ft"),
            text("width_cm", "Inner width (depth)"),
            text("height_cm", "Inner height"),
            text("material", "Of what it is made"),
            text("thickness_mm", "How thick its walls are, such as 4mm or 0.25in"),
            one("lid", "What covers it", keys::<Lid>),
            text("lid_covered_pct", "How much of a mesh lid is covered, in %"),
            one("stands_on", "What it stands on", keys::<Stand>),
            text("substrate", "What covers the floor"),
            text("substrate_cm", "How deep the substrate is"),
            text("bowl_cm", "How wide the water bowl is"),
            text("hides", "How many hides"),
            flag("humid_hide", "There is a humid hide"),
            text("cohabitants", "How many others live in it, where they are not recorded here"),
            flag("locks", "It locks"),
            flag("gaps", "There are gaps"),
            flag("floor_wet", "The floor is wet"),
        ],
    },
    Entry {
        word: "heater",
        kind: Kind::Heater,
        about: "A heater of an enclosure, with its thermostat",
        who: Who::Place,
        main: Some("kind"),
        fields: HEATER,
    },
    Entry {
        word: "household",
        kind: Kind::Household,
        about: "What holds for the whole household; it replaces what held before",
        who: Who::Nobody,
        main: None,
        fields: &[
            flag("other_reptiles", "Other reptiles live in the house"),
            text("quarantine_from", "All are apart from others since"),
            flag("contacts_sick", "An animal nearby is sick or has died"),
            flag("young_children", "Children under five, or anyone else at risk, live in the house"),
            text("region", "Where the house stands"),
            text("room_c", "Usual temperature of the rooms"),
            text("room_night_c", "Their temperature by night"),
            text("room_winter_c", "Their temperature on the coldest days of the year"),
            text("room_summer_c", "Their temperature on the warmest days of the year"),
            text("room_pct", "Their usual relative humidity, in %"),
        ],
    },
];

/// The field of a new animal that is a record of its own: the enclosure it lives in.
pub const ENCLOSURE: &str = "enclosure";

/// The row of a kind of record, wherever it stands.
pub fn of_kind(kind: Kind) -> Option<&'static Entry> {
    LOG.iter().chain(ADD).find(|entry| entry.kind == kind)
}

/// What was typed for a record.
#[derive(Clone, Debug)]
pub struct Typed {
    /// Which row of the table.
    pub entry: &'static Entry,
    /// Whom it is about, as typed.
    pub who: Option<String>,
    /// The fields, as typed.
    pub fields: Vec<(&'static str, String)>,
    /// What is odd is so.
    pub yes: bool,
}

/// Makes a command for each row.
fn commands(command: Command, entries: &'static [Entry]) -> Command {
    entries
        .iter()
        .fold(command, |command, entry| command.subcommand(command_of(entry)))
        .subcommand_required(true)
        .arg_required_else_help(true)
}

const WHO: &str = "WHO";
const MAIN: &str = "MAIN";
const YES: &str = "YES";

fn command_of(entry: &'static Entry) -> Command {
    let mut command = Command::new(entry.word).about(entry.about).allow_negative_numbers(true);
    let who = match entry.who {
        Who::Animal => Some(("ANIMAL", "The animal, by name or id")),
        Who::Place => Some(("PLACE", "The animal or the enclosure, by name or id")),
        Who::Anyone => Some(("WHO", "The animal or the enclosure, by name or id; `-` for everyone")),
        Who::Nobody => None,
    };
    if let Some((name, help)) = who {
        command = command.arg(Arg::new(WHO).value_name(name).help(help).required(true));
    }
    if let Some(main) = entry.main {
        let name = main.trim_end_matches("_g").trim_end_matches("_cm").to_uppercase();
        let help = format!("The same as --{}", dashed(main));
        command = command.arg(Arg::new(MAIN).value_name(name).help(help).allow_negative_numbers(true));
    }
    for field in entry.fields {
        command = command.arg(option(field));
    }
    command.arg(Arg::new(YES).long("yes").help("Yes, what looks odd is so").action(ArgAction::SetTrue))
}

fn option(field: &'static Field) -> Arg {
    let arg = Arg::new(field.key).long(dashed(field.key)).action(ArgAction::Set);
    match field.form {
        Form::Text => arg.help(field.help).value_name(value_name(field.key)).allow_negative_numbers(true),
        Form::One(words) => arg.help(format!("{}: {}", field.help, words().join(", "))).value_name("WORD"),
        Form::Flag => arg
            .help(field.help)
            .value_name("true|false")
            .num_args(0..=1)
            .require_equals(true)
            .default_missing_value("true"),
    }
}

fn value_name(key: &str) -> &'static str {
    if crate::amount::is_date(key) { "WHEN" } else { "VALUE" }
}

/// A key as an option: `mass_g` is `mass-g`.
pub fn dashed(key: &str) -> String {
    key.replace('_', "-")
}

fn typed(matches: &ArgMatches, entries: &'static [Entry]) -> Result<Typed, clap::Error> {
    let missing = || clap::Error::new(clap::error::ErrorKind::MissingSubcommand);
    let (word, matches) = matches.subcommand().ok_or_else(missing)?;
    let entry = entries.iter().find(|entry| entry.word == word).ok_or_else(missing)?;
    let mut fields = Vec::new();
    for field in entry.fields {
        fields.extend(matches.get_one::<String>(field.key).map(|value| (field.key, value.clone())));
    }
    if let Some(main) = entry.main
        && let Some(value) = matches.get_one::<String>(MAIN)
    {
        if fields.iter().any(|(key, _)| *key == main) {
            let what = format!("`{value}` and --{} say the same thing twice\n", dashed(main));
            return Err(clap::Error::raw(clap::error::ErrorKind::ArgumentConflict, what));
        }
        fields.push((main, value.clone()));
    }
    let who = if entry.who == Who::Nobody { None } else { matches.get_one::<String>(WHO).cloned() };
    Ok(Typed { entry, who, fields, yes: matches.get_flag(YES) })
}

macro_rules! subcommands {
    ($(#[$doc:meta])* $name:ident, $entries:expr) => {
        $(#[$doc])*
        #[derive(Clone, Debug)]
        pub struct $name(pub Typed);

        impl clap::FromArgMatches for $name {
            fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
                typed(matches, $entries).map($name)
            }
            fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
                self.0 = typed(matches, $entries)?;
                Ok(())
            }
        }

        impl clap::Subcommand for $name {
            fn augment_subcommands(command: Command) -> Command {
                commands(command, $entries)
            }
            fn augment_subcommands_for_update(command: Command) -> Command {
                commands(command, $entries)
            }
            fn has_subcommand(name: &str) -> bool {
                $entries.iter().any(|entry: &Entry| entry.word == name)
            }
        }
    };
}

subcommands!(
    /// What `log` was told.
    Logged,
    LOG
);
subcommands!(
    /// What `add` was told.
    Added,
    ADD
);

#[cfg(test)]
mod tests {
    use super::*;
    use records::fields::{Given, Reader};
    use records::{Fact, Raw};
    use units::Zone;

    #[test]
    fn every_option_is_a_field_of_its_kind_and_every_field_has_one() {
        for entry in LOG.iter().chain(ADD) {
            let keys: Vec<&str> = entry
                .fields
                .iter()
                .map(|field| field.key)
                .filter(|key| entry.kind != Kind::Animal || *key != ENCLOSURE)
                .collect();
            // A field that nobody asks for is named in the fault, with those that are known.
            let given = Given { pairs: vec![("zzz".into(), Raw::Flag(true))], origin: "test".into() };
            let zone = Zone::none();
            let mut reader = Reader::new(&given, &zone);
            let _ = Fact::read(entry.kind, &mut reader);
            let faults = reader.finish();
            let fault = faults.iter().find(|fault| fault.what.contains("zzz")).expect("the unknown key is told");
            let known: Vec<&str> = fault.mend.trim_start_matches("known here: ").split(", ").collect();
            let mut sorted = (keys.clone(), known.clone());
            sorted.0.sort_unstable();
            sorted.1.sort_unstable();
            assert_eq!(sorted.0, sorted.1, "{}", entry.word);
            assert!(entry.main.is_none_or(|main| keys.contains(&main)), "{}", entry.word);
        }
    }

    #[test]
    fn every_kind_of_record_that_a_person_writes_can_be_written_from_here() {
        for kind in Kind::ALL.iter().filter(|kind| render::pages::form::is_typed(**kind)) {
            assert!(of_kind(*kind).is_some() || *kind == Kind::Override, "{kind}");
        }
    }
}
