//! A log of temperatures: what it says, kept on request, and refused where it cannot be read. The log is simulated.

use crate::home::Home;

const LOG: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../web/tests/fixtures/simulated_log.csv");

fn logged() -> Home {
    let home = Home::new();
    home.does("add enclosure S1 --length-cm 120 --width-cm 60 --height-cm 60 --material PVC --lid solid");
    home.does("add heater S1 panel --watts 80 --thermostat on-off --set-c 27.5 --night-set-c 24.5 --probe warm-air");
    home
}

fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_log_is_told_and_kept_only_where_that_is_asked() {
    let home = logged();
    let told = plain(&home.does(&format!("calibrate S1 {LOG}")));
    assert!(told.starts_with("With its 80 W always on, the warm side comes to stand"), "{told}");
    for part in ["What the model leaves over", "What the description said, and what the log says", "Nothing was kept"] {
        assert!(told.contains(part), "{part}: {told}");
    }
    assert_eq!(home.json("show S1 --json")["fitted"], serde_json::Value::Null);
    assert_eq!(home.json("warmth S1 --room-c 20 --species ball_python --json")["basis"]["is"], "described");

    let kept = home.json(&format!("calibrate S1 {LOG} --keep --json"));
    assert!(kept["kept"].is_string() && kept["question"] == "calibrate" && kept["basis"]["is"] == "fitted", "{kept}");
    let answer = home.json("warmth S1 --room-c 20 --species ball_python --json");
    assert_eq!(answer["basis"]["is"], "fitted");
    let shown = plain(&home.does("show S1"));
    assert!(shown.contains("where its description gives"), "{shown}");
    home.does("undo");
    assert_eq!(home.json("show S1 --json")["fitted"], serde_json::Value::Null);
}

#[test]
fn an_enclosure_that_is_changed_puts_its_log_out_of_date() {
    let home = logged();
    home.does(&format!("calibrate S1 {LOG} --watts 78 --keep"));
    let shown = home.json("show S1 --json");
    assert_eq!(shown["fitted"]["watts"], 78.0);
    let records = shown["records"].as_array().expect("records");
    let enclosure = records.iter().find(|one| one["kind"] == "enclosure").expect("the enclosure");
    home.does(&format!("correct {} lid=mesh", enclosure["id"].as_str().expect("an id")));
    let shown = plain(&home.does("show S1"));
    assert!(shown.contains("Out of date: since it was logged, its lid is mesh and was solid."), "{shown}");
    assert_eq!(home.json("warmth S1 --room-c 20 --species ball_python --json")["basis"]["is"], "described");
}

#[test]
fn a_log_that_cannot_be_read_is_refused_and_nothing_is_kept() {
    let home = logged();
    let log = std::fs::read_to_string(LOG).expect("the log");
    let lines: Vec<&str> = log.lines().collect();
    let swapped = [lines[0], lines[2], lines[1], lines[3]].join("\n");
    for (name, text, part) in [
        ("empty.csv", String::new(), "the file is empty"),
        ("channel.csv", "time,warm_c\n2025-10-20T18:00,27\n".to_owned(), "no column says that it is `cool_c`"),
        ("strange.csv", log.replace("room_c", "mood"), "no column says that it is `room_c`"),
        ("order.csv", swapped, "the time goes back"),
        ("short.csv", lines[..30].join("\n"), "the log is not enough to tell anything"),
        ("hot.csv", log.replace("27.5", "275"), "`275` cannot be"),
    ] {
        let path = home.file(name, text);
        let said = home.ends(2, &format!("calibrate S1 {} --keep", path.display()));
        assert!(plain(&said).contains(part) && said.contains("mend:"), "{name}: {said}");
    }
    assert!(home.ends(2, &format!("calibrate S1 {LOG} --watts 9000")).contains("`watts` cannot be 9000"));
    assert!(home.ends(3, &format!("calibrate S9 {LOG}")).contains("there is no enclosure `S9`"));
    assert!(home.ends(3, "calibrate S1 nowhere.csv").contains("cannot be read"));
    // Without the heater only the cool-down could be told: that is an answer, but nothing to keep.
    let cooling = home.file("unheated.csv", log.replace("heater_pct", "light"));
    let said = home.ends(2, &format!("calibrate S1 {} --keep", cooling.display()));
    assert!(plain(&said).contains("nothing was kept"), "{said}");
    assert_eq!(home.json("show S1 --json")["fitted"], serde_json::Value::Null);
}

#[test]
fn a_gap_in_a_log_is_no_fault() {
    let home = logged();
    let log = std::fs::read_to_string(LOG).expect("the log");
    let gap = |(number, _): &(usize, &str)| !(80..84).contains(number);
    let cut: Vec<&str> = log.lines().enumerate().filter(gap).map(|(_, line)| line).collect();
    let path = home.file("gap.csv", cut.join("\n"));
    assert!(plain(&home.does(&format!("calibrate S1 {} --keep", path.display()))).contains("Kept:"));
}
