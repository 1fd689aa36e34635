//! Ahead: the coming two weeks, by day.

use askama::Template;
use care::answer::{Action, Task};
use care::rounds::{Passed, Rounds};
use jiff::ToSpan;
use jiff::civil::Date;
use records::choice::Choice;

use super::frame::Frame;
use super::html;
use super::parts::{self, Link};
use crate::wording::{self, Clock};

/// So many names are said; of the rest only how many they are.
const MOST_NAMES: usize = 12;
/// How far the page looks.
const DAYS: i32 = 14;

#[derive(Clone)]
struct Entry {
    who: Link,
    says: String,
    soft: bool,
}

/// The same thing for one animal or for several.
struct Group {
    who: Vec<Link>,
    more: usize,
    says: String,
    soft: bool,
}

/// Entries that say the same, together.
fn groups(entries: Vec<Entry>) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for entry in entries {
        match groups.iter_mut().find(|group| group.says == entry.says && group.soft == entry.soft) {
            Some(group) if group.who.len() < MOST_NAMES => group.who.push(entry.who),
            Some(group) => group.more += 1,
            None => groups.push(Group { who: vec![entry.who], more: 0, says: entry.says, soft: entry.soft }),
        }
    }
    groups
}

struct Day {
    heading: String,
    href: String,
    entries: Vec<Group>,
    prey: String,
}

#[derive(Template)]
#[template(path = "ahead.html")]
struct Page<'a> {
    frame: &'a Frame,
    summary: String,
    open_now: usize,
    days: Vec<Day>,
    later: Vec<Group>,
    plans: Vec<String>,
}

fn who(animal: &Passed) -> Link {
    Link::to(&animal.name, format!("/animals/{}", animal.id))
}

fn says(task: &str, animal: &Passed) -> String {
    match Task::from_key(task) {
        Some(Task::OfferMeal) => match parts::meal_words(&animal.brief.prey_classes, animal.brief.prey_mass_g) {
            words if words.is_empty() => "offer a meal".to_owned(),
            words => format!("offer {words}"),
        },
        Some(task) => lower(wording::task(task)),
        None => task.to_owned(),
    }
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

/// What happens on the way, each with its day.
fn entries(rounds: &Rounds, clock: &Clock) -> Vec<(Date, bool, Entry)> {
    let date = |moment| clock.zone().date(moment);
    let mut list = Vec::new();
    for animal in rounds.animals() {
        for due in animal.brief.ahead.iter().filter(|due| clock.now() < due.from) {
            let meal = due.task == Task::OfferMeal.key();
            list.push((date(due.from), meal, Entry { who: who(animal), says: says(&due.task, animal), soft: false }));
        }
        let mut free: Vec<(units::Moment, Vec<&str>)> = Vec::new();
        for hold in &animal.brief.holds {
            let (Some(until), Some(action)) = (hold.until, Action::from_key(&hold.action)) else { continue };
            match free.iter_mut().find(|(moment, _)| *moment == until) {
                Some((_, words)) => words.push(wording::free_again(action)),
                None => free.push((until, vec![wording::free_again(action)])),
            }
        }
        for (until, words) in free {
            let hour = if clock.zone().day_start(until) == until {
                String::new()
            } else {
                format!(" from {}", clock.time(until))
            };
            let says = format!("{} allowed again{hour}", wording::listed(&words));
            list.push((date(until), false, Entry { who: who(animal), says, soft: true }));
        }
        for state in &animal.brief.states {
            let Some(until) = state.until.filter(|until| clock.now() < *until) else { continue };
            let words = care::answer::State::from_key(&state.state)
                .map_or(state.state.clone(), |one| wording::state(one).to_owned());
            list.push((date(until), false, Entry { who: who(animal), says: format!("no longer {words}"), soft: true }));
        }
    }
    list
}

/// The page; `plans` are those of the whole household, in words.
pub fn page(frame: &Frame, rounds: &Rounds, plans: Vec<String>) -> String {
    let clock = Clock::new(&rounds.zone, rounds.at);
    let today = rounds.zone.date(rounds.at);
    let mut all = entries(rounds, &clock);
    let mut days = Vec::new();
    for offset in 0..DAYS {
        let date = today.saturating_add(offset.days());
        let mut here: Vec<(bool, Entry)> = Vec::new();
        let mut rest = Vec::new();
        for (day, meal, entry) in all {
            if day == date { here.push((meal, entry)) } else { rest.push((day, meal, entry)) }
        }
        all = rest;
        if here.is_empty() {
            continue;
        }
        here.sort_by_key(|(_, entry)| entry.soft);
        let meals = here.iter().filter(|(meal, _)| *meal).count();
        days.push(Day {
            heading: wording::capital(&near(&clock, date)),
            href: if offset == 0 { "/".to_owned() } else { format!("/?at={date}") },
            prey: if meals == 0 { String::new() } else { wording::counted(meals, "meal", "meals") },
            entries: groups(here.into_iter().map(|(_, entry)| entry).collect()),
        });
    }
    all.retain(|(day, _, entry)| today < *day && !entry.soft);
    all.sort_by_key(|(day, _, _)| *day);
    let later: Vec<Entry> = all
        .into_iter()
        .take(40)
        .map(|(day, _, entry)| Entry { says: format!("{}: {}", clock.date(day), entry.says), ..entry })
        .collect();
    let meals: usize = rounds
        .animals()
        .flat_map(|animal| &animal.brief.ahead)
        .filter(|due| {
            due.task == Task::OfferMeal.key() && due.from < clock.zone().days_later(clock.now(), i64::from(DAYS))
        })
        .count();
    let open_now = rounds.animals().map(|animal| animal.brief.due.len()).sum();
    html(&Page {
        frame,
        summary: format!(
            "{} in the next two weeks, as things stand.",
            wording::capital(&wording::counted(meals, "meal", "meals"))
        ),
        open_now,
        days,
        later: groups(later),
        plans,
    })
}

fn near(clock: &Clock, date: Date) -> String {
    let near = clock.near_date(date);
    if near == "today" || near == "tomorrow" {
        format!("{near}, {}", clock.long_date(date))
    } else {
        clock.long_date(date)
    }
}
