//! What is wrong with what was written, where, and how to mend it.

use std::fmt;

/// A fault in what someone wrote. Nothing was kept when there is one.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Fault {
    /// What is wrong, in the reader's words.
    pub what: String,
    /// Where: file, line and column; or the field of a form.
    pub place: String,
    /// One thing to do now.
    pub mend: String,
}

impl Fault {
    /// A fault from its three parts.
    pub fn new(what: impl Into<String>, place: impl Into<String>, mend: impl Into<String>) -> Fault {
        Fault { what: what.into(), place: place.into(), mend: mend.into() }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}\n where: {}\n  mend: {}", self.what, self.place, self.mend)
    }
}

/// The names nearest to what was typed, best first: at most `most`, and only such as a slip of the finger explains.
pub fn nearest<'a>(typed: &str, names: impl IntoIterator<Item = &'a str>, most: usize) -> Vec<&'a str> {
    const NEAR_ENOUGH: f64 = 0.7;
    let typed = typed.to_lowercase();
    let mut scored: Vec<(f64, &str)> = names
        .into_iter()
        .map(|name| (strsim::jaro_winkler(&typed, &name.to_lowercase()), name))
        .filter(|(score, _)| NEAR_ENOUGH <= *score)
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    scored.into_iter().take(most).map(|(_, name)| name).collect()
}
