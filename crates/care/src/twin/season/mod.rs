//! What this room does to the enclosure by night, in the coldest and in the warmest week of the year.

mod cases;
mod outlook;
mod told;

use records::facts::Spot;
use records::fields::{Limits, Reader};
use records::{Fault, Fields};
use science::physics::control::Curve as Daily;
use science::physics::network::NetworkFault;
use units::{Celsius, Seconds};

use self::cases::{When, Year, guesses};
pub use self::outlook::{HeaterOutlook, outlook};
use super::held::held;
use super::model::SPOTS;
use super::warmth::{impossible, push, wanted_at};
use super::{Description, Model, Spread, description};
use crate::draft::Line;
use crate::lines;
use crate::what_if::{
    AtSpot, Cell, Curve, Entry, Field, Group, Known, Limit, Point, Question, Range, Reckoning, Table, Unit,
};

/// What it asks for.
pub fn fields() -> Vec<Field> {
    let mut fields = vec![
        Field::new("price_kwh", "Price of a kWh", Entry::Number(Unit::Money), Group::Question)
            .hint("in your own money; for the cost of a month"),
    ];
    fields.extend(description::fields());
    fields
}

struct Asked {
    price_kwh: Option<f64>,
}

fn asked(reader: &mut Reader<'_>) -> Asked {
    Asked { price_kwh: reader.number("price_kwh", Limits::new(0.0, 100.0, "money for a kWh")) }
}

/// The answer.
pub fn answer(typed: &dyn Fields, known: &Known) -> Result<Reckoning, Vec<Fault>> {
    let (described, asked) = description::read(typed, known, asked)?;
    reckon(&described, &asked).map_err(|fault| vec![impossible(typed, &fault)])
}

fn years(described: &Description, spread: &Spread) -> Vec<Year> {
    spread.models().iter().filter_map(|model| Year::of(described, model).ok()).collect()
}

fn over(years: &[Year], number: impl Fn(&Year) -> f64) -> Option<Range> {
    Range::of(years.iter().map(number))
}

fn reckon(described: &Description, asked: &Asked) -> Result<Reckoning, NetworkFault> {
    let spread = Spread::with(described, guesses(described))?;
    let years = years(described, &spread);
    if years.is_empty() {
        return Err(NetworkFault::Range("temperature"));
    }
    let mut answer = described.begin(Question::Season);
    // What the answer hangs on: how hard the heater works in winter; without one, how cold it gets.
    answer.guesses = spread.guessed(described, |model| {
        let year = Year::of(described, model)?;
        Ok(if described.heaters.is_empty() {
            year.coolest_c(When::WinterNight)
        } else {
            year.at(When::WinterDay).power_w()
        })
    });
    answer.sources = vec![lines::source("twin_room_seasons"), lines::source("twin_inner_films")];
    answer.cautions = vec!["heat-and-fire"];
    told::told(&mut answer, described, &years);
    energy(&mut answer, asked, &years);
    table(&mut answer, described, &spread, &years);
    for spot in SPOTS {
        answer.spots.push(AtSpot {
            spot,
            temperature_c: over(&years, |year| year.at(When::Now).spot(spot)),
            humidity_pct: None,
            measured_c: None,
            wanted_c: described.profile().and_then(|profile| wanted_at(profile, spot)),
        });
    }
    curves(&mut answer, described, &spread);
    limits(&mut answer, described);
    Ok(answer)
}

/// The season table: a row for each room.
fn table(answer: &mut Reckoning, described: &Description, spread: &Spread, years: &[Year]) {
    let cell = |range: Option<Range>, unit: Unit| range.map_or(Cell::Nothing, |range| Cell::Is(range, unit));
    let row = |when: When| {
        let at = |spot: Spot| cell(over(years, |year| year.at(when).spot(spot)), Unit::Celsius);
        let room = Range::of(spread.models().iter().map(|model| when.room_c(described, model)));
        let power = over(years, |year| year.at(when).power_w());
        vec![
            Cell::Says(when.says().to_owned()),
            cell(room, Unit::Celsius),
            at(Spot::WarmSurface),
            at(Spot::WarmAir),
            at(Spot::CoolAir),
            cell(power.filter(|_| !described.heaters.is_empty()), Unit::Watts),
            cell(over(years, |year| year.duty_pct(when)), Unit::Percent),
        ]
    };
    let columns = [
        ("when", "when"),
        ("room", "room"),
        ("warm-surface", "warm surface"),
        ("warm-air", "warm air"),
        ("cool-air", "cool air"),
        ("power", "power"),
        ("duty", "time on"),
    ];
    answer.tables.push(Table::new("seasons", "through the year", columns, When::ALL.map(row).to_vec()));
}

/// Energy and cost of a month in the coldest and in the warmest week's room.
fn energy(answer: &mut Reckoning, asked: &Asked, years: &[Year]) {
    let by_day = (lines::high("daytime").value - lines::low("daytime").value) / 24.0;
    let month = |year: &Year, day: When, night: When| {
        let mean = by_day * year.at(day).power_w() + (1.0 - by_day) * year.at(night).power_w();
        // A month of the year on average.
        mean * 24.0 * 30.4375 / 1000.0
    };
    let seasons = [
        ("winter-kwh-month", "winter-cost-month", "in the coldest weeks", When::WinterDay, When::WinterNight),
        ("summer-kwh-month", "summer-cost-month", "in the warmest weeks", When::SummerDay, When::SummerNight),
    ];
    for (key, cost_key, says, day, night) in seasons {
        let Some(kwh) = over(years, |year| month(year, day, night)).filter(|kwh| 0.0 < kwh.high) else { continue };
        push(answer, key, format!("energy of a month {says}"), Some(kwh), Unit::KilowattHours, None);
        if let Some(price) = asked.price_kwh {
            let cost = Range { low: kwh.low * price, mid: kwh.mid * price, high: kwh.high * price };
            push(answer, cost_key, format!("cost of a month {says}"), Some(cost), Unit::Money, None);
        }
    }
}

/// Of how many sets one goes into a curve: each is a day of small steps.
const CURVE_OF: usize = 4;

/// Warm surface and cool air over a day of the coldest and of the warmest week.
fn curves(answer: &mut Reckoning, described: &Description, spread: &Spread) {
    let seasons = [
        (When::WinterDay, When::WinterNight, ["winter-warm-surface", "winter-cool-air"], "in the coldest week"),
        (When::SummerDay, When::SummerNight, ["summer-warm-surface", "summer-cool-air"], "in the warmest week"),
    ];
    for (day, night, [surface_key, air_key], says) in seasons {
        let of = |model: &Model| day_of(described, model, day, night);
        let days: Vec<Vec<[f64; 4]>> =
            spread.models().iter().step_by(CURVE_OF).filter_map(|one| of(one).ok()).collect();
        for (key, place, spot) in [(surface_key, 0, Spot::WarmSurface), (air_key, 2, Spot::CoolAir)] {
            let point = |hour: usize| {
                let at = days.iter().filter_map(|day| day.get(hour)?.get(place).copied());
                Some(Point { minutes: 60.0 * hour as f64, range: Range::of(at)? })
            };
            let points: Vec<Point> = (0..=24).filter_map(point).collect();
            let says = format!("{} {says}", super::words::spot(spot));
            answer.curves.push(Curve { key, says, unit: Unit::Celsius, points });
        }
    }
}

fn day_of(described: &Description, model: &Model, day: When, night: When) -> Result<Vec<[f64; 4]>, NetworkFault> {
    let (warm_c, cold_c) = (day.room_c(described, model), night.room_c(described, model));
    let by_day = held(described, model, false);
    let by_night = held(described, model, true);
    let mean = Celsius::new(f64::midpoint(warm_c, cold_c)).ok_or(NetworkFault::Range("room"))?;
    // Warmest at 15 o'clock, coldest at 3.
    let room = Daily::Sine { mean, amplitude_k: (warm_c - cold_c) / 2.0, rises_at_day: 0.375 };
    let (from_h, to_h) = (lines::low("daytime").value, lines::high("daytime").value);
    let near = model.settled(&by_day, mean.degrees())?;
    model.day(
        &near,
        |hour| if (from_h..to_h).contains(&hour) { &by_day } else { &by_night },
        |hour| room.at_c(Seconds::from_hours(hour)),
    )
}

/// The lines of the species.
fn limits(answer: &mut Reckoning, described: &Description) {
    let Some(profile) = described.profile() else { return };
    let temperature = &profile.temperature;
    let lines = [
        ("coldest night", temperature.night_min_c.first().map(Line::low)),
        ("warmest cool side", temperature.cool_ambient_c.first().map(Line::high)),
        ("limit for a surface", temperature.surface_absolute_max_c.first().map(Line::high)),
        ("no place may be hotter", temperature.overheat_c.first().map(Line::high)),
    ];
    for (says, line) in lines {
        if let Some(line) = line {
            answer.limits.push(Limit { says: says.to_owned(), value: line.value, source: line.source });
        }
    }
}

#[cfg(test)]
mod tests;
