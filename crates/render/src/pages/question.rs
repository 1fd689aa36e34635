//! The questions about heat, humidity, thawing and growth: their list, and each with its form and its answer.

use askama::Template;
use care::twin::description;
use care::what_if::{Entry, Field as Asked, Group, Known, Question, Reckoning};
use records::facts::{Enclosure, Heater, HeaterKind};
use records::{Fact, Fault};

use super::form::{self, Control, Field, Opt, TIME};
use super::frame::Frame;
use super::html;
use super::reckoned::{self, ReckonedView};
use crate::amounts;
use crate::wording::{self, Clock};

/// The field that names the enclosure on record.
pub const ENCLOSURE: &str = "enclosure";
/// The field that names the animal on record.
pub const ANIMAL: &str = "animal";

/// The field that names what a question is about, in words.
struct AboutWhat {
    key: &'static str,
    label: &'static str,
    hint: &'static str,
    none: &'static str,
}

impl AboutWhat {
    fn of(question: Question) -> AboutWhat {
        if question.is_about_an_animal() {
            let hint = "what is recorded of it is what the answer rests on";
            AboutWhat { key: ANIMAL, label: "An animal on record", hint, none: "choose one" }
        } else {
            let hint = "what is recorded of it need not be typed; what you type below takes its place for this answer";
            let none = "none: one that I describe below";
            AboutWhat { key: ENCLOSURE, label: "An enclosure on record", hint, none }
        }
    }
}

struct QuestionLink {
    href: String,
    title: &'static str,
    about: &'static str,
}

#[derive(Template)]
#[template(path = "questions.html")]
struct List<'a> {
    frame: &'a Frame,
    questions: Vec<QuestionLink>,
}

/// All questions as a page.
pub fn list(frame: &Frame) -> String {
    let link = |question: Question| QuestionLink {
        href: format!("/what-if/{}", question.key()),
        title: question.title(),
        about: question.about(),
    };
    html(&List { frame, questions: Question::ALL.into_iter().map(link).collect() })
}

struct GroupView {
    title: &'static str,
    fields: Vec<Field>,
}

#[derive(Template)]
#[template(path = "question.html")]
struct Page<'a> {
    frame: &'a Frame,
    title: &'static str,
    about: &'static str,
    action: String,
    at: Option<&'a str>,
    about_what: AboutWhat,
    subjects: Vec<Opt>,
    chosen: Option<String>,
    groups: Vec<GroupView>,
    extra: Vec<GroupView>,
    extra_is_open: bool,
    faults: Vec<form::FaultLine>,
    answer: Option<ReckonedView>,
    has_card: bool,
    others: Vec<QuestionLink>,
}

/// What a question's page is made of.
pub struct Sheet<'a> {
    /// The question.
    pub question: Question,
    /// The fields as they were typed.
    pub typed: &'a [(String, String)],
    /// The moment asked about, as typed.
    pub at: Option<&'a str>,
    /// What it can be about: the enclosures or the animals on record, id and name.
    pub subjects: &'a [(String, String)],
    /// The one that is chosen.
    pub subject: Option<&'a str>,
    /// What is on record.
    pub known: &'a Known,
    /// What came of it, where it was asked.
    pub outcome: Option<Result<&'a Reckoning, &'a [Fault]>>,
}

/// What is recorded of the enclosure, its first heater and the house, by the key of the field that asks for it.
fn recorded(known: &Known) -> Vec<(String, String)> {
    let mut facts: Vec<Fact> = Vec::new();
    if let Some(place) = &known.place {
        facts.push(Fact::Enclosure(place.enclosure.clone()));
        facts.extend(description::strongest_first(&place.heaters).into_iter().next().map(Fact::Heater));
    }
    facts.extend(known.household.clone().map(Fact::Household));
    let mut pairs: Vec<(String, String)> = Vec::new();
    for fact in &facts {
        for (key, raw) in fact.fields(&known.zone) {
            let key = if matches!(fact, Fact::Heater(_)) && key == "kind" { "heater" } else { key };
            pairs.push((key.to_owned(), raw.shown()));
        }
    }
    if let Some(resident) = known.place.iter().flat_map(|place| &place.residents).next() {
        let name = resident.profile.common_names.first().unwrap_or(&resident.profile.scientific_name);
        pairs.push(("species".to_owned(), name.clone()));
    }
    pairs
}

/// The names of species that can be typed.
fn species_names() -> Vec<String> {
    let own = species::library().profiles.iter().filter(|profile| !profile.general);
    let mut names: Vec<String> =
        own.map(|profile| profile.common_names.first().unwrap_or(&profile.scientific_name).clone()).collect();
    names.sort_by_key(|name| name.to_lowercase());
    names
}

fn control(field: &Asked, typed: &[(String, String)], on_record: Option<&str>) -> Control {
    let get = |key: &str| typed.iter().find(|(name, _)| name == key).map_or(String::new(), |(_, value)| value.clone());
    let value = get(field.key);
    let place = on_record.map_or(String::new(), |words| format!("on record: {words}"));
    let line = |unit, numeric| Control::Line {
        value: value.clone(),
        unit,
        numeric,
        list: if field.key == "species" { species_names() } else { Vec::new() },
        place: place.clone(),
    };
    let options = |empty: String, list: Vec<(&str, String)>| -> Vec<Opt> {
        let first = Opt { value: String::new(), text: empty, chosen: value.is_empty() };
        let rest = list.into_iter().map(|(key, text)| Opt {
            chosen: key == value,
            value: key.to_owned(),
            text: wording::capital(&text),
        });
        std::iter::once(first).chain(rest).collect()
    };
    let word_of = |list: &[(&str, String)]| {
        let words = on_record.map(|key| list.iter().find(|(one, _)| *one == key).map_or(key, |(_, text)| text));
        words.map_or("not told".to_owned(), |words| format!("on record: {words}"))
    };
    match field.entry {
        Entry::Number(unit) => line(amounts::sign(unit), true),
        Entry::Count => line("", true),
        Entry::Text => line("", false),
        Entry::Clock => Control::Clock { value },
        Entry::Lines => Control::Area { value },
        Entry::Choice(words) => {
            let list = words();
            Control::Select { options: options(word_of(&list), list) }
        }
        Entry::Flag => {
            let list = vec![("true", "yes".to_owned()), ("false", "no".to_owned())];
            Control::Radio { options: options(wording::capital(&word_of(&list)), list) }
        }
        Entry::Moment => {
            let (date, time) = form::moment_parts(&value, &get(&format!("{}{TIME}", field.key)));
            Control::Moment { date, time }
        }
    }
}

/// Id of the element of a field.
fn id(key: &str) -> String {
    format!("f-{key}")
}

fn groups(fields: &[(Group, Field)]) -> Vec<GroupView> {
    let mut groups: Vec<GroupView> = Vec::new();
    for (group, field) in fields {
        let title = group.title();
        match groups.iter_mut().find(|one| one.title == title) {
            Some(one) => one.fields.push(field.clone()),
            None => groups.push(GroupView { title, fields: vec![field.clone()] }),
        }
    }
    groups
}

/// The enclosure that the drawing shows: as it is recorded, with what was typed in its place.
fn drawn(sheet: &Sheet<'_>) -> (Enclosure, Vec<Heater>) {
    use records::choice::Choice;
    let get = |key: &str| {
        sheet.typed.iter().find(|(name, value)| name == key && !value.is_empty()).map(|(_, value)| value.trim())
    };
    let place = sheet.known.place.clone().unwrap_or_default();
    let (mut enclosure, mut heaters) = (place.enclosure, place.heaters);
    enclosure.lid = get("lid").and_then(Choice::from_key).or(enclosure.lid);
    enclosure.length_cm = get("length_cm").and_then(records::fields::read_number).or(enclosure.length_cm);
    if let Some(kind) = get("heater").and_then(HeaterKind::from_key) {
        heaters = vec![Heater::of(kind)];
    }
    (enclosure, heaters)
}

/// The page of one question.
pub fn page(frame: &Frame, sheet: &Sheet<'_>) -> String {
    let question = sheet.question;
    let clock = Clock::new(&sheet.known.zone, sheet.known.now);
    let asked = question.fields();
    let on_record = recorded(sheet.known);
    let faults: &[Fault] = match sheet.outcome {
        Some(Err(faults)) => faults,
        _ => &[],
    };
    let labels: Vec<(&str, &str)> = asked.iter().map(|field| (field.key, field.label)).collect();
    let view = |field: &Asked| {
        let words = on_record.iter().find(|(key, _)| key == field.key).map(|(_, value)| value.as_str());
        let here = faults.iter().filter(|fault| fault.place == field.key);
        let here: Vec<String> = here.map(|fault| form::in_words(fault, &labels)).collect();
        let view = Field {
            key: field.key.to_owned(),
            id: id(field.key),
            label: field.label,
            hint: field.hint,
            needed: false,
            control: control(field, sheet.typed, words),
            fault: (!here.is_empty()).then(|| here.join(" ")),
        };
        (field.group, view)
    };
    let (extra, main): (Vec<&Asked>, Vec<&Asked>) = asked.iter().partition(|field| field.extra);
    let extra: Vec<(Group, Field)> = extra.into_iter().map(view).collect();
    let main: Vec<(Group, Field)> = main.into_iter().map(view).collect();
    let target = |fault: &Fault| asked.iter().find(|field| field.key == fault.place).map(|field| id(field.key));
    let option = |value: &str, text: &str| Opt {
        value: value.to_owned(),
        text: text.to_owned(),
        chosen: sheet.subject.unwrap_or_default() == value,
    };
    let about_what = AboutWhat::of(question);
    let mut subjects = Vec::new();
    if !sheet.subjects.is_empty() {
        subjects.push(option("", about_what.none));
        subjects.extend(sheet.subjects.iter().map(|(id, name)| option(id, name)));
    }
    let answer = match sheet.outcome {
        Some(Ok(answer)) => {
            let (enclosure, heaters) = drawn(sheet);
            let fields: Vec<&str> = asked.iter().map(|field| field.key).collect();
            Some(reckoned::view(answer, &clock, &enclosure, &heaters, &fields))
        }
        _ => None,
    };
    let other = |one: &Question| *one != question;
    html(&Page {
        frame,
        title: question.title(),
        about: question.about(),
        action: format!("/what-if/{}", question.key()),
        at: sheet.at,
        chosen: sheet.subjects.iter().find(|(id, _)| Some(id.as_str()) == sheet.subject).map(|(_, name)| name.clone()),
        about_what,
        subjects,
        extra_is_open: extra.iter().any(|(_, field)| field.is_touched()),
        groups: groups(&main),
        extra: groups(&extra),
        faults: faults
            .iter()
            .map(|fault| form::FaultLine { says: form::in_words(fault, &labels), target: target(fault) })
            .collect(),
        has_card: question == Question::PowerCut && answer.is_some(),
        answer,
        others: Question::ALL
            .into_iter()
            .filter(other)
            .map(|one| QuestionLink { href: format!("/what-if/{}", one.key()), title: one.title(), about: one.about() })
            .collect(),
    })
}
