//! What is wrong with the data, where, and how to mend it.

use serde::Serialize;

/// A fault in the data: what, where, how to mend it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, thiserror::Error)]
#[error("{what}\n where: {}\n  mend: {mend}", self.place())]
pub struct DataFault {
    /// What is wrong, in the reader's words.
    pub what: String,
    /// The file, or what was being read when there is none.
    pub file: String,
    /// Line in the file, counted from 1; 0 where there is no file.
    pub line: usize,
    /// Column in the line, in characters, counted from 1; 0 where there is no file.
    pub column: usize,
    /// One thing to do now.
    pub mend: String,
}

impl DataFault {
    /// Where it is: `file:line:column`, or what was being read.
    pub fn place(&self) -> String {
        if self.line == 0 { self.file.clone() } else { format!("{}:{}:{}", self.file, self.line, self.column) }
    }
}

/// A proposal for a word that is not known: the nearest of `known`, or all of them when none is near and they are few.
pub(crate) fn propose<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    const NEAR_ENOUGH: f64 = 0.75;
    const FEW: usize = 8;
    let mut known: Vec<&str> = known.into_iter().collect();
    known.sort_unstable();
    let near = known.iter().map(|one| (strsim::jaro_winkler(word, one), *one)).max_by(|a, b| a.0.total_cmp(&b.0));
    match near {
        Some((score, one)) if NEAR_ENOUGH <= score => format!("did you mean `{one}`?"),
        _ if known.is_empty() => "take it out: nothing is known here".into(),
        _ if known.len() <= FEW => format!("known here: {}", known.join(", ")),
        _ => "take it out, or look at the other files for the word".into(),
    }
}
