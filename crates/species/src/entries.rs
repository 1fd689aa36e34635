//! The smaller kinds of data: sources, cautions, prey classes, disinfectants, zones of ultraviolet light, names to ask
//! about.

use serde::Serialize;

use crate::figure::{Figure, Status};

/// How much weight a source has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Grade {
    /// Law, agency, data set, journal.
    A,
    /// Veterinary, zoo, museum, university, society, welfare body.
    B,
    /// Encyclopaedia, field guide, older writing.
    C,
    /// Trade, retailer or keeper page.
    D,
    /// Own knowledge, nothing read.
    M,
    /// Calculated, or decided by this project.
    Calc,
}

impl Grade {
    pub(crate) const ALL: [Grade; 6] = [Grade::A, Grade::B, Grade::C, Grade::D, Grade::M, Grade::Calc];

    /// The word for it in the data.
    pub fn key(self) -> &'static str {
        match self {
            Grade::A => "A",
            Grade::B => "B",
            Grade::C => "C",
            Grade::D => "D",
            Grade::M => "M",
            Grade::Calc => "calc",
        }
    }

    /// What it stands for.
    pub fn says(self) -> &'static str {
        match self {
            Grade::A => "law, agency, data set, journal",
            Grade::B => "veterinary, zoo, museum, university, society, welfare body",
            Grade::C => "encyclopaedia, field guide, older writing",
            Grade::D => "trade, retailer or keeper page",
            Grade::M => "own knowledge, nothing read",
            Grade::Calc => "calculated, or decided by this project",
        }
    }
}

/// Where a value was read, or believed from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Source {
    /// Its key.
    pub key: String,
    /// How much weight it has.
    pub grade: Grade,
    /// Author, year, title, page or table.
    pub cite: String,
    /// Where it was found.
    pub address: Option<String>,
    /// How much of it was read.
    pub read: Option<String>,
}

/// A short caution, to be shown beside the work or the finding that it belongs to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// Its key, for example `hygiene`.
    pub key: String,
    /// One or two sentences.
    pub text: String,
    /// Key of the main source.
    pub source: String,
    /// Keys of further sources that say the same.
    pub also: Vec<String>,
    /// How sure the weakest sentence is.
    pub status: Status,
}

/// A class of prey as the trade sells it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PreyClass {
    /// Its key, for example `rat-weaned`.
    pub key: String,
    /// The animal, for example `rat`.
    pub animal: String,
    /// The seller's size, for example `weaned`.
    pub size: Option<String>,
    /// Mass of one item in g.
    pub mass_g: Option<Figure>,
    /// Age in days.
    pub age_d: Option<Figure>,
    /// Largest diameter in mm.
    pub diameter_mm: Option<Figure>,
    /// Length without tail in mm.
    pub length_mm: Option<Figure>,
    /// What should be known about it.
    pub note: Option<String>,
}

/// A disinfectant for empty, cleaned enclosures and tools.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Disinfectant {
    /// Its key.
    pub key: String,
    /// What it is.
    pub name: String,
    /// How it is diluted.
    pub dilution: String,
    /// How long it must act, in minutes.
    pub contact_min: Vec<ContactTime>,
    /// Key of the source of the dilution.
    pub source: String,
    /// How sure it is.
    pub status: Status,
    /// What should be known about it.
    pub note: Option<String>,
}

/// How long a disinfectant must act.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ContactTime {
    /// Which use, where there is more than one.
    pub what: Option<String>,
    /// Minutes.
    pub figure: Figure,
}

/// A zone of ultraviolet index that free-living reptiles seek.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UvZone {
    /// Number of the zone, 1 to 4.
    pub zone: u8,
    /// Range of the mean ultraviolet index.
    pub uvi_mean: (f64, f64),
    /// Range of the highest ultraviolet index.
    pub uvi_max: (f64, f64),
    /// Who lives so.
    pub who: String,
    /// Key of the source.
    pub source: String,
    /// How sure it is.
    pub status: Status,
}

/// A name that fits more than one profile: to be asked, never guessed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Ask {
    /// The name.
    pub name: String,
    /// Keys of the profiles that it fits.
    pub profiles: Vec<String>,
    /// Why it must be asked.
    pub why: String,
}

/// What a sign seen on an animal means, for one grade of it. What a row leaves out is that of its sign's row for any
/// grade.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Sign {
    /// The sign, for example `wheezing`.
    pub sign: String,
    /// Its grade (`slight`, `marked`, `severe`); `None` for any grade without a row of its own.
    pub grade: Option<String>,
    /// The finding it leads to; `None` when it means nothing by itself.
    pub code: Option<String>,
    /// The severity of the finding by itself: `note`, `watch`, `act`, `vet`, `urgent`.
    pub severity: Option<String>,
    /// How long it stands when it is not seen again, in days; `None` until its end is recorded.
    pub stands_days: Option<f64>,
    /// Every record of it stands for itself.
    pub each: bool,
    /// Others are kept apart, and a quarantine begins anew.
    pub contagious: bool,
    /// No meal and no handling before a veterinarian has spoken.
    pub ill: bool,
    /// A sign of failing strength.
    pub weak: bool,
    /// The sign in a few words.
    pub says: String,
    /// What to do.
    pub does: String,
    /// Key of the caution that belongs beside it.
    pub caution: Option<String>,
    /// Key of the source.
    pub source: String,
    /// How sure it is.
    pub status: Status,
}

/// The family of a genus.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Genus {
    /// The genus.
    pub genus: String,
    /// Its family.
    pub family: String,
    /// Key of the source.
    pub source: String,
    /// How sure it is.
    pub status: Status,
}
