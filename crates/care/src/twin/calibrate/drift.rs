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

/// Heat that both sides need, and the time in which they cool, that changed from one fit to a later one by more than the
/// rule `twin_fit_drift`; the strongest first. Single ways of the heat are not compared: a log tells them only together.
pub fn drift(before: &Fitted, after: &Fitted) -> Vec<Drifted> {
    let line = lines::low("twin_fit_drift");
    let goal = |fitted: &Fitted| Goal::of_zones(&two_zones(fitted)).ok();
    let (Some(was), Some(is)) = (goal(before), goal(after)) else { return Vec::new() };
    let ratios = [
        (was.warm_k_w / is.warm_k_w, "The warm side needs", "heat for the same warmth"),
        (was.cool_k_w / is.cool_k_w, "The cool side needs", "heat for the same warmth"),
        (is.time_s / was.time_s, "It takes", "time to cool"),
    ];
    let mut found: Vec<Drifted> = ratios
        .into_iter()
        .filter(|(ratio, ..)| line.value < ratio.max(1.0 / ratio) - 1.0)
        .map(|(ratio, what, of)| {
            let (how, percent) = (if 1.0 < ratio { "more" } else { "less" }, 100.0 * (ratio - 1.0).abs());
            Drifted {
                says: format!("{what} {percent:.0} % {how} {of} than in the log before."),
                ratio,
                line: line.clone(),
            }
        })
        .collect();
    found.sort_by(|a, b| b.ratio.ln().abs().total_cmp(&a.ratio.ln().abs()));
    found
}
