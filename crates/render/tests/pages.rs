//! Whole pages of a small household that never changes: what the rules would say is written out here, so that a
//! changed rule changes no page.

#![expect(clippy::unwrap_used, reason = "in a test a surprise is a failure")]

use std::borrow::Cow;
use std::collections::HashMap;

use care::answer::{
    Action, AgeDays, Answer, Because, Code, DateRange, Due, Evidence, Finding, Forecasts, Hold, Missing, PreyAdvice,
    ProfileUsed, Severity, SourceRef, Standing, State, Sure, Task, ValueRange,
};
use care::growth::past::Past;
use care::rounds::{Brief, Passed, Place, Rounds};
use records::facts::{Kind, Prey, Stage};
use records::{Case, Fact, Key, RecordId};
use render::pages::animal::{self, Sheet};
use render::pages::parts::RecordIn;
use render::pages::rounds::{self, Around};
use render::pages::{Frame, Noted, frame::Tab};
use render::strip::Span;
use units::{Moment, When, Zone};

const MEADOW: &str = r#"
zone = "Europe/Lisbon"
[animal]
name = "Meadow"
species = "corn snake"
sex = "male"
hatched = "2025-06-20"
[[weighing]]
at = "2026-08-01T10:00"
mass_g = 92
[[weighing]]
at = "2026-10-01T10:00"
mass_g = 118
[[measurement]]
at = "2026-10-01"
total_length_cm = 71
[[meal]]
at = "2026-09-20"
prey = "mouse-hopper"
mass_g = 9
outcome = "taken"
[[meal]]
at = "2026-09-28"
prey = "mouse-hopper"
mass_g = 9
outcome = "refused"
[[shed]]
dull_at = "2026-08-20"
shed_at = "2026-08-29"
pieces = 1
"#;

fn zone() -> Zone {
    Zone::named("Europe/Lisbon").unwrap()
}

fn at(text: &str) -> Moment {
    zone().read(text).unwrap().from
}

fn now() -> Moment {
    at("2026-10-14T20:00")
}

fn frame(tab: Tab, here: &str, noted: Option<Noted>) -> Frame {
    Frame {
        title: "A page".into(),
        tab,
        style: "/assets/style.css".into(),
        script: "/assets/page.js".into(),
        icon: "/assets/icon.svg".into(),
        writer: Some("Ana".into()),
        here: here.into(),
        noted,
        read_only: None,
    }
}

/// Names of records that never change.
fn counter() -> impl FnMut() -> String {
    let mut number = 0;
    move || {
        number += 1;
        format!("record-{number}")
    }
}

fn evidence(kind: Kind, when: &str) -> Evidence {
    let id = RecordId::read("0192c0f9-0c00-70cf-83e6-778cad54d040");
    Evidence { key: Key { kind, index: 0, line: None, id }, at: zone().read(when) }
}

fn source() -> SourceRef {
    SourceRef { key: Cow::Borrowed("no-such-source"), status: species::Status::FromMemory }
}

fn due(task: Task, from: &str, by: Option<&str>, why: &str) -> Due {
    let records = vec![evidence(Kind::Meal, "2026-09-28")];
    Due { task, from: at(from), by: by.map(at), rule: "a-rule", why: why.into(), records }
}

fn hold(action: Action, until: Option<&str>, ends_with: Option<&'static str>, why: &str) -> Hold {
    let because = Because {
        rule: "a-rule",
        why: why.into(),
        records: vec![evidence(Kind::Shed, "2026-10-12")],
        until: until.map(at),
    };
    Hold { action, from: at("2026-10-12"), until: until.map(at), ends_with, because: vec![because] }
}

fn finding(code: Code, severity: Severity, says: &str, does: &str) -> Finding {
    Finding {
        code,
        severity,
        says: says.into(),
        does: does.into(),
        caution: (severity == Severity::Vet).then_some("This is no diagnosis."),
        records: vec![evidence(Kind::Weighing, "2026-10-01T10:00")],
        rule: "a-rule",
        value: Some(10.0),
        unit: Some("% of body mass"),
        source: vec![source()],
        sure: Sure::Likely,
    }
}

fn answer() -> Answer {
    let range = |low: &str, mid: &str, high: &str| DateRange { low: at(low), mid: at(mid), high: at(high) };
    Answer {
        at: now(),
        zone: zone(),
        species: "corn_snake".into(),
        profile: ProfileUsed::Own,
        name_as_given: "corn snake".into(),
        stage: Some(Stage::Juvenile),
        age_days: Some(AgeDays { low: 481.0, high: 481.0 }),
        states: vec![],
        holds: vec![],
        due: vec![],
        ahead: vec![],
        findings: vec![],
        prey: Some(PreyAdvice {
            mass_g: Some((9.5, 14.0)),
            classes: vec![Prey::MouseHopper, Prey::MouseWeaned],
            diameter_limit_mm: Some(17.0),
            why: "Ten to twelve in a hundred of its weight.".into(),
            source: vec![source()],
        }),
        forecasts: Forecasts {
            next_meal: Some(range("2026-10-14", "2026-10-16", "2026-10-20")),
            next_shed: Some(range("2026-10-30", "2026-11-05", "2026-11-12")),
            mass: vec![
                ValueRange { at: now(), low: 116.0, mid: 120.0, high: 124.0 },
                ValueRange { at: at("2026-11-13"), low: 120.0, mid: 132.0, high: 145.0 },
            ],
            assumes: Some("Every meal taken on its day.".into()),
            ..Forecasts::default()
        },
        missing: vec![Missing::WarmSurfaceTemperature, Missing::EnclosureSize],
        assumed: vec!["Its stage was told by its age.".into()],
    }
}

/// Meadow: a meal is due.
fn meadow() -> Answer {
    Answer {
        due: vec![due(Task::OfferMeal, "2026-10-12", Some("2026-10-18"), "Sixteen days since the last meal it took.")],
        ahead: vec![due(Task::Weigh, "2026-10-31", None, "Every thirty days at this age.")],
        ..answer()
    }
}

/// Tansy: in shed and too dry, with chores open.
fn tansy() -> Answer {
    Answer {
        states: vec![Standing {
            state: State::InShed,
            since: at("2026-10-10"),
            until: None,
            why: "Eyes blue since 12 October.".into(),
        }],
        holds: vec![
            hold(Action::OfferMeal, None, Some("the skin has been off for a day"), "Eyes are blue."),
            hold(Action::Handle, None, Some("the skin is off"), "It sees badly and is easily frightened."),
            hold(Action::Move, None, Some("the skin is off"), "It sees badly and is easily frightened."),
        ],
        due: vec![
            due(Task::ChangeWater, "2026-10-14", None, "Water is changed every day."),
            due(Task::SpotClean, "2026-10-13", None, "Waste is looked for every day."),
            due(Task::Weigh, "2026-10-13", None, "Every thirty days."),
        ],
        findings: vec![
            finding(Code::HumidityLowInShed, Severity::Act, "Too dry for a shed: 24 %.", "Put in a damp hide."),
            finding(Code::Hygiene, Severity::Note, "Wash hands.", ""),
        ],
        ..answer()
    }
}

/// Bramble: lighter than it should be.
fn bramble() -> Answer {
    let says = "10.8 % lighter than in spring, the gut empty both times.";
    Answer {
        due: vec![due(Task::ChangeWater, "2026-10-14", None, "Water is changed every day.")],
        holds: vec![hold(Action::Handle, Some("2026-10-16T20:00"), None, "It ate on 14 October.")],
        findings: vec![finding(Code::MassLossVet, Severity::Vet, says, "Have it seen within a day or two.")],
        ..answer()
    }
}

fn passed(name: &str, species: &str, mass_g: f64, answer: &Answer) -> Passed {
    Passed {
        id: name.to_lowercase(),
        name: name.into(),
        species: species.into(),
        mass_g: Some(mass_g),
        brief: Brief::of(answer),
    }
}

fn record<'a>(id: &str, fact: &'a Fact, about: Option<&str>) -> RecordIn<'a> {
    RecordIn {
        id: id.into(),
        fact,
        happened: fact.when(),
        recorded_at: now(),
        by: "Ana",
        corrects: None,
        why: None,
        corrected_by: None,
        removed: None,
        act: "41".into(),
        about: about.map(str::to_owned),
    }
}

#[test]
fn rounds_of_three_animals() {
    let place = |id: &str, room: &str, animals| Place {
        id: Some(id.into()),
        name: id.to_uppercase(),
        room: room.into(),
        animals,
    };
    let places = vec![
        place("a1", "study", vec![passed("Tansy", "western hognose", 212.0, &tansy())]),
        place("a2", "study", vec![passed("Meadow", "corn snake", 118.0, &meadow())]),
        place("a3", "study", vec![passed("Bramble", "bull snake", 1_168.0, &bramble())]),
        place("b1", "hall", vec![passed("Wren", "corn snake", 640.0, &answer())]),
    ];
    let rounds = Rounds::new(now(), zone(), places);
    let note = Fact::Note(records::facts::Note { at: When::exactly(now()), text: "calm tonight".into() });
    let mut new_id = counter();
    let around = Around {
        now: now(),
        done: vec![record("note-1", &note, Some("Meadow"))],
        courses: HashMap::new(),
        room: None,
        new_id: &mut new_id,
        writable: true,
    };
    let noted = Noted { says: "Noted: Meadow, note: calm tonight".into(), undo: Some("41".into()), redo: false };
    insta::assert_snapshot!(rounds::page(&frame(Tab::Rounds, "/", Some(noted)), &rounds, around));
}

fn case() -> Case {
    records::case_file::read("case.toml", MEADOW.as_bytes()).unwrap()
}

static NO_PAST: Past = Past { likely: Vec::new(), score: None };

fn sheet<'a>(case: &'a Case, answer: &'a Answer, new_id: &'a mut dyn FnMut() -> String) -> Sheet<'a> {
    Sheet {
        id: "meadow".into(),
        about_record: "meadow".into(),
        case,
        answer,
        past: &NO_PAST,
        enclosure: Some(("a2".into(), "A2, study".into())),
        ending: None,
        records: Vec::new(),
        span: Span::Whole,
        all_records: false,
        now_field: "2026-10-14T20:00".into(),
        new_id,
        writable: true,
    }
}

#[test]
fn an_animal_with_a_life() {
    let (case, answer) = (case(), meadow());
    let facts: Vec<Fact> = case.timeline.meals.iter().map(|meal| Fact::Meal(meal.it.clone())).collect();
    let mut records: Vec<RecordIn<'_>> = facts.iter().map(|fact| record("meal", fact, None)).collect();
    records[0].removed = Some(("Ana", now(), Some("another animal")));
    let mut new_id = counter();
    let sheet = Sheet { records, ..sheet(&case, &answer, &mut new_id) };
    insta::assert_snapshot!(animal::page(&frame(Tab::Animals, "/animals/meadow", None), sheet));
}

#[test]
fn nothing_can_be_written_down_while_only_reading() {
    let (case, answer) = (case(), meadow());
    let mut new_id = counter();
    let sheet = Sheet { writable: false, ..sheet(&case, &answer, &mut new_id) };
    let around = frame(Tab::Animals, "/animals/meadow", None);
    let page = animal::page(&Frame { read_only: Some("a newer version wrote it.".into()), ..around }, sheet);
    assert!(page.contains("Reading only:") && !page.contains("<form"), "no form is offered");
}
