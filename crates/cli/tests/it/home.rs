//! A household in a folder that vanishes with the test.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A household of one test.
pub struct Home {
    folder: tempfile::TempDir,
}

/// What a command printed and how it ended.
#[derive(Debug)]
pub struct Ran {
    /// The exit code.
    pub code: i32,
    /// The answer.
    pub out: String,
    /// The messages.
    pub err: String,
}

/// The program, with a machine of which nothing is known.
pub fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_warmside"));
    command.env_clear().env("WARMSIDE_ZONE", "Europe/Lisbon").env("WARMSIDE_BY", "Ada");
    command
}

impl Home {
    /// An empty folder.
    pub fn new() -> Home {
        Home { folder: tempfile::tempdir().expect("a folder for the test") }
    }

    /// With one corn snake called Fern, grown, in the enclosure S1.
    pub fn with_fern() -> Home {
        let home = Home::new();
        home.does("add enclosure S1 --room study --length-cm 120 --width-cm 60 --height-cm 50");
        home.does("add animal Fern --species corn_snake --stage adult --enclosure S1 --arrived 2020-05-01");
        home
    }

    /// A path in the folder of the test, beside the records.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The folder of the records.
    pub fn records(&self) -> PathBuf {
        self.path("records")
    }

    /// A file beside the records.
    pub fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path(name);
        std::fs::write(&path, bytes).expect("the file is written");
        path
    }

    /// Runs a command; words are split at spaces, `'...'` keeps them together.
    pub fn run(&self, line: &str) -> Ran {
        self.run_in(&self.records(), line)
    }

    /// The same with other records.
    pub fn run_in(&self, records: &Path, line: &str) -> Ran {
        let output = program().arg("--folder").arg(records).args(words(line)).current_dir(self.folder.path()).output();
        Ran::of(&output.expect("the program runs"))
    }

    /// Runs a command that must do what it is asked; gives what it prints.
    pub fn does(&self, line: &str) -> String {
        let ran = self.run(line);
        assert_eq!(ran.code, 0, "{line}\n{}{}", ran.out, ran.err);
        assert_eq!(ran.err, "", "{line}");
        ran.out
    }

    /// Runs a command that must end with this code; gives its messages.
    pub fn ends(&self, code: i32, line: &str) -> String {
        let ran = self.run(line);
        assert_eq!(ran.code, code, "{line}\n{}{}", ran.out, ran.err);
        ran.err
    }

    /// The answer of a command as JSON.
    pub fn json(&self, line: &str) -> serde_json::Value {
        serde_json::from_str(&self.does(line)).expect("the answer is JSON")
    }

    /// The records of an animal of one kind, newest first.
    pub fn records_of(&self, animal: &str, kind: &str) -> Vec<serde_json::Value> {
        let shown = self.json(&format!("show {animal} --json"));
        let all = shown["records"].as_array().expect("records").clone();
        all.into_iter().filter(|one| one["kind"] == kind).collect()
    }
}

impl Ran {
    fn of(output: &Output) -> Ran {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("text");
        Ran { code: output.status.code().unwrap_or(-1), out: text(&output.stdout), err: text(&output.stderr) }
    }
}

fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut is_quoted = false;
    for letter in line.chars() {
        match letter {
            '\'' => is_quoted = !is_quoted,
            ' ' if !is_quoted => words.push(String::new()),
            other => words.last_mut().expect("a word").push(other),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}
