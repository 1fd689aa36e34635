use crate::table::{Worst, row, rows};
use science::statistics::least_squares::Gaussian;
use science::statistics::rates::*;

#[test]
fn beta_binomial_agrees_with_scipy() {
    let mut worst = Worst::default();
    for row in rows("beta_binomial") {
        let belief = Beta { a: row.number("a"), b: row.number("b") };
        let counts = Counts { events: row.count("r") as u64, trials: row.count("n") as u64 };
        let at = format!("{belief:?} {counts:?}");
        let mut compare = |got: f64, column: &str| worst.relative(got, row.number(column), format!("{at} {column}"));
        compare(belief.at_least(counts), "at_least");
        compare(belief.exactly(counts), "exactly");
        compare(belief.mid_p(counts), "mid_p");
        let after = belief.after(counts);
        compare(after.mean(), "mean");
        let [low, high] = after.interval(0.95);
        compare(low, "low95");
        compare(high, "high95");
        let next = [1, 2, 3, 5].map(|k| after.all_of_next(k));
        worst.all_relative(&next, &row.numbers("next_1_2_3_5"), &at);
    }
    worst.within(1e-9);
}

#[test]
fn a_belief_from_many_subjects_agrees_with_scipy() {
    let counts: Vec<Counts> = rows("rate_counts")
        .iter()
        .map(|row| Counts { events: row.count("events") as u64, trials: row.count("trials") as u64 })
        .collect();
    let (belief, value) = Beta::fit(&counts).unwrap();
    let (wanted, mut worst) = (rows("rate_counts_fit").remove(0), Worst::default());
    worst.absolute(belief.a.ln(), wanted.number("a").ln(), "ln a");
    worst.absolute(belief.b.ln(), wanted.number("b").ln(), "ln b");
    worst.relative(value, wanted.number("log_likelihood"), "ln L");
    worst.absolute(belief.correlation(), 1.0 / (wanted.number("a") + wanted.number("b") + 1.0), "correlation");
    let first: Vec<Beta> = counts.iter().take(5).map(|counts| belief.after(*counts)).collect();
    let of = |f: fn(&Beta) -> f64| first.iter().map(f).collect::<Vec<_>>();
    worst.all_relative(&of(Beta::mean), &wanted.numbers("first_means"), "means");
    worst.all_relative(&of(|b| b.interval(0.9)[0]), &wanted.numbers("first_low90"), "low ends");
    worst.all_relative(&of(|b| b.interval(0.9)[1]), &wanted.numbers("first_high90"), "high ends");
    worst.within(1e-5);
}

fn observations() -> Vec<Observation> {
    let covariates = |day: f64, flag: f64, other: f64| {
        let [c1, s1, c2, s2] = harmonics(day);
        vec![1.0, c1, s1, c2, s2, flag, other]
    };
    rows("season_data")
        .iter()
        .map(|row| Observation {
            covariates: covariates(row.number("day_of_year"), row.number("flag"), row.number("covariate")),
            is_event: row.count("event") == 1,
        })
        .collect()
}

fn season(name: &str) -> Logistic {
    let row = row("season_fits", "fit", name);
    let priors = row.numbers("prior_mean").into_iter().zip(row.numbers("prior_sd"));
    let priors: Vec<Gaussian> = priors.map(|(mean, deviation)| Gaussian { mean, deviation }).collect();
    Logistic::fit(&observations(), &priors).unwrap()
}

#[test]
fn logistic_regression_agrees_with_statsmodels_scikit_learn_and_bfgs() {
    // The iterations of scikit-learn stop at some 1e-6.
    let (mut tight, mut ridge) = (Worst::default(), Worst::default());
    for name in ["unpenalised", "ridge", "prior"] {
        let (row, found) = (row("season_fits", "fit", name), season(name));
        let worst = if name == "ridge" { &mut ridge } else { &mut tight };
        worst.all_relative(&found.coefficients, &row.numbers("beta"), name);
        if name == "unpenalised" {
            tight.all_relative(&found.deviations(), &row.numbers("se"), name);
            tight.relative(found.log_likelihood, row.number("log_likelihood"), name);
        }
        if name == "prior" {
            tight.all_relative(found.covariance.as_slice(), &row.numbers("covariance"), name);
        }
    }
    tight.within(1e-7);
    ridge.within(1e-5);
}

#[test]
fn chances_over_the_year_agree_with_scipy() {
    let (found, mut worst) = (season("prior"), Worst::default());
    for row in rows("season_predictions") {
        let [c1, s1, c2, s2] = harmonics(row.number("day_of_year"));
        let covariates = [1.0, c1, s1, c2, s2, row.number("flag"), row.number("covariate")];
        let (chance, [low, high]) = found.chance(&covariates, 0.95);
        let wanted = ["chance", "low", "high"].map(|column| row.number(column));
        worst.all_relative(&[chance, low, high], &wanted, row.text("day_of_year"));
    }
    worst.within(1e-7);
}

#[test]
fn the_longest_run_agrees_with_exact_fractions() {
    let mut worst = Worst::default();
    for row in rows("longest_run") {
        let got = longest_run_at_least(row.count("k"), row.count("n"), row.number("p"));
        worst.relative(got, row.number("chance"), format!("{} of {}", row.text("k"), row.text("n")));
    }
    worst.within(1e-9);
}

#[test]
fn the_runs_test_agrees_with_exact_fractions_and_statsmodels() {
    let row = rows("wald_wolfowitz").remove(0);
    let events: Vec<bool> = row.counts("x").into_iter().map(|x| x == 1).collect();
    let (test, mut worst) = (runs_test(&events).unwrap(), Worst::default());
    assert_eq!(test.runs, row.count("runs"));
    worst.relative(test.p_so_few, row.number("p_runs_at_most"), "p");
    worst.relative(test.z, row.number("z"), "z");
    worst.relative(2.0 * science::statistics::normal::below(test.z), row.number("p_normal"), "p by z");
    worst.within(1e-9);
}
