//! The kinds of records. Each is read from [`Fields`](crate::Fields) and written back to the same fields, so that a
//! case file, a form, a row of a table and a column of the database speak of it in the same words.

mod body;
mod breeding;
mod cleaning;
mod climate;
mod fitted;
mod freezer;
mod health;
mod home;
mod meal;
mod plans;
mod shed;
mod who;

pub use body::{Measurement, Weighing};
pub use breeding::{Breeding, BreedingWhat};
pub use cleaning::{Cleaning, CleaningTask};
pub use climate::{Means, Period, Power, Reading, Spot};
pub use fitted::Fitted;
pub use freezer::FreezerLot;
pub use health::{Dose, Grade, Sign, SignKind, Treatment};
pub use home::{Enclosure, Heater, HeaterKind, Household, Lid, Override, Probe, Stand, Thermostat};
pub use meal::{Meal, Outcome, Prey, PreyState, Thawing};
pub use plans::{Handling, Note, Planned, PlannedWhat, Seen};
pub use shed::{Retained, Shed};
pub use who::{Animal, Ending, EndingWhat, Sex, Stage, Stay};

use units::{When, Zone};

use crate::choice::Choice;
use crate::choices;
use crate::fields::{Raw, Reader};

choices!(
    /// The kinds of records.
    Kind, "kind of record", {
        Animal = "animal", Enclosure = "enclosure", Household = "household", Heater = "heater", Stay = "stay",
        Ending = "ending", Weighing = "weighing", Measurement = "measurement", Meal = "meal", Shed = "shed",
        Handling = "handling", Cleaning = "cleaning", Reading = "reading", Sign = "sign", Breeding = "breeding",
        Power = "power", Treatment = "treatment", Dose = "dose", Planned = "planned", Seen = "seen", Note = "note",
        FreezerLot = "freezer-lot", Override = "override", Fitted = "fitted",
    }
);

/// Whom or what a kind of record is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// One animal.
    Animal,
    /// One enclosure (or, for what is noted while looking at an animal, the one it lives in).
    Enclosure,
    /// The whole household.
    Household,
}

impl Kind {
    /// Whom or what it is about.
    pub fn subject(self) -> Subject {
        match self {
            Kind::Enclosure | Kind::Heater | Kind::Cleaning | Kind::Reading | Kind::Fitted => Subject::Enclosure,
            Kind::Household | Kind::Power | Kind::FreezerLot => Subject::Household,
            _ => Subject::Animal,
        }
    }
}

/// Something written down.
#[derive(Clone, Debug, PartialEq)]
pub enum Fact {
    /// An animal and what is known of its origin.
    Animal(Animal),
    /// An enclosure.
    Enclosure(Enclosure),
    /// What holds for the whole household.
    Household(Household),
    /// A heater of an enclosure.
    Heater(Heater),
    /// An animal moves into an enclosure.
    Stay(Stay),
    /// An animal leaves the household, or dies.
    Ending(Ending),
    /// A weighing.
    Weighing(Weighing),
    /// A length or a girth.
    Measurement(Measurement),
    /// Prey offered once, with its outcome.
    Meal(Meal),
    /// A shed, or one step of it.
    Shed(Shed),
    /// A handling session.
    Handling(Handling),
    /// A chore.
    Cleaning(Cleaning),
    /// A temperature or humidity at a spot.
    Reading(Reading),
    /// Something seen on the animal.
    Sign(Sign),
    /// A step of breeding.
    Breeding(Breeding),
    /// A power cut.
    Power(Power),
    /// A prescribed course.
    Treatment(Treatment),
    /// One dose of a course, given.
    Dose(Dose),
    /// Something planned.
    Planned(Planned),
    /// The animal was seen.
    Seen(Seen),
    /// Free words.
    Note(Note),
    /// Frozen prey.
    FreezerLot(FreezerLot),
    /// A value of the profile that does not hold for this animal.
    Override(Override),
    /// What a log said about an enclosure.
    Fitted(Fitted),
}

macro_rules! each {
    ($value:expr, $one:ident => $do:expr) => {
        match $value {
            Fact::Animal($one) => $do,
            Fact::Enclosure($one) => $do,
            Fact::Household($one) => $do,
            Fact::Heater($one) => $do,
            Fact::Stay($one) => $do,
            Fact::Ending($one) => $do,
            Fact::Weighing($one) => $do,
            Fact::Measurement($one) => $do,
            Fact::Meal($one) => $do,
            Fact::Shed($one) => $do,
            Fact::Handling($one) => $do,
            Fact::Cleaning($one) => $do,
            Fact::Reading($one) => $do,
            Fact::Sign($one) => $do,
            Fact::Breeding($one) => $do,
            Fact::Power($one) => $do,
            Fact::Treatment($one) => $do,
            Fact::Dose($one) => $do,
            Fact::Planned($one) => $do,
            Fact::Seen($one) => $do,
            Fact::Note($one) => $do,
            Fact::FreezerLot($one) => $do,
            Fact::Override($one) => $do,
            Fact::Fitted($one) => $do,
        }
    };
}

/// What every kind of record can do.
pub trait Recorded: Sized {
    /// Reads it; `None` when a fault was found (the reader has it).
    fn read(reader: &mut Reader<'_>) -> Option<Self>;
    /// Writes the fields that are known, under the names under which they are read.
    fn write(&self, sheet: &mut Sheet<'_>);
    /// When it happened; `None` for what has no date.
    fn when(&self) -> Option<When>;
}

impl Fact {
    /// Its kind.
    pub fn kind(&self) -> Kind {
        match self {
            Fact::Animal(_) => Kind::Animal,
            Fact::Enclosure(_) => Kind::Enclosure,
            Fact::Household(_) => Kind::Household,
            Fact::Heater(_) => Kind::Heater,
            Fact::Stay(_) => Kind::Stay,
            Fact::Ending(_) => Kind::Ending,
            Fact::Weighing(_) => Kind::Weighing,
            Fact::Measurement(_) => Kind::Measurement,
            Fact::Meal(_) => Kind::Meal,
            Fact::Shed(_) => Kind::Shed,
            Fact::Handling(_) => Kind::Handling,
            Fact::Cleaning(_) => Kind::Cleaning,
            Fact::Reading(_) => Kind::Reading,
            Fact::Sign(_) => Kind::Sign,
            Fact::Breeding(_) => Kind::Breeding,
            Fact::Power(_) => Kind::Power,
            Fact::Treatment(_) => Kind::Treatment,
            Fact::Dose(_) => Kind::Dose,
            Fact::Planned(_) => Kind::Planned,
            Fact::Seen(_) => Kind::Seen,
            Fact::Note(_) => Kind::Note,
            Fact::FreezerLot(_) => Kind::FreezerLot,
            Fact::Override(_) => Kind::Override,
            Fact::Fitted(_) => Kind::Fitted,
        }
    }

    /// When it happened; `None` for what has no date (an enclosure, the household).
    pub fn when(&self) -> Option<When> {
        each!(self, one => one.when())
    }

    /// The fields that are known, under the names under which they are read.
    pub fn fields(&self, zone: &Zone) -> Vec<(&'static str, Raw)> {
        let mut sheet = Sheet { zone, pairs: Vec::new() };
        each!(self, one => one.write(&mut sheet));
        sheet.pairs
    }

    /// Reads a record of `kind`. `None` when there are faults; the reader has them.
    pub fn read(kind: Kind, reader: &mut Reader<'_>) -> Option<Fact> {
        Some(match kind {
            Kind::Animal => Fact::Animal(Recorded::read(reader)?),
            Kind::Enclosure => Fact::Enclosure(Recorded::read(reader)?),
            Kind::Household => Fact::Household(Recorded::read(reader)?),
            Kind::Heater => Fact::Heater(Recorded::read(reader)?),
            Kind::Stay => Fact::Stay(Recorded::read(reader)?),
            Kind::Ending => Fact::Ending(Recorded::read(reader)?),
            Kind::Weighing => Fact::Weighing(Recorded::read(reader)?),
            Kind::Measurement => Fact::Measurement(Recorded::read(reader)?),
            Kind::Meal => Fact::Meal(Recorded::read(reader)?),
            Kind::Shed => Fact::Shed(Recorded::read(reader)?),
            Kind::Handling => Fact::Handling(Recorded::read(reader)?),
            Kind::Cleaning => Fact::Cleaning(Recorded::read(reader)?),
            Kind::Reading => Fact::Reading(Recorded::read(reader)?),
            Kind::Sign => Fact::Sign(Recorded::read(reader)?),
            Kind::Breeding => Fact::Breeding(Recorded::read(reader)?),
            Kind::Power => Fact::Power(Recorded::read(reader)?),
            Kind::Treatment => Fact::Treatment(Recorded::read(reader)?),
            Kind::Dose => Fact::Dose(Recorded::read(reader)?),
            Kind::Planned => Fact::Planned(Recorded::read(reader)?),
            Kind::Seen => Fact::Seen(Recorded::read(reader)?),
            Kind::Note => Fact::Note(Recorded::read(reader)?),
            Kind::FreezerLot => Fact::FreezerLot(Recorded::read(reader)?),
            Kind::Override => Fact::Override(Recorded::read(reader)?),
            Kind::Fitted => Fact::Fitted(Recorded::read(reader)?),
        })
    }
}

/// Where a record writes its fields.
pub struct Sheet<'a> {
    zone: &'a Zone,
    pairs: Vec<(&'static str, Raw)>,
}

impl Sheet<'_> {
    fn text(&mut self, key: &'static str, text: Option<&str>) {
        self.pairs.extend(text.map(|text| (key, Raw::Text(text.to_owned()))));
    }
    fn number(&mut self, key: &'static str, number: Option<f64>) {
        self.pairs.extend(number.map(|number| (key, Raw::Number(number))));
    }
    fn flag(&mut self, key: &'static str, flag: Option<bool>) {
        self.pairs.extend(flag.map(|flag| (key, Raw::Flag(flag))));
    }
    fn choice<T: Choice>(&mut self, key: &'static str, choice: Option<T>) {
        self.text(key, choice.map(Choice::key));
    }
    fn choices<T: Choice>(&mut self, key: &'static str, choices: &[T]) {
        if !choices.is_empty() {
            let keys: Vec<&str> = choices.iter().map(|one| one.key()).collect();
            self.pairs.push((key, Raw::Text(keys.join(","))));
        }
    }
    fn when(&mut self, key: &'static str, when: Option<When>) {
        let text = when.map(|when| self.zone.write_when(when));
        self.text(key, text.as_deref());
    }
    fn dates(&mut self, key: &'static str, dates: &[When]) {
        if !dates.is_empty() {
            let texts: Vec<String> = dates.iter().map(|when| self.zone.write_when(*when)).collect();
            self.pairs.push((key, Raw::Text(texts.join(","))));
        }
    }
}
