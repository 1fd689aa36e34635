//! Where readings are missing.

use crate::statistics::summary::median;

/// A gap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// Time of the last reading before it, s.
    pub after: f64,
    /// Time of the first reading after it, s.
    pub before: f64,
    /// About how many readings are missing.
    pub missing: u64,
}

/// The gaps of a series.
#[derive(Clone, Debug, PartialEq)]
pub struct Gaps {
    /// Median step, s.
    pub step: f64,
    /// In order.
    pub gaps: Vec<Gap>,
    /// Share of the time from first to last reading that is no gap; of a gap as much counts as is no gap yet.
    pub coverage: f64,
}

/// Steps of which there must be more before a gap is one: a single lost reading is none.
const STEPS: f64 = 2.5;

/// Finds gaps: steps of more than 2.5 times the median step. A sensor that sends only changes has no step of its own, so
/// this is not for it. `None` with fewer than two readings, or where all are at one time.
pub fn gaps(times: &[f64]) -> Option<Gaps> {
    let pairs = || times.iter().zip(times.iter().skip(1));
    let steps: Vec<f64> = pairs().map(|(a, b)| b - a).collect();
    let step = median(&steps)?;
    let whole = times.last()? - times.first()?;
    if !(0.0 < step && 0.0 < whole) {
        return None;
    }
    let longest = STEPS * step;
    let found = pairs().filter(|(a, b)| longest < *b - *a);
    let gaps =
        found.map(|(a, b)| Gap { after: *a, before: *b, missing: ((b - a) / step).round() as u64 - 1 }).collect();
    let seen: f64 = steps.iter().map(|step| step.min(longest)).sum();
    Some(Gaps { step, gaps, coverage: seen / whole })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_lost_reading_is_no_gap_and_two_are() {
        let found = gaps(&[0.0, 300.0, 600.0, 1200.0, 1500.0, 2400.0, 2700.0]).unwrap();
        assert_eq!(found.gaps, [Gap { after: 1500.0, before: 2400.0, missing: 2 }]);
        assert!(gaps(&[1.0]).is_none() && gaps(&[1.0, 1.0, 1.0]).is_none());
    }
}
