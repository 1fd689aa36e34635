//! Which column means what: by what the keeper says, by the words above it, by its cells, in this order. What fits two
//! meanings is asked.

use super::answers::Answers;
use super::content::Content;
use super::event::{self, Happening};
use super::grid::Row;
use super::meaning::{Meaning, Place};
use super::says;
use super::table::Table;
use super::understood::{About, Question, shortened};
use super::unit::{Quantity, Unit};
use super::words::{Header, fold};
use crate::choice::Choice;
use crate::fault::{Fault, nearest};

/// A column with its meaning.
#[derive(Clone, Debug)]
pub(super) struct Role {
    /// Its place in the rows.
    pub column: usize,
    /// What it means.
    pub meaning: Meaning,
    /// The unit that is named for all of its figures.
    pub unit: Option<Unit>,
    /// Why it was understood so.
    pub because: String,
    /// The words above it.
    pub words: Header,
    /// Where its figures were read.
    pub place: Place,
    /// Is it kept as notes only because nothing else was understood? Then its header is kept too.
    pub is_labelled: bool,
    /// Does it say one thing of each animal, so that once is enough?
    pub is_once: bool,
    /// Was its meaning told by the keeper?
    pub is_told: bool,
}

/// The meanings of all columns, and what is open about them.
pub(super) fn recognise(table: &Table, answers: &Answers) -> Result<(Vec<Role>, Vec<Question>), Vec<Fault>> {
    let told = told(table, answers)?;
    let mut questions = Vec::new();
    let mut roles = Vec::new();
    let contents: Vec<Content> = (0..table.headers.len()).map(|column| Content::of(table, column)).collect();
    for (column, content) in contents.iter().enumerate() {
        let words = table.words.get(column).cloned().unwrap_or_else(|| Header::read(""));
        let found = match told.get(column).copied().flatten() {
            Some(meaning) => Found::Clear(meaning, "you said so".to_owned()),
            None => meaning(table, column, &words, content),
        };
        let is_told = told.get(column).copied().flatten().is_some();
        let (meaning, because, is_labelled) = match found {
            Found::Clear(meaning, because) => (meaning, because, false),
            Found::Words => (Meaning::Note, "its words fit no other meaning; they are kept as notes".to_owned(), true),
            Found::Open(choices, because) => {
                questions.push(ask(table, column, &choices, &because));
                (Meaning::Ignored, because, false)
            }
        };
        let place = words.place().under(meaning);
        roles.push(Role { column, meaning, unit: None, because, words, place, is_labelled, is_once: false, is_told });
    }
    values_need_kinds(table, &contents, &mut roles, &mut questions);
    one_identity(table, &mut roles, &mut questions);
    once(table, &mut roles);
    one_of_each(table, &mut roles, &mut questions);
    date_by_content(table, &contents, &mut roles, &mut questions);
    whose_mass(table, &mut roles, &mut questions);
    whose_count(table, &mut roles, &mut questions);
    let faults = units(table, answers, &mut roles);
    if faults.is_empty() { Ok((roles, questions)) } else { Err(faults) }
}

enum Found {
    Clear(Meaning, String),
    /// Words that fit nothing.
    Words,
    /// Several meanings fit.
    Open(Vec<Meaning>, String),
}

/// The column that the keeper means by a header.
fn column_of(table: &Table, header: &str) -> Result<usize, Fault> {
    let folded = fold(header.trim());
    table.headers.iter().position(|known| fold(known) == folded).ok_or_else(|| {
        let near = nearest(header, table.headers.iter().map(String::as_str), 1);
        let mend = match near.first() {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("its columns: {}", table.headers.iter().take(40).cloned().collect::<Vec<_>>().join(", ")),
        };
        Fault::new(format!("the table has no column `{header}`"), table.name.clone(), mend)
    })
}

fn told(table: &Table, answers: &Answers) -> Result<Vec<Option<Meaning>>, Vec<Fault>> {
    let mut told = vec![None; table.headers.len()];
    let mut faults = Vec::new();
    for (header, meaning) in &answers.columns {
        match column_of(table, header) {
            Ok(column) => {
                if let Some(place) = told.get_mut(column) {
                    *place = Some(*meaning);
                }
            }
            Err(fault) => faults.push(fault),
        }
    }
    for (index, meaning) in told.iter().enumerate() {
        let Some(meaning) = meaning.filter(|meaning| !meaning.may_repeat()) else { continue };
        if told.iter().take(index).any(|other| *other == Some(meaning)) {
            let what = format!("two columns are said to be `{}`", meaning.key());
            faults.push(Fault::new(
                what,
                table.place(1, Some(index)),
                "name one of them; the other may be `note` or `ignored`",
            ));
        }
    }
    if faults.is_empty() { Ok(told) } else { Err(faults) }
}

fn meaning(table: &Table, column: usize, words: &Header, content: &Content) -> Found {
    let header = table.header(column);
    let suggested = words.suggests();
    if content.filled == 0 && suggested.first() == Some(&Meaning::Outcome) && words.is_about_outcomes() {
        // Left empty beside a meal, it leaves open what became of it.
        return Found::Clear(Meaning::Outcome, format!("its header says `{header}`, and it is empty"));
    }
    if content.filled == 0 {
        return Found::Clear(Meaning::Ignored, "it is empty".to_owned());
    }
    let by_words = |meaning: Meaning| Found::Clear(meaning, format!("its header says `{header}`"));
    if suggested.contains(&Meaning::MealMass) && suggested.contains(&Meaning::MealCount) {
        let fitting =
            suggested.iter().copied().find(|meaning| *meaning != Meaning::MealCount && content.fits(*meaning));
        return match fitting {
            Some(meaning) => Found::Clear(meaning, format!("its header says `{header}`, and its cells fit")),
            None if content.is_numeric() => {
                let choices = vec![Meaning::MealMass, Meaning::MealCount, Meaning::Note, Meaning::Ignored];
                Found::Open(choices, "its figures may be the mass of the prey or the number of items".to_owned())
            }
            None if content.is_days() => open_days(),
            None => unknown_words(&suggested),
        };
    }
    if let [only] = suggested.as_slice() {
        let mass_in_words = *only == Meaning::MealMass && (content.is_numeric() || content.fits(Meaning::Prey));
        // A column of dates that holds few dates is more likely faulty than something else: its cells are told. So are
        // unknown words for what became of a meal, which would pass for one that was eaten.
        let stays = match only {
            Meaning::Date | Meaning::Sex | Meaning::Mass | Meaning::Outcome => true,
            Meaning::Hatched | Meaning::Arrived => content.has_dates(),
            _ => false,
        };
        if mass_in_words || content.fits(*only) || stays {
            return by_words(*only);
        }
    } else if let Some(fitting) = suggested.iter().copied().find(|meaning| content.fits(*meaning)) {
        return by_words(fitting);
    }
    if content.is_serial {
        return Found::Clear(Meaning::Ignored, "it counts the rows".to_owned());
    }
    if words.is_age() && content.is_numeric() {
        let because = "an age holds for one day only; the date of hatching says the same for all days".to_owned();
        return Found::Open(vec![Meaning::Ignored, Meaning::Note], because);
    }
    match by_cells(table, content) {
        Found::Words if !suggested.is_empty() => unknown_words(&suggested),
        found => found,
    }
}

/// Its header says what it is, and its words are not those that are known.
fn unknown_words(suggested: &[Meaning]) -> Found {
    let mut choices: Vec<Meaning> = suggested.iter().copied().filter(|meaning| meaning.quantity().is_none()).collect();
    choices.retain(|meaning| *meaning != Meaning::Note);
    choices.extend([Meaning::Note, Meaning::Ignored]);
    Found::Open(choices, "its header tells what it is, but its words are not understood so".to_owned())
}

fn by_cells(table: &Table, content: &Content) -> Found {
    if let Some(meaning) = content.tells() {
        return match meaning {
            Meaning::Date if table.is_named => open_days(),
            meaning => Found::Clear(meaning, "its cells look so".to_owned()),
        };
    }
    if content.is_numeric() {
        let of_quantity =
            |quantity| Meaning::ALL.iter().copied().filter(move |meaning| meaning.quantity() == Some(quantity));
        let mut choices: Vec<Meaning> = match content.quantity() {
            Some(quantity) => of_quantity(quantity).collect(),
            None => Meaning::ALL.iter().copied().filter(|meaning| meaning.quantity().is_some()).collect(),
        };
        choices.extend([Meaning::Note, Meaning::Ignored]);
        return Found::Open(choices, "its header does not tell what its figures are".to_owned());
    }
    if table.is_named {
        return Found::Words;
    }
    let choices =
        vec![Meaning::Animal, Meaning::Species, Meaning::Event, Meaning::Prey, Meaning::Note, Meaning::Ignored];
    Found::Open(choices, "the table has no header, and its words may mean several things".to_owned())
}

fn open_days() -> Found {
    let choices =
        vec![Meaning::Date, Meaning::Shed, Meaning::Hatched, Meaning::Arrived, Meaning::Note, Meaning::Ignored];
    Found::Open(choices, "its header does not tell what happened on its days".to_owned())
}

/// A question about a column, with its first cell as an example.
pub(super) fn ask(table: &Table, column: usize, choices: &[Meaning], because: &str) -> Question {
    let example = match table.filled(column).next() {
        Some((row, cell)) => format!("`{}` in line {}", shortened(cell), row.line),
        None => String::new(),
    };
    Question {
        about: About::Column(table.header(column).to_owned()),
        choices: choices.iter().map(|meaning| meaning.key().to_owned()).collect(),
        because: because.to_owned(),
        example,
    }
}

/// Of several columns that name the animal the one with its name; one that says the same is left out.
fn one_identity(table: &Table, roles: &mut [Role], questions: &mut Vec<Question>) {
    let mut naming: Vec<(bool, u8, usize)> = roles
        .iter()
        .enumerate()
        .filter(|(_, role)| role.meaning == Meaning::Animal)
        .map(|(at, role)| (!role.is_told, role.words.rank_as_identity(), at))
        .collect();
    naming.sort_unstable();
    let Some(((_, _, best), others)) = naming.split_first() else { return };
    for (_, _, at) in others {
        let (chosen, other) =
            (roles.get(*best).map_or(0, |role| role.column), roles.get(*at).map_or(0, |role| role.column));
        let Some(role) = roles.get_mut(*at) else { continue };
        role.meaning = Meaning::Ignored;
        if pairs_up(table, chosen, other) {
            role.because = format!("it goes with `{}`, which names the animal", table.header(chosen));
            continue;
        }
        role.because = format!("`{}` names the animal, but not as this column does", table.header(chosen));
        questions.push(ask(table, other, &[Meaning::Ignored, Meaning::Note, Meaning::Animal], &role.because));
    }
}

/// Does each name in one column stand beside the same name in the other, and the other way round?
fn pairs_up(table: &Table, one: usize, other: usize) -> bool {
    let mut there = std::collections::HashMap::new();
    let mut back = std::collections::HashMap::new();
    table
        .rows
        .iter()
        .map(|row| (row.cell(one), row.cell(other)))
        .filter(|(a, b)| !a.is_empty() && !b.is_empty())
        .all(|(a, b)| *there.entry(a).or_insert(b) == b && *back.entry(b).or_insert(a) == a)
}

/// A figure, or words, whose sense the kind of the row tells: without a column of kinds they have none.
fn values_need_kinds(table: &Table, contents: &[Content], roles: &mut [Role], questions: &mut Vec<Question>) {
    if roles.iter().any(|role| role.meaning == Meaning::Event) {
        return;
    }
    for role in roles.iter_mut().filter(|role| role.meaning == Meaning::Value && !role.is_told) {
        let Some(content) = contents.get(role.column) else { continue };
        match by_cells(table, content) {
            Found::Clear(meaning, because) => (role.meaning, role.because) = (meaning, because),
            Found::Words => {
                role.meaning = Meaning::Note;
                role.because =
                    format!("its header says `{}`, and no column tells kinds of rows", table.header(role.column));
            }
            Found::Open(choices, because) => {
                questions.push(ask(table, role.column, &choices, &because));
                (role.meaning, role.because) = (Meaning::Ignored, because);
            }
        }
    }
}

/// Columns such as a colour form say the same in every row of an animal.
fn once(table: &Table, roles: &mut [Role]) {
    let animal = roles.iter().find(|role| role.meaning == Meaning::Animal).map(|role| role.column);
    for role in roles.iter_mut().filter(|role| role.is_labelled) {
        let mut said = std::collections::HashMap::new();
        let cells = table.filled(role.column).map(|(row, cell)| (animal.map_or("", |column| row.cell(column)), cell));
        role.is_once = cells.into_iter().all(|(animal, cell)| *said.entry(animal).or_insert(cell) == cell);
    }
}

/// Of several columns with a meaning that only one can have, the one that was told (or the first) has it.
fn one_of_each(table: &Table, roles: &mut [Role], questions: &mut Vec<Question>) {
    for meaning in Meaning::ALL.iter().copied().filter(|meaning| !meaning.may_repeat()) {
        // Temperatures of one spot at different hours of the day are different figures.
        let same = |a: &Role, b: &Role| a.place == b.place || a.meaning.quantity() != Some(Quantity::Temperature);
        let mut holders: Vec<usize> =
            roles.iter().enumerate().filter(|(_, role)| role.meaning == meaning).map(|(at, _)| at).collect();
        holders.sort_by_key(|at| roles.get(*at).is_some_and(|role| !role.is_told));
        let Some((first, later)) = holders.split_first() else { continue };
        let Some(first) = roles.get(*first).cloned() else { continue };
        for at in later {
            let Some(role) = roles.get_mut(*at).filter(|role| same(&first, role)) else { continue };
            role.because = format!("`{}` already means `{}`", table.header(first.column), meaning.key());
            role.meaning = Meaning::Ignored;
            let quantity = meaning.quantity();
            let mut choices: Vec<Meaning> = Meaning::ALL
                .iter()
                .copied()
                .filter(|other| *other != meaning && other.quantity() == quantity && quantity.is_some())
                .collect();
            if meaning == Meaning::Date {
                choices.extend([Meaning::Hatched, Meaning::Arrived, Meaning::Shed]);
            }
            choices.extend([Meaning::Note, Meaning::Ignored]);
            questions.push(ask(table, role.column, &choices, &role.because));
        }
    }
}

/// Where no column is headed as the date and the cells of exactly one are days, that one is it.
fn date_by_content(table: &Table, contents: &[Content], roles: &mut [Role], questions: &mut Vec<Question>) {
    if roles.iter().any(|role| role.meaning == Meaning::Date) {
        return;
    }
    let is_open = |role: &Role| {
        let content = contents.get(role.column);
        // «Last fed» is a day, too, but not that of a weighing beside it.
        let says_more = role.words.has_known_words();
        role.meaning == Meaning::Ignored && !role.is_told && !says_more && content.is_some_and(Content::is_days)
    };
    let days: Vec<usize> = roles.iter().enumerate().filter(|(_, role)| is_open(role)).map(|(at, _)| at).collect();
    let [only] = days.as_slice() else { return };
    if let Some(role) = roles.get_mut(*only) {
        role.meaning = Meaning::Date;
        role.because = "its cells are days, and no other column is headed as the date".to_owned();
        let header = table.header(role.column).to_owned();
        questions.retain(|question| question.about != About::Column(header.clone()));
    }
}

/// A weight that always stands beside prey may be the prey's.
fn whose_mass(table: &Table, roles: &mut [Role], questions: &mut Vec<Question>) {
    let is = |meaning: Meaning| roles.iter().filter(move |role| role.meaning == meaning);
    if is(Meaning::MealMass).next().is_some() || is(Meaning::Value).next().is_some() {
        return;
    }
    let Some(mass) = is(Meaning::Mass).find(|role| !role.is_told && !role.words.is_of_body()) else { return };
    let column = mass.column;
    let meals = Meals::of(roles, &[Meaning::Prey, Meaning::MealCount, Meaning::Outcome]);
    let (mut with, mut without, mut kinds) = (0usize, 0usize, 0usize);
    for (row, _) in table.filled(column).filter(|(_, cell)| !says::is_nothing(cell)) {
        if !meals.weighs(row) && (meals.is_fed(row) || meals.says_meal(row)) {
            with += 1;
            kinds += usize::from(meals.says_meal(row));
        } else {
            without += 1;
        }
    }
    let always = 0 < with && without == 0;
    if !always && kinds == 0 {
        return;
    }
    let because = "its figures stand beside prey: they may be the mass of the animal or of the prey".to_owned();
    let mut choices = vec![Meaning::Mass, Meaning::MealMass];
    if 0 < kinds {
        choices.push(Meaning::Value);
    }
    questions.push(ask(table, column, &choices, &because));
}

/// A number that stands in rows without a meal counts something else: eggs, young, animals.
fn whose_count(table: &Table, roles: &mut [Role], questions: &mut Vec<Question>) {
    let meals = Meals::of(roles, &[Meaning::Prey, Meaning::MealMass, Meaning::Outcome]);
    let is_bare =
        |role: &&mut Role| role.meaning == Meaning::MealCount && !role.is_told && !role.words.is_about_meals();
    let Some(role) = roles.iter_mut().find(is_bare) else { return };
    let counted = |(row, cell): (&Row, &str)| !says::is_nothing(cell) && !meals.is_fed(row) && !meals.says_meal(row);
    if table.filled(role.column).any(counted) {
        role.meaning = Meaning::Ignored;
        role.because = "it counts something in rows that tell of no meal".to_owned();
        questions.push(ask(table, role.column, &[Meaning::MealCount, Meaning::Note, Meaning::Ignored], &role.because));
    }
}

/// Which rows tell of a meal.
struct Meals {
    columns: Vec<usize>,
    events: Vec<usize>,
}

impl Meals {
    fn of(roles: &[Role], meanings: &[Meaning]) -> Meals {
        let columns = roles.iter().filter(|role| meanings.contains(&role.meaning)).map(|role| role.column).collect();
        let events = roles.iter().filter(|role| role.meaning == Meaning::Event).map(|role| role.column).collect();
        Meals { columns, events }
    }

    /// Does a column about meals hold something?
    fn is_fed(&self, row: &Row) -> bool {
        self.columns.iter().any(|column| !says::is_nothing(row.cell(*column)))
    }

    /// Does an event tell of a meal?
    fn says_meal(&self, row: &Row) -> bool {
        self.happens(row, |happening| matches!(happening, Happening::Meal(..)))
    }

    /// Does an event tell of a weighing?
    fn weighs(&self, row: &Row) -> bool {
        self.happens(row, |happening| *happening == Happening::Weighed)
    }

    fn happens(&self, row: &Row, is: fn(&Happening) -> bool) -> bool {
        let filled = self.events.iter().map(|column| row.cell(*column)).filter(|cell| !cell.is_empty());
        filled.into_iter().any(|cell| event::read(cell).happenings.iter().any(is))
    }
}

/// The units that are named for whole columns.
fn units(table: &Table, answers: &Answers, roles: &mut [Role]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for role in roles.iter_mut() {
        let Some(quantity) = role.meaning.quantity() else { continue };
        let below = table.units.get(role.column).copied().flatten().filter(|unit| unit.quantity() == quantity);
        role.unit = role.words.unit(quantity).or(below);
        if quantity == Quantity::Minutes {
            role.unit = role.unit.or(Some(Unit::Minute));
        }
    }
    for (header, unit) in &answers.units {
        let column = match column_of(table, header) {
            Ok(column) => column,
            Err(fault) => {
                faults.push(fault);
                continue;
            }
        };
        let Some(role) = roles.iter_mut().find(|role| role.column == column) else { continue };
        match Unit::from_word(fold(unit).trim()).filter(|unit| Some(unit.quantity()) == role.meaning.quantity()) {
            Some(unit) => role.unit = Some(unit),
            None => {
                let what =
                    format!("`{unit}` is no unit of the column `{header}`, which means `{}`", role.meaning.key());
                faults.push(Fault::new(
                    what,
                    table.name.clone(),
                    "name one such as g, oz, cm, in, C or F, or leave it out",
                ));
            }
        }
    }
    faults
}
