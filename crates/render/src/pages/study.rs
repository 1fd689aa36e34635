//! What the records of one animal say about its feeding, its sheds or its condition, with everything behind it.

use askama::Template;
use care::Answer;
use care::condition::SCALE;
use care::study::Study;
use care::what_if::Reckoning;
use records::Case;
use records::facts::Enclosure;

use super::animal::called;
use super::frame::Frame;
use super::html;
use super::parts::{self, SourceLine};
use super::reckoned::{self, ReckonedView};
use crate::score;
use crate::strip::{self, Span, Strip};
use crate::wording::Clock;

/// A page about an animal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Detail {
    /// Ration and refusals.
    Feeding,
    /// The rhythm of its sheds.
    Sheds,
    /// How it stands against itself and others.
    Condition,
}

impl Detail {
    /// All of them, in the order in which they are linked.
    pub const ALL: [Detail; 3] = [Detail::Feeding, Detail::Sheds, Detail::Condition];

    /// The last part of its address.
    pub fn key(self) -> &'static str {
        match self {
            Detail::Feeding => "feeding",
            Detail::Sheds => "sheds",
            Detail::Condition => "condition",
        }
    }

    /// Its title.
    pub fn title(self) -> &'static str {
        match self {
            Detail::Feeding => "Feeding",
            Detail::Sheds => "Sheds",
            Detail::Condition => "Condition",
        }
    }

    /// The studies on it.
    pub fn studies(self) -> &'static [Study] {
        match self {
            Detail::Feeding => &[Study::Ration, Study::Refusals],
            Detail::Sheds => &[Study::Sheds],
            Detail::Condition => &[Study::Condition],
        }
    }
}

/// What the page is made of.
pub struct Sheet<'a> {
    /// The id of the animal.
    pub id: String,
    /// Which page.
    pub detail: Detail,
    /// All that is known of it.
    pub case: &'a Case,
    /// What that means, for the life strip.
    pub answer: &'a Answer,
    /// Each study of the page with what it says.
    pub studies: Vec<(Study, Reckoning)>,
    /// The moment asked about, as typed.
    pub at: Option<&'a str>,
}

struct StudyView {
    id: &'static str,
    title: &'static str,
    about: String,
    answer: ReckonedView,
}

struct StripPair {
    desk: String,
    phone: String,
}

/// One of the five shapes of the scale.
struct ShapeView {
    score: u8,
    word: &'static str,
    section: &'static str,
    elsewhere: &'static str,
    drawing: String,
    is_here: bool,
}

struct ScaleView {
    shapes: Vec<ShapeView>,
    here: Option<String>,
    weigh: String,
    sources: Vec<SourceLine>,
}

/// Another page about the animal, or this one.
pub(crate) struct DetailLink {
    pub text: &'static str,
    pub href: String,
    pub here: bool,
}

#[derive(Template)]
#[template(path = "study.html")]
struct Page<'a> {
    frame: &'a Frame,
    name: String,
    back: String,
    title: &'static str,
    details: Vec<DetailLink>,
    strip: Option<StripPair>,
    studies: Vec<StudyView>,
    scale: Option<ScaleView>,
}

/// Links to the pages about an animal; `here` is the one that is shown.
pub(crate) fn links(id: &str, here: Option<Detail>, at: Option<&str>) -> Vec<DetailLink> {
    let query = at.map_or(String::new(), |at| format!("?at={}", crate::address::encoded(at)));
    let link = |detail: Detail| DetailLink {
        text: detail.title(),
        href: format!("/animals/{id}/{}{query}", detail.key()),
        here: Some(detail) == here,
    };
    Detail::ALL.into_iter().map(link).collect()
}

fn scale(sheet: &Sheet<'_>) -> ScaleView {
    let condition = sheet.studies.iter().find(|(study, _)| *study == Study::Condition);
    let given = condition.and_then(|(_, found)| found.amount("body-score")).map(|one| one.range.mid.round() as u8);
    let near = given.and_then(score::nearest);
    let shapes = SCALE.iter().map(|shape| ShapeView {
        score: shape.score,
        word: shape.word,
        section: shape.section,
        elsewhere: shape.elsewhere,
        drawing: score::drawing(shape, near == Some(shape.score)),
        is_here: near == Some(shape.score),
    });
    let rules = &species::library().rules;
    let sources: Vec<_> = ["bcs_scale", "bcs_shape"]
        .iter()
        .filter_map(|id| rules.iter().find(|rule| rule.id == *id))
        .map(care::answer::SourceRef::rule)
        .collect();
    let back = crate::address::encoded(&format!("/animals/{}/{}", sheet.id, sheet.detail.key()));
    ScaleView {
        shapes: shapes.collect(),
        here: given.map(|score| format!("It was last given a {score}.")),
        weigh: format!("/animals/{}/log/weighing?back={back}", sheet.id),
        sources: parts::sources(&sources),
    }
}

/// The page.
pub fn page(frame: &Frame, sheet: Sheet<'_>) -> String {
    let clock = Clock::new(&sheet.answer.zone, sheet.answer.at);
    let name = called(sheet.case);
    let timeline = sheet.case.timeline.as_of(clock.now());
    let draw = |size| Strip::new(&name, &timeline, (&sheet.answer.forecasts, &[]), &clock, Span::HalfYear, size);
    let strips = (sheet.detail == Detail::Feeding).then(|| draw(strip::DESK).zip(draw(strip::PHONE))).flatten();
    let study = |(study, found): &(Study, Reckoning)| StudyView {
        id: study.key(),
        title: study.title(),
        about: format!("{}.", study.about()),
        answer: reckoned::view(found, &clock, &Enclosure::default(), &[], &[]),
    };
    html(&Page {
        frame,
        back: format!("/animals/{}", sheet.id),
        title: sheet.detail.title(),
        details: links(&sheet.id, Some(sheet.detail), sheet.at),
        strip: strips.map(|(desk, phone)| StripPair { desk: desk.svg(), phone: phone.svg() }),
        studies: sheet.studies.iter().map(study).collect(),
        scale: (sheet.detail == Detail::Condition).then(|| scale(&sheet)),
        name,
    })
}
