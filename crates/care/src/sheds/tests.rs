//! Diaries as a keeper writes them, and what is said of the next shed.

use proptest::prelude::*;
use science::statistics::intervals::Law;
use units::Moment;

use super::*;
use crate::answer::SourceRef;
use crate::testing::{answer, case, moment};
use crate::view::View;

/// Asks about an animal; `lines` are lines of its case file.
fn ask<T>(at: &str, animal: &str, lines: &str, look: impl Fn(&View<'_>) -> T) -> T {
    let case = case(&format!("[animal]\n{animal}\n{lines}"));
    let (profile, _) = crate::assess::profile(&case.animal, &case.overrides).unwrap();
    look(&View::new(&case, &profile, moment(at)))
}

fn shed(day: &str) -> String {
    format!("[[shed]]\nshed_at = \"{day}\"\npieces = 1\n")
}

const CORN: &str = "species = \"corn_snake\"\nstage = \"adult\"";

/// Physiology notes, estimate E9, its check: «adult, intervals 65, 59, 52 d: mean ln 4.068; mu = (3*4.068 + 2*4.443)/5 =
/// 4.218 -> 68 d; window exp(4.218 -+ 1.28*0.45*1.095) = 36-128 d» (computed there from a prior of 85 d).
#[test]
fn three_intervals_and_the_usual_one_give_the_check_value_of_the_notes() {
    let usual = Usual {
        days: 85.0,
        range_d: None,
        source: SourceRef { key: "physiology-e9".into(), status: species::Status::FromMemory },
    };
    let rhythm = Rhythm::from(usual, vec![65.0, 59.0, 52.0]);
    let Law::Lognormal { mean, .. } = rhythm.law else { panic!("{:?}", rhythm.law) };
    assert!((mean - 4.218).abs() < 0.001, "{mean}");
    for (share, wanted) in [(0.1, 36.0), (0.5, 68.0), (0.9, 128.0)] {
        let got = rhythm.law.quantile(share);
        assert!((got - wanted).abs() < 0.7, "{got:.1} d, the notes have {wanted}");
    }
}

#[test]
fn an_animal_that_sheds_like_a_clock_narrows_its_own_window() {
    // the usual interval of a grown corn snake is 64 d
    let width = |own: &[f64]| {
        ask("2027-06-01", CORN, "", |view| {
            let law = Rhythm::from(Usual::of(view), own.to_vec()).law;
            law.quantile(0.9) / law.quantile(0.1)
        })
    };
    let (none, three, clock, wild) =
        (width(&[]), width(&[60.0; 3]), width(&[60.0; 5]), width(&[30.0, 100.0, 45.0, 90.0, 38.0]));
    assert!(three < none && clock < three && clock < wild, "{none:.2} {three:.2} {clock:.2} {wild:.2}");
}

/// (the diary: days on which a skin came off, what the rhythm is read from, what else is said of it)
#[test]
fn which_intervals_count() {
    use Counts::{Doubled, TooLong, WinterRest, Yes};
    let rest = "[[planned]]\nfrom = \"2026-11-15\"\nuntil = \"2027-02-15\"\nwhat = \"brumation\"\n";
    for (says, days, more, gaps) in [
        ("one skin is no interval", vec!["2027-01-01"], "", vec![]),
        ("written down twice", vec!["2027-01-01", "2027-03-01", "2027-03-02"], "", vec![(60.0, Yes)]),
        ("off in two parts, a week apart", vec!["2027-01-01", "2027-03-01", "2027-03-08"], "", vec![(66.0, Yes)]),
        (
            "eleven days apart is two sheds",
            vec!["2027-01-01", "2027-03-01", "2027-03-12"],
            "",
            vec![(59.0, Yes), (11.0, Yes)],
        ),
        ("a year without a note", vec!["2026-01-01", "2027-03-01"], "", vec![(424.0, TooLong)]),
        ("a winter rest between", vec!["2026-11-01", "2027-03-31"], rest, vec![(150.0, WinterRest)]),
        (
            "one was missed in the middle",
            vec!["2026-08-01", "2026-10-01", "2026-12-01", "2027-02-01", "2027-06-01"],
            "",
            vec![(61.0, Yes), (61.0, Yes), (62.0, Yes), (120.0, Doubled)],
        ),
        (
            "slower from now on: none was missed",
            vec!["2026-07-01", "2026-08-01", "2026-09-01", "2026-10-01", "2026-12-01", "2027-02-01"],
            "",
            vec![(31.0, Yes), (31.0, Yes), (30.0, Yes), (61.0, Yes), (62.0, Yes)],
        ),
    ] {
        let lines: String = days.iter().map(|day| shed(day)).collect::<String>() + more;
        let got = ask("2027-06-15", CORN, &lines, |view| History::of(view).gaps);
        let got: Vec<(f64, Counts)> = got.iter().map(|gap| (gap.days.round(), gap.counts)).collect();
        // A shed noted twice counts from its last note.
        let near = got.len() == gaps.len() && got.iter().zip(&gaps).all(|(a, b)| (a.0 - b.0).abs() < 1.6 && a.1 == b.1);
        assert!(near, "{says}: {got:?}");
    }
}

/// (what was seen last, days from then to the skin: one in ten sooner, the middle, one in ten later)
#[test]
fn what_is_seen_of_a_shed_narrows_the_date() {
    // corn snake: dull to shed 7 to 14 d; blue 3 to 4 d and clear to shed 3 to 6 d
    for (seen, low, mid, high, by) in [
        ("dull_at = \"2027-06-01T00:00\"\n", 7.0, 9.9, 14.0, By::Dull),
        ("blue_at = \"2027-06-01T00:00\"\n", 6.0, 7.7, 10.0, By::Blue),
        ("blue_at = \"2027-05-28\"\ncleared_at = \"2027-06-01T00:00\"\n", 3.0, 4.2, 6.0, By::Cleared),
    ] {
        let next = ask("2027-06-01T00:00", CORN, &format!("[[shed]]\n{seen}"), next).unwrap();
        assert_eq!(next.by, by);
        let day = |at: Moment| at.days_since(moment("2027-06-01T00:00"));
        for (got, wanted) in [(day(next.range.low), low), (day(next.range.mid), mid), (day(next.range.high), high)] {
            assert!((got - wanted).abs() < 0.1, "{seen}: {got:.1} d, not {wanted}");
        }
    }
}

#[test]
fn where_no_date_would_be_honest_there_is_none() {
    let once = shed("2027-05-01");
    for (says, at, lines, why) in [
        ("no shed on record", "2027-06-01", String::new(), Some(WhyNot::NoShed)),
        ("the ordinary case", "2027-06-01", once.clone(), None),
        ("half a year late", "2028-01-15", once.clone(), Some(WhyNot::Late)),
        (
            "in a winter rest",
            "2027-06-01",
            format!("{once}[[planned]]\nfrom = \"2027-05-20\"\nuntil = \"2027-07-01\"\nwhat = \"brumation\"\n"),
            Some(WhyNot::WinterRest),
        ),
        (
            "a burn",
            "2027-06-01",
            format!("{once}[[sign]]\nat = \"2027-05-28\"\nsign = \"charred-scales\"\n"),
            Some(WhyNot::Ill),
        ),
        ("dead", "2027-06-01", format!("{once}[[sign]]\nat = \"2027-05-28\"\nsign = \"dead\"\n"), Some(WhyNot::Gone)),
    ] {
        assert_eq!(ask(at, CORN, &lines, next).err(), why, "{says}");
    }
}

#[test]
fn a_bad_shed_is_set_against_the_humidity_before_it() {
    let reading = |day: &str, percent: u32| {
        format!("[[reading]]\nat = \"{day}\"\nspot = \"cool-air\"\nhumidity_pct = {percent}\n")
    };
    let bad = "[[shed]]\nshed_at = \"2027-06-10\"\npieces = 5\n";
    let says = |lines: &str| {
        let answer = answer(&format!("at = \"2027-06-11\"\n[animal]\n{CORN}\n{bad}{lines}"));
        answer.finding(crate::answer::Code::ShedInPieces).unwrap().says.clone()
    };
    // corn snake: 60 to 75 % is wanted in a shed
    for (lines, wanted) in [
        (String::new(), "The skin of 10 Jun 2027 came off in 5 pieces."),
        (
            reading("2027-06-01", 38) + &reading("2027-06-05", 44),
            "In the 15 days before it the humidity at the cool end was 38 to 44 %, 41 % in the middle of 2 readings; ",
        ),
        (reading("2027-06-01", 70), "was 70 % in the one reading; "),
        (reading("2027-05-01", 30), "The skin of 10 Jun 2027 came off in 5 pieces."),
    ] {
        let got = says(&lines);
        assert!(got.contains(wanted), "{got}");
        assert_eq!(got.contains("too dry"), wanted.contains("38 to 44"), "{got}");
        assert_eq!(got.contains("in range"), wanted.contains("70 %"), "{got}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn the_window_lies_ahead_and_only_moves_on(
        gaps in proptest::collection::vec(12.0..240.0f64, 0..7), usual in 20.0..120.0f64, waited in 0.0..300.0f64, more in 0.0..60.0f64,
    ) {
        let usual = Usual {
            days: usual,
            range_d: None,
            source: SourceRef { key: "physiology-e9".into(), status: species::Status::FromMemory },
        };
        let law = Rhythm::from(usual, gaps).law;
        let at = |elapsed: f64, share: f64| elapsed + law.after(elapsed).further(share).unwrap();
        for share in [0.1, 0.5, 0.9] {
            prop_assert!(waited <= at(waited, share));
            prop_assert!(at(waited, share) <= at(waited + more, share) + 1e-6);
        }
        prop_assert!(at(waited, 0.1) < at(waited, 0.5) && at(waited, 0.5) < at(waited, 0.9));
    }

    #[test]
    fn longer_intervals_never_bring_the_next_one_forward(
        gaps in proptest::collection::vec(12.0..240.0f64, 1..4), longer in 1.0..2.0f64,
    ) {
        let usual = || Usual {
            days: 60.0,
            range_d: None,
            source: SourceRef { key: "physiology-e9".into(), status: species::Status::FromMemory },
        };
        let stretched = gaps.iter().map(|days| days * longer).collect();
        let (short, long) = (Rhythm::from(usual(), gaps).law, Rhythm::from(usual(), stretched).law);
        for share in [0.1, 0.5, 0.9] {
            prop_assert!(short.quantile(share) <= long.quantile(share) + 1e-9);
        }
    }
}
