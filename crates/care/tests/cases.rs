//! Situations that a keeper knows, each a file in `cases/` with the answer it must and must not give, and why.
//!
//! A file holds `name` (one sentence), `source` (what the expectation rests on: a key of `sources.toml`, the id of a
//! general rule, or common practice), `case` (a case file as `warmside assess` reads it) and `[[expect]]` tables. Each
//! of these asks one thing; [`Expect`] lists what can be asked. Times without a zone are read in the zone of the case.

#![expect(clippy::unwrap_used, clippy::panic, reason = "in a test a surprise is a failure")]

mod sound;

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use care::Answer;
use care::answer::{Action, Code, Finding, Missing, Severity, State, Task};
use records::choice::Choice;
use serde::Deserialize;
use units::{Moment, Zone};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Situation {
    name: String,
    source: String,
    case: String,
    expect: Vec<Expect>,
}

/// One thing asked of the answer: exactly one of the first group of keys, narrowed by those of the second.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct Expect {
    /// One of these findings is there.
    finding: Words,
    /// None of these findings is there (from `at_or_above` on, where that is given).
    no_finding: Words,
    /// No finding at all is as grave as this.
    no_severity: String,
    /// The action is held.
    hold: String,
    /// The action is not held.
    no_hold: Words,
    /// The task is open now.
    due: String,
    /// The tasks are not open now.
    not_due: Words,
    /// The task lies ahead.
    ahead: String,
    /// The animal is in this state.
    state: String,
    /// It is in none of these.
    no_state: Words,
    /// The mass of one meal, in g: the whole range lies within these two.
    prey_g: Vec<f64>,
    /// One of these classes of prey is among those that fit.
    prey_class: Words,
    /// Among the first things named as missing.
    missing: String,
    /// Not named as missing.
    not_missing: Words,
    /// Its stage; "unknown" when it cannot be told.
    stage: String,
    /// The profile that serves.
    profile: String,
    /// A sentence about what was assumed holds these words.
    assumed: Words,
    /// The case is refused with a message that holds these words.
    error: Words,

    /// The finding is at least this grave.
    at_least: String,
    /// The finding is at most this grave.
    at_most: String,
    /// Only findings from this severity on count.
    at_or_above: String,
    /// What is said, or what to do, holds these words.
    with_words: Words,
    /// Neither holds these.
    without_words: Words,
    /// The hold or the state ends, or the task begins, no earlier than this.
    not_before: String,
    /// ... and no later.
    not_after: String,
    /// The hold or the state has an open end.
    open: Option<bool>,
    /// The missing thing is among the first so many (six where it is not given).
    within: Option<usize>,
    /// Why this is right.
    why: String,
}

/// One word, or several.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(untagged)]
enum Words {
    One(String),
    Many(Vec<String>),
    #[default]
    None,
}

impl Words {
    fn list(&self) -> Vec<&str> {
        match self {
            Words::One(word) => vec![word],
            Words::Many(words) => words.iter().map(String::as_str).collect(),
            Words::None => Vec::new(),
        }
    }
    fn is_empty(&self) -> bool {
        self.list().is_empty()
    }
}

fn all<T: Choice>(words: &Words) -> Vec<T> {
    words.list().into_iter().map(key).collect()
}

fn key<T: Choice>(word: &str) -> T {
    T::from_key(word).unwrap_or_else(|| panic!("`{word}` is no word of the answer"))
}

fn moment(zone: &Zone, text: &str) -> Moment {
    zone.read(text).unwrap_or_else(|| panic!("`{text}` is no date")).from
}

/// Does an end, or a beginning, lie where it should?
fn placed(expect: &Expect, zone: &Zone, what: &str, at: Option<Moment>) -> Result<(), String> {
    let shown = at.map_or_else(|| "an open end".to_owned(), |at| zone.write(at));
    if expect.open.is_some_and(|open| open != at.is_none()) {
        return Err(format!("{what}: {shown}"));
    }
    if !expect.not_before.is_empty() && at.is_some_and(|at| at < moment(zone, &expect.not_before)) {
        return Err(format!("{what}: {shown}, expected not before {}", expect.not_before));
    }
    if !expect.not_after.is_empty() && at.is_none_or(|at| moment(zone, &expect.not_after) < at) {
        return Err(format!("{what}: {shown}, expected not after {}", expect.not_after));
    }
    Ok(())
}

fn worded(expect: &Expect, what: &str, said: &str) -> Result<(), String> {
    for word in expect.with_words.list() {
        if !said.contains(word) {
            return Err(format!("{what} does not say «{word}»: {said}"));
        }
    }
    for word in expect.without_words.list() {
        if said.contains(word) {
            return Err(format!("{what} says «{word}»: {said}"));
        }
    }
    Ok(())
}

impl Expect {
    /// How many things are asked: one is right.
    fn asked(&self) -> usize {
        let words = [
            &self.finding,
            &self.no_finding,
            &self.no_hold,
            &self.not_due,
            &self.no_state,
            &self.prey_class,
            &self.not_missing,
            &self.assumed,
            &self.error,
        ];
        let texts = [
            &self.no_severity,
            &self.hold,
            &self.due,
            &self.ahead,
            &self.state,
            &self.missing,
            &self.stage,
            &self.profile,
        ];
        words.iter().filter(|words| !words.is_empty()).count()
            + texts.iter().filter(|text| !text.is_empty()).count()
            + usize::from(!self.prey_g.is_empty())
    }

    fn severity(&self, text: &str) -> Option<Severity> {
        (!text.is_empty()).then(|| key(text))
    }

    fn check(&self, answer: &Answer) -> Result<(), String> {
        self.findings(answer)?;
        self.holds(answer)?;
        self.tasks(answer)?;
        self.states(answer)?;
        self.prey(answer)?;
        self.known(answer)
    }

    fn findings(&self, answer: &Answer) -> Result<(), String> {
        let codes: Vec<Code> = all(&self.finding);
        if !codes.is_empty() {
            let found: Vec<&Finding> = answer.findings.iter().filter(|one| codes.contains(&one.code)).collect();
            let Some(worst) = found.iter().max_by_key(|one| one.severity) else {
                let there: Vec<&str> = answer.findings.iter().map(|one| one.code.key()).collect();
                return Err(format!("no finding {:?}; there is {there:?}", self.finding.list()));
            };
            let (least, most) = (self.severity(&self.at_least), self.severity(&self.at_most));
            if least.is_some_and(|least| worst.severity < least) || most.is_some_and(|most| most < worst.severity) {
                return Err(format!("{} is {}: {}", worst.code, worst.severity, worst.says));
            }
            worded(self, worst.code.key(), &format!("{} {}", worst.says, worst.does))?;
        }
        let not: Vec<Code> = all(&self.no_finding);
        let floor = self.severity(&self.at_or_above).unwrap_or(Severity::Note);
        if let Some(one) = answer.findings.iter().find(|one| not.contains(&one.code) && floor <= one.severity) {
            return Err(format!("finding {} ({}) should not be there: {}", one.code, one.severity, one.says));
        }
        if let Some(floor) = self.severity(&self.no_severity)
            && let Some(one) = answer.findings.iter().find(|one| floor <= one.severity)
        {
            return Err(format!("too alarming: {} is {}: {}", one.code, one.severity, one.says));
        }
        Ok(())
    }

    fn holds(&self, answer: &Answer) -> Result<(), String> {
        if !self.hold.is_empty() {
            let action: Action = key(&self.hold);
            let hold = answer.hold(action).ok_or_else(|| format!("{action} is not held"))?;
            placed(self, &answer.zone, &format!("{action} is held until"), hold.until)?;
            let whys: Vec<&str> = hold.because.iter().map(|one| one.why.as_str()).collect();
            worded(self, &format!("the hold on {action}"), &whys.join(" "))?;
        }
        for action in all::<Action>(&self.no_hold) {
            if let Some(hold) = answer.hold(action) {
                let because: Vec<&str> = hold.because.iter().map(|one| one.rule).collect();
                return Err(format!("{action} is held by {because:?}"));
            }
        }
        Ok(())
    }

    fn tasks(&self, answer: &Answer) -> Result<(), String> {
        if !self.due.is_empty() {
            let task: Task = key(&self.due);
            let due = answer.due(task).ok_or_else(|| format!("{task} is not due"))?;
            placed(self, &answer.zone, &format!("{task} is due from"), Some(due.from))?;
            worded(self, &format!("{task} due"), &due.why)?;
        }
        if !self.ahead.is_empty() {
            let task: Task = key(&self.ahead);
            let ahead = answer.ahead.iter().find(|one| one.task == task);
            let ahead = ahead.ok_or_else(|| format!("{task} does not lie ahead"))?;
            placed(self, &answer.zone, &format!("{task} lies ahead from"), Some(ahead.from))?;
        }
        for task in all::<Task>(&self.not_due) {
            if let Some(due) = answer.due(task) {
                return Err(format!("{task} is due: {}", due.why));
            }
        }
        Ok(())
    }

    fn states(&self, answer: &Answer) -> Result<(), String> {
        if !self.state.is_empty() {
            let state: State = key(&self.state);
            let Some(there) = answer.states.iter().find(|one| one.state == state) else {
                let states: Vec<&str> = answer.states.iter().map(|one| one.state.key()).collect();
                return Err(format!("state {state} is not there, but {states:?}"));
            };
            placed(self, &answer.zone, &format!("{state} until"), there.until)?;
        }
        match all::<State>(&self.no_state).into_iter().find(|state| answer.is_in(*state)) {
            Some(state) => Err(format!("state {state} should not be there")),
            None => Ok(()),
        }
    }

    fn prey(&self, answer: &Answer) -> Result<(), String> {
        if let [from, to] = self.prey_g[..] {
            let got = answer.prey.as_ref().and_then(|prey| prey.mass_g).ok_or("no mass of prey is given")?;
            if got.0 < from || to < got.1 {
                return Err(format!("prey of {} to {} g is not within {from} to {to} g", got.0, got.1));
            }
        }
        let classes = self.prey_class.list();
        let fit: Vec<&str> = answer.prey.iter().flat_map(|prey| &prey.classes).map(|one| one.key()).collect();
        if !classes.is_empty() && !classes.iter().any(|class| fit.contains(class)) {
            return Err(format!("prey {fit:?}, expected one of {classes:?}"));
        }
        Ok(())
    }

    fn known(&self, answer: &Answer) -> Result<(), String> {
        if !self.missing.is_empty() {
            let what: Missing = key(&self.missing);
            let first: Vec<Missing> = answer.missing.iter().take(self.within.unwrap_or(6)).copied().collect();
            if !first.contains(&what) {
                return Err(format!("{what} is not among the first things missing: {first:?}"));
            }
        }
        if let Some(what) = all::<Missing>(&self.not_missing).into_iter().find(|what| answer.missing.contains(what)) {
            return Err(format!("{what} is named as missing"));
        }
        let stage = answer.stage.map_or("unknown", |stage| stage.key());
        if !self.stage.is_empty() && self.stage != stage {
            return Err(format!("stage {stage}, expected {}", self.stage));
        }
        if !self.profile.is_empty() && self.profile != answer.species {
            return Err(format!("the profile {} serves, expected {}", answer.species, self.profile));
        }
        let assumed = answer.assumed.join(" ");
        if let Some(words) = self.assumed.list().into_iter().find(|words| !assumed.contains(words)) {
            return Err(format!("nothing assumed says «{words}»: {assumed}"));
        }
        Ok(())
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases")
}

fn files() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files
}

fn read(path: &Path) -> Situation {
    let text = std::fs::read_to_string(path).unwrap();
    toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The answer to a situation, or the message that refuses it.
fn ask(situation: &Situation) -> Result<Answer, String> {
    let told = |faults: Vec<records::Fault>| faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
    let case = records::case_file::read("case.toml", situation.case.as_bytes()).map_err(told)?;
    let at = case.at.ok_or("the case names no moment")?;
    care::assess(&case, at).map_err(told)
}

fn misses(situation: &Situation) -> Vec<String> {
    let answer = ask(situation);
    let mut misses = Vec::new();
    for expect in &situation.expect {
        let missed = match (&answer, expect.error.list()) {
            (Err(message), words) if !words.is_empty() => {
                words.iter().find(|word| !message.contains(*word)).map(|word| format!("no «{word}» in: {message}"))
            }
            (Err(message), _) => Some(format!("refused: {message}")),
            (Ok(_), words) if !words.is_empty() => Some("it should be refused".to_owned()),
            (Ok(answer), _) => expect.check(answer).err(),
        };
        let why = if expect.why.is_empty() { String::new() } else { format!(" ({})", expect.why) };
        misses.extend(missed.map(|missed| format!("{missed}{why}")));
    }
    if let Ok(answer) = &answer {
        misses.extend(sound::faults(answer));
    }
    misses
}

#[test]
fn every_situation_gets_the_answer_that_a_keeper_needs() {
    let mut told = String::new();
    let (mut situations, mut expectations) = (0, 0);
    for path in files() {
        let situation = read(&path);
        situations += 1;
        expectations += situation.expect.len();
        for miss in misses(&situation) {
            let file = path.file_name().unwrap().to_string_lossy();
            let _ = write!(told, "\n{file}: {miss}\n    ({}; source: {})", situation.name, situation.source);
        }
    }
    assert!(told.is_empty(), "{situations} situations, {expectations} expectations; these do not hold:{told}");
}

#[test]
fn every_file_asks_in_its_own_words() {
    let mut names = BTreeSet::new();
    for path in files() {
        let file = path.file_name().unwrap().to_string_lossy().into_owned();
        assert!(path.extension().is_some_and(|end| end == "toml"), "{file} is no case");
        let situation = read(&path);
        assert!(situation.name.len() > 20 && situation.name.ends_with(['.', '?']), "{file}: its name is a sentence");
        assert!(names.insert(situation.name.clone()), "{file}: another file has the same name");
        assert!(situation.expect.len() > 1 || !situation.expect[0].error.is_empty(), "{file}: it asks next to nothing");
        for expect in &situation.expect {
            assert_eq!(expect.asked(), 1, "{file}: one thing at a time in {expect:?}");
        }
    }
}

#[test]
fn every_source_is_a_rule_a_text_or_common_practice() {
    let library = species::library();
    for path in files() {
        let situation = read(&path);
        for source in situation.source.split(", ") {
            let is_known = source == "common practice"
                || care::lines::rule(source).is_some()
                || library.source(source).is_some()
                || library.profiles.iter().any(|profile| source == profile.key);
            assert!(is_known, "{}: `{source}` is neither a general rule nor a source nor a profile", path.display());
        }
    }
}
