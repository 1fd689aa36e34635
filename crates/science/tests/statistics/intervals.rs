use crate::table::{Row, Worst, row, rows};
use science::statistics::intervals::*;

fn intervals(set: &str) -> Vec<Interval> {
    let data = row("survival_data", "set", set);
    let pairs = data.numbers("t").into_iter().zip(data.counts("event"));
    pairs.map(|(t, event)| if event == 1 { Interval::Ended(t) } else { Interval::Running(t) }).collect()
}

fn family(name: &str) -> Family {
    match name {
        "lognormal" => Family::Lognormal,
        "weibull" => Family::Weibull,
        "loglogistic" => Family::LogLogistic,
        "gamma" => Family::Gamma,
        other => panic!("no law {other}"),
    }
}

fn numbers(law: Law) -> [f64; 2] {
    match law {
        Law::Lognormal { mean, deviation } => [mean, deviation],
        Law::Weibull { scale, shape } | Law::LogLogistic { scale, shape } => [scale, shape],
        Law::Gamma { shape, scale } => [shape, scale],
        Law::LogStudent { .. } => panic!("never fitted"),
    }
}

#[test]
fn laws_of_censored_times_agree_with_scipy_and_lifelines() {
    let (mut logs, mut deviations, mut closed) = (Worst::default(), Worst::default(), Worst::default());
    for row in rows("survival_fits") {
        let at = format!("{} {}", row.text("set"), row.text("law"));
        let found =
            fit(family(row.text("law")), &intervals(row.text("set"))).unwrap_or_else(|fault| panic!("{at}: {fault}"));
        logs.all_relative(&numbers(found.law), &[row.number("first"), row.number("second")], &at);
        closed.relative(found.log_likelihood, row.number("log_likelihood"), &at);
        closed.relative(found.aic(), row.number("aic"), &at);
        if let Some(found) = found.deviations {
            deviations.all_relative(&found, &[row.number("se_first"), row.number("se_second")], &at);
        }
    }
    logs.within(1e-5);
    deviations.within(1e-3);
    closed.within(1e-9);
}

#[test]
fn kaplan_meier_agrees_with_lifelines_and_scipy() {
    let mut worst = Worst::default();
    for row in rows("kaplan_meier") {
        let name = row.text("set");
        let intervals = intervals(name);
        let estimate = KaplanMeier::of(&intervals).unwrap();
        for (k, time) in row.numbers("t").into_iter().enumerate() {
            let at = format!("{name} at {time}");
            worst.absolute(estimate.survival(time), row.numbers("survival")[k], &at);
            let ends = |low: &str, high: &str| [row.numbers(low)[k], row.numbers(high)[k]];
            worst.all_absolute(&estimate.interval(time, 0.95), &ends("loglog_low", "loglog_high"), &at);
            worst.all_absolute(&estimate.plain_interval(time, 0.95), &ends("linear_low", "linear_high"), &at);
        }
        worst.absolute(estimate.median().unwrap(), row.number("median"), name);
        let last = intervals.iter().filter(|i| i.is_ended()).map(|i| i.time()).fold(0.0, f64::max);
        worst.relative(estimate.mean_up_to(last).unwrap(), row.number("restricted_mean"), name);
    }
    worst.within(1e-9);
}

#[test]
fn what_is_no_interval_is_refused() {
    let fault = |intervals: &[Interval]| fit(Family::Weibull, intervals).err();
    assert_eq!(fault(&[Interval::Ended(3.0), Interval::Running(0.0)]), Some(IntervalFault::Time(1)));
    assert_eq!(fault(&[Interval::Ended(3.0), Interval::Running(5.0)]), Some(IntervalFault::TooFew));
    assert_eq!(fault(&[Interval::Ended(3.0), Interval::Ended(3.0)]), Some(IntervalFault::TooFew));
}

fn subjects() -> Vec<(String, Vec<f64>)> {
    rows("pooling_data").iter().map(|row| (row.text("subject").to_owned(), row.numbers("days"))).collect()
}

fn of(subject: &str) -> Vec<f64> {
    subjects().into_iter().find(|(name, _)| name == subject).unwrap().1
}

fn pool(method: Method) -> (Pool, f64) {
    Pool::fit(&subjects().into_iter().map(|(_, days)| days).collect::<Vec<_>>(), method).unwrap()
}

#[test]
fn pooled_variances_agree_with_scipy_and_statsmodels() {
    let mut worst = Worst::default();
    for row in rows("pooling") {
        let method = if row.text("method") == "reml" { Method::Restricted } else { Method::Full };
        let (found, value) = pool(method);
        let at = row.text("method");
        worst.relative(found.mean, row.number("mean"), at);
        worst.relative(found.between.powi(2), row.number("between_variance"), at);
        worst.relative(found.within.powi(2), row.number("within_variance"), at);
        worst.relative(value, row.number("log_likelihood"), at);
    }
    worst.within(1e-5);
}

/// The estimates of the table, so that what follows from them is compared in all digits.
fn pool_of_the_table() -> Pool {
    let row = row("pooling", "method", "reml");
    Pool {
        mean: row.number("mean"),
        between: row.number("between_variance").sqrt(),
        within: row.number("within_variance").sqrt(),
    }
}

#[test]
fn the_next_date_of_each_subject_agrees_with_scipy() {
    let (pool, mut worst) = (pool_of_the_table(), Worst::default());
    for row in rows("pooling_posterior") {
        let name = row.text("subject");
        let days = of(name);
        let subject = pool.subject(&days);
        let next = pool.next(subject);
        let after = next.after(45.0);
        let Law::Lognormal { deviation, .. } = next else { panic!("{next:?}") };
        let mut compare = |got: f64, column: &str| worst.relative(got, row.number(column), format!("{name} {column}"));
        compare(subject.mean, "mean");
        compare(subject.deviation, "sd");
        compare(deviation, "predicted_sd");
        compare(pool.shrinkage(days.len()), "shrinkage");
        compare(next.median(), "median");
        compare(next.quantile(0.1), "p10");
        compare(next.quantile(0.9), "p90");
        compare(after.not_yet(), "not_yet_45");
        compare(after.within(14.0).unwrap(), "within_14");
        let further = [0.1, 0.5, 0.9].map(|p| after.further(p).unwrap());
        worst.all_relative(&further, &row.numbers("extra_10_50_90"), name);
    }
    worst.within(1e-9);
}

#[test]
fn a_running_interval_teaches_as_the_quadrature_says() {
    let (pool, mut worst) = (pool_of_the_table(), Worst::default());
    for row in rows("pooling_censored") {
        let name = row.text("subject");
        let found = pool.subject_still_running(&of(name), row.number("running")).unwrap();
        worst.relative(found.mean, row.number("mean"), name);
        worst.relative(found.deviation, row.number("sd"), name);
    }
    worst.within(1e-8);
}

#[test]
fn what_has_passed_needs_no_second_update() {
    // Both ways to P(T ≤ 59 | T > 45): by the law of the next interval, and over the mean that 45 running days taught.
    let (pool, days) = (pool_of_the_table(), of("a04"));
    let at_once = pool.next(pool.subject(&days)).after(45.0).within(14.0).unwrap();
    let before = pool.subject(&days);
    let (mut now, mut then) = (0.0, 0.0);
    for k in -4000..=4000 {
        let z = f64::from(k) / 500.0;
        let law = Law::Lognormal { mean: before.mean + z * before.deviation, deviation: pool.within };
        let weight = (-0.5 * z * z).exp();
        now += weight * law.survival(45.0);
        then += weight * law.survival(59.0);
    }
    assert!((at_once - (1.0 - then / now)).abs() < 1e-8);
}

#[test]
fn an_unknown_spread_agrees_with_scipy() {
    let (row, mut worst): (Row, Worst) = (rows("unknown_variance").remove(0), Worst::default());
    let prior =
        Belief { mean: row.number("mean"), strength: row.number("strength"), a: row.number("a"), b: row.number("b") };
    let after = prior.after(&row.numbers("days")).unwrap();
    let posterior = [after.mean, after.strength, after.a, after.b];
    let wanted = ["post_mean", "post_strength", "post_a", "post_b"].map(|column| row.number(column));
    worst.all_relative(&posterior, &wanted, "posterior");
    let next = after.next();
    let Law::LogStudent { freedom, location, scale } = next else { panic!("{next:?}") };
    let wanted = ["freedom", "location", "scale"].map(|column| row.number(column));
    worst.all_relative(&[freedom, location, scale], &wanted, "next");
    let quantiles: Vec<f64> = row.numbers("levels").into_iter().map(|p| next.quantile(p)).collect();
    worst.all_relative(&quantiles, &row.numbers("quantiles"), "quantiles");
    let running = next.after(row.number("elapsed"));
    worst.relative(running.not_yet(), row.number("not_yet"), "not yet");
    let further = [0.1, 0.5, 0.9].map(|p| running.further(p).unwrap());
    worst.all_relative(&further, &row.numbers("extra_10_50_90"), "further");
    worst.within(1e-9);
    assert!(prior.after(&[30.0, 0.0]).is_none());
}
