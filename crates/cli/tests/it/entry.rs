//! Writing down, putting right, taking back.

use crate::home::Home;

#[test]
fn a_meal_is_kept_and_says_what_must_wait_now() {
    let home = Home::with_fern();
    home.does("log weight Fern 523g");
    let said = home.does("log meal Fern taken --prey mouse-adult --mass-g 0.9oz");
    assert!(said.starts_with("Fern, meal: adult mouse, 26 g, taken, today "), "{said}");
    assert!(said.contains("No handling until ") && said.contains("No lifting out until "), "{said}");
    assert!(said.contains("`warmside undo` takes it back."), "{said}");
    let meals = home.records_of("Fern", "meal");
    assert_eq!(meals.len(), 1);
    assert_eq!(meals[0]["fields"]["mass_g"], 25.515);
    assert_eq!(meals[0]["fields"]["outcome"], "taken");
    assert_eq!(meals[0]["by"], "Ada");
}

#[test]
fn everything_that_a_case_file_can_say_can_be_written_down() {
    let home = Home::with_fern();
    for (line, said) in [
        (
            "log meal Fern refused --prey mouse-adult --mass-g 24 --state frozen-thawed --thawed fridge",
            "meal: adult mouse",
        ),
        ("log weight Fern --mass-g 520 --estimated", "weight: 520 g, estimated"),
        ("log length Fern 4ft --girth-cm 9", "length: 1.22 m long, 9 cm around"),
        ("log shed Fern --pieces 1", "shed: off today, in one piece"),
        ("log handling Fern 12 --at yesterday --yes", "handling: 12 min, yesterday"),
        ("log clean Fern water", "chore: fresh water"),
        ("log clean S1 spot", "S1, chore: spot clean"),
        ("log reading S1 warm-surface --temperature-c 88F", "reading: warm surface, 31.1 °C"),
        ("log reading Fern cool-air --temperature-c 24,5 --humidity-pct 52%", "reading: cool air, 24.5 °C, 52 %"),
        ("log sign Fern rubbed-nose --grade slight", "sign: rubbed nose, slight"),
        (
            "log treatment Fern 'nose ointment' --prescribed-by 'the clinic' --every-hours 1d --doses 5",
            "treatment: nose ointment",
        ),
        ("log given Fern 'nose ointment'", "dose given: nose ointment"),
        ("log seen Fern", "seen: seen, or seen to be in"),
        ("log note Fern 'climbs in the evening'", "note: climbs in the evening"),
        ("log note - 'new lamp in the hall'", "Note: new lamp in the hall"),
        ("log plan - keeper-away --from 2031-08-01 --until 2031-08-10 --sitter", "a sitter looks in"),
        ("log plan Fern vet-visit --from 2031-09-01", "plan: veterinary visit"),
        ("log breeding Fern laid --count 11", "breeding: eggs laid, 11"),
        ("log power --from yesterday --until today", "Power cut: out yesterday, back today"),
        ("log freezer mouse-adult --count 20 --mass-g 25", "Frozen prey: 20 adult mice, 25 g each"),
        ("log equipment S1 mat --watts 18 --thermostat pulse --set-c 91F --probe warm-surface", "heat mat, 18 W"),
        ("log move Fern S1 --at 2020-06-01 --yes", "moved in: S1"),
        ("log end Fern lent --note 'to the school'", "end of stay: lent, to the school"),
    ] {
        let told = home.does(line);
        assert!(told.contains(said), "{line}\n{told}");
        assert!(told.contains("Kept as "), "{line}\n{told}");
    }
    assert!(home.does("verify").starts_with("Sound: "));
}

#[test]
fn a_household_is_added_piece_by_piece() {
    let home = Home::new();
    assert!(home.does("rounds --help").contains("Only this room"));
    assert_eq!(
        home.ends(3, "rounds").lines().next(),
        Some(format!("error: there are no records in {}", home.records().display()).as_str())
    );
    home.does("add household --young-children --room-c 72F --room-night-c 18 --room-winter-c 61F --room-summer-c 29 --room-pct 45%");
    assert!(home.does("rounds").contains("Nothing to look after yet"));
    home.does("add enclosure 'Shelf 2' --room study --length-cm 48in --width-cm 2ft --height-cm 50 --lid mesh --locks --humid-hide=false --thickness-mm 4mm --lid-covered-pct 60% --stands-on foam --substrate-cm 2in --bowl-cm 18");
    home.does("add heater 'Shelf 2' panel --watts 40 --thermostat dimming --set-c 32 --night-set-c 80F --guarded");
    let said =
        home.does("add animal Moss --species 'ball python' --hatched 2022-07 --sex female --enclosure 'shelf 2'");
    assert!(said.starts_with("Animal added: Moss, ball python, female, hatched July 2022."), "{said}");
    let all = home.json("show --json");
    assert_eq!(all["animals"][0]["enclosure"], "Shelf 2");
    let enclosure = home.json("show 'Shelf 2' --json");
    assert_eq!(enclosure["enclosure"]["length_cm"], 121.92);
    assert_eq!(enclosure["enclosure"]["locks"], true);
    assert_eq!(enclosure["enclosure"]["humid_hide"], false);
    let walls = ["thickness_mm", "lid_covered_pct", "stands_on", "substrate_cm", "bowl_cm"];
    let told: Vec<String> = walls.iter().map(|key| enclosure["enclosure"][key].to_string()).collect();
    assert_eq!(told, ["4", "60", "\"foam\"", "5.08", "18"]);
    assert_eq!(enclosure["heaters"][0]["kind"], "panel");
    assert_eq!(enclosure["heaters"][0]["night_set_c"], 26.667);
    assert_eq!(enclosure["fitted"], serde_json::Value::Null);
    assert_eq!(
        home.ends(4, "add animal moss --species 'ball python'").lines().next(),
        Some("question: there is already an animal called moss")
    );
}

#[test]
fn a_correction_keeps_what_stood_before() {
    let home = Home::with_fern();
    home.does("log weight Fern 523");
    let id = home.records_of("Fern", "weighing")[0]["id"].as_str().expect("an id").to_owned();
    let said = home.does(&format!("correct {id} mass_g=532g --why misread"));
    assert_eq!(said, "Weight, before: 523 g.\nWeight, now: 532 g.\n");
    // By the name of the first record the newest is found.
    home.does(&format!("correct {id} mass_g=533"));
    let all = home.records_of("Fern", "weighing");
    let stands: Vec<(&serde_json::Value, bool)> =
        all.iter().map(|one| (&one["fields"]["mass_g"], one["stands"] == true)).collect();
    assert_eq!(stands, [(&533.into(), true), (&532.into(), false), (&523.into(), false)]);
    assert_eq!(all[1]["why"], "misread");
    assert_eq!(
        home.ends(2, &format!("correct {id} mass_g=533")).lines().next(),
        Some("error: the weight says so already")
    );
    assert_eq!(home.ends(2, &format!("correct {id} mass=530")).lines().next(), Some("error: unknown key `mass`"));
    assert_eq!(home.ends(3, "correct 123 mass_g=530").lines().next(), Some("error: `123` is no record"));
}

#[test]
fn what_was_entered_last_is_taken_back_and_put_back() {
    let home = Home::with_fern();
    home.does("log weight Fern 523");
    home.does("log weight Fern 524");
    assert!(home.does("undo").starts_with("Taken back: weighing, entered by Ada today "));
    let masses = |home: &Home| -> Vec<f64> {
        let all = home.records_of("Fern", "weighing");
        all.iter().filter(|one| one["stands"] == true).filter_map(|one| one["fields"]["mass_g"].as_f64()).collect()
    };
    assert_eq!(masses(&home), [523.0]);
    assert!(home.does("redo").starts_with("Put back: weighing"));
    assert_eq!(masses(&home), [524.0, 523.0]);
    let id = home.records_of("Fern", "weighing")[1]["id"].as_str().expect("an id").to_owned();
    assert_eq!(
        home.does(&format!("undo {id} --why 'wrong animal'")),
        "Taken back: weight, 523 g. `warmside undo` puts it back.\n"
    );
    assert_eq!(masses(&home), [524.0]);
    assert_eq!(home.records_of("Fern", "weighing")[1]["removed"]["why"], "wrong animal");
    home.does("undo");
    assert_eq!(masses(&home), [524.0, 523.0]);
    assert!(home.does("verify").starts_with("Sound: "), "nothing was lost on the way");
}

#[test]
fn an_own_value_acts_for_its_animal() {
    let home = Home::with_fern();
    home.does(
        "log reading S1 cool-air --temperature-c 19 --period night --means minimum --at '2024-05-19 05:00' --yes",
    );
    let cold = |home: &Home| {
        let shown = home.json("show Fern --at '2024-05-19 20:00' --json");
        shown["answer"]["findings"].as_array().expect("findings").iter().any(|one| one["code"] == "night-cold")
    };
    assert!(!cold(&home), "18 °C is the line of the profile");
    let said =
        home.does("override Fern temperature.night_min_c 72F --reason 'the veterinarian asks for warmer nights'");
    assert_eq!(said, "Fern, own value: temperature.night_min_c: 22.22 °C, the veterinarian asks for warmer nights.\n");
    assert!(cold(&home), "the own value acts");
    assert_eq!(
        home.ends(2, "override Fern temperature.night 22 --reason x").lines().next(),
        Some("error: `temperature.night` is no value of a profile")
    );
}
