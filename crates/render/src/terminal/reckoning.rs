//! The answer to a what-if question in a window of text.

use care::answer::SourceRef;
use care::twin::words;
use care::what_if::{Basis, Cell, Dated, Guess, Reckoning, Step, Table, Warning};
use units::{Moment, Zone};

use super::Look;
use super::sheet::{Sheet, column};
use crate::amounts;
use crate::curve;
use crate::wording::{self, Clock, STAY};

/// The answer, asked at a moment in a zone.
pub fn reckoning(answer: &Reckoning, at: Moment, zone: &Zone, look: Look) -> String {
    let clock = Clock::new(zone, at);
    let mut sheet = Sheet::new(look.width);
    for sentence in &answer.says {
        sheet.say(0, sentence);
    }
    for (warning, caution) in answer.warned() {
        sheet.gap();
        warning_of(&mut sheet, warning, caution, look);
    }
    dates(&mut sheet, answer, &clock);
    amounts_of(&mut sheet, answer);
    checks(&mut sheet, answer, look);
    spots(&mut sheet, answer, look);
    for table in &answer.tables {
        table_of(&mut sheet, table, look);
    }
    steps(&mut sheet, &answer.steps, &clock);
    curves(&mut sheet, answer, look);
    guesses(&mut sheet, &answer.guesses, look);
    list(&mut sheet, "Cannot be told", answer.untold.iter().map(String::as_str));
    sheet.gap();
    if let Basis::Fitted { from, until, rms_k } = answer.basis {
        let (off, lasted) = (wording::number(rms_k, 1), words::lasted(until.hours_since(from)));
        sheet.item(
            0,
            &format!("Fitted to the log of {lasted} until {}; off by about {off}{STAY}K.", clock.moment(until)),
        );
    }
    for caution in answer.other_cautions().filter_map(text_of) {
        sheet.item(0, &format!("Caution: {caution}"));
    }
    if look.why {
        list(&mut sheet, "Sources", answer.sources.iter().map(cited).collect::<Vec<_>>().iter().map(String::as_str));
    }
    sheet.finish()
}

fn text_of(caution: &str) -> Option<&'static str> {
    species::library().caution(caution).map(|caution| caution.text.as_str())
}

fn source(one: &SourceRef) -> String {
    format!("{} ({})", one.key, one.status.key().replace('-', " "))
}

fn cited(one: &SourceRef) -> String {
    let cite = species::library().source(&one.key).map(|found| format!(": {}", found.cite)).unwrap_or_default();
    format!("{}{cite}", source(one))
}

fn warning_of(sheet: &mut Sheet, one: &Warning, caution: Option<&str>, look: Look) {
    sheet.item(0, &format!("{}: {}", wording::severity(one.severity), one.says));
    if !one.does.is_empty() {
        sheet.say(2, &one.does);
    }
    if let Some(caution) = caution.and_then(text_of) {
        sheet.say(2, &format!("Caution: {caution}"));
    }
    if look.why
        && let Some(from) = &one.source
    {
        sheet.item(2, &format!("[source {}]", source(from)));
    }
}

fn dates(sheet: &mut Sheet, answer: &Reckoning, clock: &Clock) {
    if answer.dates.is_empty() {
        return;
    }
    sheet.gap();
    let value = |one: &Dated| {
        let (middle, span) = (clock.day(one.range.mid), clock.days(one.range.low, one.range.high));
        if middle == span { middle } else { format!("{middle} ({span})") }
    };
    let values: Vec<String> = answer.dates.iter().map(value).collect();
    let wide = column(values.iter().map(String::as_str));
    for (one, value) in answer.dates.iter().zip(&values) {
        sheet.row(2, value, wide, &one.says);
    }
}

fn checks(sheet: &mut Sheet, answer: &Reckoning, look: Look) {
    for (one, nth) in answer.checks.iter().zip(1..) {
        sheet.gap();
        sheet.item(0, &format!("{nth}. {} {}.", one.asks, wording::capital(one.verdict)));
        sheet.say(2, &one.says);
        if let Some(does) = &one.does {
            sheet.say(2, does);
        }
        if look.why
            && let Some(from) = &one.source
        {
            sheet.item(2, &format!("[source {}]", source(from)));
        }
    }
}

fn amounts_of(sheet: &mut Sheet, answer: &Reckoning) {
    let values: Vec<String> = answer.loose_amounts().map(|one| amounts::full(one.range, one.unit)).collect();
    if values.is_empty() {
        return;
    }
    sheet.gap();
    let wide = column(values.iter().map(String::as_str));
    for (one, value) in answer.loose_amounts().zip(&values) {
        sheet.row(2, value, wide, &one.says);
    }
}

fn spots(sheet: &mut Sheet, answer: &Reckoning, look: Look) {
    use care::what_if::Unit;
    let row = |one: &care::what_if::AtSpot| {
        let shown = |text: Option<String>| text.unwrap_or_default();
        vec![
            wording::capital(wording::spot(one.spot)),
            shown(one.temperature_c.map(|range| amounts::full(range, Unit::Celsius))),
            shown(one.humidity_pct.map(|range| amounts::full(range, Unit::Humidity))),
            shown(one.measured_c.map(wording::celsius)),
            shown(one.wanted_c.map(|(low, high)| wording::range(low, high, "°C"))),
        ]
    };
    let head = ["Where", "Model", "Humidity", "Measured", "Wanted"].map(str::to_owned).to_vec();
    grid(sheet, "Spots, from warm to cool", head, answer.spots.iter().map(row).collect(), look);
}

fn table_of(sheet: &mut Sheet, table: &Table, look: Look) {
    let cell = |cell: &Cell| match cell {
        Cell::Says(text) => text.clone(),
        Cell::Is(range, unit) => amounts::full(*range, *unit),
        Cell::Nothing => String::new(),
    };
    let head = table.columns.iter().map(|(_, says)| wording::capital(says)).collect();
    let rows = table.rows.iter().map(|row| row.iter().map(cell).collect()).collect();
    grid(sheet, &table.says, head, rows, look);
}

fn curves(sheet: &mut Sheet, answer: &Reckoning, look: Look) {
    for chart in curve::charts(&answer.curves, &answer.limits) {
        let (head, rows) = chart.table();
        grid(sheet, "Over time", head, rows, look);
        for limit in &chart.limits {
            let from = if look.why { format!(" [source {}]", source(&limit.source)) } else { String::new() };
            let value = amounts::value(limit.value, chart.unit);
            sheet.item(2, &format!("{}: {value}{from}", wording::capital(&limit.says)));
        }
    }
}

/// Things side by side in columns; where the window is too narrow for that, each under its own heading. Columns in
/// which nothing stands are left out.
fn grid(sheet: &mut Sheet, title: &str, head: Vec<String>, rows: Vec<Vec<String>>, look: Look) {
    const GAP: usize = 2;
    if rows.is_empty() {
        return;
    }
    sheet.gap();
    sheet.say(0, title);
    let cell = |row: &Vec<String>, index: usize| row.get(index).cloned().unwrap_or_default();
    let is_used = |index: &usize| rows.iter().any(|row| !cell(row, *index).is_empty());
    let used: Vec<usize> = (0..head.len()).filter(is_used).collect();
    let long = |text: &str| text.chars().count();
    let wide = |index: usize| rows.iter().map(|row| long(&cell(row, index))).chain([long(&cell(&head, index))]).max();
    let widths: Vec<usize> = used.iter().map(|index| wide(*index).unwrap_or(0) + GAP).collect();
    if GAP + widths.iter().sum::<usize>() <= look.width + GAP {
        for row in std::iter::once(&head).chain(&rows) {
            let mut line = String::new();
            for (index, wide) in used.iter().zip(&widths) {
                // Sheet takes spaces as places to break; these keep the columns.
                let padded = format!("{:wide$}", cell(row, *index), wide = *wide);
                line.push_str(&padded.replace(' ', &STAY.to_string()));
            }
            sheet.say(2, line.trim_end_matches(STAY));
        }
        return;
    }
    for row in &rows {
        let mut cells = used.iter().map(|index| (cell(&head, *index), cell(row, *index)));
        if let Some((_, first)) = cells.next() {
            sheet.item(2, &first);
        }
        let rest: Vec<(String, String)> = cells.filter(|(_, value)| !value.is_empty()).collect();
        let wide = column(rest.iter().map(|(label, _)| label.as_str()));
        for (label, value) in &rest {
            sheet.row(4, label, wide, value);
        }
    }
}

/// What to do in order, each with its hour where it has one; `why` tells how much of the reasons.
pub(super) fn steps_of(sheet: &mut Sheet, steps: &[Step], clock: &Clock, why: bool) {
    let digits = steps.len().to_string().len();
    let label = |(index, step): (usize, &Step)| {
        let at = step.at.map(|at| format!("  {}", clock.hour(at))).unwrap_or_default();
        format!("{:>digits$}.{at}", index + 1)
    };
    let labels: Vec<String> = steps.iter().enumerate().map(label).collect();
    let wide = column(labels.iter().map(String::as_str));
    for (step, label) in steps.iter().zip(&labels) {
        let because = if why { step.because.as_str() } else { "" };
        sheet.row(2, label, wide, &format!("{} {because}", step.does));
    }
}

fn steps(sheet: &mut Sheet, steps: &[Step], clock: &Clock) {
    if steps.is_empty() {
        return;
    }
    sheet.gap();
    sheet.say(0, "In this order");
    steps_of(sheet, steps, clock, true);
}

fn guesses(sheet: &mut Sheet, list: &[Guess], look: Look) {
    if list.is_empty() {
        return;
    }
    sheet.gap();
    sheet.say(0, "Guessed, with its part in the spread of the answer");
    let wide = column(list.iter().map(|one| one.says.as_str()));
    for one in list {
        let field = one.field.map(|key| format!("; tell it with --{}", key.replace('_', "-"))).unwrap_or_default();
        let from = if look.why { format!(" [source {}]", source(&one.source)) } else { String::new() };
        let taken = amounts::between(one.range, one.unit);
        sheet.row(2, &one.says, wide, &format!("{taken}, {}{field}{from}", amounts::share(one.weight)));
    }
}

fn list<'a>(sheet: &mut Sheet, title: &str, items: impl Iterator<Item = &'a str>) {
    let items: Vec<&str> = items.collect();
    if items.is_empty() {
        return;
    }
    sheet.gap();
    sheet.say(0, title);
    for item in items {
        sheet.item(2, item);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn shown(width: usize, why: bool) -> String {
        reckoning(&sample::power_cut(), sample::now(), &sample::zone(), Look { width, why })
    }

    #[test]
    fn the_answer_comes_first_and_everything_fits_the_window() {
        insta::assert_snapshot!(shown(80, false));
    }

    #[test]
    fn in_a_narrow_window_tables_become_lists() {
        let text = shown(38, false);
        assert!(text.lines().all(|line| line.chars().count() <= 38), "{text}");
        assert!(text.contains("Hours left  4.2 h (3–6)"), "{text}");
    }

    #[test]
    fn sources_come_on_request() {
        let (plain, why) = (shown(100, false), shown(100, true));
        assert!(!plain.contains("from memory"));
        assert!(why.contains("[source review (from memory)]") && why.contains("\nSources\n"), "{why}");
    }

    /// With its keys in the order of the alphabet, whichever order the writer of JSON was built to keep.
    fn sorted(value: serde_json::Value) -> serde_json::Value {
        use serde_json::Value;
        match value {
            Value::Object(map) => {
                let pairs: std::collections::BTreeMap<_, _> =
                    map.into_iter().map(|(key, value)| (key, sorted(value))).collect();
                Value::Object(pairs.into_iter().collect())
            }
            Value::Array(list) => Value::Array(list.into_iter().map(sorted).collect()),
            other => other,
        }
    }

    #[test]
    fn json_holds_everything() {
        let mut answer = sample::power_cut();
        for curve in &mut answer.curves {
            curve.points.truncate(2);
        }
        let value = crate::json::reckoning(&answer, sample::now(), &sample::zone());
        let value = sorted(value);
        insta::assert_snapshot!(format!("{value:#}"));
    }
}
