//! Too hot: a surface that burns, an enclosure with no cool place left, a warm end above its range.

use records::facts::{HeaterKind, Means, Spot};

use super::readings::{COOL, Candidate, Climate, Felt, Time, gravest, high, measured, place, range};
use crate::answer::{Action, Code, Evidence, Finding, Severity, Sure};
use crate::draft::{Draft, Line, Strength};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, celsius};

/// Heat.
pub const RULE: Rule = Rule {
    key: "heat",
    says: "A touchable surface from 43 °C, or an enclosure whose coolest place is above the line of the species, is urgent; above its range each place is put right.",
    because: "A snake lies on a hot surface until it burns, and where no place is cool it cannot save itself.",
    sources: &["surface_urgent", "overheat", "temperature_off"],
    check,
};

/// The line of the species above which no whole enclosure may stand, and the ranges below it.
struct Wanted<'v> {
    surface: Option<&'v species::Figure>,
    surface_max: Option<Line>,
    warm: Option<&'v species::Figure>,
    cool: Option<&'v species::Figure>,
    overheat: Option<Line>,
    burns: Line,
    slack: f64,
    far: f64,
}

impl<'v> Wanted<'v> {
    fn of(view: &View<'v>) -> Wanted<'v> {
        let temperature = &view.profile.temperature;
        // A floor heated from below, into which the animal burrows, has a limit of its own where the profile knows one.
        let from_below = view.case.heaters.iter().any(|one| matches!(one.kind, HeaterKind::Mat | HeaterKind::Cable));
        let floor = high(&temperature.surface_floor_heat_max_c).filter(|_| from_below);
        Wanted {
            surface: temperature.basking_surface_c.first(),
            surface_max: floor.or_else(|| high(&temperature.surface_absolute_max_c)),
            warm: temperature.warm_ambient_c.first(),
            cool: temperature.cool_ambient_c.first(),
            overheat: high(&temperature.overheat_c),
            burns: lines::low("surface_urgent"),
            slack: lines::low("temperature_off").value,
            far: lines::high("temperature_off").value,
        }
    }
}

/// A place that is too hot.
struct Hot<'v, 'c> {
    felt: &'c Felt<'v>,
    severity: Severity,
    line: Line,
    /// It was so earlier on the same day; the newest reading is cooler.
    is_past: bool,
}

/// Looks at one place: the newest reading, and the hottest of the day before it, which counts one step less when a
/// newer one of the same time of day is cooler (a maximum stands for its whole span and counts in full).
fn judge<'v, 'c>(
    climate: &'c Climate<'v>,
    spot: Spot,
    level: impl Fn(f64) -> Option<(Severity, Line)>,
) -> Option<Hot<'v, 'c>> {
    let mut worst: Option<Hot<'v, 'c>> = None;
    for time in [Time::Day, Time::Night, Time::Both] {
        let Some(newest) = climate.newest(spot, &[time]) else { continue };
        let peak = climate.standing(spot).filter(|one| one.time == time).max_by(|a, b| a.degrees.total_cmp(&b.degrees));
        let now = level(newest.degrees).map(|(severity, line)| Hot { felt: newest, severity, line, is_past: false });
        let past = peak.filter(|peak| peak.at < newest.at).and_then(|peak| {
            let (severity, line) = level(peak.degrees)?;
            let counts_in_full = peak.entry.means == Means::Maximum;
            let severity = if counts_in_full { severity } else { one_less(severity)? };
            Some(Hot { felt: peak, severity, line, is_past: !counts_in_full })
        });
        for hot in [now, past].into_iter().flatten() {
            if worst.as_ref().is_none_or(|there| there.severity < hot.severity) {
                worst = Some(hot);
            }
        }
    }
    worst
}

fn one_less(severity: Severity) -> Option<Severity> {
    match severity {
        Severity::Urgent | Severity::Vet => Some(Severity::Act),
        Severity::Act => Some(Severity::Watch),
        Severity::Watch | Severity::Note => None,
    }
}

fn check(view: &View<'_>, draft: &mut Draft) {
    let climate = Climate::of(view);
    let wanted = Wanted::of(view);
    let mut candidates = Vec::new();
    candidates.extend(cool_side(view, &climate, &wanted));
    candidates.extend(surface(view, &climate, &wanted));
    candidates.extend(warm_air(view, &climate, &wanted));
    let burns =
        |one: &&Candidate| one.finding.code == Code::WarmSurfaceHot && one.finding.value == Some(wanted.burns.value);
    let burning = candidates.iter().find(burns).map(|one| one.finding.clone());
    let Some(finding) = gravest(candidates) else { return };
    if finding.severity == Severity::Urgent && finding.code != Code::WarmSurfaceHot {
        let why = "It has no cool place left: no meal and no handling before it is cool and steady again.";
        let since = finding.records.iter().filter_map(|one| one.at).map(|at| at.from).max().unwrap_or(view.now);
        for action in [Action::OfferMeal, Action::Handle] {
            let records = finding.records.clone();
            let ends = "it has been cool and steady for a day";
            draft.hold_open(action, Strength::Emergency, RULE.key, why, since, ends, records);
        }
    }
    // A surface that burns is a danger of its own, beside a place that is too hot as a whole.
    if let Some(burning) = burning.filter(|burning| burning.code != finding.code) {
        draft.find(burning);
    }
    draft.find(finding);
}

fn surface(view: &View<'_>, climate: &Climate<'_>, wanted: &Wanted<'_>) -> Option<Candidate> {
    let coolest = coolest(climate);
    // Which place of refuge would save it is asked of the coolest place that is known.
    let no_refuge = |limit: f64| coolest.is_some_and(|coolest| limit <= coolest.degrees);
    let of_warm = |degrees: f64| {
        if wanted.burns.value <= degrees {
            return Some((Severity::Urgent, wanted.burns.clone()));
        }
        if let Some(limit) = wanted.surface_max.as_ref().filter(|limit| limit.value < degrees) {
            let far = limit.value + wanted.slack < degrees;
            let severity = match (no_refuge(limit.value), far) {
                (true, _) => Severity::Urgent,
                (false, true) => Severity::Act,
                (false, false) => Severity::Watch,
            };
            return Some((severity, limit.clone()));
        }
        let range = wanted.surface.filter(|range| range.high + wanted.slack < degrees)?;
        Some((Severity::Watch, Line::high(range)))
    };
    let of_others = |degrees: f64| (wanted.burns.value <= degrees).then(|| (Severity::Urgent, wanted.burns.clone()));
    let others = [Spot::CoolSurface, Spot::Hide, Spot::HumidHide, Spot::Water].into_iter();
    let mut hot: Vec<Hot<'_, '_>> = others.filter_map(|spot| judge(climate, spot, of_others)).collect();
    hot.extend(judge(climate, Spot::WarmSurface, of_warm));
    let hot = hot.into_iter().max_by_key(|hot| hot.severity)?;
    let what = measured(view, hot.felt);
    let target = wanted.surface.map(|range| format!("{} is wanted", self::range(range)));
    let target = target.filter(|_| hot.felt.spot() == Spot::WarmSurface);
    let limit = celsius(hot.line.value);
    let burns = wanted.burns.value <= hot.felt.degrees;
    let is_limit = wanted.surface_max.as_ref().is_some_and(|max| max.value == hot.line.value);
    let says = match (burns, is_limit, target) {
        (true, _, Some(target)) => format!("{what}; from {limit} on it burns, and {target}."),
        (true, _, None) => format!("{what}; from {limit} on it burns."),
        (false, true, Some(target)) => {
            format!("{what}; {limit} is the hottest that this species may touch, and {target}.")
        }
        (false, true, None) => format!("{what}; {limit} is the hottest that this species may touch."),
        (false, false, Some(target)) => format!("{what}; {target}."),
        (false, false, None) => format!("{what}; {limit} is the most that is wanted."),
    };
    let does = match (hot.severity, hot.is_past) {
        (Severity::Urgent, _) => {
            "Switch that heater off now, move the animal to a cool place and look at its belly; it goes on again only when you know why it ran so hot."
        }
        (_, true) => {
            "It has cooled since: look at the animal's belly for burns, and find out today what drove it so high."
        }
        (Severity::Act, _) => "Turn the heat down now, and measure again in an hour where the animal lies.",
        _ => "Turn the heat down a little and measure again tomorrow where the animal lies.",
    };
    let finding = Finding::new(Code::WarmSurfaceHot, hot.severity, RULE.key, says, does)
        .on([hot.felt.record()])
        .by(&hot.line, "°C");
    let finding = if Severity::Act <= hot.severity { finding.caution("burns") } else { finding };
    Some(Candidate { finding, rank: if hot.severity == Severity::Urgent { 1 } else { 2 } })
}

/// The coolest place that is known about the time of the newest reading.
fn coolest<'c, 'v>(climate: &'c Climate<'v>) -> Option<&'c Felt<'v>> {
    let picture = climate.picture();
    let cool = picture.into_iter().filter(|one| COOL.contains(&one.spot()));
    let spot = cool.min_by(|a, b| a.degrees.total_cmp(&b.degrees))?.spot();
    climate.standing(spot).next()
}

fn warm_air(view: &View<'_>, climate: &Climate<'_>, wanted: &Wanted<'_>) -> Option<Candidate> {
    let (overheat, range) = (wanted.overheat.as_ref()?, wanted.warm?);
    let refuge = coolest(climate).or_else(|| climate.room());
    let level = |degrees: f64| {
        if overheat.value < degrees {
            let has_refuge = refuge.is_some_and(|place| place.degrees <= overheat.value);
            let severity = if has_refuge { Severity::Act } else { Severity::Urgent };
            return Some((severity, overheat.clone()));
        }
        let severity = if range.high + wanted.far < degrees {
            Severity::Act
        } else if range.high + wanted.slack < degrees {
            Severity::Watch
        } else {
            return None;
        };
        Some((severity, Line::high(range)))
    };
    let hot = judge(climate, Spot::WarmAir, level)?;
    let what = measured(view, hot.felt);
    let target = self::range(range);
    let over = overheat.value < hot.felt.degrees;
    let says = match (over, refuge) {
        (true, Some(place)) if overheat.value < place.degrees => format!(
            "{what} and {} was {}: no place is below {}, the most that this species bears.",
            self::place(place.spot()),
            celsius(place.degrees),
            celsius(overheat.value)
        ),
        (true, Some(_)) => {
            format!("{what}; above {} this species overheats, and {target} is wanted.", celsius(overheat.value))
        }
        (true, None) => format!(
            "{what} and no cool place was measured; above {} this species overheats, and {target} is wanted.",
            celsius(overheat.value)
        ),
        (false, _) => format!("{what}; {target} is wanted at the warm end."),
    };
    let does = match (hot.severity, hot.is_past) {
        (Severity::Urgent, _) => COOL_IT,
        (_, true) => {
            "It has cooled since: find out what drove it so high, and measure the cool end in the hottest hours."
        }
        (Severity::Act, _) => "Turn the heat down now, give air, and make sure that the cool end stays cool.",
        _ => "Turn the heat down a little and measure both ends again tomorrow.",
    };
    let mut records = vec![hot.felt.record()];
    records.extend(refuge.filter(|_| over).map(Felt::record));
    let finding = Finding::new(Code::WarmAirHot, hot.severity, RULE.key, says, does).on(records).by(&hot.line, "°C");
    let unsure = hot.severity == Severity::Urgent && refuge.is_none();
    let finding = if unsure { finding.sure(Sure::Likely) } else { finding };
    let finding = if Severity::Act <= hot.severity { finding.caution("overheating") } else { finding };
    Some(Candidate { finding, rank: 3 })
}

/// What to do when no place is cool.
const COOL_IT: &str = "Switch every heater off and bring it into a cool room now, wet it with tepid water, never ice, and call a reptile veterinarian even if it looks well.";

fn cool_side(view: &View<'_>, climate: &Climate<'_>, wanted: &Wanted<'_>) -> Option<Candidate> {
    let (overheat, range, warm) = (wanted.overheat.as_ref()?, wanted.cool?, wanted.warm?);
    let level = |degrees: f64| {
        if overheat.value < degrees {
            Some((Severity::Urgent, overheat.clone()))
        } else if warm.high < degrees {
            Some((Severity::Act, Line::high(warm)))
        } else if range.high + wanted.slack < degrees {
            Some((Severity::Watch, Line::high(range)))
        } else {
            None
        }
    };
    let coolest = coolest(climate);
    let spot = coolest.map_or(Spot::Room, |coolest| coolest.spot());
    // A hide may stand at the warm end: it counts only when no cool place was measured and the animal overheats in it.
    let is_hide = matches!(spot, Spot::Hide | Spot::HumidHide);
    if spot == Spot::Room {
        climate.room()?;
    }
    let hot = judge(climate, spot, level).filter(|hot| !is_hide || hot.severity == Severity::Urgent)?;
    let what = measured(view, hot.felt);
    let is_room = spot == Spot::Room;
    let bound = if is_room { ", and no place in the enclosure is cooler than its room" } else { "" };
    let says = match hot.severity {
        Severity::Urgent => format!(
            "{what}{bound}: above {} this species overheats, and it has nowhere to cool down.",
            celsius(overheat.value)
        ),
        _ => format!("{what}{bound}; {} is wanted at the cool end.", self::range(range)),
    };
    let does = match (hot.severity, hot.is_past) {
        (Severity::Urgent, _) => COOL_IT,
        (_, true) => "It has cooled since: shade and air the room, and measure the cool end in the hottest hours.",
        (Severity::Act, _) => {
            "Turn the heat down, shade and air the room now, and measure the cool end again in an hour."
        }
        _ if is_room => "Shade and air the room in the hot hours, and measure the cool end of the enclosure.",
        _ => "Turn the heat down or move it further to the warm end, and measure the cool end again tomorrow.",
    };
    let also: Vec<Evidence> =
        climate.picture().into_iter().filter(|one| one.degrees > hot.line.value).map(Felt::record).collect();
    let record = hot.felt.record();
    let records = std::iter::once(record).chain(also.into_iter().filter(|one| *one != record).take(3));
    let finding = Finding::new(Code::CoolSideWarm, hot.severity, RULE.key, says, does).on(records).by(&hot.line, "°C");
    let finding = if Severity::Act <= hot.severity { finding.caution("overheating") } else { finding };
    Some(Candidate { finding, rank: if hot.severity == Severity::Urgent { 0 } else { 1 } })
}

#[cfg(test)]
mod tests {
    use super::super::tests::{at, on_an_evening, read, severity, told};
    use super::*;
    use crate::answer::Severity::{Act, Urgent, Watch};

    #[test]
    fn a_surface_burns_from_43_degrees_and_has_a_limit_below() {
        // corn snake: 30 to 32 °C wanted, 35 °C the limit
        for (degrees, expected) in [
            ("32", None),
            ("32.5", None),
            ("32.6", Some(Watch)),
            ("35", Some(Watch)),
            ("35.5", Some(Watch)),
            ("35.6", Some(Act)),
            ("42.9", Some(Act)),
            ("43", Some(Urgent)),
            ("48", Some(Urgent)),
        ] {
            let lines = [format!("warm-surface 14:00 {degrees}"), "cool-air 14:00 23".to_owned()];
            let answer = on_an_evening("corn_snake", &read(&lines.each_ref().map(String::as_str)));
            assert_eq!(severity(&answer, Code::WarmSurfaceHot), expected, "{degrees} °C");
        }
    }

    #[test]
    fn above_the_limit_with_no_cooler_place_is_urgent() {
        for (cool, expected) in [("23", Act), ("34.9", Act), ("35", Urgent)] {
            let lines = ["warm-surface 14:00 36".to_owned(), format!("cool-air 14:00 {cool}")];
            let answer = on_an_evening("corn_snake", &read(&lines.each_ref().map(String::as_str)));
            let worst = told(&answer).into_iter().map(|(_, severity)| severity).max();
            assert_eq!(worst, Some(expected), "cool side at {cool} °C");
        }
    }

    #[test]
    fn a_hot_hide_or_cool_surface_burns_too() {
        for spot in ["hide", "cool-surface", "humid-hide", "water"] {
            let answer = on_an_evening("corn_snake", &read(&[&format!("{spot} 14:00 44")]));
            assert_eq!(severity(&answer, Code::WarmSurfaceHot), Some(Urgent), "{spot}");
        }
    }

    #[test]
    fn what_was_hot_and_has_cooled_counts_one_step_less() {
        for (lines, expected) in [
            (&["warm-surface 12:00 44", "warm-surface 15:00 31"][..], Some(Act)),
            (&["warm-surface 12:00 36", "warm-surface 15:00 31"], Some(Watch)),
            (&["warm-surface 12:00 33", "warm-surface 15:00 31"], None),
            (&["warm-surface 12:00 31", "warm-surface 15:00 44"], Some(Urgent)),
            // A cool night says nothing of the day.
            (&["warm-surface 2027-04-05T14:00 44", "warm-surface 03:00 25 night"], Some(Urgent)),
            // A maximum stands for its whole span.
            (&["warm-surface 12:00 44 means=maximum hours=12", "warm-surface 15:00 31"], Some(Urgent)),
            // Two days older than the newest of its place it is past.
            (&["warm-surface 2027-04-04T12:00 44", "warm-surface 15:00 31"], None),
        ] {
            let answer = on_an_evening("corn_snake", &read(lines));
            assert_eq!(severity(&answer, Code::WarmSurfaceHot), expected, "{lines:?}");
        }
    }

    #[test]
    fn warm_air_above_its_range_and_above_the_line_of_the_species() {
        // ball python: 29 to 31 °C wanted, 36 °C the line
        for (warm, cool, expected) in [
            ("31.5", Some("25"), None),
            ("31.6", Some("25"), Some(Watch)),
            ("34", Some("25"), Some(Watch)),
            ("34.1", Some("25"), Some(Act)),
            ("36.1", Some("25"), Some(Act)),
            ("36", None, Some(Act)),
            ("36.1", None, Some(Urgent)),
        ] {
            let mut lines = vec![format!("warm-air 14:00 {warm}")];
            lines.extend(cool.map(|cool| format!("cool-air 14:00 {cool}")));
            let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
            let answer = on_an_evening("ball_python", &read(&lines));
            assert_eq!(severity(&answer, Code::WarmAirHot), expected, "{lines:?}");
            assert_eq!(answer.hold(Action::OfferMeal).is_some(), expected == Some(Urgent), "{lines:?}");
        }
    }

    #[test]
    fn the_coolest_place_decides_whether_it_can_save_itself() {
        // rainbow boa: cool end 23 to 25 °C, warm end 26 to 29 °C, line 33 °C
        for (cool, expected) in [
            ("25.5", None),
            ("25.6", Some(Watch)),
            ("29", Some(Watch)),
            ("29.1", Some(Act)),
            ("33", Some(Act)),
            ("33.1", Some(Urgent)),
        ] {
            let answer = on_an_evening("Epicrates cenchria", &read(&[&format!("cool-air 14:00 {cool}")]));
            assert_eq!(severity(&answer, Code::CoolSideWarm), expected, "cool side at {cool} °C");
            for action in [Action::OfferMeal, Action::Handle] {
                assert_eq!(answer.hold(action).is_some(), expected == Some(Urgent), "{action} at {cool} °C");
            }
        }
    }

    #[test]
    fn a_hot_room_counts_unless_the_enclosure_is_known_to_be_cooler() {
        let alone = on_an_evening("rubber boa", &read(&["room 15:00 33"]));
        assert_eq!(told(&alone), [(Code::CoolSideWarm, Urgent)]);
        let cooler = on_an_evening("rubber boa", &read(&["room 15:00 33", "cool-air 15:00 20"]));
        assert_eq!(told(&cooler), []);
        let mild = on_an_evening("rubber boa", &read(&["room 15:00 20"]));
        assert_eq!(told(&mild), []);
    }

    #[test]
    fn one_cause_is_one_finding_with_the_other_places_as_its_records() {
        let all =
            on_an_evening("rubber boa", &read(&["warm-surface 15:00 34", "warm-air 15:00 34", "cool-air 15:00 33"]));
        assert_eq!(told(&all), [(Code::CoolSideWarm, Urgent)]);
        assert_eq!(all.finding(Code::CoolSideWarm).unwrap().records.len(), 3);
        let burns =
            on_an_evening("rubber boa", &read(&["warm-surface 15:00 45", "warm-air 15:00 34", "cool-air 15:00 33"]));
        assert_eq!(
            told(&burns),
            [(Code::WarmSurfaceHot, Urgent), (Code::CoolSideWarm, Urgent)],
            "a burn is a danger of its own"
        );
    }

    #[test]
    fn an_animal_that_is_missing_or_dead_is_not_in_that_heat() {
        for sign in ["missing", "dead"] {
            let more =
                format!("{}[[sign]]\nat = \"2027-04-06T08:00\"\nsign = \"{sign}\"\n", read(&["warm-surface 14:00 50"]));
            assert_eq!(told(&on_an_evening("corn_snake", &more)), [], "{sign}");
        }
    }

    #[test]
    fn old_readings_no_longer_speak() {
        let hot = read(&["warm-surface 14:00 50"]);
        assert!(!told(&at("2027-04-13T12:00", "corn_snake", &hot)).is_empty());
        assert!(told(&at("2027-04-13T15:00", "corn_snake", &hot)).is_empty());
    }
}
