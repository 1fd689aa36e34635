//! Animals: who they are, where they live, and how a stay ends.

use units::When;

use super::{Recorded, Sheet};
use crate::choices;
use crate::fields::{Limits, Reader};
use crate::id::RecordId;

choices!(
    /// Sex, as told.
    Sex, "sex", { Female = "female", Male = "male", Unknown = "unknown" }
);

choices!(
    /// Stage of life.
    Stage, "stage", {
        Hatchling = "hatchling", Juvenile = "juvenile", Subadult = "subadult", Adult = "adult", Aged = "aged",
    }
);

/// An animal and what is known of its origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Animal {
    /// Species, as given: a profile key, a common or a scientific name.
    pub species: String,
    /// Family, used when the species has no profile.
    pub family: Option<String>,
    /// What it is called.
    pub name: Option<String>,
    /// Hatched or born.
    pub hatched: Option<When>,
    /// Age in months when this was written, where the date of hatching is not known.
    pub age_months: Option<f64>,
    /// Sex.
    pub sex: Option<Sex>,
    /// When it came into the household.
    pub arrived: Option<When>,
    /// Stage, where the keeper sets it.
    pub stage: Option<Stage>,
    /// Taken from the wild.
    pub wild_caught: Option<bool>,
    /// Used to being handled.
    pub used_to_handling: Option<bool>,
    /// Has never eaten.
    pub never_fed: Option<bool>,
    /// From when on the records hold everything.
    pub complete_since: Option<When>,
}

impl Recorded for Animal {
    fn read(reader: &mut Reader<'_>) -> Option<Animal> {
        let species = reader.text("species");
        let species = reader.require("species", species);
        let animal = Animal {
            family: reader.text("family"),
            name: reader.text("name"),
            hatched: reader.when("hatched"),
            age_months: reader.number("age_months", Limits::new(0.0, 1_200.0, "months")),
            sex: reader.choice("sex"),
            arrived: reader.when("arrived"),
            stage: reader.choice("stage"),
            wild_caught: reader.flag("wild_caught"),
            used_to_handling: reader.flag("used_to_handling"),
            never_fed: reader.flag("never_fed"),
            complete_since: reader.when("complete_since"),
            species: species?,
        };
        if let (Some(hatched), Some(arrived)) = (animal.hatched, animal.arrived)
            && arrived.to < hatched.from
        {
            reader.object("arrived", "the animal arrived before it hatched", "mend one of the two dates");
        }
        Some(animal)
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.text("species", Some(&self.species));
        sheet.text("family", self.family.as_deref());
        sheet.text("name", self.name.as_deref());
        sheet.when("hatched", self.hatched);
        sheet.number("age_months", self.age_months);
        sheet.choice("sex", self.sex);
        sheet.when("arrived", self.arrived);
        sheet.choice("stage", self.stage);
        sheet.flag("wild_caught", self.wild_caught);
        sheet.flag("used_to_handling", self.used_to_handling);
        sheet.flag("never_fed", self.never_fed);
        sheet.when("complete_since", self.complete_since);
    }
    fn when(&self) -> Option<When> {
        self.arrived.or(self.hatched)
    }
}

/// An animal moves into an enclosure.
#[derive(Clone, Debug, PartialEq)]
pub struct Stay {
    /// Since when.
    pub at: When,
    /// Which enclosure.
    pub enclosure: RecordId,
}

impl Recorded for Stay {
    fn read(reader: &mut Reader<'_>) -> Option<Stay> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let enclosure = reader.text("enclosure");
        let text = reader.require("enclosure", enclosure)?;
        let Some(enclosure) = RecordId::read(&text) else {
            reader.object("enclosure", format!("`{text}` is no enclosure"), "choose an enclosure from the list");
            return None;
        };
        Some(Stay { at: at?, enclosure })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.text("enclosure", Some(&self.enclosure.to_string()));
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}

choices!(
    /// How a stay in the household ends.
    EndingWhat, "ending", { Sold = "sold", Given = "given", Lent = "lent", Returned = "returned", Died = "died" }
);

/// An animal leaves the household, comes back from a loan, or dies.
#[derive(Clone, Debug, PartialEq)]
pub struct Ending {
    /// When.
    pub at: When,
    /// How.
    pub what: EndingWhat,
    /// Free words: to whom, of what.
    pub note: Option<String>,
}

impl Recorded for Ending {
    fn read(reader: &mut Reader<'_>) -> Option<Ending> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let what = reader.choice("what");
        let what = reader.require("what", what);
        let note = reader.text("note");
        Some(Ending { at: at?, what: what?, note })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.choice("what", Some(self.what));
        sheet.text("note", self.note.as_deref());
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}
