//! What changed from one log to a later one.

use records::facts::Fitted;
use science::physics::calibration::{self, Parameter};

use crate::draft::Line;
use crate::lines;
use crate::twin::matched::two_zones;

/// A way for heat that is not what it was.
#[derive(Clone, Debug, PartialEq)]
pub struct Drifted {
    /// What it is, in words.
    pub says: String,
    /// What it is now, as a multiple of what it was.
    pub ratio: f64,
    /// From where on it is told.
    pub line: Line,
}

/// Conductances that changed from one fit to a later one by more than the rule `twin_fit_drift`, the strongest first.
pub fn drift(before: &Fitted, after: &Fitted) -> Vec<Drifted> {
    let line = lines::low("twin_fit_drift");
    let mut found: Vec<Drifted> = calibration::drift(&two_zones(before), &two_zones(after), line.value)
        .into_iter()
        .map(|(parameter, ratio)| {
            let what = match parameter {
                Parameter::WarmToRoom => "The warm side loses",
                Parameter::CoolToRoom => "The cool side loses",
                _ => "The warm side gives the cool side",
            };
            let how = if 1.0 < ratio { "more" } else { "less" };
            let percent = 100.0 * (ratio - 1.0).abs();
            Drifted {
                says: format!("{what} {percent:.0} % {how} heat than in the log before."),
                ratio,
                line: line.clone(),
            }
        })
        .collect();
    found.sort_by(|a, b| b.ratio.ln().abs().total_cmp(&a.ratio.ln().abs()));
    found
}
