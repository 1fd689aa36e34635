//! A keeper's own table, read by its content: whatever its columns are called, in whatever units and order of dates.
//!
//! Nothing is guessed. What the table settles is taken from it and the reason is kept ([`Column::because`]); what may
//! mean two things is asked ([`Question`]), and no animal is handed out until it is answered. What cannot be read is a
//! fault with its line and column, and then nothing is handed out at all.
//!
//! A log of temperatures is read by [`climate_log`].
//!
//! The way of a file: `decode` (bytes to text), `grid` (text to cells), `table` (its header and its rows), `columns`
//! (what each column means), `values` (a row for each figure), `settle` (units, decimals, order of dates), `rows` and
//! `meals` (cells to records), `animals` (whose they are), `doubts` (what looks odd). The words are in `vocabulary`,
//! `words`, `says`, `prey` and `event`.

mod animals;
mod answers;
mod climate_log;
mod columns;
mod content;
mod date;
mod decode;
mod doubts;
mod event;
mod fingerprint;
mod grid;
mod meals;
mod meaning;
mod number;
mod prey;
mod rows;
mod says;
mod settle;
mod slip;
mod table;
mod telling;
mod understood;
mod unit;
mod values;
mod vocabulary;
mod words;

pub use answers::{Answers, DateOrder, Decimal, LengthUnit, MassUnit, MealMassIs, NoMeal, TemperatureUnit};
pub use climate_log::{ClimateLog, HeaterLogged, LogRow, climate_log};
pub use decode::MOST_BYTES;
pub use grid::{MOST_CELLS, MOST_COLUMNS};
pub use meaning::Meaning;
pub use prey::{NamedPrey, named_prey};
pub use telling::told;
pub use understood::{About, Column, ImportedAnimal, LeftOut, Question, Sample, Understood};

use units::Zone;

use crate::fault::Fault;
use columns::Role;
use rows::{Desk, Findings};
use settle::Settled;

/// So many faults or doubts are told; a table that has more has one of them many times.
const MOST_TOLD: usize = 100;

/// Reads the table in the bytes of the file called `name`, with what the keeper answered before; clock times are those
/// of `zone`. All faults are told at once, and then nothing is kept.
pub fn read(name: &str, bytes: &[u8], answers: &Answers, zone: &Zone) -> Result<Understood, Vec<Fault>> {
    understand(name, bytes, answers, zone).map_err(|faults| at_most(faults, name))
}

fn understand(name: &str, bytes: &[u8], answers: &Answers, zone: &Zone) -> Result<Understood, Vec<Fault>> {
    let decoded = decode::decode(name, bytes, answers).map_err(|fault| vec![fault])?;
    let grid = grid::lay_out(name, &decoded.text).map_err(|fault| vec![fault])?;
    let (delimiter, blank_rows) = (grid.delimiter, grid.blank_rows);
    let mut table = table::find(name, grid)?;
    let width = table.headers.len();
    let (mut roles, mut questions) = columns::recognise(&table, answers)?;
    questions.extend(decoded.question);
    let first: Vec<grid::Row> = table.rows.iter().take(telling::SHOWN).cloned().collect();
    let faults = values::lay_out(&mut table, &mut roles);
    if !faults.is_empty() {
        return Err(faults);
    }
    let settled = settle::settle(&table, &roles, answers, zone);
    if !settled.faults.is_empty() {
        return Err(settled.faults);
    }
    questions.extend(settled.questions.iter().cloned());
    let is_open = !questions.is_empty();
    let guess = if is_open { provisional(&settled, &roles) } else { settled.clone() };
    let desk = Desk { table: &table, roles: &roles, settled: &guess, answers, zone };
    let mut findings = Findings::default();
    let said = table.rows.iter().map(|row| desk.row(row, &mut findings)).collect();
    let mut animals = animals::gather(&desk, said, &mut findings);
    if !is_open && !findings.faults.is_empty() {
        return Err(findings.faults);
    }
    questions.append(&mut findings.questions);
    if !questions.is_empty() {
        // What was read on the way to a question is nobody's record, and its faults may vanish with the answer.
        animals.clear();
        findings = Findings::default();
    } else if animals.is_empty() {
        let mend = "say what its columns mean, or choose another file";
        return Err(vec![Fault::new("the table holds nothing about an animal", name, mend)]);
    }
    let mut told = findings.doubts;
    told.extend(doubts::about(&table, &animals, zone));
    Ok(Understood {
        encoding: decoded.encoding.to_owned(),
        delimiter,
        columns: shown(&table, &roles, &settled, width),
        questions,
        rows: table.rows.len(),
        blank_rows,
        samples: telling::samples(&desk, &first, &animals),
        left_out: std::mem::take(&mut table.left_out),
        animals,
        doubts: at_most(told, name),
        fingerprint: fingerprint::of(bytes),
    })
}

/// Any answers will do to find what else is open: nothing that is read with them is handed out.
fn provisional(settled: &Settled, roles: &[Role]) -> Settled {
    let mut guess = settled.clone();
    guess.decimal = guess.decimal.or(Some(Decimal::Point));
    for role in roles {
        guess.orders.entry(role.column).or_insert(DateOrder::DayFirst);
        let unit = match role.meaning.quantity() {
            Some(unit::Quantity::Mass) => unit::Unit::Gram,
            Some(unit::Quantity::Length) => unit::Unit::Centimetre,
            Some(unit::Quantity::Temperature) => unit::Unit::Celsius,
            _ => continue,
        };
        guess.units.entry(role.column).or_insert(unit);
    }
    guess
}

fn shown(table: &table::Table, roles: &[Role], settled: &Settled, width: usize) -> Vec<Column> {
    let of_role = |role: &Role| {
        let unit = role.meaning.quantity().and_then(|_| settled.units.get(&role.column));
        let why = settled.because.get(&role.column).filter(|why| **why != role.because);
        let why = why.map(|why| format!("; {why}")).unwrap_or_default();
        Column {
            header: table.header(role.column).to_owned(),
            meaning: role.meaning,
            unit: unit.map(|unit| unit.sign().to_owned()),
            because: format!("{}{why}", role.because),
        }
    };
    roles.iter().filter(|role| role.column < width).map(of_role).collect()
}

/// The first faults, and how many more there are.
fn at_most(mut faults: Vec<Fault>, name: &str) -> Vec<Fault> {
    let more = faults.len().saturating_sub(MOST_TOLD);
    if 0 < more {
        faults.truncate(MOST_TOLD);
        faults.push(Fault::new(
            format!("and {more} more such places"),
            name,
            "mend those above, and read the file again",
        ));
    }
    faults
}
