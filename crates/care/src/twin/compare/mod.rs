//! Two enclosures side by side, before one is bought: watts, energy, gradient, power cut, humidity; and the usual walls
//! for the same box.

mod figures;
mod other;
mod walls;

use records::fields::{Limits, Reader};
use records::{Fault, Fields};
use science::physics::network::NetworkFault;

use self::figures::{Asked, Candidate, Figures};
use self::other::{First, Second};
use super::guesses::{Unknown, Values};
use super::power_cut::cooling::Lines;
use super::spread::SETS;
use super::warmth::{Target, impossible, push, wanted};
use super::{Description, Guesses, description, words};
use crate::answer::Severity;
use crate::lines;
use crate::what_if::{
    Basis, Cell, Entry, Field, Group, Guess, Known, Question, Range, Reckoning, Table, Unit, Warning,
};

/// What it asks for: the first enclosure, and what differs in the second.
pub fn fields() -> Vec<Field> {
    let mut fields = vec![
        Field::new("target_c", "Warm surface wanted", Entry::Number(Unit::Celsius), Group::Question)
            .hint("left open: what the species wants"),
        Field::new("price_kwh", "Price of a kWh", Entry::Number(Unit::Money), Group::Question)
            .hint("in your own money; for the cost of a month"),
    ];
    let first = description::fields();
    let second = other::fields(&first);
    fields.extend(first);
    fields.extend(second);
    fields
}

struct Typed {
    target_c: Option<f64>,
    price_kwh: Option<f64>,
}

fn asked(reader: &mut Reader<'_>) -> Typed {
    Typed {
        target_c: reader.number("target_c", Limits::new(10.0, 60.0, "°C")),
        price_kwh: reader.number("price_kwh", Limits::new(0.0, 100.0, "money for a kWh")),
    }
}

/// The answer.
pub fn answer(typed: &dyn Fields, known: &Known) -> Result<Reckoning, Vec<Fault>> {
    let second = Second(typed);
    let (one, two) =
        (description::read(&First(typed), known, asked), description::read(&second, &second.known(known), asked));
    let mut faults = one.as_ref().err().cloned().unwrap_or_default();
    for fault in two.as_ref().err().cloned().unwrap_or_default() {
        let fault = second.named(fault);
        // What is told of both is told once.
        if !faults.contains(&fault) {
            faults.push(fault);
        }
    }
    if !other::is_told(typed) {
        let mend = "give at least one field that begins with `other_`, for example other_material";
        faults.push(Fault::new("nothing says how the second enclosure differs", typed.place("other_material"), mend));
    }
    let (Ok((one, asked)), Ok((two, _)), true) = (one, two, faults.is_empty()) else { return Err(faults) };
    let target = wanted(&one, asked.target_c).ok_or_else(|| {
        let mend = "give the temperature wanted at the warm surface, or the species";
        vec![Fault::new("nothing says how warm it is to be", typed.place("target_c"), mend)]
    })?;
    let is_fitted = one.fitted.is_some();
    let (one, two) = (one.unfitted(), two.unfitted());
    let mut answer = reckon(&one, &two, &asked, &target).map_err(|fault| vec![impossible(typed, &fault)])?;
    if is_fitted {
        let says = "What the log says of the first: both are reckoned from what is told of them, so that they stand on the same footing.";
        answer.untold.push(says.into());
    }
    Ok(answer)
}

/// A figure that is compared.
struct Measure {
    key: &'static str,
    says: String,
    unit: Unit,
    of: fn(&Figures) -> f64,
    /// From which difference on it is worth a word.
    least: f64,
    /// The words for more and for less of it in the second, and how it is rounded.
    more: &'static str,
    less: &'static str,
    rounded: fn(Range) -> String,
}

/// From which difference on a keeper would care, in the unit of the measure: no threshold for an animal.
mod least {
    pub(super) const WATTS: f64 = 1.0;
    pub(super) const DEGREES: f64 = 0.5;
    pub(super) const HOURS: f64 = 0.25;
    pub(super) const POINTS: f64 = 2.0;
    pub(super) const GRAMS: f64 = 5.0;
}

fn measures(asked: &Asked) -> Vec<Measure> {
    let (target, line) = (asked.target_c, asked.cut.value);
    let measure = |key, says: String, unit, of, least, (more, less), rounded| Measure {
        key,
        says,
        unit,
        of,
        least,
        more,
        less,
        rounded,
    };
    let mut all = vec![
        measure(
            "watts",
            format!("power for {target:.0} °C on the warm surface"),
            Unit::Watts,
            |one: &Figures| one.watts,
            least::WATTS,
            ("needs * more", "needs * less"),
            words::watts,
        ),
        measure(
            "kwh-month",
            "energy of a month".into(),
            Unit::KilowattHours,
            |one| one.kwh,
            f64::INFINITY,
            ("", ""),
            words::watts,
        ),
        measure(
            "reaches",
            "warm surface with the heater always on".into(),
            Unit::Celsius,
            |one| one.reaches_c,
            least::DEGREES,
            ("gets * warmer with its heater always on", "gets * less warm with its heater always on"),
            words::kelvin,
        ),
        measure(
            "cool-air",
            "air of the cool side then".into(),
            Unit::Celsius,
            |one| one.cool_c,
            least::DEGREES,
            ("has a cool side * warmer", "has a cool side * cooler"),
            words::kelvin,
        ),
        measure(
            "gradient",
            "warm surface over the cool air".into(),
            Unit::Kelvin,
            |one| one.gradient_k,
            f64::INFINITY,
            ("", ""),
            words::kelvin,
        ),
        measure(
            "cut-hours",
            format!("until it is under {line:.0} °C in a power cut"),
            Unit::Hours,
            |one| one.hours,
            least::HOURS,
            ("keeps its warmth * longer in a power cut", "loses its warmth * sooner in a power cut"),
            words::hours,
        ),
        measure(
            "humidity",
            "humidity of the cool air without effort".into(),
            Unit::Humidity,
            |one| one.pct,
            least::POINTS,
            ("is * damper", "is * drier"),
            |range| words::percent(range).replace('%', "points"),
        ),
    ];
    if let Some(pct) = asked.wanted_pct {
        all.push(measure(
            "water-day",
            format!("water that leaves a day at {pct:.0} %"),
            Unit::GramsPerDay,
            |one| one.water_g,
            least::GRAMS,
            ("loses * more water a day", "loses * less water a day"),
            words::grams,
        ));
    }
    all
}

/// Times may be infinite: both then differ by nothing that can be told.
fn difference(two: f64, one: f64) -> f64 {
    if two == one { 0.0 } else { two - one }
}

fn ranged(samples: impl Iterator<Item = f64>) -> Option<Range> {
    Range::of_times(samples)
}

fn reckon(one: &Description, two: &Description, typed: &Typed, target: &Target) -> Result<Reckoning, NetworkFault> {
    let wanted_pct = one.profile().and_then(|profile| profile.humidity.normal_pct.first()).map(|one| one.middle());
    let asked = Asked { target_c: target.c, cut: Lines::of(one.residents.first()).act, wanted_pct };
    let (first, second) = (Candidate::of(one), Candidate::of(two));
    let (guesses, others) = (Guesses::of(first.described()), Guesses::of(second.described()));
    let (sets, other_sets) = guesses.paired(&others, SETS);
    let pairs: Vec<(Figures, Figures)> = sets
        .iter()
        .zip(&other_sets)
        .filter_map(|(one, two)| Some((first.figures(&asked, one).ok()?, second.figures(&asked, two).ok()?)))
        .collect();
    if pairs.is_empty() {
        return Err(NetworkFault::Range("power"));
    }
    let mut answer = Reckoning::to(Question::Compare, Basis::Described);
    answer.guesses = weighed(&asked, (&first, &guesses), (&second, &others));
    answer.sources = vec![asked.cut.source.clone(), lines::source("twin_inner_films")];
    answer.sources.extend(target.source.clone());
    answer.cautions = vec!["heat-and-fire"];
    let told = measured(&mut answer, &asked, typed, &pairs);
    sentence(&mut answer, told);
    too_weak(&mut answer, &asked, &pairs);
    walls::walls(&mut answer, one, &asked);
    if one.heaters.is_empty() {
        answer.untold.push("No heater is told: a heating panel is taken for both.".into());
    }
    if one.profile().is_none() {
        answer.untold.push("The water a day: the species is needed for its humidity.".into());
    }
    Ok(answer)
}

/// The table side by side, its numbers, and in words what truly differs.
fn measured(answer: &mut Reckoning, asked: &Asked, typed: &Typed, pairs: &[(Figures, Figures)]) -> Vec<String> {
    let mut rows = Vec::new();
    let mut told = Vec::new();
    let cell = |range: Option<Range>, unit: Unit| range.map_or(Cell::Nothing, |range| Cell::Is(range, unit));
    for measure in measures(asked) {
        let of = measure.of;
        let one = ranged(pairs.iter().map(|(one, _)| of(one)));
        let two = ranged(pairs.iter().map(|(_, two)| of(two)));
        let apart = ranged(pairs.iter().map(|(one, two)| difference(of(two), of(one))));
        if one.is_none() && two.is_none() {
            continue;
        }
        let row = |says: String, unit: Unit, times: f64| {
            let scaled = |range: Option<Range>| {
                range.map(|at| Range { low: at.low * times, mid: at.mid * times, high: at.high * times })
            };
            let of_apart = if unit == Unit::Celsius { Unit::Kelvin } else { unit };
            vec![Cell::Says(says), cell(scaled(one), unit), cell(scaled(two), unit), cell(scaled(apart), of_apart)]
        };
        rows.push(row(measure.says.clone(), measure.unit, 1.0));
        if let Some(price) = typed.price_kwh.filter(|_| measure.unit == Unit::KilowattHours) {
            rows.push(row("cost of a month".into(), Unit::Money, price));
        }
        let (first_key, second_key, apart_key) = keys(measure.key);
        push(answer, first_key, format!("first: {}", measure.says), one, measure.unit, None);
        push(answer, second_key, format!("second: {}", measure.says), two, measure.unit, None);
        push(answer, apart_key, format!("second less first: {}", measure.says), apart, measure.unit, None);
        if let Some(apart) = apart.filter(|apart| measure.least <= apart.mid.abs() && 0.0 < apart.low * apart.high) {
            let is_more = 0.0 < apart.mid;
            let positive = Range {
                low: apart.low.abs().min(apart.high.abs()),
                mid: apart.mid.abs(),
                high: apart.low.abs().max(apart.high.abs()),
            };
            let how = if is_more { measure.more } else { measure.less };
            told.push(how.replace('*', &(measure.rounded)(positive)));
        }
    }
    for one in &mut answer.amounts {
        one.is_in_a_table = true;
    }
    let columns = [("measure", ""), ("first", "first"), ("second", "second"), ("difference", "second less first")];
    answer.tables.push(Table::new("side-by-side", "the two side by side", columns, rows));
    told
}

fn keys(measure: &str) -> (&'static str, &'static str, &'static str) {
    match measure {
        "watts" => ("first-watts", "second-watts", "difference-watts"),
        "kwh-month" => ("first-kwh-month", "second-kwh-month", "difference-kwh-month"),
        "reaches" => ("first-reaches", "second-reaches", "difference-reaches"),
        "cool-air" => ("first-cool-air", "second-cool-air", "difference-cool-air"),
        "gradient" => ("first-gradient", "second-gradient", "difference-gradient"),
        "cut-hours" => ("first-cut-hours", "second-cut-hours", "difference-cut-hours"),
        "humidity" => ("first-humidity", "second-humidity", "difference-humidity"),
        _ => ("first-water-day", "second-water-day", "difference-water-day"),
    }
}

/// What the difference means, in one sentence.
fn sentence(answer: &mut Reckoning, mut told: Vec<String>) {
    let Some(last) = told.pop() else {
        answer
            .says
            .push("The two do not differ beyond what nobody knows exactly; let size, access and safety decide.".into());
        return;
    };
    let all = if told.is_empty() { last } else { format!("{} and {last}", told.join(", ")) };
    answer.says.push(format!("The second {all} than the first."));
}

/// A heater that does not reach the target.
fn too_weak(answer: &mut Reckoning, asked: &Asked, pairs: &[(Figures, Figures)]) {
    let likely = lines::high("twin_sure").value;
    let share = |of: &dyn Fn(&(Figures, Figures)) -> f64| {
        let weak = pairs.iter().filter(|pair| of(pair) < asked.target_c).count();
        100.0 * weak as f64 / pairs.len() as f64
    };
    let sides = [
        ("first-too-weak", "first", share(&|pair| pair.0.reaches_c)),
        ("second-too-weak", "second", share(&|pair| pair.1.reaches_c)),
    ];
    for (key, which, _) in sides.into_iter().filter(|(_, _, pct)| likely <= *pct) {
        answer.warnings.push(Warning {
            key,
            severity: Severity::Act,
            says: format!(
                "The heater of the {which} does not bring the warm surface to {:.0} °C in this room.",
                asked.target_c
            ),
            does: "Take a stronger heater on a thermostat, or insulate the enclosure.".into(),
            source: None,
            caution: Some("heat-and-fire"),
        });
    }
}

/// The guesses, each with its weight in the difference of the watts.
fn weighed(
    asked: &Asked,
    (first, guesses): (&Candidate, &Guesses),
    (second, others): (&Candidate, &Guesses),
) -> Vec<Guess> {
    let apart = |one: &Values, two: &Values| Some(second.watts(asked, two).ok()? - first.watts(asked, one).ok()?);
    let (mid, other_mid) = (guesses.middle(), others.middle());
    let is_shared = |unknown: Unknown| {
        let same_walls = mid.of(Unknown::Thickness) == other_mid.of(Unknown::Thickness);
        guesses.open().any(|open| open == unknown)
            && others.open().any(|open| open == unknown)
            && (unknown != Unknown::Thickness || same_walls)
    };
    let square = |low: Option<f64>, high: Option<f64>| Some((high? - low?).powi(2));
    let mut weights = Vec::new();
    for (unknown, low, high) in guesses.swings() {
        let two = |at: &Values| {
            if is_shared(unknown) { other_mid.with(unknown, at.of(unknown)) } else { other_mid }
        };
        weights.extend(square(apart(&low, &two(&low)), apart(&high, &two(&high))).map(|weight| (unknown, weight)));
    }
    let mut only_second = Vec::new();
    for (unknown, low, high) in others.swings().into_iter().filter(|(unknown, _, _)| !is_shared(*unknown)) {
        only_second.extend(square(apart(&mid, &low), apart(&mid, &high)).map(|weight| (unknown, weight)));
    }
    let all: f64 = weights.iter().chain(&only_second).map(|(_, weight)| weight).sum();
    if all <= 0.0 {
        return Vec::new();
    }
    let shares = |list: Vec<(Unknown, f64)>| list.into_iter().map(|(unknown, weight)| (unknown, weight / all));
    let mut listed = guesses.listed(&shares(weights).collect::<Vec<_>>());
    listed.extend(others.listed(&shares(only_second).collect::<Vec<_>>()).into_iter().map(|guess| Guess {
        says: format!("second: {}", guess.says),
        field: guess.field.and_then(other::of_second),
        ..guess
    }));
    listed.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    listed
}

#[cfg(test)]
mod tests;
