//! How damp is it, and what changes it: humidity and dew point at every spot, water a day, one change at a time, dew on
//! the walls.

mod changes;
mod dew;
mod measured;
mod misting;

use records::facts::Spot;
use records::fields::{Limits, Reader};
use records::{Fault, Fields};
use science::physics::network::NetworkFault;
use species::Figure;

use super::guesses::Unknown;
use super::held::held;
use super::model::SPOTS;
use super::moisture::{Air, Vapour, Wet, humidity_pct, saturated_kg_m3, wet};
use super::warmth::{impossible, push, wanted_at};
use super::{Description, Guesses, Model, Spread, State, description, words};
use crate::answer::{Severity, SourceRef};
use crate::lines;
use crate::what_if::{AtSpot, Entry, Field, Group, Known, Question, Range, Reckoning, Unit, Warning};

/// What it asks for.
pub fn fields() -> Vec<Field> {
    let mut fields = vec![
        Field::new("target_pct", "Humidity wanted", Entry::Number(Unit::Humidity), Group::Question)
            .hint("at the cool side; left open: what the species wants"),
        Field::new("in_shed", "In shed", Entry::Flag, Group::Question).hint("dull or blue: it wants more then"),
    ];
    fields.extend(description::fields());
    fields
}

struct Asked {
    target_pct: Option<f64>,
    in_shed: bool,
}

fn asked(reader: &mut Reader<'_>) -> Asked {
    Asked {
        target_pct: reader.number("target_pct", Limits::new(1.0, 100.0, "% relative humidity")),
        in_shed: reader.flag("in_shed").unwrap_or(false),
    }
}

/// What is wanted in the air of the cool side, %.
#[derive(Clone, Debug)]
struct Wanted {
    low: f64,
    mid: f64,
    high: f64,
    /// For whom, in words.
    who: String,
    /// Where it comes from; `None` where it was typed.
    source: Option<SourceRef>,
}

impl Wanted {
    fn of(described: &Description, asked: &Asked) -> Option<Wanted> {
        if let Some(pct) = asked.target_pct {
            let who = format!("{pct:.0} % is wanted");
            return Some(Wanted { low: pct, mid: pct, high: pct, who, source: None });
        }
        let profile = described.profile()?;
        let humidity = &profile.humidity;
        let is_young = described.residents.first().is_some_and(|one| one.is_hatchling);
        let in_shed = humidity.shed_pct.first().filter(|_| asked.in_shed);
        let young = || humidity.neonate_pct.first().filter(|_| is_young);
        let figure: &Figure = in_shed.or_else(young).or_else(|| humidity.normal_pct.first())?;
        let name = profile.common_names.first().unwrap_or(&profile.scientific_name);
        let when = if asked.in_shed { " in shed" } else { "" };
        let article = if name.starts_with(['a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O', 'U']) { "an" } else { "a" };
        let who = format!("{article} {name}{when} wants {:.0}–{:.0} %", figure.low, figure.high);
        let source = Some(SourceRef::of(figure));
        Some(Wanted { low: figure.low, mid: figure.middle(), high: figure.high, who, source })
    }
}

/// On which side of what is wanted the air stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Dry,
    Right,
    Damp,
}

/// One way in which the enclosure may be, settled as it is driven by day.
struct Now {
    model: Model,
    state: State,
    air: Air,
    wet: Vec<Wet>,
    vapour: Vapour,
}

impl Now {
    fn of(described: &Description, model: &Model) -> Result<Now, NetworkFault> {
        let state = model.settled(&held(described, model, false), model.values().of(Unknown::Room))?;
        Now::at(described, model, state)
    }

    fn at(described: &Description, model: &Model, state: State) -> Result<Now, NetworkFault> {
        let air = Air::of(model, &state);
        let mut wet = wet(model, &state);
        if described.enclosure.humid_hide == Some(true) {
            wet.push(changes::moss(model, &state));
        }
        let vapour = air.settles(&wet).ok_or(NetworkFault::Range("exchange of air"))?;
        Ok(Now { model: model.clone(), state, air, wet, vapour })
    }

    fn pct(&self, spot: Spot) -> f64 {
        self.vapour.humidity_pct(self.state.spot(spot))
    }
}

fn guesses(described: &Description) -> Guesses {
    Guesses::of(described)
        .wondering(Unknown::HideExchange, lines::whole("twin_hide_exchange"))
        .wondering(Unknown::Film, lines::whole("twin_film"))
}

/// The answer.
pub fn answer(typed: &dyn Fields, known: &Known) -> Result<Reckoning, Vec<Fault>> {
    let (described, asked) = description::read(typed, known, asked)?;
    reckon(&described, &asked, known).map_err(|fault| vec![impossible(typed, &fault)])
}

fn reckon(described: &Description, asked: &Asked, known: &Known) -> Result<Reckoning, NetworkFault> {
    let spread = Spread::with(described, guesses(described))?;
    let sets: Vec<Now> = spread.models().iter().filter_map(|model| Now::of(described, model).ok()).collect();
    let over = |number: &dyn Fn(&Now) -> f64| Range::of(sets.iter().map(number));
    let cool = over(&|now| now.pct(Spot::CoolAir)).ok_or(NetworkFault::Range("humidity"))?;
    let wanted = Wanted::of(described, asked);
    let mut answer = described.begin(Question::Humidity);
    answer.guesses = spread.guessed(described, |model| Ok(Now::of(described, model)?.pct(Spot::CoolAir)));
    answer.sources = vec![lines::source("twin_evaporation"), lines::source("twin_air_changes")];
    answer.sources.extend(wanted.as_ref().and_then(|wanted| wanted.source.clone()));
    answer.cautions = vec!["wiring"];

    for spot in SPOTS {
        answer.spots.push(AtSpot {
            spot,
            temperature_c: over(&|now| now.state.spot(spot)),
            humidity_pct: over(&|now| now.pct(spot)),
            measured_c: None,
            wanted_c: described.profile().and_then(|profile| wanted_at(profile, spot)),
        });
    }
    let side = verdict(&mut answer, wanted.as_ref(), cool, over(&|now| now.pct(Spot::WarmAir)));
    let key = "humidity-cool-air";
    push(&mut answer, key, "humidity of the cool air", Some(cool), Unit::Humidity, Some(Spot::CoolAir));
    let warm = over(&|now| now.pct(Spot::WarmAir));
    let key = "humidity-warm-air";
    push(&mut answer, key, "humidity of the warm air", warm, Unit::Humidity, Some(Spot::WarmAir));
    let dew = over(&|now| now.vapour.dew_point_c(now.air.mean_c));
    push(&mut answer, "dew-point", "dew point, the same all over the box", dew, Unit::Celsius, None);
    let changes_per_h = over(&|now| now.air.changes_per_h);
    push(&mut answer, "air-changes", "room air that passes through the box", changes_per_h, Unit::PerHour, None);
    let given = over(&|now| now.vapour.given_g_day);
    push(&mut answer, "water-given", "water that evaporates by itself now", given, Unit::GramsPerDay, None);
    if let Some(wanted) = &wanted {
        water(&mut answer, wanted, &sets, cool);
    } else {
        answer.untold.push("Whether that is right, and the water to add: the species or a target is needed.".into());
    }
    dew::dew(&mut answer, wanted.as_ref(), &sets);
    changes::changes(&mut answer, described, wanted.as_ref(), side, &sets);
    measured::measured(&mut answer, known, &sets);
    if described.heaters.is_empty() {
        answer.untold.push("No heater is told, so the box is reckoned at the temperature of the room.".into());
    }
    answer.warnings.sort_by_key(|warning| std::cmp::Reverse(warning.severity));
    Ok(answer)
}

/// The main sentence, and a warning where the air is too dry or too damp.
fn verdict(answer: &mut Reckoning, wanted: Option<&Wanted>, cool: Range, warm: Option<Range>) -> Side {
    let warm = warm.map_or_else(String::new, |warm| format!(", that of the warm side at {}", words::percent(warm)));
    let settles = format!("The air of the cool side settles at {}{warm}", words::percent(cool));
    let Some(wanted) = wanted else {
        answer.says.push(format!("{settles}."));
        return Side::Right;
    };
    let (side, word) = if cool.mid < wanted.low {
        (Side::Dry, "too dry")
    } else if wanted.high < cool.mid {
        (Side::Damp, "too damp")
    } else {
        (Side::Right, "right")
    };
    // A target that is typed is one number: nothing meets it exactly.
    let slack = lines::low("humidity_off").value;
    let off = (wanted.low - cool.mid).max(cool.mid - wanted.high);
    let side = if wanted.low == wanted.high && off <= slack { Side::Right } else { side };
    let word = if side == Side::Right { "right" } else { word };
    let may = match side {
        Side::Right if cool.low < wanted.low - slack => ", though it may be too dry",
        Side::Right if wanted.high + slack < cool.high => ", though it may be too damp",
        _ => "",
    };
    answer.says.push(format!("{settles}: {word}{may}; {}.", wanted.who));
    if slack < off {
        let is_far = lines::high("humidity_off").value < off;
        let (key, says, does) = match side {
            Side::Dry => {
                ("too-dry", "The air is too dry", "Raise it by one change of the table, and measure again after a day.")
            }
            _ => (
                "too-damp",
                "The air is too damp",
                "Let more air through or take a wet surface away, and measure again after a day.",
            ),
        };
        answer.warnings.push(Warning {
            key,
            severity: if is_far { Severity::Act } else { Severity::Watch },
            says: format!("{says}: {} where {}.", words::percent(cool), wanted.who),
            does: does.into(),
            source: wanted.source.clone(),
            caution: None,
        });
    }
    side
}

/// The vapour density that holds what is wanted in the air of the cool side, kg/m³.
fn target_kg_m3(wanted: &Wanted, now: &Now) -> f64 {
    wanted.mid / 100.0 * saturated_kg_m3(now.state.spot(Spot::CoolAir))
}

/// Water a day that holds what is wanted, and what of it must be added.
fn water(answer: &mut Reckoning, wanted: &Wanted, sets: &[Now], cool: Range) {
    let lost = Range::of(sets.iter().map(|now| now.air.loss_g_day(target_kg_m3(wanted, now))));
    let added = Range::of(sets.iter().map(|now| {
        let held = target_kg_m3(wanted, now);
        now.air.loss_g_day(held) - now.air.given_g_day(&now.wet, held)
    }));
    let warm = Range::of(sets.iter().map(|now| humidity_pct(target_kg_m3(wanted, now), now.state.spot(Spot::WarmAir))));
    let (Some(lost), Some(added)) = (lost, added) else { return };
    let mid = wanted.mid;
    push(answer, "water-lost", format!("water that leaves a day at {mid:.0} %"), Some(lost), Unit::GramsPerDay, None);
    let floored = Range { low: added.low.max(0.0), mid: added.mid.max(0.0), high: added.high.max(0.0) };
    let some = Some(floored).filter(|added| 0.0 < added.high);
    push(answer, "water-to-add", format!("water to add a day for {mid:.0} %"), some, Unit::GramsPerDay, None);
    let says = format!("humidity of the warm air while the cool side has {mid:.0} %");
    push(answer, "warm-at-target", says, warm, Unit::Humidity, Some(Spot::WarmAir));
    if 0.0 < lost.mid && cool.mid < mid && 0.0 < added.mid {
        answer.says.push(format!(
            "To hold {mid:.0} % there, {} of water a day leave with the air; {} of it have to be added to what evaporates by itself.",
            words::grams(lost),
            words::grams(floored)
        ));
    }
}

#[cfg(test)]
mod tests;
