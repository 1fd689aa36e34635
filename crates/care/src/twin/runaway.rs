//! If the thermostat fails: how hot each spot gets, and how fast.

use records::choices;
use records::facts::{Spot, Thermostat};
use records::fields::{Limits, Reader};
use records::{Fault, Fields};
use science::physics::network::NetworkFault;
use units::Seconds;

use super::guesses::Unknown;
use super::model::{Drive, SPOTS, drives};
use super::warmth::{impossible, push, wanted, wanted_at};
use super::{Description, Model, Spread, State, description, words};
use crate::answer::Severity;
use crate::draft::Line;
use crate::lines;
use crate::what_if::{
    AtSpot, Curve, Entry, Field, Group, Known, Limit, Point, Question, Range, Reckoning, Step, Unit, Warning,
};

choices!(
    /// How a thermostat fails.
    Failure, "way of failing", { StuckOn = "stuck-on", ProbeOut = "probe-out" }
);

fn failures() -> Vec<(&'static str, String)> {
    vec![
        (Failure::StuckOn.key_of(), "the thermostat sticks on".to_owned()),
        (Failure::ProbeOut.key_of(), "its probe falls out".to_owned()),
    ]
}

impl Failure {
    fn key_of(self) -> &'static str {
        records::choice::Choice::key(self)
    }
}

/// What it asks for.
pub fn fields() -> Vec<Field> {
    let mut fields = vec![
        Field::new("failure", "What fails", Entry::Choice(failures), Group::Question),
        Field::new("room_max_c", "Room at its warmest", Entry::Number(Unit::Celsius), Group::Question)
            .hint("a thermostat may fail on the hottest day"),
    ];
    fields.extend(description::fields());
    fields
}

struct Asked {
    failure: Failure,
    room_max_c: Option<f64>,
}

fn asked(reader: &mut Reader<'_>) -> Asked {
    Asked {
        failure: reader.choice("failure").unwrap_or(Failure::StuckOn),
        room_max_c: reader.number("room_max_c", Limits::new(-30.0, 60.0, "°C")),
    }
}

/// The answer.
pub fn answer(typed: &dyn Fields, known: &Known) -> Result<Reckoning, Vec<Fault>> {
    let (described, asked) = description::read(typed, known, asked)?;
    if described.heaters.first().and_then(|main| main.watts).is_none() {
        let mend = "give the kind of heater and the watts printed on it";
        return Err(vec![Fault::new(
            "without its watts nobody knows how hot a heater gets",
            typed.place("watts"),
            mend,
        )]);
    }
    reckon(&described, &asked).map_err(|fault| vec![impossible(typed, &fault)])
}

/// How one way in which the enclosure may be goes on after the failure.
struct Run {
    end: State,
    /// For each of [`SPOTS`], every [`STEP_S`].
    course: Vec<[f64; 4]>,
    /// The largest power that stays under the limits, as printed on a heater, W.
    safe_w: f64,
}

const STEP_S: f64 = 60.0;
/// How far ahead is looked.
const HOURS: usize = 12;
/// Points of a curve.
const KEPT_MINUTES: usize = 15;

/// The lines that count.
struct Dangers {
    /// A surface that burns.
    burn: Line,
    /// The limit of the species for a surface.
    surface: Option<Line>,
    /// The line above which no retreat may stand.
    overheat: Option<Line>,
}

fn dangers(described: &Description) -> Dangers {
    let temperature = described.profile().map(|profile| &profile.temperature);
    Dangers {
        burn: lines::low("surface_urgent"),
        surface: temperature.and_then(|one| one.surface_absolute_max_c.first()).map(Line::high),
        overheat: temperature.and_then(|one| one.overheat_c.first()).map(Line::high),
    }
}

fn run_of(
    described: &Description,
    asked: &Asked,
    dangers: &Dangers,
    model: &Model,
    target_c: Option<f64>,
) -> Result<Run, NetworkFault> {
    let usual = model.values().of(Unknown::Room);
    let room_c = asked.room_max_c.or(described.room_summer_c).unwrap_or(usual);
    let regulated = drives(described, model, false, target_c);
    let mut failed = regulated.clone();
    let senses_room =
        asked.failure == Failure::ProbeOut && matches!(failed.first(), Some(Drive::Holds(_, set)) if *set <= room_c);
    if let Some(main) = failed.first_mut() {
        // A probe that lies in a room as warm as the set point lets the heater rest.
        *main = Drive::Gives(if senses_room { 0.0 } else { model.most_w(0) });
    }
    let start = model.settled(&regulated, room_c)?;
    let end = model.settled(&failed, room_c)?;
    let steps = HOURS * 3600 / STEP_S as usize;
    let course = model.course(&start, &end, end.powers(), |_| room_c, Seconds(STEP_S), steps)?;
    Ok(Run { safe_w: safe_w(described, dangers, model, &failed, room_c, &end)?, end, course })
}

/// The largest rating whose spots stay under the limits: nearly straight between no power and full power.
fn safe_w(
    described: &Description,
    dangers: &Dangers,
    model: &Model,
    failed: &[Drive],
    room_c: f64,
    end: &State,
) -> Result<f64, NetworkFault> {
    let mut off = failed.to_vec();
    if let Some(main) = off.first_mut() {
        *main = Drive::Gives(0.0);
    }
    let cold = model.settled(&off, room_c)?;
    let label = described.heaters.first().and_then(|main| main.watts).unwrap_or(f64::NAN);
    let under = |spot: Spot, limit: f64| {
        let rise = end.spot(spot) - cold.spot(spot);
        if rise <= 0.0 { f64::INFINITY } else { (label * (limit - cold.spot(spot)) / rise).max(0.0) }
    };
    let surface = under(Spot::WarmSurface, dangers.burn.value);
    let refuge = dangers.overheat.as_ref().map_or(f64::INFINITY, |line| under(Spot::CoolSurface, line.value));
    Ok(surface.min(refuge))
}

/// Minutes until `passed` first holds; infinite where it never does.
fn minutes_until(course: &[[f64; 4]], passed: impl Fn(&[f64; 4]) -> bool) -> f64 {
    course.iter().position(passed).map_or(f64::INFINITY, |step| step as f64 * STEP_S / 60.0)
}

/// In which share of the runs a time comes at all, %.
fn share_pct(times: &[f64]) -> f64 {
    100.0 * times.iter().filter(|time| time.is_finite()).count() as f64 / times.len().max(1) as f64
}

fn reckon(described: &Description, asked: &Asked) -> Result<Reckoning, NetworkFault> {
    let spread = Spread::of(described)?;
    let dangers = dangers(described);
    let target = wanted(described, None).map(|target| target.c);
    let run = |model: &Model| run_of(described, asked, &dangers, model, target);
    let runs: Vec<Run> = spread.models().iter().filter_map(|model| run(model).ok()).collect();
    let mut answer = described.begin(Question::Runaway);
    answer.cautions = vec!["heat-and-fire", "burns", "wiring"];
    answer.sources = vec![dangers.burn.source.clone(), lines::source("twin_inner_films")];
    answer.guesses = spread.guessed(described, |model| Ok(run(model)?.end.spot(Spot::WarmSurface)));

    let ends: Vec<(Spot, Option<Range>)> =
        SPOTS.iter().map(|spot| (*spot, Range::of(runs.iter().map(|run| run.end.spot(*spot))))).collect();
    for (spot, range) in &ends {
        let key = match spot {
            Spot::WarmSurface => "end-warm-surface",
            Spot::WarmAir => "end-warm-air",
            Spot::CoolAir => "end-cool-air",
            _ => "end-cool-surface",
        };
        push(&mut answer, key, format!("{} in the end", words::spot(*spot)), *range, Unit::Celsius, Some(*spot));
        let wanted_c = described.profile().and_then(|profile| wanted_at(profile, *spot));
        answer.spots.push(AtSpot {
            spot: *spot,
            temperature_c: *range,
            humidity_pct: None,
            measured_c: None,
            wanted_c,
        });
    }
    verdict(&mut answer, asked, &dangers, &runs, ends.first().and_then(|(_, range)| *range));
    let safe = Range::of_times(runs.iter().map(|run| run.safe_w));
    push(&mut answer, "safe-watts", "largest heater that stays under these lines, always on", safe, Unit::Watts, None);
    curves(&mut answer, &runs, &dangers);
    steps(&mut answer, described, safe);
    Ok(answer)
}

fn verdict(answer: &mut Reckoning, asked: &Asked, dangers: &Dangers, runs: &[Run], surface: Option<Range>) {
    let what = match asked.failure {
        Failure::StuckOn => "the thermostat sticks on",
        Failure::ProbeOut => "the probe falls out",
    };
    let end = surface.map_or_else(String::new, |range| format!(" It ends at {}.", words::degrees(range)));
    let (unlikely, likely) = (lines::low("twin_sure").value, lines::high("twin_sure").value);
    let burning: Vec<f64> =
        runs.iter().map(|run| minutes_until(&run.course, |now| dangers.burn.value <= now[0])).collect();
    let burns_pct = share_pct(&burning);
    let burn_c = dangers.burn.value;
    if burns_pct < unlikely {
        answer.says.push(format!("If {what}, the warm surface stays under {burn_c:.0} °C, where burns begin.{end}"));
    } else if let Some(range) = Range::of_times(burning.iter().copied().filter(|time| time.is_finite())) {
        let hours = Range { low: range.low / 60.0, mid: range.mid / 60.0, high: range.high / 60.0 };
        let is_likely = likely <= burns_pct;
        answer.says.push(if range.mid <= 0.0 {
            let is = if is_likely { "is at" } else { "may be at" };
            format!(
                "The warm surface {is} {burn_c:.0} °C, where burns begin, as the thermostat is set: nothing needs to fail.{end}"
            )
        } else {
            let reaches = if is_likely { "reaches" } else { "may reach" };
            let after = words::hours(hours);
            format!("If {what}, the warm surface {reaches} {burn_c:.0} °C, where burns begin, after {after}.{end}")
        });
        push(
            answer,
            "minutes-to-burn",
            "until the warm surface burns",
            Some(range),
            Unit::Minutes,
            Some(Spot::WarmSurface),
        );
        answer.warnings.push(Warning {
            key: "burn-danger",
            severity: if burns_pct < likely { Severity::Watch } else { Severity::Act },
            says: format!("A surface of {burn_c:.0} °C in reach burns an animal that lies on it; it does so in {burns_pct:.0} of 100 ways this enclosure may be."),
            does: "Fit a second thermostat that cuts the heater off a few degrees above the first, guard the heater, or take a weaker one.".into(),
            source: Some(dangers.burn.source.clone()),
            caution: Some("burns"),
        });
    }
    push(
        answer,
        "burn-chance",
        "share of the ways it may be in which a surface burns",
        Some(Range::exactly(burns_pct)),
        Unit::Percent,
        None,
    );
    let Some(overheat) = &dangers.overheat else {
        answer.untold.push("Whether a cool place is left: the species is needed for its line.".into());
        return;
    };
    let cooking: Vec<f64> = runs
        .iter()
        .map(|run| {
            minutes_until(&run.course, |now| overheat.value <= now.iter().copied().fold(f64::INFINITY, f64::min))
        })
        .collect();
    let pct = share_pct(&cooking);
    if pct < unlikely {
        answer.says.push(format!("A place cooler than {:.0} °C is left to go to.", overheat.value));
    } else if let Some(range) = Range::of_times(cooking.into_iter().filter(|time| time.is_finite())) {
        push(answer, "minutes-to-no-refuge", "until no cool place is left", Some(range), Unit::Minutes, None);
        answer.warnings.push(Warning {
            key: "no-refuge",
            severity: if pct < likely { Severity::Act } else { Severity::Urgent },
            says: format!("Even the coolest place passes {:.0} °C in {pct:.0} of 100 ways this enclosure may be: nowhere is left to go.", overheat.value),
            does: "This heater is too strong for this box and room: take a weaker one, and a second thermostat that cuts it off.".into(),
            source: Some(overheat.source.clone()),
            caution: Some("overheating"),
        });
    }
}

fn curves(answer: &mut Reckoning, runs: &[Run], dangers: &Dangers) {
    let names = [
        ("warm-surface", "warm surface"),
        ("warm-air", "warm air"),
        ("cool-air", "cool air"),
        ("cool-surface", "cool surface"),
    ];
    let every = KEPT_MINUTES * 60 / STEP_S as usize;
    for (place, (key, says)) in names.into_iter().enumerate() {
        let points = (0..=HOURS * 60 / KEPT_MINUTES).filter_map(|number| {
            let now = |run: &Run| run.course.get(number * every)?.get(place).copied();
            let range = Range::of(runs.iter().filter_map(now))?;
            Some(Point { minutes: (number * KEPT_MINUTES) as f64, range })
        });
        answer.curves.push(Curve { key, says: says.to_owned(), unit: Unit::Celsius, points: points.collect() });
    }
    let mut limit = |says: &str, line: &Line| {
        answer.limits.push(Limit { says: says.to_owned(), value: line.value, source: line.source.clone() });
    };
    limit("surfaces burn", &dangers.burn);
    if let Some(line) = &dangers.surface {
        limit("limit of the species for a surface", line);
    }
    if let Some(line) = &dangers.overheat {
        limit("no place may be hotter", line);
    }
}

fn steps(answer: &mut Reckoning, described: &Description, safe: Option<Range>) {
    let mut step =
        |does: String, because: &str| answer.steps.push(Step { at: None, does, because: because.to_owned() });
    if described.heaters.iter().any(|one| one.thermostat.is_none() || one.thermostat == Some(Thermostat::None)) {
        step(
            "Put every heater on a thermostat.".to_owned(),
            "Without one the enclosure is always in the state that is reckoned here.",
        );
    }
    step(
        "Fix the probe so that it cannot be pulled or lifted off.".to_owned(),
        "A probe in the open makes a good thermostat heat without end.",
    );
    step(
        "Add a second thermostat in front of the first, set a few degrees higher, of a kind that cuts off.".to_owned(),
        "One that fails on is then stopped by the other; a qualified person does fixed wiring.",
    );
    if let Some(safe) = safe.filter(|safe| safe.low.is_finite()) {
        step(
            format!("When the heater is next replaced, take one of at most {:.0} W for this room.", safe.low),
            "Then even a stuck thermostat stays under the lines, if it still warms enough in the coldest room.",
        );
    }
    step(
        "Hang a thermometer with an alarm at the warm end, and try the thermostat every few weeks.".to_owned(),
        "Heat that runs away unseen is the worst loss there is.",
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::twin::testing::ask;

    fn of(watts: &str, room: &str) -> Reckoning {
        let box_of =
            [("length_cm", "90"), ("width_cm", "45"), ("height_cm", "45"), ("material", "glass"), ("lid", "mesh")];
        let heat = [
            ("heater", "ceramic"),
            ("watts", watts),
            ("thermostat", "on-off"),
            ("set_c", "30"),
            ("species", "corn snake"),
        ];
        ask(answer, &[&box_of[..], &heat, &[("room_max_c", room), ("room_c", "21")]].concat()).unwrap()
    }

    #[test]
    fn a_stronger_heater_gets_hotter_and_burns_sooner() {
        let (weak, strong) = (of("60", "24"), of("250", "24"));
        let end = |answer: &Reckoning| answer.amount("end-warm-surface").unwrap().range.mid;
        assert!(end(&weak) + 5.0 < end(&strong));
        assert!(strong.warning("burn-danger").is_some(), "{:?}", strong.says);
        let chance = |answer: &Reckoning| answer.amount("burn-chance").unwrap().range.mid;
        assert!(chance(&weak) <= chance(&strong));
    }

    #[test]
    fn the_largest_safe_heater_does_not_depend_on_the_one_that_is_there() {
        let safe = |watts: &str| of(watts, "24").amount("safe-watts").unwrap().range.mid;
        let (from_weak, from_strong) = (safe("60"), safe("120"));
        assert!((from_weak / from_strong - 1.0).abs() < 0.2, "{from_weak} {from_strong}");
        let hotter = of("120", "32").amount("safe-watts").unwrap().range.mid;
        assert!(hotter < from_strong, "on a hot day less is safe");
    }

    #[test]
    fn where_it_burns_before_anything_fails_that_is_said() {
        let mut all = vec![("length_cm", "90"), ("width_cm", "45"), ("height_cm", "45"), ("material", "glass")];
        all.extend([("lid", "mesh"), ("heater", "lamp"), ("watts", "150"), ("thermostat", "on-off"), ("set_c", "34")]);
        let answer = ask(answer, &[&all[..], &[("probe", "warm-air"), ("room_c", "18")]].concat()).unwrap();
        assert_eq!(answer.amount("minutes-to-burn").unwrap().range.mid, 0.0);
        assert!(answer.says[0].contains("nothing needs to fail"), "{}", answer.says[0]);
    }

    #[test]
    fn a_curve_rises_to_its_end_and_its_lines_stand_beside_it() {
        let answer = of("150", "24");
        let curve = answer.curve("warm-surface").unwrap();
        let (first, last) = (curve.points[0].range, curve.points.last().unwrap().range);
        assert!(first.mid < last.mid && curve.points.len() == 49);
        assert!(answer.limits.iter().any(|limit| limit.value == 43.0));
    }

    #[test]
    fn a_probe_out_in_a_hot_room_lets_the_heater_rest() {
        let box_of = [("length_cm", "90"), ("width_cm", "45"), ("height_cm", "45"), ("material", "glass")];
        let heat =
            [("heater", "mat"), ("watts", "40"), ("thermostat", "on-off"), ("set_c", "28"), ("failure", "probe-out")];
        let end = |room: &str| {
            let all = [&box_of[..], &heat, &[("room_max_c", room)]].concat();
            ask(answer, &all).unwrap().amount("end-warm-air").unwrap().range.mid
        };
        let (rests, heats) = (end("33"), end("20"));
        assert!(rests < 33.5 && 22.0 < heats, "{rests} {heats}");
    }

    #[test]
    fn without_watts_nothing_is_guessed() {
        let faults = ask(answer, &[("length_cm", "90"), ("width_cm", "45"), ("height_cm", "45")]).unwrap_err();
        assert!(faults[0].what.contains("watts") && faults[0].place.contains("watts"));
    }
}
