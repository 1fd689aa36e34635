use crate::table::{Row, Worst, row, rows};
use science::statistics::series::*;

fn only(name: &str) -> Row {
    let mut all = rows(name);
    assert_eq!(all.len(), 1);
    all.remove(0)
}

fn readings(times: &[f64], values: &[f64]) -> Vec<Reading> {
    assert_eq!(times.len(), values.len());
    times.iter().zip(values).map(|(time, value)| Reading { time: *time, value: *value }).collect()
}

fn even(values: &[f64], step: f64) -> Vec<Reading> {
    values.iter().enumerate().map(|(k, value)| Reading { time: step * k as f64, value: *value }).collect()
}

#[test]
fn gaps_are_those_of_the_rule() {
    let (row, mut worst) = (only("series_gaps"), Worst::default());
    let found = gaps(&row.numbers("t")).unwrap();
    assert_eq!(found.step, row.number("expected"));
    worst.relative(found.coverage, row.number("coverage"), "coverage");
    let of = |f: fn(&Gap) -> f64| found.gaps.iter().map(f).collect::<Vec<_>>();
    worst.all_absolute(&of(|g| g.after), &row.numbers("after"), "after");
    worst.all_absolute(&of(|g| g.before), &row.numbers("before"), "before");
    worst.all_absolute(&of(|g| g.missing as f64), &row.numbers("missing"), "missing");
    worst.within(1e-12);
}

#[test]
fn flat_stretches_are_those_of_the_rule() {
    let row = only("series_flat");
    let rule =
        FlatRule { within: row.number("within"), readings: row.count("readings"), seconds: row.number("seconds") };
    let found = flat_stretches(&even(&row.numbers("values"), row.number("step")), &rule);
    let wanted = row.counts("first").into_iter().zip(row.counts("last"));
    assert_eq!(found, wanted.map(|(first, last)| first..=last).collect::<Vec<_>>());
    assert!(!found.is_empty() && flat_stretches(&[], &rule).is_empty());
}

#[test]
fn spikes_are_those_of_the_filter_with_and_without_a_floor() {
    for row in rows("series_hampel") {
        let rule = Hampel { half_window: 3, deviations: 3.0, floor: row.number("floor") };
        let mut values = row.numbers("values");
        let found = hampel(&values, &rule);
        assert_eq!(found.iter().map(|(at, _)| *at).collect::<Vec<_>>(), row.counts("outliers"));
        let filtered = row.numbers("filtered");
        if !filtered.is_empty() {
            for (at, median) in found {
                values[at] = median;
            }
            let mut worst = Worst::default();
            worst.all_absolute(&values, &filtered, "filtered");
            worst.within(1e-12);
        }
    }
}

#[test]
fn time_in_range_agrees_with_exact_fractions() {
    let (row, mut worst) = (only("series_in_range"), Worst::default());
    let series = readings(&row.numbers("t"), &row.numbers("values"));
    let range = row.number("low")..=row.number("high");
    let longest = row.number("longest");
    let three = |r: InRange| [r.below, r.inside, r.above];
    worst.all_absolute(&three(hold(&series, range.clone(), longest, row.number("end"))), &row.numbers("hold"), "hold");
    let (lines, mean) = linear(&series, range, longest);
    worst.all_absolute(&three(lines), &row.numbers("linear"), "linear");
    worst.absolute(mean.unwrap(), row.number("mean"), "mean");
    worst.within(1e-9);
}

#[test]
fn cycles_of_a_control_agree_with_numpy_and_with_the_truth() {
    let (row, mut worst) = (only("series_cycles"), Worst::default());
    let found = cycles(&only("series_cycles_data").numbers("values"), 20.0, 200, 15).unwrap();
    worst.all_relative(&found.levels, &[row.number("low"), row.number("high")], "levels");
    assert_eq!(found.upward, row.counts("upward"));
    worst.relative(found.period, row.number("period"), "period");
    worst.all_relative(&found.quartiles, &[row.number("period_q25"), row.number("period_q75")], "quartiles");
    worst.relative(found.duty.unwrap(), row.number("duty"), "duty");
    worst.within(1e-9);
    assert!((found.period / row.number("true_period") - 1.0).abs() < 0.01);
    assert!((found.duty.unwrap() - row.number("true_duty")).abs() < 0.01);
}

#[test]
fn drift_between_two_sensors_agrees_with_scipy() {
    let of = |sensor: &str| {
        let data = row("series_drift_data", "sensor", sensor);
        readings(&data.numbers("t"), &data.numbers("values"))
    };
    let rule = DriftRule { longest: 3840.0, pairs_a_day: 24 };
    let (row, mut worst) = (only("series_drift"), Worst::default());
    let found = drift(&of("A"), &of("B"), &rule).unwrap();
    assert_eq!(found.days.len(), row.count("days"));
    let [low, high] = found.trend.slope_interval;
    let got = [found.trend.line.slope, low, high, found.trend.line.intercept];
    worst.all_relative(&got, &["slope", "low95", "high95", "intercept"].map(|column| row.number(column)), "trend");
    worst.within(1e-9);
    assert!(found.trend.is_falling_or_rising() && drift(&of("A"), &[], &rule).is_none());
}

#[test]
fn an_alarm_and_its_mirror_image_change_when_the_rule_says() {
    let row = only("series_alarm");
    let (times, values) = (row.numbers("t"), row.numbers("values"));
    for (direction, sign) in [(Direction::High, 1.0), (Direction::Low, -1.0)] {
        let mut alarm = Alarm::new(Levels {
            direction,
            raise_at: sign * row.number("raise_at"),
            clear_at: sign * row.number("clear_at"),
            raise_after: row.number("raise_after"),
            clear_after: row.number("clear_after"),
            longest_gap: 3600.0,
        });
        let mirrored: Vec<f64> = values.iter().map(|v| sign * v).collect();
        let changes: Vec<Change> = readings(&times, &mirrored).into_iter().filter_map(|r| alarm.push(r)).collect();
        let of = |f: fn(&Change) -> f64| changes.iter().map(f).collect::<Vec<_>>();
        assert_eq!(of(|c| c.at), row.numbers("at"));
        assert_eq!(of(|c| c.since), row.numbers("since"));
        let kinds: Vec<&str> = changes.iter().map(|c| if c.is_raised { "raise" } else { "clear" }).collect();
        assert_eq!(kinds.join(" "), row.text("kind"));
        assert_eq!(alarm.is_raised, row.text("final") == "alarm");
    }
}

#[test]
fn thinned_series_agree_with_tsdownsample() {
    let row = only("series_thin");
    let values = row.numbers("values");
    let found = largest_triangles(&even(&values, row.number("step")), row.count("count"));
    assert_eq!(found, row.counts("largest_triangle"));
    assert_eq!(extremes(&values, 20), row.counts("extremes"));
}

#[test]
fn rollups_of_parts_are_those_of_the_whole() {
    let values = only("series_rollup_values").numbers("values");
    let parts = [&values[..137], &values[137..640], &values[640..]].map(|part| Rollup::of_all(part).unwrap());
    let merged = parts.iter().copied().reduce(|a, b| a.with(&b)).unwrap();
    let whole = Rollup::of_all(&values).unwrap();
    let mut worst = Worst::default();
    let names = ["first", "second", "third", "merged", "whole"];
    for (name, found) in names.into_iter().zip(parts.into_iter().chain([merged, whole])) {
        let row = row("series_rollup", "part", name);
        assert_eq!(found.count as usize, row.count("n"), "{name}");
        let got = [found.sum(), found.least, found.largest, found.mean, found.squares];
        worst.all_relative(&got, &["sum", "least", "largest", "mean", "m2"].map(|column| row.number(column)), name);
    }
    worst.within(1e-11);
}

#[test]
fn a_histogram_of_tenths_and_its_quantiles_are_those_of_the_rule() {
    let (row, values) = (only("series_histogram"), only("series_rollup_values").numbers("values"));
    let histogram = Histogram::of(&values);
    assert_eq!(histogram.counts.keys().map(|tenth| f64::from(*tenth)).collect::<Vec<_>>(), row.numbers("bins"));
    assert_eq!(histogram.counts.values().map(|count| *count as usize).collect::<Vec<_>>(), row.counts("counts"));
    let exact = row.numbers("levels").into_iter().zip(row.numbers("quantiles")).zip(row.numbers("exact"));
    for ((p, tenth), exact) in exact {
        assert_eq!(histogram.quantile(p), Some(tenth), "{p}");
        assert_eq!(science::statistics::summary::lower_quantile(&values, p), Some(exact), "{p}");
    }
}
