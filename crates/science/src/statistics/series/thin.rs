//! Fewer points that look the same.

use super::Reading;

/// The places of `count` readings by largest-triangle-three-buckets: first and last, and of each bucket between the one
/// that spans the largest triangle with the one chosen before and the mean of the next bucket. It can hide a spike: for
/// alarms take [`extremes`]. All of them where there are no more, or fewer than three are asked for.
///
/// Source: Steinarsson 2013, Downsampling Time Series for Visual Representation, MSc thesis, University of Iceland; the
/// buckets are those of `tsdownsample`, over which implementations differ.
pub fn largest_triangles(series: &[Reading], count: usize) -> Vec<usize> {
    let all = series.len();
    if all <= count || count < 3 {
        return (0..all).collect();
    }
    let every = (all - 2) as f64 / (count - 2) as f64;
    let edge = |bucket: usize| ((bucket as f64 * every).floor() as usize + 1).min(all);
    let mut chosen = Vec::with_capacity(count);
    chosen.push(0);
    let mut before = series.first().copied().unwrap_or(Reading { time: 0.0, value: 0.0 });
    for bucket in 0..count - 2 {
        let next = series.get(edge(bucket + 1)..edge(bucket + 2)).unwrap_or_default();
        let n = next.len().max(1) as f64;
        let (time, value) = next.iter().fold((0.0, 0.0), |(t, v), r| (t + r.time, v + r.value));
        let (time, value) = (time / n, value / n);
        let area = |r: &Reading| {
            ((before.time - time) * (r.value - before.value) - (before.time - r.time) * (value - before.value)).abs()
        };
        let here = series.iter().enumerate().take(edge(bucket + 1)).skip(edge(bucket));
        // Of equals the first.
        let best = here.rev().max_by(|a, b| area(a.1).total_cmp(&area(b.1)));
        if let Some((at, reading)) = best {
            chosen.push(at);
            before = *reading;
        }
    }
    chosen.push(all - 1);
    chosen
}

/// The places of the first least and the first largest value of each of so many equal stretches, in order.
pub fn extremes(values: &[f64], stretches: usize) -> Vec<usize> {
    let mut chosen = Vec::with_capacity(2 * stretches);
    for stretch in 0..stretches {
        let edge = |stretch: usize| stretch * values.len() / stretches;
        let here = || values.iter().enumerate().take(edge(stretch + 1)).skip(edge(stretch));
        let least = here().min_by(|a, b| a.1.total_cmp(b.1)).map(|(at, _)| at);
        let largest = here().rev().max_by(|a, b| a.1.total_cmp(b.1)).map(|(at, _)| at);
        if let (Some(a), Some(b)) = (least, largest) {
            chosen.push(a.min(b));
            if a != b {
                chosen.push(a.max(b));
            }
        }
    }
    chosen
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn no_extreme_is_lost_and_the_order_stays(values in proptest::collection::vec(-50i32..50, 1..200), stretches in 1usize..20) {
            let values: Vec<f64> = values.into_iter().map(f64::from).collect();
            let chosen = extremes(&values, stretches);
            prop_assert!(chosen.windows(2).all(|two| two[0] < two[1]));
            let of = |f: fn(f64, f64) -> f64| values.iter().copied().reduce(f).unwrap();
            prop_assert!(chosen.iter().any(|at| values[*at] == of(f64::min)) && chosen.iter().any(|at| values[*at] == of(f64::max)));
        }

        #[test]
        fn as_many_as_asked_for_are_chosen_in_order(values in proptest::collection::vec(-50.0..50.0f64, 0..200), count in 0usize..60) {
            let series: Vec<Reading> = values.iter().enumerate().map(|(k, v)| Reading { time: k as f64, value: *v }).collect();
            let chosen = largest_triangles(&series, count);
            prop_assert_eq!(chosen.len(), if count < 3 { values.len() } else { count.min(values.len()) });
            prop_assert!(chosen.windows(2).all(|two| two[0] < two[1]));
        }
    }
}
