use crate::table::{Worst, rows};
use science::statistics::summary::{autocorrelation, moments};

/// NumAcc2 to NumAcc4 are a first value and then 500 times a little below and a little above it.
fn made(base: f64) -> Vec<f64> {
    let mut values = vec![base + 0.2];
    for _ in 0..500 {
        values.extend([base + 0.1, base + 0.3]);
    }
    values
}

#[test]
fn moments_and_autocorrelation_are_those_that_nist_certifies() {
    let (mut means, mut others, mut rounded) = (Worst::default(), Worst::default(), Worst::default());
    for row in rows("nist_univariate") {
        let name = row.text("set");
        let values = match name {
            "NumAcc2" => made(1.0),
            "NumAcc3" => made(1e6),
            "NumAcc4" => made(1e7),
            _ => row.numbers("values"),
        };
        let got = moments(&values).unwrap();
        means.relative(got.mean, row.number("mean"), name);
        // 0.1 is not kept exactly beside a million: the data themselves have fewer digits.
        let worst = if ["NumAcc3", "NumAcc4"].contains(&name) { &mut rounded } else { &mut others };
        worst.relative(got.deviation, row.number("sd"), name);
        worst.relative(autocorrelation(&values).unwrap(), row.number("autocorrelation"), name);
    }
    means.within(1e-14);
    others.within(1e-11);
    rounded.within(1e-8);
}
