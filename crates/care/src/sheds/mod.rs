//! Sheds as a rhythm: when the next one is likely, given that it has not come yet; how unusual a late or a frequent one
//! is; and how damp it was before a bad one.
//!
//! What is written down is laid out in [`history`], read as a law in [`rhythm`], and looked ahead from in [`mod@next`]. The
//! lines at which something is said are in the rules ([`crate::rules::shed`]), the numbers in `general_sheds.toml`.

pub mod history;
pub mod humidity;
pub mod next;
pub mod rhythm;
mod study;
#[cfg(test)]
mod tests;

pub use history::{Counts, Gap, History, Off};
pub use humidity::{Air, before};
pub use next::{By, Next, WhyNot, next};
pub use rhythm::{Rhythm, Usual};
pub use study::study;
