//! Handling, plans, sightings and notes.

use units::When;

use super::{Recorded, Sheet};
use crate::choices;
use crate::fields::{Limits, Reader};

/// A handling session.
#[derive(Clone, Debug, PartialEq)]
pub struct Handling {
    /// When it began.
    pub at: When,
    /// How long, in minutes.
    pub minutes: Option<f64>,
}

impl Recorded for Handling {
    fn read(reader: &mut Reader<'_>) -> Option<Handling> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let minutes = reader.number("minutes", Limits::new(0.0, 1_440.0, "minutes"));
        Some(Handling { at: at?, minutes })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.number("minutes", self.minutes);
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}

choices!(
    /// Something planned that bears on the animal.
    PlannedWhat, "plan", {
        KeeperAway = "keeper-away", AnimalAway = "animal-away", Transport = "transport", MovingHouse = "moving-house",
        Show = "show", Visit = "visit", EnclosureChange = "enclosure-change", Brumation = "brumation",
        VetVisit = "vet-visit",
    }
);

/// A plan with its span.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// From.
    pub from: When,
    /// Until; a day is included. `None` when the end is open.
    pub until: Option<When>,
    /// Somebody looks in while the keeper is away.
    pub sitter: Option<bool>,
    /// What.
    pub what: PlannedWhat,
}

impl Planned {
    /// The last moment of the plan; the end of its first day when nothing else is told.
    pub fn ends(&self) -> units::Moment {
        self.until.map_or(self.from.to, |until| until.to)
    }
}

impl Recorded for Planned {
    fn read(reader: &mut Reader<'_>) -> Option<Planned> {
        let from = reader.day("from");
        let from = reader.require("from", from);
        let until = reader.day("until");
        let sitter = reader.flag("sitter");
        let what = reader.choice("what");
        let what = reader.require("what", what);
        if let (Some(from), Some(until)) = (from, until)
            && until.to < from.from
        {
            reader.object("until", "the plan ends before it begins", "mend one of the two dates");
            return None;
        }
        Some(Planned { from: from?, until, sitter, what: what? })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("from", Some(self.from));
        sheet.when("until", self.until);
        sheet.flag("sitter", self.sitter);
        sheet.choice("what", Some(self.what));
    }
    fn when(&self) -> Option<When> {
        Some(self.from)
    }
}

/// Someone saw the animal, or saw that it was in.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// When.
    pub at: When,
}

impl Recorded for Seen {
    fn read(reader: &mut Reader<'_>) -> Option<Seen> {
        let at = reader.day("at");
        Some(Seen { at: reader.require("at", at)? })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}

/// Free words.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// When.
    pub at: When,
    /// The words.
    pub text: String,
}

impl Recorded for Note {
    fn read(reader: &mut Reader<'_>) -> Option<Note> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let text = reader.text("text");
        let text = reader.require("text", text);
        Some(Note { at: at?, text: text? })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.text("text", Some(&self.text));
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}
