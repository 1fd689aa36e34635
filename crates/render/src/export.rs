//! Records and the walk for other programs: a table for each kind of record, and JSON.

use std::io::Write;

use care::rounds::{Brief, Place, Rounds};
use records::choice::Choice;
use records::{Fact, Raw};
use serde_json::{Value, json};
use units::{Moment, Zone};

/// What stands in a table before the fields of a record.
pub const HEAD: [&str; 8] =
    ["record", "animal_id", "animal", "enclosure_id", "enclosure", "zone", "written_down", "by"];

/// A record with its head, as a row of a table.
#[derive(Clone, Debug)]
pub struct Row<'a> {
    /// Its name.
    pub record: String,
    /// The animal it is about: id and name.
    pub animal: Option<(String, String)>,
    /// The enclosure it is about: id and name.
    pub enclosure: Option<(String, String)>,
    /// The zone its dates were written in.
    pub zone: &'a Zone,
    /// When it was written down.
    pub written_down: Moment,
    /// By whom.
    pub by: &'a str,
    /// What it says.
    pub fact: &'a Fact,
}

/// A table of one kind of record, written row by row.
pub struct Table<W: Write> {
    writer: csv::Writer<W>,
    keys: Vec<&'static str>,
}

impl<W: Write> Table<W> {
    /// Begins a table whose records have these fields.
    pub fn new(to: W, keys: &[&'static str]) -> std::io::Result<Table<W>> {
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(to);
        writer.write_record(HEAD.iter().chain(keys))?;
        Ok(Table { writer, keys: keys.to_vec() })
    }

    /// Adds a row.
    pub fn row(&mut self, row: &Row<'_>) -> std::io::Result<()> {
        let pair = |pair: &Option<(String, String)>| pair.clone().unwrap_or_default();
        let (animal, enclosure) = (pair(&row.animal), pair(&row.enclosure));
        let mut cells = vec![
            row.record.clone(),
            animal.0,
            animal.1,
            enclosure.0,
            enclosure.1,
            row.zone.name().unwrap_or_default().to_owned(),
            row.zone.write(row.written_down),
            row.by.to_owned(),
        ];
        let fields = row.fact.fields(row.zone);
        let value = |key: &&str| {
            fields.iter().find(|(name, _)| name == key).map(|(_, value)| value.shown()).unwrap_or_default()
        };
        cells.extend(self.keys.iter().map(value));
        Ok(self.writer.write_record(cells)?)
    }

    /// Writes what waits.
    pub fn finish(mut self) -> std::io::Result<()> {
        self.writer.flush()
    }
}

/// The fields of a record as JSON, under the keys of the case file.
pub fn fields(fact: &Fact, zone: &Zone) -> Value {
    let value = |raw: &Raw| match raw {
        Raw::Text(text) => json!(text),
        Raw::Number(number) if number.fract() == 0.0 && number.abs() < 1e15 => json!(*number as i64),
        Raw::Number(number) => json!(number),
        Raw::Flag(flag) => json!(flag),
        Raw::List(list) => json!(list.iter().map(Raw::shown).collect::<Vec<_>>()),
    };
    Value::Object(fact.fields(zone).iter().map(|(key, raw)| ((*key).to_owned(), value(raw))).collect())
}

/// The walk as JSON; with `room` only that room.
pub fn rounds(rounds: &Rounds, room: Option<&str>) -> Value {
    let zone = &rounds.zone;
    let is_meant = |place: &&Place| room.is_none_or(|room| place.room.to_lowercase() == room.trim().to_lowercase());
    let animal = |one: &care::rounds::Passed| json!({ "id": one.id, "name": one.name, "species": one.species, "mass_g": one.mass_g, "answer": brief(&one.brief, zone) });
    let place = |place: &Place| {
        json!({
            "id": place.id,
            "name": place.name,
            "room": if place.room.is_empty() { None } else { Some(&place.room) },
            "animals": place.animals.iter().map(animal).collect::<Vec<_>>(),
        })
    };
    json!({
        "at": zone.write(rounds.at),
        "zone": zone.name(),
        "places": rounds.places.iter().filter(is_meant).map(place).collect::<Vec<_>>(),
        "thaw": rounds.thaw.iter().map(|thaw| json!({ "class": thaw.class, "count": thaw.count, "animals": thaw.animals })).collect::<Vec<_>>(),
        "timetable": rounds.timetable.as_ref().map(|timetable| json!({
            "feed_at": zone.write(timetable.feed_at),
            "asked_for": zone.write(timetable.asked_for),
            "steps": timetable.steps.iter().map(|one| crate::json::step(one, zone)).collect::<Vec<_>>(),
        })),
    })
}

/// What Rounds needs of one animal's answer, under the keys of the whole answer.
pub fn brief(brief: &Brief, zone: &Zone) -> Value {
    let moment = |at: Option<Moment>| at.map(|at| zone.write(at));
    let due = |list: &[care::rounds::BriefDue]| -> Vec<Value> {
        list.iter()
            .map(|due| json!({ "task": due.task, "from": zone.write(due.from), "by": moment(due.by), "why": due.why }))
            .collect()
    };
    json!({
        "states": brief.states.iter().map(|one| json!({ "state": one.state, "until": moment(one.until), "why": one.why })).collect::<Vec<_>>(),
        "holds": brief.holds.iter().map(|one| json!({ "action": one.action, "until": moment(one.until), "ends_with": one.ends_with, "why": one.why })).collect::<Vec<_>>(),
        "due": due(&brief.due),
        "ahead": due(&brief.ahead),
        "findings": brief.findings.iter().map(|one| json!({
            "code": one.code, "severity": one.severity, "says": one.says, "do": one.does, "caution": one.caution,
        })).collect::<Vec<_>>(),
        "worst": brief.worst().map(Choice::key),
        "prey": { "mass_g": brief.prey_mass_g.map(|(low, high)| [low, high]), "classes": brief.prey_classes },
    })
}
