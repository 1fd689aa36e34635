//! From what was typed to records: read, refuse, ask, keep.

use records::fields::{Given, Reader};
use records::{Fact, Fault, Kind, Raw, RecordId};
use store::NewRecord;
use units::{Moment, Zone};
use web::desk::{Desk, Logged};

use crate::amount;
use crate::exit::Ended;
use crate::kinds::dashed;

/// Fields that were typed, with their places in the words of the command line.
struct Options(Given);

impl records::Fields for Options {
    fn value(&self, key: &str) -> Option<Raw> {
        self.0.value(key)
    }
    fn keys(&self) -> Vec<String> {
        self.0.keys()
    }
    fn place(&self, key: &str) -> String {
        if key.is_empty() { "the command line".to_owned() } else { format!("--{}", dashed(key)) }
    }
}

/// The record that the fields say.
pub fn fact(kind: Kind, fields: &[(&str, String)], zone: &Zone, now: Moment) -> Result<Fact, Vec<Fault>> {
    let mut faults = Vec::new();
    let mut pairs = Vec::new();
    for (key, text) in fields {
        let value = if amount::is_date(key) {
            let dates: Vec<String> = text.split(',').map(|one| amount::date(one, zone, now)).collect();
            Ok(dates.join(","))
        } else {
            amount::stored(key, text)
        };
        match value {
            Ok(value) => pairs.push(((*key).to_owned(), Raw::Text(value))),
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let given = Options(Given { pairs, origin: String::new() });
    let mut reader = Reader::new(&given, zone);
    let fact = Fact::read(kind, &mut reader);
    let faults: Vec<Fault> = reader.finish().into_iter().map(in_words_of_the_command_line).collect();
    match fact {
        Some(fact) if faults.is_empty() => Ok(fact),
        _ => Err(faults),
    }
}

/// «add `mass_g`» means an option here.
fn in_words_of_the_command_line(fault: Fault) -> Fault {
    let mend = match fault.mend.strip_prefix("add `").and_then(|rest| rest.strip_suffix('`')) {
        Some(key) => format!("add --{}", dashed(key)),
        None => fault.mend,
    };
    Fault { mend, ..fault }
}

/// Keeps records as one act. What cannot be is refused; what is odd is asked about, unless a yes was given before.
pub fn keep(desk: &Desk, new: &[NewRecord], by: &str, yes: bool) -> Result<Logged, Ended> {
    check(desk, new, yes)?;
    Ok(desk.log(new, by)?)
}

/// Refuses and asks, and keeps nothing.
pub fn check(desk: &Desk, new: &[NewRecord], yes: bool) -> Result<(), Ended> {
    let options = |fault: Fault| Fault { place: option_of(&fault.place), ..fault };
    let refused = desk.refusals(new)?;
    if !refused.is_empty() {
        return Err(Ended::Faults(refused.into_iter().map(options).collect()));
    }
    let doubts = if yes { Vec::new() } else { desk.doubts(new, desk.now())? };
    if doubts.is_empty() {
        return Ok(());
    }
    let with_yes = |fault: Fault| Fault { mend: "mend it, or add --yes if it is so".to_owned(), ..fault };
    Err(Ended::Asked(doubts.into_iter().map(options).map(with_yes).collect()))
}

/// A field as the option that it was written with.
fn option_of(place: &str) -> String {
    let is_key = !place.is_empty() && place.chars().all(|one| one.is_ascii_lowercase() || one == '_');
    if is_key { format!("--{}", dashed(place)) } else { place.to_owned() }
}

/// The enclosure that someone names, as the field of a move takes it.
pub fn enclosure(desk: &Desk, name: &str) -> Result<RecordId, Ended> {
    Ok(desk.find_enclosure(name)?.id)
}
