//! Which of many alarms to raise.

/// Which of many tests to believe, so that on average no more than `share` of those believed are false: the largest k
/// with the k-th smallest p ≤ k/m · share, and all below. In the order given.
///
/// Source: Benjamini and Hochberg 1995, Journal of the Royal Statistical Society B 57, 289 (from memory).
pub fn benjamini_hochberg(p: &[f64], share: f64) -> Vec<bool> {
    let mut sorted: Vec<f64> = p.to_vec();
    sorted.sort_by(f64::total_cmp);
    let m = p.len() as f64;
    let is_below = |(k, p): &(usize, &f64)| **p <= (k + 1) as f64 / m * share;
    let limit = sorted.iter().enumerate().filter(is_below).map(|(_, p)| *p).next_back();
    p.iter().map(|p| limit.is_some_and(|limit| *p <= limit)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_example_of_the_paper_is_reproduced() {
        // Benjamini and Hochberg 1995, section 4: fifteen hypotheses, four rejected at 0.05 (from memory).
        let p = [
            0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719, 0.6528,
            0.7590, 1.0000,
        ];
        let believed = benjamini_hochberg(&p, 0.05);
        assert_eq!(believed.iter().filter(|b| **b).count(), 4);
        assert!(believed[..4].iter().all(|b| *b));
    }

    #[test]
    fn of_nothing_nothing_is_believed() {
        assert!(benjamini_hochberg(&[], 0.1).is_empty());
        assert_eq!(benjamini_hochberg(&[0.9, f64::NAN], 0.1), [false, false]);
    }
}
