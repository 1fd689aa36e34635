//! What-if about an animal: an answer from a case file, without any record.

use askama::Template;
use care::Answer;
use records::{Case, Fault};

use super::animal::{self, Coming, NowView};
use super::frame::Frame;
use super::html;
use super::parts::Rows;
use crate::strip::{self, Span, Strip};
use crate::wording::{self, Clock};

/// A case to begin with.
pub struct Example {
    /// Its key in the address.
    pub key: &'static str,
    /// What it is about.
    pub title: &'static str,
    /// Its text.
    pub text: &'static str,
}

/// The cases to begin with.
pub const EXAMPLES: [Example; 3] = [
    Example {
        key: "dry-in-blue",
        title: "too dry while in shed",
        text: include_str!("../../examples/dry-in-blue.toml"),
    },
    Example { key: "slow-loss", title: "a slow loss of weight", text: include_str!("../../examples/slow-loss.toml") },
    Example {
        key: "little-known",
        title: "almost nothing known",
        text: include_str!("../../examples/little-known.toml"),
    },
];

struct AnswerView {
    name: String,
    moment: String,
    species: super::parts::Link,
    stage: Option<&'static str>,
    now: NowView,
    strip: Option<String>,
    strip_phone: Option<String>,
    coming: Vec<Coming>,
    missing: Vec<&'static str>,
}

struct ExampleLink {
    href: String,
    title: &'static str,
}

#[derive(Template)]
#[template(path = "what_if.html")]
struct Page<'a> {
    frame: &'a Frame,
    text: &'a str,
    at: &'a str,
    faults: Vec<Fault>,
    answer: Option<AnswerView>,
    examples: Vec<ExampleLink>,
}

/// What came of the question.
pub enum Outcome<'a> {
    /// Nothing was asked yet.
    Blank,
    /// The case could not be read or answered.
    Faults(&'a [Fault]),
    /// The answer.
    Answered(&'a Case, &'a Answer),
}

fn view(case: &Case, answer: &Answer) -> AnswerView {
    let clock = Clock::new(&answer.zone, answer.at);
    let name = animal::called(case);
    let about = animal::about(answer, case, "", &name);
    let mut no_id = String::new;
    let mut rows = Rows { clock: &clock, new_id: &mut no_id, back: "/what-if/animal", on: None, writable: false };
    let timeline = case.timeline.as_of(answer.at);
    let draw = |size| {
        Strip::new(&name, &timeline, (&answer.forecasts, &[]), &clock, Span::Whole, size).map(|strip| strip.svg())
    };
    let (coming, _) = animal::coming(answer, &clock);
    AnswerView {
        moment: format!("{}, {}", clock.long_date(clock.zone().date(answer.at)), clock.time(answer.at)),
        species: super::species::link(&case.animal.species, &answer.species),
        stage: answer.stage.map(wording::stage),
        now: animal::now_view(answer, &mut rows, &about),
        strip: draw(strip::DESK),
        strip_phone: draw(strip::PHONE),
        coming,
        missing: answer.missing.iter().map(|what| wording::missing(*what)).collect(),
        name: wording::capital(&name),
    }
}

/// The page: the case as it was typed, and what came of it.
pub fn page(frame: &Frame, text: &str, at: &str, outcome: &Outcome<'_>) -> String {
    let examples = EXAMPLES
        .iter()
        .map(|example| ExampleLink { href: format!("/what-if/animal?example={}", example.key), title: example.title })
        .collect();
    let (faults, answer): (&[Fault], Option<AnswerView>) = match outcome {
        Outcome::Blank => (&[], None),
        Outcome::Faults(faults) => (faults, None),
        Outcome::Answered(case, answer) => (&[], Some(view(case, answer))),
    };
    let sentence =
        |text: &str| format!("{}{}", wording::capital(text), if text.ends_with(['.', '?', '!']) { "" } else { "." });
    let faults = faults
        .iter()
        .map(|fault| Fault::new(wording::capital(&fault.what), fault.place.clone(), sentence(&fault.mend)))
        .collect();
    html(&Page { frame, text, at, faults, answer, examples })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_example_is_answered() {
        for example in &EXAMPLES {
            let case = records::case_file::read(example.key, example.text.as_bytes()).unwrap();
            let at = case.at.unwrap();
            assert!(care::assess(&case, at).is_ok(), "{}", example.key);
        }
    }
}
