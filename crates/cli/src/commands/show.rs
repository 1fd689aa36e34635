//! `warmside show [NAME]`: what stands now and why, and the records.

use records::choice::Choice;
use records::{Fact, Kind};
use render::terminal::sheet::{Sheet, column};
use render::terminal::{self, Look};
use render::wording::{self, Clock};
use serde_json::{Value, json};
use store::Stored;
use units::{Moment, Zone};
use web::desk::{AnimalSheet, Desk, EnclosureSheet, common_name};

use crate::arguments::Show;
use crate::exit::Done;
use crate::home::{About, Home};
use crate::out::Out;

/// So many records are shown unless all are asked for.
const RECENT: usize = 12;

/// Shows one, or lists all.
pub fn run(asked: &Show, home: &Home, out: &mut Out) -> Done {
    let desk = home.reading()?;
    let at = Home::at(&desk, asked.at.as_deref())?;
    let Some(name) = &asked.name else { return list(&desk, asked, out) };
    match About::found(&desk, name)? {
        About::Enclosure(id, _) => {
            let sheet = desk.enclosure(id, at)?;
            if asked.json {
                out.json(&enclosure_json(&sheet, &desk))
            } else {
                out.text(&enclosure(&sheet, &desk, at, asked, out.width()))
            }
        }
        About::Animal(id, _) => {
            let sheet = desk.animal(id, at)?;
            if asked.json {
                out.json(&animal_json(&sheet))
            } else {
                out.text(&animal(&sheet, &desk, at, asked, out.width()))
            }
        }
        About::Everyone => {}
    }
    Ok(())
}

fn list(desk: &Desk, asked: &Show, out: &mut Out) -> Done {
    let animals = desk.store().animals(asked.all)?;
    let enclosures = desk.store().enclosures()?;
    if asked.json {
        let animal = |row: &store::AnimalRow| {
            json!({ "id": row.id, "name": row.animal.name, "species": row.animal.species, "enclosure": row.enclosure_name, "room": row.room,
                "ended": row.ending.as_ref().map(|ending| ending.what.key()) })
        };
        let enclosure =
            |row: &store::EnclosureRow| json!({ "id": row.id, "name": row.enclosure.name, "room": row.enclosure.room });
        out.json(&json!({
            "animals": animals.iter().map(animal).collect::<Vec<_>>(),
            "enclosures": enclosures.iter().map(enclosure).collect::<Vec<_>>(),
        }));
        return Ok(());
    }
    let mut sheet = Sheet::new(out.width());
    let name = |row: &store::AnimalRow| row.animal.name.clone().unwrap_or_else(|| row.id.to_string());
    let names: Vec<String> = animals.iter().map(name).collect();
    let wide = column(names.iter().map(String::as_str));
    for (row, name) in animals.iter().zip(&names) {
        let place = match (&row.enclosure_name, &row.room) {
            (Some(enclosure), Some(room)) => format!(", {enclosure} in {room}"),
            (Some(enclosure), None) => format!(", {enclosure}"),
            _ => String::new(),
        };
        let ended = row.ending.as_ref().map(|ending| format!(", {}", wording::ending(ending.what))).unwrap_or_default();
        sheet.row(0, name, wide, &format!("{}{place}{ended}", common_name(&row.animal.species)));
    }
    let empty: Vec<&store::EnclosureRow> = enclosures.iter().filter(|row| row.animals.is_empty()).collect();
    if !empty.is_empty() {
        sheet.gap();
        let names: Vec<String> =
            empty.iter().map(|row| row.enclosure.name.clone().unwrap_or_else(|| row.id.to_string())).collect();
        sheet.item(0, &format!("Empty: {}.", names.join(", ")));
    }
    out.text(&sheet.finish());
    Ok(())
}

fn animal(found: &AnimalSheet, desk: &Desk, at: Moment, asked: &Show, width: usize) -> String {
    let mut text = terminal::answer(&found.answer, found.row.animal.name.as_deref(), Look { width, why: asked.why });
    let mut sheet = Sheet::new(width);
    let place = match (&found.row.enclosure_name, &found.row.room) {
        (Some(enclosure), Some(room)) => format!("Lives in {enclosure}, {room}. "),
        (Some(enclosure), None) => format!("Lives in {enclosure}. "),
        _ => String::new(),
    };
    sheet.gap();
    sheet.say(0, &format!("{place}Its id is {}.", found.row.id));
    records(&mut sheet, &found.history, desk, at, asked);
    text.push('\n');
    text.push_str(&sheet.finish());
    text
}

fn records(sheet: &mut Sheet, history: &[Stored], desk: &Desk, at: Moment, asked: &Show) {
    let clock = Clock::new(desk.zone(), at);
    let is_shown = |one: &&Stored| {
        let is_past = one.head.happened.is_none_or(|when| when.from <= at || one.head.kind == Kind::Planned);
        is_past && (asked.all || one.head.is_current())
    };
    let shown: Vec<&Stored> = history.iter().filter(is_shown).collect();
    if shown.is_empty() {
        return;
    }
    let most = if asked.all { shown.len() } else { RECENT };
    sheet.gap();
    sheet.say(0, if most < shown.len() { "Latest records (all with --all)" } else { "Records" });
    let when = |one: &Stored| one.head.happened.map_or_else(|| "-".to_owned(), |when| clock.in_table(when));
    let dates: Vec<String> = shown.iter().take(most).map(|one| when(one)).collect();
    let dated = column(dates.iter().map(String::as_str));
    let label = |(one, date): (&&Stored, &String)| format!("{date:dated$}{}", wording::kind(one.head.kind));
    let labels: Vec<String> = shown.iter().zip(&dates).map(label).collect();
    let wide = column(labels.iter().map(String::as_str));
    for (one, label) in shown.iter().zip(&labels) {
        let id = if asked.all { format!(" [{}]", one.head.id) } else { String::new() };
        let fate = match (&one.head.removed, one.head.corrected_by) {
            (Some(gone), _) => format!(
                " (taken back by {}{})",
                gone.by,
                gone.why.as_ref().map(|why| format!(": {why}")).unwrap_or_default()
            ),
            (None, Some(_)) => " (corrected since)".to_owned(),
            (None, None) => String::new(),
        };
        let what = match &one.fact {
            Fact::Stay(stay) => desk
                .find_enclosure(&stay.enclosure.to_string())
                .ok()
                .and_then(|row| row.enclosure.name)
                .unwrap_or_default(),
            other => wording::fact(other, &clock),
        };
        sheet.row(2, label, wide, &format!("{what}{fate}{id}"));
    }
}

fn enclosure(found: &EnclosureSheet, desk: &Desk, at: Moment, asked: &Show, width: usize) -> String {
    let clock = Clock::new(desk.zone(), at);
    let mut sheet = Sheet::new(width);
    sheet.say(0, &format!("{}.", wording::fact(&Fact::Enclosure(found.row.enclosure.clone()), &clock)));
    for heater in &found.row.heaters {
        sheet.item(0, &format!("Heater: {}.", wording::fact(&Fact::Heater(heater.it.clone()), &clock)));
    }
    if let Some(fitted) = &found.row.fitted {
        let kept = desk.known(Some(found.row.id), at).ok().and_then(|known| care::twin::calibrate::kept(&known));
        let says = kept.map_or(String::new(), |kept| format!(" {}", kept.says));
        sheet.item(0, &format!("Log: {}.{says}", wording::fact(&Fact::Fitted(fitted.it.clone()), &clock)));
    }
    sheet.gap();
    if found.animals.is_empty() {
        sheet.say(0, "Nobody lives in it.");
    }
    for one in &found.animals {
        let name = one.row.animal.name.clone().unwrap_or_else(|| one.row.id.to_string());
        let worst = one.brief.findings.first().map_or("nothing found".to_owned(), |finding| finding.says.clone());
        sheet.item(0, &format!("{name}, {}: {worst}", common_name(&one.row.animal.species)));
    }
    let mut rows: Vec<(&str, String)> = Vec::new();
    for latest in &found.readings {
        let mut parts = Vec::new();
        if let Some((_, reading)) = &latest.temperature {
            parts.extend(
                reading
                    .temperature_c
                    .map(|degrees| format!("{} {}", wording::celsius(degrees), clock.when(reading.at))),
            );
        }
        if let Some((_, reading)) = &latest.humidity {
            parts.extend(
                reading.humidity_pct.map(|share| format!("{} {}", wording::percent(share), clock.when(reading.at))),
            );
        }
        rows.push((wording::spot(latest.spot), parts.join(", ")));
    }
    for chore in &found.chores {
        let last = chore.last.as_ref().and_then(|stored| stored.head.happened);
        rows.push((
            wording::chore(chore.task),
            last.map_or("not recorded".to_owned(), |when| format!("last {}", clock.when(when))),
        ));
    }
    sheet.gap();
    let wide = column(rows.iter().map(|(label, _)| *label));
    for (label, text) in &rows {
        sheet.row(0, label, wide, text);
    }
    sheet.gap();
    sheet.say(0, &format!("Its id is {}.", found.row.id));
    records(&mut sheet, &found.history, desk, at, asked);
    sheet.finish()
}

fn record_json(one: &Stored) -> Value {
    let zone: &Zone = &one.head.zone;
    json!({
        "id": one.head.id,
        "kind": one.head.kind.key(),
        "at": one.head.happened.map(|when| zone.write_when(when)),
        "written_down": zone.write(one.head.recorded_at),
        "by": one.head.by,
        "stands": one.head.is_current(),
        "corrects": one.head.corrects,
        "corrected_by": one.head.corrected_by,
        "why": one.head.why,
        "removed": one.head.removed.as_ref().map(|gone| json!({ "by": gone.by, "at": zone.write(gone.at), "why": gone.why })),
        "fields": render::export::fields(&one.fact, zone),
    })
}

fn animal_json(found: &AnimalSheet) -> Value {
    let row = &found.row;
    json!({
        "id": row.id,
        "animal": render::export::fields(&Fact::Animal(row.animal.clone()), &found.case.zone),
        "enclosure": row.enclosure_name,
        "enclosure_id": row.enclosure,
        "room": row.room,
        "answer": render::json::answer(&found.answer),
        "records": found.history.iter().map(record_json).collect::<Vec<_>>(),
    })
}

fn enclosure_json(found: &EnclosureSheet, desk: &Desk) -> Value {
    let zone = desk.zone();
    let animal = |one: &web::desk::Resident| json!({ "id": one.row.id, "name": one.row.animal.name, "mass_g": one.mass_g, "answer": render::export::brief(&one.brief, zone) });
    json!({
        "id": found.row.id,
        "enclosure": render::export::fields(&Fact::Enclosure(found.row.enclosure.clone()), zone),
        "heaters": found.row.heaters.iter().map(|heater| render::export::fields(&Fact::Heater(heater.it.clone()), zone)).collect::<Vec<_>>(),
        "fitted": found.row.fitted.iter().map(|fitted| render::export::fields(&Fact::Fitted(fitted.it.clone()), zone)).next(),
        "animals": found.animals.iter().map(animal).collect::<Vec<_>>(),
        "records": found.history.iter().map(record_json).collect::<Vec<_>>(),
    })
}
