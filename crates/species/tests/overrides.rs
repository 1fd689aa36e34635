//! The household's own values.

use rstest::rstest;
use species::{Override, Profile, Status, library};

#[expect(clippy::unwrap_used, reason = "a helper of the tests")]
fn ball_python() -> &'static Profile {
    library().profile("ball_python").unwrap()
}

fn own(path: &str, low: f64, high: f64) -> Override {
    Override { path: path.into(), low, high, reason: "the veterinarian asked for it".into(), by: "Ada".into() }
}

#[test]
fn an_own_value_takes_the_place_of_the_default() {
    let profile = ball_python().with_overrides(&[own("temperature.night_min_c", 24.0, 24.0)]).unwrap();
    let figure = profile.temperature.night_min_c.first().unwrap();
    assert_eq!((figure.low, figure.high, figure.status), (24.0, 24.0, Status::Household));
    assert_eq!(figure.source, "household");
    assert_eq!(figure.note.as_deref(), Some("the veterinarian asked for it"));
    assert_eq!(profile.overridden("temperature.night_min_c").map(|one| one.by.as_str()), Some("Ada"));
    assert_eq!(ball_python().temperature.night_min_c.first().unwrap().low, 23.0, "the data stay as they are");
}

#[test]
fn what_other_sources_say_stays_behind_an_own_value() {
    let others = &ball_python().shed.interval_d.adult.as_ref().unwrap().0[1..];
    let profile = ball_python().with_overrides(&[own("shed.interval_d.adult", 70.0, 90.0)]).unwrap();
    let figures = &profile.shed.interval_d.adult.as_ref().unwrap().0;
    assert_eq!((figures[0].low, figures[0].high), (70.0, 90.0));
    assert!(!others.is_empty());
    assert_eq!(&figures[1..], others);
}

#[test]
fn a_share_of_body_mass_changes_the_grams() {
    let path = "feeding.adult.prey_pct";
    let profile = ball_python().with_overrides(&[own(path, 4.0, 6.0)]).unwrap();
    let feeding = profile.feeding.adult.as_ref().unwrap();
    assert_eq!(feeding.prey_pct, (4.0, 6.0));
    assert_eq!(feeding.prey_g, Some((40.0, 150.0)), "4 % of 1000 g and 6 % of 2500 g");
    assert_eq!(profile.value(path).map(|figure| figure.status), Some(Status::Household));
    assert_eq!(profile.value("feeding.adult.interval_d").map(|figure| figure.status), Some(Status::CommonPractice));
}

#[test]
fn the_last_of_two_own_values_stands() {
    let path = "humidity.normal_pct";
    let profile = ball_python().with_overrides(&[own(path, 50.0, 60.0), own(path, 60.0, 70.0)]).unwrap();
    assert_eq!(profile.value(path).map(|figure| figure.low), Some(60.0));
    assert_eq!(profile.overrides.len(), 1);
}

#[test]
fn every_path_can_be_set_and_read_back() {
    for profile in &library().profiles {
        for path in profile.value_paths() {
            let (low, high) = profile.value(&path).map_or((1.0, 2.0), |figure| (figure.low, figure.high));
            let set = profile.with_overrides(&[own(&path, low, high)]).unwrap_or_else(|faults| panic!("{faults:?}"));
            let read = set.value(&path).unwrap();
            assert_eq!((read.low, read.high, read.status), (low, high, Status::Household), "{path}");
            let (mut plain, mut bare) = (set.clone(), profile.clone());
            plain.overrides.clear();
            bare.overrides.clear();
            let field = plain.value(&path).unwrap();
            assert_eq!((field.low, field.high), (low, high), "{}: {path} is set in the profile itself", profile.key);
        }
    }
}

#[rstest]
#[case::unknown_path(
    own("temperature.nigth_min_c", 24.0, 24.0),
    "`temperature.nigth_min_c` is no value of a profile\n where: own values for ball_python\n  mend: did you mean `temperature.night_min_c`?"
)]
#[case::reversed(
    own("humidity.normal_pct", 70.0, 50.0),
    "the low end 70 of `humidity.normal_pct` is above its high end 50\n where: own values for ball_python\n  mend: exchange the two"
)]
#[case::not_finite(
    own("humidity.normal_pct", f64::NAN, 50.0),
    "the value for `humidity.normal_pct` is not a finite number\n where: own values for ball_python\n  mend: give a number"
)]
#[case::degrees_fahrenheit(
    own("temperature.night_min_c", 75.0, 75.0),
    "75 is not likely for `temperature.night_min_c`\n where: own values for ball_python\n  mend: give it in °C, from 0 to 50 (75 °F is 23.9 °C)"
)]
#[case::without_reason(
    Override { reason: " ".into(), ..own("temperature.night_min_c", 24.0, 24.0) },
    "the value for `temperature.night_min_c` has no reason\n where: own values for ball_python\n  mend: say why it is set, for example what the veterinarian said"
)]
fn a_wrong_own_value_is_refused(#[case] wrong: Override, #[case] message: &str) {
    let faults = ball_python().with_overrides(&[own("humidity.shed_pct", 75.0, 85.0), wrong]).err().unwrap_or_default();
    assert_eq!(faults.iter().map(ToString::to_string).collect::<Vec<_>>(), [message]);
}
