//! Events in a row.

use statrs::function::factorial::ln_binomial;

/// P(the longest run of events in `trials` is at least `run`), each with chance `p`: with Aᵢ the chance of no such run
/// in i trials, Aᵢ = Aᵢ₋₁ − (1 − p) p^run Aᵢ₋ᵣᵤₙ₋₁. A run of zero is certain.
///
/// Source: Feller 1968, An Introduction to Probability Theory, XIII.7 (from memory).
pub fn longest_run_at_least(run: usize, trials: usize, p: f64) -> f64 {
    if run == 0 {
        return 1.0;
    }
    let all = p.powi(i32::try_from(run).unwrap_or(i32::MAX));
    // What is kept is the chance of such a run: so small ones keep their digits.
    let mut chance: Vec<f64> = vec![0.0; run.min(trials + 1)];
    for i in run..=trials {
        let before = chance.last().copied().unwrap_or(0.0);
        let begins =
            if i == run { all } else { (1.0 - p) * all * (1.0 - chance.get(i - run - 1).copied().unwrap_or(0.0)) };
        chance.push(before + begins);
    }
    chance.last().copied().unwrap_or(0.0)
}

/// The test of Wald and Wolfowitz: do events cluster?
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunsTest {
    /// How many runs of either kind there are.
    pub runs: usize,
    /// P(so few runs or fewer) if the order were luck, exactly.
    pub p_so_few: f64,
    /// How many standard deviations from what luck gives; without correction for continuity.
    pub z: f64,
}

/// Counts runs of events and of none. `None` where all are alike.
///
/// Source: Wald and Wolfowitz 1940, Annals of Mathematical Statistics 11, 147 (from memory).
pub fn runs_test(events: &[bool]) -> Option<RunsTest> {
    let ones = events.iter().filter(|e| **e).count();
    let zeros = events.len() - ones;
    if ones == 0 || zeros == 0 {
        return None;
    }
    let runs = events.chunk_by(|a, b| a == b).count();
    let ways = |of: usize, into: usize| {
        // Into so many runs, none of them empty.
        if into == 0 || of < into { f64::NEG_INFINITY } else { ln_binomial(of as u64 - 1, into as u64 - 1) }
    };
    let all = ln_binomial(events.len() as u64, ones as u64);
    let exactly = |runs: usize| {
        let (less, more) = (runs / 2, runs.div_ceil(2));
        if less == more {
            2.0 * (ways(ones, less) + ways(zeros, less) - all).exp()
        } else {
            (ways(ones, less) + ways(zeros, more) - all).exp() + (ways(ones, more) + ways(zeros, less) - all).exp()
        }
    };
    let (n1, n0) = (ones as f64, zeros as f64);
    let n = n1 + n0;
    let mean = 2.0 * n1 * n0 / n + 1.0;
    let variance = (mean - 1.0) * (mean - 2.0) / (n - 1.0);
    Some(RunsTest {
        runs,
        p_so_few: (2..=runs).map(exactly).sum::<f64>().min(1.0),
        z: (runs as f64 - mean) / variance.sqrt(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// All sequences of so many trials, with the chance of each.
    fn all(trials: usize, p: f64) -> impl Iterator<Item = (Vec<bool>, f64)> {
        (0..1u32 << trials).map(move |bits| {
            let events: Vec<bool> = (0..trials).map(|k| bits >> k & 1 == 1).collect();
            let ones = bits.count_ones() as i32;
            (events, p.powi(ones) * (1.0 - p).powi(trials as i32 - ones))
        })
    }

    fn longest(events: &[bool]) -> usize {
        events.chunk_by(|a, b| a == b).filter(|run| run[0]).map(<[bool]>::len).max().unwrap_or(0)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]
        #[test]
        fn the_longest_run_is_that_of_enumeration(p in 0.01..0.9f64, trials in 0usize..11, run in 0usize..12) {
            let wanted: f64 = all(trials, p).filter(|(events, _)| run <= longest(events)).map(|(_, chance)| chance).sum();
            prop_assert!((longest_run_at_least(run, trials, p) - wanted).abs() < 1e-12);
        }

        #[test]
        fn few_runs_are_as_likely_as_enumeration_says(ones in 1usize..6, zeros in 1usize..6, seed in 0usize..1000) {
            let same: Vec<Vec<bool>> =
                all(ones + zeros, 0.5).map(|(e, _)| e).filter(|e| e.iter().filter(|e| **e).count() == ones).collect();
            let test = runs_test(&same[seed % same.len()]).unwrap();
            let few = same.iter().filter(|e| runs_test(e).unwrap().runs <= test.runs).count();
            prop_assert!((test.p_so_few - few as f64 / same.len() as f64).abs() < 1e-12);
        }
    }

    #[test]
    fn all_alike_are_no_test() {
        assert!(runs_test(&[true; 5]).is_none() && runs_test(&[]).is_none());
    }
}
