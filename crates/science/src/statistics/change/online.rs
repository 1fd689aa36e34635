//! How long it has been since the last change, when neither the time nor the size of changes is known.

use crate::statistics::intervals::Belief;
use crate::statistics::rates::{Beta, Counts};
use statrs::distribution::{Continuous, StudentsT};

/// What is believed within a stretch without change.
pub trait Stretch: Clone {
    /// What is seen.
    type Seen: Copy;
    /// ln of the chance, or of the density, of the next one.
    fn log_chance(&self, seen: Self::Seen) -> f64;
    /// After that one.
    fn after(&self, seen: Self::Seen) -> Self;
}

/// Events or none, with a Beta belief of their chance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chances(pub Beta);

/// Numbers, normal of unknown mean and variance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Values(pub Belief);

impl Stretch for Chances {
    type Seen = bool;

    fn log_chance(&self, is_event: bool) -> f64 {
        let p = self.0.mean();
        if is_event { p.ln() } else { (-p).ln_1p() }
    }

    fn after(&self, is_event: bool) -> Chances {
        Chances(self.0.after(Counts { events: u64::from(is_event), trials: 1 }))
    }
}

impl Stretch for Values {
    type Seen = f64;

    fn log_chance(&self, value: f64) -> f64 {
        let [freedom, location, scale] = self.0.next_value();
        StudentsT::new(location, scale, freedom).map_or(f64::NAN, |law| law.ln_pdf(value))
    }

    fn after(&self, value: f64) -> Values {
        Values(self.0.after_value(value))
    }
}

/// The posterior of the run length: how many have been seen since the last change. Entry 0 is "a change comes right
/// after the last one seen".
///
/// Source: Adams and MacKay 2007, Bayesian Online Changepoint Detection, arXiv:0710.3742 (from memory).
#[derive(Clone, Debug, PartialEq)]
pub struct Online<S> {
    fresh: S,
    hazard: f64,
    /// ln of the chance of each run length, and what is believed of its stretch.
    runs: Vec<(f64, S)>,
}

impl<S: Stretch> Online<S> {
    /// With a belief for a fresh stretch, and the chance of a change after each one seen. `None` unless that is within 0
    /// to 1.
    pub fn new(fresh: S, hazard: f64) -> Option<Online<S>> {
        let is_right = 0.0 < hazard && hazard < 1.0;
        is_right.then(|| Online { runs: vec![(0.0, fresh.clone())], fresh, hazard })
    }

    /// One more seen.
    pub fn push(&mut self, seen: S::Seen) {
        let (change, stay) = (self.hazard.ln(), (-self.hazard).ln_1p());
        let weighed: Vec<(f64, S)> =
            self.runs.iter().map(|(log, stretch)| (log + stretch.log_chance(seen), stretch.after(seen))).collect();
        let whole = log_sum(weighed.iter().map(|(log, _)| *log));
        self.runs.clear();
        self.runs.push((change, self.fresh.clone()));
        self.runs.extend(weighed.into_iter().map(|(log, stretch)| (log - whole + stay, stretch)));
    }

    /// Chances of run lengths 0, 1, 2 …; together 1.
    pub fn chances(&self) -> Vec<f64> {
        self.runs.iter().map(|(log, _)| log.exp()).collect()
    }

    /// Mean run length.
    pub fn expected(&self) -> f64 {
        self.chances().iter().zip(0u32..).map(|(chance, run)| chance * f64::from(run)).sum()
    }

    /// The run length with the highest chance.
    pub fn most_likely(&self) -> usize {
        let best = self.runs.iter().enumerate().max_by(|a, b| a.1.0.total_cmp(&b.1.0));
        best.map_or(0, |(run, _)| run)
    }

    /// The chance that there was a change within the last so many.
    pub fn changed_within(&self, last: usize) -> f64 {
        self.chances().iter().take(last + 1).sum()
    }
}

/// ln Σ e^x.
fn log_sum(logs: impl Iterator<Item = f64> + Clone) -> f64 {
    let largest = logs.clone().fold(f64::NEG_INFINITY, f64::max);
    largest + logs.map(|log| (log - largest).exp()).sum::<f64>().ln()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_chances_stay_together_one(seen in proptest::collection::vec(any::<bool>(), 0..60), hazard in 0.001..0.5f64) {
            let mut online = Online::new(Chances(Beta { a: 1.0, b: 4.0 }), hazard).unwrap();
            for one in &seen {
                online.push(*one);
            }
            prop_assert!((online.chances().iter().sum::<f64>() - 1.0).abs() < 1e-10);
            prop_assert_eq!(online.chances().len(), seen.len() + 1);
            prop_assert!((online.changed_within(seen.len()) - 1.0).abs() < 1e-10);
        }
    }

    #[test]
    fn a_hazard_is_a_chance() {
        assert!(Online::new(Chances(Beta { a: 1.0, b: 1.0 }), 0.0).is_none());
    }
}
