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
