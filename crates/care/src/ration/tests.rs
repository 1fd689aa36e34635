//! What holds an animal, against the check block of the notes and in diaries as a keeper writes them.

use proptest::prelude::*;

use super::*;
use crate::growth::{Budget, Intake, Log};
use crate::testing::{answer, case, moment};
use crate::view::View;

fn ask<T>(at: &str, animal: &str, lines: &str, look: impl Fn(&View<'_>) -> T) -> T {
    let case = case(&format!("[animal]\n{animal}\n{lines}"));
    let (profile, _) = crate::assess::profile(&case.animal, &case.overrides).unwrap();
    look(&View::new(&case, &profile, moment(at)))
}

/// A budget with the factor of the notes and rodents over 3 g.
fn budget(k: [f64; 3], body_c: f64) -> Budget {
    let factor = Log { mean: k[1].ln(), deviation: (k[2] / k[0]).ln() / (2.0 * 1.2816) };
    Budget { factor, factor_before: factor, stretches: 0, body_c, net_kj_per_g: 3.7, tissue_kj_per_g: 7.5 }
}

fn needs(body_g: f64, body_c: f64) -> Needs {
    Needs::from(body_g, body_c, false, budget([0.4, 0.6, 0.9], body_c))
}

/// Physiology notes, check block E4: «maintenance, k 0.6 (band k 0.4-0.9): 100 g at 30 C 3.9 g/week (2.6-5.9); 300 g at
/// 26 C 6.6 (4.4-9.9); 1000 g at 26 C 17.3 (11.6-26.0), at 30 C 24.6 (16.4-36.9); 1500 g at 30 C 34.0 (22.7-51.1);
/// 3000 g at 30 C 59 (40-89); 10 kg at 30 C 155 (104-233)» (computed there; the band is of the factor alone).
#[test]
fn what_holds_its_mass_is_that_of_the_check_block() {
    for (body_g, body_c, mid, low, high) in [
        (100.0, 30.0, 3.9, 2.6, 5.9),
        (300.0, 26.0, 6.6, 4.4, 9.9),
        (1000.0, 26.0, 17.3, 11.6, 26.0),
        (1000.0, 30.0, 24.6, 16.4, 36.9),
        (1500.0, 30.0, 34.0, 22.7, 51.1),
        (3000.0, 30.0, 59.0, 40.0, 89.0),
        (10_000.0, 30.0, 155.0, 104.0, 233.0),
    ] {
        let got = needs(body_g, body_c).maintenance();
        assert!((got.mid - mid).abs() < 0.02 * mid, "{body_g} g at {body_c} °C: {:.1}, the notes have {mid}", got.mid);
        // the temperature is in the range too, so it is a little wider than the band of the factor
        assert!(0.85 * low < got.low && got.low < low * 1.02, "{body_g} g: {:.1}, the notes have {low}", got.low);
        assert!(0.98 * high < got.high && got.high < 1.15 * high, "{body_g} g: {:.1}, the notes have {high}", got.high);
    }
}

/// The same: «1500 g, 28.5 C: maintenance 29.9 g/week; a 60 g/week ration predicts +14.9 g/week. An 80 g rat meets
/// maintenance for 18.8 d. 500 g, 30 C: for +10 g/week feed 34.4 g/week.»
#[test]
fn what_a_ration_gives_and_how_long_a_rat_lasts() {
    let grown = needs(1500.0, 28.5);
    assert!((grown.maintenance().mid - 29.9).abs() < 0.1);
    assert!((grown.gain_on(60.0).mid - 14.9).abs() < 0.1, "{:?}", grown.gain_on(60.0));
    assert!((grown.lasts_d(80.0).mid - 18.8).abs() < 0.1, "{:?}", grown.lasts_d(80.0));
    assert!((needs(500.0, 30.0).for_gain(10.0).mid - 34.4).abs() < 0.1);
}

const PYTHON: &str = "species = \"ball_python\"\nsex = \"male\"\nstage = \"adult\"";
const WARM: &str = "[[reading]]\nat = \"2027-05-30\"\nspot = \"warm-air\"\ntemperature_c = 30\n[[reading]]\nat = \"2027-05-30\"\nspot = \"cool-air\"\ntemperature_c = 26\n";

fn weighed(mass: f64, day: &str) -> String {
    format!("[[weighing]]\nat = \"{day}\"\nmass_g = {mass}\n")
}

/// (what is on record, why nothing is told of what it needs)
#[test]
fn where_nothing_can_be_told_it_says_why() {
    let fine = weighed(1500.0, "2027-05-25") + WARM;
    for (says, animal, lines, wanted) in [
        ("in order", PYTHON, fine.clone(), None),
        ("weighed four months ago", PYTHON, weighed(1500.0, "2027-01-25") + WARM, Some(NoNeeds::NoMass)),
        ("never weighed", PYTHON, WARM.to_owned(), Some(NoNeeds::NoMass)),
        (
            "gravid",
            "species = \"ball_python\"\nsex = \"female\"\nstage = \"adult\"",
            fine.clone() + "[[breeding]]\nat = \"2027-05-10\"\nwhat = \"gravid\"\n",
            Some(NoNeeds::Gravid),
        ),
        ("ill", PYTHON, fine.clone() + "[[sign]]\nat = \"2027-05-29\"\nsign = \"pus-in-mouth\"\n", Some(NoNeeds::Ill)),
        (
            "a hatchling that has not eaten",
            "species = \"ball_python\"\nstage = \"hatchling\"",
            weighed(60.0, "2027-05-25") + WARM,
            Some(NoNeeds::NotStarted),
        ),
    ] {
        let got = ask("2027-06-01", animal, &lines, |view| Needs::of(view, &Intake::of(view)));
        assert_eq!(got.as_ref().err(), wanted.as_ref(), "{says}");
    }
    let cold = weighed(1500.0, "2027-05-25")
        + "[[reading]]\nat = \"2027-05-30\"\nspot = \"warm-air\"\ntemperature_c = 16\n[[reading]]\nat = \"2027-05-30\"\nspot = \"cool-air\"\ntemperature_c = 14\n";
    let got = ask("2027-06-01", PYTHON, &cold, |view| Needs::of(view, &Intake::of(view)));
    assert!(matches!(got, Err(NoNeeds::Temperature(_))), "{got:?}");
}

#[test]
fn without_a_reading_the_profile_serves_and_the_range_is_wider() {
    let range = |lines: &str| ask("2027-06-01", PYTHON, lines, |view| Needs::of(view, &Intake::of(view)).unwrap());
    let (read, guessed) = (range(&(weighed(1500.0, "2027-05-25") + WARM)), range(&weighed(1500.0, "2027-05-25")));
    assert!(!read.warmth_is_assumed && guessed.warmth_is_assumed);
    let width = |needs: &Needs| needs.maintenance().high / needs.maintenance().low;
    assert!(width(&read) < width(&guessed));
}

/// (prey in g every so many days, until how long ago, what it was fed a week)
#[test]
fn what_it_was_fed_of_late() {
    let diary = |prey: f64, every: i64, count: i64, ago: i64| {
        let last: jiff::civil::Date = "2027-06-01".parse().unwrap();
        (0..count)
            .map(|n| {
                let day = last - jiff::Span::new().days(ago + n * every);
                format!("[[meal]]\nat = \"{day}\"\nmass_g = {prey}\noutcome = \"taken\"\n")
            })
            .collect::<String>()
    };
    for (says, lines, wanted) in [
        ("80 g every two weeks", diary(80.0, 14, 8, 3), Some(40.0)),
        ("80 g every three weeks", diary(80.0, 21, 6, 3), Some(26.7)),
        ("the same, and nothing for 40 days", diary(80.0, 14, 6, 40), Some(30.5)),
        ("three meals are too few", diary(80.0, 30, 3, 3), None),
        ("six weeks are too short", diary(40.0, 7, 6, 3), None),
        (
            "meals without a mass",
            diary(80.0, 14, 5, 3)
                + &diary(80.0, 14, 3, 10).replace("mass_g = 80\n", "")
                + &weighed(1500.0, "2027-05-25"),
            None,
        ),
    ] {
        let got = ask("2027-06-01", PYTHON, &lines, |view| Fed::of(view, &Intake::of(view)));
        match (got, wanted) {
            (Some(fed), Some(wanted)) => assert!((fed.g_week - wanted).abs() < 0.4, "{says}: {:.1}", fed.g_week),
            (got, wanted) => assert!(got.is_none() && wanted.is_none(), "{says}: {got:?}"),
        }
    }
}

#[test]
fn the_schools_stand_side_by_side_and_one_is_gone_by() {
    let list = ask("2027-06-01", PYTHON, &weighed(1500.0, "2027-05-25"), |view| schools(view, Some(1500.0)));
    assert_eq!(list.iter().filter(|one| one.is_used).count(), 1);
    // its profile: 14 to 28 d, 5 to 7 %: 1500 g x 5 % / 4 weeks to 1500 g x 7 % / 2 weeks
    assert_eq!(list[0].g_week, Some((18.75, 52.5)));
    let others: Vec<(&str, Option<(f64, f64)>)> =
        list.iter().map(|one| (one.source.key.as_ref(), one.every_d)).collect();
    assert!(others.contains(&("ps-ball", Some((10.0, 14.0)))), "{others:?}");
    assert!(others.contains(&("vca-wla", Some((7.0, 21.0)))), "{others:?}");
    let young = ask("2027-06-01", "species = \"ball_python\"\nstage = \"hatchling\"", "", |view| schools(view, None));
    assert!(young.iter().all(|one| one.g_week.is_none() && !one.stage.contains("adult")), "{young:?}");
}

#[test]
fn the_study_says_it_in_prey() {
    let lines = weighed(1500.0, "2027-05-25")
        + WARM
        + "[[meal]]\nat = \"2027-05-20\"\nprey = \"rat-weaned\"\nmass_g = 80\noutcome = \"taken\"\n";
    let text = format!("at = \"2027-06-01\"\n[animal]\n{PYTHON}\n{lines}");
    let answer = answer(&text);
    let found = ask("2027-06-01", PYTHON, &lines, |view| study(view, &answer));
    assert!(
        found.says[0]
            .starts_with("To hold its 1500 g at a body temperature of 28 °C it needs 30 g (19 to 46) of prey a week: "),
        "{}",
        found.says[0]
    );
    assert!(found.says[0].contains("a weaned rat of 80 g every 19 days ("), "{}", found.says[0]);
    assert!(
        found.says[1].starts_with("It is grown: what it eats beyond that is laid down; from "),
        "{}",
        found.says[1]
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn more_mass_and_more_warmth_need_more_and_more_prey_gives_more(
        body_g in 20.0..10_000.0f64, body_c in 18.0..33.0f64, ration in 0.0..200.0f64, more in 1.05..2.0f64,
    ) {
        let one = needs(body_g, body_c);
        prop_assert!(one.maintenance().mid < needs(body_g * more, body_c).maintenance().mid);
        prop_assert!(one.maintenance().mid < needs(body_g, body_c + 1.0).maintenance().mid);
        prop_assert!(one.gain_on(ration).mid < one.gain_on(ration + 1.0).mid);
        // there and back
        let gain = 0.01 * body_g;
        let back = one.gain_on(one.for_gain(gain).mid).mid;
        prop_assert!((back - gain).abs() < 1e-6 * body_g, "{back} and {gain}");
        for range in [one.maintenance(), one.for_gain(gain), one.gain_on(ration), one.lasts_d(30.0), one.kj_day()] {
            prop_assert!(range.low < range.mid && range.mid < range.high);
        }
    }
}
