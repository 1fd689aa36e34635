//! What holds of every answer, whatever was asked: no sentence without its reason, nothing due that is held, nothing
//! past that is said to come, no word that is avoided.

use care::Answer;
use care::answer::{Action, Code, Due, Evidence, Hold, Severity, State, Task};
use records::choice::Choice;
use records::facts::Kind;

/// Everything about an answer that should not be.
pub fn faults(answer: &Answer) -> Vec<String> {
    let mut faults = Vec::new();
    findings(answer, &mut faults);
    holds(answer, &mut faults);
    tasks(answer, &mut faults);
    states(answer, &mut faults);
    figures(answer, &mut faults);
    sentences(answer, &mut faults);
    faults
}

fn findings(answer: &Answer, faults: &mut Vec<String>) {
    for found in &answer.findings {
        let code = found.code;
        if found.source.is_empty() || found.rule.is_empty() || found.says.is_empty() || found.does.is_empty() {
            faults.push(format!("{code} lacks its rule, its source or a sentence"));
        }
        if found.records.is_empty() {
            faults.push(format!("{code} rests on no record (rule {})", found.rule));
        }
        let twice = |one: &Evidence| 1 < found.records.iter().filter(|other| *other == one).count();
        if let Some(one) = found.records.iter().find(|one| twice(one)) {
            faults.push(format!("{code} names {:?} twice", one.key));
        }
        let ahead = |one: &&Evidence| {
            let may = matches!(one.key.kind, Kind::Planned | Kind::Animal | Kind::Treatment);
            !may && one.at.is_some_and(|at| answer.at < at.from)
        };
        if let Some(one) = found.records.iter().find(ahead) {
            faults.push(format!("{code} rests on {:?}, which lies ahead", one.key));
        }
        if found.value.is_some_and(|value| !value.is_finite()) {
            faults.push(format!("{code} has the value {:?}", found.value));
        }
        let asks_none =
            ["no meal", "nothing to eat", "Water only", "water only"].iter().any(|words| found.does.contains(words));
        if asks_none && answer.due(Task::OfferMeal).is_some() {
            faults.push(format!("{code} asks for no meal, and one is due: {}", found.does));
        }
        if found.does.contains("Offer a meal")
            && answer.hold(Action::OfferMeal).is_some_and(|hold| hold.until.is_none())
        {
            faults.push(format!("{code} asks for a meal that is held: {}", found.does));
        }
        let calls = ["veterinarian", "now", "at once"].iter().any(|word| found.does.contains(word));
        // An animal that got away is searched for first.
        if Severity::Vet <= found.severity && !calls && code != Code::Escape {
            faults.push(format!("{code} is {} and calls nobody: {}", found.severity, found.does));
        }
    }
    if answer.findings.windows(2).any(|pair| matches!(pair, [a, b] if a.severity < b.severity)) {
        faults.push("findings are not in order of severity".to_owned());
    }
    let mut codes: Vec<Code> = answer.findings.iter().map(|found| found.code).collect();
    codes.sort();
    if let Some(pair) = codes.windows(2).find(|pair| matches!(pair, [a, b] if a == b)) {
        faults.push(format!("{:?} is found twice", pair.first()));
    }
}

fn holds(answer: &Answer, faults: &mut Vec<String>) {
    for hold in &answer.holds {
        let action = hold.action;
        if hold.because.is_empty() {
            faults.push(format!("{action} is held without a reason"));
        }
        if answer.at < hold.from {
            faults.push(format!("{action} is held from a moment that lies ahead ({:?})", rules(hold)));
        }
        match hold.until {
            Some(until) if until <= answer.at => {
                faults.push(format!("the hold on {action} is over ({:?})", rules(hold)))
            }
            Some(_) if hold.because.iter().any(|one| one.until.is_none()) => {
                faults.push(format!("{action} has an end although one of its reasons is open ({:?})", rules(hold)));
            }
            None if hold.ends_with.is_none() => faults.push(format!("the open hold on {action} names no end")),
            _ => {}
        }
        if 1 < answer.holds.iter().filter(|one| one.action == action).count() {
            faults.push(format!("{action} is held twice"));
        }
    }
}

fn rules(hold: &Hold) -> Vec<&'static str> {
    hold.because.iter().map(|one| one.rule).collect()
}

fn tasks(answer: &Answer, faults: &mut Vec<String>) {
    for due in &answer.due {
        let task = due.task;
        if answer.at < due.from {
            faults.push(format!("{task} is due and lies ahead (rule {})", due.rule));
        }
        if let Some(action) = task.needs().iter().find(|action| answer.hold(**action).is_some()) {
            faults.push(format!("{task} is due although {action} is held"));
        }
        if 1 < answer.due.iter().filter(|one| one.task == task).count() {
            faults.push(format!("{task} is due twice"));
        }
    }
    for ahead in &answer.ahead {
        let (task, rule) = (ahead.task, ahead.rule);
        if ahead.from <= answer.at {
            faults.push(format!("{task} is said to come and is past (rule {rule})"));
        }
        for action in task.needs() {
            let until = answer.hold(*action).and_then(|hold| hold.until);
            if until.is_some_and(|until| ahead.from < until) {
                faults.push(format!("{task} lies ahead before the hold on {action} ends (rule {rule})"));
            }
        }
    }
    let backwards = |due: &&Due| due.by.is_some_and(|by| by < due.from);
    for due in answer.due.iter().chain(&answer.ahead).filter(backwards) {
        faults.push(format!("{} ends before it begins (rule {})", due.task, due.rule));
    }
    if answer.ahead.windows(2).any(|pair| matches!(pair, [a, b] if b.from < a.from)) {
        faults.push("what lies ahead is not in order".to_owned());
    }
    let gone = answer.findings.iter().any(|found| found.code == Code::Death) || answer.is_in(State::Away);
    if gone && (answer.due(Task::OfferMeal).is_some() || answer.due(Task::Handle).is_some()) {
        faults.push("a meal or handling is due for an animal that is not there".to_owned());
    }
}

fn states(answer: &Answer, faults: &mut Vec<String>) {
    for standing in &answer.states {
        let state = standing.state;
        if standing.until.is_some_and(|until| until <= answer.at) || answer.at < standing.since {
            faults.push(format!("state {state} does not stand now"));
        }
        if 1 < answer.states.iter().filter(|one| one.state == state).count() {
            faults.push(format!("state {state} is told twice"));
        }
    }
}

fn figures(answer: &Answer, faults: &mut Vec<String>) {
    if let Some((low, high)) = answer.prey.as_ref().and_then(|prey| prey.mass_g)
        && !(0.0 < low && low <= high)
    {
        faults.push(format!("prey of {low} to {high} g"));
    }
    let forecasts = &answer.forecasts;
    let dates = [&forecasts.next_meal, &forecasts.next_shed, &forecasts.prey_step_up, &forecasts.enclosure_step_up];
    for range in dates.into_iter().flatten() {
        if range.low < answer.at || range.mid < range.low || range.high < range.mid {
            faults.push("a forecast is out of order or past".to_owned());
        }
    }
    for range in forecasts.mass.iter().chain(&forecasts.length) {
        if !(0.0 < range.low && range.low <= range.mid && range.mid <= range.high) {
            faults.push(format!("a forecast of {} to {} to {}", range.low, range.mid, range.high));
        }
    }
}

/// Words that the tool never says, and traces of a sentence that went wrong.
const AVOIDED: [&str; 32] = [
    "cold-blooded",
    "picky",
    "fussy",
    "normal fast",
    "overdue",
    "healthy weight",
    "target weight",
    "underweight",
    "obese",
    "hibernat",
    "poisonous",
    "slimy",
    "evil",
    "killer",
    "room temperature",
    "lukewarm",
    "cure ",
    " dose",
    "cheap",
    "beginner",
    " pet ",
    "specimen",
    "warning",
    "critical",
    "owner",
    "NaN",
    "  ",
    "..",
    " .",
    ",,",
    "-0 ",
    "; ;",
];

fn sentences(answer: &Answer, faults: &mut Vec<String>) {
    let mut said: Vec<(String, &str)> = Vec::new();
    for found in &answer.findings {
        said.push((format!("{} says", found.code), &found.says));
        said.push((format!("{} does", found.code), &found.does));
    }
    said.extend(
        answer
            .holds
            .iter()
            .flat_map(|hold| hold.because.iter().map(|one| (hold.action.key().to_owned(), one.why.as_str()))),
    );
    said.extend(answer.due.iter().chain(&answer.ahead).map(|due| (due.task.key().to_owned(), due.why.as_str())));
    said.extend(answer.states.iter().map(|one| (one.state.key().to_owned(), one.why.as_str())));
    said.extend(answer.assumed.iter().map(|one| ("assumed".to_owned(), one.as_str())));
    said.extend(answer.prey.iter().map(|prey| ("prey".to_owned(), prey.why.as_str())));
    for (what, text) in said {
        if let Some(word) = AVOIDED.iter().find(|word| text.contains(**word)) {
            faults.push(format!("{what}: «{word}» in «{text}»"));
        }
        let begins = text.chars().next().is_some_and(|first| !first.is_lowercase());
        if !begins || !text.ends_with(['.', '?']) {
            faults.push(format!("{what} is no sentence: «{text}»"));
        }
        if let Some(words) = wrong_plural(text) {
            faults.push(format!("{what}: «{words}» in «{text}»"));
        }
    }
}

/// «1 days», where it is not the end of a longer number.
fn wrong_plural(text: &str) -> Option<&'static str> {
    ["1 days", "1 times", "1 items", "1 refusals", "1 meals", "1 hides"].into_iter().find(|words| {
        text.match_indices(words).any(|(at, _)| {
            let before = text.get(..at).and_then(|head| head.chars().next_back());
            !before.is_some_and(|one| one.is_ascii_digit() || one == '.' || one == ',')
        })
    })
}
