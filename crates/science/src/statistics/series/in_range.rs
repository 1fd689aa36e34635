//! How long it was too low, right and too high.

use super::Reading;
use std::ops::RangeInclusive;

/// Seconds on each side of a range, its ends being inside. What is not known is in none of them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct InRange {
    /// Below.
    pub below: f64,
    /// Inside.
    pub inside: f64,
    /// Above.
    pub above: f64,
}

impl InRange {
    /// Seconds that are known.
    pub fn known(&self) -> f64 {
        self.below + self.inside + self.above
    }
}

/// Each reading lasts until the next one, the last until `end`, none longer than `longest` seconds.
pub fn hold(series: &[Reading], range: RangeInclusive<f64>, longest: f64, end: f64) -> InRange {
    let mut sum = InRange::default();
    let ends = series.iter().skip(1).map(|next| next.time).chain([end]);
    for (reading, until) in series.iter().zip(ends) {
        let seconds = (until - reading.time).clamp(0.0, longest);
        if reading.value < *range.start() {
            sum.below += seconds;
        } else if *range.end() < reading.value {
            sum.above += seconds;
        } else {
            sum.inside += seconds;
        }
    }
    sum
}

/// A straight line from each reading to the next; where they are more than `longest` seconds apart nothing is known. Also
/// the mean over the known time, which a mean of readings is not; `None` where no time is known.
pub fn linear(series: &[Reading], range: RangeInclusive<f64>, longest: f64) -> (InRange, Option<f64>) {
    let (mut sum, mut area) = (InRange::default(), 0.0);
    let (low, high) = (*range.start(), *range.end());
    for (a, b) in series.iter().zip(series.iter().skip(1)) {
        let seconds = b.time - a.time;
        if !(0.0 < seconds && seconds <= longest) {
            continue;
        }
        let (least, most) = (a.value.min(b.value), a.value.max(b.value));
        let (below, above) = if least == most {
            (f64::from(u8::from(least < low)), f64::from(u8::from(high < least)))
        } else {
            let width = most - least;
            ((most.min(low) - least).max(0.0) / width, (most - least.max(high)).max(0.0) / width)
        };
        sum.below += seconds * below;
        sum.above += seconds * above;
        sum.inside += seconds * (1.0 - below - above);
        area += 0.5 * seconds * (a.value + b.value);
    }
    (sum, (0.0 < sum.known()).then(|| area / sum.known()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_line_is_the_limit_of_holding_finely(values in proptest::collection::vec(20.0..35.0f64, 2..12)) {
            let series: Vec<Reading> =
                values.iter().enumerate().map(|(k, v)| Reading { time: 300.0 * k as f64, value: *v }).collect();
            let mut fine = Vec::new();
            for (a, b) in series.iter().zip(&series[1..]) {
                let at = |k: u32| (f64::from(k) + 0.5) / 1000.0;
                let between = |k: u32| Reading { time: a.time + 300.0 * f64::from(k) / 1000.0, value: a.value + (b.value - a.value) * at(k) };
                fine.extend((0..1000).map(between));
            }
            let (exact, mean) = linear(&series, 25.0..=30.0, 1e9);
            let end = series.last().unwrap().time;
            let summed = hold(&fine, 25.0..=30.0, 1e9, end);
            let off = 2.0 * values.len() as f64;
            prop_assert!((exact.below - summed.below).abs() < off && (exact.above - summed.above).abs() < off);
            prop_assert!((exact.known() - end).abs() < 1e-6 && (summed.known() - end).abs() < 1e-6);
            let plain = fine.iter().map(|r| r.value).sum::<f64>() / fine.len() as f64;
            prop_assert!((mean.unwrap() - plain).abs() < 1e-9);
        }
    }

    #[test]
    fn without_two_readings_no_time_is_known() {
        assert_eq!(linear(&[Reading { time: 0.0, value: 1.0 }], 0.0..=2.0, 60.0), (InRange::default(), None));
    }
}
