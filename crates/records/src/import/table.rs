//! From rows to a table: where its header stands, and which rows are not about an animal.

use super::date;
use super::grid::{Grid, Row, is_datum};
use super::understood::LeftOut;
use super::unit::Unit;
use super::words::{Header, fold};
use crate::fault::Fault;

/// A table with its header.
#[derive(Debug)]
pub(super) struct Table {
    /// The name of the file.
    pub name: String,
    /// The headers as they are shown: each once, none empty.
    pub headers: Vec<String>,
    /// Their words.
    pub words: Vec<Header>,
    /// Units that a row of their own gives below the header.
    pub units: Vec<Option<Unit>>,
    /// Has it a header?
    pub is_named: bool,
    /// The rows about animals.
    pub rows: Vec<Row>,
    /// The other rows.
    pub left_out: Vec<LeftOut>,
}

impl Table {
    /// A place in the file, in words.
    pub fn place(&self, line: u32, column: Option<usize>) -> String {
        match column.and_then(|column| self.headers.get(column)) {
            Some(header) => format!("{}, line {line}, column {header}", self.name),
            None => format!("{}, line {line}", self.name),
        }
    }

    /// The header of a column.
    pub fn header(&self, column: usize) -> &str {
        self.headers.get(column).map_or("", String::as_str)
    }

    /// The cells of a column that hold something, with their rows.
    pub fn filled(&self, column: usize) -> impl Iterator<Item = (&Row, &str)> {
        self.rows.iter().map(move |row| (row, row.cell(column))).filter(|(_, cell)| !cell.is_empty())
    }
}

/// How far down a header is looked for.
const DEEPEST_HEADER: usize = 30;

/// Finds the header, and parts the rows about animals from the others.
pub(super) fn find(name: &str, grid: Grid) -> Result<Table, Vec<Fault>> {
    let head = head(&grid.rows);
    let width = match head {
        Some(at) => grid.rows.get(at).map_or(0, |row| row.width),
        None => grid.rows.first().map_or(0, |row| row.width),
    };
    let header: Vec<String> = head.and_then(|at| grid.rows.get(at)).map(|row| row.cells.clone()).unwrap_or_default();
    let needed = header.iter().rposition(|cell| !cell.is_empty()).map_or(width, |last| last + 1);
    let mut table = Table {
        name: name.to_owned(),
        headers: shown(&header, width),
        words: (0..width).map(|column| Header::read(header.get(column).map_or("", String::as_str))).collect(),
        units: vec![None; width],
        is_named: head.is_some(),
        rows: Vec::new(),
        left_out: Vec::new(),
    };
    let mut faults = Vec::new();
    let first = head.map_or(0, |at| at + 1);
    for (at, row) in grid.rows.into_iter().enumerate() {
        let line = row.line;
        let because = match () {
            () if Some(at) == head => continue,
            () if is_comment(&row, width) => "a comment",
            () if at < first => "it stands above the header",
            () if head.is_some() && same(&row, &header) => "the header, repeated",
            () if at == first && head.is_some() && units(&row).is_some() => {
                table.units = units(&row).unwrap_or_default();
                "the units of the columns"
            }
            () if is_total(&row) => "a total",
            () => {
                match fault_of_width(&row, needed, width) {
                    Some((what, mend)) => faults.push(Fault::new(what, table.place(line, None), mend)),
                    None => table.rows.push(row),
                }
                continue;
            }
        };
        table.left_out.push(LeftOut { line, because: because.to_owned() });
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    if table.rows.is_empty() {
        let mend = "add a row for each thing that was written down";
        return Err(vec![Fault::new("the table holds a header and no rows", name, mend)]);
    }
    table.units.resize(width, None);
    Ok(table)
}

/// The row that is the header: of the first rows without a number or a date the one whose words are understood best;
/// where none is understood, one that stands above numbers or dates.
fn head(rows: &[Row]) -> Option<usize> {
    let plain = |row: &Row| {
        1 < row.cells.iter().filter(|cell| !cell.is_empty()).count() && !row.cells.iter().any(|cell| is_datum(cell))
    };
    let understood = |row: &Row| row.cells.iter().filter(|cell| Header::read(cell).is_understood()).count();
    let candidates = rows.iter().take(DEEPEST_HEADER).enumerate().filter(|(_, row)| plain(row) && !is_comment(row, 0));
    let best = candidates.map(|(at, row)| (understood(row), at)).max_by_key(|(score, at)| (*score, usize::MAX - at));
    match best {
        Some((score, at)) if 0 < score => Some(at),
        _ => {
            let above = rows.iter().zip(rows.iter().skip(1)).take(DEEPEST_HEADER);
            let mut above = above.enumerate().filter(|(_, (row, _))| plain(row));
            above.find(|(_, (_, next))| next.cells.iter().any(|cell| is_datum(cell))).map(|(at, _)| at)
        }
    }
}

/// The headers, each made different from the others.
fn shown(header: &[String], width: usize) -> Vec<String> {
    let mut out: Vec<String> = Vec::with_capacity(width);
    let mut taken = std::collections::HashSet::new();
    for column in 0..width {
        let text = header.get(column).map_or("", String::as_str).split_whitespace().collect::<Vec<_>>().join(" ");
        let mut name = if text.is_empty() { format!("column {}", column + 1) } else { text };
        if taken.contains(&fold(&name)) {
            name = format!("{name} (column {})", column + 1);
        }
        taken.insert(fold(&name));
        out.push(name);
    }
    out
}

fn same(row: &Row, header: &[String]) -> bool {
    let last = header.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
    let rest_is_empty = row.cells.iter().skip(last).all(String::is_empty);
    rest_is_empty && header.iter().take(last).enumerate().all(|(column, cell)| fold(cell) == fold(row.cell(column)))
}

/// A line that begins with a comment mark, and does not hold a row.
fn is_comment(row: &Row, width: usize) -> bool {
    let first = row.cell(0);
    let marked = first.starts_with("//")
        || first.strip_prefix('#').is_some_and(|rest| !rest.starts_with(|c: char| c.is_ascii_digit()));
    let alone = row.cells.iter().skip(1).all(String::is_empty);
    marked && (alone || row.width != width)
}

/// A row of sums or means: it begins with such a word, and has no day.
fn is_total(row: &Row) -> bool {
    const WORDS: [&str; 22] = [
        "total",
        "totals",
        "sum",
        "average",
        "avg",
        "mean",
        "median",
        "minimum",
        "maximum",
        "count",
        "summe",
        "gesamt",
        "durchschnitt",
        "mittelwert",
        "somme",
        "moyenne",
        "suma",
        "promedio",
        "somma",
        "totaal",
        "gemiddelde",
        "totale",
    ];
    let Some(first) = row.cells.iter().find(|cell| !cell.is_empty()) else {
        return false;
    };
    let folded = fold(first);
    let word = folded.split([' ', ':', '(', '=']).next().unwrap_or_default();
    let has_day = |cell: &String| date::read(cell, &units::Zone::none()).is_some_and(date::Written::is_day);
    WORDS.contains(&word) && !row.cells.iter().any(has_day)
}

fn units(row: &Row) -> Option<Vec<Option<Unit>>> {
    let brackets = ['(', ')', '[', ']', ' '];
    let unit = |cell: &String| Unit::from_word(fold(cell).trim_matches(brackets));
    let read: Vec<Option<Unit>> = row.cells.iter().map(unit).collect();
    let all = row.cells.iter().zip(&read).all(|(cell, unit)| cell.is_empty() || unit.is_some());
    (all && read.iter().any(Option::is_some)).then_some(read)
}

/// A row with too few or too many cells may have shifted: which cell stands under which header is then a guess.
fn fault_of_width(row: &Row, needed: usize, width: usize) -> Option<(String, &'static str)> {
    let used = row.cells.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
    if width < used {
        let what = format!("the line holds {} cells, the header {width}", row.width);
        return Some((what, "put quotes around a cell that holds the separating sign"));
    }
    if row.width < needed {
        let what = format!("the line holds {} cells, the header {needed}", row.width);
        return Some((what, "write a separating sign for each column, also where a cell is empty"));
    }
    None
}

#[cfg(test)]
mod tests {
    use super::super::grid::lay_out;
    use super::*;

    fn table(text: &str) -> Result<Table, Vec<Fault>> {
        find("t.csv", lay_out("t.csv", text).unwrap())
    }

    #[test]
    fn the_header_is_found_below_titles_and_what_is_no_row_is_left_out_with_its_reason() {
        let text = "Weights of Noor,,\nName,Noor,\n# kept since 2024,,\ndate,mass,note\n,g,\n2026-01-01,120,\n\
                    date,mass,note\n2026-01-08,125,good\nTotal,245,\n";
        let table = table(text).unwrap();
        assert_eq!(table.headers, ["date", "mass", "note"]);
        assert_eq!(table.units, [None, Some(Unit::Gram), None]);
        assert_eq!(table.rows.iter().map(|row| row.line).collect::<Vec<_>>(), [6, 8]);
        let left: Vec<(u32, &str)> = table.left_out.iter().map(|left| (left.line, left.because.as_str())).collect();
        assert_eq!(
            left,
            [
                (1, "it stands above the header"),
                (2, "it stands above the header"),
                (3, "a comment"),
                (5, "the units of the columns"),
                (7, "the header, repeated"),
                (9, "a total"),
            ]
        );
    }

    #[test]
    fn rows_that_may_have_shifted_are_faults() {
        let faults = table("date,mass,note\n2026-01-01,12,5,good\n2026-01-02,120\n2026-01-03,120,,\n").unwrap_err();
        let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert_eq!(
            told,
            [
                "the line holds 4 cells, the header 3\n where: t.csv, line 2\n  mend: put quotes around a cell that holds \
                 the separating sign",
                "the line holds 2 cells, the header 3\n where: t.csv, line 3\n  mend: write a separating sign for each \
                 column, also where a cell is empty",
            ]
        );
    }

    #[test]
    fn a_header_alone_is_no_table() {
        let faults = table("date,mass\n").unwrap_err();
        assert_eq!(faults[0].what, "the table holds a header and no rows");
    }

    #[test]
    fn equal_and_empty_headers_are_told_apart() {
        let table = table("date,mass,mass,\n2026-01-01,1,2,x\n").unwrap();
        assert_eq!(table.headers, ["date", "mass", "mass (column 3)", "column 4"]);
    }
}
