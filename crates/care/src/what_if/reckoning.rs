//! The answer to a what-if question.

use records::facts::Spot;
use units::Moment;

use super::Question;
use crate::answer::{DateRange, Severity, SourceRef};
use crate::study::Study;

/// What is answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Topic {
    /// A question that needs no record.
    Question(Question),
    /// What the records of one animal say.
    Study(Study),
}

impl Topic {
    /// Its name: as a command and in JSON.
    pub fn key(self) -> &'static str {
        match self {
            Topic::Question(question) => question.key(),
            Topic::Study(study) => study.key(),
        }
    }

    /// In a few words.
    pub fn title(self) -> &'static str {
        match self {
            Topic::Question(question) => question.title(),
            Topic::Study(study) => study.title(),
        }
    }
}

impl From<Question> for Topic {
    fn from(question: Question) -> Topic {
        Topic::Question(question)
    }
}

impl From<Study> for Topic {
    fn from(study: Study) -> Topic {
        Topic::Study(study)
    }
}

/// A number with its uncertainty: the 10th, 50th and 90th percentile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// 10th percentile.
    pub low: f64,
    /// 50th percentile.
    pub mid: f64,
    /// 90th percentile.
    pub high: f64,
}

impl Range {
    /// A number that is known.
    pub fn exactly(value: f64) -> Range {
        Range { low: value, mid: value, high: value }
    }

    /// The percentiles of times of which some may never come (infinite): each is one of the samples. `None` without any.
    pub fn of_times(samples: impl IntoIterator<Item = f64>) -> Option<Range> {
        let mut sorted: Vec<f64> = samples.into_iter().filter(|value| !value.is_nan()).collect();
        sorted.sort_by(f64::total_cmp);
        let at = |share: f64| sorted.get((share * (sorted.len().checked_sub(1)? as f64)).round() as usize).copied();
        Some(Range { low: at(0.1)?, mid: at(0.5)?, high: at(0.9)? })
    }

    /// The percentiles of samples, those that are no number left out; `None` where none is left.
    pub fn of(samples: impl IntoIterator<Item = f64>) -> Option<Range> {
        let mut sorted: Vec<f64> = samples.into_iter().filter(|value| value.is_finite()).collect();
        sorted.sort_by(f64::total_cmp);
        let at = |share: f64| {
            let place = share * (sorted.len().checked_sub(1)? as f64);
            let (below, above) = (sorted.get(place.floor() as usize)?, sorted.get(place.ceil() as usize)?);
            Some(below + (above - below) * place.fract())
        };
        Some(Range { low: at(0.1)?, mid: at(0.5)?, high: at(0.9)? })
    }
}

/// In what a number is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// °C.
    Celsius,
    /// A difference of temperatures, K.
    Kelvin,
    /// W.
    Watts,
    /// kWh.
    KilowattHours,
    /// Wh.
    WattHours,
    /// Money, in the keeper's own currency.
    Money,
    /// %.
    Percent,
    /// Relative humidity, %.
    Humidity,
    /// h.
    Hours,
    /// min.
    Minutes,
    /// g.
    Grams,
    /// Water per day, g/d.
    GramsPerDay,
    /// Prey per week, g/week.
    GramsPerWeek,
    /// kJ.
    Kilojoules,
    /// Energy per day, kJ/d.
    KilojoulesPerDay,
    /// d.
    Days,
    /// l.
    Litres,
    /// cm.
    Centimetres,
    /// mm.
    Millimetres,
    /// W/K.
    WattsPerKelvin,
    /// kJ/K.
    KilojoulesPerKelvin,
    /// Air changes an hour.
    PerHour,
    /// Powers of ten of growth.
    Log10,
    /// A count or a ratio.
    Number,
}

impl Unit {
    /// The name in JSON.
    pub fn key(self) -> &'static str {
        match self {
            Unit::Celsius => "celsius",
            Unit::Kelvin => "kelvin",
            Unit::Watts => "watts",
            Unit::KilowattHours => "kilowatt-hours",
            Unit::WattHours => "watt-hours",
            Unit::Money => "money",
            Unit::Percent => "percent",
            Unit::Humidity => "percent-relative-humidity",
            Unit::Hours => "hours",
            Unit::Minutes => "minutes",
            Unit::Grams => "grams",
            Unit::GramsPerDay => "grams-per-day",
            Unit::GramsPerWeek => "grams-per-week",
            Unit::Kilojoules => "kilojoules",
            Unit::KilojoulesPerDay => "kilojoules-per-day",
            Unit::Days => "days",
            Unit::Litres => "litres",
            Unit::Centimetres => "centimetres",
            Unit::Millimetres => "millimetres",
            Unit::WattsPerKelvin => "watts-per-kelvin",
            Unit::KilojoulesPerKelvin => "kilojoules-per-kelvin",
            Unit::PerHour => "per-hour",
            Unit::Log10 => "log10",
            Unit::Number => "number",
        }
    }
}

/// A named number.
#[derive(Clone, Debug, PartialEq)]
pub struct Amount {
    /// Its name in JSON, kebab-case.
    pub key: &'static str,
    /// What it is, in the keeper's words: «watts needed for 32 °C on the warm surface».
    pub says: String,
    /// The number. A range without an end that can be told has an infinite one.
    pub range: Range,
    /// Its unit.
    pub unit: Unit,
    /// Where it is.
    pub spot: Option<Spot>,
    /// Does a table of the answer show it? Then it is not shown again.
    pub is_in_a_table: bool,
}

impl Amount {
    /// A number that is shown by itself.
    pub fn new(key: &'static str, says: impl Into<String>, range: Range, unit: Unit) -> Amount {
        Amount { key, says: says.into(), range, unit, spot: None, is_in_a_table: false }
    }

    /// The same at a spot, where there is one.
    #[must_use]
    pub fn at(self, spot: Option<Spot>) -> Amount {
        Amount { spot, ..self }
    }

    /// The same, which a table of the answer shows.
    #[must_use]
    pub fn in_a_table(self) -> Amount {
        Amount { is_in_a_table: true, ..self }
    }
}

/// A date that is likely.
#[derive(Clone, Debug, PartialEq)]
pub struct Dated {
    /// Its name in JSON, kebab-case.
    pub key: &'static str,
    /// What it is, in the keeper's words: «the next shed».
    pub says: String,
    /// When.
    pub range: DateRange,
}

/// Something looked at, and what it came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    /// Its name in JSON, kebab-case.
    pub key: &'static str,
    /// The question.
    pub asks: String,
    /// What it came to, in a word or two: «in order», «may be why», «not known».
    pub verdict: &'static str,
    /// Is it to be looked into?
    pub stands_out: bool,
    /// What the records say.
    pub says: String,
    /// What to do about it, where there is something.
    pub does: Option<String>,
    /// Where the line that it is held against comes from.
    pub source: Option<SourceRef>,
}

/// A line that a curve is held against.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// What it is: «too cold for a ball python».
    pub says: String,
    /// Its value in the unit of the curve.
    pub value: f64,
    /// Where it comes from.
    pub source: SourceRef,
}

/// A value at a time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Minutes since the start.
    pub minutes: f64,
    /// The value.
    pub range: Range,
}

/// A value over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Its name in JSON.
    pub key: &'static str,
    /// What it is: «warm surface».
    pub says: String,
    /// In what it is counted.
    pub unit: Unit,
    /// The points, in order of time.
    pub points: Vec<Point>,
}

/// What the model says of a spot.
#[derive(Clone, Debug, PartialEq)]
pub struct AtSpot {
    /// Where.
    pub spot: Spot,
    /// Its temperature, °C.
    pub temperature_c: Option<Range>,
    /// Its relative humidity, %.
    pub humidity_pct: Option<Range>,
    /// What was measured there, °C.
    pub measured_c: Option<f64>,
    /// What is wanted there, °C.
    pub wanted_c: Option<(f64, f64)>,
}

/// A cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Words.
    Says(String),
    /// A number.
    Is(Range, Unit),
    /// Nothing is told.
    Nothing,
}

/// Things set side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Its name in JSON.
    pub key: &'static str,
    /// What it compares.
    pub says: String,
    /// Its columns: their name in JSON and the words for it. The first says what a row is about.
    pub columns: Vec<(&'static str, String)>,
    /// Its rows.
    pub rows: Vec<Vec<Cell>>,
}

impl Table {
    /// With columns by their name in JSON and the words for it.
    pub fn new<const N: usize>(
        key: &'static str,
        says: impl Into<String>,
        columns: [(&'static str, &str); N],
        rows: Vec<Vec<Cell>>,
    ) -> Table {
        Table { key, says: says.into(), columns: columns.map(|(key, says)| (key, says.to_owned())).to_vec(), rows }
    }
}

/// One thing to do, in order.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// When, where a clock time is known.
    pub at: Option<Moment>,
    /// What to do.
    pub does: String,
    /// Why, or what to look at.
    pub because: String,
}

/// Something that must not be overlooked.
#[derive(Clone, Debug, PartialEq)]
pub struct Warning {
    /// Its name in JSON, kebab-case.
    pub key: &'static str,
    /// How grave.
    pub severity: Severity,
    /// What is so.
    pub says: String,
    /// What to do.
    pub does: String,
    /// Where the line comes from.
    pub source: Option<SourceRef>,
    /// The key of a caution.
    pub caution: Option<&'static str>,
}

/// What was not told and had to be guessed, or is never known exactly.
#[derive(Clone, Debug, PartialEq)]
pub struct Guess {
    /// Its name in JSON, kebab-case.
    pub key: &'static str,
    /// What it is: «thickness of the walls».
    pub says: String,
    /// Between what it was taken to lie.
    pub range: Range,
    /// Its unit.
    pub unit: Unit,
    /// Share of the spread of the answer that comes from it, 0 to 1.
    pub weight: f64,
    /// Where the guess comes from.
    pub source: SourceRef,
    /// The field that would put a value in its place.
    pub field: Option<&'static str>,
}

/// What the model rests on.
#[derive(Clone, Debug, PartialEq)]
pub enum Basis {
    /// The description alone.
    Described,
    /// A fit to what was logged.
    Fitted {
        /// Since when it was logged.
        from: Moment,
        /// Until when the log ran.
        until: Moment,
        /// Standard deviation of what was left over, K.
        rms_k: f64,
    },
    /// No model of an enclosure was needed.
    Direct,
}

/// The answer to a what-if question, or what the records of one animal say.
#[derive(Clone, Debug, PartialEq)]
pub struct Reckoning {
    /// To what.
    pub topic: Topic,
    /// The answer in sentences, the main one first.
    pub says: Vec<String>,
    /// What must not be overlooked, the gravest first.
    pub warnings: Vec<Warning>,
    /// Dates that are likely.
    pub dates: Vec<Dated>,
    /// Numbers.
    pub amounts: Vec<Amount>,
    /// What was looked at, in its fixed order.
    pub checks: Vec<Checked>,
    /// What the model says of each spot, for the drawing.
    pub spots: Vec<AtSpot>,
    /// Curves over time.
    pub curves: Vec<Curve>,
    /// Lines that the curves are held against.
    pub limits: Vec<Limit>,
    /// Things side by side.
    pub tables: Vec<Table>,
    /// What to do, in order.
    pub steps: Vec<Step>,
    /// What was guessed, the weightiest first.
    pub guesses: Vec<Guess>,
    /// What cannot be told, and what it would need.
    pub untold: Vec<String>,
    /// What the model rests on.
    pub basis: Basis,
    /// Keys of cautions that belong to the question.
    pub cautions: Vec<&'static str>,
    /// Sources of the equations and values.
    pub sources: Vec<SourceRef>,
}

impl Reckoning {
    /// An answer with nothing in it yet.
    pub fn to(topic: impl Into<Topic>, basis: Basis) -> Reckoning {
        Reckoning {
            topic: topic.into(),
            says: Vec::new(),
            warnings: Vec::new(),
            dates: Vec::new(),
            amounts: Vec::new(),
            checks: Vec::new(),
            spots: Vec::new(),
            curves: Vec::new(),
            limits: Vec::new(),
            tables: Vec::new(),
            steps: Vec::new(),
            guesses: Vec::new(),
            untold: Vec::new(),
            basis,
            cautions: Vec::new(),
            sources: Vec::new(),
        }
    }

    /// Its numbers that no table shows.
    pub fn loose_amounts(&self) -> impl Iterator<Item = &Amount> {
        self.amounts.iter().filter(|one| !one.is_in_a_table)
    }

    /// Its warnings, each with its caution where none before it says the same.
    pub fn warned(&self) -> impl Iterator<Item = (&Warning, Option<&'static str>)> {
        self.warnings.iter().enumerate().map(|(place, warning)| {
            let is_told = || self.warnings.iter().take(place).any(|before| before.caution == warning.caution);
            (warning, warning.caution.filter(|_| !is_told()))
        })
    }

    /// The cautions of the question that no warning says already.
    pub fn other_cautions(&self) -> impl Iterator<Item = &'static str> {
        let is_told = |key: &&str| self.warnings.iter().any(|warning| warning.caution == Some(*key));
        self.cautions.iter().copied().filter(move |key| !is_told(key))
    }

    /// A number of it by its name.
    pub fn amount(&self, key: &str) -> Option<&Amount> {
        self.amounts.iter().find(|one| one.key == key)
    }

    /// A curve of it by its name.
    pub fn curve(&self, key: &str) -> Option<&Curve> {
        self.curves.iter().find(|one| one.key == key)
    }

    /// A warning of it by its name.
    pub fn warning(&self, key: &str) -> Option<&Warning> {
        self.warnings.iter().find(|one| one.key == key)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percentiles_lie_between_the_samples_and_what_is_no_number_is_left_out() {
        let range = Range::of([5.0, 1.0, f64::NAN, 2.0, 3.0, 4.0, f64::INFINITY]).unwrap();
        assert!((range.low - 1.4).abs() < 1e-12 && (range.mid - 3.0).abs() < 1e-12 && (range.high - 4.6).abs() < 1e-12);
        assert_eq!(Range::of([]), None);
        assert_eq!(Range::of([7.0]), Some(Range::exactly(7.0)));
    }
}
