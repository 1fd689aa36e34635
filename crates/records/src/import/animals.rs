//! From rows to animals: who they are, and their records in one place.

use std::collections::{HashMap, HashSet};

use units::When;

use super::answers::Answers;
use super::meaning::Meaning;
use super::rows::{Desk, Findings, Said};
use super::understood::{About, ImportedAnimal, Question, shortened};
use super::words::fold;
use crate::facts::{Fact, Kind, Meal, Outcome, Sex};
use crate::fault::Fault;

/// One animal while its rows are gathered.
struct Gathered {
    name: String,
    line: u32,
    species: Option<(String, u32)>,
    sex: Option<(Sex, u32)>,
    hatched: Option<(When, u32)>,
    arrived: Option<(When, u32)>,
    facts: Vec<(u32, Fact)>,
    brought_up: Vec<(u32, When)>,
    seen: HashSet<String>,
}

/// Gathers what the rows say, animal by animal.
pub(super) fn gather(desk: &Desk<'_>, rows: Vec<Said>, findings: &mut Findings) -> Vec<ImportedAnimal> {
    let mut animals: Vec<Gathered> = Vec::new();
    let mut places: HashMap<String, usize> = HashMap::new();
    let names = desk.roles.iter().any(|role| role.meaning == Meaning::Animal);
    let mut above: Option<String> = None;
    for said in rows {
        let name = if names { named(desk, &said, &mut above, findings) } else { the_one(desk, findings) };
        let Some(name) = name else { continue };
        let at = *places.entry(fold(&name)).or_insert_with(|| {
            animals.push(Gathered::new(name, said.line));
            animals.len() - 1
        });
        if let Some(animal) = animals.get_mut(at) {
            animal.add(desk, said, findings);
        }
    }
    species(desk, &animals, findings);
    animals.into_iter().filter_map(|animal| animal.finish(desk, findings)).collect()
}

/// The animal that a row names, or the one above where the keeper says so.
fn named(desk: &Desk<'_>, said: &Said, above: &mut Option<String>, findings: &mut Findings) -> Option<String> {
    if let Some(name) = &said.animal {
        *above = Some(name.clone());
        return said.animal.clone();
    }
    if said.is_empty() {
        return None;
    }
    let place = desk.place(said.line, desk.roles.iter().find(|role| role.meaning == Meaning::Animal));
    match (desk.answers.fill_down, &above) {
        (Some(true), Some(_)) => above.clone(),
        (None, Some(name)) => {
            findings.ask(Question {
                about: About::FillDown,
                choices: vec!["true".to_owned(), "false".to_owned()],
                because: "a row names no animal: it may be about the one above".to_owned(),
                example: format!("{place}: the row above is about `{}`", shortened(name)),
            });
            None
        }
        _ => {
            findings.faults.push(Fault::new("the row names no animal", place, "name the animal in each row"));
            None
        }
    }
}

/// The animal of a table that has no column for it.
fn the_one(desk: &Desk<'_>, findings: &mut Findings) -> Option<String> {
    let told = desk.answers.animal.as_deref().map(str::trim).filter(|name| !name.is_empty());
    if told.is_none() {
        let file = desk.table.name.rsplit(['/', '\\']).next().unwrap_or_default();
        let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem).trim();
        findings.ask(Question {
            about: About::Animal,
            choices: Some(stem.to_owned()).filter(|stem| !stem.is_empty()).into_iter().collect(),
            because: "no column names the animal".to_owned(),
            example: format!(
                "the columns: {}",
                desk.table.headers.iter().take(12).cloned().collect::<Vec<_>>().join(", ")
            ),
        });
        return Some(String::new());
    }
    told.map(str::to_owned)
}

/// Asks for the species of those for which the table names none.
fn species(desk: &Desk<'_>, animals: &[Gathered], findings: &mut Findings) {
    let told = desk.answers.species.as_deref().is_some_and(|species| !species.trim().is_empty());
    let without: Vec<&Gathered> = animals.iter().filter(|animal| animal.species.is_none()).collect();
    let Some(first) = without.first().filter(|_| !told) else { return };
    let mut known: Vec<String> = Vec::new();
    for (species, _) in animals.iter().filter_map(|animal| animal.species.as_ref()) {
        if !known.contains(species) {
            known.push(species.clone());
        }
    }
    let who: Vec<String> =
        without.iter().take(5).map(|animal| shortened(&animal.name)).filter(|name| !name.is_empty()).collect();
    let because = match (known.is_empty(), who.is_empty()) {
        (true, _) | (_, true) => "the table names no species".to_owned(),
        _ => {
            format!("the table names no species for {} of {} animals: {}", without.len(), animals.len(), who.join(", "))
        }
    };
    let example = desk.place(first.line, None);
    findings.ask(Question { about: About::Species, choices: known, because, example });
}

impl Said {
    fn is_empty(&self) -> bool {
        self.facts.is_empty()
            && self.labelled.is_empty()
            && self.brought_up.is_none()
            && self.species.is_none()
            && self.sex.is_none()
            && self.hatched.is_none()
            && self.arrived.is_none()
    }
}

/// Sets what was not known yet; tells when two rows disagree.
fn agree<T: PartialEq + Clone>(known: &mut Option<(T, u32)>, told: Option<T>, line: u32) -> Result<(), (T, T, u32)> {
    let Some(told) = told else { return Ok(()) };
    match known {
        Some((before, first)) if *before != told => Err((before.clone(), told, *first)),
        Some(_) => Ok(()),
        None => {
            *known = Some((told, line));
            Ok(())
        }
    }
}

impl Gathered {
    fn new(name: String, line: u32) -> Gathered {
        Gathered {
            name,
            line,
            species: None,
            sex: None,
            hatched: None,
            arrived: None,
            facts: Vec::new(),
            brought_up: Vec::new(),
            seen: HashSet::new(),
        }
    }

    fn add(&mut self, desk: &Desk<'_>, said: Said, findings: &mut Findings) {
        let line = said.line;
        let column = |meaning: Meaning| desk.roles.iter().find(|role| role.meaning == meaning);
        let mut clash = |what: &str, meaning: Meaning, before: String, told: String, first: u32| {
            let what =
                format!("the {what} of `{}` is `{told}` here and `{before}` in line {first}", shortened(&self.name));
            findings.faults.push(Fault::new(what, desk.place(line, column(meaning)), "mend one of the two"));
        };
        let species =
            said.species.filter(|told| self.species.as_ref().is_none_or(|(before, _)| fold(before) != fold(told)));
        if let Err((before, told, first)) = agree(&mut self.species, species, line) {
            clash("species", Meaning::Species, before, told, first);
        }
        // Not known at first and known later is no contradiction.
        if self.sex.is_some_and(|(sex, _)| sex == Sex::Unknown) {
            self.sex = None;
        }
        let sex = said.sex.filter(|sex| *sex != Sex::Unknown || self.sex.is_none());
        if let Err((before, told, first)) = agree(&mut self.sex, sex, line) {
            clash("sex", Meaning::Sex, before.to_string(), told.to_string(), first);
        }
        let shown = |when: When| desk.zone.write_when(when);
        if let Err((before, told, first)) = agree(&mut self.hatched, said.hatched, line) {
            clash("date of hatching", Meaning::Hatched, shown(before), shown(told), first);
        }
        if let Err((before, told, first)) = agree(&mut self.arrived, said.arrived, line) {
            clash("date of arrival", Meaning::Arrived, shown(before), shown(told), first);
        }
        for fact in said.facts {
            // The same reading, shed or chore said twice is one; the same meal or weighing twice is asked about.
            let is_state =
                matches!(fact, Fact::Reading(_) | Fact::Shed(_) | Fact::Seen(_) | Fact::Cleaning(_) | Fact::Ending(_));
            if is_state && !self.seen.insert(format!("{fact:?}")) {
                continue;
            }
            self.facts.push((line, fact));
        }
        for note in said.labelled {
            if let Fact::Note(words) = &note
                && self.seen.insert(words.text.clone())
            {
                self.facts.push((line, note));
            }
        }
        self.brought_up.extend(said.brought_up.map(|at| (line, at)));
    }

    fn finish(mut self, desk: &Desk<'_>, findings: &mut Findings) -> Option<ImportedAnimal> {
        for (line, at) in std::mem::take(&mut self.brought_up) {
            self.bring_up(line, at);
        }
        let Answers { species, .. } = desk.answers;
        let species = self.species.map(|(species, _)| species).or_else(|| species.clone());
        let mut slip = desk.slip(self.line).text("species", species.as_deref()).text("name", Some(&self.name));
        slip = slip.choice("sex", self.sex.map(|(sex, _)| sex));
        for (key, when) in [("hatched", self.hatched), ("arrived", self.arrived)] {
            if let Some((when, _)) = when {
                slip = slip.when(key, when);
            }
        }
        // Without a species there is a question, and no fault besides.
        let mut ignored = Vec::new();
        let faults = if species.is_some() { &mut findings.faults } else { &mut ignored };
        match slip.read(Kind::Animal, faults)? {
            Fact::Animal(animal) => Some(ImportedAnimal { name: self.name, animal, facts: self.facts }),
            _ => None,
        }
    }

    /// A meal that came up is the last one that was eaten before, where there is one.
    fn bring_up(&mut self, line: u32, at: When) {
        /// Later than this nothing of a meal is left that could come up.
        const LATEST_DAYS: f64 = 14.0;
        let meals = self.facts.iter_mut().filter_map(|(_, fact)| match fact {
            Fact::Meal(meal) => Some(meal),
            _ => None,
        });
        let eaten = meals.filter(|meal| {
            meal.outcome == Outcome::Taken && meal.at.from <= at.to && at.from.days_since(meal.at.from) <= LATEST_DAYS
        });
        match eaten.max_by_key(|meal| meal.at.from) {
            Some(meal) => {
                meal.outcome = Outcome::Regurgitated;
                meal.regurgitated_at = Some(at);
            }
            None => {
                let meal = Meal {
                    at,
                    prey: None,
                    mass_g: None,
                    count: 1,
                    outcome: Outcome::Regurgitated,
                    regurgitated_at: Some(at),
                    state: None,
                    surface_c: None,
                    minutes_left: None,
                    thawed: None,
                    frozen_on: None,
                    refrozen: false,
                };
                self.facts.push((line, Fact::Meal(meal)));
            }
        }
    }
}
