//! `warmside import FILE`: a keeper's own table. It shows what it understood, asks what is open with the option that
//! answers it, and keeps all or nothing.

use std::collections::HashMap;
use std::io::Read;
use std::path::Path;

use records::choice::Choice;
use records::import::{self, About, Answers, Meaning, Question, Understood};
use records::{Fact, Fault, Kind, RecordId};
use render::terminal::sheet::{Sheet, column};
use store::NewRecord;
use web::desk::Desk;

use crate::arguments::Import;
use crate::exit::{Done, Ended};
use crate::home::Home;
use crate::out::Out;

/// Reads, shows, asks, keeps.
pub fn run(asked: &Import, home: &Home, out: &mut Out) -> Done {
    let name = asked.file.display().to_string();
    let bytes = read(&asked.file)?;
    let answers = answers(asked)?;
    let desk = if asked.dry_run { trial(home)? } else { home.beginning_or_trial()? };
    let understood = import::read(&name, &bytes, &answers, desk.zone())?;
    if desk.store().import_seen(&understood.fingerprint)? {
        out.line(format!("{name} was imported before: nothing is changed."));
        return Ok(());
    }
    out.text(&told(&name, &understood, out.width()));
    let open: Vec<Fault> = understood.questions.iter().map(|question| in_words(question, &name)).collect();
    if !open.is_empty() {
        return Err(Ended::Asked(open));
    }
    let plan = plan(&desk, &understood, &name)?;
    let mut sheet = Sheet::new(out.width());
    out.line("");
    for line in &plan.lines {
        sheet.item(0, line);
    }
    out.text(&sheet.finish());
    if asked.dry_run {
        for doubt in &understood.doubts {
            out.message(format!("odd: {doubt}"));
        }
        out.line("Nothing was kept: this was a trial.");
        return Ok(());
    }
    if !asked.yes && !understood.doubts.is_empty() {
        let yes = |fault: &Fault| Fault { mend: format!("{}; or add --yes if it is so", fault.mend), ..fault.clone() };
        return Err(Ended::Asked(understood.doubts.iter().map(yes).collect()));
    }
    if plan.new.is_empty() {
        out.line("Everything was there already: nothing is changed.");
        return Ok(());
    }
    home.settled(desk)?.log(&plan.new, &home.by())?;
    out.line(format!("{} records kept; `warmside undo` takes all of them back.", plan.new.len()));
    Ok(())
}

/// The records, to be read, where there are any.
fn trial(home: &Home) -> Result<Desk, Ended> {
    match home.reading() {
        Err(Ended::NotFound(_)) => Ok(Desk::in_memory(home.zone()?)?),
        other => other,
    }
}

/// The bytes of a table, as far as one may be long.
pub(super) fn read(file: &Path) -> Result<Vec<u8>, Ended> {
    let mut bytes = Vec::new();
    let most = import::MOST_BYTES as u64 + 1;
    let read = std::fs::File::open(file).and_then(|file| file.take(most).read_to_end(&mut bytes));
    read.map_err(|error| {
        let what = format!("the file cannot be read: {error}");
        Ended::NotFound(Fault::new(what, file.display().to_string(), "check the path"))
    })?;
    Ok(bytes)
}

/// The choice that a word names.
pub(super) fn word<T: Choice>(option: &'static str, text: Option<&str>) -> Result<Option<T>, Fault> {
    let Some(text) = text else { return Ok(None) };
    match T::from_key(text) {
        Some(one) => Ok(Some(one)),
        None => Err(Fault::new(
            format!("`{text}` is no {}", T::WHAT),
            option,
            format!("choose one of: {}", T::keys().collect::<Vec<_>>().join(", ")),
        )),
    }
}

fn pair<'a>(option: &'static str, text: &'a str) -> Result<(&'a str, &'a str), Fault> {
    // A header may hold an equals sign, a meaning never does.
    text.rsplit_once('=').ok_or_else(|| {
        Fault::new(format!("`{text}` is not a header and its sense"), option, "write it as \"HEADER=WORD\"")
    })
}

fn answers(asked: &Import) -> Result<Answers, Vec<Fault>> {
    let mut faults = Vec::new();
    let mut columns = Vec::new();
    let mut units = Vec::new();
    for text in &asked.columns {
        match pair("--column", text)
            .and_then(|(header, meaning)| Ok((header.to_owned(), word::<Meaning>("--column", Some(meaning.trim()))?)))
        {
            Ok((header, Some(meaning))) => columns.push((header, meaning)),
            Ok(_) => {}
            Err(fault) => faults.push(fault),
        }
    }
    for text in &asked.units {
        match pair("--unit", text) {
            Ok((header, unit)) => units.push((header.to_owned(), unit.trim().to_owned())),
            Err(fault) => faults.push(fault),
        }
    }
    fn keep<T>(faults: &mut Vec<Fault>, found: Result<Option<T>, Fault>) -> Option<T> {
        found.unwrap_or_else(|fault| {
            faults.push(fault);
            None
        })
    }
    let answers = Answers {
        date_order: keep(&mut faults, word("--date-order", asked.date_order.as_deref())),
        mass_unit: keep(&mut faults, word("--mass-unit", asked.mass_unit.as_deref())),
        length_unit: keep(&mut faults, word("--length-unit", asked.length_unit.as_deref())),
        temperature_unit: keep(&mut faults, word("--temperature-unit", asked.temperature_unit.as_deref())),
        decimal: keep(&mut faults, word("--decimal", asked.decimal.as_deref())),
        columns,
        units,
        species: asked.species.clone(),
        animal: asked.animal.clone(),
        encoding: asked.encoding.clone(),
        fill_down: match asked.fill_down.as_deref() {
            None => None,
            Some("yes") => Some(true),
            Some("no") => Some(false),
            Some(other) => {
                faults.push(Fault::new(format!("`{other}` is neither yes nor no"), "--fill-down", "write yes or no"));
                None
            }
        },
        outcome: keep(&mut faults, word("--outcome", asked.outcome.as_deref())),
        meal_mass_is: keep(&mut faults, word("--meal-mass", asked.meal_mass.as_deref())),
        no_meal: keep(&mut faults, word("--no-meal", asked.no_meal.as_deref())),
    };
    if faults.is_empty() { Ok(answers) } else { Err(faults) }
}

/// A question with the option that answers it.
fn in_words(question: &Question, file: &str) -> Fault {
    let option = match &question.about {
        About::Column(header) => format!("--column \"{header}=WORD\""),
        other => format!("--{}", other.key()),
    };
    let choices = if question.choices.is_empty() {
        String::new()
    } else {
        format!(", with one of: {}", question.choices.join(", "))
    };
    let example = if question.example.is_empty() { String::new() } else { format!(" ({})", question.example) };
    Fault::new(format!("{}{example}", question.because), file, format!("answer with {option}{choices}"))
}

/// What was understood of the table.
fn told(name: &str, understood: &Understood, width: usize) -> String {
    let mut sheet = Sheet::new(width);
    let delimiter = match understood.delimiter {
        '\t' => "tabs".to_owned(),
        ',' => "commas".to_owned(),
        ';' => "semicolons".to_owned(),
        other => format!("`{other}`"),
    };
    sheet
        .item(0, &format!("{name}: {} rows, {}, {delimiter} between the cells.", understood.rows, understood.encoding));
    sheet.gap();
    sheet.say(0, "Columns");
    let wide = column(understood.columns.iter().map(|one| one.header.as_str()));
    for one in &understood.columns {
        let unit = one.unit.as_ref().map(|unit| format!(" in {unit}")).unwrap_or_default();
        sheet.row(2, &one.header, wide, &format!("{}{unit}: {}", one.meaning.words(), one.because));
    }
    if !understood.samples.is_empty() {
        sheet.gap();
        sheet.say(0, "The first rows");
        for sample in &understood.samples {
            sheet.item(2, &format!("line {}: {}", sample.line, sample.cells.join(" | ")));
            for becomes in &sample.becomes {
                sheet.item(4, &format!("is {becomes}"));
            }
        }
    }
    if !understood.left_out.is_empty() {
        const SHOWN: usize = 5;
        sheet.gap();
        for one in understood.left_out.iter().take(SHOWN) {
            sheet.item(0, &format!("Left out, line {}: {}", one.line, one.because));
        }
        if SHOWN < understood.left_out.len() {
            sheet.say(0, &format!("and {} more rows.", understood.left_out.len() - SHOWN));
        }
    }
    sheet.finish()
}

/// What would be kept.
struct Plan {
    new: Vec<NewRecord>,
    lines: Vec<String>,
}

/// Animals that are here keep what they have; what the file says of them and is there already is passed over.
fn plan(desk: &Desk, understood: &Understood, file: &str) -> Result<Plan, Ended> {
    let rows = desk.store().animals(true)?;
    let mut plan = Plan { new: Vec::new(), lines: Vec::new() };
    let mut faults = Vec::new();
    for one in &understood.animals {
        let called = |name: &str| name.eq_ignore_ascii_case(one.name.trim());
        let here: Vec<_> =
            rows.iter().filter(|row| !row.has_left() && row.animal.name.as_deref().is_some_and(called)).collect();
        if 1 < here.len() {
            let what = format!("{} animals here are called {}", here.len(), one.name);
            faults.push(Fault::new(what, file, "give each a name of its own first (`warmside correct`)"));
            continue;
        }
        let (animal, there, known) = match here.first() {
            Some(row) => (row.id, already(desk, row.id)?, Some(row.animal.clone())),
            None => (desk.new_id(), HashMap::new(), None),
        };
        if known.is_none() {
            let mut animal_fact = one.animal.clone();
            if let Some(family) = family_by_genus(&animal_fact) {
                plan.lines.push(format!(
                    "{}: {} has no profile of its own; by its genus it is one of the {family}, whose general profile serves.",
                    one.name, animal_fact.species
                ));
                animal_fact.family = Some(family.to_owned());
            }
            let fact = Fact::Animal(animal_fact);
            faults.extend(refused(desk, None, &fact, file, None));
            plan.new
                .push(NewRecord { fingerprint: Some(understood.fingerprint.clone()), ..NewRecord::new(animal, fact) });
        }
        let known = known.unwrap_or_else(|| one.animal.clone());
        let mut passed_over = 0usize;
        let mut counts: Vec<(Kind, usize)> = Vec::new();
        for (line, fact) in &one.facts {
            faults.extend(refused(desk, Some(&known), fact, file, Some(*line)));
            let kind = fact.kind();
            if there.get(&kind).is_some_and(|facts: &Vec<Fact>| facts.contains(fact)) {
                passed_over += 1;
                continue;
            }
            match counts.iter_mut().find(|(one, _)| *one == kind) {
                Some((_, count)) => *count += 1,
                None => counts.push((kind, 1)),
            }
            let new = desk.new_record(fact.clone()).about(animal);
            plan.new.push(NewRecord { fingerprint: Some(understood.fingerprint.clone()), ..new });
        }
        let counted: Vec<String> = counts.iter().map(|(kind, count)| format!("{count} × {}", kind.words())).collect();
        let is_new = if here.is_empty() { "new, " } else { "here already, " };
        let over = if passed_over == 0 { String::new() } else { format!("; {passed_over} there already") };
        let what = if counted.is_empty() { "nothing new".to_owned() } else { counted.join(", ") };
        plan.lines.push(format!("{} ({is_new}{}): {what}{over}.", one.name, known.species));
    }
    if faults.is_empty() { Ok(plan) } else { Err(faults.into()) }
}

/// The family of an animal whose species has no profile, where its genus tells and nobody named one.
fn family_by_genus(animal: &records::facts::Animal) -> Option<&'static str> {
    let library = species::library();
    let unknown = matches!(library.find(&animal.species), species::Found::None { .. });
    if unknown && animal.family.is_none() { library.family_of(&animal.species) } else { None }
}

/// The records of an animal that stand, by kind.
fn already(desk: &Desk, animal: RecordId) -> Result<HashMap<Kind, Vec<Fact>>, Ended> {
    let mut there: HashMap<Kind, Vec<Fact>> = HashMap::new();
    for stored in desk.store().history(animal)?.into_iter().filter(|one| one.head.is_current()) {
        there.entry(stored.head.kind).or_default().push(stored.fact);
    }
    Ok(there)
}

fn refused(
    desk: &Desk,
    animal: Option<&records::facts::Animal>,
    fact: &Fact,
    file: &str,
    line: Option<u32>,
) -> Vec<Fault> {
    let place = line.map_or_else(|| file.to_owned(), |line| format!("{file}, line {line}"));
    let faults = care::doubts::refusals(animal, fact, desk.now(), desk.zone());
    faults.into_iter().map(|fault| Fault { place: place.clone(), ..fault }).collect()
}
