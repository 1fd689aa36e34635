//! Lives made up at random: whatever was written down, the answer is whole and the same every time; and what came later
//! changes nothing about what was said before.

#![expect(clippy::unwrap_used, clippy::panic, reason = "in a test a surprise is a failure")]

mod sound;
mod studies;

use care::Answer;
use proptest::prelude::*;
use proptest::sample::select;

/// The day asked about. Days are counted back from it; a negative one lies ahead.
const DAY: jiff::civil::Date = jiff::civil::date(2027, 10, 30);

fn day(back: i64) -> String {
    DAY.checked_sub(jiff::Span::new().days(back)).unwrap().to_string()
}

/// A day, with an hour or without.
fn when(most: i64) -> impl Strategy<Value = String> {
    (0..most, proptest::option::of((0..24_i64, 0..60_i64))).prop_map(|(back, hour)| match hour {
        Some((hour, minute)) => format!("{}T{hour:02}:{minute:02}", day(back)),
        None => day(back),
    })
}

fn one_of(words: &'static [&'static str]) -> impl Strategy<Value = &'static str> {
    select(words)
}

fn maybe(key: &'static str, words: &'static [&'static str]) -> impl Strategy<Value = String> {
    proptest::option::of(one_of(words))
        .prop_map(move |word| word.map_or(String::new(), |word| format!("{key} = \"{word}\"\n")))
}

fn body() -> BoxedStrategy<String> {
    prop_oneof![
        (when(400), 2.0..6000.0_f64, any::<bool>()).prop_map(|(at, mass, guess)| {
            let guess = if guess { "estimated = true\n" } else { "" };
            format!("[[weighing]]\nat = \"{at}\"\nmass_g = {mass:.1}\n{guess}")
        }),
        (when(300), 12.0..450.0_f64)
            .prop_map(|(at, length)| format!("[[measurement]]\nat = \"{at}\"\ntotal_length_cm = {length:.1}\n")),
        (0..200_i64, 0..12_i64, 1..9_i64, maybe_list()).prop_map(|(off, before, pieces, kept)| {
            let open =
                if off < 12 { String::new() } else { format!("shed_at = \"{}\"\npieces = {pieces}\n{kept}", day(off)) };
            format!("[[shed]]\ndull_at = \"{}\"\nblue_at = \"{}\"\n{open}", day(off + before + 5), day(off + before))
        }),
        (when(20), 1..90_i64).prop_map(|(at, minutes)| format!("[[handling]]\nat = \"{at}\"\nminutes = {minutes}\n")),
        (when(120), one_of(&["water", "spot", "full"]))
            .prop_map(|(at, task)| format!("[[cleaning]]\nat = \"{at}\"\ntask = \"{task}\"\n")),
        (when(90), one_of(&["paired", "gravid", "laid", "born"]))
            .prop_map(|(at, what)| format!("[[breeding]]\nat = \"{at}\"\nwhat = \"{what}\"\n")),
        when(30).prop_map(|at| format!("[[seen]]\nat = \"{at}\"\n")),
    ]
    .boxed()
}

fn maybe_list() -> impl Strategy<Value = String> {
    proptest::option::of(one_of(&["left-eye-cap", "right-eye-cap", "tail-tip", "body"]))
        .prop_map(|place| place.map_or(String::new(), |place| format!("retained = [\"{place}\"]\n")))
}

fn meal() -> BoxedStrategy<String> {
    let outcomes = &["taken", "taken", "taken", "refused", "left", "unseen", "regurgitated"];
    let prey = &["mouse-pinky", "mouse-adult", "rat-small", "fish", "chick"];
    let rest =
        (maybe("prey", prey), maybe("state", &["live", "frozen-thawed"]), maybe("thawed", &["microwave", "room"]));
    (0..200_i64, one_of(outcomes), proptest::option::of(0.3..400.0_f64), rest, 0..7_i64)
        .prop_map(|(back, outcome, mass, (prey, state, thawed), days)| {
            let mass = mass.map_or(String::new(), |mass| format!("mass_g = {mass:.1}\n"));
            let up = if outcome == "regurgitated" {
                format!("regurgitated_at = \"{}\"\n", day(back - days))
            } else {
                String::new()
            };
            format!("[[meal]]\nat = \"{}\"\noutcome = \"{outcome}\"\n{mass}{prey}{state}{thawed}{up}", day(back))
        })
        .boxed()
}

fn place() -> BoxedStrategy<String> {
    let spots = &[
        "warm-surface",
        "warm-air",
        "cool-surface",
        "cool-air",
        "hide",
        "humid-hide",
        "room",
        "outdoors",
        "control-probe",
    ];
    let means = maybe("means", &["mean", "minimum", "maximum"]);
    prop_oneof![
        4 => (when(12), one_of(spots), -5.0..100.0_f64, 0..101_i64, maybe("period", &["day", "night"]), means).prop_map(
            |(at, spot, degrees, percent, period, means)| {
                format!("[[reading]]\nat = \"{at}\"\nspot = \"{spot}\"\ntemperature_c = {degrees:.1}\nhumidity_pct = {percent}\n{period}{means}")
            }
        ),
        1 => (0..12_i64, any::<bool>()).prop_map(|(back, over)| {
            let until = if over { format!("until = \"{}T18:00\"\n", day(back)) } else { String::new() };
            format!("[[power]]\nfrom = \"{}T08:00\"\n{until}", day(back + 1))
        }),
        1 => (one_of(&["mat", "lamp", "panel", "rock", "room"]), maybe("thermostat", &["none", "pulse"]), maybe("probe", &["loose", "warm-surface"]))
            .prop_map(|(kind, thermostat, probe)| format!("[[heater]]\nkind = \"{kind}\"\nset_c = 31\nguarded = false\n{thermostat}{probe}")),
    ]
    .boxed()
}

fn event() -> BoxedStrategy<String> {
    let signs = &[
        "wheezing",
        "red-mouth",
        "blister",
        "charred-scales",
        "mites-seen",
        "star-gazing",
        "limp",
        "no-movement",
        "cold-to-touch",
        "prolapse",
        "mid-body-swelling",
        "bleeding",
        "wound",
        "rubbed-nose",
        "sunken-eyes",
        "cloudy-one-eye",
        "watery-stool",
        "straining",
        "weak",
        "lethargic",
        "spine-showing",
        "fat-rolls",
        "changed-scales",
        "swallowed-object",
        "laid-eggs",
        "missing",
        "found",
        "dead",
    ];
    let plans = &[
        "keeper-away",
        "animal-away",
        "transport",
        "moving-house",
        "show",
        "visit",
        "enclosure-change",
        "brumation",
        "vet-visit",
    ];
    prop_oneof![
        (when(60), one_of(signs), maybe("grade", &["slight", "marked", "severe"]))
            .prop_map(|(at, sign, grade)| format!("[[sign]]\nat = \"{at}\"\nsign = \"{sign}\"\n{grade}")),
        (-20..40_i64, 0..60_i64, one_of(plans)).prop_map(|(back, long, what)| {
            format!("[[planned]]\nwhat = \"{what}\"\nfrom = \"{}\"\nuntil = \"{}\"\n", day(back), day(back - long))
        }),
        (0..30_i64, 1..9_i64, 1..9_i64, any::<bool>()).prop_map(|(back, days, doses, given)| {
            let given = if given { format!("given = [\"{}\"]\n", day(back)) } else { String::new() };
            format!("[[treatment]]\nname = \"wash\"\nprescribed_by = \"a practice\"\nfrom = \"{}\"\nevery_hours = {}\ndoses = {doses}\n{given}", day(back), 12 * days)
        }),
    ]
    .boxed()
}

fn animal() -> impl Strategy<Value = String> {
    let kinds: Vec<&'static str> =
        species::library().profiles.iter().filter(|one| !one.general).map(|one| one.key.as_str()).collect();
    let stage = maybe("stage", &["hatchling", "juvenile", "subadult", "adult", "aged"]);
    let sex = maybe("sex", &["male", "female"]);
    let house = proptest::option::of((any::<bool>(), any::<bool>(), any::<bool>()));
    let zone = one_of(&["", "zone = \"Europe/Lisbon\"\n", "zone = \"Australia/Sydney\"\n"]);
    let years = proptest::option::of(0..7000_i64);
    (select(kinds), stage, sex, years, house, zone, 0..24_i64).prop_map(|(kind, stage, sex, age, house, zone, hour)| {
        let hatched = age.map_or(String::new(), |days| format!("hatched = \"{}\"\narrived = \"{}\"\n", day(days + 1), day(days / 2)));
        let house = house.map_or(String::new(), |(others, sick, children)| {
            format!("[household]\nother_reptiles = {others}\ncontacts_sick = {sick}\nyoung_children = {children}\n[enclosure]\nlength_cm = 90\nhides = 1\nsubstrate = \"soil\"\n")
        });
        format!("at = \"{DAY}T{hour:02}:30\"\n{zone}[animal]\nspecies = \"{kind}\"\n{stage}{sex}{hatched}{house}")
    })
}

fn records() -> impl Strategy<Value = Vec<String>> {
    proptest::collection::vec(prop_oneof![3 => body(), 3 => meal(), 3 => place(), 2 => event()], 0..22)
}

fn case(animal: &str, records: &[String]) -> records::Case {
    let text = format!("{animal}{}", records.concat());
    records::case_file::read("case.toml", text.as_bytes()).unwrap_or_else(|faults| panic!("{}\n{text}", faults[0]))
}

fn ask(animal: &str, records: &[String]) -> Answer {
    let case = case(animal, records);
    care::assess(&case, case.at.unwrap()).unwrap()
}

/// The answer without the places of the records in the file.
fn told(answer: &Answer) -> String {
    let mut told = answer.clone();
    for found in &mut told.findings {
        found.records.clear();
    }
    told.holds.iter_mut().flat_map(|hold| &mut hold.because).for_each(|one| one.records.clear());
    told.due.iter_mut().chain(&mut told.ahead).for_each(|due| due.records.clear());
    format!("{told:#?}")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_answer_is_whole(animal in animal(), records in records()) {
        let answer = ask(&animal, &records);
        let faults = sound::faults(&answer);
        prop_assert!(faults.is_empty(), "{faults:#?}\n{animal}{}", records.concat());
        prop_assert_eq!(&answer, &ask(&animal, &records), "the same case, the same answer");
    }

    #[test]
    fn every_study_is_whole(animal in animal(), records in records()) {
        let case = case(&animal, &records);
        let at = case.at.unwrap();
        for study in care::study::Study::ALL {
            let found = study.of(&case, at, &care::condition::Kin::default()).unwrap();
            let faults = studies::faults(&found, at);
            prop_assert!(faults.is_empty(), "{study:?}: {faults:#?}\n{animal}{}", records.concat());
            prop_assert_eq!(&found, &study.of(&case, at, &care::condition::Kin::default()).unwrap(), "the same case, the same answer");
        }
    }

    #[test]
    fn what_came_later_changes_nothing_before(animal in animal(), records in records(), later in proptest::collection::vec(
        prop_oneof![
            (2.0..6000.0_f64).prop_map(|mass| format!("[[weighing]]\nat = \"{}\"\nmass_g = {mass:.1}\n", day(-3))),
            Just(format!("[[meal]]\nat = \"{}\"\noutcome = \"taken\"\n", day(-2))),
            Just(format!("[[shed]]\nblue_at = \"{}\"\n", day(-4))),
            Just(format!("[[sign]]\nat = \"{}\"\nsign = \"dead\"\n", day(-5))),
            Just(format!("[[reading]]\nat = \"{}\"\nspot = \"warm-surface\"\ntemperature_c = 60\n", day(-1))),
        ], 1..4)) {
        let before = ask(&animal, &records);
        let all: Vec<String> = records.iter().chain(&later).cloned().collect();
        prop_assert_eq!(told(&before), told(&ask(&animal, &all)));
    }
}
