//! What holds for the whole table: the decimal sign, the order of day and month, the units that nothing names. What
//! the cells settle is settled; what they leave open is asked.

use std::collections::{HashMap, HashSet};

use units::Zone;

use super::answers::{Answers, DateOrder, Decimal, LengthUnit, MassUnit, TemperatureUnit};
use super::columns::Role;
use super::date::{self, Written};
use super::meaning::Meaning;
use super::number::{self, Figure, Number};
use super::table::Table;
use super::understood::{About, Question, shortened};
use super::unit::{Quantity, Unit};
use super::{prey, says};
use crate::choice::Choice;
use crate::fault::Fault;

/// What was settled.
#[derive(Clone, Debug, Default)]
pub(super) struct Settled {
    /// The decimal sign, where it matters.
    pub decimal: Option<Decimal>,
    /// The order of day and month in each column of dates, where it matters.
    pub orders: HashMap<usize, DateOrder>,
    /// Columns of dates in which every hour is midnight, as spreadsheets write days: they hold days.
    pub days: HashSet<usize>,
    /// The unit of figures that name none, for each column of figures.
    pub units: HashMap<usize, Unit>,
    /// Why the unit of a column is what it is, where the cells told it.
    pub because: HashMap<usize, String>,
    /// What is open.
    pub questions: Vec<Question>,
    /// Cells that cannot be read.
    pub faults: Vec<Fault>,
}

/// Settles what can be settled.
pub(super) fn settle(table: &Table, roles: &[Role], answers: &Answers, zone: &Zone) -> Settled {
    let mut settled = Settled::default();
    decimals(table, roles, answers, &mut settled);
    dates(table, roles, answers, zone, &mut settled);
    units(table, roles, answers, &mut settled);
    settled
}

/// The figures of a column; cells that are none are left out.
pub(super) fn figure_of(role: &Role, cell: &str) -> Option<Figure> {
    match role.meaning {
        Meaning::Prey => prey::read(cell).mass,
        Meaning::MealMass => number::read(cell).or_else(|| prey::read(cell).mass),
        _ => number::read(cell),
    }
}

fn has_figures(role: &Role) -> bool {
    role.meaning.quantity().is_some() || role.meaning == Meaning::Prey
}

fn decimals(table: &Table, roles: &[Role], answers: &Answers, settled: &mut Settled) {
    let mut shown: [Option<String>; 2] = [None, None];
    let slot = |decimal: Decimal| usize::from(decimal == Decimal::Comma);
    let mut open = None;
    for role in roles.iter().filter(|role| has_figures(role)) {
        for (row, cell) in table.filled(role.column) {
            let Some(figure) = figure_of(role, cell) else { continue };
            for (number, _) in figure.parts {
                let sign = match number {
                    Number::Sure { settles, .. } => settles,
                    // What would be impossible with thousands has decimals.
                    Number::Either { thousands, sign, .. } if role.meaning.largest() < thousands.abs() => Some(sign),
                    Number::Either { decimals, thousands, sign } => {
                        open.get_or_insert_with(|| {
                            let (point, comma) = match sign {
                                Decimal::Point => (decimals, thousands),
                                Decimal::Comma => (thousands, decimals),
                            };
                            let place = table.place(row.line, Some(role.column));
                            format!("{place}: `{}` is {point} (point) or {comma} (comma)", shortened(cell))
                        });
                        None
                    }
                };
                if let Some(place) = sign.and_then(|sign| shown.get_mut(slot(sign))) {
                    place.get_or_insert_with(|| format!("`{}` in line {}", shortened(cell), row.line));
                }
            }
        }
    }
    let [point, comma] = shown;
    settled.decimal = answers.decimal.or(match (&point, &comma) {
        (Some(_), None) => Some(Decimal::Point),
        (None, Some(_)) => Some(Decimal::Comma),
        _ => None,
    });
    let (None, Some(example)) = (settled.decimal, open) else { return };
    let because = match (point, comma) {
        (Some(point), Some(comma)) => format!("the table writes decimals in both ways: {point}, {comma}"),
        _ => "no figure shows whether the sign parts decimals or thousands".to_owned(),
    };
    settled.questions.push(Question { about: About::Decimal, choices: keys::<Decimal>(), because, example });
}

fn keys<T: Choice>() -> Vec<String> {
    T::keys().map(str::to_owned).collect()
}

fn has_dates(role: &Role) -> bool {
    matches!(role.meaning, Meaning::Date | Meaning::Hatched | Meaning::Arrived | Meaning::Shed)
}

/// Dates: each column settles its own order by a day above the twelfth; one that has none follows the others.
fn dates(table: &Table, roles: &[Role], answers: &Answers, zone: &Zone, settled: &mut Settled) {
    let mut found: HashMap<usize, [Option<u32>; 2]> = HashMap::new();
    let mut open: Vec<(usize, u32, String)> = Vec::new();
    for role in roles.iter().filter(|role| has_dates(role)) {
        let column = role.column;
        let mut first_open = None;
        let mut midnights = Some(0);
        for (row, cell) in table.filled(column).filter(|(_, cell)| !says::is_nothing(cell)) {
            let Some(written) = date::read(cell, zone) else {
                if role.meaning != Meaning::Shed {
                    settled.faults.push(no_date(table, role, row.line, cell));
                }
                continue;
            };
            if role.meaning == Meaning::Date && !written.is_day() {
                let what = format!("`{}` is not a day", shortened(cell));
                settled.faults.push(Fault::new(
                    what,
                    table.place(row.line, Some(column)),
                    "give the day, as 2026-03-14",
                ));
            }
            midnights = midnights.filter(|_| written.is_midnight(zone) == Some(true)).map(|count| count + 1);
            if let Some(order) = written.settles() {
                let lines = found.entry(column).or_default();
                if let Some(place) = lines.get_mut(usize::from(order == DateOrder::MonthFirst)) {
                    place.get_or_insert(row.line);
                }
                if answers.date_order.is_some_and(|told| told != order) {
                    let what =
                        format!("`{}` cannot be read with the {}", shortened(cell), order_words(answers.date_order));
                    let mend = "mend the date, or answer the other order";
                    settled.faults.push(Fault::new(what, table.place(row.line, Some(column)), mend));
                }
            } else if written.is_open() && first_open.is_none() {
                first_open = Some((column, row.line, example(table, role, row.line, cell, written, zone)));
            }
        }
        open.extend(first_open);
        // One midnight may be an hour; where every row has it, it is none.
        if midnights.is_some_and(|count| 3 <= count) {
            settled.days.insert(column);
        }
    }
    for (column, lines) in &found {
        if let ([Some(day), Some(month)], None) = (lines, answers.date_order) {
            let what =
                format!("the dates are written in both orders: day first in line {day}, month first in line {month}");
            let mend = "write all dates in one order, best as 2026-03-14";
            settled.faults.push(Fault::new(what, table.place((*day).max(*month), Some(*column)), mend));
        }
    }
    let order_of = |lines: &[Option<u32>; 2]| match lines {
        [Some(_), None] => Some(DateOrder::DayFirst),
        [None, Some(_)] => Some(DateOrder::MonthFirst),
        _ => None,
    };
    let shown: Vec<DateOrder> = found.values().filter_map(order_of).collect();
    let common = shown.first().copied().filter(|first| shown.iter().all(|order| order == first));
    for role in roles.iter().filter(|role| has_dates(role)) {
        let own = found.get(&role.column).and_then(|lines| Some((order_of(lines)?, lines)));
        let (order, because) = match (answers.date_order, own, common) {
            (Some(order), ..) => (order, None),
            (None, Some((order, lines)), _) => {
                let line = lines.iter().flatten().next().copied().unwrap_or_default();
                (order, Some(format!("{}, as line {line} shows", order_words(Some(order)))))
            }
            (None, None, Some(order)) => (order, Some(format!("{}, as in the other dates", order_words(Some(order))))),
            (None, None, None) => continue,
        };
        settled.orders.insert(role.column, order);
        let matters = open.iter().any(|(column, ..)| *column == role.column);
        if let Some(because) = because.filter(|_| matters) {
            settled.because.insert(role.column, because);
        }
    }
    if let Some((_, _, example)) = open.into_iter().find(|(column, ..)| !settled.orders.contains_key(column)) {
        settled.questions.push(Question {
            about: About::DateOrder,
            choices: keys::<DateOrder>(),
            because: "no day above the twelfth shows which comes first".to_owned(),
            example,
        });
    }
}

fn order_words(order: Option<DateOrder>) -> &'static str {
    match order {
        Some(DateOrder::DayFirst) => "day first",
        Some(DateOrder::MonthFirst) => "month first",
        None => "order that was found",
    }
}

fn no_date(table: &Table, role: &Role, line: u32, cell: &str) -> Fault {
    let day_number = number::read(cell)
        .and_then(|figure| figure.plain(None))
        .is_some_and(|days| (10_000.0..80_000.0).contains(&days));
    let mend = match () {
        () if day_number => {
            "it looks like a spreadsheet's number of a day: format the column as a date there, and save again"
        }
        () if role.meaning == Meaning::Date => "write it as 2026-03-14, or 2026-03-14 19:30",
        () => "write it as 2026-03-14; a month (2026-03) or a year is enough where no more is known",
    };
    Fault::new(format!("`{}` is not a date", shortened(cell)), table.place(line, Some(role.column)), mend)
}

fn example(table: &Table, role: &Role, line: u32, cell: &str, written: Written, zone: &Zone) -> String {
    let shown =
        |order| written.when(Some(order), zone).map(|when| zone.date(when.from).to_string()).unwrap_or_default();
    format!(
        "{}: `{}` is {} (day-first) or {} (month-first)",
        table.place(line, Some(role.column)),
        shortened(cell),
        shown(DateOrder::DayFirst),
        shown(DateOrder::MonthFirst)
    )
}

/// The figures of one quantity for which neither header nor cell names a unit.
struct Bare {
    columns: Vec<usize>,
    highest: f64,
    lowest: f64,
    example: String,
}

fn units(table: &Table, roles: &[Role], answers: &Answers, settled: &mut Settled) {
    let mut bare: HashMap<&'static str, Bare> = HashMap::new();
    for role in roles {
        let Some(quantity) = role.meaning.quantity() else { continue };
        let fixed = match quantity {
            Quantity::Humidity => Some(Unit::Percent),
            Quantity::Count => Some(Unit::Piece),
            Quantity::Minutes => role.unit.or(Some(Unit::Minute)),
            _ => role.unit,
        };
        if let Some(unit) = fixed {
            settled.units.insert(role.column, unit);
        }
        for (row, cell) in table.filled(role.column).filter(|(_, cell)| !says::is_nothing(cell)) {
            let Some(figure) = figure_of(role, cell) else {
                settled.faults.extend(no_number(table, role, row.line, cell));
                continue;
            };
            let own = figure.unit();
            if own.is_some_and(|unit| unit.quantity() != quantity) {
                let what = format!("`{}` is not a {}", shortened(cell), role.meaning.words());
                settled.faults.push(Fault::new(
                    what,
                    table.place(row.line, Some(role.column)),
                    "mend the unit, or the column",
                ));
            } else if own.is_none() && fixed.is_none() {
                let Some(value) = figure.plain(settled.decimal).filter(|value| *value != 0.0) else { continue };
                // Of temperatures the whole table has one scale; a mass of prey may have another unit than the animal's.
                let group = match quantity {
                    Quantity::Mass if role.meaning == Meaning::Mass => "mass",
                    Quantity::Mass => "meal",
                    Quantity::Length => "length",
                    _ => "temperature",
                };
                let group = bare.entry(group).or_insert_with(|| Bare {
                    columns: Vec::new(),
                    highest: f64::NEG_INFINITY,
                    lowest: f64::INFINITY,
                    example: format!("{}: `{}`", table.place(row.line, Some(role.column)), shortened(cell)),
                });
                if !group.columns.contains(&role.column) {
                    group.columns.push(role.column);
                }
                group.highest = group.highest.max(value);
                group.lowest = group.lowest.min(value);
            }
        }
    }
    for name in ["mass", "meal", "length", "temperature"] {
        let Some(group) = bare.remove(name) else { continue };
        let told: Option<Unit> = match name {
            "mass" | "meal" => answers.mass_unit.map(Unit::from),
            "length" => answers.length_unit.map(Unit::from),
            _ => answers.temperature_unit.map(Unit::from),
        };
        let found = told.map(|unit| (unit, "you said so".to_owned())).or_else(|| by_size(name, &group));
        match found {
            Some((unit, because)) => {
                for column in group.columns {
                    settled.units.insert(column, unit);
                    settled.because.insert(column, because.clone());
                }
            }
            None => ask_unit(table, name, &group, &mut settled.questions),
        }
    }
}

/// Asks for a unit; of two groups of masses once.
fn ask_unit(table: &Table, name: &str, group: &Bare, questions: &mut Vec<Question>) {
    let named: Vec<String> = group.columns.iter().map(|column| format!("`{}`", table.header(*column))).collect();
    let (about, choices) = match name {
        "length" => (About::LengthUnit, keys::<LengthUnit>()),
        "temperature" => (About::TemperatureUnit, keys::<TemperatureUnit>()),
        _ => (About::MassUnit, keys::<MassUnit>()),
    };
    match questions.iter_mut().find(|question| question.about == about) {
        Some(question) => question.because = format!("{}, {}", question.because, named.join(", ")),
        None => {
            let because = format!("no unit is named, and the figures fit several: {}", named.join(", "));
            questions.push(Question { about, choices, because, example: group.example.clone() });
        }
    }
}

/// A unit that the size of the figures leaves no doubt about.
fn by_size(name: &str, group: &Bare) -> Option<(Unit, String)> {
    /// As kilograms or pounds no snake, as ounces 28 kg, which nobody writes in ounces.
    const SURELY_GRAMS: f64 = 1_000.0;
    /// As inches twelve metres, longer than any snake.
    const SURELY_CENTIMETRES: f64 = 473.0;
    /// As °C no animal lives through it.
    const SURELY_FAHRENHEIT: f64 = 61.0;
    /// As °F it is below 2 °C.
    const SURELY_CELSIUS: f64 = 35.0;
    let (high, low) = (group.highest, group.lowest);
    let because = |unit: Unit, figure: f64| format!("no unit is named; {figure} fits {} alone", unit.sign());
    let settled = |unit, figure| Some((unit, because(unit, figure)));
    match name {
        "mass" | "meal" if SURELY_GRAMS <= high => settled(Unit::Gram, high),
        "length" if SURELY_CENTIMETRES <= high => settled(Unit::Centimetre, high),
        "temperature" if SURELY_FAHRENHEIT <= high && SURELY_CELSIUS <= low => settled(Unit::Fahrenheit, high),
        "temperature" if low < SURELY_CELSIUS && high < SURELY_FAHRENHEIT => settled(Unit::Celsius, low),
        _ => None,
    }
}

fn no_number(table: &Table, role: &Role, line: u32, cell: &str) -> Option<Fault> {
    let is_words = match role.meaning {
        Meaning::Prey => true,
        Meaning::MealMass | Meaning::MealCount => prey::read(cell).is_something() || says::yes(cell) == Some(false),
        Meaning::Handling => says::yes(cell).is_some(),
        _ => false,
    };
    if is_words {
        return None;
    }
    let what = format!("`{}` is not a number", shortened(cell));
    let mend = "write digits with a unit or without, and words in a column of notes";
    Some(Fault::new(what, table.place(line, Some(role.column)), mend))
}
