//! Whole answers as they stand in the window.

use std::borrow::Cow;

use care::Answer;
use care::answer::{
    Action, AgeDays, Because, Code, DateRange, Due, Finding, Forecasts, Hold, Missing, PreyAdvice, ProfileUsed,
    Severity, SourceRef, Standing, State, Sure, Task,
};
use care::rounds::{Brief, Passed, Place, Rounds};
use records::facts::{Prey, Stage};
use species::Status;
use units::{Moment, Zone};

use super::Look;

fn zone() -> Zone {
    Zone::named("Europe/Lisbon").unwrap()
}

fn at(text: &str) -> Moment {
    zone().read(text).unwrap().from
}

fn from_memory() -> SourceRef {
    SourceRef { key: Cow::Borrowed("review"), status: Status::FromMemory }
}

/// An animal that ate yesterday, wheezes, and is weighed tomorrow.
fn wheezing() -> Answer {
    let because =
        |rule, why: &str, until: &str| Because { rule, why: why.into(), records: Vec::new(), until: Some(at(until)) };
    Answer {
        at: at("2027-05-20T19:30"),
        zone: zone(),
        species: "corn_snake".into(),
        profile: ProfileUsed::Own,
        name_as_given: "corn snake".into(),
        stage: Some(Stage::Adult),
        age_days: Some(AgeDays { low: 1_800.0, high: 1_830.0 }),
        states: vec![Standing {
            state: State::Digesting,
            since: at("2027-05-19T20:00"),
            until: Some(at("2027-05-22T20:00")),
            why: "It ate 26 g.".into(),
        }],
        holds: vec![Hold {
            action: Action::Handle,
            from: at("2027-05-19T20:00"),
            until: Some(at("2027-05-22T20:00")),
            ends_with: None,
            because: vec![
                because("ill", "Ill: handled only to help it.", "2027-05-22T20:00"),
                because("after-meal", "It ate 26 g, 5 % of its mass.", "2027-05-21T20:00"),
            ],
        }],
        due: vec![Due {
            task: Task::VetVisit,
            from: at("2027-05-20"),
            by: Some(at("2027-05-22")),
            rule: "vet-visit",
            why: "Within a day or two.".into(),
            records: Vec::new(),
        }],
        ahead: vec![Due {
            task: Task::Weigh,
            from: at("2027-05-21"),
            by: None,
            rule: "weigh",
            why: "Last weighed a month ago.".into(),
            records: Vec::new(),
        }],
        findings: vec![Finding {
            code: Code::Breathing,
            severity: Severity::Vet,
            says: "It wheezes since yesterday, and breathes with its mouth open when it is lifted out.".into(),
            does: "Have it seen within a day or two.".into(),
            caution: Some("This is no diagnosis."),
            records: Vec::new(),
            rule: "breathing",
            value: Some(24.0),
            unit: Some("°C"),
            source: vec![from_memory()],
            sure: Sure::Likely,
        }],
        prey: Some(PreyAdvice {
            mass_g: Some((20.0, 35.0)),
            classes: vec![Prey::MouseAdult, Prey::MouseJumbo],
            diameter_limit_mm: Some(31.0),
            why: "4 to 7 % of 500 g.".into(),
            source: vec![from_memory()],
        }),
        forecasts: Forecasts {
            next_meal: Some(DateRange { low: at("2027-06-01"), mid: at("2027-06-01"), high: at("2027-06-01") }),
            next_shed: Some(DateRange { low: at("2027-06-05"), mid: at("2027-06-12"), high: at("2027-06-20") }),
            ..Forecasts::default()
        },
        missing: vec![Missing::Humidity, Missing::Girth],
        assumed: vec!["The cool end was not measured.".into()],
    }
}

#[test]
fn an_answer_says_what_is_grave_first_and_when_it_is_free_again() {
    let text = super::answer(&wheezing(), Some("Fern"), Look { width: 60, why: false });
    let expected = "\
Fern, corn snake, adult, 4 years old. Thursday 20 May,
19:30.

Call a reptile veterinarian: It wheezes since yesterday, and
  breathes with its mouth open when it is lifted out.
  Have it seen within a day or two.
  Caution: This is no diagnosis.

Digesting  until Saturday 20:00

Must wait
  No handling  until Saturday 20:00. Ill: handled only to
               help it.

Due now
  Call a reptile veterinarian  today, waiting is fine until
                               Saturday. Within a day or
                               two.

Ahead
  Weigh  from tomorrow. Last weighed a month ago.

Prey that fits: 20–35 g, adult mouse or jumbo mouse, no
  thicker than 31 mm.

Likely
  Next meal taken  1 June
  Next shed        5 to 20 June, most likely 12 June

Would help most to know: the humidity; its girth at the
  widest part.

The cool end was not measured.
";
    assert_eq!(text, expected);
}

#[test]
fn reasons_and_sources_come_on_request() {
    let text = super::answer(&wheezing(), None, Look { width: 100, why: true });
    for line in [
        "Corn snake, adult, 4 years old. Thursday 20 May, 19:30.",
        "  [rule breathing, line 24 °C; likely; source review (from memory)]",
        "Digesting  It ate 26 g. (until Saturday 20:00)",
        "  No handling  until Saturday 20:00. Ill: handled only to help it. It ate 26 g, 5 % of its mass.",
        "               [rule ill, after-meal]",
        "  4 to 7 % of 500 g. [source review (from memory)]",
    ] {
        assert!(text.lines().any(|one| one == line), "{line}\n{text}");
    }
}

#[test]
fn the_walk_goes_room_by_room_and_counts_the_prey_to_thaw() {
    let passed = |name: &str, answer: &Answer| Passed {
        id: name.into(),
        name: name.into(),
        species: "corn snake".into(),
        mass_g: Some(500.0),
        brief: Brief::of(answer),
    };
    let quiet = Answer { states: vec![], holds: vec![], due: vec![], findings: vec![], ..wheezing() };
    let hungry = Answer {
        due: vec![Due {
            task: Task::OfferMeal,
            from: at("2027-05-19"),
            by: Some(at("2027-05-24")),
            rule: "next-meal",
            why: "Last meal.".into(),
            records: vec![],
        }],
        ..quiet.clone()
    };
    let place = |name: &str, room: &str, animals| Place {
        id: Some(name.into()),
        name: name.into(),
        room: room.into(),
        animals,
    };
    let walk = Rounds::new(
        at("2027-05-20T19:30"),
        zone(),
        vec![
            place("B1", "back room", vec![passed("Pip", &wheezing())]),
            place("S1", "study", vec![passed("Fern", &hungry), passed("Moss", &quiet)]),
        ],
    );
    let expected = "\
Thursday 20 May, 19:30. Three animals in two enclosures.
One needs a reptile veterinarian; one meal is due.

back room
  B1  Pip, corn snake, 500 g; digesting
        Call a reptile veterinarian: It wheezes since yesterday, and breathes
          with its mouth open when it is lifted out.
          Have it seen within a day or two.
          Caution: This is no diagnosis.
        Call a reptile veterinarian  today, waiting is fine until Saturday
        No handling                  until Saturday 20:00

study
  S1  Fern, corn snake, 500 g
        Offer a meal  adult mouse, 20–35 g (since yesterday, waiting is fine
                      until Monday)
      Moss, corn snake, 500 g: nothing to do

To thaw
  1 adult mouse  for Fern
  Out of the freezer from 19:35 on, offered at 20:35.
  1.  19:35  Take 1 adult mouse out of the freezer and into cool water of
             18 °C, in a bag with the air pressed out.
  2.  20:19  Feel belly and head of 1 adult mouse: no hard core left. Then
             into the warm bath, 3 l of water at 40 °C by the thermometer, in
             a bag with the air pressed out.
  3.  20:30  Take 1 adult mouse out of the bath and pat dry with paper.
  4.  20:35  Offer 1 adult mouse on long tongs.
  5.  20:45  Offer 1 adult mouse no later than now.
  6.  22:35  Bin what is left of 1 adult mouse; never freeze it again.
  7.         Wash the bowl, the tongs, the surfaces and your hands with soap.
  Another hour, other prey: `warmside thaw`.
";
    assert_eq!(super::rounds(&walk, None, Look { width: 78, why: false }), expected);
    let study = super::rounds(&walk, Some("Study"), Look { width: 78, why: true });
    assert!(!study.contains("Pip") && study.contains("Last meal."), "{study}");
}

#[test]
fn every_species_fits_the_window_and_names_its_sources() {
    let library = species::library();
    for profile in &library.profiles {
        let text = super::profile(profile, library, Look { width: 80, why: false });
        let too_wide =
            text.lines().find(|line| 80 < line.chars().count() && line.contains("  ") && line.trim().contains(' '));
        assert!(
            too_wide.is_none_or(|line| line.trim().rsplit(' ').next().is_some_and(|word| word.contains("//"))),
            "{}: {too_wide:?}",
            profile.key
        );
        assert!(text.contains("\nSources\n"), "{}", profile.key);
    }
    let all = super::profiles(library, Look { width: 80, why: false });
    assert_eq!(
        all.lines().filter(|line| line.contains('(')).count(),
        library.profiles.iter().filter(|profile| !profile.general).count()
    );
}
