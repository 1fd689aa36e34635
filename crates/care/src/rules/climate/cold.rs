//! Too cold: below the lines that chill an animal, below its nights, below what digestion needs, below its range.

use records::facts::{Meal, Means, Spot};
use records::timeline::Entry;

use super::readings::{
    COOL, Candidate, Climate, Felt, Time, WARM, gravest, is_cooled, is_fed, low, meal_inside, measured, range,
};
use crate::answer::{Action, Code, Finding, Severity, Sure};
use crate::draft::{Draft, Line, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, celsius};

/// Cold.
pub const RULE: Rule = Rule {
    key: "cold",
    says: "The warmest place that an animal can reach stays above the lines of cold, the night above the profile's coldest night, the warm end by day in its range; in a winter rest that the species bears, cold is the plan.",
    because: "A chilled animal cannot digest, defend itself or fight off disease, and tropical species die of it.",
    sources: &[
        "power_alert_tropical",
        "power_alert_temperate",
        "night_cold",
        "temperature_off",
        "chill_no_food",
        "power_food_after",
    ],
    check,
};
/// A meal inside, and too cold to digest it.
pub const DIGESTION: Rule = Rule {
    key: "warm-enough-to-digest",
    says: "While a meal is inside, the warm side stays above what digestion needs; below it nothing is fed.",
    because: "A meal that is not digested rots inside or comes up.",
    sources: &["too_cold_to_digest"],
    check: digestion,
};

/// The lines of cold for this animal now: warn, act, urgent.
pub(super) struct ColdLines {
    pub warn: Line,
    pub act: Line,
    pub urgent: Line,
    /// Why they are the strict ones.
    pub who: &'static str,
}

const WITH_FOOD: &str = "an animal with food inside";

/// Tropical species, hatchlings and animals with food inside are chilled sooner.
pub(super) fn cold_lines(view: &View<'_>) -> ColdLines {
    let who = if view.profile.climate == species::Climate::Tropical {
        Some("a tropical species")
    } else if view.is_hatchling() {
        Some("a hatchling")
    } else if is_fed(view) {
        Some(WITH_FOOD)
    } else {
        None
    };
    let [warn, act, urgent] = lines::cold(who.is_some());
    ColdLines { warn, act, urgent, who: who.unwrap_or("a temperate species with an empty gut") }
}

/// The coldest night: with food inside and for the young the profile may ask for more.
fn night_min(view: &View<'_>) -> Option<Line> {
    let temperature = &view.profile.temperature;
    let young = !view.is_adult() && view.stage.is_some();
    low(&temperature.night_min_fed_c).filter(|_| young || is_fed(view)).or_else(|| low(&temperature.night_min_c))
}

/// The warmest place that is known, the line that it is under, and how grave that is.
pub(super) struct Chill<'v> {
    pub warmest: Felt<'v>,
    pub line: Line,
    pub severity: Severity,
}

/// Is the animal chilled now by what was measured? The warmest place counts; in a power cut that is any place, the
/// room too.
pub(super) fn chill_now<'v>(view: &View<'_>, climate: &Climate<'v>) -> Option<Chill<'v>> {
    let mut picture: Vec<Felt<'v>> = if view.power_out().is_some() {
        since_the_cut(climate)
    } else {
        climate.picture().into_iter().copied().collect()
    };
    let in_cut = picture.iter().any(|one| one.in_cut);
    let is_warm = |one: &Felt<'v>| WARM.contains(&one.spot());
    // What the warm end did not reach by day it does not reach by night.
    if !picture.iter().any(is_warm) && picture.iter().any(|one| one.time == Time::Night) {
        picture.extend(WARM.iter().filter_map(|spot| climate.newest(*spot, &[Time::Day])).copied());
    }
    let has_warm = picture.iter().any(is_warm);
    if !has_warm && !in_cut {
        return None;
    }
    let warmest = picture.into_iter().max_by(|a, b| a.degrees.total_cmp(&b.degrees))?;
    let (severity, line) = under(&cold_lines(view), night_min(view).as_ref(), &warmest)?;
    Some(Chill { warmest, line, severity })
}

/// The newest reading of each place since the power went.
pub(super) fn since_the_cut<'v>(climate: &Climate<'v>) -> Vec<Felt<'v>> {
    let mut newest: Vec<Felt<'v>> = Vec::new();
    for one in climate.felt.iter().filter(|one| one.in_cut && !matches!(one.spot(), Spot::ControlProbe | Spot::Water)) {
        if !newest.iter().any(|there| there.spot() == one.spot()) {
            newest.push(*one);
        }
    }
    newest
}

/// Which line of cold the warmest place is under. At night, with the heat on, what the profile allows for nights is no
/// cold.
fn under(lines: &ColdLines, night: Option<&Line>, warmest: &Felt<'_>) -> Option<(Severity, Line)> {
    let night = night.filter(|_| warmest.time == Time::Night && !warmest.in_cut);
    let below = |line: &Line| {
        let value = night.map_or(line.value, |night| line.value.min(night.value));
        (warmest.degrees < value).then(|| line.with(value))
    };
    if let Some(line) = below(&lines.urgent) {
        return Some((Severity::Urgent, line));
    }
    if let Some(line) = below(&lines.act) {
        return Some((Severity::Act, line));
    }
    let warn = below(&lines.warn).filter(|_| warmest.in_cut)?;
    Some((Severity::Watch, warn))
}

/// The last moment within the last days at which the warmest place was under the line that chills, when it is not so
/// any more.
pub(super) fn chilled_before<'v>(view: &View<'_>, climate: &Climate<'v>) -> Option<Felt<'v>> {
    let within_h = lines::high("readings_together").value;
    let counts = |one: &&Felt<'v>| one.in_cut || WARM.contains(&one.spot());
    let all: Vec<&Felt<'v>> = climate.felt.iter().filter(counts).collect();
    let (lines, night) = (cold_lines(view), night_min(view));
    let is_cold =
        |one: &Felt<'v>| under(&lines, night.as_ref(), one).is_some_and(|(severity, _)| Severity::Act <= severity);
    let near = |one: &Felt<'v>, other: &Felt<'v>| one.at.hours_since(other.at).abs() <= within_h;
    all.iter().enumerate().filter(|(_, one)| is_cold(one)).find_map(|(index, cold)| {
        let (newer, older) = (all.get(..index)?, all.get(index + 1..)?);
        let about =
            newer.iter().rev().take_while(|one| near(cold, one)).chain(older.iter().take_while(|one| near(cold, one)));
        let alike = about.filter(|one| one.time == cold.time && one.in_cut == cold.in_cut && one.spot() != cold.spot());
        let warmer = alike.into_iter().any(|one| !is_cold(one));
        (!warmer).then_some(**cold)
    })
}

/// What of the warm end by day decides whether a meal is digested: the air, else the surface; in a power cut the
/// warmest place.
fn warm_end<'v>(view: &View<'_>, climate: &Climate<'v>) -> Option<Felt<'v>> {
    if view.power_out().is_some() {
        let since = since_the_cut(climate);
        return since.into_iter().max_by(|a, b| a.degrees.total_cmp(&b.degrees));
    }
    let by_day = [Time::Day, Time::Both];
    let warm = |spot| climate.newest(spot, &by_day).filter(|one| !one.in_cut).copied();
    warm(Spot::WarmAir).or_else(|| warm(Spot::WarmSurface))
}

fn check(view: &View<'_>, draft: &mut Draft) {
    let climate = Climate::of(view);
    if is_cooled(view) {
        rest(view, &climate).into_iter().for_each(|finding| draft.find(finding));
        return;
    }
    let chill = chill_now(view, &climate);
    if let Some(chill) = chill.as_ref().filter(|chill| Severity::Act <= chill.severity) {
        hold_while_cold(view, draft, chill);
    } else if let Some(before) = chilled_before(view, &climate) {
        hold_after(view, draft, &before);
    }
    let mut candidates = Vec::new();
    // One reading, one finding: what a cool warm end does to a meal is told by the rule for it; so is the chill that is
    // one only because of that meal.
    let told = undigested(view, &climate).is_some();
    let by_meal = told && cold_lines(view).who == WITH_FOOD;
    let itself = chill.as_ref().filter(|chill| !by_meal || chill.severity == Severity::Urgent);
    candidates.extend(itself.map(|chill| chilled(view, chill)));
    candidates.extend(night(view, &climate, chill.as_ref()));
    if view.power_out().is_none() {
        candidates.extend(warm_side(view, &climate).filter(|_| !told));
        candidates.extend(cool_side(view, &climate));
        candidates.extend(room(view, &climate));
    }
    gravest(candidates).into_iter().for_each(|finding| draft.find(finding));
}

fn hold_while_cold(view: &View<'_>, draft: &mut Draft, chill: &Chill<'_>) {
    let why = format!(
        "{}: too cold for {}; no meal and no handling before it is warm and steady again.",
        measured(view, &chill.warmest),
        cold_lines(view).who
    );
    for action in [Action::OfferMeal, Action::Handle] {
        let records = vec![chill.warmest.record()];
        let ends = "the warm side is back in its range and the animal is warm";
        draft.hold_open(action, Strength::Emergency, RULE.key, why.clone(), chill.warmest.at, ends, records);
    }
}

fn hold_after(view: &View<'_>, draft: &mut Draft, before: &Felt<'_>) {
    // Under the line of danger the animal itself was chilled; above it the heat is to be back for a while.
    let (lines, night) = (cold_lines(view), night_min(view));
    let danger = under(&lines, night.as_ref(), before).is_some_and(|(severity, _)| severity == Severity::Urgent);
    let (until, why) = if danger {
        let days = lines::low("chill_no_food").value;
        (before.at.plus_days(days), format!("no meal in the {days:.0} days after a chill"))
    } else {
        let hours = lines::high("power_food_after").value;
        (before.at.plus_hours(hours), format!("no meal before the heat has been back for {hours:.0} h"))
    };
    if until <= view.now {
        return;
    }
    let why = format!("{}: {why}.", measured(view, before));
    draft.hold_until(Action::OfferMeal, Strength::Emergency, RULE.key, why, before.at, until, vec![before.record()]);
}

fn code_of(felt: &Felt<'_>) -> Code {
    match felt.spot() {
        _ if felt.time == Time::Night => Code::NightCold,
        Spot::WarmSurface => Code::WarmSurfaceCool,
        Spot::WarmAir => Code::WarmAirCool,
        _ => Code::CoolSideCold,
    }
}

fn chilled(view: &View<'_>, chill: &Chill<'_>) -> Candidate {
    let who = cold_lines(view).who;
    let line = celsius(chill.line.value);
    let what = measured(view, &chill.warmest);
    let says = match chill.severity {
        Severity::Urgent => format!("{what}, and no warmer place is known: under {line} {who} is in danger."),
        Severity::Act => format!("{what}, and no warmer place is known; under {line} {who} is chilled."),
        _ => format!("{what}, and no warmer place is known; {line} or more is wanted for {who}."),
    };
    let out = view.power_out().is_some();
    let does = match (chill.severity, out) {
        (Severity::Urgent, _) => {
            "Warm the air around it slowly now, with no mat, lamp or bottle against it, and call a reptile veterinarian if it is limp or does not move."
        }
        (Severity::Act, true) => {
            "Warm the air of a closed, insulated box slowly, with nothing hot against the animal, and read the temperature every hour."
        }
        (Severity::Act, false) => {
            "Find out today why the heat fails, warm the animal slowly and read the temperature every few hours."
        }
        _ => "Wrap the enclosure, keep it closed, and read the temperature every few hours.",
    };
    let finding = Finding::new(code_of(&chill.warmest), chill.severity, RULE.key, says, does)
        .on([chill.warmest.record()])
        .by(&chill.line, "°C")
        .caution(if out { "power-cut" } else { "chilled" });
    Candidate { finding, rank: 0 }
}

/// The coldest of the last night, against the coldest night of the profile.
fn night(view: &View<'_>, climate: &Climate<'_>, chill: Option<&Chill<'_>>) -> Option<Candidate> {
    let line = night_min(view)?;
    let slack = lines::low("temperature_off").value;
    let far = lines::low("night_cold").value;
    let nights: Vec<&Felt<'_>> = [Spot::WarmAir, Spot::WarmSurface]
        .into_iter()
        .chain(COOL)
        .flat_map(|spot| climate.standing(spot).filter(|one| one.time != Time::Day && !one.in_cut))
        .collect();
    let newest = nights.iter().map(|one| one.at).max()?;
    let together_h = lines::high("readings_together").value;
    let last = || nights.iter().filter(|one| newest.hours_since(one.at) <= together_h);
    let coldest = last().min_by(|a, b| a.degrees.total_cmp(&b.degrees))?;
    if line.value - slack <= coldest.degrees {
        return None;
    }
    // With a warm place to go to, a cold end at night is worth a word, no more.
    let refuge = last().any(|one| WARM.contains(&one.spot()) && line.value + far <= one.degrees);
    let danger = cold_lines(view).urgent;
    let severity = match (coldest.degrees < line.value - far, refuge) {
        (_, true) if coldest.degrees < danger.value => Severity::Act,
        (true, false) => Severity::Act,
        _ => Severity::Watch,
    };
    let says = format!("{}; nights stay above {}.", measured(view, coldest), celsius(line.value));
    let does = if Severity::Act <= severity {
        "Keep a heater on through the night from today on, on its thermostat, and read the lowest temperature tomorrow morning."
    } else {
        "Raise the night setting a little and read the lowest temperature of the next nights."
    };
    let others = last().filter(|one| one.degrees < line.value).map(|one| one.record());
    let records = std::iter::once(coldest.record()).chain(others.filter(|one| *one != coldest.record()).take(3));
    let finding = Finding::new(Code::NightCold, severity, RULE.key, says, does).on(records).by(&line, "°C");
    // The same reading is not told twice.
    let told = chill.is_some_and(|chill| chill.warmest.entry.key == coldest.entry.key);
    (!told).then_some(Candidate { finding, rank: 3 })
}

/// The warm end by day, against its range.
fn warm_side(view: &View<'_>, climate: &Climate<'_>) -> Option<Candidate> {
    let temperature = &view.profile.temperature;
    let slack = lines::low("temperature_off").value;
    let digests = low(&temperature.digest_min_c);
    let by_day = |spot| climate.newest(spot, &[Time::Day]).filter(|one| !one.in_cut && is_telling(one));
    let air = by_day(Spot::WarmAir);
    let (felt, figure, code) = match air {
        Some(air) => (air, temperature.warm_ambient_c.first()?, Code::WarmAirCool),
        None => (by_day(Spot::WarmSurface)?, temperature.basking_surface_c.first()?, Code::WarmSurfaceCool),
    };
    // Air in its range with a surface that is cool still lacks the warm place.
    let surface = by_day(Spot::WarmSurface).zip(temperature.basking_surface_c.first());
    let (felt, figure, code) = match surface {
        Some((surface, wanted)) if figure.low - slack <= felt.degrees && surface.degrees < wanted.low - slack => {
            (surface, wanted, Code::WarmSurfaceCool)
        }
        _ => (felt, figure, code),
    };
    if figure.low - slack <= felt.degrees {
        return None;
    }
    let fails = digests.as_ref().is_some_and(|line| felt.degrees < line.value);
    let severity = if fails { Severity::Act } else { Severity::Watch };
    let says = format!("{}; {} is wanted at the warm end by day.", measured(view, felt), range(figure));
    let does = if fails {
        "Find out today why the heater does not reach it: switch, thermostat, power, a draught or a cold room."
    } else {
        "Raise the warm side to its range and measure again tomorrow."
    };
    let finding = Finding::new(code, severity, RULE.key, says, does).on([felt.record()]).by(&Line::low(figure), "°C");
    Some(Candidate { finding, rank: 1 })
}

/// A single look, a mean or a maximum tells what the warm end reaches; its minimum does not.
fn is_telling(felt: &Felt<'_>) -> bool {
    felt.entry.means != Means::Minimum
}

/// The cool end by day, against its range.
fn cool_side(view: &View<'_>, climate: &Climate<'_>) -> Option<Candidate> {
    let figure = view.profile.temperature.cool_ambient_c.first()?;
    let slack = lines::low("temperature_off").value;
    let by_day = |spot| climate.newest(spot, &[Time::Day]).filter(|one| !one.in_cut && is_telling(one));
    let felt = by_day(Spot::CoolAir).or_else(|| by_day(Spot::CoolSurface))?;
    if figure.low - slack <= felt.degrees {
        return None;
    }
    let night = night_min(view);
    let below_night = night.as_ref().is_some_and(|line| felt.degrees < line.value - slack);
    let warm = [Spot::WarmAir, Spot::WarmSurface].into_iter().filter_map(|spot| climate.newest(spot, &[Time::Day]));
    let refuge = view.profile.temperature.digest_min_c.first().is_some_and(|line| {
        warm.map(|one| one.degrees).max_by(f64::total_cmp).is_some_and(|warmest| line.low <= warmest)
    });
    let severity = if below_night && !refuge { Severity::Act } else { Severity::Watch };
    let says = format!("{}; {} is wanted at the cool end by day.", measured(view, felt), range(figure));
    let does = if severity == Severity::Act {
        "Measure the warm side at once, and find out today why the enclosure is so cold."
    } else {
        "Look for a draught or a cold wall at that end, and measure again tomorrow."
    };
    let finding = Finding::new(Code::CoolSideCold, severity, RULE.key, says, does)
        .on([felt.record()])
        .by(&Line::low(figure), "°C");
    Some(Candidate { finding, rank: 2 })
}

/// A cold room, where nothing in the enclosure was measured with it.
fn room(view: &View<'_>, climate: &Climate<'_>) -> Option<Candidate> {
    if !climate.picture().is_empty() {
        return None;
    }
    let felt = climate.room()?;
    let lines = cold_lines(view);
    let (severity, line) = if felt.degrees < lines.urgent.value {
        (Severity::Act, lines.urgent)
    } else if felt.degrees < lines.act.value {
        (Severity::Watch, lines.act)
    } else {
        return None;
    };
    let says = format!(
        "{}, and nothing was measured in the enclosure: its cool end is hardly warmer, and under {} is cold for {}.",
        measured(view, felt),
        celsius(line.value),
        lines.who
    );
    let does = "Measure the warm and the cool end now, and again at the end of the night.";
    let code = if felt.time == Time::Night { Code::NightCold } else { Code::CoolSideCold };
    let finding =
        Finding::new(code, severity, RULE.key, says, does).on([felt.record()]).by(&line, "°C").sure(Sure::Possible);
    Some(Candidate { finding, rank: 4 })
}

/// In a winter rest that the species bears: only what lies below the rest itself.
fn rest(view: &View<'_>, climate: &Climate<'_>) -> Option<Finding> {
    let resting = low(&view.profile.brumation.temp_c).or_else(|| low(&view.profile.temperature.night_min_c))?;
    let (frost, near_frost) = (lines::low("brum_freeze_limit"), lines::high("brum_freeze_limit"));
    let slack = lines::low("temperature_off").value;
    let picture: Vec<&Felt<'_>> = climate.picture();
    let coldest = picture.into_iter().chain(climate.room()).min_by(|a, b| a.degrees.total_cmp(&b.degrees))?;
    let (severity, line) = if coldest.degrees < frost.value {
        (Severity::Urgent, frost)
    } else if coldest.degrees < near_frost.value {
        (Severity::Act, near_frost)
    } else if coldest.degrees < resting.value - slack {
        (Severity::Watch, resting.clone())
    } else {
        return None;
    };
    let says = format!(
        "{}; a winter rest of this species stays above {}.",
        measured(view, coldest),
        celsius(line.value.max(resting.value))
    );
    let does = match severity {
        Severity::Watch => "Move it to a place a little warmer, and read the lowest temperature every day.",
        _ => "Move it to a warmer place now, a few degrees at a time, and look whether it moves.",
    };
    let code = if coldest.time == Time::Night { Code::NightCold } else { Code::CoolSideCold };
    Some(Finding::new(code, severity, RULE.key, says, does).on([coldest.record()]).by(&line, "°C").caution("chilled"))
}

/// A meal inside, and the warm end below what it needs: the reading, the meal, the line.
fn undigested<'v>(view: &'v View<'_>, climate: &Climate<'v>) -> Option<(Felt<'v>, &'v Entry<Meal>, Line)> {
    let (warm, line) = too_cool(view, climate)?;
    // In a winter rest the cold is planned; a meal that went into it is not.
    let since = view.brumation(0.0).map(|plan| plan.from.from);
    meal_inside(view, since.unwrap_or(view.now)).map(|meal| (warm, meal, line))
}

/// The warm end below what digestion needs.
fn too_cool<'v>(view: &View<'_>, climate: &Climate<'v>) -> Option<(Felt<'v>, Line)> {
    let line = low(&view.profile.temperature.digest_min_c)?;
    let warm = warm_end(view, climate).filter(|warm| warm.degrees < line.value)?;
    Some((warm, line))
}

fn digestion(view: &View<'_>, draft: &mut Draft) {
    let climate = Climate::of(view);
    let Some((warm, line)) = too_cool(view, &climate) else { return };
    let (what, least) = (measured(view, &warm), celsius(line.value));
    if !is_cooled(view) {
        let why = format!("{what}; below {least} at the warm end a meal is not digested.");
        let ends = "the warm side is back in its range";
        draft.hold_open(Action::OfferMeal, Strength::Plan, DIGESTION.key, why, warm.at, ends, vec![warm.record()]);
    }
    let Some((_, meal, _)) = undigested(view, &climate) else { return };
    let says =
        format!("{what} with the meal of {} still inside; below {least} it is not digested.", view.date(meal.at.from));
    let does =
        "Bring the warm side back into its range today, leave the animal in peace, and watch for a meal that comes up.";
    let records = [warm.record(), seen(meal)];
    draft.find(
        Finding::new(Code::TooColdToDigest, Severity::Act, DIGESTION.key, says, does).on(records).by(&line, "°C"),
    );
}

#[cfg(test)]
mod tests {
    use super::super::tests::{at, on_an_evening, read, severity, told};
    use super::*;
    use crate::answer::Severity::{Act, Urgent, Watch};
    use crate::testing::moment;

    const FED: &str = "[[weighing]]\nat = \"2027-03-20\"\nmass_g = 500\n[[meal]]\nat = \"2027-04-04T20:00\"\nmass_g = 50\noutcome = \"taken\"\n";

    #[test]
    fn the_warm_end_by_day() {
        // boa: warm air 28 to 30 °C, digestion from 25 °C, chilled under 22 °C, in danger under 18 °C
        for (degrees, expected) in [
            ("28", None),
            ("27.5", None),
            ("27.4", Some(Watch)),
            ("25", Some(Watch)),
            ("24.9", Some(Act)),
            ("22", Some(Act)),
            ("18", Some(Act)),
            ("17.9", Some(Urgent)),
        ] {
            let answer = on_an_evening("boa_imperator", &read(&[&format!("warm-air 14:00 {degrees}")]));
            assert_eq!(severity(&answer, Code::WarmAirCool), expected, "{degrees} °C");
        }
    }

    #[test]
    fn the_warm_surface_counts_where_the_air_was_not_read_or_is_in_range() {
        // corn snake: surface 30 to 32 °C
        for (lines, expected) in [
            (&["warm-surface 14:00 29.5"][..], &[][..]),
            (&["warm-surface 14:00 29.4"], &[(Code::WarmSurfaceCool, Watch)]),
            (&["warm-surface 14:00 23.9"], &[(Code::WarmSurfaceCool, Act)]),
            (&["warm-surface 14:00 29", "warm-air 14:00 28"], &[(Code::WarmSurfaceCool, Watch)]),
            (&["warm-surface 14:00 29", "warm-air 14:00 26"], &[(Code::WarmAirCool, Watch)]),
        ] {
            assert_eq!(told(&on_an_evening("corn_snake", &read(lines))), expected, "{lines:?}");
        }
    }

    #[test]
    fn a_night_is_held_against_the_coldest_night_and_not_against_the_day() {
        // ball python: nights stay above 23 °C
        for (lines, expected) in [
            (&["warm-air 03:00 26"][..], &[][..]),
            (&["cool-air 03:00 22.5"], &[]),
            (&["cool-air 03:00 22.4"], &[(Code::NightCold, Watch)]),
            (&["cool-air 03:00 21"], &[(Code::NightCold, Watch)]),
            (&["cool-air 03:00 20.9"], &[(Code::NightCold, Act)]),
            // With a warm place to go to it is worth a word; in danger of its life it is more.
            (&["cool-air 03:00 20.9", "warm-air 03:00 26"], &[(Code::NightCold, Watch)]),
            (&["cool-air 03:00 17.9", "warm-air 03:00 26"], &[(Code::NightCold, Act)]),
            // Nothing warm at all.
            (&["cool-air 03:00 17", "warm-air 03:00 21.9"], &[(Code::NightCold, Act)]),
            (&["cool-air 03:00 17", "warm-air 03:00 17.9"], &[(Code::NightCold, Urgent)]),
            // Told as night, whatever the clock says; by the clock where nothing is told.
            (&["cool-air 08:30 20.9 night"], &[(Code::NightCold, Act)]),
            (&["cool-air 22:00 23.0"], &[]),
            // The lowest of a whole day, or of nobody knows how long, is the night's; a mean of the day tells it too.
            (&["cool-air 17:00 20.9 means=minimum hours=24"], &[(Code::NightCold, Act)]),
            (&["cool-air 17:00 20.9 means=minimum"], &[(Code::NightCold, Act)]),
            (&["cool-air 17:00 23.5 means=mean hours=24"], &[]),
        ] {
            assert_eq!(told(&on_an_evening("ball_python", &read(lines))), expected, "{lines:?}");
        }
    }

    #[test]
    fn a_temperate_species_bears_cooler_nights() {
        for (degrees, expected) in
            [("17.5", &[][..]), ("17.4", &[(Code::NightCold, Watch)]), ("15.9", &[(Code::NightCold, Act)])]
        {
            let answer = on_an_evening("corn_snake", &read(&[&format!("cool-air 04:00 {degrees}")]));
            assert_eq!(told(&answer), expected, "{degrees} °C");
        }
    }

    #[test]
    fn the_cool_end_by_day() {
        // ball python: 24 to 27 °C, nights above 23 °C
        for (lines, expected) in [
            (&["cool-air 14:00 23.5"][..], &[][..]),
            (&["cool-air 14:00 23.4"], &[(Code::CoolSideCold, Watch)]),
            (&["cool-air 14:00 22.4"], &[(Code::CoolSideCold, Act)]),
            (&["cool-air 14:00 22.4", "warm-air 14:00 30"], &[(Code::CoolSideCold, Watch)]),
        ] {
            assert_eq!(told(&on_an_evening("ball_python", &read(lines))), expected, "{lines:?}");
        }
    }

    #[test]
    fn a_cold_room_asks_for_a_look_where_nothing_else_was_measured() {
        for (lines, expected) in [
            (&["room 14:00 22"][..], &[][..]),
            (&["room 14:00 21.9"], &[(Code::CoolSideCold, Watch)]),
            (&["room 14:00 17.9"], &[(Code::CoolSideCold, Act)]),
            (&["room 14:00 17.9", "warm-air 14:00 30"], &[]),
            (&["outdoors 14:00 -20"], &[]),
        ] {
            assert_eq!(told(&on_an_evening("ball_python", &read(lines))), expected, "{lines:?}");
        }
    }

    #[test]
    fn too_cold_to_digest_while_a_meal_is_inside() {
        // corn snake: digestion from 24 °C
        for (degrees, meal, expected) in [("24", FED, Some(Watch)), ("23.9", FED, None), ("23.9", "", Some(Act))] {
            let answer =
                on_an_evening("corn_snake", &format!("{}{meal}", read(&[&format!("warm-air 14:00 {degrees}")])));
            assert_eq!(severity(&answer, Code::WarmAirCool), expected, "warm air at {degrees} °C");
            let told = severity(&answer, Code::TooColdToDigest);
            assert_eq!(told, (degrees == "23.9" && !meal.is_empty()).then_some(Act), "{degrees} °C");
            let held = answer
                .hold(Action::OfferMeal)
                .is_some_and(|hold| hold.because.iter().any(|one| one.rule == DIGESTION.key));
            assert_eq!(held, degrees == "23.9", "{degrees} °C");
        }
    }

    #[test]
    fn a_chill_that_is_one_only_for_the_meal_is_told_once() {
        let cold = |degrees: &str| format!("{}{FED}", read(&[&format!("warm-air 14:00 {degrees}")]));
        assert_eq!(told(&on_an_evening("corn_snake", &cold("21"))), [(Code::TooColdToDigest, Act)]);
        let danger = told(&on_an_evening("corn_snake", &cold("17.9")));
        assert_eq!(danger, [(Code::WarmAirCool, Urgent), (Code::TooColdToDigest, Act)]);
        let tropical = told(&on_an_evening("ball_python", &cold("21")));
        assert_eq!(tropical, [(Code::WarmAirCool, Act), (Code::TooColdToDigest, Act)], "cold for the animal itself");
    }

    #[test]
    fn a_meal_of_long_ago_is_digested() {
        let old = FED.replace("2027-04-04", "2027-03-10");
        let answer = on_an_evening("corn_snake", &format!("{}{old}", read(&["warm-air 14:00 23"])));
        assert_eq!(severity(&answer, Code::TooColdToDigest), None);
    }

    #[test]
    fn a_cool_night_is_no_reason_against_a_meal() {
        let answer =
            on_an_evening("corn_snake", &format!("{}{FED}", read(&["warm-air 04:00 22 night", "warm-air 14:00 28"])));
        assert_eq!(told(&answer), []);
    }

    #[test]
    fn while_it_is_cold_it_is_neither_fed_nor_handled() {
        let cold = on_an_evening("ball_python", &read(&["warm-air 14:00 21.9"]));
        for action in [Action::OfferMeal, Action::Handle] {
            assert_eq!(cold.hold(action).unwrap().until, None, "{action} until it is warm");
        }
        let free = on_an_evening("ball_python", &read(&["warm-air 14:00 29"]));
        assert!(free.hold(Action::OfferMeal).is_none() && free.hold(Action::Handle).is_none());
    }

    #[test]
    fn after_danger_no_meal_for_five_days_and_after_a_cool_spell_two_days_of_heat() {
        for (degrees, day, until) in
            [("17.9", "2027-04-04", "2027-04-09T14:00"), ("19", "2027-04-05", "2027-04-07T14:00")]
        {
            let warm_again = read(&[&format!("warm-air {day}T14:00 {degrees}"), "warm-air 14:00 30"]);
            let answer = on_an_evening("ball_python", &warm_again);
            assert_eq!(told(&answer), [], "{degrees} °C");
            assert_eq!(answer.hold(Action::OfferMeal).unwrap().until, Some(moment(until)), "{degrees} °C");
            assert!(answer.hold(Action::Handle).is_none(), "{degrees} °C");
            assert!(at(until, "ball_python", &warm_again).hold(Action::OfferMeal).is_none(), "{degrees} °C");
        }
    }

    #[test]
    fn a_planned_winter_rest_is_cold_by_plan() {
        let rest = "[[planned]]\nfrom = \"2027-03-01\"\nuntil = \"2027-04-20\"\nwhat = \"brumation\"\n";
        // corn snake: 10 to 15 °C in its rest, never below 3 to 4 °C
        for (degrees, expected) in [
            ("12", &[][..]),
            ("9.5", &[]),
            ("9.4", &[(Code::CoolSideCold, Watch)]),
            ("3.9", &[(Code::CoolSideCold, Act)]),
            ("2.9", &[(Code::CoolSideCold, Urgent)]),
        ] {
            let answer =
                on_an_evening("corn_snake", &format!("{rest}{}", read(&[&format!("cool-air 14:00 {degrees}")])));
            assert_eq!(told(&answer), expected, "{degrees} °C");
        }
        let boa = on_an_evening("boa_imperator", &format!("{rest}{}", read(&["warm-air 14:00 17"])));
        assert_eq!(told(&boa), [(Code::WarmAirCool, Urgent)], "a species that does not rest");
        let into_it = format!(
            "{rest}{}[[meal]]\nat = \"2027-02-28T20:00\"\nmass_g = 50\noutcome = \"taken\"\n",
            read(&["warm-air 14:00 12"])
        );
        let fed = on_an_evening("corn_snake", &format!("[[weighing]]\nat = \"2027-02-20\"\nmass_g = 500\n{into_it}"));
        assert_eq!(told(&fed), [(Code::TooColdToDigest, Act)], "a meal the day before");
        let cooling = format!(
            "{}{FED}{}",
            rest.replace("2027-03-01", "2027-04-12").replace("04-20", "06-20"),
            read(&["warm-air 14:00 16"])
        );
        assert_eq!(
            told(&on_an_evening("corn_snake", &cooling)),
            [(Code::TooColdToDigest, Act)],
            "cooled with a meal inside"
        );
    }

    #[test]
    fn on_the_way_into_and_out_of_a_rest_it_is_cooler() {
        let rest = "[[planned]]\nfrom = \"2027-02-01\"\nuntil = \"2027-03-30\"\nwhat = \"brumation\"\n";
        let cool = read(&["warm-air 14:00 20"]);
        assert_eq!(told(&on_an_evening("corn_snake", &format!("{rest}{cool}"))), []);
        assert_eq!(told(&on_an_evening("corn_snake", &cool)), [(Code::WarmAirCool, Act)]);
    }
}
