//! Rounds: today's walk past every enclosure.

use std::collections::HashMap;

use askama::Template;
use care::answer::{Action, Severity, Task};
use care::rounds::{Brief, Passed, Place, Rounds};
use care::thaw::Timetable;
use records::choice::Choice;
use records::facts::CleaningTask;
use units::{Moment, Precision};

use super::form::Form;
use super::frame::Frame;
use super::html;
use super::parts::{self, About, DueView, FindingView, HoldView, Link, Quick, RecordIn, Rows};
use super::reckoned::{self, StepView};
use crate::wording::{self, Clock};

/// What the page needs beside the walk.
pub struct Around<'a> {
    /// The clock's now; the walk may be about another day.
    pub now: Moment,
    /// What was written down today and holds.
    pub done: Vec<RecordIn<'a>>,
    /// Courses that run, by animal.
    pub courses: HashMap<String, Vec<String>>,
    /// Only this room is walked.
    pub room: Option<String>,
    /// Makes a new name for a record.
    pub new_id: &'a mut dyn FnMut() -> String,
    /// Can anything be written down?
    pub writable: bool,
}

struct AnimalView {
    id: String,
    name: String,
    about: String,
    grave: Vec<FindingView>,
    notes: Vec<FindingView>,
    due: Vec<DueView>,
    holds: Vec<HoldView>,
    is_quiet: bool,
}

/// The chores of a place: a button for each, and one «why» for all.
struct ChoresView {
    forms: Vec<Quick>,
    said: Vec<String>,
    about: String,
    why: parts::Why,
}

struct PlaceView {
    code: String,
    href: Option<String>,
    is_long: bool,
    animals: Vec<AnimalView>,
    due: Vec<DueView>,
    chores: Option<ChoresView>,
    is_quiet: bool,
}

/// A chore that is due in several places of a room, to be written down for all of them at once.
struct Bulk {
    task: &'static str,
    text: String,
    ids: String,
    places: String,
}

struct RoomView {
    name: String,
    bulk: Vec<Bulk>,
    on: Option<String>,
    places: Vec<PlaceView>,
}

/// What was written down at once.
struct DoneLine {
    says: String,
    kind: &'static str,
    written: String,
    act: Option<String>,
}

struct ThawLine {
    says: String,
    who: String,
}

/// When prey leaves the freezer, goes into the bath and is offered.
struct EveningView {
    says: String,
    steps: Vec<StepView>,
    ask: String,
}

struct DayLink {
    text: String,
    href: String,
}

#[derive(Template)]
#[template(path = "rounds.html")]
struct Page<'a> {
    frame: &'a Frame,
    heading: String,
    summary: String,
    days: Vec<DayLink>,
    other_day: Option<String>,
    thaw: Vec<ThawLine>,
    evening: Option<EveningView>,
    restock: Vec<String>,
    rooms: Vec<RoomView>,
    other_rooms: Vec<Link>,
    done: Vec<DoneLine>,
    done_before: Option<String>,
    here: String,
}

/// Above so many animals only one room is shown at a time.
const ROOM_BY_ROOM: usize = 120;

/// Tasks of the place, not of one animal in it.
const OF_THE_PLACE: [Task; 3] = [Task::CheckClimate, Task::ThermostatTest, Task::LampChange];
/// Chores of the place: one tap each.
const CHORES: [(Task, CleaningTask); 3] = [
    (Task::ChangeWater, CleaningTask::Water),
    (Task::SpotClean, CleaningTask::Spot),
    (Task::FullClean, CleaningTask::Full),
];

/// The walk as a page.
pub fn page(frame: &Frame, rounds: &Rounds, around: Around<'_>) -> String {
    let clock = Clock::new(&rounds.zone, rounds.at);
    let real = Clock::new(&rounds.zone, around.now);
    let today = rounds.zone.date(around.now);
    let shown = rounds.zone.date(rounds.at);
    let is_today = today == shown;
    let is_ahead = today < shown;
    let rooms: Vec<&str> = rooms(&rounds.places);
    let many = ROOM_BY_ROOM < rounds.animals().count() && 1 < rooms.len();
    let only = around.room.or_else(|| many.then(|| rooms.first().map(|room| (*room).to_owned())).flatten());
    let day = if is_today { String::new() } else { format!("at={shown}&") };
    let other_rooms = if only.is_some() {
        rooms.iter().map(|room| room_link(room, &day, only.as_deref())).collect()
    } else {
        Vec::new()
    };
    let mut rows = Rows {
        clock: &clock,
        new_id: around.new_id,
        back: &frame.here,
        on: (!is_today).then(|| shown.to_string()),
        writable: around.writable && !is_ahead,
    };
    let mut out: Vec<RoomView> = Vec::new();
    for place in rounds.places.iter().filter(|place| only.as_ref().is_none_or(|room| *room == place.room)) {
        let view = place_view(place, &mut rows, &around.courses);
        match out.last_mut().filter(|room| room.name == place.room) {
            Some(room) => room.places.push(view),
            None => out.push(RoomView {
                name: place.room.clone(),
                bulk: Vec::new(),
                on: rows.on.clone(),
                places: vec![view],
            }),
        }
    }
    if rows.writable {
        for room in &mut out {
            let here: Vec<&Place> = rounds.places.iter().filter(|place| place.room == room.name).collect();
            room.bulk = bulk(&here, rows.new_id);
        }
    }
    let (done, done_before) = done_lines(&around.done, &real);
    let heading = if is_today {
        format!("{} {}, {}", wording::weekday(shown), real.part_of_day(), clock.date(shown))
    } else {
        real.long_date(shown)
    };
    html(&Page {
        frame,
        heading,
        summary: summary(rounds),
        days: days(&real, shown, is_today),
        other_day: (!is_today).then(|| other_day(is_ahead)),
        thaw: thaw(rounds),
        evening: rounds.timetable.as_ref().map(|timetable| evening(timetable, rounds, &clock)),
        restock: restock(rounds),
        rooms: out,
        other_rooms,
        done,
        done_before,
        here: frame.here.clone(),
    })
}

fn other_day(is_ahead: bool) -> String {
    if is_ahead {
        "So it will look if nothing is written down until then.".to_owned()
    } else {
        "So it stood at the end of that day. What you write down here is dated to it.".to_owned()
    }
}

fn rooms(places: &[Place]) -> Vec<&str> {
    let mut rooms: Vec<&str> = Vec::new();
    for place in places {
        if !rooms.contains(&place.room.as_str()) {
            rooms.push(&place.room);
        }
    }
    rooms
}

fn room_link(room: &str, day: &str, only: Option<&str>) -> Link {
    let text = if room.is_empty() { "No room recorded" } else { room };
    let href = format!("/?{day}room={}", crate::address::encoded(room));
    Link { text: text.to_owned(), href: (only != Some(room)).then_some(href) }
}

fn days(clock: &Clock, shown: jiff::civil::Date, is_today: bool) -> Vec<DayLink> {
    use jiff::ToSpan;
    let link = |date: jiff::civil::Date, text: String| {
        let is_now = date == clock.zone().date(clock.now());
        DayLink { text, href: if is_now { "/".to_owned() } else { format!("/?at={date}") } }
    };
    let (before, after) = (shown.saturating_add(-1.day()), shown.saturating_add(1.day()));
    let mut links = vec![link(before, format!("← {}", wording::capital(&clock.near_date(before))))];
    if !is_today {
        links.push(DayLink { text: "Today".to_owned(), href: "/".to_owned() });
    }
    links.push(link(after, format!("{} →", wording::capital(&clock.near_date(after)))));
    links.dedup_by(|a, b| a.href == b.href);
    links
}

/// What the day holds, in one or two sentences.
fn summary(rounds: &Rounds) -> String {
    let mut grave = Vec::new();
    let urgent = rounds.count_worst(Severity::Urgent);
    if 0 < urgent {
        grave.push(format!("{} you now.", wording::capital(&wording::counted(urgent, "animal needs", "animals need"))));
    }
    let vet = rounds.count_worst(Severity::Vet);
    if 0 < vet {
        let (one, many) = ("animal should be seen by a veterinarian", "animals should be seen by a veterinarian");
        grave.push(format!("{}.", wording::capital(&wording::counted(vet, one, many))));
    }
    let kinds = [
        (rounds.count(Task::OfferMeal), "meal", "meals"),
        (rounds.count(Task::Weigh) + rounds.count(Task::QuarantineCheck), "weighing", "weighings"),
        (rounds.count(Task::GiveTreatment), "treatment", "treatments"),
        (places_with(rounds, Task::ChangeWater), "bowl of water", "bowls of water"),
        (places_with(rounds, Task::SpotClean) + places_with(rounds, Task::FullClean), "clean", "cleans"),
    ];
    let work: Vec<String> = kinds
        .into_iter()
        .filter(|(count, ..)| 0 < *count)
        .map(|(count, one, many)| wording::counted(count, one, many))
        .collect();
    let rest = |animal: &&Passed| {
        let waits = |action| animal.brief.hold(action).is_some();
        (waits(Action::OfferMeal) || waits(Action::Handle)) && !animal.brief.is_due(Task::OfferMeal)
    };
    let left_alone = rounds.animals().filter(rest).count();
    let mut sentences = grave;
    if work.is_empty() {
        sentences.push(if sentences.is_empty() {
            "Nothing is due.".to_owned()
        } else {
            "Nothing else is due.".to_owned()
        });
    } else {
        sentences.push(format!("{}.", wording::capital(&wording::listed(&work))));
    }
    if 0 < left_alone {
        let words = wording::counted(left_alone, "animal is to be left alone", "animals are to be left alone");
        sentences.push(format!("{}.", wording::capital(&words)));
    }
    sentences.join(" ")
}

fn places_with(rounds: &Rounds, task: Task) -> usize {
    rounds.places.iter().filter(|place| place.animals.iter().any(|animal| animal.brief.is_due(task))).count()
}

fn thaw(rounds: &Rounds) -> Vec<ThawLine> {
    rounds
        .thaw
        .iter()
        .map(|thaw| ThawLine {
            says: wording::prey_counted(&thaw.class, thaw.count),
            who: wording::names_or_count(&thaw.animals),
        })
        .collect()
}

fn evening(timetable: &Timetable, rounds: &Rounds, clock: &Clock) -> EveningView {
    let prey: Vec<String> = rounds.thaw.iter().map(|thaw| format!("{} {}", thaw.count, thaw.class)).collect();
    EveningView {
        says: wording::evening(timetable, clock),
        steps: timetable.steps.iter().map(|step| reckoned::step(step, clock)).collect(),
        ask: format!("/what-if/thaw?prey={}", crate::address::encoded(&prey.join("\n"))),
    }
}

/// What is to be bought, once for each reason, with the animals that eat it.
pub(crate) fn restock(rounds: &Rounds) -> Vec<String> {
    let mut out: Vec<(&str, Vec<&str>)> = Vec::new();
    for animal in rounds.animals() {
        for due in animal.brief.due.iter().filter(|due| due.task == Task::Restock.key()) {
            match out.iter_mut().find(|(why, _)| *why == due.why) {
                Some((_, names)) => names.push(&animal.name),
                None => out.push((&due.why, vec![&animal.name])),
            }
        }
    }
    out.into_iter().map(|(why, names)| format!("For {}: {why}", wording::names_or_count(&names))).collect()
}

/// Chores that are due in at least two places of a room; each place that has an id of its own counts.
fn bulk(places: &[&Place], new_id: &mut dyn FnMut() -> String) -> Vec<Bulk> {
    let mut out = Vec::new();
    for (task, chore) in CHORES.iter().filter(|(task, _)| *task != Task::FullClean) {
        let open: Vec<&str> = places
            .iter()
            .filter(|place| place.animals.iter().any(|animal| animal.brief.is_due(*task)))
            .filter_map(|place| place.id.as_deref())
            .collect();
        if open.len() < 2 {
            continue;
        }
        let all = if open.len() == places.len() {
            "everywhere".to_owned()
        } else {
            format!("in {}", wording::counted(open.len(), "place", "places"))
        };
        let ids: Vec<String> = open.iter().map(|_| new_id()).collect();
        out.push(Bulk {
            task: chore.key(),
            text: format!("{} {all}", wording::chore_done(*chore)),
            ids: ids.join(","),
            places: open.join(","),
        });
    }
    out
}

/// What was written down today about today, act by act; what is about other days is only counted.
fn done_lines(done: &[RecordIn<'_>], clock: &Clock) -> (Vec<DoneLine>, Option<String>) {
    const SAID_ONE_BY_ONE: usize = 3;
    const MOST: usize = 24;
    let today = clock.zone().date(clock.now());
    let is_of_today = |record: &&RecordIn<'_>| {
        record.happened.is_none_or(|when| when.precision <= Precision::Day && clock.zone().date(when.from) == today)
    };
    let mut acts: Vec<(&str, Vec<&RecordIn<'_>>)> = Vec::new();
    for record in done.iter().filter(is_of_today) {
        match acts.iter_mut().find(|(act, _)| *act == record.act) {
            Some((_, records)) => records.push(record),
            None => acts.push((&record.act, vec![record])),
        }
    }
    let mut lines = Vec::new();
    for (act, records) in acts {
        let whole_act = done.iter().filter(|record| record.act == act).count();
        if SAID_ONE_BY_ONE < records.len() || records.len() < whole_act {
            let mut kinds: Vec<&str> = records.iter().map(|record| wording::kind(record.fact.kind())).collect();
            kinds.sort_unstable();
            kinds.dedup();
            let first = records.first();
            lines.push(DoneLine {
                kind: "Several at once",
                says: format!("{} records: {}", whole_act, wording::listed(&kinds).to_lowercase()),
                written: first.map_or(String::new(), |record| record.line(clock).written),
                act: Some(act.to_owned()),
            });
            continue;
        }
        let several = 1 < records.len();
        for (index, record) in records.iter().enumerate() {
            let line = record.line(clock);
            let hour = record
                .happened
                .filter(|when| when.has_hour())
                .map_or(String::new(), |when| format!("{}, ", clock.time(when.from)));
            lines.push(DoneLine {
                kind: line.kind,
                says: line.says,
                written: format!("{hour}{}", line.written.trim_end_matches(" today")),
                act: line.undo.filter(|_| !several || index + 1 == records.len()),
            });
        }
    }
    lines.truncate(MOST);
    let before = done.len() - done.iter().filter(is_of_today).count();
    let says = (0 < before).then(|| {
        format!(
            "{} about other days.",
            wording::capital(&wording::counted(
                before,
                "record was written down today",
                "records were written down today"
            ))
        )
    });
    (lines, says)
}

/// The chores of a place, each once, done by way of the first animal that has it.
fn chores(place: &Place, rows: &mut Rows<'_>) -> Option<ChoresView> {
    let mut view =
        ChoresView { forms: Vec::new(), said: Vec::new(), about: place.name.clone(), why: parts::Why::default() };
    for (task, chore) in CHORES {
        let found = place
            .animals
            .iter()
            .find_map(|animal| animal.brief.due.iter().find(|due| due.task == task.key()).map(|due| (animal, due)));
        let Some((animal, due)) = found else { continue };
        let Some(row) = rows.brief_due(due, &about(animal, &HashMap::new())) else { continue };
        match row.quick {
            Some(quick) => view.forms.push(quick),
            None => view.said.push(wording::capital(wording::chore(chore))),
        }
        view.why.reasons.extend(row.why.reasons);
        view.why.more = row.why.more;
    }
    view.why.about = format!("chores, {}", place.name);
    (!view.forms.is_empty() || !view.said.is_empty()).then_some(view)
}

fn place_view(place: &Place, rows: &mut Rows<'_>, courses: &HashMap<String, Vec<String>>) -> PlaceView {
    let animals: Vec<AnimalView> = place.animals.iter().map(|animal| animal_view(animal, rows, courses)).collect();
    let due = place_due(place, rows);
    let chores = chores(place, rows);
    PlaceView {
        is_long: 5 < place.name.chars().count(),
        code: place.name.clone(),
        href: place.id.as_ref().map(|id| format!("/enclosures/{id}")),
        is_quiet: due.is_empty() && chores.is_none() && animals.iter().all(|animal| animal.is_quiet),
        animals,
        due,
        chores,
    }
}

/// The tasks of the place, each once, done by way of the first animal that has it.
fn place_due(place: &Place, rows: &mut Rows<'_>) -> Vec<DueView> {
    let mut out = Vec::new();
    for task in OF_THE_PLACE {
        let found = place
            .animals
            .iter()
            .find_map(|animal| animal.brief.due.iter().find(|due| due.task == task.key()).map(|due| (animal, due)));
        if let Some((animal, due)) = found {
            out.extend(rows.brief_due(due, &about(animal, &HashMap::new())));
        }
    }
    out
}

fn about<'a>(animal: &'a Passed, courses: &HashMap<String, Vec<String>>) -> About<'a> {
    About {
        animal: &animal.id,
        name: &animal.name,
        prey_classes: animal.brief.prey_classes.clone(),
        prey_mass_g: animal.brief.prey_mass_g,
        courses: courses.get(&animal.id).cloned().unwrap_or_default(),
    }
}

fn animal_view(animal: &Passed, rows: &mut Rows<'_>, courses: &HashMap<String, Vec<String>>) -> AnimalView {
    let brief: &Brief = &animal.brief;
    let about = about(animal, courses);
    let of_the_place = |task| OF_THE_PLACE.contains(&task) || CHORES.iter().any(|(chore, _)| *chore == task);
    let own = |task: &str| Task::from_key(task).is_some_and(|task| !of_the_place(task) && task != Task::Restock);
    let due: Vec<DueView> =
        brief.due.iter().filter(|due| own(&due.task)).filter_map(|due| rows.brief_due(due, &about)).collect();
    let findings = brief.findings.iter().map(|one| parts::brief_finding(one, &animal.id));
    let (notes, grave): (Vec<FindingView>, Vec<FindingView>) =
        findings.partition(|one| one.class == Severity::Note.key());
    let holds = parts::brief_holds(&brief.holds, &animal.id, rows.clock);
    let mass = animal.mass_g.map_or(String::new(), |grams| format!(", {}", wording::mass(grams)));
    let species = if animal.name == animal.species { String::new() } else { animal.species.clone() };
    AnimalView {
        id: animal.id.clone(),
        name: animal.name.clone(),
        about: format!("{species}{mass}").trim_start_matches(", ").to_owned(),
        is_quiet: due.is_empty() && grave.is_empty() && holds.is_empty(),
        grave,
        notes,
        due,
        holds,
    }
}

#[derive(Template)]
#[template(path = "start.html")]
struct Start<'a> {
    frame: &'a Frame,
    form: &'a Form,
}

/// The first page of an empty household: a form for the first animal.
pub fn start(frame: &Frame, form: &Form) -> String {
    html(&Start { frame, form })
}

/// A sentence about records of kinds that this version does not know.
pub fn unknown_kinds(kinds: &[(String, u64)]) -> Option<String> {
    let names: Vec<String> = kinds.iter().map(|(kind, count)| format!("{count} of the kind «{kind}»")).collect();
    (!names.is_empty())
        .then(|| format!("Some records come from a newer version and are kept unseen: {}.", wording::listed(&names)))
}
