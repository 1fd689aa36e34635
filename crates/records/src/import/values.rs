//! Tables with a row for each figure, where one column says what it is and another how much: the figures are laid out
//! in columns of their own before anything else is done.

use super::columns::Role;
use super::event::{self, Happening};
use super::meaning::Meaning;
use super::table::Table;
use super::understood::shortened;
use super::unit::Quantity;
use super::words::Header;
use super::{number, prey, says};
use crate::fault::Fault;

/// Lays the column of figures out by what the kind of each row says.
pub(super) fn lay_out(table: &mut Table, roles: &mut Vec<Role>) -> Vec<Fault> {
    let find = |meaning: Meaning| roles.iter().find(|role| role.meaning == meaning).cloned();
    let Some(value) = find(Meaning::Value) else {
        return Vec::new();
    };
    let unit = find(Meaning::Unit).map(|role| role.column);
    let Some(kind) = find(Meaning::Event).map(|role| role.column) else {
        let mend = "say which column names the kind of each row, or what the figures are";
        let what = format!("nothing tells what the figures of `{}` are", table.header(value.column));
        return vec![Fault::new(what, table.name.clone(), mend)];
    };
    let mut faults = Vec::new();
    let mut laid: Vec<(Meaning, Header, usize)> = Vec::new();
    let mut width = table.headers.len();
    for at in 0..table.rows.len() {
        let Some(row) = table.rows.get(at) else { continue };
        let cell = row.cell(value.column);
        if says::is_nothing(cell) {
            continue;
        }
        let (line, kind_cell) = (row.line, row.cell(kind).to_owned());
        let cell = match unit.map(|unit| row.cell(unit)).filter(|unit| !unit.is_empty()) {
            Some(unit) if number::read(cell).is_some_and(|figure| figure.unit().is_none()) => format!("{cell} {unit}"),
            _ => cell.to_owned(),
        };
        let meaning = match meaning_of(&kind_cell, &cell) {
            Ok(meaning) => meaning,
            Err(Unclear) => {
                let what = format!("`{}` may be the mass of the prey or the number of items", shortened(&cell));
                let place = table.place(line, Some(value.column));
                faults.push(Fault::new(what, place, "write `20 g` for a mass, `2 x` for a number"));
                continue;
            }
        };
        let words = Header::read(&kind_cell);
        let place = words.place().under(meaning);
        let known = laid.iter().find(|(other, header, _)| *other == meaning && header.place().under(meaning) == place);
        let column = known.map_or(width, |(_, _, column)| *column);
        if column == width {
            laid.push((meaning, words, column));
            table.headers.push(table.header(value.column).to_owned());
            width += 1;
        }
        // A kind such as «warm side» is spent: it says what the figure is, and nothing happened besides.
        let is_spent = !event::read(&kind_cell).whole || meaning == Meaning::Shed;
        let text = if meaning == Meaning::Note && is_spent { format!("{kind_cell}: {cell}") } else { cell };
        let Some(row) = table.rows.get_mut(at) else { continue };
        row.cells.resize(width.max(row.cells.len()), String::new());
        if let Some(place) = row.cells.get_mut(column) {
            *place = text;
        }
        if is_spent && let Some(place) = row.cells.get_mut(kind) {
            place.clear();
        }
    }
    for (meaning, words, column) in laid {
        let unit = meaning.quantity().and_then(|quantity| words.unit(quantity).or_else(|| value.words.unit(quantity)));
        let place = words.place().under(meaning);
        let because = "the kind of the row tells".to_owned();
        roles.push(Role {
            column,
            meaning,
            unit,
            because,
            words,
            place,
            is_labelled: false,
            is_once: false,
            is_told: false,
        });
    }
    faults
}

/// The figure of a meal may be a mass or a number.
struct Unclear;

fn meaning_of(kind: &str, cell: &str) -> Result<Meaning, Unclear> {
    let figure = number::read(cell);
    let is_meal = event::read(kind).happenings.iter().any(|one| matches!(one, Happening::Meal(..)));
    if is_meal {
        return match figure.as_ref().map(|figure| figure.unit().map(super::unit::Unit::quantity)) {
            Some(Some(Quantity::Mass)) => Ok(Meaning::MealMass),
            Some(None) => Err(Unclear),
            _ if prey::read(cell).is_something() => Ok(Meaning::Prey),
            _ => Ok(Meaning::Note),
        };
    }
    let is_shed = matches!(event::read(kind).happenings.as_slice(), [Happening::Shed(event::Step::Off)]);
    if is_shed && super::rows::shed_words(cell).is_some() {
        return Ok(Meaning::Shed);
    }
    let of_figures = |meaning: &Meaning| meaning.quantity().is_some();
    let by_words = Header::read(kind).suggests().into_iter().find(of_figures);
    let weighed = event::read(kind).happenings.contains(&Happening::Weighed).then_some(Meaning::Mass);
    let by_unit = figure.as_ref().and_then(number::Figure::unit).map(super::unit::Unit::quantity);
    Ok(match weighed.or(by_words).filter(|_| figure.is_some()) {
        Some(meaning) if by_unit.is_none_or(|quantity| meaning.quantity() == Some(quantity)) => meaning,
        _ => Meaning::Note,
    })
}
