//! For tests: a question with what a form says.

use records::fields::Given;
use records::{Fault, Fields, Raw};
use units::{Moment, Zone};

use crate::what_if::{Known, Reckoning};

/// Asks a question with nothing on record.
pub(crate) fn ask(
    answer: fn(&dyn Fields, &Known) -> Result<Reckoning, Vec<Fault>>,
    pairs: &[(&str, &str)],
) -> Result<Reckoning, Vec<Fault>> {
    answer(&given(pairs), &Known::nothing(Moment(1_700_000_000), Zone::none()))
}

/// What a form says.
pub(crate) fn given(pairs: &[(&str, &str)]) -> Given {
    let pairs = pairs.iter().map(|(key, value)| ((*key).to_owned(), Raw::Text((*value).to_owned()))).collect();
    Given { pairs, origin: "the form".into() }
}

/// A box of 100 × 50 × 50 cm with what else is told.
pub(crate) fn described(more: &[(&str, &str)]) -> crate::twin::Description {
    let pairs = [&[("length_cm", "100"), ("width_cm", "50"), ("height_cm", "50")], more].concat();
    let known = Known::nothing(Moment(1_700_000_000), Zone::none());
    let (described, ()) = crate::twin::description::read(&given(&pairs), &known, |_| ()).unwrap();
    described
}
