//! The made-up household.

use crate::home::Home;

#[test]
fn the_same_moment_gives_the_same_household() {
    let home = Home::new();
    let mut exports = Vec::new();
    for name in ["one", "two"] {
        let folder = home.path(name);
        let ran = home.run_in(&folder, "demo --no-serve --at '2026-01-20 19:30'");
        assert_eq!(ran.code, 0, "{}", ran.err);
        assert!(ran.out.starts_with("Made up 8 animals with "), "{}", ran.out);
        let to = home.path(&format!("{name}-out"));
        assert_eq!(home.run_in(&folder, &format!("export {}", to.display())).code, 0);
        exports.push(std::fs::read(to.join("everything.json")).expect("the export"));
    }
    assert_eq!(exports[0], exports[1]);
    let again = home.run_in(&home.path("one"), "demo --no-serve");
    assert_eq!(again.code, 2, "nothing of somebody's own is mixed with what is made up: {}", again.err);
}

/// The codes of the findings, the states and the tasks due of an animal on the walk.
fn told(walk: &serde_json::Value, name: &str) -> (Vec<String>, Vec<String>, Vec<String>) {
    let places = walk["places"].as_array().expect("places");
    let mut animals = places.iter().flat_map(|place| place["animals"].as_array().expect("animals"));
    let answer = &animals.find(|one| one["name"] == name).expect("the animal")["answer"];
    let list = |what: &str, key: &str| -> Vec<String> {
        let list = answer[what].as_array().expect("a list");
        list.iter().filter_map(|one| one[key].as_str()).map(str::to_owned).collect()
    };
    (list("findings", "code"), list("states", "state"), list("due", "task"))
}

#[test]
fn everyone_in_it_has_something_to_show_at_any_time_of_the_year() {
    let home = Home::new();
    for (at, in_season) in [("2026-01-20 19:30", true), ("2026-07-04 21:05", false)] {
        let folder = home.path(&at.replace([' ', ':'], "-"));
        assert_eq!(home.run_in(&folder, &format!("demo --no-serve --at '{at}'")).code, 0);
        let walk = home.run_in(&folder, &format!("rounds --at '{at}' --json"));
        let walk: serde_json::Value = serde_json::from_str(&walk.out).expect("JSON");
        let has = |list: &[String], word: &str| list.iter().any(|one| one == word);
        let (_, _, due) = told(&walk, "Fern");
        assert!(has(&due, "offer-meal"), "{at}: Fern {due:?}");
        let (findings, _, due) = told(&walk, "Moss");
        assert!(has(&due, "offer-meal") && !has(&findings, "mass-loss-watch"), "{at}: Moss {due:?} {findings:?}");
        let (findings, states, _) = told(&walk, "Wren");
        assert!(
            has(&states, "in-shed") && has(&findings, "humidity-low-in-shed"),
            "{at}: Wren {states:?} {findings:?}"
        );
        let (findings, _, _) = told(&walk, "Bracken");
        assert!(findings.is_empty(), "{at}: Bracken {findings:?}");
        let (findings, states, _) = told(&walk, "Sable");
        assert_eq!(has(&states, "fasting"), in_season, "{at}: Sable {states:?} {findings:?}");
        assert!(
            !has(&findings, "refusal-run-unusual") && !has(&findings, "mass-loss-watch"),
            "{at}: Sable {findings:?}"
        );
        let (findings, states, _) = told(&walk, "Juniper");
        assert!(
            has(&states, "quarantine") && has(&findings, "contact-exposed"),
            "{at}: Juniper {states:?} {findings:?}"
        );
        let (findings, _, due) = told(&walk, "Pike");
        assert!(has(&findings, "breathing") && has(&due, "vet-visit"), "{at}: Pike {findings:?} {due:?}");
    }
}

#[test]
fn how_each_of_them_grows_can_be_asked() {
    let home = Home::new();
    let folder = home.path("growing");
    assert_eq!(home.run_in(&folder, "demo --no-serve --at '2026-01-20 19:30'").code, 0);
    let ran = home.run_in(&folder, "growth Moss --at '2026-01-20 19:30' --json");
    assert_eq!(ran.code, 0, "{}", ran.err);
    let answer: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(answer["question"], "growth");
    assert!(answer["says"][0].as_str().expect("a sentence").contains("it is likely to weigh about"), "{}", ran.out);
    let mass = |text: &str| -> f64 {
        let answer: serde_json::Value = serde_json::from_str(text).expect("JSON");
        let amounts = answer["amounts"].as_array().expect("amounts");
        let one = amounts.iter().find(|one| one["key"] == "mass-180-days").expect("the mass");
        one["range"]["mid"].as_f64().expect("a number")
    };
    let less = home.run_in(&folder, "growth Moss --at '2026-01-20 19:30' --ration 10 --json");
    assert!(mass(&less.out) < mass(&ran.out));
    let nobody = home.run_in(&folder, "growth Nobody");
    assert_ne!(nobody.code, 0);
    assert!(nobody.err.contains("Nobody"), "{}", nobody.err);
}
