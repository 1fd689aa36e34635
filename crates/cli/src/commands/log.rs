//! `warmside log KIND ...`: what was seen or done.

use care::answer::{Answer, Finding, Hold, Severity};
use records::{Fact, Fault, Kind};
use render::terminal::sheet::Sheet;
use render::wording::{self, Clock};
use web::desk::Desk;

use super::entered;
use crate::amount::minute;
use crate::exit::{Done, Ended};
use crate::home::{About, Home};
use crate::kinds::{Typed, Who};
use crate::out::Out;

/// Writes one record down.
pub fn run(typed: &Typed, home: &Home, out: &mut Out) -> Done {
    let desk = home.writing()?;
    let about = about(typed, &desk)?;
    let fields = with_defaults(typed, &desk)?;
    let fact = entered::fact(typed.entry.kind, &fields, desk.zone(), desk.now())?;
    let new = [about.record(&desk, fact.clone())];
    let before = answer(&desk, &about);
    let logged = entered::keep(&desk, &new, &home.by(), typed.yes)?;
    let clock = Clock::new(desk.zone(), desk.now());
    let mut sheet = Sheet::new(out.width());
    sheet.item(0, &said(&about, &fact, &clock, &desk)?);
    if let Some((before, after)) = before.zip(answer(&desk, &about)) {
        consequences(&before, &after, &clock, &mut sheet);
    }
    let id = logged.ids.first().map(ToString::to_string).unwrap_or_default();
    sheet.item(0, &format!("Kept as {id}; `warmside undo` takes it back."));
    out.text(&sheet.finish());
    Ok(())
}

/// What can be said of the animal now; nothing where it is about none. What cannot be answered is `rounds`' to tell: the
/// record is kept all the same.
fn answer(desk: &Desk, about: &About) -> Option<Answer> {
    let About::Animal(id, _) = about else { return None };
    let case = desk.case(*id, desk.now()).ok()?;
    care::assess(&case, desk.now()).ok()
}

fn about(typed: &Typed, desk: &Desk) -> Result<About, Ended> {
    match (typed.entry.who, typed.who.as_deref()) {
        (Who::Animal, Some(name)) => About::animal(desk, name),
        (Who::Place, Some(name)) => About::found(desk, name),
        (Who::Anyone, Some(name)) if name != "-" => About::found(desk, name),
        _ => Ok(About::Everyone),
    }
}

/// What was typed, with the date that holds where none was.
fn with_defaults(typed: &Typed, desk: &Desk) -> Result<Vec<(&'static str, String)>, Ended> {
    let mut fields = typed.fields.clone();
    let has = |fields: &[(&str, String)], key: &str| fields.iter().any(|(one, _)| *one == key);
    let now = || minute(desk.zone(), desk.now());
    let today = || desk.zone().date(desk.now()).to_string();
    let takes_at = typed.entry.fields.iter().any(|field| field.key == "at");
    let missing = match typed.entry.kind {
        Kind::Shed => {
            let has_step = ["dull_at", "blue_at", "cleared_at", "shed_at"].iter().any(|step| has(&fields, step));
            (!has_step).then(|| ("shed_at", today()))
        }
        Kind::Treatment => Some(("from", today())),
        Kind::Power => Some(("from", now())),
        Kind::FreezerLot => Some(("bought", today())),
        _ if takes_at => Some(("at", now())),
        _ => None,
    };
    fields.extend(missing.filter(|(key, _)| !has(&fields, key)));
    if typed.entry.kind == Kind::Stay
        && let Some((_, name)) = fields.iter_mut().find(|(key, _)| *key == "enclosure")
    {
        *name = entered::enclosure(desk, name)?.to_string();
    }
    Ok(fields)
}

/// What was kept, in one line.
fn said(about: &About, fact: &Fact, clock: &Clock, desk: &Desk) -> Result<String, Ended> {
    let kind = wording::kind(fact.kind());
    let what = match fact {
        Fact::Stay(stay) => {
            let row = desk.find_enclosure(&stay.enclosure.to_string())?;
            row.enclosure.name.unwrap_or_else(|| "an enclosure without a name".to_owned())
        }
        other => wording::fact(other, clock),
    };
    let when = match fact {
        Fact::Shed(_) | Fact::Power(_) | Fact::Planned(_) | Fact::FreezerLot(_) => String::new(),
        other => other.when().map(|when| format!(", {}", clock.when(when))).unwrap_or_default(),
    };
    Ok(match about {
        About::Everyone => format!("{kind}: {what}{when}."),
        other => format!("{}, {}: {what}{when}.", other.name(), kind.to_lowercase()),
    })
}

/// What the record changed and the keeper should know at once: what must wait now and did not, what was found that
/// cannot wait, and what is allowed again.
fn consequences(before: &Answer, after: &Answer, clock: &Clock, sheet: &mut Sheet) {
    let is_new = |finding: &&Finding| {
        let graver = before.finding(finding.code).is_none_or(|old| old.severity < finding.severity);
        Severity::Act <= finding.severity && graver
    };
    for finding in after.findings.iter().filter(is_new) {
        sheet.item(0, &format!("{}: {} {}", wording::severity(finding.severity), finding.says, finding.does));
    }
    let is_later = |hold: &&Hold| {
        before.hold(hold.action).is_none_or(|old| old.until != hold.until || old.ends_with != hold.ends_with)
    };
    for hold in after.holds.iter().filter(is_later) {
        let until = match (hold.until, hold.ends_with) {
            (Some(until), _) => format!("until {}", clock.moment(until)),
            (None, Some(end)) => format!("until {end}"),
            (None, None) => "for now".to_owned(),
        };
        let why = hold.because.first().map(|one| format!(": {}", one.why)).unwrap_or_default();
        sheet.item(0, &format!("{} {until}{why}", wording::capital(wording::held(hold.action))));
    }
    let freed: Vec<&str> = before
        .holds
        .iter()
        .filter(|hold| after.hold(hold.action).is_none())
        .map(|hold| wording::free_again(hold.action))
        .collect();
    if !freed.is_empty() {
        sheet.item(0, &format!("No longer held: {}.", wording::listed(&freed)));
    }
}

/// A fault that names the record.
pub fn no_such_record(id: &str) -> Ended {
    Ended::NotFound(Fault::new(
        format!("`{id}` is no record"),
        "the record",
        "give its id, as `warmside show` prints it",
    ))
}
