//! The answers to it.

use records::facts::{Reading, Spot};
use units::{Moment, When, Zone};

use super::*;
use crate::twin::testing::{ask, given};
use crate::what_if::{Cell, Place, Table};

const AQUARIUM: [(&str, &str); 13] = [
    ("length_cm", "90"),
    ("width_cm", "45"),
    ("height_cm", "45"),
    ("material", "glass"),
    ("lid", "mesh"),
    ("heater", "ceramic"),
    ("watts", "100"),
    ("thermostat", "dimming"),
    ("set_c", "30"),
    ("room_c", "20"),
    ("room_pct", "45"),
    ("bowl_cm", "13"),
    ("species", "ball python"),
];

fn with<'a>(changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut all = AQUARIUM.to_vec();
    all.retain(|(key, _)| changed.iter().all(|(other, _)| other != key));
    all.extend(changed);
    all
}

fn of(changed: &[(&str, &str)]) -> Reckoning {
    ask(answer, &with(changed)).unwrap()
}

fn mid(answer: &Reckoning, key: &str) -> f64 {
    answer.amount(key).unwrap_or_else(|| panic!("{key}: {:?}", answer.says)).range.mid
}

fn table<'a>(answer: &'a Reckoning, key: &str) -> &'a Table {
    answer.tables.iter().find(|table| table.key == key).unwrap()
}

/// What a change leads to at the cool side.
fn then(answer: &Reckoning, change: &str) -> f64 {
    let is_it = |row: &&Vec<Cell>| matches!(&row[0], Cell::Says(says) if says.starts_with(change));
    let row = table(answer, "changes").rows.iter().find(is_it);
    match row.unwrap_or_else(|| panic!("{change}"))[2] {
        Cell::Is(range, _) => range.mid,
        _ => panic!("{change} has no number"),
    }
}

#[test]
fn a_keeper_hears_how_dry_it_is_and_what_helps() {
    let answer = of(&[]);
    assert!(answer.says[0].contains("too dry; a ball python wants 55–75 %"), "{}", answer.says[0]);
    assert!(answer.says.iter().any(|says| says.starts_with("What helps most: cover")), "{:#?}", answer.says);
    assert_eq!(answer.warning("too-dry").unwrap().severity, Severity::Act);
    assert!(answer.warning("damp-not-wet").is_some());
    assert!(mid(&answer, "humidity-warm-air") < mid(&answer, "humidity-cool-air"));
    assert!(answer.spots.iter().all(|spot| spot.humidity_pct.is_some()));
    assert!(answer.guesses.iter().any(|guess| guess.key == "mesh"), "{:?}", answer.guesses);
    assert!(answer.cautions.contains(&"wiring") && answer.cautions.contains(&"heat-and-fire"));
}

#[test]
fn covering_the_mesh_and_more_water_make_the_air_damper() {
    let answer = of(&[]);
    let now = mid(&answer, "humidity-cool-air");
    let covers = ["cover 50", "cover 75", "cover 90"].map(|key| then(&answer, key));
    assert!(now < covers[2] && covers[0] < covers[1] && covers[1] < covers[2], "{now} {covers:?}");
    // Less air takes less heat along too, so the cool side gets warmer: the water in the air tells it, not its humidity.
    let dews = ["0", "50", "75", "90"].map(|pct| mid(&of(&[("lid_covered_pct", pct)]), "dew-point"));
    assert!(dews.windows(2).all(|pair| pair[0] < pair[1]), "{dews:?}");
    let (wider, widest) = (then(&answer, "a bowl half as wide again"), then(&answer, "a bowl twice"));
    assert!(now < wider && wider < widest);
    for change in ["the bowl on the warm side", "a hide with damp moss", "damp substrate", "misting"] {
        assert!(now < then(&answer, change), "{change}");
    }
    assert!(now + 5.0 < mid(&answer, "hide"));
    let told = of(&[("lid_covered_pct", "75")]);
    let off = (mid(&told, "humidity-cool-air") - covers[1]).abs();
    assert!(off < 1.0, "covered as told and as a change differ by {off}");
}

/// By psychrolib 2.5.0: 121.5 L under mesh at 40 changes an hour, 26 °C inside, lose 0.8 kg a day at 60 %.
#[test]
fn no_misting_holds_what_a_mesh_lid_lets_out() {
    let answer = of(&[("length_cm", "60"), ("target_pct", "60")]);
    let lost = answer.amount("water-lost").unwrap().range;
    assert!(lost.low < 1000.0 && 500.0 < lost.high, "{lost:?}");
    let closed = of(&[("length_cm", "60"), ("target_pct", "60"), ("lid", "solid")]);
    assert!(mid(&closed, "water-lost") * 5.0 < lost.mid);
    let told = |answer: &Reckoning| answer.says.iter().any(|says| says.contains("nobody can mist"));
    assert!(told(&answer) && !told(&closed));
    assert!(mid(&answer, "misting-hours") < mid(&closed, "misting-hours"));
}

#[test]
fn two_changes_together_do_more_than_the_better_one() {
    for changed in [&[][..], &[("lid", "part-mesh")], &[("lid", "solid"), ("room_pct", "25")]] {
        let answer = of(changed);
        let alone = mid(&answer, "best-change-cool-air");
        let both = answer.amount("two-changes-cool-air").map_or(100.0, |both| both.range.mid);
        assert!(alone + 1.0 < both, "{changed:?}: {:#?}", answer.says);
        let covers =
            answer.tables[0].rows.iter().filter(|row| matches!(&row[0], Cell::Says(says) if says.contains("mesh")));
        let dewy: Vec<f64> =
            covers.map(|row| if let Cell::Is(range, _) = row[4] { range.mid } else { f64::NAN }).collect();
        assert!(dewy.windows(2).all(|pair| pair[0] < pair[1]), "{dewy:?}");
    }
}

#[test]
fn more_is_wanted_in_a_shed() {
    let usual = of(&[("lid", "solid")]);
    let shed = of(&[("lid", "solid"), ("in_shed", "yes")]);
    assert!(mid(&usual, "water-lost") < mid(&shed, "water-lost"));
    assert!(shed.says[0].contains("in shed wants 70–85 %"), "{}", shed.says[0]);
}

const TUB: [(&str, &str); 8] = [
    ("material", "tub"),
    ("lid", "solid"),
    ("heater", "mat"),
    ("room_c", "17"),
    ("room_pct", "70"),
    ("substrate", "damp coir"),
    ("bowl_cm", "30"),
    ("species", "corn snake"),
];

#[test]
fn a_wet_tub_in_a_cold_room_is_told_with_its_walls() {
    let answer = of(&TUB);
    assert!(answer.says[0].contains("too damp"), "{}", answer.says[0]);
    let wet = answer.warnings.iter().find(|one| one.key.starts_with("wet-")).unwrap();
    assert!(wet.says.contains("colder than the dew point") && Severity::Watch <= wet.severity, "{wet:?}");
    let now = mid(&answer, "humidity-cool-air");
    for change in ["dry substrate", "2 times", "4 times", "a bowl half as wide"] {
        assert!(then(&answer, change) < now, "{change}");
    }
    assert!(answer.amount("misting").is_none(), "nobody mists where it is too damp");
}

#[test]
fn the_dew_point_stays_under_the_coldest_walls() {
    for changed in [&TUB[..], &[], &[("room_c", "10"), ("lid", "solid")]] {
        let described = description::read(&given(&with(changed)), &nothing(), |_| ()).unwrap().0;
        let spread = Spread::with(&described, guesses(&described)).unwrap();
        for model in spread.models() {
            let now = Now::of(&described, model).unwrap();
            assert!(now.vapour.kg_m3 <= saturated_kg_m3(now.state.shell_c()) * (1.0 + 1e-9));
            assert!(now.vapour.kg_m3 <= saturated_kg_m3(now.state.spot(Spot::CoolSurface)) * (1.0 + 1e-9));
        }
    }
}

fn nothing() -> Known {
    Known::nothing(Moment(1_700_000_000), Zone::none())
}

fn reading(spot: Spot, pct: f64, days_ago: f64) -> Reading {
    Reading {
        at: When::exactly(nothing().now.plus_days(-days_ago)),
        spot,
        temperature_c: Some(24.0),
        humidity_pct: Some(pct),
        period: None,
        means: records::facts::Means::SpotCheck,
        hours: None,
    }
}

#[test]
fn what_was_measured_stands_beside_what_is_reckoned() {
    let reckoned = mid(&of(&[]), "humidity-cool-air");
    let with_readings = |pct: f64, days_ago: f64| {
        let place = Place { readings: vec![reading(Spot::CoolAir, pct, days_ago)], ..Place::default() };
        let known = Known { place: Some(place), ..nothing() };
        answer(&given(&with(&[])), &known).unwrap()
    };
    let apart = with_readings(85.0, 1.0);
    let warning = apart.warning("readings-disagree").unwrap();
    assert!(warning.says.contains("85 %") && warning.says.contains("cool air"), "{}", warning.says);
    let agreeing = with_readings(reckoned.round(), 1.0);
    assert!(agreeing.warning("readings-disagree").is_none());
    assert_eq!(table(&agreeing, "measured").rows[0][3], Cell::Says("agree".into()));
    assert!(with_readings(85.0, 30.0).tables.iter().all(|table| table.key != "measured"), "long ago");
}

#[test]
fn without_species_or_target_nothing_is_judged() {
    let mut all = with(&[]);
    all.retain(|(key, _)| *key != "species");
    let answer = ask(answer, &all).unwrap();
    assert!(answer.warning("too-dry").is_none() && answer.amount("water-lost").is_none());
    assert!(answer.untold.iter().any(|one| one.contains("species or a target")));
    assert!(answer.says[0].starts_with("The air of the cool side settles at"));
}

#[test]
fn what_cannot_be_is_told_all_at_once() {
    let faults = ask(answer, &with(&[("target_pct", "160"), ("in_shed", "perhaps"), ("bowl_cm", "0")])).unwrap_err();
    assert_eq!(faults.len(), 3, "{faults:#?}");
    assert!(faults.iter().all(|fault| !fault.mend.is_empty() && fault.place.contains("the form")));
}
