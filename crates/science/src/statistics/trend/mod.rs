//! Where a series goes, whatever a few of its values do.

mod theil_sen;

pub use theil_sen::{Line, Trend, kendall_tau, siegel, theil_sen};
