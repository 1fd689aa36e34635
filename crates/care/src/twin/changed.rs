//! What makes an enclosure another than the one that was logged.

use records::choice::Choice;
use records::facts::{Enclosure, Heater};

use super::description::strongest_first;
use super::material;

/// In what a box is built, covered or set up otherwise than before, in words that go on from «since then». What was not
/// told before, or is not told now, is no change.
pub fn otherwise(before: &Enclosure, now: &Enclosure) -> Vec<String> {
    let mut changed = Vec::new();
    let mut number = |what: &str, unit: &str, before: Option<f64>, now: Option<f64>| {
        if let (Some(before), Some(now)) = (before, now)
            && 0.01 * before.abs() < (now - before).abs()
        {
            changed.push(format!("{what} is {now} {unit} and was {before} {unit}"));
        }
    };
    number("its length", "cm", before.length_cm, now.length_cm);
    number("its width", "cm", before.width_cm, now.width_cm);
    number("its height", "cm", before.height_cm, now.height_cm);
    number("the thickness of its walls", "mm", before.thickness_mm, now.thickness_mm);
    number("the covered part of its lid", "%", before.lid_covered_pct, now.lid_covered_pct);
    number("the depth of its substrate", "cm", before.substrate_cm, now.substrate_cm);
    let mut word = |what: &str, before: Option<String>, now: Option<String>| {
        if let (Some(before), Some(now)) = (before, now)
            && before != now
        {
            changed.push(format!("{what} is {now} and was {before}"));
        }
    };
    if !is_same(before.material.as_deref(), now.material.as_deref(), |one, two| {
        material::wall(one) == material::wall(two)
    }) {
        word("what it is made of", before.material.clone(), now.material.clone());
    }
    word("its lid", before.lid.map(Choice::words), now.lid.map(Choice::words));
    word("what it stands on", before.stands_on.map(Choice::words), now.stands_on.map(Choice::words));
    if !is_same(before.substrate.as_deref(), now.substrate.as_deref(), |one, two| {
        material::floor(one) == material::floor(two)
    }) {
        word("its substrate", before.substrate.clone(), now.substrate.clone());
    }
    word("its room", before.room.clone(), now.room.clone());
    changed
}

fn is_same(before: Option<&str>, now: Option<&str>, alike: impl Fn(&str, &str) -> bool) -> bool {
    before.zip(now).is_none_or(|(before, now)| alike(before, now))
}

/// Is the main heater of another kind than before? Its watts may be others: a log tells what a watt does.
pub fn other_kind(before: &[Heater], now: &[Heater]) -> Option<String> {
    let kind = |heaters: &[Heater]| strongest_first(heaters).first().map(|one| one.kind);
    match (kind(before), kind(now)) {
        (before, now) if before == now => None,
        (Some(before), Some(now)) => Some(format!("its heater is {} and was {}", now.words(), before.words())),
        (None, Some(now)) => Some(format!("it has a heater, {}", now.words())),
        (_, None) => Some("its heater is gone".to_owned()),
    }
}

/// Are the heaters others than before: in kind, in watts, in or under the box? Thermostats and set points do not matter.
pub fn other_heaters(before: &[Heater], now: &[Heater]) -> Option<String> {
    let (before, now) = (strongest_first(before), strongest_first(now));
    let differ = |one: &Heater, two: &Heater| {
        one.kind != two.kind
            || one.watts.zip(two.watts).is_some_and(|(one, two)| one != two)
            || one.inside.zip(two.inside).is_some_and(|(one, two)| one != two)
    };
    let is_same = before.len() == now.len() && !before.iter().zip(&now).any(|(one, two)| differ(one, two));
    let says = |heaters: &[Heater]| {
        let one = |heater: &Heater| match heater.watts {
            Some(watts) => format!("{} of {watts} W", heater.kind.words()),
            None => heater.kind.words(),
        };
        if heaters.is_empty() { "no heater".to_owned() } else { heaters.iter().map(one).collect::<Vec<_>>().join(", ") }
    };
    (!is_same).then(|| format!("it is heated by {} and was by {}", says(&now), says(&before)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use records::facts::{HeaterKind, Lid, Thermostat};

    fn heater(kind: HeaterKind, watts: f64) -> Heater {
        Heater { watts: Some(watts), ..Heater::of(kind) }
    }

    #[test]
    fn what_changes_how_it_warms_is_told_and_nothing_else_is() {
        let before = Enclosure {
            name: Some("S1".into()),
            room: Some("study".into()),
            length_cm: Some(120.0),
            material: Some("wood".into()),
            lid: Some(Lid::Solid),
            ..Enclosure::default()
        };
        assert_eq!(otherwise(&before, &before), Vec::<String>::new());
        for (now, part) in [
            (Enclosure { length_cm: Some(90.0), ..before.clone() }, "its length is 90 cm and was 120 cm"),
            (Enclosure { material: Some("glass".into()), ..before.clone() }, "made of is glass and was wood"),
            (Enclosure { lid: Some(Lid::Mesh), ..before.clone() }, "its lid is mesh and was solid"),
            (Enclosure { room: Some("cellar".into()), ..before.clone() }, "its room is cellar and was study"),
        ] {
            let told = otherwise(&before, &now);
            assert!(told.len() == 1 && told[0].contains(part), "{told:?}");
        }
        let more_told =
            Enclosure { name: Some("S2".into()), thickness_mm: Some(10.0), walk: Some(3.0), ..before.clone() };
        assert_eq!(otherwise(&before, &more_told), Vec::<String>::new());
    }

    #[test]
    fn another_heater_is_told_and_another_set_point_is_not() {
        let panel = heater(HeaterKind::Panel, 80.0);
        let set = Heater { set_c: Some(32.0), thermostat: Some(Thermostat::Pulse), ..panel.clone() };
        let before = &[panel];
        assert_eq!(other_heaters(before, &[set, heater(HeaterKind::Room, 1_000.0)]), None);
        assert_eq!(other_kind(before, &[heater(HeaterKind::Panel, 60.0)]), None);
        let weaker = other_heaters(before, &[heater(HeaterKind::Panel, 60.0)]);
        assert_eq!(weaker.as_deref(), Some("it is heated by panel of 60 W and was by panel of 80 W"));
        assert!(other_kind(before, &[heater(HeaterKind::Lamp, 80.0)]).is_some());
        assert!(other_heaters(before, &[]).is_some());
    }
}
