//! The case file as a keeper meets it: what a faulty file says, whole; and what a full one yields.

#![expect(clippy::expect_used, reason = "a helper of a test may end it")]

mod common;

use proptest::prelude::*;
use records::facts::{
    BreedingWhat, CleaningTask, Grade, HeaterKind, Lid, Means, Outcome, Period, PlannedWhat, Prey, PreyState, Probe,
    Retained, Sex, SignKind, Spot, Stage, Stand, Thawing, Thermostat,
};
use records::fields::Given;
use records::{Case, Fact, Raw, Reader, case_file};
use units::Zone;

fn read(text: &str) -> Result<Case, Vec<records::Fault>> {
    case_file::read("case.toml", text.as_bytes())
}

/// All faults of a text, each as it is shown.
fn faults(text: &str) -> Vec<String> {
    read(text).expect_err("the file is faulty").iter().map(ToString::to_string).collect()
}

/// A case whose animal is in order, with `rest` from line 3 on.
fn with(rest: &str) -> String {
    format!("[animal]\nspecies = \"python_regius\"\n{rest}")
}

#[test]
fn an_unknown_key_names_the_nearest_known_one_with_line_and_column() {
    assert_eq!(
        faults(&with("[[weighing]]\nat = \"2026-03-01\"\n  mas_g = 500\nmass_g = 500\n")),
        ["unknown key `mas_g`\n where: case.toml, line 5, column 3 (weighing)\n  mend: did you mean `mass_g`?"]
    );
}

#[test]
fn an_unknown_table_names_the_nearest_known_one() {
    assert_eq!(
        faults(&with("[[wieghing]]\nat = \"2026-03-01\"\nmass_g = 500\n")),
        ["unknown key `wieghing`\n where: case.toml, line 3, column 3\n  mend: did you mean `weighing`?"]
    );
}

#[test]
fn a_negative_length_is_told_with_key_value_and_line() {
    assert_eq!(
        faults(&with("[[measurement]]\nat = \"2026-03-01\"\ntotal_length_cm = -120\n")),
        ["`total_length_cm` cannot be -120\n where: case.toml, line 5, column 1 (measurement)\n  mend: give it in \
         centimetres, between 1 and 1200; leave it out when it is not known"]
    );
}

#[test]
fn a_number_where_a_word_belongs_is_told() {
    assert_eq!(
        faults("[animal]\nspecies = 7\n"),
        ["`species` is 7, not a text\n where: case.toml, line 2, column 1 (animal)\n  mend: put it in quotes"]
    );
}

#[test]
fn a_word_where_a_number_belongs_is_told() {
    assert_eq!(
        faults(&with("[[weighing]]\nat = \"2026-03-01\"\nmass_g = \"heavy\"\n")),
        ["`heavy` is not a number (`mass_g`)\n where: case.toml, line 5, column 1 (weighing)\n  mend: write digits, \
         with a point or a comma for decimals"]
    );
}

#[test]
fn a_word_where_true_or_false_belongs_is_told() {
    assert_eq!(
        faults(&with("wild_caught = \"perhaps\"\n")),
        ["`wild_caught` is perhaps, neither true nor false\n where: case.toml, line 3, column 1 (animal)\n  mend: \
         write true or false, or leave it out"]
    );
}

#[test]
fn a_number_too_large_for_the_machine_is_a_fault_and_not_a_blank() {
    assert_eq!(
        faults(&with("[[handling]]\nat = \"2026-03-01\"\nminutes = 99999999999999999999\n")),
        [
            "`minutes` cannot be 100000000000000000000\n where: case.toml, line 5, column 1 (handling)\n  mend: give it in \
         minutes, between 0 and 1440; leave it out when it is not known"
        ]
    );
}

#[test]
fn a_table_where_a_text_belongs_is_told() {
    assert_eq!(
        faults("[animal]\nspecies = { genus = \"Python\" }\n"),
        ["`species` is a table, not a text\n where: case.toml, line 2, column 1 (animal)\n  mend: put it in quotes"]
    );
}

#[test]
fn an_unknown_class_of_prey_names_the_nearest() {
    assert_eq!(
        faults(&with("[[meal]]\nat = \"2026-03-01\"\nprey = \"mouse-hoper\"\noutcome = \"taken\"\n")),
        [
            "`mouse-hoper` is no class of prey (`prey`)\n where: case.toml, line 5, column 1 (meal)\n  mend: did you mean \
         mouse-hopper or mouse-jumbo or mouse-pinky?"
        ]
    );
}

#[test]
fn a_meal_in_one_bracket_is_told_to_take_two() {
    assert_eq!(
        faults(&with("[meal]\nat = \"2026-03-01\"\noutcome = \"taken\"\n")),
        ["`meal` is not a list\n where: case.toml, line 3, column 2\n  mend: write [[meal]] with two brackets: there \
         may be several"]
    );
}

#[test]
fn an_animal_in_two_brackets_is_told_to_take_one() {
    assert_eq!(
        faults("[[animal]]\nspecies = \"python_regius\"\n"),
        ["`animal` is a list\n where: case.toml, line 1, column 3\n  mend: write [animal] with one bracket: there is \
         only one"]
    );
}

#[test]
fn a_missing_species_is_told() {
    assert_eq!(
        faults("[animal]\nsex = \"female\"\n"),
        ["`species` is missing\n where: case.toml, line 1, column 1 (animal)\n  mend: add `species`"]
    );
}

#[test]
fn a_missing_animal_is_told() {
    assert_eq!(
        faults("zone = \"Europe/Lisbon\"\n"),
        ["`[animal]` is missing\n where: case.toml\n  mend: write [animal] with species = \"...\""]
    );
}

#[test]
fn a_day_that_the_calendar_does_not_have_is_told() {
    assert_eq!(
        faults(&with("[[weighing]]\nat = \"2026-02-30\"\nmass_g = 500\n")),
        ["`2026-02-30` is not a date (`at`)\n where: case.toml, line 4, column 1 (weighing)\n  mend: write it as \
         2026-03-14 or 2026-03-14T19:30; a month (2026-03) or a year is enough where no more is known"]
    );
}

#[test]
fn an_unknown_zone_is_told() {
    assert_eq!(
        faults(&format!("zone = \"Europe/Nowhere\"\n{}", with(""))),
        [
            "`Europe/Nowhere` is no time zone (`zone`)\n where: case.toml, line 1, column 8\n  mend: write a name such as \
         \"Europe/Lisbon\", or leave it out"
        ]
    );
}

#[test]
fn what_is_not_toml_is_told_with_its_place() {
    let told = faults("[animal]\nspecies = python\n");
    assert_eq!(told.len(), 1);
    assert!(told[0].starts_with("not TOML: "), "{}", told[0]);
    assert!(told[0].contains("\n where: case.toml, line 2, column 11\n"), "{}", told[0]);
}

#[test]
fn an_empty_file_is_told() {
    for text in ["", " \n\t\n", "\u{feff}"] {
        assert_eq!(
            faults(text),
            ["the file is empty\n where: case.toml\n  mend: write at least [animal] with species = \"...\""]
        );
    }
}

#[test]
fn what_is_not_utf_8_is_told_with_its_place() {
    let told = case_file::read("case.toml", b"[animal]\nspecies = \"K\xf6nig\"\n").expect_err("not UTF-8");
    assert_eq!(
        told.iter().map(ToString::to_string).collect::<Vec<_>>(),
        ["the file is not UTF-8 text\n where: case.toml, line 2, column 13\n  mend: save it as UTF-8 in a text editor"]
    );
}

#[test]
fn a_file_over_the_limit_is_not_read() {
    let told = case_file::read("case.toml", &vec![b'#'; case_file::MOST_BYTES + 1]).expect_err("too large");
    assert_eq!(
        told.iter().map(ToString::to_string).collect::<Vec<_>>(),
        [
            "the file holds 50 MB, more than the 50 MB that are read\n where: case.toml\n  mend: leave out what is older \
         than the question needs"
        ]
    );
}

#[test]
fn two_faults_are_told_at_once() {
    let text = with("sex = \"girl\"\n[[weighing]]\nat = \"yesterday\"\nmass_g = 500\n");
    assert_eq!(
        faults(&text),
        [
            "`yesterday` is not a date (`at`)\n where: case.toml, line 5, column 1 (weighing)\n  mend: write it as \
             2026-03-14 or 2026-03-14T19:30; a month (2026-03) or a year is enough where no more is known",
            "`girl` is no sex (`sex`)\n where: case.toml, line 3, column 1 (animal)\n  mend: choose one of: female, \
             male, unknown",
        ]
    );
}

#[test]
fn a_full_case_yields_every_value() {
    let case = read(include_str!("full_case.toml")).expect("the full example reads");
    let zone = Zone::named("Europe/Lisbon").expect("Lisbon has a zone");
    let at = |text: &str| zone.read(text).expect("a date");
    assert_eq!(case.zone, zone);
    assert_eq!(case.at, Some(at("2026-03-14T19:30").from));

    let animal = &case.animal;
    assert_eq!((animal.species.as_str(), animal.family.as_deref()), ("python_regius", Some("Pythonidae")));
    assert_eq!(
        (animal.name.as_deref(), animal.sex, animal.stage),
        (Some("Noor"), Some(Sex::Female), Some(Stage::Juvenile))
    );
    assert_eq!((animal.hatched, animal.age_months), (Some(at("2025-07")), Some(8.0)));
    assert_eq!((animal.arrived, animal.complete_since), (Some(at("2025-11-02")), Some(at("2025-11-02"))));
    assert_eq!((animal.wild_caught, animal.used_to_handling, animal.never_fed), (Some(false), Some(true), Some(false)));

    let line = &case.timeline;
    assert_eq!(
        (line.weighings[0].at, line.weighings[0].mass_g, line.weighings[0].estimated),
        (at("2026-03-01"), 412.5, true)
    );
    let measured = &line.measurements[0];
    assert_eq!(
        (measured.total_length_cm, measured.snout_vent_cm, measured.girth_cm),
        (Some(71.0), Some(65.0), Some(9.5))
    );

    let meal = &line.meals[0];
    assert_eq!(
        (meal.at, meal.prey, meal.mass_g, meal.count),
        (at("2026-03-02T20:15"), Some(Prey::RatFuzzy), Some(18.0), 2)
    );
    assert_eq!((meal.outcome, meal.regurgitated_at), (Outcome::Regurgitated, Some(at("2026-03-04"))));
    assert_eq!((meal.state, meal.thawed), (Some(PreyState::FrozenThawed), Some(Thawing::WarmWater)));
    assert_eq!((meal.surface_c, meal.minutes_left), (Some(38.0), Some(20.0)));
    assert_eq!((meal.frozen_on, meal.refrozen), (Some(at("2025-12")), true));
    assert_eq!(meal.key.line, Some(32), "a record knows the line where its table stands");

    let shed = &line.sheds[0];
    assert_eq!(shed.steps().collect::<Vec<_>>(), ["2026-02-01", "2026-02-03", "2026-02-08", "2026-02-11"].map(at));
    assert_eq!(shed.pieces, Some(3));
    assert_eq!(shed.retained, [Retained::LeftEyeCap, Retained::RightEyeCap, Retained::TailTip, Retained::Body]);
    assert_eq!(line.handlings[0].minutes, Some(12.0));
    assert_eq!(line.cleanings[0].task, CleaningTask::Full);

    let reading = &line.readings[0];
    assert_eq!((reading.spot, reading.temperature_c, reading.humidity_pct), (Spot::WarmAir, Some(31.5), Some(58.0)));
    assert_eq!((reading.period, reading.means, reading.hours), (Some(Period::Day), Means::Mean, Some(12.0)));
    let sign = &line.signs[0];
    assert_eq!(
        (sign.sign, sign.grade, sign.cleared_at),
        (SignKind::Wheezing, Some(Grade::Slight), Some(at("2026-02-20")))
    );
    assert_eq!(sign.note.as_deref(), Some("after the move"));
    assert_eq!((line.breedings[0].what, line.breedings[0].count), (BreedingWhat::Laid, Some(6)));
    assert_eq!((line.power[0].from, line.power[0].until), (at("2026-01-10T08:00"), Some(at("2026-01-10T11:30"))));
    let course = &line.treatments[0];
    assert_eq!((course.name.as_str(), course.prescribed_by.as_deref()), ("eye ointment", Some("the practice")));
    assert_eq!((course.every_hours, course.doses), (Some(24.0), Some(5)));
    assert_eq!(course.given, ["2026-02-12", "2026-02-13"].map(at));
    assert_eq!((line.planned[0].what, line.planned[0].sitter), (PlannedWhat::KeeperAway, Some(true)));
    assert_eq!(line.planned[0].until, Some(at("2026-04-10")));
    assert_eq!(line.seen[0].at, at("2026-03-14T07:00"));

    let home = case.enclosure.as_ref().expect("an enclosure");
    assert_eq!((home.length_cm, home.width_cm, home.height_cm), (Some(90.0), Some(45.0), Some(45.0)));
    assert_eq!(
        (home.material.as_deref(), home.lid, home.substrate.as_deref()),
        (Some("wood"), Some(Lid::PartMesh), Some("bark"))
    );
    assert_eq!((home.thickness_mm, home.lid_covered_pct, home.stands_on), (Some(15.0), Some(60.0), Some(Stand::Foam)));
    assert_eq!((home.substrate_cm, home.bowl_cm), (Some(6.0), Some(18.0)));
    assert_eq!((home.hides, home.humid_hide, home.cohabitants), (Some(2), Some(true), Some(0)));
    assert_eq!((home.locks, home.gaps, home.floor_wet), (Some(true), Some(false), Some(false)));
    let heater = &case.heaters[0];
    assert_eq!(
        (heater.kind, heater.watts, heater.thermostat, heater.set_c, heater.night_set_c),
        (HeaterKind::Panel, Some(40.0), Some(Thermostat::Pulse), Some(32.0), Some(27.5))
    );
    assert_eq!(
        (heater.guarded, heater.inside, heater.probe),
        (Some(true), Some(true), Some(Probe::At(Spot::WarmSurface)))
    );
    assert_eq!(case.heaters[1].probe, Some(Probe::BetweenMatAndFloor));
    let house = case.household.as_ref().expect("a household");
    assert_eq!(
        (house.other_reptiles, house.quarantine_from, house.contacts_sick),
        (Some(true), Some(at("2025-11-02")), Some(false))
    );
    assert_eq!(
        (house.young_children, house.region.as_deref(), house.room_c),
        (Some(true), Some("Portugal"), Some(20.5))
    );
    assert_eq!(
        (house.room_night_c, house.room_winter_c, house.room_summer_c, house.room_pct),
        (Some(18.0), Some(16.5), Some(29.0), Some(45.0))
    );
    let lot = &case.freezer[0];
    assert_eq!((lot.class, lot.count, lot.mass_g, lot.bought), (Prey::RatPup, 12, Some(25.0), Some(at("2026-01"))));
}

#[test]
fn what_a_log_said_is_told_whole_and_in_order() {
    let sound = Fact::Fitted(common::a_fit(&Zone::none()));
    let read = |change: (&str, Option<Raw>)| {
        let mut pairs: Vec<(String, Raw)> =
            sound.fields(&Zone::none()).into_iter().map(|(key, value)| (key.to_owned(), value)).collect();
        pairs.retain(|(key, _)| key != change.0);
        pairs.extend(change.1.map(|value| (change.0.to_owned(), value)));
        let given = Given { pairs, origin: "the log".to_owned() };
        let zone = Zone::none();
        let mut reader = Reader::new(&given, &zone);
        let fact = Fact::read(records::Kind::Fitted, &mut reader);
        (fact, reader.finish().into_iter().map(|fault| fault.what).collect::<Vec<_>>())
    };
    let text = |text: &str| Some(Raw::Text(text.to_owned()));
    assert_eq!(read(("nothing", None)), (Some(sound.clone()), vec![]));
    for (key, value, fault) in [
        ("from", text("2026-03-15"), "the log ended before it began"),
        ("warm_kj_k", None, "`warm_kj_k` is missing"),
        ("heater_share", Some(Raw::Number(1.2)), "`heater_share` cannot be 1.2"),
        ("warm_to_room_w_k", Some(Raw::Number(0.0)), "`warm_to_room_w_k` cannot be 0"),
        ("log_rows", Some(Raw::Number(0.5)), "`log_rows` cannot be 0.5"),
    ] {
        assert_eq!(read((key, value)), (None, vec![fault.to_owned()]), "{key}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn any_bytes_are_read_or_refused_but_never_end_the_program(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        if let Err(faults) = case_file::read("case.toml", &bytes) {
            prop_assert!(!faults.is_empty(), "what is refused says why");
        }
    }

    #[test]
    fn any_text_of_toml_is_read_or_refused_but_never_ends_the_program(
        lines in proptest::collection::vec(common::a_line_of_toml(), 0..24)
    ) {
        let text = lines.join("\n");
        if let Err(faults) = read(&text) {
            prop_assert!(!faults.is_empty());
            for fault in faults {
                prop_assert!(!fault.what.is_empty() && fault.place.starts_with("case.toml") && !fault.mend.is_empty());
            }
        }
    }

    #[test]
    fn what_is_written_is_read_the_same(fact in common::a_fact(&Zone::none())) {
        there_and_back(&fact, &Zone::none())?;
    }

    #[test]
    fn what_is_written_with_a_zone_is_read_the_same(fact in common::a_fact(&common::anchorage())) {
        there_and_back(&fact, &common::anchorage())?;
    }

    #[test]
    fn facts_in_a_case_file_are_read_the_same(facts in proptest::collection::vec(common::a_fact(&Zone::none()), 0..12)) {
        let facts: Vec<Fact> = facts.into_iter().filter(common::stands_in_a_list).collect();
        let text = common::case_file_of(&facts, &Zone::none());
        let case = read(&text).map_err(|faults| TestCaseError::fail(format!("{faults:?} in\n{text}")))?;
        let mut found: Vec<String> = common::facts_of(&case).iter().map(|fact| format!("{fact:?}")).collect();
        let mut given: Vec<String> = facts.iter().map(|fact| format!("{fact:?}")).collect();
        found.sort();
        given.sort();
        prop_assert_eq!(found, given, "{}", text);
    }
}

fn there_and_back(fact: &Fact, zone: &Zone) -> Result<(), TestCaseError> {
    let pairs = fact.fields(zone).into_iter().map(|(key, value)| (key.to_owned(), value)).collect();
    let given = Given { pairs, origin: "the test".to_owned() };
    let mut reader = Reader::new(&given, zone);
    let back = Fact::read(fact.kind(), &mut reader);
    prop_assert_eq!(reader.finish(), vec![]);
    prop_assert_eq!(back.as_ref(), Some(fact));
    Ok(())
}
