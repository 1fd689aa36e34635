//! From text to rows of cells: which sign parts the cells, and what quotes hold together.

use super::words;
use crate::fault::Fault;

/// Tables with more columns than this are not read.
pub const MOST_COLUMNS: usize = 512;
/// Tables with more cells than this are not read.
pub const MOST_CELLS: usize = 5_000_000;

/// Cells longer than this, in bytes, are not read: most often a quote was left open.
const LONGEST_CELL: usize = 65_536;

/// A row of cells.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    /// The line of the file on which it begins, from 1.
    pub line: u32,
    /// Its cells, trimmed; at most [`MOST_COLUMNS`] of them.
    pub cells: Vec<String>,
    /// How many cells it has.
    pub width: usize,
}

impl Row {
    pub fn is_blank(&self) -> bool {
        self.cells.iter().all(String::is_empty)
    }
    pub fn cell(&self, column: usize) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }
}

/// All rows that hold something.
#[derive(Debug)]
pub(super) struct Grid {
    pub delimiter: char,
    pub rows: Vec<Row>,
    pub blank_rows: usize,
}

/// Lays a text out in rows and cells.
pub(super) fn lay_out(name: &str, text: &str) -> Result<Grid, Fault> {
    let (said, first_line, rest) = separator_line(text);
    let delimiter = said.map_or_else(|| likeliest(rest), Some).ok_or_else(|| {
        let mend = "part the cells by commas, semicolons or tabs, with one line for each row";
        Fault::new("the file holds no table: no sign parts its lines into cells", name, mend)
    })?;
    let mut rows = Vec::new();
    let (mut blank_rows, mut cells) = (0, 0);
    for row in Rows::new(rest, delimiter, first_line) {
        let row = row.map_err(|Unclosed { line }| {
            let mend = "close it, or take it away; a quote within quotes is written twice";
            Fault::new("a quote is opened and never closed", format!("{name}, line {line}"), mend)
        })?;
        if MOST_COLUMNS < row.width {
            let what = format!("the line holds {} cells, more than the {MOST_COLUMNS} that are read", row.width);
            let mend = "keep one row for each day and one column for each thing that was written down";
            return Err(Fault::new(what, format!("{name}, line {}", row.line), mend));
        }
        if let Some(long) = row.cells.iter().find(|cell| LONGEST_CELL < cell.len()) {
            let what = format!("a cell holds {} bytes, more than the {LONGEST_CELL} that are read", long.len());
            let mend = "look for a quote that is closed too late, and shorten the cell";
            return Err(Fault::new(what, format!("{name}, line {}", row.line), mend));
        }
        if row.is_blank() {
            blank_rows += 1;
            continue;
        }
        cells += row.cells.len();
        if MOST_CELLS < cells {
            let what = format!("the table holds more than the {MOST_CELLS} cells that are read");
            return Err(Fault::new(what, format!("{name}, line {}", row.line), "divide it into several files"));
        }
        rows.push(row);
    }
    Ok(Grid { delimiter, rows, blank_rows })
}

/// Some programs write a first line `sep=;` that names the sign.
fn separator_line(text: &str) -> (Option<char>, u32, &str) {
    let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
    let named = first.trim().to_ascii_lowercase();
    let mut after = named.strip_prefix("sep=").unwrap_or_default().chars();
    match (after.next(), after.next()) {
        (Some(sign), None) if SIGNS.contains(&sign) => (Some(sign), 2, rest),
        _ if first.to_ascii_lowercase().starts_with("sep=\t") => (Some('\t'), 2, rest),
        _ => (None, 1, text),
    }
}

const SIGNS: [char; 4] = [',', ';', '\t', '|'];

/// The sign that makes the best table of the beginning of a text: most headers understood, most cells that are whole
/// numbers or dates, most rows of the same length, in this order.
fn likeliest(text: &str) -> Option<char> {
    const ROWS: usize = 60;
    let score = |sign: char| {
        let rows: Vec<Row> =
            Rows::new(text, sign, 1).take(ROWS).map_while(Result::ok).filter(|row| !row.is_blank()).collect();
        let widest = rows.iter().map(|row| row.cells.len()).max().unwrap_or(0);
        if widest < 2 {
            return None;
        }
        let headers = rows.iter().take(20).map(understood_headers).max().unwrap_or(0);
        let whole: usize = rows.iter().map(|row| row.cells.iter().filter(|cell| is_datum(cell)).count()).sum();
        let mut lengths: Vec<usize> = rows.iter().map(|row| row.cells.len()).collect();
        lengths.sort_unstable();
        let alike = lengths.chunk_by(|a, b| a == b).filter(|same| same.first() != Some(&1)).map(<[usize]>::len).max();
        Some((headers, whole, alike.unwrap_or(0)))
    };
    let scored = SIGNS.into_iter().filter_map(|sign| score(sign).map(|score| (score, sign)));
    // Of equals the first in the list of signs.
    scored.rev().max_by_key(|(score, _)| *score).map(|(_, sign)| sign)
}

/// How many of its cells are headers that are understood. A row with a number or a date is none.
fn understood_headers(row: &Row) -> usize {
    if row.cells.iter().any(|cell| is_datum(cell)) {
        return 0;
    }
    row.cells.iter().filter(|cell| cell.len() <= 80 && words::Header::read(cell).is_understood()).count()
}

/// Is a cell a number or a date?
pub(super) fn is_datum(cell: &str) -> bool {
    super::number::read(cell).is_some() || super::date::read(cell, &units::Zone::none()).is_some()
}

/// A quote that is opened on a line and never closed.
#[derive(Debug)]
struct Unclosed {
    line: u32,
}

/// Parts a text into rows. A quote counts only at the beginning of a cell, so that an inch sign is one.
struct Rows<'a> {
    rest: &'a str,
    delimiter: char,
    line: u32,
}

impl<'a> Rows<'a> {
    fn new(text: &'a str, delimiter: char, line: u32) -> Rows<'a> {
        Rows { rest: text, delimiter, line }
    }

    /// A cell without quotes: up to the next sign or the end of the line.
    fn plain(&mut self) -> String {
        let end = self.rest.find([self.delimiter, '\n']).unwrap_or(self.rest.len());
        let (cell, rest) = self.rest.split_at(end);
        self.rest = rest;
        cell.trim().to_owned()
    }

    /// A cell in quotes; `None` when it does not end with its closing quote, as in `"wild" one`.
    fn quoted(&mut self) -> Option<Result<String, Unclosed>> {
        let body = self.rest.trim_start_matches(' ').strip_prefix('"')?;
        let mut cell = String::new();
        let mut from = body;
        loop {
            let Some((part, after)) = from.split_once('"') else {
                return Some(Err(Unclosed { line: self.line }));
            };
            cell.push_str(part);
            from = after;
            match from.strip_prefix('"') {
                Some(after) => {
                    cell.push('"');
                    from = after;
                }
                None => break,
            }
        }
        let from = from.trim_start_matches(' ');
        if !(from.is_empty() || from.starts_with([self.delimiter, '\n'])) {
            return None;
        }
        self.line = self.line.saturating_add(u32::try_from(cell.matches('\n').count()).unwrap_or(u32::MAX));
        self.rest = from;
        Some(Ok(cell.trim().to_owned()))
    }
}

impl Iterator for Rows<'_> {
    type Item = Result<Row, Unclosed>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.rest.is_empty() {
            return None;
        }
        let line = self.line;
        let mut cells = Vec::new();
        let mut width = 0;
        loop {
            let cell = match self.quoted() {
                Some(Ok(cell)) => cell,
                Some(Err(unclosed)) => {
                    self.rest = "";
                    return Some(Err(unclosed));
                }
                None => self.plain(),
            };
            width += 1;
            if width <= MOST_COLUMNS {
                cells.push(cell);
            }
            let mut signs = self.rest.chars();
            let sign = signs.next();
            self.rest = signs.as_str();
            if sign != Some(self.delimiter) {
                break;
            }
        }
        self.line = self.line.saturating_add(1);
        Some(Ok(Row { line, cells, width }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(text: &str) -> Vec<(u32, Vec<String>)> {
        lay_out("t.csv", text).unwrap().rows.into_iter().map(|row| (row.line, row.cells)).collect()
    }

    #[test]
    fn quotes_hold_signs_and_line_ends_together_and_lines_are_counted() {
        let text =
            "date,note\n\n2026-01-01,\"two\nlines, \"\"quoted\"\"\"\n2026-01-02,\"plain\" words\n2026-01-03,5\" long\n";
        assert_eq!(
            rows(text),
            [
                (1, vec!["date".into(), "note".into()]),
                (3, vec!["2026-01-01".into(), "two\nlines, \"quoted\"".into()]),
                (5, vec!["2026-01-02".into(), "\"plain\" words".into()]),
                (6, vec!["2026-01-03".into(), "5\" long".into()]),
            ]
        );
        assert_eq!(lay_out("t.csv", text).unwrap().blank_rows, 1);
    }

    #[test]
    fn the_sign_is_the_one_that_makes_the_best_table() {
        for (text, sign) in [
            ("date;mass\n2026-01-01;12,5\n2026-01-08;13,5\n", ';'),
            ("date,mass\n2026-01-01,12.5\n", ','),
            ("date\tmass\n2026-01-01\t12,5\n", '\t'),
            ("date|mass|note\n2026-01-01|12|a, b, c; d\n", '|'),
            ("2026-01-01;12,5\n2026-01-08;13,1\n", ';'),
            ("sep=;\na;b,c\n", ';'),
        ] {
            assert_eq!(lay_out("t.csv", text).unwrap().delimiter, sign, "{text:?}");
        }
    }

    #[test]
    fn a_quote_that_is_never_closed_is_told_with_its_line() {
        let fault = lay_out("t.csv", "date,note\n2026-01-01,ok\n2026-01-02,\"so\n2026-01-03,x\n").unwrap_err();
        assert_eq!(fault.place, "t.csv, line 3");
    }
}
