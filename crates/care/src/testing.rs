//! Cases for the tests of rules: written as a keeper would write them, in the format of the case file.

use records::Case;
use units::Moment;

use crate::answer::Answer;

/// A case from its text; the name of the species and everything else stand in it.
pub fn case(text: &str) -> Case {
    records::case_file::read("test.toml", text.as_bytes())
        .unwrap_or_else(|faults| panic!("{}", faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")))
}

/// The answer to a case that names its moment (`at = ...`).
pub fn answer(text: &str) -> Answer {
    let case = case(text);
    let at = case.at.expect("the case names its moment");
    crate::assess(&case, at).unwrap_or_else(|faults| panic!("{faults:?}"))
}

/// A moment of a case without a zone.
pub fn moment(text: &str) -> Moment {
    units::Zone::none().read(text).expect("a date").from
}
