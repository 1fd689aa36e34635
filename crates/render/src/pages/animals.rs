//! The list of animals.

use askama::Template;

use super::form::Opt;
use super::frame::Frame;
use super::html;
use super::parts::Link;

/// An animal in the list.
#[derive(Clone, Debug, Default)]
pub struct AnimalLine {
    /// Its id.
    pub id: String,
    /// What it is called.
    pub name: String,
    /// Its species, as a keeper says it.
    pub species: String,
    /// Its enclosure.
    pub enclosure: Option<Link>,
    /// The room.
    pub room: String,
    /// Its last weight, in words.
    pub mass: String,
    /// What it is in now, in words.
    pub states: String,
    /// The gravest of what was found, in words.
    pub worst: String,
    /// How its stay ended, in words.
    pub ending: String,
}

#[derive(Template)]
#[template(path = "animals.html")]
struct Page<'a> {
    frame: &'a Frame,
    animals: Vec<&'a AnimalLine>,
    rooms: Vec<Opt>,
    species: Vec<Opt>,
    with_gone: bool,
    total: usize,
}

/// What is asked for.
#[derive(Clone, Debug, Default)]
pub struct Filter {
    /// Only this room.
    pub room: String,
    /// Only this species.
    pub species: String,
    /// Those that left too.
    pub with_gone: bool,
}

fn options(values: impl Iterator<Item = String>, chosen: &str, all: &str) -> Vec<Opt> {
    let mut list: Vec<String> = values.filter(|value| !value.is_empty()).collect();
    list.sort();
    list.dedup();
    let mut options = vec![Opt { value: String::new(), text: all.to_owned(), chosen: chosen.is_empty() }];
    options.extend(list.into_iter().map(|text| Opt { chosen: text == chosen, value: text.clone(), text }));
    options
}

/// The list as a page; `animals` stand in walking order.
pub fn page(frame: &Frame, animals: &[AnimalLine], filter: &Filter) -> String {
    let fits = |line: &&AnimalLine| {
        (filter.room.is_empty() || line.room == filter.room)
            && (filter.species.is_empty() || line.species == filter.species)
    };
    html(&Page {
        frame,
        animals: animals.iter().filter(fits).collect(),
        rooms: options(animals.iter().map(|line| line.room.clone()), &filter.room, "every room"),
        species: options(animals.iter().map(|line| line.species.clone()), &filter.species, "every species"),
        with_gone: filter.with_gone,
        total: animals.len(),
    })
}
