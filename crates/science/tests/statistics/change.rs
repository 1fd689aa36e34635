use crate::table::{Row, Worst, row, rows};
use science::statistics::change::*;
use science::statistics::intervals::Belief;
use science::statistics::rates::Beta;

#[test]
fn cumulative_sums_are_those_written_out() {
    let mut worst = Worst::default();
    let bernoulli = row("cusum", "what", "bernoulli");
    let mut sum = BernoulliSum::new(bernoulli.number("first"), bernoulli.number("second")).unwrap();
    let sums: Vec<f64> = bernoulli.counts("x").into_iter().map(|x| sum.push(x == 1)).collect();
    worst.all_absolute(&sums, &bernoulli.numbers("high"), "bernoulli");
    assert_eq!(first_above(&sums, bernoulli.number("h")), Some(bernoulli.count("alarm")));
    let normal = row("cusum", "what", "normal");
    let mut sum = NormalSum::new(normal.number("first"));
    let sums: Vec<NormalSum> = normal.numbers("x").into_iter().map(|z| sum.push(z)).collect();
    let (low, high): (Vec<f64>, Vec<f64>) = sums.iter().map(|sum| (sum.low, sum.high)).unzip();
    worst.all_absolute(&low, &normal.numbers("low"), "low");
    worst.all_absolute(&high, &normal.numbers("high"), "high");
    assert_eq!(first_above(&low, normal.number("h")), Some(normal.count("alarm")));
    worst.within(1e-12);
}

#[test]
fn run_lengths_are_those_of_the_chain() {
    let mut worst = Worst::default();
    for row in rows("cusum_run_lengths") {
        let got = run_length_of_normal_sum(row.number("k"), row.number("h"), row.number("shift"), 400).unwrap();
        worst.relative(got, row.number("length"), row.text("h"));
    }
    worst.within(1e-9);
}

fn prior(row: &Row) -> Vec<f64> {
    row.numbers("prior")
}

#[test]
fn run_lengths_since_a_change_agree_with_enumeration() {
    let (row, mut worst) = (row("online_change", "what", "bernoulli"), Worst::default());
    let belief = Beta { a: prior(&row)[0], b: prior(&row)[1] };
    let mut online = Online::new(Chances(belief), row.number("hazard")).unwrap();
    for (k, x) in row.counts("x").into_iter().enumerate() {
        online.push(x == 1);
        worst.absolute(online.expected(), row.numbers("expected")[k], format!("expected after {k}"));
        if k == 8 {
            worst.all_absolute(&online.chances(), &row.numbers("after_8"), "after 8");
        }
    }
    worst.all_absolute(&online.chances(), &row.numbers("final"), "final");
    let last: f64 = row.numbers("final").iter().take(6).sum();
    worst.absolute(online.changed_within(5), last, "within the last five");
    worst.within(1e-10);
}

#[test]
fn a_jump_of_the_mean_is_seen_where_numpy_sees_it() {
    let (row, mut worst) = (row("online_change", "what", "normal"), Worst::default());
    let [mean, strength, a, b] = prior(&row)[..] else { panic!("four numbers") };
    let mut online = Online::new(Values(Belief { mean, strength, a, b }), row.number("hazard")).unwrap();
    for (x, run) in row.numbers("x").into_iter().zip(row.counts("most_likely")) {
        online.push(x);
        assert_eq!(online.most_likely(), run);
    }
    worst.all_absolute(&online.chances(), &row.numbers("final"), "final");
    worst.within(1e-10);
}
