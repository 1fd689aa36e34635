use super::*;
use crate::answer::Severity;
use records::Raw;
use records::fields::Given;
use units::{Moment, Zone};

fn ask(pairs: &[(&str, &str)]) -> Result<Reckoning, Vec<Fault>> {
    let pairs = pairs.iter().map(|(key, value)| ((*key).to_owned(), Raw::Text((*value).to_owned()))).collect();
    let typed = Given { pairs, origin: "the form".into() };
    answer(&typed, &Known::nothing(Moment(1_700_000_000), Zone::none()))
}

fn mid(answer: &Reckoning, key: &str) -> f64 {
    answer.amount(key).unwrap_or_else(|| panic!("{key}")).range.mid
}

/// Rows of a table of check values.
fn rows(table: &str) -> Vec<Vec<String>> {
    let path = format!("{}/../science/tests/tables/{table}.csv", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    text.lines().skip(2).map(|line| line.split(',').map(str::to_owned).collect()).collect()
}

#[test]
fn two_thermometers_at_one_place_are_judged_by_their_own_errors() {
    // Two of ±0.5 K: 2·0.5·√2/√3 = 0.816 K (JCGM 100:2008); then 2 and 5 K are the lines of the trade.
    for (second, agree, severity) in [
        ("30.8", true, None),
        ("30.9", false, None),
        ("31.9", false, None),
        ("32", false, Some(Severity::Watch)),
        ("34.9", false, Some(Severity::Watch)),
        ("35", false, Some(Severity::Act)),
    ] {
        let answer = ask(&[("first_c", "30"), ("second_c", second)]).unwrap();
        assert!((mid(&answer, "both-right-up-to") - 0.816_497).abs() < 1e-6);
        assert_eq!(answer.says[0].starts_with("Both"), agree, "{}", answer.says[0]);
        assert_eq!(answer.warning("one-is-wrong").map(|one| one.severity), severity, "{second}");
        assert_eq!(answer.amount("best-value").is_some(), agree);
        assert_eq!(answer.steps.is_empty(), agree);
    }
    let better = ask(&[("first_c", "30"), ("second_c", "30.5"), ("accuracy_k", "0.1")]).unwrap();
    assert!(better.amount("best-value").is_none() && better.guesses.is_empty());
}

#[test]
fn the_likeliest_reason_comes_first() {
    let first = |more: &[(&str, &str)]| {
        let mut pairs = vec![("first_c", "33"), ("second_c", "30")];
        pairs.extend(more);
        ask(&pairs).unwrap().steps[0].clone()
    };
    assert!(first(&[]).does.contains("30 min"));
    // After 10 min a lag of 10 min leaves e⁻¹ = 37 %.
    assert!(first(&[("minutes", "10")]).because.contains("37 %"));
    assert!(first(&[("minutes", "45")]).does.contains("side by side"));
    // 300 W/m² on a dark probe (α 0.9, film 10 W/m²K) reads 27 K over the air: ΔT = α q/h, a balance of radiation and film.
    assert!(first(&[("lamp", "yes")]).because.contains("27 K"));
    let ice = ask(&[("first_c", "33"), ("second_c", "30")]).unwrap();
    assert!(ice.steps.iter().any(|step| step.does.contains("Ice water") && step.does.contains("0 °C")));
}

#[test]
fn two_places_need_not_agree_but_have_an_order() {
    let of = |first: &str, first_spot: &str, second: &str, second_spot: &str| {
        ask(&[("first_c", first), ("first_spot", first_spot), ("second_c", second), ("second_spot", second_spot)])
            .unwrap()
    };
    let gradient = of("32", "warm-air", "24", "cool-air");
    assert!(
        gradient.says[0].contains("need not agree") && gradient.says[0].contains("8\u{a0}K"),
        "{}",
        gradient.says[0]
    );
    assert!(gradient.warnings.is_empty());
    let turned = of("24", "warm-air", "30", "cool-air");
    assert!(
        turned.warning("wrong-way-round").is_some() && turned.says[0].contains("cool air is 6"),
        "{}",
        turned.says[0]
    );
    let unknown = of("24", "hide", "30", "water");
    assert!(unknown.warnings.is_empty());
    let equal = of("30", "warm-air", "30.2", "cool-air");
    assert!(equal.says[0].contains("equally warm"));
}

#[test]
fn warm_air_shows_a_lower_humidity_with_the_same_water() {
    // Computed with psychrolib 2.5.0: room 20 °C 50 % is 30.9 % at 28 and 27.5 % at 30 °C; 24 °C
    // 60 % is 37.6 % at 32 °C. By the same, 60 % at 28 °C reads 6.6 points less 2 K warmer, 7.5 more 2 K cooler.
    for (c, pct, to, expected) in [
        ("20", "50", "28", 30.9),
        ("20", "50", "30", 27.5),
        ("24", "60", "32", 37.6),
        ("28", "60", "30", 60.0 - 6.6),
        ("28", "60", "26", 60.0 + 7.5),
    ] {
        let answer = ask(&[("first_c", c), ("first_pct", pct), ("second_c", to)]).unwrap();
        let got = mid(&answer, "humidity-expected");
        assert!((got - expected).abs() < 0.06, "{c} °C {pct} % at {to} °C: {got}, not {expected}");
    }
    for row in rows("humidity_after_warming") {
        let answer =
            ask(&[("first_c", &row[0]), ("first_pct", &row[1]), ("second_c", &row[2]), ("second_pct", "50")]).unwrap();
        let expected: f64 = row[3].parse().unwrap();
        assert!((mid(&answer, "humidity-expected") - expected).abs() < 1e-5 * expected, "{row:?}");
        assert!((mid(&answer, "humidity-difference") - (50.0 - expected)).abs() < 1e-3);
    }
}

#[test]
fn hygrometers_that_tell_of_the_same_water_are_not_blamed() {
    let of = |second: &str| {
        ask(&[
            ("first_c", "24"),
            ("first_pct", "60"),
            ("second_c", "32"),
            ("second_pct", second),
            ("first_spot", "cool-air"),
            ("second_spot", "warm-air"),
        ])
        .unwrap()
    };
    let same = of("38");
    assert!(same.says[1].contains("same water"), "{:?}", same.says);
    // 60 % at 24 °C has its dew point at 15.8 °C (psychrolib).
    assert!(
        (mid(&same, "dew-point-first") - 15.76).abs() < 0.05 && (mid(&same, "dew-point-second") - 15.9).abs() < 0.2
    );
    let other = of("60");
    assert!(other.warning("hygrometers-disagree").is_some());
    assert!(other.steps.iter().any(|step| step.does.contains("75 %") && step.does.contains("salt")));
    assert!(other.steps.iter().any(|step| step.does.contains("hygrometer of the warm air")));
    // Two of ±3 points at one place: 2·3·√2/√3 = 4.9 points, and what the thermometers add.
    let place = ask(&[("first_c", "25"), ("first_pct", "0"), ("second_c", "25"), ("second_pct", "4.8")]).unwrap();
    assert!((mid(&place, "humidity-both-right-up-to") - 4.899).abs() < 1e-3);
    assert!(place.warning("hygrometers-disagree").is_none());
}

#[test]
fn one_hygrometer_tells_of_the_other_place_and_of_dew() {
    let second = ask(&[("first_c", "32"), ("second_c", "24"), ("second_pct", "60")]).unwrap();
    assert!((mid(&second, "humidity-expected") - 37.6).abs() < 0.06);
    assert!(second.amount("dew-point-second").is_some() && second.amount("dew-point-first").is_none());
    let dew = ask(&[("first_c", "28"), ("first_pct", "90"), ("second_c", "20")]).unwrap();
    assert!(dew.warning("dew-settles").is_some());
    assert!(second.warning("dew-settles").is_none());
}

#[test]
fn an_infrared_reading_is_corrected_by_its_surface() {
    // What an instrument set to 0.95 shows in 20 °C is computed for surfaces of 32 °C: Stefan and Boltzmann's law.
    for (shown, surface, truth) in [("32.36", "skin", 32.0), ("31.64", "glass", 32.0), ("30.8", "paper", 32.0)] {
        let answer = ask(&[("ir_c", shown), ("ir_surface", surface), ("surroundings_c", "20")]).unwrap();
        let range = answer.amount("infrared-surface").unwrap().range;
        assert!(range.low < truth && truth < range.high, "{surface}: {range:?}");
        assert!(answer.guesses.iter().all(|one| one.key != "surroundings"));
        assert!((answer.guesses.iter().map(|one| one.weight).sum::<f64>() - 1.0).abs() < 1e-9);
    }
    // The rows of the table whose emissivity is the middle of a material.
    let mut seen = 0;
    for row in rows("infrared") {
        let (eps, set): (f64, f64) = (row[2].parse().unwrap(), row[3].parse().unwrap());
        let surface = match eps {
            eps if (eps - 0.90).abs() < 1e-9 => "plastic",
            eps if (eps - 0.92).abs() < 1e-9 => "ceramic",
            _ => continue,
        };
        let truth: f64 = row[0].parse().unwrap();
        let answer = ask(&[
            ("ir_c", &row[4]),
            ("ir_surface", surface),
            ("surroundings_c", &row[1]),
            ("ir_set", &set.to_string()),
        ])
        .unwrap();
        let got = mid(&answer, "infrared-surface");
        assert!((got - truth).abs() < 1e-5, "{row:?}: {got}");
        seen += 1;
    }
    assert!(12 <= seen, "{seen} rows of the table have these emissivities");
}

#[test]
fn mirrors_panes_and_meshes_are_told() {
    // Polished metal of 32 °C shows 20.7 °C in a room of 20 °C: Stefan and Boltzmann's law.
    let foil = ask(&[("ir_c", "20.7"), ("ir_surface", "aluminium-foil"), ("surroundings_c", "20")]).unwrap();
    assert!(foil.warning("shiny-surface").is_some() && foil.amount("infrared-surface").is_none());
    for (between, key) in [("pane", "pane-measured"), ("mesh", "mesh-measured")] {
        let answer = ask(&[("ir_c", "28"), ("ir_through", between)]).unwrap();
        assert!(answer.warning(key).is_some() && answer.amount("infrared-surface").is_none());
    }
}

#[test]
fn the_spot_must_be_smaller_than_the_target() {
    // At 12:1, 300 mm give a spot of 25 mm, so a target of 50 mm: the instrument's ratio of distance to spot.
    let of = |target: &str| {
        ask(&[("ir_c", "30"), ("ir_distance_cm", "30"), ("ir_ratio", "12"), ("ir_target_cm", target)]).unwrap()
    };
    assert!(
        (mid(&of("5"), "infrared-spot") - 2.5).abs() < 1e-9 && (mid(&of("5"), "infrared-target") - 5.0).abs() < 1e-9
    );
    assert!(of("5").warning("spot-too-wide").is_none());
    assert!(of("4").warning("spot-too-wide").unwrap().does.contains("24 cm"));
}

#[test]
fn a_probe_on_the_surface_is_held_against_infrared() {
    let of = |contact: &str| {
        ask(&[
            ("first_c", contact),
            ("first_spot", "warm-surface"),
            ("ir_c", "31"),
            ("ir_surface", "wood"),
            ("surroundings_c", "21"),
        ])
        .unwrap()
    };
    assert!(of("31.5").says.iter().any(|one| one.contains("agrees")));
    assert!(of("38").says.iter().any(|one| one.contains("off the thermometer")));
    assert!(of("31.5").amount("emissivity-by-contact").is_some());
}

#[test]
fn what_makes_no_pair_is_a_fault() {
    let told = |pairs: &[(&str, &str)], part: &str| {
        let faults = ask(pairs).unwrap_err();
        assert!(faults.iter().any(|fault| fault.what.contains(part) && !fault.mend.is_empty()), "{faults:#?}");
    };
    told(&[], "no pair");
    told(&[("first_c", "30")], "one thermometer alone");
    told(&[("first_pct", "60"), ("second_pct", "40")], "without the temperature");
    told(&[("ir_surface", "glass")], "not what it showed");
    told(&[("ir_c", "30"), ("ir_surface", "woood")], "no surface whose emissivity is known");
    told(&[("first_c", "30"), ("second_c", "31"), ("first_pct", "130")], "cannot be 130");
    told(&[("first_c", "nan"), ("second_c", "31"), ("ir_set", "3")], "`ir_set` cannot be 3");
}
