//! Events out of chances: how often, how unusually often, and how often to come.

mod beta_binomial;
mod false_alarms;
mod logistic;
mod runs;

pub use beta_binomial::{Beta, Counts, RateFault};
pub use false_alarms::benjamini_hochberg;
pub use logistic::{Logistic, LogisticFault, Observation, harmonics};
pub use runs::{RunsTest, longest_run_at_least, runs_test};
