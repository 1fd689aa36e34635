//! Tables in, everything out and back in.

use crate::home::Home;

const TABLE: &str = "Date,Name,Weight (g),Fed,Prey g,Notes\n\
    03/04/2025,Fern,312,yes,18,\n\
    10/04/2025,Fern,,no,18,in blue\n\
    17/04/2025,Fern,318,yes,18,\n\
    24/04/2025,Pip,88,yes,8,\n";

#[test]
fn a_table_is_shown_as_it_was_understood_and_kept_whole() {
    let home = Home::new();
    let path = home.file("records.csv", TABLE).display().to_string();
    let asked = home.run(&format!("import {path}"));
    assert_eq!(asked.code, 4);
    assert!(asked.out.contains("Weight (g)  mass in g"), "{}", asked.out);
    assert!(asked.err.starts_with("question: ") && asked.err.contains("mend: answer with --species"), "{}", asked.err);
    let trial = home.does(&format!("import {path} --species corn_snake --dry-run"));
    assert!(trial.contains("line 3: 10/04/2025 | Fern"), "{trial}");
    assert!(trial.contains("Pip (new, corn_snake): 1 × weighing, 1 × meal."), "{trial}");
    assert!(trial.ends_with("Nothing was kept: this was a trial.\n"), "{trial}");
    assert!(!home.records().exists(), "a trial leaves nothing behind");
    let kept = home.does(&format!("import {path} --species corn_snake"));
    assert!(kept.ends_with("10 records kept; `warmside undo` takes all of them back.\n"), "{kept}");
    assert_eq!(home.records_of("Fern", "meal").len(), 3);
}

#[test]
fn the_same_table_twice_changes_nothing() {
    let home = Home::new();
    let path = home.file("records.csv", TABLE).display().to_string();
    home.does(&format!("import {path} --species corn_snake"));
    let before = home.does("verify");
    assert_eq!(
        home.does(&format!("import {path} --species corn_snake")),
        format!("{path} was imported before: nothing is changed.\n")
    );
    assert_eq!(home.does("verify"), before);
    // Grown by a row, only that row is new.
    let grown = home.file("grown.csv", format!("{TABLE}25/04/2025,Fern,320,,,\n")).display().to_string();
    let said = home.does(&format!("import {grown} --species corn_snake"));
    assert!(said.contains("Fern (here already, corn_snake): 1 × weighing; 6 there already."), "{said}");
    // Taken back as one, it can be imported again.
    home.does("undo");
    assert!(home.does(&format!("import {grown} --species corn_snake")).contains("records kept"));
}

#[test]
fn a_table_that_may_mean_two_things_is_asked_about() {
    let home = Home::new();
    let path = home
        .file("short.csv", "Date,Name,Weight (g)\n03/04/2025,Fern,312\n05/04/2025,Fern,313\n")
        .display()
        .to_string();
    let err = home.ends(4, &format!("import {path} --species corn_snake"));
    assert!(err.contains("answer with --date-order, with one of: day-first, month-first"), "{err}");
    home.does(&format!("import {path} --species corn_snake --date-order month-first"));
    assert_eq!(home.records_of("Fern", "weighing")[0]["at"], "2025-05-04");
    let err = home.ends(2, &format!("import {path} --date-order american"));
    assert!(err.starts_with("error: `american` is no order of dates"), "{err}");
    let err = home.ends(2, &format!("import {path} --column Weight"));
    assert!(err.contains(" where: --column"), "{err}");
}

#[test]
fn a_fault_in_one_row_keeps_nothing() {
    let home = Home::new();
    let path = home.file("ahead.csv", format!("{TABLE}24/04/2099,Pip,90,yes,8,\n")).display().to_string();
    let err = home.ends(2, &format!("import {path} --species corn_snake --yes"));
    assert!(err.contains("2099-04-24") && err.contains("line 6"), "{err}");
    assert!(!home.records().exists());
}

#[test]
fn everything_comes_back_the_same() {
    let home = Home::with_fern();
    for line in [
        "log weight Fern 523",
        "log meal Fern taken --prey mouse-adult --mass-g 25.5",
        "log note Fern 'likes «the cork», and \"the branch\"'",
        "log freezer mouse-adult --count 20 --mass-g 25",
        "log reading S1 warm-surface --temperature-c 88F",
    ] {
        home.does(line);
    }
    let id = home.records_of("Fern", "weighing")[0]["id"].as_str().expect("an id").to_owned();
    home.does(&format!("correct {id} mass_g=532 --why misread"));
    home.does("log weight Fern 9000 --yes");
    home.does("undo");
    let first = home.path("first");
    let said = home.does(&format!("export {}", first.display()));
    assert!(said.contains("as they stand written to tables"), "{said}");
    let table = std::fs::read_to_string(first.join("weighing.csv")).expect("a table of weighings");
    let rows: Vec<&str> = table.lines().collect();
    assert_eq!(rows.len(), 2, "what stands, under its header: {table}");
    assert!(
        rows[0].ends_with(",by,at,mass_g,estimated,body_score")
            && rows[1].contains(",Fern,")
            && rows[1].contains(",532,"),
        "{table}"
    );

    let again = home.path("again");
    let ran = home.run_in(&again, &format!("restore {}", first.join("everything.json").display()));
    assert_eq!(ran.code, 0, "{}", ran.err);
    let second = home.path("second");
    assert_eq!(home.run_in(&again, &format!("export {}", second.display())).code, 0);
    let mut names: Vec<_> =
        std::fs::read_dir(&first).expect("the export").map(|entry| entry.expect("a file").file_name()).collect();
    names.sort();
    assert!(names.len() > 6, "{names:?}");
    for name in names {
        let read = |folder: &std::path::Path| std::fs::read(folder.join(&name)).expect("both have it");
        assert_eq!(read(&first), read(&second), "{}", name.display());
    }
    let end = |verified: &str| verified.lines().nth(1).map(str::to_owned);
    assert_eq!(end(&home.does("verify")), end(&home.run_in(&again, "verify").out), "the chains end the same");

    assert!(
        home.ends(2, &format!("restore {}", first.join("everything.json").display()))
            .starts_with("error: there are records here already")
    );
    assert!(home.ends(2, &format!("export {}", first.display())).starts_with("error: the folder is not empty"));
}

#[test]
fn an_export_that_was_touched_or_cut_is_not_restored() {
    let home = Home::with_fern();
    home.does("log weight Fern 523");
    let out = home.path("out");
    home.does(&format!("export {}", out.display()));
    let whole = std::fs::read_to_string(out.join("everything.json")).expect("the export");
    let other = home.path("other");
    let lines: Vec<&str> = whole.lines().collect();
    let cut = lines[..lines.len() - 2].join("\n");
    for (name, text, what, line) in [
        ("touched.json", whole.replace("\"mass_g\":523", "\"mass_g\":532"), "it does not fit its hash", "line 5"),
        ("cut.json", cut, "the file breaks off before its end", "line 5"),
    ] {
        let path = home.file(name, text);
        let ran = home.run_in(&other, &format!("restore {}", path.display()));
        assert_eq!(ran.code, 2, "{name}: {}", ran.err);
        assert!(ran.err.contains(what) && ran.err.contains(line), "{name}: {}", ran.err);
        assert!(home.run_in(&other, "show").out.is_empty(), "nothing was restored");
    }
    let not_ours = home.file("not_ours.json", "{}");
    assert!(
        home.ends(2, &format!("restore {}", not_ours.display()))
            .starts_with("error: this is no exported file of Warmside")
    );
}

#[test]
fn what_a_log_said_is_shown_exported_and_restored() {
    let home = Home::new();
    let kept = concat!(env!("CARGO_MANIFEST_DIR"), "/../store/tests/fixtures/v2.db");
    std::fs::create_dir_all(home.records()).expect("a folder");
    std::fs::copy(kept, home.records().join("records.db")).expect("a household with a log");
    let enclosure = home.json("show S1 --json");
    assert_eq!(enclosure["fitted"]["warm_to_room_w_k"], 0.71);
    let said = home.does("show S1").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("Log: fitted from a log of") && said.contains("2016 rows"), "{said}");

    let first = home.path("first");
    home.does(&format!("export {}", first.display()));
    let table = std::fs::read_to_string(first.join("fitted.csv")).expect("a table of logs");
    let rows: Vec<&str> = table.lines().collect();
    assert!(rows[0].contains(",by,at,from,warm_to_room_w_k,warm_to_room_w_k_sd_pct,"), "{table}");
    assert!(rows[1].contains(",0.71,6,0.64,7.5,") && rows[1].ends_with(",20,0.21,2016"), "{table}");
    let again = home.path("again");
    let ran = home.run_in(&again, &format!("restore {}", first.join("everything.json").display()));
    assert_eq!(ran.code, 0, "{}", ran.err);
    let second = home.path("second");
    assert_eq!(home.run_in(&again, &format!("export {}", second.display())).code, 0);
    assert_eq!(
        std::fs::read(first.join("everything.json")).expect("the first"),
        std::fs::read(second.join("everything.json")).expect("the second")
    );
}
