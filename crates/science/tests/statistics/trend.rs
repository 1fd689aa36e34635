use crate::table::{Worst, rows};
use science::statistics::trend::*;

#[test]
fn lines_by_medians_agree_with_scipy() {
    let (row, mut worst) = (rows("theil_sen").remove(0), Worst::default());
    let points: Vec<(f64, f64)> = row.numbers("x").into_iter().zip(row.numbers("y")).collect();
    let trend = theil_sen(&points, 0.95).unwrap();
    let [low, high] = trend.slope_interval;
    let wanted = ["slope", "intercept", "low95", "high95"].map(|column| row.number(column));
    worst.all_relative(&[trend.line.slope, trend.line.intercept, low, high], &wanted, "Theil and Sen");
    let siegel = siegel(&points).unwrap();
    worst.relative(siegel.slope, row.number("siegel_slope"), "Siegel");
    worst.relative(siegel.intercept, row.number("siegel_intercept"), "Siegel");
    worst.relative(kendall_tau(&points).unwrap(), row.number("kendall_tau"), "Kendall");
    worst.within(1e-12);
    assert!(trend.is_falling_or_rising());
    // The wrong value pulls the line of least squares away, and not this one.
    assert!((trend.line.slope + 1.1).abs() < 0.1 && 0.2 < (row.number("least_squares_slope") + 1.1).abs());
}
