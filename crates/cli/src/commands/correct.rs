//! `warmside correct RECORD KEY=VALUE ...`: what stood before stays in the history.

use records::{Fault, RecordId};
use render::wording::{self, Clock};

use super::entered;
use crate::arguments::Correct;
use crate::exit::{Done, Ended};
use crate::home::Home;
use crate::kinds;
use crate::out::Out;

/// Puts a record right.
pub fn run(asked: &Correct, home: &Home, out: &mut Out) -> Done {
    let desk = home.writing()?;
    let id = RecordId::read(asked.record.trim()).ok_or_else(|| super::log::no_such_record(&asked.record))?;
    let mut old = desk.store().record(id)?.ok_or_else(|| super::log::no_such_record(&asked.record))?;
    // What was corrected before is put right where it stands now.
    while let Some(next) = old.head.corrected_by {
        old = desk.store().record(next)?.ok_or_else(|| super::log::no_such_record(&asked.record))?;
    }
    let id = old.head.id;
    let mut fields: Vec<(String, String)> =
        old.fact.fields(desk.zone()).into_iter().map(|(key, raw)| (key.to_owned(), raw.shown())).collect();
    for pair in &asked.fields {
        let (key, value) = pair.split_once('=').ok_or_else(|| {
            Fault::new(format!("`{pair}` is not a key and its value"), "the command line", "write it as mass_g=24")
        })?;
        let key = key.trim().replace('-', "_");
        fields.retain(|(name, _)| *name != key);
        if !value.trim().is_empty() {
            fields.push((key, value.to_owned()));
        }
    }
    let named: Vec<(&str, String)> = fields.iter().map(|(key, value)| (key.as_str(), value.clone())).collect();
    let fact = entered::fact(old.head.kind, &named, desk.zone(), desk.now())?;
    if fact == old.fact {
        let what =
            format!("the {} says so already", kinds::of_kind(old.head.kind).map_or("record", |entry| entry.word));
        return Err(Ended::Faults(vec![Fault::new(what, asked.record.clone(), "give what is to stand instead")]));
    }
    let mut new = desk.new_record(fact.clone()).instead_of(id, &asked.why);
    new.animal = old.head.animal;
    new.enclosure = old.head.enclosure;
    entered::keep(&desk, &[new], &home.by(), asked.yes)?;
    let clock = Clock::new(desk.zone(), desk.now());
    let kind = wording::kind(old.head.kind);
    out.line(format!("{kind}, before: {}.", wording::fact(&old.fact, &clock)).replace(wording::STAY, " "));
    out.line(format!("{kind}, now: {}.", wording::fact(&fact, &clock)).replace(wording::STAY, " "));
    Ok(())
}
