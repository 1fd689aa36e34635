//! Sums of a stretch of readings that can be put together again in any order.

use std::collections::BTreeMap;

/// Count, sum, extremes and squared deviations.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rollup {
    /// How many.
    pub count: u64,
    /// Sum in hundredths, exactly.
    pub hundredths: i64,
    /// Least.
    pub least: f64,
    /// Largest.
    pub largest: f64,
    /// Mean.
    pub mean: f64,
    /// Σ(x − mean)².
    pub squares: f64,
}

impl Rollup {
    /// Of one reading.
    pub fn of(value: f64) -> Rollup {
        let hundredths = (100.0 * value).round() as i64;
        Rollup { count: 1, hundredths, least: value, largest: value, mean: value, squares: 0.0 }
    }

    /// Of many; `None` of none.
    pub fn of_all(values: &[f64]) -> Option<Rollup> {
        values.iter().copied().map(Rollup::of).reduce(|a, b| a.with(&b))
    }

    /// Of both together.
    ///
    /// Source: Chan, Golub and LeVeque 1983, The American Statistician 37, 242 (from memory).
    pub fn with(&self, other: &Rollup) -> Rollup {
        let (here, there) = (self.count as f64, other.count as f64);
        let (all, apart) = (here + there, other.mean - self.mean);
        Rollup {
            count: self.count + other.count,
            hundredths: self.hundredths + other.hundredths,
            least: self.least.min(other.least),
            largest: self.largest.max(other.largest),
            mean: self.mean + apart * there / all,
            squares: self.squares + other.squares + apart * apart * here * there / all,
        }
    }

    /// Sum of all.
    pub fn sum(&self) -> f64 {
        self.hundredths as f64 / 100.0
    }

    /// Standard deviation; zero of one reading.
    pub fn deviation(&self) -> f64 {
        (self.squares / (self.count as f64 - 1.0).max(1.0)).sqrt()
    }
}

/// How many readings there were of each tenth: quantiles to a tenth for any stretch.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Histogram {
    /// Tenths, and how many.
    pub counts: BTreeMap<i32, u64>,
}

impl Histogram {
    /// Of some readings, each at the nearest tenth, halves to the even one.
    pub fn of(values: &[f64]) -> Histogram {
        let mut histogram = Histogram::default();
        for value in values {
            *histogram.counts.entry((10.0 * value).round_ties_even() as i32).or_insert(0) += 1;
        }
        histogram
    }

    /// Of both together.
    pub fn with(mut self, other: &Histogram) -> Histogram {
        for (tenth, count) in &other.counts {
            *self.counts.entry(*tenth).or_insert(0) += count;
        }
        self
    }

    /// The lowest tenth that at least a share of `p` does not exceed; `None` of nothing, or outside of 0 to 1.
    pub fn quantile(&self, p: f64) -> Option<f64> {
        let all: u64 = self.counts.values().sum();
        if !(0.0..=1.0).contains(&p) {
            return None;
        }
        let rank = ((p * all as f64).ceil() as u64).max(1);
        let mut seen = 0;
        for (tenth, count) in &self.counts {
            seen += count;
            if rank <= seen {
                return Some(f64::from(*tenth) / 10.0);
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn parts_in_any_order_are_the_whole(hundredths in proptest::collection::vec(-2000i32..6000, 3..100), cut in 1usize..90) {
            let values: Vec<f64> = hundredths.iter().map(|h| f64::from(*h) / 100.0).collect();
            let cut = cut.min(values.len() - 1);
            let (a, b) = values.split_at(cut);
            let whole = Rollup::of_all(&values).unwrap();
            for (one, two) in [(a, b), (b, a)] {
                let both = Rollup::of_all(one).unwrap().with(&Rollup::of_all(two).unwrap());
                prop_assert_eq!((both.count, both.hundredths, both.least, both.largest), (whole.count, whole.hundredths, whole.least, whole.largest));
                prop_assert!((both.mean - whole.mean).abs() < 1e-10 && (both.squares - whole.squares).abs() <= 1e-9 * (1.0 + whole.squares));
                prop_assert_eq!(Histogram::of(one).with(&Histogram::of(two)), Histogram::of(&values));
            }
        }
    }

    #[test]
    fn of_nothing_there_is_no_sum_and_no_quantile() {
        assert!(Rollup::of_all(&[]).is_none() && Histogram::of(&[]).quantile(0.5).is_none());
        assert!(Histogram::of(&[1.0]).quantile(1.5).is_none() && Rollup::of(3.0).deviation() == 0.0);
    }
}
