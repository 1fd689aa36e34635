//! What was typed.

use records::choice::Choice;
use records::facts::{Prey, Thawing as Way};
use records::fault::nearest;
use records::fields::Limits;
use records::import::named_prey;
use records::{Fault, Fields, Raw, Reader};
use units::{Moment, Precision, Zone};

use super::assumed::{Assumed, Taken};
use super::course::elongation_of;
use super::lot::{self, Lot};
use super::timetable::usual_evening;
use crate::lines;
use crate::view::{grams, number};
use crate::what_if::{Entry, Field, Group, Known, Range, Unit};

/// A question about thawing.
pub(super) struct Asked {
    pub lots: Vec<Lot>,
    pub feed_at: Moment,
    pub way: Option<Way>,
    pub assumed: Assumed,
    /// It was thawed once and frozen again.
    pub is_refrozen: bool,
}

/// Kinds of prey of one evening, at most.
const MOST_LOTS: usize = 12;
const FREEZER_C: Limits = Limits::new(-40.0, -3.0, "°C");
const FRIDGE_C: Limits = Limits::new(0.5, 15.0, "°C");
const COOL_C: Limits = Limits::new(2.0, 28.0, "°C");
const WATER_C: Limits = Limits::new(25.0, 100.0, "°C");
const WATER_L: Limits = Limits::new(0.2, 200.0, "litres");
const ROOM_C: Limits = Limits::new(5.0, 31.0, "°C");
const THICKEST_CM: Limits = Limits::new(0.3, 25.0, "cm");

/// What it asks for.
pub fn fields() -> Vec<Field> {
    let question = |key, label, entry| Field::new(key, label, entry, Group::Question);
    let number = |key, label, unit| question(key, label, Entry::Number(unit));
    vec![
        question("prey", "Prey", Entry::Lines)
            .hint("one kind in a line: 2 mouse-adult; 1 rat-small 85 g; 3 x 12 g. The mass is that of one item"),
        question("feed_at", "Feeding time", Entry::Moment).hint("left out: this evening"),
        question("method", "Thaw it in", Entry::Choice(ways))
            .hint("left out: the gentlest way for which there is time"),
        question("bag", "In a bag while in water", Entry::Flag).hint("left out: yes, with the air pressed out"),
        number("water_c", "Warm bath", Unit::Celsius).hint("as it is drawn"),
        number("water_l", "Water in the bath", Unit::Litres).hint("left out: as much as it needs"),
        Field::new("room_c", "Room", Entry::Number(Unit::Celsius), Group::Room),
        number("diameter_cm", "Thickest place of the largest item", Unit::Centimetres)
            .hint("decides more than the mass; measure it across the belly")
            .extra(),
        question("stacked", "Pieces lie on each other while they thaw", Entry::Flag).extra(),
        question("thawed_before", "Thawed once and frozen again", Entry::Flag).extra(),
        number("fridge_c", "Refrigerator", Unit::Celsius).extra(),
        number("cool_c", "Cool water", Unit::Celsius).extra(),
        number("freezer_c", "Freezer", Unit::Celsius).extra(),
    ]
}

/// The way in words: «in the refrigerator».
pub(super) fn way_says(way: Way) -> &'static str {
    match way {
        Way::Fridge => "in the refrigerator",
        Way::CoolWater => "in cool water",
        Way::WarmWater => "straight in the warm bath",
        Way::HotWater => "in hot water",
        Way::Room => "in room air",
        Way::Microwave => "in a microwave",
    }
}

fn ways() -> Vec<(&'static str, String)> {
    Way::ALL.iter().map(|way| (way.key(), way_says(*way).trim_start_matches("in ").to_owned())).collect()
}

/// Reads the question, or tells all faults.
pub(super) fn read(typed: &dyn Fields, known: &Known) -> Result<Asked, Vec<Fault>> {
    let mut reader = Reader::new(typed, &known.zone);
    let mut lots = prey(&mut reader);
    let feed_at = feed_at(&mut reader, known.now, &known.zone);
    let way = reader.choice::<Way>("method");
    let is_bagged = reader.flag("bag").unwrap_or(true);
    let is_stacked = reader.flag("stacked").unwrap_or(false);
    let is_refrozen = reader.flag("thawed_before").unwrap_or(false);
    let thickest_cm = reader.number("diameter_cm", THICKEST_CM);
    let mut taken = |key, limits, rule| Taken::told_or(reader.number(key, limits), rule);
    let assumed = Assumed {
        freezer_c: taken("freezer_c", FREEZER_C, "thaw_freezer"),
        fridge_c: taken("fridge_c", FRIDGE_C, "thaw_fridge"),
        cool_c: taken("cool_c", COOL_C, "thaw_cool_water"),
        water_c: taken("water_c", WATER_C, "thaw_bath"),
        room_c: taken("room_c", ROOM_C, "thaw_room"),
        water_l: reader.number("water_l", WATER_L),
        is_bagged,
        is_stacked,
    };
    thickness(&mut reader, &mut lots, thickest_cm);
    let faults = reader.finish();
    match feed_at {
        Some(feed_at) if faults.is_empty() => Ok(Asked { lots, feed_at, way, assumed, is_refrozen }),
        _ => Err(faults),
    }
}

/// The thickest place is that of the heaviest item; one that its mass cannot have is a slip.
fn thickness(reader: &mut Reader<'_>, lots: &mut [Lot], thickest_cm: Option<f64>) {
    const SLIMMEST: f64 = 25.0;
    let heaviest = lots.iter_mut().max_by(|a, b| a.mass_g.mid.total_cmp(&b.mass_g.mid));
    let (Some(cm), Some(heaviest)) = (thickest_cm, heaviest) else { return };
    let mass = heaviest.mass_g;
    // A class is wide: what fits any of its masses is believed.
    if elongation_of(mass.high, cm) < 1.0 || SLIMMEST < elongation_of(mass.low, cm) {
        reader.object(
            "diameter_cm",
            format!("prey of {} cannot be {} cm thick", grams(mass.mid), number(cm)),
            "measure its thickest place across the belly, in cm, or leave it out",
        );
        return;
    }
    heaviest.thickest_cm = Some(cm);
}

fn prey(reader: &mut Reader<'_>) -> Vec<Lot> {
    let raw = reader.raw("prey");
    let text = reader.require("prey", raw).map(|raw| match raw {
        Raw::List(list) => list.iter().map(Raw::shown).collect::<Vec<_>>().join("\n"),
        other => other.shown(),
    });
    let mut lots = Vec::new();
    for line in lines_of(&text.unwrap_or_default()) {
        match one(&line) {
            Ok(lot) => lots.push(lot),
            Err((what, mend)) => reader.object("prey", what, mend),
        }
    }
    if MOST_LOTS < lots.len() {
        reader.object(
            "prey",
            format!("{} kinds of prey are too many at once", lots.len()),
            format!("ask about {MOST_LOTS} at most, or put like with like"),
        );
    }
    lots
}

/// Lines, or parts between commas; a comma between two digits is a decimal sign.
fn lines_of(text: &str) -> Vec<String> {
    let mut parts = vec![String::new()];
    let mut before = None;
    let mut signs = text.chars().peekable();
    while let Some(sign) = signs.next() {
        let digit = |sign: Option<&char>| sign.is_some_and(char::is_ascii_digit);
        let is_decimal = sign == ',' && digit(before.as_ref()) && digit(signs.peek());
        if matches!(sign, '\n' | '\r' | ';' | '+') || (sign == ',' && !is_decimal) {
            parts.push(String::new());
        } else if let Some(last) = parts.last_mut() {
            last.push(sign);
        }
        before = Some(sign);
    }
    parts.into_iter().map(|part| part.trim().to_owned()).filter(|part| !part.is_empty()).collect()
}

fn one(line: &str) -> Result<Lot, (String, String)> {
    let Some(named) = named_prey(line) else { return Err(not_understood(line)) };
    let count = named.count.unwrap_or(1);
    let (least, most) = (lines::low("thaw_prey_mass").value, lines::high("thaw_prey_mass").value);
    let mass_g = match (named.mass_g, named.class) {
        (Some(mass), _) if !(least..=most).contains(&mass) => {
            return Err((
                format!("prey of {} cannot be (`{line}`)", grams(mass)),
                format!("give the mass of one item, between {} and {}", grams(least), grams(most)),
            ));
        }
        (Some(mass), _) => Range::exactly(mass),
        (None, Some(class)) => match lot::class_mass_g(class) {
            Some((mass, _)) => mass,
            None => {
                return Err((
                    format!("`{line}` comes in any size"),
                    format!("weigh one and write it beside: {line} 20 g"),
                ));
            }
        },
        (None, None) => return Err(not_understood(line)),
    };
    Ok(Lot { class: named.class, mass_g, count, thickest_cm: None })
}

fn not_understood(line: &str) -> (String, String) {
    let words: Vec<&str> = line.split(|sign: char| !sign.is_alphabetic()).filter(|word| 2 < word.len()).collect();
    let near = nearest(&words.join("-"), Prey::keys(), 3);
    let mend = if words.is_empty() || near.is_empty() {
        format!(
            "write how many and a class or a mass, as `2 mouse-adult` or `1 x 85 g`; classes: {}",
            Prey::keys().collect::<Vec<_>>().join(", ")
        )
    } else {
        format!("did you mean {}?", near.join(" or "))
    };
    (format!("`{line}` is no prey that is known"), mend)
}

/// A moment, or an hour of the clock: today's where it is still ahead, else tomorrow's.
fn feed_at(reader: &mut Reader<'_>, now: Moment, zone: &Zone) -> Option<Moment> {
    let Some(text) = reader.text("feed_at") else { return Some(usual_evening(now, zone)) };
    if let Some(time) = clock(&text) {
        let today = zone.moment(zone.date(now).to_datetime(time));
        return Some(if now < today { today } else { zone.days_later(today, 1) });
    }
    let read = zone.read(&text).filter(|when| when.precision <= Precision::Day);
    let Some(when) = read else {
        reader.object("feed_at", format!("`{text}` is no time (`feed_at`)"), "write it as 19:30 or 2026-03-14T19:30");
        return None;
    };
    let at = if when.has_hour() { when.from } else { usual_evening(when.from, zone) };
    if at <= now {
        reader.object("feed_at", "the feeding time is past", "give one that is still ahead");
        return None;
    }
    Some(at)
}

fn clock(text: &str) -> Option<jiff::civil::Time> {
    let (hour, minute) = text.trim().split_once(':')?;
    (minute.len() == 2).then(|| jiff::civil::Time::new(hour.parse().ok()?, minute.parse().ok()?, 0, 0).ok())?
}
