//! From a row to its meals: prey, mass, number and outcome may stand in columns of their own or in one cell.

use units::When;

use super::answers::{MealMassIs, NoMeal};
use super::columns::Role;
use super::event::Happening;
use super::meaning::Meaning;
use super::rows::{Desk, Findings, Said};
use super::understood::{About, Question, shortened};
use super::{grid, number, prey, says};
use crate::choice::Choice;
use crate::facts::{Kind, Outcome};
use crate::fault::Fault;

/// What a row says about meals.
#[derive(Default)]
pub(super) struct Offers<'a> {
    /// Prey, as far as words name it.
    words: Vec<prey::Words>,
    /// The same by the words of an event; they count where no column names the prey.
    event_words: Vec<prey::Words>,
    /// Cells whose words were not all understood.
    unclear: Vec<(&'a Role, String)>,
    /// The mass that stands in a column of its own, with that column.
    mass: Option<(f64, &'a Role)>,
    /// The number of items that stands in a column of its own.
    count: Option<u32>,
    /// What became of it, as told in several places.
    outcomes: Vec<Outcome>,
    /// A cell that says no, or nought.
    no: Option<(&'a Role, String)>,
    /// Does anything say that there was a meal?
    is_said: bool,
    /// Did an event say that a meal came up?
    came_up: bool,
}

impl<'a> Offers<'a> {
    /// Gathers what a row says.
    pub fn of(desk: &Desk<'a>, row: &grid::Row, events: &[Happening], findings: &mut Findings) -> Offers<'a> {
        let mut offers = Offers::default();
        for happening in events {
            let Happening::Meal(outcome, words) = happening else { continue };
            if *outcome == Some(Outcome::Regurgitated) && words.is_none() {
                offers.came_up = true;
                continue;
            }
            offers.is_said = true;
            offers.outcomes.extend(*outcome);
            offers.event_words.extend(words.clone());
        }
        for (role, cell) in desk.cells(row, Meaning::Prey) {
            offers.prey(role, cell);
        }
        for (role, cell) in desk.cells(row, Meaning::MealMass) {
            offers.mass(desk, row.line, role, cell, findings);
        }
        for (role, cell) in desk.cells(row, Meaning::MealCount) {
            offers.count(desk, row.line, role, cell, findings);
        }
        for (role, cell) in desk.cells(row, Meaning::Outcome) {
            offers.outcome(desk, row.line, role, cell, findings);
        }
        offers
    }

    fn prey(&mut self, role: &'a Role, cell: &str) {
        match says::yes(cell) {
            Some(false) => {
                self.no = Some((role, cell.to_owned()));
                return;
            }
            Some(true) => {
                self.is_said = true;
                return;
            }
            None => {}
        }
        for words in prey::read_all(cell) {
            if !words.whole {
                self.unclear.push((role, cell.to_owned()));
            }
            if words.is_something() {
                self.is_said = true;
                self.outcomes.extend(words.outcome);
                let is_outcome_alone = !words.names_prey && words.mass.is_none() && words.count.is_none();
                if !is_outcome_alone {
                    self.words.push(words);
                }
            }
        }
    }

    fn mass(&mut self, desk: &Desk<'a>, line: u32, role: &'a Role, cell: &str, findings: &mut Findings) {
        if number::read(cell).is_none() {
            self.prey(role, cell);
            return;
        }
        match desk.figure(role, cell, line, findings) {
            Some((0.0, _)) => self.no = Some((role, cell.to_owned())),
            Some((mass, _)) => {
                self.is_said = true;
                self.mass = Some((mass, role));
            }
            None => {}
        }
    }

    fn count(&mut self, desk: &Desk<'a>, line: u32, role: &'a Role, cell: &str, findings: &mut Findings) {
        if number::read(cell).is_none() {
            self.prey(role, cell);
            return;
        }
        let Some((count, _)) = desk.figure(role, cell, line, findings) else { return };
        if count == 0.0 {
            self.no = Some((role, cell.to_owned()));
        } else if count.fract() != 0.0 || !(1.0..=500.0).contains(&count) {
            let what = format!("`{}` is not a number of items", shortened(cell));
            let mend = "write a whole number; a mass belongs in a column of its own";
            findings.faults.push(Fault::new(what, desk.place(line, Some(role)), mend));
        } else {
            self.is_said = true;
            self.count = Some(count as u32);
        }
    }

    fn outcome(&mut self, desk: &Desk<'a>, line: u32, role: &'a Role, cell: &str, findings: &mut Findings) {
        match (says::yes(cell), says::outcome(cell)) {
            (Some(yes), _) if role.words.is_about_refusing() => {
                self.is_said |= yes;
                self.outcomes.push(if yes { Outcome::Refused } else { Outcome::Taken });
            }
            (Some(true), _) => {
                self.is_said = true;
                self.outcomes.push(Outcome::Taken);
            }
            // Beside prey it was refused; alone it leaves open whether anything was offered.
            (Some(false), _) => self.no = Some((role, cell.to_owned())),
            (None, Some(outcome)) => {
                self.is_said = true;
                self.outcomes.push(outcome);
            }
            (None, None) => {
                let words = prey::read(cell);
                if words.is_something() {
                    self.prey(role, cell);
                    return;
                }
                let near = crate::fault::nearest(cell, Outcome::keys(), 2);
                let mend = match near.is_empty() {
                    true => "write taken, refused, left, unseen or regurgitated".to_owned(),
                    false => format!("did you mean {}?", near.join(" or ")),
                };
                let what = format!("`{}` is no outcome of a meal", shortened(cell));
                findings.faults.push(Fault::new(what, desk.place(line, Some(role)), mend));
            }
        }
    }

    /// The meals of the row.
    pub fn meals(mut self, desk: &Desk<'a>, row: &grid::Row, at: When, said: &mut Said, findings: &mut Findings) {
        let line = row.line;
        for (role, cell) in std::mem::take(&mut self.unclear) {
            desk.keep_words(role, &cell, at, said, findings);
            desk.doubt_words(role, &cell, line, findings);
        }
        if self.came_up && !self.is_said {
            said.brought_up = Some(at);
            return;
        }
        if self.came_up {
            self.outcomes.push(Outcome::Regurgitated);
        }
        if let Some((role, cell)) = self.no.take() {
            if self.is_said && self.outcomes.is_empty() {
                self.outcomes.push(Outcome::Refused);
            } else if !self.is_said && !self.was_refused(desk, line, role, &cell, findings) {
                return;
            }
        }
        if !self.is_said {
            return;
        }
        let Some(outcome) = self.what_became(desk, row, findings) else { return };
        let words = std::mem::take(if self.words.is_empty() { &mut self.event_words } else { &mut self.words });
        let words = if words.is_empty() { vec![prey::Words::default()] } else { words };
        let several = 1 < words.len();
        if let Some((_, role)) = self.mass.filter(|_| several) {
            let what = "several kinds of prey and one mass stand in one row; the mass is left out".to_owned();
            findings.doubts.push(Fault::new(what, desk.place(line, Some(role)), "write each kind in a row of its own"));
            desk.keep_words(role, row.cell(role.column), at, said, findings);
            self.mass = None;
        }
        for one in words {
            self.meal(desk, line, at, outcome, &one, said, findings);
        }
    }

    /// Was it refused, where a cell says no and nothing else is said? Asked once; `false` until it is answered.
    fn was_refused(&mut self, desk: &Desk<'a>, line: u32, role: &Role, cell: &str, findings: &mut Findings) -> bool {
        match desk.answers.no_meal {
            Some(NoMeal::NotOffered) => false,
            Some(NoMeal::Refused) => {
                self.is_said = true;
                self.outcomes.push(Outcome::Refused);
                true
            }
            None => {
                findings.ask(Question {
                    about: About::NoMeal,
                    choices: NoMeal::keys().map(str::to_owned).collect(),
                    because: "a no may mean that nothing was offered, or that it was not taken".to_owned(),
                    example: format!("{}: `{}`", desk.place(line, Some(role)), shortened(cell)),
                });
                false
            }
        }
    }

    /// What became of the meal; `None` when that is open or told in two ways.
    fn what_became(&self, desk: &Desk<'a>, row: &grid::Row, findings: &mut Findings) -> Option<Outcome> {
        let mut told = self.outcomes.clone();
        told.sort_unstable();
        told.dedup();
        match told.as_slice() {
            [one] => return Some(*one),
            // What came up had been taken.
            [Outcome::Taken, Outcome::Regurgitated] => return Some(Outcome::Regurgitated),
            [first, second, ..] => {
                let what = format!("the row says that the meal was {first} and that it was {second}");
                findings.faults.push(Fault::new(what, desk.place(row.line, None), "leave one of the two"));
                return None;
            }
            [] => {}
        }
        let mut columns = desk.roles.iter().filter(|role| role.meaning == Meaning::Outcome);
        let says_refusals_only = |role: &&Role| role.words.is_about_refusing();
        let is_open = match columns.clone().next() {
            Some(_) => !columns.all(|role| says_refusals_only(&role)),
            None => desk.roles.iter().any(|role| role.words.has_offered() && role.meaning != Meaning::Ignored),
        };
        let note = speaks_against(desk, row);
        if let Some(outcome) = note.and_then(|(_, cell)| says::outcome(cell)) {
            return Some(outcome);
        }
        if !is_open && note.is_none() {
            return Some(Outcome::Taken);
        }
        if desk.answers.outcome.is_none() {
            let (because, example) = match note {
                Some((role, cell)) => {
                    let place = desk.place(row.line, Some(role));
                    ("words beside a meal speak of a refusal", format!("{place}: `{}`", shortened(cell)))
                }
                None => ("some meals have no outcome", desk.place(row.line, None)),
            };
            findings.ask(Question {
                about: About::Outcome,
                choices: Outcome::keys().map(str::to_owned).collect(),
                because: because.to_owned(),
                example,
            });
        }
        desk.answers.outcome
    }

    #[expect(clippy::too_many_arguments, reason = "a meal needs all that its row and its table say")]
    fn meal(
        &self,
        desk: &Desk<'a>,
        line: u32,
        at: When,
        outcome: Outcome,
        words: &prey::Words,
        said: &mut Said,
        findings: &mut Findings,
    ) {
        if let (Some(one), Some(other)) = (words.count, self.count)
            && one != other
        {
            let what = format!("the row says that there were {one} items and that there were {other}");
            findings.faults.push(Fault::new(what, desk.place(line, None), "leave one of the two"));
        }
        let count = words.count.or(self.count).unwrap_or(1);
        let own = words.mass.as_ref().map(|mass| mass.kept(desk.settled.decimal, None));
        if own == Some(None) {
            let mend = "write the mass with a decimal sign that cannot part thousands, such as `1.20 kg`";
            findings.faults.push(Fault::new("the mass of the prey cannot be read", desk.place(line, None), mend));
            return;
        }
        let own = own.flatten();
        if let (Some(one), Some((other, role))) = (own, self.mass)
            && 0.005 * other < (one - other).abs()
        {
            let what = format!("the row says that the prey weighed {one} g and that it weighed {other} g");
            findings.faults.push(Fault::new(what, desk.place(line, Some(role)), "leave one of the two"));
        }
        let mass = own.or(self.mass.map(|(mass, _)| mass));
        let header = self.mass.map(|(_, role)| desk.header(role));
        let mass = match mass.filter(|_| 1 < count && !(own.is_some() && words.each)) {
            None => mass,
            Some(mass) => match self.sense(desk, line, findings) {
                Some(MealMassIs::Each) => Some(mass),
                Some(MealMassIs::Total) => Some(mass / f64::from(count)),
                None => return,
            },
        };
        let slip = desk.slip(line).when("at", at).choice("prey", words.class).number("mass_g", mass, header);
        let slip =
            slip.number("count", (count != 1).then_some(f64::from(count)), None).choice("outcome", Some(outcome));
        said.facts.extend(slip.choice("state", words.state).read(Kind::Meal, &mut findings.faults));
    }

    /// Is the mass of several items that of each or of all?
    fn sense(&self, desk: &Desk<'a>, line: u32, findings: &mut Findings) -> Option<MealMassIs> {
        let header = self.mass.map(|(_, role)| &role.words);
        if header.is_some_and(|words| words.says_total()) {
            return Some(MealMassIs::Total);
        }
        if header.is_some_and(|words| words.says_each()) {
            return Some(MealMassIs::Each);
        }
        if desk.answers.meal_mass_is.is_none() {
            findings.ask(Question {
                about: About::MealMass,
                choices: MealMassIs::keys().map(str::to_owned).collect(),
                because: "a meal of several items has one mass: that of each, or of all together".to_owned(),
                example: desk.place(line, self.mass.map(|(_, role)| role)),
            });
        }
        desk.answers.meal_mass_is
    }
}

/// Words of the row that do not fit a meal that was eaten: free notes that speak of a refusal, and cells about the meal
/// that were not understood whole and say «no» somewhere.
fn speaks_against<'r, 'a: 'r>(desk: &Desk<'a>, row: &'r grid::Row) -> Option<(&'a Role, &'r str)> {
    let notes = desk.cells(row, Meaning::Note).find(|(_, cell)| says::speaks_of_refusal(cell));
    let unclear = |cell: &str| says::speaks_of_refusal(cell) || says::denies(cell);
    let about_meals = [Meaning::Prey, Meaning::MealMass, Meaning::MealCount, Meaning::Event];
    let mut cells = about_meals.into_iter().flat_map(|meaning| desk.cells(row, meaning));
    notes.or_else(|| cells.find(|(_, cell)| unclear(cell)))
}
