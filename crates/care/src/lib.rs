//! What it means and what to do: the assessment of an animal at a moment.
//!
//! A pure function of the case and `now`: same input, same answer, always. This crate must never know the clock, the
//! disk, the network, SQL or HTML. No threshold stands here: species' values come from the profile, general ones are
//! asked for by name ([`lines`]), both with their source.
//!
//! Start with [`assess()`], then one file of [`rules`]: each rule says what it holds, why, from where, and is tested
//! at, below and above its threshold.

pub mod age;
pub mod answer;
pub mod assess;
pub mod condition;
pub mod contacts;
pub mod damp;
pub mod digestion;
pub mod doubts;
pub mod draft;
pub mod growth;
pub mod lines;
pub mod mass;
pub mod ration;
pub mod refusals;
pub mod rounds;
pub mod rules;
pub mod season;
pub mod sheds;
pub mod signs;
pub mod study;
pub mod suspect;
pub mod thaw;
pub mod thermometer;
pub mod twin;
pub mod view;
pub mod warmth;
pub mod what_if;

#[cfg(test)]
pub mod testing;

pub use answer::Answer;
pub use assess::{assess, assess_for_rounds};
