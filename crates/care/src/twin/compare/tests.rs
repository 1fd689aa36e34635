//! The answers to it.

use super::*;
use crate::twin::testing::ask;

const FIRST: [(&str, &str); 11] = [
    ("length_cm", "100"),
    ("width_cm", "50"),
    ("height_cm", "50"),
    ("material", "glass"),
    ("thickness_mm", "5"),
    ("lid", "solid"),
    ("heater", "panel"),
    ("watts", "80"),
    ("room_c", "20"),
    ("room_pct", "45"),
    ("species", "ball python"),
];

fn of(second: &[(&str, &str)]) -> Reckoning {
    ask(answer, &[&FIRST[..], second].concat()).unwrap()
}

fn range(answer: &Reckoning, key: &str) -> Range {
    answer.amount(key).unwrap_or_else(|| panic!("{key}")).range
}

#[test]
fn thicker_walls_need_less_and_keep_the_warmth_longer() {
    let answer = of(&[("other_material", "PVC"), ("other_thickness_mm", "19"), ("price_kwh", "0.3")]);
    assert!(range(&answer, "difference-watts").high < 0.0);
    assert!(0.0 < range(&answer, "difference-cut-hours").low);
    assert!(answer.says[0].starts_with("The second needs") && answer.says[0].contains("less"), "{}", answer.says[0]);
    assert!(answer.says[0].contains("keeps its warmth"), "{}", answer.says[0]);
    let rows = &answer.tables[0].rows;
    assert!(rows.iter().any(|row| row[0] == Cell::Says("cost of a month".into())));
    let walls = |mm: &str| range(&of(&[("other_material", "PVC"), ("other_thickness_mm", mm)]), "second-watts").mid;
    let watts = ["6", "10", "19", "40"].map(walls);
    assert!(watts.windows(2).all(|pair| pair[1] < pair[0]), "{watts:?}");
}

/// What both leave open is the same in both, so the difference is surer than either.
#[test]
fn a_difference_is_surer_than_what_it_is_the_difference_of() {
    let answer = of(&[("other_thickness_mm", "8")]);
    let width = |range: Range| range.high - range.low;
    assert!(width(range(&answer, "difference-watts")) < 0.3 * width(range(&answer, "first-watts")));
}

#[test]
fn what_is_alike_is_said_to_be_alike() {
    let answer = of(&[("other_thickness_mm", "5")]);
    assert_eq!(range(&answer, "difference-watts"), Range::exactly(0.0));
    assert!(answer.says[0].starts_with("The two do not differ"), "{}", answer.says[0]);
}

#[test]
fn mesh_costs_heat_and_water() {
    let answer = of(&[("other_lid", "mesh")]);
    for key in ["difference-watts", "difference-water-day"] {
        assert!(0.0 < range(&answer, key).low, "{key}");
    }
    assert!(range(&answer, "difference-humidity").high < 0.0);
    assert!(answer.says[0].contains("drier"), "{}", answer.says[0]);
}

#[test]
fn another_material_is_not_as_thick_as_the_first() {
    let answer = of(&[("other_material", "wood")]);
    let guess = answer.guesses.iter().find(|guess| guess.key == "wall-thickness").unwrap();
    assert_eq!(guess.field, Some("other_thickness_mm"));
    assert!((guess.range.mid - 15.0).abs() < 1e-9, "{guess:?}");
    let weights: f64 = answer.guesses.iter().map(|guess| guess.weight).sum();
    assert!(weights <= 1.0 + 1e-9);
}

#[test]
fn a_larger_box_with_the_same_heater_may_be_too_weak() {
    let answer =
        of(&[("other_length_cm", "240"), ("other_height_cm", "120"), ("other_width_cm", "90"), ("other_watts", "30")]);
    assert!(answer.warning("second-too-weak").is_some());
    assert!(range(&answer, "difference-reaches").high < 0.0);
}

#[test]
fn the_usual_walls_stand_in_a_table_of_their_own() {
    let answer = of(&[("other_material", "PVC")]);
    let table = answer.tables.iter().find(|table| table.key == "walls").unwrap();
    let watts = |wall: &str| {
        let row = table.rows.iter().find(|row| row[0] == Cell::Says(wall.into())).unwrap();
        match row[2] {
            Cell::Is(range, _) => range.mid,
            _ => panic!("{wall}"),
        }
    };
    assert!(watts("polystyrene foam") < watts("foamed PVC") && watts("foamed PVC") < watts("glass"));
    assert_eq!(table.rows.len(), 7);
}

#[test]
fn every_fault_is_told_once_with_the_name_that_was_typed() {
    let all = [&FIRST[..], &[("other_length_cm", "0"), ("other_material", "granite"), ("price_kwh", "much")]].concat();
    let faults = ask(answer, &all).unwrap_err();
    assert_eq!(faults.len(), 3, "{faults:#?}");
    let length = faults.iter().find(|fault| fault.what.contains("`other_length_cm`")).unwrap();
    assert!(length.place.contains("other_length_cm"), "{length:?}");
    assert!(faults.iter().any(|fault| fault.what.contains("granite") && fault.place.contains("other_material")));
    let none = ask(answer, &FIRST).unwrap_err();
    assert!(none.len() == 1 && none[0].what.contains("how the second enclosure differs"), "{none:#?}");
    let strange = ask(answer, &[&FIRST[..], &[("other_colour", "red"), ("other_lid", "mesh")]].concat()).unwrap_err();
    assert!(strange.len() == 1 && strange[0].what.contains("other_colour"), "{strange:#?}");
}

#[test]
fn every_field_of_the_second_is_one_of_the_first() {
    let fields = fields();
    let second: Vec<&str> = fields.iter().map(|field| field.key).filter(|key| key.starts_with("other_")).collect();
    assert_eq!(second.len(), 16);
    assert!(second.iter().all(|key| fields.iter().any(|field| Some(field.key) == key.strip_prefix("other_"))));
}
