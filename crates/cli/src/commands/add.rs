//! `warmside add animal|enclosure|heater|household ...`

use records::facts::Stay;
use records::{Fact, Fault, Kind};
use render::wording::{self, Clock};

use super::entered;
use crate::exit::{Done, Ended};
use crate::home::{About, Home};
use crate::kinds::{ENCLOSURE, Typed};
use crate::out::Out;

/// Adds one.
pub fn run(typed: &Typed, home: &Home, out: &mut Out) -> Done {
    let desk = home.beginning_or_trial()?;
    let mut fields = typed.fields.clone();
    let lives_in = fields
        .iter()
        .position(|(key, _)| typed.entry.kind == Kind::Animal && *key == ENCLOSURE)
        .map(|at| fields.remove(at).1);
    let enclosure = lives_in.map(|name| entered::enclosure(&desk, &name)).transpose()?;
    let fact = entered::fact(typed.entry.kind, &fields, desk.zone(), desk.now())?;
    is_new(&desk, &fact, typed.yes)?;
    let about = typed.who.as_deref().map_or(Ok(About::Everyone), |name| About::found(&desk, name))?;
    let first = about.record(&desk, fact.clone());
    let id = first.id;
    let mut new = vec![first];
    if let Some(enclosure) = enclosure {
        let arrived = match &fact {
            Fact::Animal(animal) => animal.arrived.filter(|when| when.precision <= units::Precision::Day),
            _ => None,
        };
        let at = arrived.unwrap_or_else(|| desk.day());
        new.push(desk.new_record(Fact::Stay(Stay { at, enclosure })).about(id));
    }
    entered::check(&desk, &new, typed.yes)?;
    let desk = home.settled(desk)?;
    desk.log(&new, &home.by())?;
    let clock = Clock::new(desk.zone(), desk.now());
    let kind = wording::kind(fact.kind());
    out.line(format!("{kind} added: {}.", wording::fact(&fact, &clock)).replace(wording::STAY, " "));
    if matches!(typed.entry.kind, Kind::Animal | Kind::Enclosure) {
        out.line(format!("Kept as {id}; `warmside undo` takes it back."));
    }
    Ok(())
}

/// Two of one name are asked about: at ten in the evening nobody wants to choose between two.
fn is_new(desk: &web::desk::Desk, fact: &Fact, yes: bool) -> Result<(), Ended> {
    let (noun, name, taken) = match fact {
        Fact::Animal(animal) => {
            let others = desk.store().animals(false)?;
            let is_taken = |name: &str| {
                others
                    .iter()
                    .any(|row| row.animal.name.as_deref().is_some_and(|other| other.eq_ignore_ascii_case(name)))
            };
            ("animal", animal.name.clone(), animal.name.as_deref().is_some_and(is_taken))
        }
        Fact::Enclosure(enclosure) => {
            let others = desk.store().enclosures()?;
            let is_taken = |name: &str| {
                others
                    .iter()
                    .any(|row| row.enclosure.name.as_deref().is_some_and(|other| other.eq_ignore_ascii_case(name)))
            };
            ("enclosure", enclosure.name.clone(), enclosure.name.as_deref().is_some_and(is_taken))
        }
        _ => return Ok(()),
    };
    if taken && !yes {
        let what = format!("there is already an {noun} called {}", name.unwrap_or_default());
        return Err(Ended::Asked(vec![Fault::new(
            what,
            "--name",
            "give it another name, or add --yes if both are to be called so",
        )]));
    }
    Ok(())
}
