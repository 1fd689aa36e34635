//! To be written.

use records::{Fault, Fields};

use crate::what_if::{Field, Known, Reckoning};

/// What it asks for.
pub fn fields() -> Vec<Field> {
    Vec::new()
}

/// The answer.
pub fn answer(_typed: &dyn Fields, _known: &Known) -> Result<Reckoning, Vec<Fault>> {
    Err(vec![Fault::new("not answered yet", "", "")])
}
