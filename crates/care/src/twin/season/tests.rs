//! The answers to it.

use super::*;
use crate::answer::Severity;
use crate::twin::testing::{ask, described};

const BOX: [(&str, &str); 11] = [
    ("length_cm", "120"),
    ("width_cm", "60"),
    ("height_cm", "60"),
    ("material", "PVC"),
    ("heater", "panel"),
    ("watts", "80"),
    ("thermostat", "dimming"),
    ("probe", "warm-surface"),
    ("set_c", "32"),
    ("room_c", "21"),
    ("species", "ball python"),
];

fn with<'a>(changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut all = BOX.to_vec();
    all.retain(|(key, _)| changed.iter().all(|(other, _)| other != key));
    all.extend(changed);
    all
}

fn of(changed: &[(&str, &str)]) -> Reckoning {
    ask(answer, &with(changed)).unwrap()
}

fn mid(answer: &Reckoning, key: &str) -> f64 {
    answer.amount(key).unwrap_or_else(|| panic!("{key}")).range.mid
}

fn cell(answer: &Reckoning, row: usize, column: usize) -> f64 {
    match &answer.tables[0].rows[row][column] {
        Cell::Is(range, _) => range.mid,
        other => panic!("{other:?}"),
    }
}

const TOLD: [(&str, &str); 3] = [("room_winter_c", "17"), ("room_summer_c", "28"), ("room_night_c", "19")];

#[test]
fn a_heater_works_harder_in_winter_than_in_summer() {
    let answer = of(&TOLD);
    assert!(answer.says[0].contains("coldest week, in a room of 17\u{a0}°C"), "{}", answer.says[0]);
    assert!(mid(&answer, "summer-duty") < mid(&answer, "winter-duty"));
    assert!(mid(&answer, "summer-kwh-month") < mid(&answer, "winter-kwh-month"));
    // winter day, winter night, now, summer day, summer night; the night is 2 K colder than the day.
    let rooms: Vec<f64> = (0..5).map(|row| cell(&answer, row, 1)).collect();
    assert_eq!(rooms, [17.0, 15.0, 21.0, 28.0, 26.0]);
    let duties: Vec<f64> = (0..5).map(|row| cell(&answer, row, 6)).collect();
    assert!(duties[3] < duties[2] && duties[2] < duties[0] && duties[0] < duties[1], "{duties:?}");
    let cool: Vec<f64> = (0..5).map(|row| cell(&answer, row, 4)).collect();
    assert!(cool[1] < cool[0] && cool[0] < cool[2] && cool[2] < cool[3], "{cool:?}");
}

#[test]
fn what_is_held_stays_while_the_room_goes_up_and_down() {
    let answer = of(&TOLD);
    let (surface, cool) = (answer.curve("winter-warm-surface").unwrap(), answer.curve("winter-cool-air").unwrap());
    assert_eq!(surface.points.len(), 25);
    let swing = |curve: &Curve| {
        let mids = || curve.points.iter().map(|point| point.range.mid);
        mids().fold(f64::NEG_INFINITY, f64::max) - mids().fold(f64::INFINITY, f64::min)
    };
    assert!(swing(surface) < 0.2 && 0.7 < swing(cool), "{} {}", swing(surface), swing(cool));
    assert!((answer.limits.iter().find(|line| line.says == "coldest night").unwrap().value - 23.0).abs() < 1e-9);
}

#[test]
fn a_setback_shows_by_night() {
    let answer = of(&[&TOLD[..], &[("night_set_c", "27")]].concat());
    let curve = answer.curve("winter-warm-surface").unwrap();
    assert!(curve.points[5].range.mid + 3.0 < curve.points[14].range.mid);
    let same = of(&TOLD);
    assert!(mid(&answer, "winter-night") < mid(&same, "winter-night"));
    assert!(mid(&answer, "winter-kwh-month") < mid(&same, "winter-kwh-month"));
}

#[test]
fn a_weak_heater_is_told_before_the_winter() {
    let weak = of(&[&TOLD[..], &[("watts", "25")]].concat());
    assert_eq!(weak.warning("heater-weak-in-winter").unwrap().severity, Severity::Act);
    assert!(weak.says[0].contains("too weak"), "{}", weak.says[0]);
    let strong = of(&[&TOLD[..], &[("watts", "250")]].concat());
    assert!(strong.warning("heater-weak-in-winter").is_none());
    assert!(mid(&weak, "winter-warm-surface") + 2.0 < mid(&strong, "winter-warm-surface"));
}

#[test]
fn a_cold_night_and_a_hot_summer_are_told_with_what_to_do() {
    let cold = of(&[("room_winter_c", "12"), ("room_night_c", "17")]);
    assert!(cold.warning("night-cold-in-winter").unwrap().says.contains("23 °C"));
    let hot = of(&[("room_summer_c", "33")]);
    assert!(hot.says.iter().any(|says| says.contains("the heater rests")), "{:#?}", hot.says);
    assert_eq!(hot.warning("cool-side-hot-in-summer").unwrap().severity, Severity::Watch);
    let deadly = of(&[("room_summer_c", "39")]);
    assert_eq!(deadly.warnings[0].key, "overheats-in-summer");
    assert_eq!(deadly.warnings[0].severity, Severity::Urgent);
    assert!(
        of(&[("room_winter_c", "22"), ("room_night_c", "21"), ("room_summer_c", "23")])
            .warning("cool-side-hot-in-summer")
            .is_none()
    );
}

#[test]
fn rooms_that_are_not_told_are_guessed_and_said_so() {
    let answer = of(&[]);
    let guessed: Vec<&str> = answer.guesses.iter().map(|guess| guess.key).collect();
    assert!(guessed.contains(&"room-winter"), "{guessed:?}");
    let told = of(&TOLD);
    assert!(told.guesses.iter().all(|guess| !guess.key.starts_with("room-winter")));
    let width = |answer: &Reckoning| {
        let range = answer.amount("winter-cool-air").unwrap().range;
        range.high - range.low
    };
    assert!(width(&told) < width(&answer));
}

#[test]
fn without_a_heater_all_follows_the_room() {
    let box_of =
        [("length_cm", "100"), ("width_cm", "50"), ("height_cm", "50"), ("room_winter_c", "15"), ("room_c", "20")];
    let answer = ask(answer, &box_of).unwrap();
    assert!((mid(&answer, "winter-warm-surface") - 15.0).abs() < 0.6);
    assert!(answer.amount("winter-duty").is_none() && answer.amount("winter-kwh-month").is_none());
    assert_eq!(answer.untold.len(), 2, "{:?}", answer.untold);
}

#[test]
fn the_outlook_of_a_heater_needs_one() {
    let heat =
        [("heater", "panel"), ("watts", "60"), ("set_c", "32"), ("thermostat", "on-off"), ("probe", "warm-surface")];
    let rooms = [("room_c", "21"), ("room_winter_c", "15"), ("room_summer_c", "30"), ("species", "ball python")];
    let of = |watts: &'static str| {
        let mut all = [&heat[..], &rooms, &[("material", "PVC")]].concat();
        all[1].1 = watts;
        outlook(&described(&all), 9).unwrap()
    };
    assert!(of("150").weak_in_winter_pct < of("25").weak_in_winter_pct);
    assert_eq!(of("60").hot_in_summer_pct, Some(100.0));
    assert!(outlook(&described(&rooms), 9).is_none());
}

#[test]
fn what_cannot_be_is_told_all_at_once() {
    let faults = ask(answer, &with(&[("room_winter_c", "-80"), ("price_kwh", "much"), ("set_c", "300")])).unwrap_err();
    assert_eq!(faults.len(), 3, "{faults:#?}");
}
