//! Heaters: on a thermostat, guarded, of a kind that does not burn, with the probe where it belongs.

use records::facts::{Heater, HeaterKind, Means, Probe, Spot, Thermostat};
use records::timeline::Entry;

use super::readings::{Climate, Felt, Time, measured};
use crate::answer::{Code, Finding, Severity, Sure, Task};
use crate::draft::{Draft, undated};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, celsius};

/// Every heater has a thermostat.
pub const THERMOSTAT: Rule = Rule {
    key: "thermostat",
    says: "Every heater runs on its own thermostat.",
    because: "What is right today is too hot on the first warm day, and nothing stops it.",
    sources: &["thermostat"],
    check: thermostat,
};
/// Every heater inside is guarded.
pub const GUARD: Rule = Rule {
    key: "heater-guard",
    says: "Every lamp, emitter and panel inside is guarded.",
    because: "A snake climbs to the heat, lies on it and stays until it burns.",
    sources: &["heater_guard"],
    check: guard,
};
/// No heated stones.
pub const KIND: Rule = Rule {
    key: "heater-kind",
    says: "No heated stones.",
    because: "They burn from below while the air stays cool.",
    sources: &["heater_rock"],
    check: kind,
};
/// The probe lies where the animal can touch.
pub const PROBE: Rule = Rule {
    key: "probe-place",
    says: "The probe of a thermostat is fixed at the warm end, where the animal can touch.",
    because: "A probe that lies elsewhere drives the warm end as hot as the heater can.",
    sources: &["probe_place"],
    check: probe,
};
/// The place of the probe stands at the set point.
pub const SET_POINT: Rule = Rule {
    key: "set-point",
    says: "What is measured at the place of the probe stands near the set point.",
    because: "A thermostat that sticks, or a probe that slipped, shows here first.",
    sources: &["set_point_off"],
    check: set_point,
};

fn named(heater: &Heater) -> &'static str {
    match heater.kind {
        HeaterKind::Mat => "heat mat",
        HeaterKind::Cable => "heating cable",
        HeaterKind::Ceramic => "ceramic heater",
        HeaterKind::Panel => "heating panel",
        HeaterKind::Lamp => "heat lamp",
        HeaterKind::Rock => "heated stone",
        HeaterKind::Room => "heater of the room",
        HeaterKind::Other => "heater",
    }
}

fn thermostat(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() {
        return;
    }
    for heater in view.case.heaters.iter().filter(|heater| heater.thermostat == Some(Thermostat::None)) {
        let (severity, does) = if heater.kind == HeaterKind::Room {
            (Severity::Watch, "Put it on a thermostat, and an alarm on the temperature of the room.")
        } else {
            (
                Severity::Act,
                "Put it on a thermostat today, with the probe fixed where the animal can touch, or switch it off while nobody watches it.",
            )
        };
        let says = format!("The {} has no thermostat: nothing limits it when the room gets warmer.", named(heater));
        draft.find(
            Finding::new(Code::HeaterWithoutThermostat, severity, THERMOSTAT.key, says, does)
                .on([undated(heater.key)])
                .from(lines::source("thermostat"))
                .caution("heat-and-fire"),
        );
    }
}

fn guard(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() {
        return;
    }
    let reachable = |heater: &&Entry<Heater>| heater.guarded == Some(false) && heater.inside != Some(false);
    for heater in view.case.heaters.iter().filter(reachable) {
        let severity = match heater.kind {
            HeaterKind::Room => continue,
            // A panel is wide and not so hot; the others burn within minutes.
            HeaterKind::Panel => Severity::Watch,
            _ => Severity::Act,
        };
        let sure = if heater.inside == Some(true) { Sure::Firm } else { Sure::Likely };
        let says = format!("The {} is inside without a guard: the animal can reach it and lie on it.", named(heater));
        let does = "Fit a guard today, with a mesh that does not get hot and no way in, or move the heater outside.";
        draft.find(
            Finding::new(Code::HeaterUnguarded, severity, GUARD.key, says, does)
                .on([undated(heater.key)])
                .from(lines::source("heater_guard"))
                .caution("burns")
                .sure(sure),
        );
    }
}

fn kind(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() {
        return;
    }
    for heater in view.case.heaters.iter().filter(|heater| heater.kind == HeaterKind::Rock) {
        let says = "It is heated by a stone, which burns from below while the air stays cool.";
        let does = "Take it out today and heat one end of the enclosure instead, on a thermostat.";
        draft.find(
            Finding::new(Code::HeaterWrongKind, Severity::Act, KIND.key, says, does)
                .on([undated(heater.key)])
                .from(lines::source("heater_rock"))
                .caution("burns"),
        );
    }
}

fn probe(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() {
        return;
    }
    for heater in view.case.heaters.iter().filter(|heater| is_controlled(heater)) {
        let (severity, why) = match heater.probe {
            Some(Probe::Loose) => (Severity::Act, "is not fixed: moved or lifted, it lets the heater run"),
            Some(Probe::Outside) => {
                (Severity::Act, "lies outside the enclosure and does not feel what the animal feels")
            }
            Some(Probe::At(Spot::Room | Spot::Outdoors)) if heater.kind != HeaterKind::Room => {
                (Severity::Act, "lies outside the enclosure and does not feel what the animal feels")
            }
            Some(Probe::At(Spot::CoolAir | Spot::CoolSurface | Spot::Water | Spot::HumidHide)) => {
                (Severity::Act, "lies at a cool place, so the warm end gets as hot as the heater can make it")
            }
            Some(Probe::BetweenMatAndFloor) => (
                Severity::Note,
                "lies under the floor: it limits the mat and does not show the surface that the animal touches",
            ),
            _ => continue,
        };
        let says = format!("The probe of the {}'s thermostat {why}.", named(heater));
        let does = match severity {
            Severity::Note => {
                "Measure the surface above the mat with another thermometer, and set the thermostat by that."
            }
            _ => {
                "Fix the probe at the warm end where the animal can touch it, measure beside it, and set the thermostat anew."
            }
        };
        draft.find(
            Finding::new(Code::ProbeMisplaced, severity, PROBE.key, says, does)
                .on([undated(heater.key)])
                .from(lines::source("probe_place"))
                .caution("sensors"),
        );
    }
}

fn is_controlled(heater: &Heater) -> bool {
    heater.thermostat.is_some_and(|kind| kind != Thermostat::None)
}

/// Where the probe of a heater lies; unless it is told, under a mat or a cable at the warm surface.
pub(super) fn probe_spot(heater: &Heater) -> Option<Spot> {
    match heater.probe {
        Some(Probe::At(spot)) => Some(spot),
        Some(_) => None,
        None => matches!(heater.kind, HeaterKind::Mat | HeaterKind::Cable).then_some(Spot::WarmSurface),
    }
}

fn set_point(view: &View<'_>, draft: &mut Draft) {
    let climate = Climate::of(view);
    let (watch, act) = (lines::low("set_point_off"), lines::high("set_point_off"));
    for heater in view.case.heaters.iter().filter(|heater| is_controlled(heater)) {
        let (Some(set_c), Some(spot)) = (heater.set_c, probe_spot(heater)) else { continue };
        // A set point may be lower by night and the heat is off in a power cut: what is too cool is asked by day only.
        let own = climate.newest(Spot::ControlProbe, &[Time::Day, Time::Night, Time::Both]);
        let there = climate.newest(spot, &[Time::Day]).or_else(|| climate.newest(spot, &[Time::Night, Time::Both]));
        let is_off = |felt: &&Felt<'_>| {
            let over = felt.degrees - set_c;
            let too_cool = watch.value <= -over && felt.time == Time::Day && felt.entry.means != Means::Minimum;
            !felt.in_cut && (watch.value <= over || too_cool)
        };
        // While its own probe is at the set point, a warm place that is not is a matter of the probe.
        if own.is_some_and(|own| (own.degrees - set_c).abs() < watch.value) {
            continue;
        }
        let Some(felt) = own.filter(is_off).or_else(|| there.filter(is_off)) else { continue };
        let off = felt.degrees - set_c;
        // A room as warm as that explains it.
        if 0.0 < off && climate.room().is_some_and(|room| felt.degrees - watch.value < room.degrees) {
            continue;
        }
        let severity = if act.value <= off { Severity::Act } else { Severity::Watch };
        let line = if severity == Severity::Act { &act } else { &watch };
        let way = if 0.0 < off { "above" } else { "below" };
        let says = format!(
            "{}, {} {way} the set point of {} of the {}'s thermostat.",
            measured(view, felt),
            celsius(off.abs()),
            celsius(set_c),
            named(heater)
        );
        let does = if 0.0 < off {
            "Look where the probe lies, turn the set point down and see whether the heater goes off; if it does not, unplug it and replace the thermostat."
        } else {
            "Look whether the heater gets power and where the probe lies, and measure again in two hours."
        };
        let why = "What is measured does not follow the set point: test thermostat and probe.";
        draft.due(Task::ThermostatTest, SET_POINT.key, why, view.today(), None, vec![felt.record()]);
        draft.find(
            Finding::new(Code::ThermostatFaultSuspected, severity, SET_POINT.key, says, does)
                .on([felt.record(), undated(heater.key)])
                .by(line, "°C")
                .caution("heat-and-fire")
                .sure(Sure::Possible),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{at, on_an_evening, read, severity};
    use super::*;
    use crate::answer::Severity::{Act, Note, Watch};

    fn heater(lines: &str) -> String {
        format!("[[heater]]\n{}\n", lines.replace(", ", "\n"))
    }

    #[test]
    fn every_heater_has_a_thermostat() {
        for (lines, expected) in [
            ("kind = \"mat\", thermostat = \"none\"", Some(Act)),
            ("kind = \"room\", thermostat = \"none\"", Some(Watch)),
            ("kind = \"mat\", thermostat = \"on-off\"", None),
            ("kind = \"mat\"", None),
        ] {
            let answer = on_an_evening("corn_snake", &heater(lines));
            assert_eq!(severity(&answer, Code::HeaterWithoutThermostat), expected, "{lines}");
        }
    }

    #[test]
    fn every_heater_inside_is_guarded() {
        for (lines, expected) in [
            ("kind = \"lamp\", inside = true, guarded = false", Some(Act)),
            ("kind = \"ceramic\", guarded = false", Some(Act)),
            ("kind = \"panel\", inside = true, guarded = false", Some(Watch)),
            ("kind = \"lamp\", inside = false, guarded = false", None),
            ("kind = \"lamp\", inside = true, guarded = true", None),
            ("kind = \"lamp\", inside = true", None),
            ("kind = \"room\", guarded = false", None),
        ] {
            assert_eq!(
                severity(&on_an_evening("corn_snake", &heater(lines)), Code::HeaterUnguarded),
                expected,
                "{lines}"
            );
        }
    }

    #[test]
    fn no_heated_stones() {
        for (kind, expected) in [("rock", Some(Act)), ("mat", None)] {
            let answer = on_an_evening("corn_snake", &heater(&format!("kind = \"{kind}\", thermostat = \"pulse\"")));
            assert_eq!(severity(&answer, Code::HeaterWrongKind), expected, "{kind}");
        }
    }

    #[test]
    fn the_probe_lies_where_the_animal_can_touch() {
        for (probe, expected) in [
            ("loose", Some(Act)),
            ("outside", Some(Act)),
            ("room", Some(Act)),
            ("cool-air", Some(Act)),
            ("water", Some(Act)),
            ("between-mat-and-floor", Some(Note)),
            ("warm-surface", None),
            ("warm-air", None),
            ("hide", None),
        ] {
            let lines = format!("kind = \"mat\", thermostat = \"on-off\", probe = \"{probe}\"");
            assert_eq!(
                severity(&on_an_evening("corn_snake", &heater(&lines)), Code::ProbeMisplaced),
                expected,
                "{probe}"
            );
        }
        let of_room = heater("kind = \"room\", thermostat = \"on-off\", probe = \"room\"");
        assert_eq!(
            severity(&on_an_evening("corn_snake", &of_room), Code::ProbeMisplaced),
            None,
            "a heater of the room"
        );
    }

    #[test]
    fn the_place_of_the_probe_stands_at_the_set_point() {
        let mat = "kind = \"mat\", thermostat = \"on-off\", set_c = 31";
        let panel = "kind = \"panel\", thermostat = \"pulse\", set_c = 29, probe = \"warm-air\"";
        for (lines, readings, expected) in [
            (mat, &["warm-surface 14:00 33.9"][..], None),
            (mat, &["warm-surface 14:00 34"], Some(Watch)),
            (mat, &["warm-surface 14:00 36"], Some(Act)),
            (mat, &["warm-surface 14:00 28"], Some(Watch)),
            (mat, &["warm-surface 03:00 26 night"], None),
            (mat, &["warm-air 14:00 27"], None),
            (mat, &["warm-surface 14:00 34", "room 14:00 33"], None),
            (panel, &["warm-surface 14:00 33", "warm-air 14:00 29"], None),
            (panel, &["warm-air 14:00 34"], Some(Act)),
            ("kind = \"mat\", thermostat = \"on-off\"", &["warm-surface 14:00 36"], None),
        ] {
            let answer = on_an_evening("corn_snake", &format!("{}{}", read(readings), heater(lines)));
            assert_eq!(severity(&answer, Code::ThermostatFaultSuspected), expected, "{lines} {readings:?}");
            assert_eq!(answer.due(Task::ThermostatTest).is_some(), expected.is_some(), "{lines} {readings:?}");
        }
    }

    #[test]
    fn in_a_power_cut_no_heater_reaches_its_set_point() {
        let mat = heater("kind = \"mat\", thermostat = \"on-off\", set_c = 31");
        let out = "[[power]]\nfrom = \"2027-04-06T08:00\"\n";
        let answer = at("2027-04-06T15:00", "corn_snake", &format!("{}{mat}{out}", read(&["warm-surface 14:00 22"])));
        assert_eq!(severity(&answer, Code::ThermostatFaultSuspected), None);
    }
}
