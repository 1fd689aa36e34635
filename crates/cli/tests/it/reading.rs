//! What is shown: the walk, an animal, an enclosure, a case, a species.

use crate::home::Home;

/// Fern in May 2024: weighed, fed ten days before, with fresh water.
fn fern_in_may() -> Home {
    let home = Home::with_fern();
    for line in [
        "log weight Fern 500 --at '2024-05-09 18:00' --yes",
        "log meal Fern taken --prey mouse-adult --mass-g 25 --at '2024-05-10 20:00' --yes",
        "log clean S1 water --at '2024-05-20 08:00' --yes",
        "log clean S1 spot --at '2024-05-20 08:00' --yes",
    ] {
        home.does(line);
    }
    home
}

#[test]
fn the_walk_says_what_is_due_and_what_must_wait() {
    let home = fern_in_may();
    let quiet = home.does("rounds --at '2024-05-20 09:00'");
    assert!(quiet.starts_with("Monday 20 May, 09:00. One animal in one enclosure.\nNo meal is due.\n\nstudy\n  S1  Fern, corn snake, 500 g"), "{quiet}");
    // 10 to 18 days for an adult, 14 in the middle: due on the 24th.
    let due = home.does("rounds --at '2024-05-24 19:00'");
    assert!(due.contains("one meal is due."), "{due}");
    assert!(due.contains("Offer a meal  adult mouse, 20–35 g (today"), "{due}");
    assert!(due.contains("To thaw\n  1 adult mouse  for Fern"), "{due}");
    let held = home.does("rounds --at '2024-05-11 09:00' --why");
    assert!(held.contains("No handling ") && held.contains("until tomorrow 20:00"), "{held}");
}

#[test]
fn the_walk_as_json_has_the_same() {
    let home = fern_in_may();
    let walk = home.json("rounds --at '2024-05-24 19:00' --json");
    assert_eq!(walk["at"], "2024-05-24T19:00+01:00");
    assert_eq!(walk["places"][0]["name"], "S1");
    let fern = &walk["places"][0]["animals"][0];
    assert_eq!((fern["name"].as_str(), fern["mass_g"].as_f64()), (Some("Fern"), Some(500.0)));
    let due: Vec<&str> =
        fern["answer"]["due"].as_array().expect("due").iter().filter_map(|one| one["task"].as_str()).collect();
    assert!(due.contains(&"offer-meal"), "{due:?}");
    assert_eq!(walk["thaw"][0]["class"], "mouse-adult");
}

#[test]
fn the_past_is_answered_as_it_was_known() {
    let home = fern_in_may();
    let before = home.json("show Fern --at '2024-05-10 12:00' --json");
    let after = home.json("show Fern --at '2024-05-11 12:00' --json");
    let holds = |shown: &serde_json::Value| {
        shown["answer"]["holds"]
            .as_array()
            .map_or(0, |holds| holds.iter().filter(|one| one["action"] == "move").count())
    };
    assert_eq!((holds(&before), holds(&after)), (0, 1), "the meal of that evening was not known at noon");
}

#[test]
fn an_animal_is_shown_with_its_reasons_and_records() {
    let home = fern_in_may();
    let shown = home.does("show Fern --at '2024-05-11 09:00' --why");
    assert!(shown.starts_with("Fern, corn snake, adult. Saturday 11 May, 09:00.\n"), "{shown}");
    assert!(shown.contains("Must wait\n") && shown.contains("[rule after-meal"), "{shown}");
    assert!(shown.contains("Lives in S1, study. Its id is "), "{shown}");
    assert!(shown.contains("10 May 2024 20:00  Meal      adult mouse, 25 g, taken"), "{shown}");
    assert!(!shown.contains("Chore"), "what came later was not known then: {shown}");
    let enclosure = home.does("show S1 --at '2024-05-20 09:00'");
    assert!(enclosure.starts_with("S1, study, 120 × 60 × 50 cm.\n"), "{enclosure}");
    assert!(enclosure.contains("fresh water  last today 08:00"), "{enclosure}");
    assert!(home.does("show").starts_with("Fern  corn snake, S1 in study\n"));
}

#[test]
fn a_case_file_is_answered_in_words_and_as_json() {
    let home = Home::new();
    let case = "at = \"2027-05-02T20:00\"\nzone = \"Europe/Lisbon\"\n[animal]\nspecies = \"corn_snake\"\nname = \"Fern\"\nstage = \"adult\"\n\
                [[weighing]]\nat = \"2027-04-20\"\nmass_g = 500\n[[meal]]\nat = \"2027-05-02T12:00\"\nmass_g = 25\noutcome = \"taken\"\n";
    let path = home.file("case.toml", case).display().to_string();
    let words = home.does(&format!("assess {path}"));
    assert!(words.starts_with("Fern, corn snake, adult. Sunday 2 May, 20:00.\n"), "{words}");
    assert!(words.contains("No handling"), "{words}");
    assert!(words.lines().all(|line| line.chars().count() <= 100), "no line is wider than the window");
    let json = home.json(&format!("assess {path} --json"));
    assert_eq!(json["at"], "2027-05-02T20:00+01:00");
    assert_eq!(json["species"], "corn_snake");
    let later = home.json(&format!("assess {path} --at 2027-06-02 --json"));
    assert_eq!(later["at"], "2027-06-02T23:59+01:00", "a day is asked about as a whole");
    assert!(home.ends(2, &format!("assess {path} --at soon")).starts_with("error: `soon` is not a moment"));
}

#[test]
fn what_the_records_say_of_sheds_and_refusals() {
    let home = fern_in_may();
    for line in [
        "log shed Fern --shed-at 2024-02-10 --pieces 1 --yes",
        "log shed Fern --shed-at 2024-04-12 --pieces 1 --yes",
        "log meal Fern refused --prey mouse-adult --mass-g 25 --at '2024-05-24 20:00' --yes",
    ] {
        home.does(line);
    }
    let words = home.does("sheds Fern --at '2024-05-26 09:00'");
    assert!(words.starts_with("The next shed is likely between "), "{words}");
    assert!(words.contains("Its one interval was 62 days; 45 to 90 days are usual"), "{words}");
    let json = home.json("sheds Fern --at '2024-05-26 09:00' --json");
    assert_eq!((json["question"].as_str(), json["dates"][0]["key"].as_str()), (Some("sheds"), Some("next-shed")));
    let words = home.does("refusals Fern --at '2024-05-26 09:00'");
    assert!(words.starts_with("The last offer was refused; the last meal was taken on 10 May 2024"), "{words}");
    assert!(words.contains("1. How warm is it? Not known."), "{words}");
    let json = home.json("refusals Fern --at '2024-05-26 09:00' --json");
    assert_eq!(json["checks"].as_array().map(Vec::len), Some(6));
    let case =
        home.file("case.toml", "at = \"2027-05-02T20:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n");
    let words = home.does(&format!("sheds --case {}", case.display()));
    assert!(words.starts_with("No shed is on record"), "{words}");
    assert!(home.ends(3, "sheds Nobody").contains("Nobody"));
}

#[test]
fn a_species_is_shown_with_every_source() {
    let home = Home::new();
    let all = home.does("species");
    assert!(all.contains("ball python ") && all.contains("Python regius (Pythonidae)"), "{all}");
    let one = home.does("species corn snake");
    assert!(one.starts_with("Corn snake, red rat snake (Pantherophis guttatus), Colubridae, temperate.\n"), "{one}");
    for part in ["temperature, night min ", "[mem-trade, common practice]", "Others say\n", "Caution: ", "Sources\n"] {
        assert!(one.contains(part), "{part}\n{one}");
    }
    let json = home.json("species 'Pantherophis guttatus' --json");
    assert_eq!(json["key"], "corn_snake");
    assert!(home.ends(4, "species kingsnake").contains("write one of: California kingsnake"));
    assert!(home.ends(3, "species 'garden hose'").starts_with("error: no profile is called `garden hose`"));
}

#[test]
fn a_sick_animal_concerns_those_in_its_room() {
    let home = Home::new();
    for (name, place, room) in [("Pip", "B1", "back"), ("Ash", "B2", "back"), ("Fern", "S1", "study")] {
        home.does(&format!("add enclosure {place} --room {room}"));
        home.does(&format!(
            "add animal {name} --species corn_snake --stage adult --enclosure {place} --arrived 2020-01-01"
        ));
    }
    let exposed = |home: &Home, name: &str, at: &str| {
        let walk = home.json(&format!("rounds --at {at} --json"));
        let places = walk["places"].as_array().expect("places").clone();
        let animal = places
            .iter()
            .flat_map(|place| place["animals"].as_array().expect("animals"))
            .find(|one| one["name"] == name)
            .expect("the animal")
            .clone();
        let in_rounds = animal["answer"]["findings"]
            .as_array()
            .expect("findings")
            .iter()
            .any(|one| one["code"] == "contact-exposed");
        let shown = home.json(&format!("show {name} --at {at} --json"));
        let alone = shown["answer"]["findings"]
            .as_array()
            .expect("findings")
            .iter()
            .any(|one| one["code"] == "contact-exposed");
        assert_eq!(in_rounds, alone, "the walk and the animal's own page say the same of {name}");
        alone
    };
    assert!(!exposed(&home, "Ash", "now"));
    home.does("log sign Pip wheezing");
    assert!(exposed(&home, "Ash", "now") && !exposed(&home, "Pip", "now") && !exposed(&home, "Fern", "now"));
    home.does("undo");
    assert!(!exposed(&home, "Ash", "now"), "what is kept of the neighbour is reckoned anew");
    home.does("log end Pip died");
    assert!(exposed(&home, "Ash", "now"));
    assert!(!exposed(&home, "Ash", "yesterday"), "nobody knew it yesterday");
}

#[test]
fn the_zone_in_which_a_household_began_stays_its_zone() {
    let home = fern_in_may();
    let elsewhere = |line: &str| {
        let mut command = crate::home::program();
        command
            .env_remove("WARMSIDE_ZONE")
            .env("TZ", "America/Anchorage")
            .arg("--folder")
            .arg(home.records())
            .args(line.split(' '));
        String::from_utf8(command.output().expect("the program runs").stdout).expect("text")
    };
    assert!(elsewhere("rounds --at 2024-05-20T09:00 --json").contains("\"zone\": \"Europe/Lisbon\""));
    assert!(elsewhere("rounds --at 2024-05-20T09:00 --json --zone Asia/Tokyo").contains("\"zone\": \"Asia/Tokyo\""));
}
