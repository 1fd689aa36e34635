//! How the program ends: a table of exit codes that scripts rely on (`docs/exit-codes.md`).

use std::process::ExitCode;

use records::Fault;
use web::desk::DeskError;

use crate::out::Out;

/// Why a command did not do what was asked.
#[derive(Debug)]
pub enum Ended {
    /// Something in what was written is wrong: nothing was kept. Exit 2.
    Faults(Vec<Fault>),
    /// Nothing of that name. Exit 3.
    NotFound(Fault),
    /// A question must be answered first; nothing was kept. Exit 4.
    Asked(Vec<Fault>),
    /// Another process is writing. Exit 5.
    Busy(Fault),
    /// The disk or the database did not do its part. Exit 6.
    Failed(Fault),
}

/// What a command returns.
pub type Done = Result<(), Ended>;

/// The exit codes with what they mean, as `docs/exit-codes.md` tells them.
pub const CODES: [(u8, &str, &str); 6] = [
    (0, "done", "What was asked is done. A finding is an answer, not a failure."),
    (2, "error", "Something in what was written is wrong (an option, a file, a value); nothing was kept."),
    (3, "error", "Nothing of that name or no records are there."),
    (
        4,
        "question",
        "Something must be answered first (with `--yes`, or the option that the question names); nothing was kept.",
    ),
    (5, "busy", "Another Warmside writes to the same folder; reading goes on."),
    (6, "error", "The disk or the database did not do its part, or the records are not as they were written."),
];

impl Ended {
    fn parts(self) -> (Vec<Fault>, u8) {
        match self {
            Ended::Faults(faults) => (faults, 2),
            Ended::NotFound(fault) => (vec![fault], 3),
            Ended::Asked(faults) => (faults, 4),
            Ended::Busy(fault) => (vec![fault], 5),
            Ended::Failed(fault) => (vec![fault], 6),
        }
    }
}

impl From<Fault> for Ended {
    fn from(fault: Fault) -> Ended {
        Ended::Faults(vec![fault])
    }
}

impl From<Vec<Fault>> for Ended {
    fn from(faults: Vec<Fault>) -> Ended {
        Ended::Faults(faults)
    }
}

impl From<DeskError> for Ended {
    fn from(error: DeskError) -> Ended {
        match error {
            DeskError::Faults(faults) => Ended::Faults(faults),
            DeskError::NotFound(fault) => Ended::NotFound(fault),
            DeskError::Busy(fault) => Ended::Busy(fault),
            DeskError::Failed(fault) => Ended::Failed(fault),
        }
    }
}

impl From<store::StoreError> for Ended {
    fn from(error: store::StoreError) -> Ended {
        DeskError::from(error).into()
    }
}

/// Tells why, and gives the exit code.
pub fn code(ended: Done, out: &mut Out) -> ExitCode {
    let Err(ended) = ended else { return ExitCode::SUCCESS };
    let (faults, code) = ended.parts();
    let word = CODES.iter().find(|(one, ..)| *one == code).map_or("error", |(_, word, _)| word);
    for fault in faults {
        out.message(format!("{word}: {fault}"));
    }
    ExitCode::from(code)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The page about exit codes, made from the table.
    fn page() -> String {
        let rows: String = CODES.iter().map(|(code, word, means)| format!("| {code} | {word} | {means} |\n")).collect();
        format!(
            "# Exit codes of `warmside`\n\n\
             The answer goes to standard output, messages to standard error. Each message begins with a word and says \
             what is\nwrong, where, and how to mend it. Scripts may rely on the codes.\n\n\
             | code | word | meaning |\n| --- | --- | --- |\n{rows}"
        )
    }

    #[test]
    fn the_page_about_exit_codes_is_fresh() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/exit-codes.md");
        let there = std::fs::read_to_string(path).unwrap_or_default();
        if std::env::var_os("WRITE_DOCS").is_some() && there != page() {
            std::fs::write(path, page()).expect("the page is written");
            return;
        }
        assert_eq!(there, page(), "run the test with WRITE_DOCS=1 to write it anew");
    }

    #[test]
    fn every_way_to_end_has_its_code_in_the_table() {
        let fault = || Fault::new("what", "where", "mend");
        for (ended, code) in [
            (Ended::Faults(vec![fault()]), 2),
            (Ended::NotFound(fault()), 3),
            (Ended::Asked(vec![fault()]), 4),
            (Ended::Busy(fault()), 5),
            (Ended::Failed(fault()), 6),
        ] {
            let (faults, got) = ended.parts();
            assert_eq!((faults.len(), got), (1, code));
            assert!(CODES.iter().any(|(one, ..)| *one == code));
        }
    }
}
