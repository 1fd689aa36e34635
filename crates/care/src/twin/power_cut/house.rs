//! All enclosures in the order in which they need help.

use records::{Fault, Fields};

use super::cooling::{Cooling, Lines};
use super::{Asked, guesses_of, steps};
use crate::lines;
use crate::twin::{Description, Spread, words};
use crate::what_if::{Basis, Cell, Known, Place, Question, Range, Reckoning, Table, Unit};

/// Ways in which each of many enclosures may be: fewer than for one alone.
const SETS: usize = 12;

/// One enclosure of the order.
struct Ranked {
    name: String,
    who: String,
    line: f64,
    act: Range,
    urgent: Range,
}

/// The answer for every enclosure on record.
pub fn answer(asked: &Asked, room_c: Option<f64>, known: &Known, typed: &dyn Fields) -> Result<Reckoning, Vec<Fault>> {
    if known.all.is_empty() {
        let mend = "add an enclosure, or describe one here and leave this open";
        return Err(vec![Fault::new("no enclosure is on record", typed.place("all"), mend)]);
    }
    let mut answer = Reckoning::to(Question::PowerCut, Basis::Described);
    answer.cautions = vec!["power-cut", "heat-and-fire", "chilled"];
    answer.sources = vec![lines::source("power_alert_tropical"), lines::source("twin_house")];
    let mut ranked = Vec::new();
    for place in known.all.iter().filter(|place| !place.residents.is_empty()) {
        match rank(asked, room_c, known, place) {
            Some(one) => ranked.push(one),
            None => answer.untold.push(format!("{}: its three sides are needed.", name_of(place))),
        }
    }
    ranked.sort_by(|a, b| {
        let key = |one: &Ranked| (one.act.low, one.urgent.low);
        key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal)
    });
    match ranked.first() {
        Some(first) if first.act.mid.is_finite() => answer.says.push(format!(
            "{} first: it is under {:.0} °C after {}.",
            first.name,
            first.line,
            words::hours(first.act)
        )),
        Some(_) => answer.says.push("None is likely to fall under its line in a room like this.".to_owned()),
        None => {
            answer.says.push("Nothing can be told: no enclosure with an animal has its measures on record.".to_owned())
        }
    }
    let strict = Lines::of(None);
    let (act, urgent) = (ranked.first().map(|one| one.act), ranked.first().map(|one| one.urgent));
    answer.steps = steps::of(known, &strict, act, urgent, asked.battery_wh.is_some());
    let cell = |range: Range| Cell::Is(range, Unit::Hours);
    let rows = ranked
        .into_iter()
        .map(|one| {
            let line = Cell::Is(Range::exactly(one.line), Unit::Celsius);
            vec![Cell::Says(one.name), Cell::Says(one.who), line, cell(one.act), cell(one.urgent)]
        })
        .collect();
    answer.tables.push(Table::new(
        "order",
        "Who needs help first",
        [
            ("enclosure", "enclosure"),
            ("who", "lives there"),
            ("line", "warm it under"),
            ("act-hours", "after"),
            ("urgent-hours", "danger after"),
        ],
        rows,
    ));
    Ok(answer)
}

fn name_of(place: &Place) -> String {
    place.enclosure.name.clone().unwrap_or_else(|| "an enclosure without a name".to_owned())
}

fn rank(asked: &Asked, room_c: Option<f64>, known: &Known, place: &Place) -> Option<Ranked> {
    let mut described =
        Description::recorded(&place.enclosure, &place.heaters, known.household.as_ref(), place.residents.clone())?;
    described.room_c = room_c.or(described.room_c);
    let described = described.resting_on(place);
    let spread = Spread::sized(&described, guesses_of(&described, asked), SETS).ok()?;
    // The strictest of those who live there counts.
    let lines =
        place.residents.iter().map(|one| Lines::of(Some(one))).max_by(|a, b| a.act.value.total_cmp(&b.act.value))?;
    let cooling: Vec<Cooling> =
        spread.models().iter().filter_map(|model| Cooling::of(&described, model, asked.outdoors_c).ok()).collect();
    let to = |line: f64| Range::of_times(cooling.iter().map(|one| one.hours_to(line)));
    let who = |one: &crate::what_if::Resident| {
        let name = one.name.clone().unwrap_or_else(|| one.profile.common_names.first().cloned().unwrap_or_default());
        if one.is_digesting { format!("{name} (a meal inside)") } else { name }
    };
    Some(Ranked {
        name: name_of(place),
        who: place.residents.iter().map(who).collect::<Vec<_>>().join(", "),
        line: lines.act.value,
        act: to(lines.act.value)?,
        urgent: to(lines.urgent.value)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::what_if::Resident;
    use records::facts::{Enclosure, Lid};
    use records::fields::Given;
    use units::{Moment, Zone};

    fn place(name: &str, side_cm: f64, species: &str, is_digesting: bool) -> Place {
        let enclosure = Enclosure {
            name: Some(name.to_owned()),
            length_cm: Some(side_cm * 2.0),
            width_cm: Some(side_cm),
            height_cm: Some(side_cm),
            material: Some("glass".to_owned()),
            lid: Some(Lid::Mesh),
            ..Enclosure::default()
        };
        let species::Found::One(profile) = species::library().find(species) else { panic!("{species}") };
        let resident =
            Resident { name: None, profile: profile.clone(), is_hatchling: false, is_digesting, mass_g: None };
        Place { enclosure, residents: vec![resident], ..Place::default() }
    }

    #[test]
    fn who_cools_first_comes_first_and_who_cannot_be_reckoned_is_named() {
        let mut known = Known::nothing(Moment(1_700_000_000), Zone::none());
        let mut bare = place("C", 40.0, "corn snake", false);
        bare.enclosure.length_cm = None;
        known.all = vec![place("A", 60.0, "corn snake", false), place("B", 30.0, "ball python", true), bare];
        let asked = Asked { outdoors_c: Some(0.0), ..Asked::default() };
        let typed = Given::default();
        let answer = answer(&asked, Some(20.0), &known, &typed).unwrap();
        let order = &answer.tables[0].rows;
        assert_eq!(order[0][0], Cell::Says("B".to_owned()));
        assert_eq!(order.len(), 2);
        assert!(answer.untold[0].starts_with('C'));
        assert!(answer.says[0].starts_with("B first"), "{}", answer.says[0]);
    }

    #[test]
    fn without_any_enclosure_it_says_so() {
        let known = Known::nothing(Moment(1_700_000_000), Zone::none());
        assert!(
            answer(&Asked::default(), None, &known, &Given::default()).unwrap_err()[0].what.contains("no enclosure")
        );
    }
}
