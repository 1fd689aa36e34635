//! Diaries of offers as a keeper writes them, and what is said of a run of refusals.

use proptest::prelude::*;
use units::Moment;

use super::loss::{LossBy, NoLoss};
use super::*;
use crate::answer::{Code, Severity};
use crate::testing::{answer, case, moment};
use crate::view::View;
use crate::what_if::Range;

fn ask<T>(at: &str, animal: &str, lines: &str, look: impl Fn(&View<'_>) -> T) -> T {
    let case = case(&format!("[animal]\n{animal}\n{lines}"));
    let (profile, _) = crate::assess::profile(&case.animal, &case.overrides).unwrap();
    look(&View::new(&case, &profile, moment(at)))
}

const CORN: &str = "species = \"corn_snake\"\nsex = \"female\"\nstage = \"adult\"";

/// Offers every `gap` days, the last one on `last`: `t` taken, `r` refused, oldest first.
fn diary(last: &str, gap: i64, offers: &str) -> String {
    let last: jiff::civil::Date = last.parse().unwrap();
    let count = offers.len() as i64;
    offers
        .chars()
        .zip(1..)
        .map(|(what, nth)| {
            let day = last - jiff::Span::new().days(gap * (count - nth));
            let outcome = if what == 't' { "taken" } else { "refused" };
            format!("[[meal]]\nat = \"{day}\"\nprey = \"mouse-adult\"\nmass_g = 25\noutcome = \"{outcome}\"\n")
        })
        .collect()
}

/// (the diary, refusals in the run, longest run before, chance in % that a year of its offers holds such a run)
#[test]
fn how_unusual_a_run_is() {
    for (offers, length, longest, in_a_year) in [
        ("tttttttttt", 0, None, None),
        ("ttttttttttrrr", 3, None, Some((0.2, 0.6))),
        ("tttttttttttttttttttttrrr", 3, None, Some((0.1, 0.3))),
        ("ttrttrttrttrttrtrrr", 3, Some(1), Some((20.0, 45.0))),
        ("tttrrrtttttttttrr", 2, Some(3), Some((40.0, 70.0))),
        ("tttrrr", 3, None, None),
    ] {
        let run = ask("2027-07-02", CORN, &diary("2027-07-01", 14, offers), |view| Run::of(view, &Offers::of(view)));
        assert_eq!(run.as_ref().map_or(0, |run| run.length), length, "{offers}");
        let Some(run) = run else { continue };
        assert_eq!(run.longest_before.map(|(longest, _)| longest), longest, "{offers}");
        let chance = run.animal.map(|judged| judged.in_a_year_pct);
        let fits = match (chance, in_a_year) {
            (Some(chance), Some((low, high))) => (low..=high).contains(&chance),
            (None, None) => true,
            _ => false,
        };
        assert!(fits, "{offers}: {chance:?} %, not {in_a_year:?}");
    }
}

#[test]
fn a_run_that_is_unusual_is_told_as_such_and_one_as_before_is_not() {
    for (offers, told) in
        [("ttttttttttrrr", Some(Severity::Act)), ("ttrttrttrttrttrtrrr", None), ("tttrrrttttttttttrrr", None)]
    {
        let text = format!("at = \"2027-07-02\"\n[animal]\n{CORN}\n{}", diary("2027-07-01", 14, offers));
        let answer = answer(&text);
        let found = answer.finding(Code::RefusalRunUnusual).map(|found| found.severity);
        assert_eq!(
            found,
            told,
            "{offers}: {:?}",
            answer.findings.iter().map(|one| (one.code, &one.says)).collect::<Vec<_>>()
        );
    }
    // a mass that holds keeps it a note, with how unusual it is for this animal beside it
    let steady = "[[weighing]]\nat = \"2027-05-01\"\nmass_g = 500\n[[weighing]]\nat = \"2027-06-28\"\nmass_g = 497\n";
    let text = format!("at = \"2027-07-02\"\n[animal]\n{CORN}\n{}{steady}", diary("2027-07-01", 14, "ttttttttttrrr"));
    let answer = answer(&text);
    let note = answer.finding(Code::RefusalRunUsual).unwrap();
    assert_eq!(note.severity, Severity::Note);
    assert!(note.says.contains("Of 10 offers before, none was refused: a year of its offers holds so long a run in fewer than one case of a hundred."), "{}", note.says);
}

#[test]
fn its_own_season_is_learned_after_a_year() {
    // refuses every June and July; in the third June four refusals are nothing new for the season
    let mut text = String::new();
    for year in [2025, 2026] {
        text += &diary(&format!("{year}-05-28"), 14, "ttttttttt");
        text += &diary(&format!("{year}-07-25"), 14, "rrrr");
        text += &diary(&format!("{year}-12-20"), 14, "tttttttttt");
    }
    text += &diary("2027-05-10", 14, "ttttttttt");
    text += &diary("2027-07-01", 14, "rrrr");
    let run = ask("2027-07-02", CORN, &text, |view| Run::of(view, &Offers::of(view))).unwrap();
    let (year, month) = (run.animal.unwrap(), run.month.unwrap());
    assert_eq!(run.length, 4);
    assert!(25.0 < month.in_a_year_pct && year.next_pct < month.next_pct, "{year:?} {month:?}");
    let young = diary("2027-07-01", 14, "ttttttttttrrr");
    let run = ask("2027-07-02", CORN, &young, |view| Run::of(view, &Offers::of(view))).unwrap();
    assert!(run.month.is_none(), "less than a year on record");
}

#[test]
fn the_chance_of_the_next_offer_follows_its_own_offers() {
    let chance = |offers: &str, more: usize| {
        ask("2027-07-02", CORN, &diary("2027-07-01", 14, offers), |view| {
            let offers = Offers::of(view);
            100.0 * Chance::of(view, &offers).taken(view, moment("2027-07-15"), more)
        })
    };
    // (diary, chance in % lies between)
    for (offers, low, high) in [
        ("", 79.9, 80.1),
        ("tttttttttttttttttttt", 93.0, 99.0),
        ("trtrtrtrtrtrtrtrtrtr", 45.0, 85.0),
        ("ttttttttttttttrrrrrr", 15.0, 60.0),
    ] {
        let got = chance(offers, 0);
        assert!((low..=high).contains(&got), "{offers}: {got:.0} %");
    }
    let clumped = "tttttrrrrrtttttrrrrrtttttrrrr";
    assert!(chance(clumped, 1) < chance("ttttttttttttttttttttt", 1), "one that refuses in runs goes on refusing");
}

#[test]
fn after_how_many_refusals_it_took_the_next() {
    let steps = ask("2027-07-02", CORN, &diary("2027-07-01", 14, "trttrttrtttr"), |view| {
        Chance::after_refusals(&Offers::of(view))
    });
    let counts: Vec<(usize, usize, usize)> = steps.iter().map(|step| (step.refused, step.offers, step.taken)).collect();
    assert_eq!(counts, [(0, 9, 5), (1, 3, 3), (2, 0, 0), (3, 0, 0)]);
    for step in steps {
        let [low, high] = step.between_pct;
        assert!(low < step.chance_pct && step.chance_pct < high && high < 100.0);
    }
}

/// Physiology notes, estimate E10, its table at 27 C and 200 g: % a day and days to 10 %, and «ball python with Q10 2.5:
/// 24 C 0.091 %/d (115 d to 10 %), 30 C 0.158 (67 d), 32 C 0.190 (55 d)» (computed there from McCue 2007).
#[test]
fn a_fast_costs_what_the_notes_say() {
    for (species, body_c, k, days) in [
        ("rat_snake", 27.0, 0.0581, 181.0),
        ("ball_python", 27.0, 0.1203, 88.0),
        ("ball_python", 24.0, 0.091, 115.0),
        ("ball_python", 30.0, 0.158, 67.0),
        ("ball_python", 32.0, 0.190, 55.0),
    ] {
        let lines = format!(
            "[[meal]]\nat = \"2027-03-01\"\noutcome = \"taken\"\nmass_g = 10\n[[weighing]]\nat = \"2027-06-01T00:00\"\nmass_g = 200\n\
             [[reading]]\nat = \"2027-05-31\"\nspot = \"warm-air\"\ntemperature_c = {body_c}\n[[reading]]\nat = \"2027-05-31\"\nspot = \"cool-air\"\ntemperature_c = {body_c}\n"
        );
        let animal = format!("species = \"{species}\"\nstage = \"subadult\"");
        let got = ask("2027-06-01T00:00", &animal, &lines, loss).unwrap();
        assert!((got.pct_d.mid - k).abs() < 0.0006, "{species} at {body_c} C: {} %/d", got.pct_d.mid);
        let until = got.days_to_tenth.unwrap();
        assert!((until.mid - days).abs() < 1.0, "{species} at {body_c} C: {} d", until.mid);
        assert!(until.low < until.mid && until.mid < until.high);
    }
}

#[test]
fn its_own_weighings_come_before_the_table() {
    let fed = "[[meal]]\nat = \"2027-03-01\"\noutcome = \"taken\"\nmass_g = 60\n";
    let weighed = |list: &[(&str, f64)]| {
        let lines: String =
            list.iter().map(|(day, mass)| format!("[[weighing]]\nat = \"{day}\"\nmass_g = {mass}\n")).collect();
        ask("2027-06-02", "species = \"ball_python\"\nstage = \"adult\"", &format!("{fed}{lines}"), loss).unwrap()
    };
    // three weighings over 28 days or more: 1500 to 1470 g in 60 days is 0.034 % a day
    let own = weighed(&[("2027-04-01", 1500.0), ("2027-05-01", 1485.0), ("2027-06-01", 1470.0)]);
    assert_eq!(own.by, LossBy::OwnWeighings(3));
    assert!((own.pct_d.mid - 0.0331).abs() < 0.001, "{:?}", own.pct_d);
    let few = weighed(&[("2027-05-01", 1485.0), ("2027-06-01", 1470.0)]);
    assert_eq!(few.by, LossBy::ItsSpecies("ball_python"));
    let close = weighed(&[("2027-05-20", 1485.0), ("2027-05-25", 1480.0), ("2027-06-01", 1470.0)]);
    assert_eq!(close.by, LossBy::ItsSpecies("ball_python"), "over eleven days only");
    let steady = weighed(&[("2027-04-01", 1500.0), ("2027-05-01", 1510.0), ("2027-06-01", 1500.0)]);
    assert_eq!(steady.days_to_tenth, None, "a mass that does not fall has no such day");
}

#[test]
fn where_a_loss_would_be_a_guess_there_is_none() {
    let fed = |day: &str| format!("[[meal]]\nat = \"{day}\"\noutcome = \"taken\"\nmass_g = 25\n");
    let weighed = |mass: f64| format!("[[weighing]]\nat = \"2027-05-20\"\nmass_g = {mass}\n");
    for (says, lines, wanted) in [
        ("no meal", weighed(500.0), NoLoss::NoMeal),
        ("fed three weeks ago, gut empty a week", fed("2027-05-12") + &weighed(500.0), NoLoss::TooEarly),
        ("never weighed", fed("2027-03-01"), NoLoss::NoMass),
        ("small", fed("2027-03-01") + &weighed(40.0), NoLoss::TooSmall),
        (
            "gravid",
            fed("2027-03-01") + &weighed(500.0) + "[[breeding]]\nat = \"2027-04-20\"\nwhat = \"gravid\"\n",
            NoLoss::Gravid,
        ),
    ] {
        assert_eq!(ask("2027-06-01", CORN, &lines, loss).err(), Some(wanted), "{says}");
    }
}

/// (what is on record, which of the six is answered how)
#[test]
fn six_checks_in_their_order_from_the_records() {
    use Verdict::{Clear, MayBeWhy, NotKnown};
    let base = diary("2027-07-01", 14, "ttttttttrr");
    let reading = |degrees: f64| {
        format!(
            "[[reading]]\nat = \"2027-06-30\"\nspot = \"warm-air\"\ntemperature_c = {degrees}\n[[reading]]\nat = \"2027-06-30\"\nspot = \"warm-surface\"\ntemperature_c = 31\n"
        )
    };
    for (says, more, wanted) in [
        ("nothing but meals", String::new(), [NotKnown, NotKnown, NotKnown, Clear, NotKnown, NotKnown]),
        ("warm side in range", reading(28.5), [Clear, NotKnown, NotKnown, Clear, NotKnown, NotKnown]),
        ("warm side cold", reading(21.0), [MayBeWhy, NotKnown, NotKnown, Clear, NotKnown, NotKnown]),
        (
            "dull since four days",
            "[[shed]]\ndull_at = \"2027-06-28\"\n".to_owned(),
            [NotKnown, MayBeWhy, NotKnown, Clear, NotKnown, NotKnown],
        ),
        (
            "shed two weeks ago",
            "[[shed]]\nshed_at = \"2027-06-20\"\npieces = 1\n".to_owned(),
            [NotKnown, Clear, NotKnown, Clear, NotKnown, NotKnown],
        ),
        (
            "moved",
            "[[planned]]\nfrom = \"2027-06-20\"\nuntil = \"2027-06-20\"\nwhat = \"enclosure-change\"\n".to_owned(),
            [NotKnown, NotKnown, MayBeWhy, Clear, NotKnown, NotKnown],
        ),
        (
            "gravid",
            "[[breeding]]\nat = \"2027-06-20\"\nwhat = \"gravid\"\n".to_owned(),
            [NotKnown, NotKnown, NotKnown, MayBeWhy, NotKnown, NotKnown],
        ),
        (
            "weighed and steady",
            "[[weighing]]\nat = \"2027-05-01\"\nmass_g = 500\n[[weighing]]\nat = \"2027-06-29\"\nmass_g = 499\n"
                .to_owned(),
            [NotKnown, NotKnown, NotKnown, Clear, NotKnown, Clear],
        ),
        (
            "wheezing",
            "[[sign]]\nat = \"2027-06-29\"\nsign = \"wheezing\"\n".to_owned(),
            [NotKnown, NotKnown, NotKnown, Clear, NotKnown, MayBeWhy],
        ),
    ] {
        let text = format!("at = \"2027-07-02\"\n[animal]\n{CORN}\n{base}{more}");
        let answer = answer(&text);
        let got = ask("2027-07-02", CORN, &format!("{base}{more}"), |view| checks(view, &answer, &Offers::of(view)));
        let keys: Vec<&str> = got.iter().map(|one| one.key).collect();
        assert_eq!(keys, ["warmth", "shed", "disturbance", "season", "prey", "health"]);
        let verdicts: Vec<Verdict> = got.iter().map(|one| one.verdict).collect();
        assert_eq!(verdicts, wanted, "{says}: {:?}", got.iter().map(|one| &one.says).collect::<Vec<_>>());
        for one in got {
            assert!(one.says.ends_with('.'), "{}", one.says);
            assert!(one.verdict != NotKnown || one.does.is_some(), "what is not known is to be looked at: {}", one.key);
        }
    }
}

#[test]
fn prey_of_another_kind_or_size_may_be_why() {
    let taken = diary("2027-05-30", 14, "tttttttt");
    let weighed = "[[weighing]]\nat = \"2027-05-20\"\nmass_g = 500\n";
    let last = |line: &str| format!("{taken}{weighed}[[meal]]\nat = \"2027-06-15\"\noutcome = \"refused\"\n{line}");
    for (line, verdict, word) in [
        ("prey = \"mouse-adult\"\nmass_g = 25\nsurface_c = 33\n", Verdict::Clear, "as before"),
        ("prey = \"mouse-adult\"\nmass_g = 25\n", Verdict::NotKnown, "Not noted: how warm"),
        ("prey = \"rat-fuzzy\"\nmass_g = 25\nsurface_c = 33\n", Verdict::MayBeWhy, "a rat where it took a mouse"),
        ("prey = \"mouse-adult\"\nmass_g = 40\nsurface_c = 33\n", Verdict::MayBeWhy, "8.2 % of its mass"),
    ] {
        let text = format!("at = \"2027-06-16\"\n[animal]\n{CORN}\n{}", last(line));
        let answer = answer(&text);
        let got = ask("2027-06-16", CORN, &last(line), |view| checks(view, &answer, &Offers::of(view)));
        assert_eq!(got[4].verdict, verdict, "{line}: {}", got[4].says);
        assert!(got[4].says.contains(word), "{}", got[4].says);
    }
}

fn is_ordered(range: Range) -> bool {
    range.low <= range.mid && range.mid <= range.high
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn one_refusal_more_is_never_less_unusual(offers in "[tr]{0,30}", refused in 1usize..6) {
        let chance = |refused: usize| {
            let lines = diary("2027-07-01", 10, &format!("tttttttt{offers}t{}", "r".repeat(refused)));
            ask("2027-07-02", CORN, &lines, |view| Run::of(view, &Offers::of(view))).unwrap().animal.unwrap()
        };
        let (fewer, more) = (chance(refused), chance(refused + 1));
        prop_assert!(more.next_pct <= fewer.next_pct + 1e-9);
        prop_assert!((0.0..=100.0).contains(&more.in_a_year_pct) && (0.0..=100.0).contains(&more.next_pct));
    }

    #[test]
    fn chances_are_chances_and_the_next_meal_lies_ahead(offers in "[tr]{0,40}", gap in 5i64..25) {
        let lines = diary("2027-07-01", gap, &offers);
        let at = moment("2027-07-02");
        let all = ask("2027-07-02", CORN, &lines, |view| {
            let offers = Offers::of(view);
            let chance = Chance::of(view, &offers);
            (0..8usize).map(|more| chance.taken_between(view, at.plus_days(more as f64 * 7.0), more)).collect::<Vec<_>>()
        });
        for (middle, [low, high]) in all {
            prop_assert!(0.0 < low && low <= middle && middle <= high && high < 1.0);
        }
        let answer = answer(&format!("at = \"2027-07-02\"\n[animal]\n{CORN}\n{lines}"));
        if let Some(next) = answer.forecasts.next_meal {
            prop_assert!(answer.at <= next.low && next.low <= next.mid && next.mid <= next.high);
        }
    }

    #[test]
    fn the_longer_a_fast_the_more_is_lost(mass in 60.0..4000.0f64, degrees in 20.0..33.0f64, day in 0i64..200) {
        let lines = format!(
            "[[meal]]\nat = \"2027-01-01\"\noutcome = \"taken\"\nmass_g = 5\n[[weighing]]\nat = \"2027-03-01\"\nmass_g = {mass}\n\
             [[reading]]\nat = \"2027-03-01\"\nspot = \"warm-air\"\ntemperature_c = {degrees}\n"
        );
        let on = |day: i64| -> Moment { moment("2027-03-10").plus_days(day as f64) };
        let zone = units::Zone::none();
        let at = |day: i64| ask(&zone.date(on(day)).to_string(), "species = \"ball_python\"\nstage = \"adult\"", &lines, loss);
        if let (Ok(now), Ok(later)) = (at(day), at(day + 5)) {
            // the reading goes stale on the way: like with like only
            prop_assume!(now.body_c == later.body_c);
            prop_assert!(is_ordered(now.pct_d) && is_ordered(now.so_far_pct));
            prop_assert!(now.so_far_pct.mid <= later.so_far_pct.mid + 1e-9);
            let (a, b) = (now.days_to_tenth.unwrap(), later.days_to_tenth.unwrap());
            prop_assert!(is_ordered(a) && b.mid <= a.mid + 1e-9);
        }
    }
}
