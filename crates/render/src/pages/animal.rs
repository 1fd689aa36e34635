//! One animal: what stands now and why, its life strip, what comes, what is missing, and everything written down.

use askama::Template;
use care::answer::{AgeDays, Answer, DateRange, Missing, ValueRange};
use records::facts::{Kind, Meal, Outcome, Shed, Weighing};
use records::{Case, Fact};
use units::Moment;

use super::form::{self, Form};
use super::frame::Frame;
use super::html;
use super::parts::{
    self, About, Button, DueView, FindingView, HoldView, Link, PreyView, Quick, RecordIn, RecordLine, Rows, StateView,
};
use super::study::{self, DetailLink};
use crate::strip::{self, Span, Strip};
use crate::wording::{self, Clock};
use care::growth::past::Past;

/// What the page is made of.
pub struct Sheet<'a> {
    /// Its id.
    pub id: String,
    /// The record that holds who it is now, to be corrected.
    pub about_record: String,
    /// All that is known of it.
    pub case: &'a Case,
    /// What that means.
    pub answer: &'a Answer,
    /// How the models did so far.
    pub past: &'a Past,
    /// Its enclosure: id and name.
    pub enclosure: Option<(String, String)>,
    /// How its stay ended.
    pub ending: Option<String>,
    /// Everything written down, newest first.
    pub records: Vec<RecordIn<'a>>,
    /// How much of its life is shown.
    pub span: Span,
    /// Are all records shown?
    pub all_records: bool,
    /// The moment for forms, as a date and time field hold it.
    pub now_field: String,
    /// Makes a new name for a record.
    pub new_id: &'a mut dyn FnMut() -> String,
    /// Can anything be written down?
    pub writable: bool,
}

/// A fact beside the name.
struct About2 {
    label: &'static str,
    says: String,
    href: Option<String>,
}

/// Something that is likely to come.
pub(crate) struct Coming {
    pub what: String,
    pub when: String,
    pub sure: Option<String>,
}

impl Coming {
    fn new(what: impl Into<String>, when: String, sure: Option<String>) -> Coming {
        Coming { what: what.into(), when, sure }
    }
}

struct SpanLink {
    text: &'static str,
    href: Option<String>,
}

struct StripRow {
    when: String,
    what: &'static str,
    says: String,
}

struct StripView {
    desk: String,
    phone: String,
    spans: Vec<SpanLink>,
    rows: Vec<StripRow>,
    has_open: bool,
    has_struck: bool,
    has_rough: bool,
    has_future: bool,
    has_past: bool,
    score: Option<String>,
}

struct LogLink {
    text: &'static str,
    href: String,
}

#[derive(Template)]
#[template(path = "animal.html")]
struct Page<'a> {
    frame: &'a Frame,
    name: String,
    species: Link,
    about: Vec<About2>,
    ending: Option<String>,
    correct: String,
    now: NowView,
    strip: Option<StripView>,
    coming: Vec<Coming>,
    ration: Option<String>,
    details: Vec<DetailLink>,
    missing: Vec<Link>,
    meal: Option<Form>,
    weight: Option<Form>,
    shed_steps: Option<Quick>,
    shed_form: String,
    other: Vec<LogLink>,
    records: Vec<RecordLine>,
    more_records: Option<Link>,
}

/// What stands now: the part that the page of an animal and What-if share.
pub(crate) struct NowView {
    pub states: Vec<StateView>,
    pub findings: Vec<FindingWithId>,
    pub due: Vec<DueView>,
    pub holds: Vec<HoldView>,
    pub prey: Option<PreyView>,
    pub assumed: Vec<String>,
}

/// A finding with the name under which it is linked.
pub(crate) struct FindingWithId {
    pub id: Option<&'static str>,
    pub finding: FindingView,
}

pub(crate) fn now_view(answer: &Answer, rows: &mut Rows<'_>, about: &About<'_>) -> NowView {
    let clock = rows.clock;
    let mut seen: Vec<&str> = Vec::new();
    let findings = answer
        .findings
        .iter()
        .map(|one| {
            let id = records::choice::Choice::key(one.code);
            let first = !seen.contains(&id);
            seen.push(id);
            FindingWithId { id: first.then_some(id), finding: parts::finding(one, clock) }
        })
        .collect();
    NowView {
        states: parts::states(&answer.states, clock),
        findings,
        due: answer.due.iter().map(|due| rows.due(due, about)).collect(),
        holds: parts::holds(&answer.holds, clock),
        prey: parts::prey(answer),
        assumed: answer.assumed.clone(),
    }
}

/// What an answer knows of prey and courses, for the rows of its tasks.
pub(crate) fn about<'a>(answer: &Answer, case: &Case, id: &'a str, name: &'a str) -> About<'a> {
    let prey = answer.prey.as_ref();
    About {
        animal: id,
        name,
        prey_classes: prey
            .map(|prey| prey.classes.iter().map(|class| records::choice::Choice::key(*class).to_owned()).collect())
            .unwrap_or_default(),
        prey_mass_g: prey.and_then(|prey| prey.mass_g),
        courses: courses(case),
    }
}

/// The courses that were prescribed, the newest first, each name once.
pub fn courses(case: &Case) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for course in case.timeline.treatments.iter().rev() {
        let open = course.doses.is_none_or(|doses| (course.given.len() as u32) < doses);
        if open && !names.contains(&course.name) {
            names.push(course.name.clone());
        }
    }
    names
}

/// What an animal is called: its name, else its species.
pub fn called(case: &Case) -> String {
    case.animal.name.clone().unwrap_or_else(|| super::species::common(&case.animal.species))
}

fn age(age: AgeDays) -> String {
    const YEAR: f64 = 365.25;
    let say = |days: f64| {
        let (years, months) = ((days / YEAR).floor(), ((days % YEAR) / (YEAR / 12.0)).floor());
        match (years as u64, months as u64) {
            (0, 0) => wording::counted(days.max(0.0).floor() as usize, "day", "days"),
            (0, months) => wording::counted(months as usize, "month", "months"),
            (years, 0) => wording::counted(years as usize, "year", "years"),
            (years, months) if years < 4 => {
                format!(
                    "{} {}",
                    wording::counted(years as usize, "year", "years"),
                    wording::counted(months as usize, "month", "months")
                )
            }
            (years, _) => wording::counted(years as usize, "year", "years"),
        }
    };
    let (low, high) = (say(age.low), say(age.high));
    if low == high { low } else { format!("about {}", say(age.middle())) }
}

fn about_lines(sheet: &Sheet<'_>, clock: &Clock) -> Vec<About2> {
    let animal = &sheet.case.animal.it;
    let line = |label, says: String| About2 { label, says, href: None };
    let mut lines = Vec::new();
    lines.extend(animal.sex.map(|sex| line("Sex", wording::sex(sex).to_owned())));
    lines.extend(sheet.answer.stage.map(|stage| line("Stage", wording::stage(stage).to_owned())));
    lines.extend(sheet.answer.age_days.map(|days| line("Age", age(days))));
    let weighing = sheet.case.timeline.weighings.last();
    lines.extend(weighing.map(|one| {
        let guess = if one.estimated { ", estimated" } else { "" };
        line("Weight", format!("{}{guess} ({})", wording::mass(one.mass_g), clock.ago(one.at.from)))
    }));
    let long = sheet.case.timeline.measurements.iter().rev().find_map(|one| one.total_length_cm.map(|cm| (cm, one.at)));
    lines.extend(long.map(|(cm, at)| line("Length", format!("{} ({})", wording::length(cm), clock.ago(at.from)))));
    lines.extend(animal.arrived.map(|when| line("Arrived", clock.when(when))));
    lines.extend(sheet.enclosure.as_ref().map(|(id, name)| About2 {
        label: "Enclosure",
        says: name.clone(),
        href: Some(format!("/enclosures/{id}")),
    }));
    lines
}

/// What is likely to come, in words.
pub(crate) fn coming(answer: &Answer, clock: &Clock) -> (Vec<Coming>, Option<String>) {
    let mut lines = Vec::new();
    for due in &answer.ahead {
        let by = due.by.map(|by| format!("waiting is fine until {}", clock.moment(by)));
        lines.push(Coming::new(wording::task(due.task), clock.moment(due.from), by));
    }
    let forecasts = &answer.forecasts;
    let ranges = [
        ("Next meal likely taken", &forecasts.next_meal),
        ("Next shed likely", &forecasts.next_shed),
        ("Next class of prey likely", &forecasts.prey_step_up),
        ("Larger enclosure likely needed", &forecasts.enclosure_step_up),
    ];
    for (what, range) in ranges {
        lines.extend(range.as_ref().map(|range| dates(what, range, clock)));
    }
    lines.extend(last_value("Weight", &forecasts.mass, clock, wording::masses));
    let lengths = |low: f64, high: f64| wording::range(low.round(), high.round(), "cm");
    lines.extend(last_value("Length", &forecasts.length, clock, lengths));
    (lines, forecasts.assumes.clone())
}

fn dates(what: &str, range: &DateRange, clock: &Clock) -> Coming {
    let span = clock.days(range.low, range.high);
    let middle = clock.day(range.mid);
    let likely = (middle != span).then(|| format!("most likely {middle}"));
    Coming::new(what, span, likely)
}

fn last_value(what: &str, values: &[ValueRange], clock: &Clock, words: impl Fn(f64, f64) -> String) -> Option<Coming> {
    let last = values.last().filter(|last| clock.now() < last.at)?;
    Some(Coming::new(format!("{what} on {}", clock.day(last.at)), words(last.low, last.high), None))
}

fn missing_link(what: Missing, sheet: &Sheet<'_>) -> Link {
    let kind = wording::missing_kind(what);
    let back = crate::address::encoded(&format!("/animals/{}", sheet.id));
    let href = match (kind, &sheet.enclosure) {
        (Kind::Animal, _) => format!("/records/{}/correct?back={back}", sheet.about_record),
        (Kind::Enclosure | Kind::Heater, Some((id, _))) => format!("/enclosures/{id}"),
        (Kind::Enclosure | Kind::Heater, None) => format!("/animals/{}/log/stay?back={back}", sheet.id),
        _ => format!("/animals/{}/log/{kind}?back={back}", sheet.id),
    };
    Link::to(wording::missing(what), href)
}

fn strip_rows(sheet: &Sheet<'_>, clock: &Clock, since: Moment) -> Vec<StripRow> {
    let case = sheet.case;
    let mut rows: Vec<(Moment, StripRow)> = Vec::new();
    let mut add = |at: units::When, what: &'static str, fact: Fact, more: Option<String>| {
        if since <= at.from {
            let mut says = wording::fact(&fact, clock);
            says.extend(more.map(|more| format!("; {more}")));
            rows.push((at.from, StripRow { when: clock.in_table(at), what, says }));
        }
    };
    for one in &case.timeline.weighings {
        let it: &Weighing = one;
        let likely = strip::was_likely(&sheet.past.likely, it.at.middle());
        add(it.at, "weight", Fact::Weighing(it.clone()), likely);
    }
    for one in &case.timeline.meals {
        let it: &Meal = one;
        add(it.at, "meal", Fact::Meal(it.clone()), None);
    }
    for one in &case.timeline.sheds {
        let it: &Shed = one;
        if let Some(at) = it.steps().last() {
            add(at, "shed", Fact::Shed(it.clone()), None);
        }
    }
    for one in &case.timeline.signs {
        add(one.at, "sign", Fact::Sign(one.it.clone()), None);
    }
    rows.sort_by_key(|row| std::cmp::Reverse(row.0));
    rows.into_iter().map(|(_, row)| row).collect()
}

fn strip_view(sheet: &Sheet<'_>, name: &str, clock: &Clock) -> Option<StripView> {
    let timeline = sheet.case.timeline.as_of(clock.now());
    let draw =
        |size| Strip::new(name, &timeline, (&sheet.answer.forecasts, &sheet.past.likely), clock, sheet.span, size);
    let (desk, phone) = (draw(strip::DESK)?, draw(strip::PHONE)?);
    let days = match sheet.span {
        Span::HalfYear => 183.0,
        Span::TwoYears => 731.0,
        Span::Whole => f64::from(u16::MAX),
    };
    let since = clock.now().plus_days(-days);
    let spans = Span::ALL
        .iter()
        .map(|span| SpanLink {
            text: span.words(),
            href: (*span != sheet.span).then(|| format!("/animals/{}?span={}#strip", sheet.id, span.key())),
        })
        .collect();
    Some(StripView {
        has_open: desk.meals.iter().any(|meal| meal.tick == strip::Tick::Open),
        has_struck: desk.meals.iter().any(|meal| meal.tick == strip::Tick::Struck),
        has_rough: desk.sheds.iter().any(|shed| shed.rough),
        has_future: !desk.future.is_empty() || desk.next_meal.is_some() || desk.next_shed.is_some(),
        has_past: 1 < desk.past.len(),
        score: sheet.past.score.as_deref().map(wording::kept),
        desk: desk.svg(),
        phone: phone.svg(),
        spans,
        rows: strip_rows(sheet, clock, since),
    })
}

/// The kinds that are written down less often, in the order in which they are offered.
const OTHER: [Kind; 14] = [
    Kind::Sign,
    Kind::Measurement,
    Kind::Handling,
    Kind::Cleaning,
    Kind::Reading,
    Kind::Seen,
    Kind::Note,
    Kind::Planned,
    Kind::Treatment,
    Kind::Dose,
    Kind::Breeding,
    Kind::Stay,
    Kind::Override,
    Kind::Ending,
];

/// The page of one animal.
pub fn page(frame: &Frame, sheet: Sheet<'_>) -> String {
    const LATEST: usize = 30;
    let clock = Clock::new(&sheet.answer.zone, sheet.answer.at);
    let name = called(sheet.case);
    let back = format!("/animals/{}", sheet.id);
    let strip = strip_view(&sheet, &name, &clock);
    let about_facts = about_lines(&sheet, &clock);
    let missing = sheet.answer.missing.iter().map(|what| missing_link(*what, &sheet)).collect();
    let (coming, ration) = coming(sheet.answer, &clock);
    let total = sheet.records.len();
    let shown = if sheet.all_records { total } else { total.min(LATEST) };
    let more_records = (shown < total)
        .then(|| Link::to(format!("all {total} records"), format!("/animals/{}?records=all#records", sheet.id)));
    let records = sheet.records.iter().take(shown).map(|record| record.line(&clock)).collect();
    let about = about(sheet.answer, sheet.case, &sheet.id, &name);
    let mut rows = Rows { clock: &clock, new_id: sheet.new_id, back: &back, on: None, writable: sheet.writable };
    let now = now_view(sheet.answer, &mut rows, &about);
    let prey = about.prey_classes.first().cloned().unwrap_or_default();
    let mut log_form = |kind: Kind, prefix: &str, typed: Vec<(String, String)>, submit: &str| -> Option<Form> {
        sheet.writable.then(|| Form {
            action: format!("/animals/{}/log/{kind}", sheet.id),
            hidden: vec![("id".into(), (rows.new_id)()), ("back".into(), back.clone())],
            submit: submit.to_owned(),
            ..form::form(kind, prefix, &form::Filling { typed: &typed, ..form::Filling::default() })
        })
    };
    let at = || ("at".to_owned(), sheet.now_field.clone());
    let outcome = ("outcome".to_owned(), records::choice::Choice::key(Outcome::Taken).to_owned());
    let meal = log_form(
        Kind::Meal,
        "meal",
        vec![at(), ("prey".into(), prey), ("count".into(), "1".into()), outcome],
        "Write the meal down",
    );
    let weight = log_form(Kind::Weighing, "weight", vec![at()], "Write the weight down");
    let shed_steps = sheet.writable.then(|| Quick {
        action: format!("/animals/{}/log/shed", sheet.id),
        hidden: vec![("id".into(), (rows.new_id)()), ("back".into(), back.clone())],
        number: None,
        buttons: vec![
            Button { text: "Dull now", name: "dull_at", value: "now".into(), main: false },
            Button { text: "Eyes milky", name: "blue_at", value: "now".into(), main: false },
            Button { text: "Eyes clear again", name: "cleared_at", value: "now".into(), main: false },
            Button { text: "Off, in one piece", name: "shed_at_whole", value: "now".into(), main: false },
        ],
        more: None,
    });
    let query = format!("back={}", crate::address::encoded(&back));
    let other = OTHER
        .iter()
        .filter(|_| sheet.writable)
        .map(|kind| LogLink { text: form::title(*kind), href: format!("/animals/{}/log/{kind}?{query}", sheet.id) })
        .collect();
    html(&Page {
        frame,
        species: super::species::link(&sheet.case.animal.species, &sheet.answer.species),
        about: about_facts,
        ending: sheet.ending,
        correct: format!("/records/{}/correct?{query}", sheet.about_record),
        now,
        strip,
        coming,
        ration,
        details: study::links(&sheet.id, None, None),
        missing,
        meal,
        weight,
        shed_steps,
        shed_form: format!("/animals/{}/log/shed?{query}", sheet.id),
        other,
        records,
        more_records,
        name,
    })
}
