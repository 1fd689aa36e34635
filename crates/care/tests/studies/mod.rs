//! What holds of every study: sentences are sentences, ranges are in order, everything has its source.

/// What is wrong with a study, whatever it was asked about.
pub fn faults(found: &care::what_if::Reckoning, at: units::Moment) -> Vec<String> {
    use care::what_if::Cell;
    let mut faults = Vec::new();
    let mut fault = |is_wrong: bool, what: String| {
        if is_wrong {
            faults.push(what);
        }
    };
    fault(found.says.is_empty(), "it says nothing".to_owned());
    for says in found.says.iter().chain(&found.untold) {
        fault(
            !says.ends_with(['.', '?']) || says.contains("NaN") || says.contains("  "),
            format!("no sentence: {says}"),
        );
    }
    for one in &found.dates {
        let range = one.range;
        fault(
            !(at <= range.low && range.low <= range.mid && range.mid <= range.high),
            format!("{}: {range:?}", one.key),
        );
    }
    for one in &found.amounts {
        let range = one.range;
        fault(!(range.low <= range.mid && range.mid <= range.high), format!("{}: {range:?}", one.key));
        fault(range.low < 0.0 && one.key != "gain", format!("{} is below nothing: {range:?}", one.key));
    }
    for one in &found.guesses {
        fault(!(0.0..=1.0).contains(&one.weight), format!("{} weighs {}", one.key, one.weight));
        fault(
            !(one.range.low <= one.range.mid && one.range.mid <= one.range.high),
            format!("{}: {:?}", one.key, one.range),
        );
    }
    for table in &found.tables {
        for row in &table.rows {
            fault(row.len() != table.columns.len(), format!("{}: a row of {}", table.key, row.len()));
            let wrong = |cell: &Cell| matches!(cell, Cell::Is(range, _) if !(range.low <= range.mid && range.mid <= range.high));
            fault(row.iter().any(wrong), format!("{}: {row:?}", table.key));
        }
    }
    let known = |source: &care::answer::SourceRef| {
        species::library().source(&source.key).is_some() || source.key == "household"
    };
    for source in &found.sources {
        fault(!known(source), format!("no source is called {}", source.key));
    }
    fault(found.sources.is_empty(), "nothing says where it comes from".to_owned());
    faults
}
