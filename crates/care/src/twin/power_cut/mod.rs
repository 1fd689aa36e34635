//! If the power goes out: how fast each spot cools, hours to the lines of the species, what helps, and in what order.

pub(super) mod cooling;
mod house;
mod remedies;
mod steps;

use records::fields::{Limits, Reader};
use records::{Fault, Fields};
use science::physics::network::NetworkFault;

use self::cooling::{Cooling, Lines, MAIN};
use super::guesses::{Guesses, Unknown};
use super::model::SPOTS;
use super::warmth::{impossible, push};
use super::{Description, Spread, description, words};
use crate::answer::Severity;
use crate::lines;
use crate::what_if::{
    AtSpot, Cell, Curve, Entry, Field, Group, Known, Limit, Point, Question, Range, Reckoning, Table, Unit, Warning,
};

/// What it asks for.
pub fn fields() -> Vec<Field> {
    let mut fields = vec![
        Field::new("all", "Every enclosure on record", Entry::Flag, Group::Question)
            .hint("in the order in which they need help"),
        Field::new("outdoors_c", "Outdoors", Entry::Number(Unit::Celsius), Group::Question)
            .hint("without heating the room goes there; left open: the room stays as it is"),
        Field::new("meal_inside", "A meal is inside", Entry::Flag, Group::Question),
        Field::new("young", "A hatchling", Entry::Flag, Group::Question),
        Field::new("bottle_l", "Hot bottles of", Entry::Number(Unit::Litres), Group::Question).extra(),
        Field::new("bottle_c", "Bottles filled at", Entry::Number(Unit::Celsius), Group::Question).extra(),
        Field::new("battery_wh", "A battery of", Entry::Number(Unit::WattHours), Group::Question)
            .hint("watt-hours as printed; 12 V × Ah")
            .extra(),
    ];
    fields.extend(description::fields());
    fields
}

/// What was asked beside the description.
#[derive(Clone, Copy, Debug, Default)]
struct Asked {
    outdoors_c: Option<f64>,
    meal_inside: Option<bool>,
    young: Option<bool>,
    bottle_l: Option<f64>,
    bottle_c: Option<f64>,
    battery_wh: Option<f64>,
}

fn asked(reader: &mut Reader<'_>) -> Asked {
    reader.flag("all");
    Asked {
        outdoors_c: reader.number("outdoors_c", Limits::new(-50.0, 50.0, "°C")),
        meal_inside: reader.flag("meal_inside"),
        young: reader.flag("young"),
        bottle_l: reader.number("bottle_l", Limits::new(0.1, 10.0, "litres")),
        // Hotter water bursts thin bottles and burns who is touched by it.
        bottle_c: reader.number("bottle_c", Limits::new(30.0, 70.0, "°C")),
        battery_wh: reader.number("battery_wh", Limits::new(1.0, 100_000.0, "watt-hours")),
    }
}

/// The answer.
pub fn answer(typed: &dyn Fields, known: &Known) -> Result<Reckoning, Vec<Fault>> {
    if Question::PowerCut.is_for_all(typed) {
        let mut reader = Reader::new(typed, &known.zone);
        let asked = asked(&mut reader);
        // What describes one enclosure does not hold for all of them.
        let room_c = reader.number("room_c", Limits::new(-30.0, 60.0, "°C"));
        let faults = reader.finish();
        if !faults.is_empty() {
            return Err(faults);
        }
        return house::answer(&asked, room_c, known, typed);
    }
    let (mut described, asked) = description::read(typed, known, asked)?;
    for resident in &mut described.residents {
        resident.is_digesting = asked.meal_inside.unwrap_or(resident.is_digesting);
        resident.is_hatchling = asked.young.unwrap_or(resident.is_hatchling);
    }
    reckon(&described, &asked, known).map_err(|fault| vec![impossible(typed, &fault)])
}

/// What is open; without a temperature outdoors the room stays as it is.
fn guesses_of(described: &Description, asked: &Asked) -> Guesses {
    let guesses = Guesses::of(described);
    match asked.outdoors_c {
        Some(_) => guesses,
        None => guesses.knowing(Unknown::House, f64::INFINITY),
    }
}

fn reckon(described: &Description, asked: &Asked, known: &Known) -> Result<Reckoning, NetworkFault> {
    let spread = Spread::with(described, guesses_of(described, asked))?;
    let lines_of = Lines::of(described.residents.first());
    let cooling: Vec<Cooling> =
        spread.models().iter().filter_map(|model| Cooling::of(described, model, asked.outdoors_c).ok()).collect();
    let mut answer = described.begin(Question::PowerCut);
    answer.cautions = vec!["power-cut", "heat-and-fire", "chilled"];
    answer.sources = vec![lines_of.act.source.clone(), lines_of.urgent.source.clone(), lines::source("twin_house")];
    let main = lines_of.act.value;
    answer.guesses = spread.guessed(described, |model| {
        // Beyond the time looked at, how warm it still is tells what weighs.
        let cooling = Cooling::of(described, model, asked.outdoors_c)?;
        Ok(cooling.hours_to(main).min(f64::from(cooling::HOURS)) - cooling.last_c())
    });
    let to = |line: f64| Range::of_times(cooling.iter().map(|one| one.hours_to(line)));
    let (act, urgent) = (to(main), to(lines_of.urgent.value));
    answer.says.push(sentence(&lines_of, act));
    // Beyond the time looked at nothing is known: «never» would be a promise.
    let within = |range: Option<Range>| match range {
        Some(range) if range.high.is_infinite() => format!(", of {} h looked at", cooling::HOURS),
        _ => String::new(),
    };
    let says = format!("until the warmest place is under {main:.0} °C{}", within(act));
    push(&mut answer, "hours-to-act", says, act, Unit::Hours, None);
    let says = format!("until it is under {:.0} °C: danger{}", lines_of.urgent.value, within(urgent));
    push(&mut answer, "hours-to-urgent", says, urgent, Unit::Hours, None);
    if let Some(urgent) = urgent.filter(|range| range.mid.is_finite()) {
        answer.says.push(format!(
            "{:.0} °C, where it is a danger to life, come after {}.",
            lines_of.urgent.value,
            words::hours(urgent)
        ));
    }
    if lines_of.is_general {
        answer
            .untold
            .push("The lines of your species: with the species, its own are used instead of the cautious ones.".into());
    }
    if asked.outdoors_c.is_none() {
        answer.untold.push("How far the room itself cools: with the temperature outdoors that is reckoned too; as it stands the room keeps its temperature.".into());
    }
    spots(&mut answer, described, &cooling);
    curves(&mut answer, &cooling, &lines_of);
    answer.tables.push(by_stomach(described, &cooling));
    remedies::add(&mut answer, described, asked, &spread, &lines_of)?;
    warn(&mut answer, act, urgent, &lines_of);
    answer.steps = steps::of(known, &lines_of, act, urgent, asked.battery_wh.is_some());
    Ok(answer)
}

fn sentence(lines: &Lines, act: Option<Range>) -> String {
    let line = lines.act.value;
    match act {
        Some(act) if act.mid <= 0.0 => {
            format!("It is under {line:.0} °C already: warm it now, whatever the power does.")
        }
        Some(act) if act.mid.is_finite() => {
            format!("Without power the warmest place falls under {line:.0} °C after {}.", words::hours(act))
        }
        Some(act) if act.low.is_finite() => format!(
            "It probably stays above {line:.0} °C in a room like this; at the worst it is under it after {:.0} h.",
            act.low
        ),
        _ => format!("It stays above {line:.0} °C for {} h and more in a room like this.", cooling::HOURS),
    }
}

fn spots(answer: &mut Reckoning, described: &Description, cooling: &[Cooling]) {
    for (place, spot) in SPOTS.into_iter().enumerate() {
        let range = Range::of(cooling.iter().filter_map(|one| one.at_hour(MAIN).get(place).copied()));
        let wanted_c = described.profile().and_then(|profile| super::warmth::wanted_at(profile, spot));
        answer.spots.push(AtSpot { spot, temperature_c: range, humidity_pct: None, measured_c: None, wanted_c });
        let says = format!("{} after {MAIN} h", words::spot(spot));
        let key = match place {
            0 => "warm-surface-later",
            1 => "warm-air-later",
            2 => "cool-air-later",
            _ => "cool-surface-later",
        };
        push(answer, key, says, range, Unit::Celsius, Some(spot));
    }
}

fn curves(answer: &mut Reckoning, cooling: &[Cooling], lines: &Lines) {
    let names = [("warm-surface", "warm surface"), ("warm-air", "warm air"), ("cool-air", "cool air")];
    for (place, (key, says)) in names.into_iter().enumerate() {
        let points = (0..=cooling::HOURS).filter_map(|hour| {
            let range = Range::of(cooling.iter().filter_map(|one| one.at_hour(hour).get(place).copied()))?;
            Some(Point { minutes: f64::from(hour) * 60.0, range })
        });
        answer.curves.push(Curve { key, says: says.to_owned(), unit: Unit::Celsius, points: points.collect() });
    }
    for (says, line) in [("needs warming", &lines.act), ("danger to life", &lines.urgent)] {
        answer.limits.push(Limit { says: says.to_owned(), value: line.value, source: line.source.clone() });
    }
}

/// Hours with an empty gut and with a meal inside, side by side: with a meal the line is the stricter one.
fn by_stomach(described: &Description, cooling: &[Cooling]) -> Table {
    let mut resident = described.residents.first().cloned();
    let mut rows = Vec::new();
    for (says, is_digesting) in [("empty gut", false), ("a meal inside", true)] {
        if let Some(one) = &mut resident {
            one.is_digesting = is_digesting;
        }
        let lines = Lines::of(resident.as_ref());
        let mut row = vec![Cell::Says(says.to_owned())];
        for line in [&lines.digest, &Some(lines.act), &Some(lines.urgent)] {
            let cell =
                line.as_ref().filter(|_| is_digesting || line.as_ref() != lines.digest.as_ref()).and_then(|line| {
                    let hours = Range::of_times(cooling.iter().map(|one| one.hours_to(line.value)))?;
                    Some([Cell::Is(Range::exactly(line.value), Unit::Celsius), Cell::Is(hours, Unit::Hours)])
                });
            row.extend(cell.unwrap_or([Cell::Nothing, Cell::Nothing]));
        }
        rows.push(row);
    }
    let columns = [
        ("who", "with"),
        ("digest-line", "too cold to digest under"),
        ("digest-hours", "after"),
        ("act-line", "warm it under"),
        ("act-hours", "after"),
        ("urgent-line", "danger under"),
        ("urgent-hours", "after"),
    ];
    Table::new("lines", "Hours to each line", columns, rows)
}

fn warn(answer: &mut Reckoning, act: Option<Range>, urgent: Option<Range>, lines: &Lines) {
    // A night of sleep is the time in which nobody looks.
    let night = lines::low("power_measure").value * 2.0;
    if let Some(act) = act.filter(|act| act.mid <= night) {
        let severity = if urgent.is_some_and(|urgent| urgent.mid <= night) { Severity::Act } else { Severity::Watch };
        answer.warnings.push(Warning {
            key: "cools-overnight",
            severity,
            says: format!("A cut while everyone sleeps is enough: {} until help is needed.", words::hours(act)),
            does: "Have blankets, bottles and a way to heat water ready, and an alarm that wakes you when the power fails.".into(),
            source: Some(lines.act.source.clone()),
            caution: Some("power-cut"),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::twin::testing::ask;

    const BOX: [(&str, &str); 9] = [
        ("length_cm", "120"),
        ("width_cm", "60"),
        ("height_cm", "60"),
        ("material", "pvc"),
        ("heater", "panel"),
        ("watts", "80"),
        ("set_c", "31"),
        ("thermostat", "dimming"),
        ("room_c", "19"),
    ];

    fn of(more: &[(&str, &str)]) -> Reckoning {
        ask(answer, &[&BOX[..], more].concat()).unwrap()
    }

    fn hours(answer: &Reckoning, key: &str) -> Range {
        answer.amount(key).unwrap().range
    }

    #[test]
    fn a_tropical_animal_or_a_meal_inside_leaves_less_time() {
        let royal = of(&[("species", "ball python")]);
        let corn = of(&[("species", "corn snake")]);
        let fed = of(&[("species", "corn snake"), ("meal_inside", "yes")]);
        assert!(hours(&royal, "hours-to-act").mid < hours(&corn, "hours-to-act").mid);
        assert!(hours(&fed, "hours-to-act").mid < hours(&corn, "hours-to-act").mid);
        assert!(royal.says[0].contains("22 °C"), "{}", royal.says[0]);
    }

    #[test]
    fn a_wrap_buys_time_and_the_outdoors_take_it() {
        let still = of(&[("species", "ball python")]);
        let cold = of(&[("species", "ball python"), ("outdoors_c", "-5")]);
        assert!(hours(&cold, "hours-to-urgent").mid < hours(&still, "hours-to-urgent").mid);
        let table = cold.tables.iter().find(|table| table.key == "wraps").unwrap();
        let to = |row: usize| match table.rows[row][1] {
            Cell::Is(range, Unit::Hours) => range.mid,
            _ => panic!("no hours"),
        };
        assert!(to(0) <= to(1) && to(1) < to(2) && to(2) <= to(3), "nothing, lid, blanket, foam");
    }

    #[test]
    fn bottles_are_more_the_rarer_they_are_filled_and_a_battery_lasts_as_its_watt_hours() {
        let cold = of(&[("species", "ball python"), ("outdoors_c", "-5"), ("battery_wh", "600")]);
        let table = cold.tables.iter().find(|table| table.key == "bottles").unwrap();
        let count = |row: usize| match table.rows[row][1] {
            Cell::Is(range, Unit::Number) => range.mid,
            _ => panic!("no count"),
        };
        assert!(1.0 <= count(0) && count(0) <= count(2));
        let larger = of(&[("species", "ball python"), ("outdoors_c", "-5"), ("battery_wh", "1200")]);
        let ratio = hours(&larger, "battery-hours").mid / hours(&cold, "battery-hours").mid;
        assert!((ratio - 2.0).abs() < 1e-6);
    }

    /// U = 1/(Σ R) of ISO 6946: a blanket of 0.5 m²·K/W turns a wall of U 3.5 into one of 1.27, a loss 2.75 times as slow;
    /// floor and lid keep theirs, so the box as a whole slows by less.
    #[test]
    fn a_blanket_slows_cooling_about_twofold() {
        let glass = [
            ("length_cm", "90"),
            ("width_cm", "45"),
            ("height_cm", "45"),
            ("material", "glass"),
            ("lid", "solid"),
            ("heater", "panel"),
            ("watts", "80"),
            ("set_c", "31"),
            ("room_c", "15"),
            ("species", "ball python"),
        ];
        let answer = ask(answer, &glass).unwrap();
        let table = answer.tables.iter().find(|table| table.key == "wraps").unwrap();
        let to = |row: usize| match table.rows[row][2] {
            Cell::Is(range, Unit::Hours) => range.mid,
            _ => panic!("no hours"),
        };
        let ratio = to(2) / to(0);
        assert!((1.5..3.2).contains(&ratio), "{ratio}");
    }

    #[test]
    fn what_is_left_open_is_said_and_steps_carry_clock_times() {
        let answer = of(&[]);
        let cold = of(&[("species", "ball python"), ("outdoors_c", "-5")]);
        let times: Vec<_> = cold.steps.iter().filter_map(|step| step.at).collect();
        assert!(4 < times.len() && times.is_sorted(), "in the order of the clock: {times:?}");
        assert!(answer.untold.iter().any(|one| one.contains("species")));
        assert!(answer.untold.iter().any(|one| one.contains("outdoors")));
        assert!(answer.steps[0].at.is_some() && answer.steps.iter().any(|step| step.does.contains("Feed nothing")));
        let faults = ask(super::answer, &[&BOX[..], &[("outdoors_c", "warm")]].concat()).unwrap_err();
        assert!(faults[0].what.contains("warm"));
    }
}
