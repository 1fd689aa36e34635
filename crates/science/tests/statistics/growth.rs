use crate::table::{Row, Worst, row, rows};
use proptest::prelude::*;
use science::statistics::growth::*;
use science::statistics::least_squares::{FitFault, Gaussian, Loss, Settings};

fn curve(name: &str) -> Curve {
    match name {
        "vb_length" => Curve::VonBertalanffyLength,
        "vb_weight" => Curve::VonBertalanffyWeight,
        "gompertz" => Curve::Gompertz,
        "logistic" => Curve::Logistic,
        "richards" => Curve::Richards,
        other => panic!("no curve {other}"),
    }
}

fn loss(name: &str, bend: f64) -> Loss {
    match name {
        "linear" => Loss::Squares,
        "huber" => Loss::Huber(bend),
        "soft_l1" => Loss::SoftL1(bend),
        "cauchy" => Loss::Cauchy(bend),
        other => panic!("no loss {other}"),
    }
}

fn sightings(set: &str) -> Vec<Sighting> {
    let data = row("growth_data", "set", set);
    let pairs = data.numbers("t").into_iter().zip(data.numbers("y"));
    pairs.map(|(age_years, size)| Sighting { age_years, size }).collect()
}

fn plain(name: &str, set: &str) -> Result<GrowthFit, GrowthFault> {
    fit(curve(name), &sightings(set), Ages::Known, None, &Settings::default())
}

#[test]
fn plain_fits_agree_with_scipy_and_lmfit() {
    let (mut logs, mut deviations, mut closed) = (Worst::default(), Worst::default(), Worst::default());
    for row in rows("growth_fits") {
        let at = format!("{} {}", row.text("set"), row.text("curve"));
        let found = plain(row.text("curve"), row.text("set")).unwrap_or_else(|fault| panic!("{at}: {fault}"));
        let is_vague = found.doubts().contains(&Doubt::ShapeUnknown);
        assert_eq!(is_vague, at == "gompertz_24 richards", "{at}: {:?}", found.doubts());
        deviations.all_relative(&found.deviations(), &row.numbers("se"), &at);
        deviations.all_relative(found.fit.covariance.as_slice(), &row.numbers("covariance"), &at);
        logs.all_absolute(&found.fit.parameters, &row.numbers("log_parameters"), &at);
        closed.relative(found.fit.sum_of_squares(), row.number("rss"), &at);
        closed.relative(found.fit.residual_deviation, row.number("sigma"), &at);
        closed.relative(found.log_likelihood().unwrap(), row.number("log_likelihood"), &at);
        closed.relative(found.aicc().unwrap(), row.number("aicc"), &at);
        assert_eq!(found.fit.freedom, row.count("freedom"));
        let ends = [("curve_low", "curve_high", false), ("new_low", "new_high", true)];
        for (k, age) in row.numbers("t").into_iter().enumerate() {
            let there = found.at(age);
            logs.relative(there.size(), row.numbers("median")[k], &at);
            for (low, high, is_new) in ends {
                let got = if is_new { there.interval_of_one(0.95) } else { there.interval(0.95) };
                logs.all_relative(&got, &[row.numbers(low)[k], row.numbers(high)[k]], format!("{at} {low} at {age}"));
            }
        }
    }
    logs.within(1e-5);
    deviations.within(1e-3);
    closed.within(1e-9);
}

#[test]
fn curves_are_weighed_as_in_the_table() {
    for set in ["gompertz_24", "richards_60"] {
        let table: Vec<Row> = rows("growth_fits").into_iter().filter(|row| row.text("set") == set).collect();
        let fits = table.iter().map(|row| plain(row.text("curve"), set).unwrap()).collect();
        let choice = choose(fits).unwrap();
        let mut worst = Worst::default();
        for row in &table {
            let of = |w: &&Weighed| w.fit.growth.curve == curve(row.text("curve"));
            worst.absolute(choice.ranked.iter().find(of).unwrap().weight, row.number("weight"), row.text("curve"));
        }
        worst.within(1e-6);
        assert_eq!(choice.clear().map(|fit| fit.growth.curve), (set == "richards_60").then_some(Curve::Richards));
        // The average lies among them, and is less sure than the surest of them.
        let (mean, deviation) = choice.average_at(2.0);
        let logs: Vec<f64> = choice.ranked.iter().map(|w| w.fit.at(2.0).log_size).collect();
        let surest = choice.ranked.iter().map(|w| w.fit.at(2.0).log_deviation).fold(f64::INFINITY, f64::min);
        assert!(logs.iter().any(|log| *log <= mean) && logs.iter().any(|log| mean <= *log) && surest <= deviation);
    }
}

#[test]
fn what_cannot_be_weighed_is_refused() {
    let good = || plain("gompertz", "gompertz_24").unwrap();
    assert_eq!(choose(vec![]).err(), Some(ChoiceFault::Nothing));
    assert_eq!(
        choose(vec![good(), plain("gompertz", "richards_60").unwrap()]).err(),
        Some(ChoiceFault::DifferentSizes)
    );
    assert_eq!(choose(vec![plain("gompertz", "young_5").unwrap()]).err(), Some(ChoiceFault::FewSizes));
    let settings = Settings { loss: Loss::Huber(0.08), ..Settings::default() };
    let robust = fit(Curve::Gompertz, &sightings("gompertz_24"), Ages::Known, None, &settings).unwrap();
    assert_eq!(choose(vec![good(), robust]).err(), Some(ChoiceFault::NoLikelihood));
}

#[test]
fn robust_fits_agree_with_scipy_and_put_typing_errors_aside() {
    let (mut logs, mut costs, mut weights) = (Worst::default(), Worst::default(), Worst::default());
    for row in rows("growth_robust") {
        let name = row.text("loss");
        let settings = Settings { loss: loss(name, row.number("bend")), ..Settings::default() };
        let found = fit(Curve::Gompertz, &sightings("gompertz_24_outliers"), Ages::Known, None, &settings).unwrap();
        logs.all_absolute(&found.fit.parameters, &row.numbers("log_parameters"), name);
        costs.relative(found.fit.objective, row.number("cost"), name);
        weights.all_absolute(&found.fit.weights, &row.numbers("weights"), name);
        if name != "linear" {
            assert!(found.fit.weights[7] < 0.1 && found.fit.weights[15] < 0.15, "{name}: {:?}", found.fit.weights);
        }
    }
    logs.within(1e-5);
    costs.within(1e-6);
    weights.within(1e-4);
}

#[test]
fn fits_with_a_prior_agree_with_scipy_and_nelder_mead() {
    let (mut logs, mut deviations) = (Worst::default(), Worst::default());
    for row in rows("growth_map") {
        let at = format!("{} {}", row.text("set"), row.text("loss"));
        let priors = row.numbers("prior_mean").into_iter().zip(row.numbers("prior_sd"));
        let priors = priors.map(|(mean, deviation)| Gaussian { mean, deviation }).collect();
        let known = Known { priors, noise: row.number("sigma") };
        let settings = Settings { loss: loss(row.text("loss"), known.noise), ..Settings::default() };
        let found = fit(Curve::Gompertz, &sightings(row.text("set")), Ages::Known, Some(&known), &settings).unwrap();
        logs.all_absolute(&found.fit.parameters, &row.numbers("log_parameters"), &at);
        logs.relative(found.fit.objective, row.number("objective"), &at);
        deviations.all_relative(found.fit.covariance.as_slice(), &row.numbers("covariance"), &at);
        for (k, age) in row.numbers("t").into_iter().enumerate() {
            let there = found.at(age);
            logs.relative(there.size(), row.numbers("median")[k], &at);
            logs.all_relative(&there.interval_of_one(0.8), &[row.numbers("low80")[k], row.numbers("high80")[k]], &at);
        }
    }
    logs.within(1e-5);
    deviations.within(1e-3);
}

#[test]
fn the_bootstrap_with_stored_draws_agrees_with_scipy() {
    let found = plain("gompertz", "gompertz_24").unwrap();
    let indices = rows("growth_bootstrap_indices");
    let draws = Draws {
        residuals: indices.iter().map(|row| row.counts("rows")).collect(),
        new: indices.iter().map(|row| row.count("new")).collect(),
    };
    let again = bootstrap(&found, &draws).unwrap();
    assert_eq!((again.curves().count(), again.failed), (300, 0));
    let mut worst = Worst::default();
    for row in rows("growth_bootstrap") {
        let levels = row.numbers("levels");
        let got = match row.text("what") {
            "A" => again.quantiles_of(|g| g.asymptote, &levels),
            "W0" => again.quantiles_of(|g| g.start, &levels),
            "k" => again.quantiles_of(|g| g.rate_per_year, &levels),
            "curve_at_8y" => again.quantiles_of(|g| g.size_at(8.0), &levels),
            "new_obs_at_8y" => again.quantiles_of_one(8.0, &levels),
            other => panic!("nothing to compare with {other}"),
        };
        worst.all_relative(&got.unwrap(), &row.numbers("quantiles"), row.text("what"));
    }
    worst.within(1e-5);
}

#[test]
fn seeded_draws_repeat_and_agree_with_the_delta_method() {
    let found = plain("gompertz", "gompertz_24").unwrap();
    let draws = Draws::seeded(11, 24, 400);
    assert_eq!(draws, Draws::seeded(11, 24, 400));
    assert_ne!(draws, Draws::seeded(12, 24, 400));
    assert!(draws.residuals.iter().all(|one| one.len() == 24 && one.iter().all(|at| *at < 24)));
    let again = bootstrap(&found, &draws).unwrap();
    let [low, high] = found.at(8.0).interval(0.95);
    let got = again.quantiles_of(|g| g.size_at(8.0), &[0.025, 0.975]).unwrap();
    // 400 draws of an end of an interval are good to some tenths of its half width.
    let half = 0.5 * (high - low);
    assert!((got[0] - low).abs() < 0.35 * half && (got[1] - high).abs() < 0.35 * half, "{got:?}, {low} to {high}");
}

#[test]
fn draws_that_do_not_fit_the_sizes_are_left_out() {
    let found = plain("gompertz", "gompertz_24").unwrap();
    let draws = Draws { residuals: vec![vec![0; 23], vec![99; 24], (0..24).collect()], new: vec![0, 0, 0] };
    let again = bootstrap(&found, &draws).unwrap();
    assert_eq!((again.curves().count(), again.failed), (1, 2));
    let priors = vec![Gaussian { mean: 7.0, deviation: 0.3 }; 3];
    let known = Known { priors, noise: 0.06 };
    let with =
        fit(Curve::Gompertz, &sightings("gompertz_24"), Ages::Known, Some(&known), &Settings::default()).unwrap();
    assert!(bootstrap(&with, &draws).is_err());
}

fn usual() -> Known {
    let prior = |value: f64, deviation: f64| Gaussian { mean: value.ln(), deviation };
    Known { priors: vec![prior(1300.0, 0.25), prior(40.0, 0.15), prior(0.8, 0.3)], noise: 0.06 }
}

#[test]
fn an_unknown_age_is_found_from_the_sizes() {
    // Ages are counted from a day at 1.3 years.
    let truth = Growth { curve: Curve::Gompertz, asymptote: 1400.0, start: 39.0, rate_per_year: 0.8, shape: 1.0 };
    let seen: Vec<Sighting> = (0..15)
        .map(|k| f64::from(k) * 0.3)
        .map(|t| Sighting { age_years: t, size: truth.size_at(t + 1.3) * (1.0 + 0.03 * (9.0 * t).sin()) })
        .collect();
    let ages = Ages::Since(Gaussian { mean: 1.0, deviation: 0.7 });
    let found = fit(Curve::Gompertz, &seen, ages, Some(&usual()), &Settings::default()).unwrap();
    let deviation = found.deviations()[3];
    assert!(
        (found.age_at_first - 1.3).abs() < 2.0 * deviation && deviation < 0.3,
        "{} ± {deviation}",
        found.age_at_first
    );
    // Days are still counted from that day.
    assert!((found.at(0.0).size() / truth.size_at(1.3) - 1.0).abs() < 0.06);
    assert_eq!(found.ages_seen.map(|age| (age - found.age_at_first) * 10.0).map(f64::round), [0.0, 42.0]);
    let unknown = fit(Curve::Gompertz, &seen, ages, None, &Settings::default());
    assert_eq!(unknown.err(), Some(GrowthFault::AgeNeedsPriors));
}

#[test]
fn without_sizes_it_is_what_was_known_before() {
    let found = fit(Curve::Gompertz, &[], Ages::Known, Some(&usual()), &Settings::default()).unwrap();
    assert!((found.growth.asymptote - 1300.0).abs() < 1e-6 && (found.deviations()[0] - 0.25).abs() < 1e-9);
}

#[test]
fn doubts_are_told() {
    let young = fit(Curve::Gompertz, &sightings("young_5")[..4], Ages::Known, None, &Settings::default());
    let doubts = young.unwrap().doubts();
    assert!(doubts.contains(&Doubt::FewSizes), "{doubts:?}");
    let early: Vec<Sighting> = sightings("gompertz_24").into_iter().filter(|s| s.age_years < 0.5).collect();
    let early = fit(Curve::Gompertz, &early, Ages::Known, Some(&usual()), &Settings::default()).unwrap();
    assert!(early.doubts().contains(&Doubt::SeenTooShortly), "{:?}", early.doubts());
    assert!(plain("gompertz", "gompertz_24").unwrap().doubts().is_empty());
}

#[test]
fn what_is_no_growth_is_refused() {
    let fault = |sightings: &[Sighting], known: Option<&Known>| {
        fit(Curve::Gompertz, sightings, Ages::Known, known, &Settings::default()).err()
    };
    let one = |age_years: f64, size: f64| Sighting { age_years, size };
    assert_eq!(fault(&[one(1.0, 3.0), one(2.0, 0.0)], None), Some(GrowthFault::Sighting(1)));
    assert_eq!(fault(&[one(f64::NAN, 3.0)], None), Some(GrowthFault::Sighting(0)));
    let three = [one(1.0, 3.0), one(2.0, 4.0), one(3.0, 4.5)];
    assert_eq!(fault(&three, None), Some(GrowthFault::Fit(FitFault::TooFewRows { rows: 3, needed: 4 })));
    let two = Known { priors: vec![Gaussian { mean: 0.0, deviation: 1.0 }; 2], noise: 0.1 };
    assert_eq!(fault(&three, Some(&two)), Some(GrowthFault::Priors));
}

proptest! {
    #[test]
    fn exact_sizes_give_back_their_curve(a in 100.0..3000.0f64, share in 0.02..0.2f64, k in 0.4..2.0f64) {
        for curve in [Curve::VonBertalanffyLength, Curve::VonBertalanffyWeight, Curve::Gompertz, Curve::Logistic] {
            let truth = Growth { curve, asymptote: a, start: share * a, rate_per_year: k, shape: 1.0 };
            let seen: Vec<Sighting> = (0..20)
                .map(|k| 0.02 + 0.3 * f64::from(k))
                .map(|age_years| Sighting { age_years, size: truth.size_at(age_years) })
                .collect();
            let found = fit(curve, &seen, Ages::Known, None, &Settings::default()).unwrap().growth;
            prop_assert!((found.asymptote / a - 1.0).abs() < 1e-6, "{curve:?}: {found:?}");
            prop_assert!((found.start / truth.start - 1.0).abs() < 1e-6, "{curve:?}: {found:?}");
            prop_assert!((found.rate_per_year / k - 1.0).abs() < 1e-6, "{curve:?}: {found:?}");
        }
    }

    #[test]
    fn any_unit_of_size_gives_the_same_growth(unit in 1e-3..1e3f64) {
        let grams = sightings("gompertz_24");
        let other: Vec<Sighting> = grams.iter().map(|s| Sighting { size: unit * s.size, ..*s }).collect();
        let with = |seen: &[Sighting]| fit(Curve::Gompertz, seen, Ages::Known, None, &Settings::default()).unwrap();
        let (grams, other) = (with(&grams), with(&other));
        prop_assert!((other.growth.asymptote / unit / grams.growth.asymptote - 1.0).abs() < 1e-7);
        prop_assert!((other.deviations()[2] / grams.deviations()[2] - 1.0).abs() < 1e-6);
    }
}
