//! Thermometers that disagree, stand still or fall silent.

use records::facts::{Means, Reading, Spot};
use records::timeline::Entry;

use super::heaters::probe_spot;
use super::readings::{Climate, Felt, Time, capital, is_home, place};
use crate::answer::{Code, Finding, Severity, Sure, Task};
use crate::draft::{Draft, seen, undated};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, celsius, number};

/// Two thermometers at one place agree.
pub const AGREE: Rule = Rule {
    key: "probes-agree",
    says: "What the thermostat's probe and a thermometer show at the same place, or two thermometers, lies within 2 °C.",
    because: "One of them is wrong, and until it is known which, the hotter one counts for alarms.",
    sources: &["probes_apart"],
    check: agree,
};
/// A sensor that stands still.
pub const FLAT: Rule = Rule {
    key: "sensor-flat",
    says: "A sensor that shows one and the same figure by day and by night for a whole day may be dead.",
    because: "A dead sensor looks like a perfect climate.",
    sources: &["sensor_flat", "sensor_flat_readings"],
    check: flat,
};
/// A sensor that fell silent.
pub const GAP: Rule = Rule {
    key: "sensor-gap",
    says: "A sensor that reads often and has sent nothing for hours has stopped.",
    because: "While it is silent nobody sees the heat fail.",
    sources: &["sensor_gap"],
    check: gap,
};

fn agree(view: &View<'_>, draft: &mut Draft) {
    let climate = Climate::of(view);
    let Some((one, other)) = apart(view, &climate) else { return };
    let (line, far) = (lines::low("probes_apart"), lines::high("probes_apart"));
    let off = (one.degrees - other.degrees).abs();
    let by_probe = one.spot() == Spot::ControlProbe;
    let severity = if by_probe && far.value <= off { Severity::Act } else { Severity::Watch };
    let line = if severity == Severity::Act { far } else { line };
    let says = if by_probe {
        format!(
            "The thermostat's probe showed {} and {} {}: {} apart, and the hotter one counts until it is known which is right.",
            celsius(one.degrees),
            place(other.spot()),
            celsius(other.degrees),
            celsius(off)
        )
    } else {
        format!(
            "Two readings of {} within the hour were {} and {}: {} apart, and the hotter one counts until it is known which is right.",
            place(one.spot()),
            celsius(one.degrees),
            celsius(other.degrees),
            celsius(off)
        )
    };
    let does = "Fix the probe again where the animal can touch it, lay a second thermometer beside it for an hour, and check both in ice water, where they show 0 °C.";
    let why = "Two thermometers disagree: compare them at one place.";
    draft.due(Task::ThermostatTest, AGREE.key, why, view.today(), None, vec![one.record(), other.record()]);
    let heaters = view.case.heaters.iter().filter(|_| by_probe).take(1).map(|heater| undated(heater.key));
    draft.find(
        Finding::new(Code::ProbeDisagreement, severity, AGREE.key, says, does)
            .on([one.record(), other.record()])
            .on(heaters)
            .by(&line, "°C")
            .caution("sensors"),
    );
}

/// The first pair that disagrees: the thermostat's probe with a thermometer at its place, else two single looks at one
/// place.
fn apart<'c, 'v>(view: &View<'_>, climate: &'c Climate<'v>) -> Option<(&'c Felt<'v>, &'c Felt<'v>)> {
    let least = lines::low("probes_apart").value;
    let together_h = lines::low("readings_together").value;
    let close = |a: &Felt<'v>, b: &Felt<'v>| a.at.hours_since(b.at).abs() <= together_h;
    let far = |a: &Felt<'v>, b: &Felt<'v>| least <= (a.degrees - b.degrees).abs();
    let placed = view.case.heaters.iter().any(|heater| heater.probe.is_some());
    let spots: Vec<Spot> = view.case.heaters.iter().filter_map(|heater| probe_spot(heater)).collect();
    // Where no place is told, the probe is taken to lie at the warm surface.
    let at_probe =
        |spot: Spot| if placed || !spots.is_empty() { spots.contains(&spot) } else { spot == Spot::WarmSurface };
    let any = [Time::Day, Time::Night, Time::Both];
    if let Some(probe) = climate.newest(Spot::ControlProbe, &any) {
        let beside = climate.felt.iter().filter(|one| at_probe(one.spot()) && close(probe, one));
        // A probe under the floor is hotter than the surface above it; a surface hotter than that probe is not right.
        let under = placed && spots.is_empty();
        let surfaces = climate.felt.iter().filter(|one| under && one.spot() == Spot::WarmSurface && close(probe, one));
        let hotter = surfaces.filter(|one| probe.degrees < one.degrees);
        if let Some(other) = beside.chain(hotter).find(|other| far(probe, other)) {
            return Some((probe, other));
        }
    }
    /// Two looks at one place that are this close in time are two thermometers, not a change.
    const AT_ONCE_H: f64 = 0.25;
    let is_look = |one: &&Felt<'v>| one.entry.means == Means::SpotCheck && one.entry.at.has_hour();
    let looks: Vec<&Felt<'v>> = climate.felt.iter().filter(is_look).collect();
    looks.iter().enumerate().find_map(|(index, one)| {
        let before = looks.get(index + 1..)?.iter().take_while(|other| one.at.hours_since(other.at) <= AT_ONCE_H);
        let twin = before.into_iter().find(|other| other.spot() == one.spot() && far(one, other));
        twin.map(|other| (*one, *other))
    })
}

fn flat(view: &View<'_>, draft: &mut Draft) {
    if !is_home(view) {
        return;
    }
    let (span, least) = (lines::low("sensor_flat"), lines::low("sensor_flat_readings").value);
    let climate = Climate::of(view);
    for spot in measured_spots(&climate) {
        let of_spot: Vec<&Felt<'_>> = climate.felt.iter().filter(|one| one.spot() == spot).collect();
        let Some(newest) = of_spot.first() else { continue };
        let alike: Vec<&Felt<'_>> = of_spot.iter().copied().take_while(|one| one.degrees == newest.degrees).collect();
        let Some(oldest) = alike.last() else { continue };
        let long_enough = span.value <= newest.at.hours_since(oldest.at);
        let has = |time| alike.iter().any(|one| one.time == time);
        if (alike.len() as f64) < least || !long_enough || !has(Time::Day) || !has(Time::Night) {
            continue;
        }
        let says = format!(
            "{} has shown {} {} times in a row since {}, by day and by night.",
            capital(place(spot)),
            celsius(newest.degrees),
            alike.len(),
            view.date_of(oldest.entry.at)
        );
        let does = "Measure beside it with another thermometer; if they differ, change its battery or replace it.";
        let records = [newest.record(), oldest.record()];
        draft.find(
            Finding::new(Code::SensorFlat, Severity::Watch, FLAT.key, says, does)
                .on(records)
                .by(&span, "h")
                .caution("sensors")
                .sure(Sure::Likely),
        );
    }
}

fn measured_spots(climate: &Climate<'_>) -> Vec<Spot> {
    let mut spots: Vec<Spot> = climate.felt.iter().map(Felt::spot).collect();
    spots.sort();
    spots.dedup();
    spots
}

fn gap(view: &View<'_>, draft: &mut Draft) {
    /// So many readings in a row show how often a sensor reads.
    const READINGS: usize = 12;
    if !is_home(view) {
        return;
    }
    let (often, silent) = (lines::low("sensor_gap"), lines::high("sensor_gap"));
    let since = view.now.plus_days(-lines::high("readings_stand").value);
    let recent: Vec<&Entry<Reading>> = view.line.readings.iter().rev().take_while(|one| since <= one.at.to).collect();
    let mut spots: Vec<Spot> = recent.iter().map(|one| one.spot).collect();
    spots.sort();
    spots.dedup();
    for spot in spots {
        let last: Vec<&Entry<Reading>> =
            recent.iter().copied().filter(|one| one.spot == spot && one.at.has_hour()).take(READINGS).collect();
        let (Some(newest), Some(oldest)) = (last.first(), last.last()) else { continue };
        let every_h = newest.at.from.hours_since(oldest.at.from) / (READINGS - 1) as f64;
        let silent_h = view.now.hours_since(newest.at.from);
        if last.len() < READINGS || often.value < every_h || silent_h < silent.value {
            continue;
        }
        let says = format!(
            "{} was read about every {} h until {}, and for {:.0} h nothing has come.",
            capital(place(spot)),
            number(every_h),
            view.date_of(newest.at),
            silent_h
        );
        let does = "Look at the enclosure's thermometer now, then at the sensor's battery and its connection.";
        draft.find(
            Finding::new(Code::SensorGap, Severity::Watch, GAP.key, says, does)
                .on([seen(newest)])
                .by(&silent, "h")
                .caution("sensors"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{at, on_an_evening, read, severity};
    use super::*;
    use crate::answer::Severity::{Act, Watch};

    const MAT: &str = "[[heater]]\nkind = \"mat\"\nthermostat = \"on-off\"\n";

    #[test]
    fn two_thermometers_at_one_place_agree() {
        for (lines, expected) in [
            (&["control-probe 14:00 31", "warm-surface 14:10 32.9"][..], None),
            (&["control-probe 14:00 31", "warm-surface 14:10 33"], Some(Watch)),
            (&["control-probe 14:00 31", "warm-surface 14:10 29"], Some(Watch)),
            (&["control-probe 14:00 31", "warm-surface 14:10 36"], Some(Act)),
            (&["control-probe 12:00 31", "warm-surface 14:10 36"], None),
            (&["control-probe 14:00 31", "warm-air 14:10 28"], None),
            (&["control-probe 14:00 31"], None),
            (&["warm-surface 14:00 31", "warm-surface 14:10 33"], Some(Watch)),
            (&["warm-surface 14:00 31", "warm-surface 15:10 33"], None),
        ] {
            let answer = on_an_evening("corn_snake", &format!("{}{MAT}", read(lines)));
            assert_eq!(severity(&answer, Code::ProbeDisagreement), expected, "{lines:?}");
        }
    }

    #[test]
    fn the_place_of_the_probe_is_compared_where_it_is_told() {
        let lines = read(&["control-probe 14:00 29", "warm-surface 14:00 33", "warm-air 14:00 29"]);
        let probe = |place: &str| format!("{lines}{MAT}probe = \"{place}\"\n");
        let said = |place: &str| on_an_evening("corn_snake", &probe(place)).finding(Code::ProbeDisagreement).is_some();
        assert!(!said("warm-air"));
        assert!(said("warm-surface"));
        assert!(said("between-mat-and-floor"), "no floor is hotter than the mat under it");
        let under = lines.replace(
            "temperature_c = 29\n[[reading]]\nat = \"2027-04-06T14:00\"\nspot = \"warm-surface\"",
            "temperature_c = 38\n[[reading]]\nat = \"2027-04-06T14:00\"\nspot = \"warm-surface\"",
        );
        let cooler = on_an_evening("corn_snake", &format!("{under}{MAT}probe = \"between-mat-and-floor\"\n"));
        assert!(cooler.finding(Code::ProbeDisagreement).is_none(), "the floor above a mat is cooler");
    }

    fn every(hours: f64, count: u32, degrees: impl Fn(u32) -> f64) -> String {
        let zone = units::Zone::none();
        let last = crate::testing::moment("2027-04-06T12:00");
        let one = |i: u32| format!("warm-air {} {}", zone.write(last.plus_hours(-hours * f64::from(i))), degrees(i));
        let lines: Vec<String> = (0..count).map(one).collect();
        read(&lines.iter().map(String::as_str).collect::<Vec<_>>())
    }

    #[test]
    fn a_sensor_that_stands_still() {
        for (what, readings, said) in [
            ("a whole day, day and night", every(3.0, 9, |_| 28.0), true),
            ("not yet a day", every(3.0, 8, |_| 28.0), false),
            ("too few", every(6.0, 7, |_| 28.0), false),
            ("it moved", every(3.0, 9, |i| if i == 4 { 28.1 } else { 28.0 }), false),
            ("once a day", every(24.0, 8, |_| 28.0), false),
        ] {
            assert_eq!(on_an_evening("corn_snake", &readings).finding(Code::SensorFlat).is_some(), said, "{what}");
        }
    }

    #[test]
    fn a_sensor_that_fell_silent() {
        let often = every(1.0, 24, |i| 28.0 + f64::from(i) / 10.0);
        let seldom = every(4.0, 24, |i| 28.0 + f64::from(i) / 10.0);
        for (now, readings, said) in [
            ("2027-04-06T17:59", &often, false),
            ("2027-04-06T18:00", &often, true),
            ("2027-04-06T18:00", &seldom, false),
        ] {
            assert_eq!(at(now, "corn_snake", readings).finding(Code::SensorGap).is_some(), said, "{now}");
        }
    }
}
