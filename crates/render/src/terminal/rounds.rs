//! The walk past every enclosure.

use care::answer::{Action, Severity, Task};
use care::rounds::{BriefFinding, Passed, Place, Rounds};
use records::choice::Choice;
use records::facts::Prey;

use super::Look;
use super::answer::{span, until};
use super::reckoning::steps_of;
use super::sheet::{Sheet, column};
use crate::wording::{self, Clock};

/// The walk, room by room; with `room` only that room.
pub fn rounds(rounds: &Rounds, room: Option<&str>, look: Look) -> String {
    let clock = Clock::new(&rounds.zone, rounds.at);
    let mut sheet = Sheet::new(look.width);
    head(&mut sheet, rounds, &clock);
    let is_meant = |place: &&Place| room.is_none_or(|room| place.room.to_lowercase() == room.trim().to_lowercase());
    let places: Vec<&Place> = rounds.places.iter().filter(is_meant).collect();
    let wide = column(places.iter().map(|place| place.name.as_str()));
    let mut last_room = None;
    for place in places {
        if last_room != Some(place.room.as_str()) {
            last_room = Some(place.room.as_str());
            sheet.gap();
            sheet.say(0, if place.room.is_empty() { "No room recorded" } else { &place.room });
        }
        let mut label = place.name.as_str();
        for animal in &place.animals {
            passed(&mut sheet, label, wide, animal, &clock, look);
            label = "";
        }
    }
    if room.is_none() {
        thaw(&mut sheet, rounds, &clock, look);
    }
    sheet.finish()
}

fn head(sheet: &mut Sheet, rounds: &Rounds, clock: &Clock) {
    let animals = rounds.animals().count();
    let enclosures = rounds.places.iter().filter(|place| place.id.is_some()).count();
    let date = clock.long_date(rounds.zone.date(rounds.at));
    let counted = wording::counted;
    sheet.say(
        0,
        &format!(
            "{date}, {}. {} in {}.",
            clock.time(rounds.at),
            wording::capital(&counted(animals, "animal", "animals")),
            counted(enclosures, "enclosure", "enclosures")
        ),
    );
    if animals == 0 {
        sheet.gap();
        sheet.say(
            0,
            "Nothing to look after yet: add an animal with `warmside add animal NAME --species \"corn snake\"`.",
        );
        return;
    }
    let mut parts = Vec::new();
    for (severity, one, many) in [
        (Severity::Urgent, "needs something now", "need something now"),
        (Severity::Vet, "needs a reptile veterinarian", "need a reptile veterinarian"),
        (Severity::Act, "needs something today", "need something today"),
    ] {
        let count = rounds.count_worst(severity);
        if 0 < count {
            parts.push(format!("{} {}", wording::count(count), if count == 1 { one } else { many }));
        }
    }
    let meals = rounds.count(Task::OfferMeal);
    parts.push(if meals == 0 {
        "no meal is due".to_owned()
    } else {
        format!("{} due", wording::counted(meals, "meal is", "meals are"))
    });
    sheet.say(0, &format!("{}.", wording::capital(&parts.join("; "))));
}

fn passed(sheet: &mut Sheet, label: &str, wide: usize, animal: &Passed, clock: &Clock, look: Look) {
    let brief = &animal.brief;
    let mass = animal.mass_g.map(|mass| format!(", {}", wording::mass(mass))).unwrap_or_default();
    let states: Vec<&str> =
        brief.states.iter().filter_map(|one| care::answer::State::from_key(&one.state)).map(wording::state).collect();
    let states = if states.is_empty() { String::new() } else { format!("; {}", states.join(", ")) };
    let is_quiet = brief.findings.is_empty() && brief.due.is_empty() && brief.holds.is_empty();
    let rest = if is_quiet { ": nothing to do" } else { "" };
    sheet.row(2, label, wide, &format!("{}, {}{mass}{states}{rest}", animal.name, animal.species));
    let indent = 2 + wide + 2;
    for finding in &brief.findings {
        found(sheet, indent, finding, look);
    }
    let labels = brief.due.iter().filter_map(|due| Task::from_key(&due.task)).map(wording::task);
    let held = brief.holds.iter().filter_map(|hold| Action::from_key(&hold.action));
    let wide = column(labels.chain(held.map(wording::held)));
    for due in &brief.due {
        let task = Task::from_key(&due.task);
        let mut text = span(due.from, due.by, clock);
        if task == Some(Task::OfferMeal) {
            let class = brief.prey_classes.first().and_then(|key| Prey::from_key(key)).map(wording::prey);
            let mass = brief.prey_mass_g.map(|(low, high)| wording::masses(low, high));
            let prey: Vec<String> = class.map(str::to_owned).into_iter().chain(mass).collect();
            if !prey.is_empty() {
                text = format!("{} ({text})", prey.join(", "));
            }
        }
        if look.why {
            text = format!("{text}. {}", due.why);
        }
        let label: &str = match task {
            Some(task) => wording::task(task),
            None => &due.task,
        };
        sheet.row(indent, label, wide, &text);
    }
    for hold in &brief.holds {
        let end = until(hold.until, hold.ends_with.as_deref(), clock);
        let text = if look.why { format!("{end}. {}", hold.why.join(" ")) } else { end };
        let action: &str = match Action::from_key(&hold.action) {
            Some(action) => wording::held(action),
            None => &hold.action,
        };
        sheet.row(indent, &wording::capital(action), wide, &text);
    }
}

fn found(sheet: &mut Sheet, indent: usize, finding: &BriefFinding, look: Look) {
    let severity = Severity::from_key(&finding.severity).unwrap_or(Severity::Note);
    sheet.item(indent, &format!("{}: {}", wording::severity(severity), finding.says));
    if look.why || Severity::Act <= severity {
        sheet.say(indent + 2, &finding.does);
    }
    if let Some(caution) = finding.caution.as_ref().filter(|_| look.why || Severity::Vet <= severity) {
        sheet.say(indent + 2, &format!("Caution: {caution}"));
    }
}

fn thaw(sheet: &mut Sheet, rounds: &Rounds, clock: &Clock, look: Look) {
    if rounds.thaw.is_empty() {
        return;
    }
    sheet.gap();
    sheet.say(0, "To thaw");
    let labels: Vec<String> = rounds.thaw.iter().map(|thaw| wording::prey_counted(&thaw.class, thaw.count)).collect();
    let wide = column(labels.iter().map(String::as_str));
    for (thaw, label) in rounds.thaw.iter().zip(&labels) {
        sheet.row(2, label, wide, &format!("for {}", wording::listed(&thaw.animals)));
    }
    if let Some(timetable) = &rounds.timetable {
        sheet.say(2, &wording::evening(timetable, clock));
        steps_of(sheet, &timetable.steps, clock, look.why);
        sheet.item(2, "Another hour, other prey: `warmside thaw`.");
    }
}
