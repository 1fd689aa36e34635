//! What cannot be, what is odd, and what no program can read: told with what, where and how to mend.

use crate::home::Home;

#[test]
fn what_cannot_be_is_refused_with_every_fault() {
    let home = Home::with_fern();
    home.does("add animal Pip --species corn_snake --hatched 2024-06-01");
    let fern = home.json("show Fern --json")["records"].as_array().map(Vec::len);
    for (line, what, place) in [
        ("log weight Fern -5", "error: `mass_g` cannot be -5", " where: --mass-g"),
        ("log weight Fern 0", "error: `mass_g` cannot be 0", " where: --mass-g"),
        ("log weight Fern heavy", "error: `heavy` is not a number (`mass_g`)", " where: --mass-g"),
        ("log weight Fern 24cm", "error: `24cm` has no unit that fits `mass_g`", " where: --mass-g"),
        ("log weight Fern", "error: `mass_g` is missing", " where: --mass-g"),
        (
            "log shed Pip --shed-at 2024-05-30",
            "error: 2024-05-30 is before the animal hatched, 2024-06-01",
            " where: --shed-at",
        ),
        ("log meal Fern eaten", "error: `eaten` is no outcome of a meal (`outcome`)", " where: --outcome"),
        ("log meal Fern taken --prey mouse-adlt", "error: `mouse-adlt` is no class of prey (`prey`)", " where: --prey"),
        ("log meal Fern taken --at soon", "error: `soon` is not a date (`at`)", " where: --at"),
        (
            "log reading S1 warm-surface --temperature-c 900",
            "error: `temperature_c` cannot be 900",
            " where: --temperature-c",
        ),
        (
            "log reading S1 warm-surface --humidity-pct 120%",
            "error: `humidity_pct` cannot be 120",
            " where: --humidity-pct",
        ),
        ("log clean S1 windows", "error: `windows` is no chore (`task`)", " where: --task"),
        ("add animal Nobody --species 'garden hose'", "error: no profile is called `garden hose`", " where: --species"),
        (
            "add animal Nobody --species corn_snake --arrived 2999-01-01",
            "error: 2999-01-01 lies ahead of now",
            " where: --arrived",
        ),
    ] {
        let err = home.ends(2, line);
        assert!(err.starts_with(what), "{line}\n{err}");
        assert!(err.lines().any(|one| one == place), "{line}\n{err}");
        assert!(err.contains("\n  mend: "), "{line}\n{err}");
    }
    let two = home.ends(2, "log meal Fern eaten --prey mouse-adlt");
    assert_eq!(two.matches("error: ").count(), 2, "both faults are told at once: {two}");
    assert_eq!(home.json("show Fern --json")["records"].as_array().map(Vec::len), fern, "nothing was kept");
}

#[test]
fn a_date_that_lies_ahead_is_refused_and_a_plan_is_not() {
    let home = Home::with_fern();
    let err = home.ends(2, "log weight Fern 523 --at 2999-01-01");
    assert!(err.starts_with("error: 2999-01-01 lies ahead of now"), "{err}");
    assert!(err.contains("mend: give the day it happened; what is planned is recorded as a plan"), "{err}");
    home.does("log plan Fern show --from 2999-01-01");
}

#[test]
fn what_is_odd_is_asked_about_and_kept_after_a_yes() {
    let home = Home::with_fern();
    home.does("log weight Fern 500");
    for (line, what) in [
        ("log meal Fern taken --mass-g 600", "question: 600 g of prey is as much as the whole animal (500 g on "),
        (
            "log reading S1 warm-surface --temperature-c 88",
            "question: 88 °C at the warm surface is no place to live: is it in °F (31.1 °C)?",
        ),
        ("log weight Fern 17.6", "question: 17.6 g against 500 g on "),
        ("log weight Fern 390", "question: 390 g is 22 % less than the 500 g of "),
        ("log note Fern 'long ago' --at 2019-01-01", "question: 2019-01-01 is more than a year back"),
    ] {
        let err = home.ends(4, line);
        assert!(err.starts_with(what), "{line}\n{err}");
        assert!(err.contains("  mend: mend it, or add --yes if it is so"), "{line}\n{err}");
    }
    assert_eq!(home.records_of("Fern", "weighing").len(), 1);
    assert_eq!(home.records_of("Fern", "meal").len(), 0);
    home.does("log meal Fern taken --mass-g 600 --yes");
    assert_eq!(home.records_of("Fern", "meal").len(), 1);
    home.does("log meal Fern taken --mass-g 25 --yes");
    let held = home.ends(4, "log handling Fern 10");
    assert!(held.starts_with("question: handling was held on "), "{held}");
    home.does("log shed Fern");
    let again = home.ends(4, "log shed Fern --shed-at yesterday");
    assert!(again.starts_with("question: a shed on "), "{again}");
}

#[test]
fn a_name_that_fits_nobody_or_several_is_told() {
    let home = Home::with_fern();
    home.does("add animal Ferdinand --species corn_snake");
    let err = home.ends(3, "show Firn");
    assert!(err.starts_with("error: there is no animal and no enclosure `Firn`"), "{err}");
    let err = home.ends(3, "log weight Ferm 520");
    assert!(err.starts_with("error: there is no animal `Ferm`") && err.contains("mend: did you mean Fern"), "{err}");
    let err = home.ends(2, "log weight Fe 520");
    assert!(err.starts_with("error: `Fe` fits several animals") && err.contains("Ferdinand ("), "{err}");
    home.does("log weight fern 520");
    let err = home.ends(3, "rounds --room attic");
    assert!(err.contains("mend: name one of: study"), "{err}");
}

#[test]
fn files_that_are_none_are_told_by_name() {
    let home = Home::new();
    let empty = home.file("empty.toml", "");
    let latin = home.file("latin.toml", b"[animal]\nspecies = \"corn_snake\"\nname = \"Andr\xe9\"\n");
    let unknown = home.file(
        "unknown.toml",
        "[animal]\nspecies = \"corn_snake\"\n[[meal]]\nat = \"2026-01-01\"\noutcom = \"taken\"\n",
    );
    let large = home.path("large.toml");
    let file = std::fs::File::create(&large).expect("a large file");
    file.set_len(51 * 1024 * 1024).expect("51 MB without writing them");
    for (path, what) in [
        (&empty, "error: the file is empty"),
        (&latin, "error: "),
        (&large, "error: "),
        (&unknown, "error: `outcome` is missing"),
    ] {
        let name = path.display().to_string();
        let err = home.ends(2, &format!("assess {name}"));
        assert!(err.starts_with(what) && err.contains(&name) && err.contains("mend: "), "{name}\n{err}");
    }
    let err = home.ends(2, &format!("assess {}", unknown.display()));
    assert!(
        err.contains("error: unknown key `outcom`")
            && err.contains("line 5")
            && err.contains("did you mean `outcome`?"),
        "{err}"
    );
    assert!(home.ends(2, &format!("assess {}", large.display())).contains("50 MB"));
    assert!(home.ends(3, "assess nowhere.toml").starts_with("error: the file cannot be read: "));
    let empty = home.file("empty.csv", "");
    assert!(home.ends(2, &format!("import {}", empty.display())).starts_with("error: the file is empty"));
    assert!(home.ends(2, &format!("import {}", large.display())).contains("50 MB"));
    assert!(!home.records().exists(), "what was faulty leaves no folder behind");
}

#[test]
fn an_option_that_is_none_is_told_with_the_nearest() {
    let home = Home::with_fern();
    let err = home.ends(2, "log meal Fern taken --mas 24");
    assert!(err.contains("--mass-g"), "{err}");
    let err = home.ends(2, "feed Fern");
    assert!(err.contains("unrecognized subcommand 'feed'"), "{err}");
    let err = home.ends(2, "rounds --zone Nowhere/City");
    assert!(err.starts_with("error: there is no time zone `Nowhere/City`"), "{err}");
}
