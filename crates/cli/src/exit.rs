//! How the program ends: a table of exit codes that scripts rely on (`docs/exit-codes.md`).

use std::process::ExitCode;

use records::Fault;

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

/// Tells why, and gives the exit code.
pub fn code(ended: Done, out: &mut Out) -> ExitCode {
    let (faults, word, code) = match ended {
        Ok(()) => return ExitCode::SUCCESS,
        Err(Ended::Faults(faults)) => (faults, "error", 2),
        Err(Ended::NotFound(fault)) => (vec![fault], "error", 3),
        Err(Ended::Asked(faults)) => (faults, "question", 4),
        Err(Ended::Busy(fault)) => (vec![fault], "busy", 5),
        Err(Ended::Failed(fault)) => (vec![fault], "error", 6),
    };
    for fault in faults {
        out.message(format!("{word}: {fault}"));
    }
    ExitCode::from(code)
}
