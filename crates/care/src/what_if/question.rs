//! The questions.

use records::{Fault, Fields, Reader};
use units::Zone;

use super::{Field, Known, Reckoning};
use crate::{growth, thaw, thermometer, twin};

/// A question, answered from what is typed and what is on record.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Question {
    /// How many watts, what this heater reaches, what it costs.
    Warmth,
    /// What happens when the thermostat sticks or its probe falls out.
    Runaway,
    /// How long the warmth lasts without power, and what helps.
    PowerCut,
    /// Humidity at every spot, and what one change does.
    Humidity,
    /// What this room does to the enclosure by night, in winter and in summer.
    Season,
    /// Two enclosures beside each other.
    Compare,
    /// What two thermometers that disagree may mean.
    Thermometer,
    /// When to take prey out, and when to offer it.
    Thaw,
    /// What an animal is likely to weigh and measure.
    Growth,
    /// What a log says about an enclosure: asked with a file, not with fields.
    Calibrate,
}

impl Question {
    /// All that are asked with fields, in the order in which they are shown.
    pub const ALL: [Question; 9] = [
        Question::Warmth,
        Question::Runaway,
        Question::PowerCut,
        Question::Humidity,
        Question::Season,
        Question::Thaw,
        Question::Growth,
        Question::Thermometer,
        Question::Compare,
    ];

    /// Its name: in the address of its page and as a command.
    pub fn key(self) -> &'static str {
        match self {
            Question::Warmth => "warmth",
            Question::Runaway => "runaway",
            Question::PowerCut => "power-cut",
            Question::Humidity => "humidity",
            Question::Season => "season",
            Question::Compare => "compare",
            Question::Thermometer => "thermometer",
            Question::Thaw => "thaw",
            Question::Calibrate => "calibrate",
            Question::Growth => "growth",
        }
    }

    /// The inverse of [`Question::key`].
    pub fn from_key(key: &str) -> Option<Question> {
        Question::ALL.into_iter().find(|question| question.key() == key)
    }

    /// The question in a few words.
    pub fn title(self) -> &'static str {
        match self {
            Question::Warmth => "Is the heater strong enough?",
            Question::Runaway => "If the thermostat fails",
            Question::PowerCut => "If the power goes out",
            Question::Humidity => "Too dry or too damp",
            Question::Season => "This room in January and in July",
            Question::Compare => "Two enclosures compared",
            Question::Thermometer => "Two readings that disagree",
            Question::Thaw => "Thawing prey for a feeding",
            Question::Calibrate => "What a log says",
            Question::Growth => "How will it grow?",
        }
    }

    /// What it answers, in one sentence.
    pub fn about(self) -> &'static str {
        match self {
            Question::Warmth => {
                "Watts needed for the target, what this heater reaches, the gradient, how long it runs and what it costs."
            }
            Question::Runaway => {
                "How hot each spot gets, and how fast, when the thermostat sticks on or its probe falls out."
            }
            Question::PowerCut => {
                "How fast each spot cools, how many hours are left, and what a blanket, bottles or a battery buy."
            }
            Question::Humidity => {
                "Humidity and dew point at every spot, water to add a day, and which one change helps most."
            }
            Question::Season => {
                "What a night setback, the coldest and the warmest room of the year do to warm and cool side."
            }
            Question::Compare => "Before buying: material, size, lid and heater of two enclosures side by side.",
            Question::Thermometer => "What may lie behind two thermometers, two hygrometers or an infrared reading.",
            Question::Thaw => "When to take prey out, how long in which bath, and how long it stays warm enough.",
            Question::Calibrate => "How much heat an enclosure loses and holds, from what was logged in it.",
            Question::Growth => {
                "What an animal is likely to weigh and measure, on its ration of late or on another, and what that rests on."
            }
        }
    }

    /// What it asks for, in the order of the form.
    pub fn fields(self) -> Vec<Field> {
        match self {
            Question::Warmth => twin::warmth::fields(),
            Question::Runaway => twin::runaway::fields(),
            Question::PowerCut => twin::power_cut::fields(),
            Question::Humidity => twin::humidity::fields(),
            Question::Season => twin::season::fields(),
            Question::Compare => twin::compare::fields(),
            Question::Thermometer => thermometer::fields(),
            Question::Thaw => thaw::fields(),
            Question::Calibrate => Vec::new(),
            Question::Growth => growth::question::fields(),
        }
    }

    /// Is it about an enclosure, so that one on record can be chosen?
    pub fn is_about_an_enclosure(self) -> bool {
        !matches!(self, Question::Thermometer | Question::Thaw | Question::Growth)
    }

    /// Is it about an animal on record?
    pub fn is_about_an_animal(self) -> bool {
        self == Question::Growth
    }

    /// Is it asked about all enclosures on record? Then they are to be looked up.
    pub fn is_for_all(self, typed: &dyn Fields) -> bool {
        self == Question::PowerCut && Reader::new(typed, &Zone::none()).flag("all") == Some(true)
    }

    /// Answers it from what was typed, with what is on record for the rest; or tells everything that is wrong with what
    /// was typed, each with its place and how to mend it.
    pub fn ask(self, typed: &dyn Fields, known: &Known) -> Result<Reckoning, Vec<Fault>> {
        match self {
            Question::Warmth => twin::warmth::answer(typed, known),
            Question::Runaway => twin::runaway::answer(typed, known),
            Question::PowerCut => twin::power_cut::answer(typed, known),
            Question::Humidity => twin::humidity::answer(typed, known),
            Question::Season => twin::season::answer(typed, known),
            Question::Compare => twin::compare::answer(typed, known),
            Question::Thermometer => thermometer::answer(typed, known),
            Question::Thaw => thaw::answer(typed, known),
            Question::Calibrate => {
                let mend = "give the file of a log: `warmside calibrate ENCLOSURE LOG.csv`, or the form on the enclosure's page";
                Err(vec![Fault::new("this is answered from a log", typed.place(""), mend)])
            }
            Question::Growth => growth::question::answer(typed, known),
        }
    }
}
