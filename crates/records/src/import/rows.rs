//! From a row to what happened: several records may stand in one.

use units::{When, Zone};

use super::answers::Answers;
use super::columns::Role;
use super::event::{self, Happening, Step};
use super::meals::Offers;
use super::meaning::{Meaning, Place};
use super::settle::{Settled, figure_of};
use super::slip::Slip;
use super::table::Table;
use super::understood::{Question, shortened};
use super::words::fold;
use super::{date, grid, says};
use crate::choice::Choice;
use crate::facts::{Fact, Kind, Sex};
use crate::fault::Fault;

/// All that is needed to read a row.
pub(super) struct Desk<'a> {
    pub table: &'a Table,
    pub roles: &'a [Role],
    pub settled: &'a Settled,
    pub answers: &'a Answers,
    pub zone: &'a Zone,
}

/// What is found wrong, odd or open while rows are read.
#[derive(Debug, Default)]
pub(super) struct Findings {
    pub faults: Vec<Fault>,
    pub doubts: Vec<Fault>,
    pub questions: Vec<Question>,
}

impl Findings {
    /// Asks once, about the first place where it matters.
    pub fn ask(&mut self, question: Question) {
        if !self.questions.iter().any(|other| other.about == question.about) {
            self.questions.push(question);
        }
    }
}

/// What a row says.
#[derive(Debug, Default)]
pub(super) struct Said {
    pub line: u32,
    pub animal: Option<String>,
    pub species: Option<String>,
    pub sex: Option<Sex>,
    pub hatched: Option<When>,
    pub arrived: Option<When>,
    pub facts: Vec<Fact>,
    /// A meal of an earlier day came up.
    pub brought_up: Option<When>,
    /// Notes for which nothing but a header is known: the same words again are not new.
    pub labelled: Vec<Fact>,
}

impl<'a> Desk<'a> {
    /// The cells of a meaning that hold something, each with its column.
    pub fn cells<'r>(&self, row: &'r grid::Row, meaning: Meaning) -> impl Iterator<Item = (&'a Role, &'r str)>
    where
        'a: 'r,
    {
        let roles = self.roles.iter().filter(move |role| role.meaning == meaning);
        roles.map(|role| (role, row.cell(role.column))).filter(|(_, cell)| !says::is_nothing(cell))
    }

    pub fn place(&self, line: u32, role: Option<&Role>) -> String {
        self.table.place(line, role.map(|role| role.column))
    }

    pub fn slip(&self, line: u32) -> Slip<'a> {
        Slip::new(self.zone, self.table.place(line, None))
    }

    pub fn header(&self, role: &Role) -> &'a str {
        self.table.header(role.column)
    }

    /// The figure of a cell in the unit in which it is kept, and whether it is a guess.
    pub fn figure(&self, role: &Role, cell: &str, line: u32, findings: &mut Findings) -> Option<(f64, bool)> {
        let figure = figure_of(role, cell)?;
        let unit = self.settled.units.get(&role.column).copied();
        let kept = figure.kept(self.settled.decimal, unit).filter(|kept| kept.is_finite());
        if kept.is_none() {
            let what = format!("`{}` cannot be read as {}", shortened(cell), role.meaning.words());
            findings.faults.push(Fault::new(
                what,
                self.place(line, Some(role)),
                "write the figure with its unit, such as `1200 g`",
            ));
        }
        kept.map(|kept| (kept, figure.about))
    }

    fn date_of(&self, role: &Role, cell: &str) -> Option<When> {
        let when = date::read(cell, self.zone)?.when(self.settled.orders.get(&role.column).copied(), self.zone)?;
        let is_day = when.has_hour() && self.settled.days.contains(&role.column);
        Some(if is_day { self.zone.day(self.zone.date(when.from)) } else { when })
    }

    /// Reads a row.
    pub fn row(&self, row: &grid::Row, findings: &mut Findings) -> Said {
        let line = row.line;
        let mut said = Said { line, ..Said::default() };
        let mut name =
            self.roles.iter().filter(|role| role.meaning == Meaning::Animal).map(|role| row.cell(role.column));
        said.animal = name.next().filter(|name| !name.is_empty()).map(str::to_owned);
        said.species = self.cells(row, Meaning::Species).next().map(|(_, cell)| cell.to_owned());
        for (role, cell) in self.cells(row, Meaning::Sex) {
            said.sex = says::sex(cell);
            if said.sex.is_none() {
                let what = format!("`{}` is no sex", shortened(cell));
                findings.faults.push(Fault::new(what, self.place(line, Some(role)), "write female, male or unknown"));
            }
        }
        said.hatched = self.cells(row, Meaning::Hatched).next().and_then(|(role, cell)| self.date_of(role, cell));
        said.arrived = self.cells(row, Meaning::Arrived).next().and_then(|(role, cell)| self.date_of(role, cell));
        let at = self.moment(row, findings);
        let Some(at) = at else {
            self.undated(row, &mut said, findings);
            return said;
        };
        let mut events = Vec::new();
        self.body(row, at, &mut said, findings);
        self.events(row, at, &mut events, &mut said, findings);
        self.sheds(row, Some(at), &mut said, findings);
        self.climate(row, at, &mut said, findings);
        self.chores(row, at, &mut said, findings);
        let offers = Offers::of(self, row, &events, findings);
        offers.meals(self, row, at, &mut said, findings);
        self.happenings(row, at, &events, &mut said, findings);
        for (role, cell) in self.cells(row, Meaning::Note) {
            if role.is_labelled {
                let text = format!("{}: {cell}", self.header(role));
                let note = self.note(at, &text, line, findings);
                if role.is_once { &mut said.labelled } else { &mut said.facts }.extend(note);
            } else {
                said.facts.extend(self.note(at, cell, line, findings));
            }
        }
        said
    }

    /// The day of the row, with its hour where there is one.
    fn moment(&self, row: &grid::Row, findings: &mut Findings) -> Option<When> {
        let (date_role, cell) = self.cells(row, Meaning::Date).next()?;
        let day = self.date_of(date_role, cell)?;
        let Some((role, cell)) = self.cells(row, Meaning::Time).next().filter(|_| !day.has_hour()) else {
            return Some(day);
        };
        match date::clock(cell) {
            Some(clock) => Some(date::at(self.zone.date(day.from), Some(clock), self.zone)),
            None => {
                let what = format!("`{}` is not a time of the clock", shortened(cell));
                let mend = "write it as 19:30, or leave it empty";
                findings.faults.push(Fault::new(what, self.place(row.line, Some(role)), mend));
                Some(day)
            }
        }
    }

    /// A row without a day: sheds may bring their own; whatever else happened needs one.
    fn undated(&self, row: &grid::Row, said: &mut Said, findings: &mut Findings) {
        self.sheds(row, None, said, findings);
        let of_animal = |meaning: Meaning| {
            matches!(
                meaning,
                Meaning::Animal
                    | Meaning::Species
                    | Meaning::Sex
                    | Meaning::Hatched
                    | Meaning::Arrived
                    | Meaning::Shed
                    | Meaning::Time
                    | Meaning::Unit
                    | Meaning::Ignored
            )
        };
        let has_column = self.roles.iter().any(|role| role.meaning == Meaning::Date);
        let mut lost = self.roles.iter().filter(|role| {
            let cell = row.cell(role.column);
            !of_animal(role.meaning) && !says::is_nothing(cell) && says::yes(cell) != Some(false)
        });
        // A list of animals may say of each what no record holds; it has no date, so it is no note either.
        let is_aside = |role: &&Role| role.is_labelled && !has_column;
        for role in lost.clone().filter(is_aside) {
            let what = format!("`{}` is not kept: no date goes with it", shortened(row.cell(role.column)));
            findings.doubts.push(Fault::new(
                what,
                self.place(row.line, Some(role)),
                "write it down by hand, where it matters",
            ));
        }
        if let Some(role) = lost.find(|role| !is_aside(role)) {
            let what = format!("no date says when `{}` was written down", shortened(row.cell(role.column)));
            let mend = if has_column { "give the row its date" } else { "add a column with the date of each row" };
            findings.faults.push(Fault::new(what, self.place(row.line, Some(role)), mend));
        }
    }

    fn note(&self, at: When, text: &str, line: u32, findings: &mut Findings) -> Option<Fact> {
        self.slip(line).when("at", at).text("text", Some(text)).read(Kind::Note, &mut findings.faults)
    }

    /// Keeps the words of a cell, with the header that gives them their sense.
    pub fn keep_words(&self, role: &Role, cell: &str, at: When, said: &mut Said, findings: &mut Findings) {
        let text = match role.meaning {
            Meaning::Event => cell.to_owned(),
            _ => format!("{}: {cell}", self.header(role)),
        };
        said.facts.extend(self.note(at, &text, said.line, findings));
    }

    /// Says that the words of a cell became a note and nothing more.
    pub fn doubt_words(&self, role: &Role, cell: &str, line: u32, findings: &mut Findings) {
        let what = format!("`{}` is not understood whole; its words are kept as a note", shortened(cell));
        let mend = "nothing, if a note is enough; otherwise write it in plainer words";
        findings.doubts.push(Fault::new(what, self.place(line, Some(role)), mend));
    }

    fn body(&self, row: &grid::Row, at: When, said: &mut Said, findings: &mut Findings) {
        let line = row.line;
        for (role, cell) in self.cells(row, Meaning::Mass) {
            if let Some((mass, about)) = self.figure(role, cell, line, findings) {
                let slip = self.slip(line).when("at", at).number("mass_g", Some(mass), Some(self.header(role)));
                said.facts.extend(slip.flag("estimated", about).read(Kind::Weighing, &mut findings.faults));
            }
        }
        let mut slip = self.slip(line).when("at", at);
        let mut any = false;
        for (meaning, key) in [
            (Meaning::TotalLength, "total_length_cm"),
            (Meaning::SnoutVent, "snout_vent_cm"),
            (Meaning::Girth, "girth_cm"),
        ] {
            if let Some((role, cell)) = self.cells(row, meaning).next()
                && let Some((length, _)) = self.figure(role, cell, line, findings)
            {
                slip = slip.number(key, Some(length), Some(self.header(role)));
                any = true;
            }
        }
        if any {
            said.facts.extend(slip.read(Kind::Measurement, &mut findings.faults));
        }
    }

    /// Reads the cells of events; words that were not understood are kept.
    fn events(&self, row: &grid::Row, at: When, events: &mut Vec<Happening>, said: &mut Said, findings: &mut Findings) {
        for (role, cell) in self.cells(row, Meaning::Event) {
            let read = event::read(cell);
            if !read.whole {
                self.keep_words(role, cell, at, said, findings);
                if read.happenings.is_empty() {
                    self.doubt_words(role, cell, row.line, findings);
                }
            }
            events.extend(read.happenings);
        }
    }

    /// Records of what happened, but for meals and for what needs a figure.
    fn happenings(&self, row: &grid::Row, at: When, events: &[Happening], said: &mut Said, findings: &mut Findings) {
        let line = row.line;
        let has = |said: &Said, kind: Kind| said.facts.iter().any(|fact| fact.kind() == kind);
        for happening in events {
            let slip = self.slip(line).when("at", at);
            let needs = match happening {
                Happening::Weighed => Some((Kind::Weighing, "a mass")),
                Happening::Measured => Some((Kind::Measurement, "a length or a girth")),
                Happening::Read => Some((Kind::Reading, "a temperature or a humidity")),
                _ => None,
            };
            if let Some((_, figure)) = needs.filter(|(kind, _)| !has(said, *kind)) {
                let what = format!("the row tells of {figure} and holds none; nothing of it is kept");
                findings.doubts.push(Fault::new(what, self.place(line, None), "add the figure, where it is known"));
                continue;
            }
            let faults = &mut findings.faults;
            let fact = match happening {
                Happening::Weighed | Happening::Measured | Happening::Read | Happening::Meal(..) => None,
                Happening::Shed(step) => self.shed(*step, at, line, faults),
                Happening::Breeding(what, count) => {
                    let count = count.map(f64::from);
                    slip.choice("what", Some(*what)).number("count", count, None).read(Kind::Breeding, faults)
                }
                Happening::Cleaned(task) => slip.choice("task", Some(*task)).read(Kind::Cleaning, faults),
                Happening::Handled if has(said, Kind::Handling) => None,
                Happening::Handled => slip.read(Kind::Handling, faults),
                Happening::Seen => slip.read(Kind::Seen, faults),
                Happening::Arrived => {
                    said.arrived = said.arrived.or(Some(self.zone.day(self.zone.date(at.from))));
                    None
                }
                Happening::Ended(what) => slip.choice("what", Some(*what)).read(Kind::Ending, faults),
                Happening::Sign(sign) => slip.choice("sign", Some(*sign)).read(Kind::Sign, faults),
            };
            said.facts.extend(fact.filter(|fact| !said.facts.contains(fact)));
        }
    }

    fn shed(&self, step: Step, at: When, line: u32, faults: &mut Vec<Fault>) -> Option<Fact> {
        let slip = self.slip(line);
        let slip = match step {
            Step::Dull => slip.when("dull_at", at),
            Step::Blue => slip.when("blue_at", at),
            Step::Cleared => slip.when("cleared_at", at),
            Step::Off => slip.when("shed_at", at),
            Step::OffWhole => slip.when("shed_at", at).number("pieces", Some(1.0), None),
        };
        slip.read(Kind::Shed, faults)
    }

    fn sheds(&self, row: &grid::Row, at: Option<When>, said: &mut Said, findings: &mut Findings) {
        let line = row.line;
        for (role, cell) in self.cells(row, Meaning::Shed) {
            let usual = match () {
                () if role.words.is_about_blue() => Step::Blue,
                () if role.words.is_about_dull() => Step::Dull,
                () => Step::Off,
            };
            let words = shed_words(cell);
            let (step, when) = match (says::yes(cell), words, self.date_of(role, cell)) {
                (Some(true), ..) => (usual, at),
                (Some(false), ..) => continue,
                (_, Some((Step::Off, _)), _) => (usual, at),
                (_, Some((step, _)), _) => (step, at),
                (_, _, Some(when)) => (usual, Some(when)),
                _ => match at {
                    Some(at) => {
                        self.keep_words(role, cell, at, said, findings);
                        self.doubt_words(role, cell, line, findings);
                        continue;
                    }
                    None => (usual, None),
                },
            };
            if let (Some((_, false)), Some(at)) = (words, at) {
                self.keep_words(role, cell, at, said, findings);
            }
            match when {
                Some(when) => {
                    let fact = self.shed(step, when, line, &mut findings.faults);
                    said.facts.extend(fact.filter(|fact| !said.facts.contains(fact)));
                }
                None => {
                    let what = format!("no date says when `{}` was written down", shortened(cell));
                    findings.faults.push(Fault::new(what, self.place(line, Some(role)), "give the date of the shed"));
                }
            }
        }
    }

    /// Temperatures and humidity; those of one place at one time are one reading.
    fn climate(&self, row: &grid::Row, at: When, said: &mut Said, findings: &mut Findings) {
        let line = row.line;
        let mut readings: Vec<Figures<'_>> = Vec::new();
        for role in self.roles {
            let which = match role.meaning {
                Meaning::Humidity => 1,
                meaning if meaning.spot().is_some() => 0,
                _ => continue,
            };
            let cell = row.cell(role.column);
            if says::is_nothing(cell) {
                continue;
            }
            let Some((figure, _)) = self.figure(role, cell, line, findings) else { continue };
            let figure = Some((figure, self.header(role)));
            let free =
                readings.iter_mut().find(|(place, figures)| *place == role.place && figures.get(which) == Some(&None));
            match free.and_then(|(_, figures)| figures.get_mut(which)) {
                Some(slot) => *slot = figure,
                None => readings.push((role.place, if which == 0 { [figure, None] } else { [None, figure] })),
            }
        }
        for (place, [temperature, humidity]) in readings {
            let slip = self.slip(line).when("at", at).choice("spot", place.spot);
            let slip = slip.number(
                "temperature_c",
                temperature.map(|(figure, _)| figure),
                temperature.map(|(_, header)| header),
            );
            let slip =
                slip.number("humidity_pct", humidity.map(|(figure, _)| figure), humidity.map(|(_, header)| header));
            let slip = slip.choice("period", place.period).choice("means", Some(place.means));
            said.facts.extend(slip.read(Kind::Reading, &mut findings.faults));
        }
    }

    /// Handling and cleaning.
    fn chores(&self, row: &grid::Row, at: When, said: &mut Said, findings: &mut Findings) {
        let line = row.line;
        for (role, cell) in self.cells(row, Meaning::Handling) {
            let minutes = match says::yes(cell) {
                Some(false) => continue,
                Some(true) => None,
                None => match self.figure(role, cell, line, findings) {
                    Some((minutes, _)) => Some(minutes),
                    None => continue,
                },
            };
            let slip = self.slip(line).when("at", at).number("minutes", minutes, Some(self.header(role)));
            said.facts.extend(slip.read(Kind::Handling, &mut findings.faults));
        }
        for (role, cell) in self.cells(row, Meaning::Cleaning) {
            use crate::facts::CleaningTask;
            let usual = match () {
                () if role.words.is_about_water() => CleaningTask::Water,
                () if role.words.is_about_all() => CleaningTask::Full,
                () => CleaningTask::Spot,
            };
            let tasks: Vec<CleaningTask> = match says::yes(cell) {
                Some(true) => vec![usual],
                Some(false) => continue,
                None => match cleaning_words(cell) {
                    Some(tasks) => tasks,
                    None => {
                        self.keep_words(role, cell, at, said, findings);
                        self.doubt_words(role, cell, line, findings);
                        continue;
                    }
                },
            };
            for task in tasks {
                let slip = self.slip(line).when("at", at).choice("task", Some(task));
                said.facts.extend(slip.read(Kind::Cleaning, &mut findings.faults));
            }
        }
    }
}

/// The temperature and the humidity of one place, each with its header.
type Figures<'h> = (Place, [Option<(f64, &'h str)>; 2]);

fn cleaning_words(cell: &str) -> Option<Vec<crate::facts::CleaningTask>> {
    use crate::facts::CleaningTask;
    match fold(cell).as_str() {
        "spot" => return Some(vec![CleaningTask::Spot]),
        "full" | "deep" | "complete" => return Some(vec![CleaningTask::Full]),
        _ => {}
    }
    let read = event::read(cell);
    let task = |happening: &Happening| match happening {
        Happening::Cleaned(task) => Some(*task),
        _ => None,
    };
    let tasks: Option<Vec<CleaningTask>> = read.happenings.iter().map(task).collect();
    tasks.filter(|tasks| read.whole && !tasks.is_empty())
}

/// How a shed went, in the words of a column about sheds, and whether all of them were understood: of «yes, stuck on
/// the tail» it is only understood that there was one.
pub(super) fn shed_words(cell: &str) -> Option<(Step, bool)> {
    if let Some(step) = shed_word(cell) {
        return Some((step, true));
    }
    let parts = cell.split([',', ';', ':', '(', ')', '-', '–']).map(str::trim).filter(|part| !part.is_empty());
    let read: Vec<Option<Step>> = parts
        .map(|part| match says::yes(part) {
            Some(true) => Some(Step::Off),
            _ => shed_word(part),
        })
        .collect();
    let off = |step: &Step| matches!(step, Step::Off | Step::OffWhole);
    let first = read.first().copied().flatten().filter(off)?;
    let all: Option<Vec<Step>> = read.iter().copied().collect();
    match all {
        Some(steps) if steps.iter().all(off) => Some((steps.into_iter().max()?, true)),
        _ => Some((first, false)),
    }
}

fn shed_word(cell: &str) -> Option<Step> {
    match fold(cell).trim_end_matches(['.', '!']) {
        "complete" | "whole" | "one piece" | "in one piece" | "1 piece" | "full" | "perfect" | "clean" | "komplett"
        | "vollstandig" | "complete shed" | "entera" | "entiere" | "intera" => return Some(Step::OffWhole),
        "good" | "ok" | "off" | "skin" => return Some(Step::Off),
        _ => {}
    }
    let read = event::read(cell);
    match (read.whole, read.happenings.as_slice()) {
        (true, [Happening::Shed(step)]) => Some(*step),
        _ => None,
    }
}
