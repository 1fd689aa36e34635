//! A value with where it comes from and how sure it is.

use serde::Serialize;

/// How sure a value is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Status {
    /// Believed from the source that its key names; not read.
    FromMemory,
    /// What the trade and keepers commonly do.
    CommonPractice,
    /// Read in the source.
    Verified,
    /// Set by the household, with its own reason.
    Household,
}

impl Status {
    /// The words that a data file may use.
    pub(crate) const IN_DATA: [Status; 3] = [Status::Verified, Status::CommonPractice, Status::FromMemory];

    /// The word for it in data and answers.
    pub fn key(self) -> &'static str {
        match self {
            Status::Verified => "verified",
            Status::CommonPractice => "common-practice",
            Status::FromMemory => "from-memory",
            Status::Household => "household",
        }
    }
}

/// A value or a range. Its unit is in the name of what holds it (`night_min_c`) or, in a rule, in `unit`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// Low end; equal to `high` for a single value.
    pub low: f64,
    /// High end.
    pub high: f64,
    /// The middle, where the source gives one that is not the mean of the ends.
    pub mid: Option<f64>,
    /// Key of the source.
    pub source: String,
    /// How sure it is.
    pub status: Status,
    /// Calculated or judged from other values; the status is then that of the weakest of them.
    pub derived: bool,
    /// What should be known about it.
    pub note: Option<String>,
}

impl Figure {
    /// The middle that the source gives, or the mean of the ends.
    pub fn middle(&self) -> f64 {
        self.mid.unwrap_or(f64::midpoint(self.low, self.high))
    }

    /// Is it one value, not a range?
    pub fn is_single(&self) -> bool {
        self.low == self.high
    }
}

/// Figures for one thing. The first is the default; the rest are kept because sources disagree. Empty when unknown.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Figures(pub Vec<Figure>);

impl Figures {
    /// The default.
    pub fn first(&self) -> Option<&Figure> {
        self.0.first()
    }

    /// Is nothing known?
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// All of them, the default first.
    pub fn iter(&self) -> std::slice::Iter<'_, Figure> {
        self.0.iter()
    }

    /// Puts `figure` in the place of the default; the others stay.
    pub(crate) fn replace_default(&mut self, figure: Figure) {
        match self.0.first_mut() {
            Some(first) => *first = figure,
            None => self.0.push(figure),
        }
    }
}

impl<'a> IntoIterator for &'a Figures {
    type Item = &'a Figure;
    type IntoIter = std::slice::Iter<'a, Figure>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

/// Where something that is not a number comes from, and how sure it is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Provenance {
    /// Key of the source.
    pub source: String,
    /// How sure it is.
    pub status: Status,
    /// Calculated or judged from other values.
    pub derived: bool,
    /// What should be known about it.
    pub note: Option<String>,
}

/// What another source says, kept to show the disagreement (without a figure: the agreement).
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Alternative {
    /// What exactly it is a value of, where that differs from what it stands beside.
    pub what: Option<String>,
    /// The value.
    pub figure: Option<Figure>,
    /// Its unit, where it differs from that of what it stands beside.
    pub unit: Option<String>,
    /// Where it comes from.
    pub from: Provenance,
}

/// One thing for each stage of life. The aged count as adult.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ByStage<T> {
    /// To about six months or 40 % of the adult length.
    pub hatchling: Option<T>,
    /// To about 60 % of the adult length.
    pub juvenile: Option<T>,
    /// To about 85 % of the adult length.
    pub subadult: Option<T>,
    /// Mature.
    pub adult: Option<T>,
}

impl<T> Default for ByStage<T> {
    fn default() -> ByStage<T> {
        ByStage { hatchling: None, juvenile: None, subadult: None, adult: None }
    }
}

impl<T> ByStage<T> {
    /// The stages that have something, in order of age, with their words.
    pub fn iter(&self) -> impl Iterator<Item = (&'static str, &T)> {
        let all = [
            ("hatchling", &self.hatchling),
            ("juvenile", &self.juvenile),
            ("subadult", &self.subadult),
            ("adult", &self.adult),
        ];
        all.into_iter().filter_map(|(stage, one)| one.as_ref().map(|one| (stage, one)))
    }

    /// Does every stage have something?
    pub fn is_complete(&self) -> bool {
        self.iter().count() == 4
    }
}
