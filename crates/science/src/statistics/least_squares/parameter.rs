//! A parameter: where it starts, where it may be, what is known of it beforehand.

/// A normal distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gaussian {
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation.
    pub deviation: f64,
}

/// Where a parameter may be; ends included.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Range {
    /// Anywhere.
    #[default]
    Free,
    /// At or above.
    AtLeast(f64),
    /// At or below.
    AtMost(f64),
    /// Between two.
    Between(f64, f64),
}

/// A parameter of a fit. For one that is positive and may span decades, fit its logarithm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parameter {
    /// Where the search begins.
    pub start: f64,
    /// Where it may go.
    pub range: Range,
    /// What is known beforehand.
    pub prior: Option<Gaussian>,
}

impl Parameter {
    /// A free one.
    pub fn starting_at(start: f64) -> Parameter {
        Parameter { start, range: Range::Free, prior: None }
    }

    /// The same within a range.
    pub fn within(self, range: Range) -> Parameter {
        Parameter { range, ..self }
    }

    /// The same with a prior.
    pub fn with_prior(self, mean: f64, deviation: f64) -> Parameter {
        Parameter { prior: Some(Gaussian { mean, deviation }), ..self }
    }
}

/// From which share of the width, or of the size where there is no width, a start is moved away from its bound: there
/// the change of variable is flat and the search would not leave it.
const CLEAR: f64 = 1e-3;

impl Range {
    /// Is it in there, and is there a there?
    pub fn has(&self, value: f64) -> bool {
        value.is_finite()
            && match self {
                Range::Free => true,
                Range::AtLeast(low) => low.is_finite() && *low <= value,
                Range::AtMost(high) => high.is_finite() && value <= *high,
                Range::Between(low, high) => {
                    low.is_finite() && high.is_finite() && low < high && (*low..=*high).contains(&value)
                }
            }
    }

    /// Value and derivative for an unbounded u, as MINUIT does it: a sine between two bounds, a root above one.
    ///
    /// Source: James and Roos 1975, Computer Physics Communications 10, 343 (from memory).
    pub(super) fn inside(&self, u: f64, size: f64) -> (f64, f64) {
        let root = (u * u + 1.0).sqrt();
        match self {
            Range::Free => (size * u, size),
            // √(u² + 1) − 1 without the difference of near equals.
            Range::AtLeast(low) => (low + size * u * u / (root + 1.0), size * u / root),
            Range::AtMost(high) => (high - size * u * u / (root + 1.0), -size * u / root),
            Range::Between(low, high) => {
                let half = 0.5 * (high - low);
                (low + half * (u.sin() + 1.0), half * u.cos())
            }
        }
    }

    /// The u of a value, a little away from a bound.
    pub(super) fn outside(&self, value: f64, size: f64) -> f64 {
        let from = |distance: f64| ((distance.max(CLEAR * size) / size + 1.0).powi(2) - 1.0).sqrt();
        match self {
            Range::Free => value / size,
            Range::AtLeast(low) => from(value - low),
            Range::AtMost(high) => from(high - value),
            Range::Between(low, high) => {
                let share = ((value - low) / (high - low)).clamp(CLEAR, 1.0 - CLEAR);
                (2.0 * share - 1.0).asin()
            }
        }
    }

    /// Its nearest end, if the value is within a share of 1e-6 of the width or size; with the sign that a move into
    /// the range has.
    pub(super) fn end_at(&self, value: f64, size: f64) -> Option<(f64, f64)> {
        const NEAR: f64 = 1e-6;
        let low = |low: f64, width: f64| (value - low <= NEAR * width).then_some((low, 1.0));
        let high = |high: f64, width: f64| (high - value <= NEAR * width).then_some((high, -1.0));
        match self {
            Range::Free => None,
            Range::AtLeast(l) => low(*l, size),
            Range::AtMost(h) => high(*h, size),
            Range::Between(l, h) => low(*l, h - l).or(high(*h, h - l)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn there_and_back_inside_of_a_range(share in 0.002..0.998f64, low in -50.0..50.0f64, width in 0.1..100.0f64) {
            let value = low + share * width;
            let ranges = [Range::Free, Range::AtLeast(low), Range::AtMost(low + width), Range::Between(low, low + width)];
            for range in ranges {
                let u = range.outside(value, 1.0);
                let (back, slope) = range.inside(u, 1.0);
                prop_assert!(range.has(back));
                let moved = CLEAR * 1.001;
                prop_assert!((back - value).abs() <= 1e-9 * (1.0 + value.abs()) || (back - value).abs() <= moved, "{range:?}: {back} and {value}");
                let h = 1e-6;
                let by_differences = (range.inside(u + h, 1.0).0 - range.inside(u - h, 1.0).0) / (2.0 * h);
                prop_assert!((slope - by_differences).abs() <= 1e-6 * (1.0 + width), "{range:?}: {slope} and {by_differences}");
            }
        }

        #[test]
        fn nothing_leaves_its_range(u in -1e6..1e6f64) {
            for range in [Range::AtLeast(2.0), Range::AtMost(-1.0), Range::Between(-3.0, 4.0)] {
                prop_assert!(range.has(range.inside(u, 1.0).0), "{range:?} at {u}");
            }
        }
    }

    #[test]
    fn an_empty_range_has_nothing() {
        assert!(!Range::Between(1.0, 1.0).has(1.0) && !Range::AtLeast(f64::NAN).has(1.0) && !Range::Free.has(f64::NAN));
    }
}
