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
    /// What two thermometers that disagree may mean.
    Thermometer,
    /// When to take prey out, and when to offer it.
    Thaw,
    /// What an animal is likely to weigh and measure.
    Growth,
}

impl Question {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Question; 6] = [
        Question::Warmth,
        Question::Runaway,
        Question::PowerCut,
        Question::Thaw,
        Question::Growth,
        Question::Thermometer,
    ];

    /// Its name: in the address of its page and as a command.
    pub fn key(self) -> &'static str {
        match self {
            Question::Warmth => "warmth",
            Question::Runaway => "runaway",
            Question::PowerCut => "power-cut",
            Question::Thermometer => "thermometer",
            Question::Thaw => "thaw",
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
            Question::Thermometer => "Two readings that disagree",
            Question::Thaw => "Thawing prey for a feeding",
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
            Question::Thermometer => "What may lie behind two thermometers, two hygrometers or an infrared reading.",
            Question::Thaw => "When to take prey out, how long in which bath, and how long it stays warm enough.",
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
            Question::Thermometer => thermometer::fields(),
            Question::Thaw => thaw::fields(),
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
            Question::Thermometer => thermometer::answer(typed, known),
            Question::Thaw => thaw::answer(typed, known),
            Question::Growth => growth::question::answer(typed, known),
        }
    }
}
