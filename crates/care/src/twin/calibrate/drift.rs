//! What changed from one log to a later one.

use records::facts::Fitted;

use crate::draft::Line;
use crate::lines;
use crate::twin::matched::{Goal, two_zones};

/// An enclosure that is not what it was.
#[derive(Clone, Debug, PartialEq)]
pub struct Drifted {
    /// In what, in words.
    pub says: String,
    /// What it is now, as a multiple of what it was.
    pub ratio: f64,
    /// From where on it is told.
    pub line: Line,
}

/// Heat that both sides need that changed from one fit to a later one by more than the rule `twin_fit_drift`; the strongest
/// first. Single ways of the heat are not compared, as a log tells them only together; nor is the time of cooling, which
/// hangs more on what the log held.
pub fn drift(before: &Fitted, after: &Fitted) -> Vec<Drifted> {
    let line = lines::low("twin_fit_drift");
    let goal = |fitted: &Fitted| Goal::of_zones(&two_zones(fitted)).ok();
    let (Some(was), Some(is)) = (goal(before), goal(after)) else { return Vec::new() };
    let ratios = [(was.warm_k_w / is.warm_k_w, "The warm side"), (was.cool_k_w / is.cool_k_w, "The cool side")];
    let mut found: Vec<Drifted> = ratios
        .into_iter()
        .filter(|(ratio, _)| line.value < ratio.max(1.0 / ratio) - 1.0)
        .map(|(ratio, side)| {
            let (how, percent) = (if 1.0 < ratio { "more" } else { "less" }, 100.0 * (ratio - 1.0).abs());
            Drifted {
                says: format!("{side} needs {percent:.0} % {how} heat for the same warmth than in the log before."),
                ratio,
                line: line.clone(),
            }
        })
        .collect();
    found.sort_by(|a, b| b.ratio.ln().abs().total_cmp(&a.ratio.ln().abs()));
    found
}
