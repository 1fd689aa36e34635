//! Skin that is scorched, blistered, red or peeling: from heat or from wet.

use records::facts::{HeaterKind, Reading, SignKind, Spot, Thermostat};
use records::timeline::Entry;

use crate::answer::{Code, Evidence, Severity, Sure};
use crate::draft::{Draft, seen, undated};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::rules::shed::tail_tip_still_on;
use crate::signs::{Signs, Standing, Told};
use crate::view::{View, celsius};

/// Burns are urgent; blisters and red scales without heat to blame are for a veterinarian and a dry floor.
pub const RULE: Rule = Rule {
    key: "burnt-or-wet-skin",
    says: "Scorched scales, or blisters where something is hot enough to burn: a veterinarian now. Blisters, red or changed scales without that: a veterinarian in a day or two, and a dry floor.",
    because: "A snake does not move away from a surface that burns it, and skin on a wet floor breaks down.",
    sources: &["burns", "surface_urgent"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let signs = Signs::of(view);
    let scorched = signs.of_code(Code::Burn);
    let mut skin = signs.of_code(Code::SkinBlister);
    if tail_tip_still_on(view) {
        // A changed tip behind a ring of old skin is told with the ring.
        skin.retain(|one| one.sign != SignKind::ChangedScales);
    }
    let (from_heat, other): (Vec<&Standing<'_>>, Vec<&Standing<'_>>) =
        skin.into_iter().partition(|one| one.sign != SignKind::ChangedScales);
    let wet = wet(view);
    let heat = hot(view).or_else(|| touching_heat(view).filter(|_| wet.is_none() && signs.has(SignKind::Blister)));
    let burnt: Vec<&Standing<'_>> = if heat.is_some() || !scorched.is_empty() {
        scorched.iter().chain(&from_heat).copied().collect()
    } else {
        Vec::new()
    };

    if let Some(mut told) = Told::of(view, Code::Burn, &burnt) {
        if scorched.is_empty() {
            told.sure(Sure::Likely);
        }
        if let Some(heat) = &heat {
            told.beside(heat.says.clone());
            told.on(heat.record);
        }
        told.severity = Severity::Urgent;
        told.does("Switch off the heat it lay on, cool the place with cool running water for 10 to 15 minutes, put nothing on it, and call a reptile veterinarian now.");
        told.caution("burns");
        told.from(lines::source("burns"));
        draft.find(told.finding(RULE.key));
    }
    let rest: Vec<&Standing<'_>> =
        if burnt.is_empty() { from_heat.iter().chain(&other).copied().collect() } else { other };
    if let Some(mut told) = Told::of(view, Code::SkinBlister, &rest) {
        if let Some(wet) = wet {
            let does =
                "Have it seen by a reptile veterinarian within a day or two, and put it on dry clean paper today.";
            if signs.get(SignKind::ChangedScales).is_none_or(|one| one.meaning.severity != Severity::Watch) {
                told.raise(Severity::Vet, wet.says.clone(), does);
            }
            told.on(wet.record);
        }
        draft.find(told.finding(RULE.key));
    }
}

struct Cause {
    says: String,
    record: Option<Evidence>,
}

/// Readings while a sign of this kind stands: heat and wet show on the skin days later.
fn lately<'a>(view: &'a View<'_>, sign: SignKind) -> impl Iterator<Item = &'a Entry<Reading>> {
    let days = crate::signs::meaning(sign, None).and_then(|meaning| meaning.stands_days).unwrap_or_default();
    let since = view.now.plus_days(-days);
    view.line.readings.iter().rev().take_while(move |one| since <= one.at.to)
}

/// Something that burns: a surface read above the limit of its kind, a heater that it can touch and nothing limits.
fn hot(view: &View<'_>) -> Option<Cause> {
    let limit = view
        .profile
        .temperature
        .surface_absolute_max_c
        .first()
        .map_or_else(|| lines::low("surface_general_max").value, |limit| limit.high);
    let inside =
        |spot| matches!(spot, Spot::WarmSurface | Spot::WarmAir | Spot::CoolSurface | Spot::Hide | Spot::HumidHide);
    let hottest = lately(view, SignKind::Blister)
        .filter(|one| inside(one.spot))
        .filter_map(|one| one.temperature_c.map(|degrees| (degrees, one)));
    if let Some((degrees, reading)) = hottest.max_by(|a, b| a.0.total_cmp(&b.0)).filter(|(degrees, _)| limit < *degrees)
    {
        let says = format!("{} was read there, above the {} that its kind bears", celsius(degrees), celsius(limit));
        return Some(Cause { says, record: Some(seen(reading)) });
    }
    view.case.heaters.iter().find_map(|heater| {
        let touchable = matches!(heater.kind, HeaterKind::Lamp | HeaterKind::Ceramic)
            && heater.inside == Some(true)
            && heater.guarded != Some(true);
        let says = if heater.kind == HeaterKind::Rock {
            "there is a heated rock"
        } else if touchable {
            "there is a heater inside that it can touch"
        } else if heater.thermostat == Some(Thermostat::None) {
            "there is a heater that no thermostat limits"
        } else {
            return None;
        };
        Some(Cause { says: says.to_owned(), record: Some(undated(heater.key)) })
    })
}

/// A heater on which it lies, limited or not.
fn touching_heat(view: &View<'_>) -> Option<Cause> {
    let heater = view.case.heaters.iter().find(|heater| matches!(heater.kind, HeaterKind::Mat | HeaterKind::Cable))?;
    Some(Cause {
        says: "it lies on floor heat: measure the floor above it".to_owned(),
        record: Some(undated(heater.key)),
    })
}

/// A wet floor, or air damper than its kind needs even in a shed.
fn wet(view: &View<'_>) -> Option<Cause> {
    if let Some(enclosure) = view.enclosure().filter(|enclosure| enclosure.floor_wet == Some(true)) {
        return Some(Cause { says: "the floor is wet".to_owned(), record: Some(undated(enclosure.key)) });
    }
    let most = view.profile.humidity.shed_pct.first().map(|figure| figure.high)?;
    let open = |spot| !matches!(spot, Spot::HumidHide | Spot::Outdoors | Spot::Room | Spot::Water);
    let damp = lately(view, SignKind::ChangedScales)
        .find(|one| open(one.spot) && one.humidity_pct.is_some_and(|pct| most < pct))?;
    Some(Cause {
        says: format!("the air is damp ({:.0} %)", damp.humidity_pct.unwrap_or_default()),
        record: Some(seen(damp)),
    })
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;

    const HOT: &str = "[[reading]]\nat = \"2027-04-09T12:00\"\nspot = \"warm-surface\"\ntemperature_c = 44\n";
    const RIGHT: &str = "[[reading]]\nat = \"2027-04-09T12:00\"\nspot = \"warm-surface\"\ntemperature_c = 30\n";
    const WET: &str = "[enclosure]\nfloor_wet = true\n";
    const MAT: &str = "[[heater]]\nkind = \"mat\"\nthermostat = \"on-off\"\n";
    const ROCK: &str = "[[heater]]\nkind = \"rock\"\n";

    #[test]
    fn blisters_are_burns_where_something_burns() {
        for (rest, burn, blister) in [
            ("".to_owned(), None, Some(Severity::Vet)),
            (RIGHT.to_owned(), None, Some(Severity::Vet)),
            (HOT.to_owned(), Some(Severity::Urgent), None),
            (ROCK.to_owned(), Some(Severity::Urgent), None),
            (MAT.to_owned(), Some(Severity::Urgent), None),
            (format!("{MAT}{WET}"), None, Some(Severity::Vet)),
            (WET.to_owned(), None, Some(Severity::Vet)),
        ] {
            assert_eq!(with(&[("blister", "")], &rest, Code::Burn), burn, "{rest}");
            assert_eq!(with(&[("blister", "")], &rest, Code::SkinBlister), blister, "{rest}");
        }
    }

    #[test]
    fn scorched_scales_are_a_burn_whatever_was_read() {
        for rest in ["", RIGHT, WET] {
            assert_eq!(
                with(&[("charred-scales", "slight"), ("blister", "")], rest, Code::Burn),
                Some(Severity::Urgent),
                "{rest}"
            );
            assert_eq!(
                with(&[("charred-scales", "slight"), ("blister", "")], rest, Code::SkinBlister),
                None,
                "told once: {rest}"
            );
        }
    }

    #[test]
    fn changed_scales_on_a_wet_floor_are_seen_by_a_veterinarian() {
        for (grade, rest, severity) in [
            ("slight", "", Severity::Watch),
            ("", "", Severity::Act),
            ("", WET, Severity::Vet),
            ("marked", WET, Severity::Vet),
        ] {
            assert_eq!(with(&[("changed-scales", grade)], rest, Code::SkinBlister), Some(severity), "{grade} {rest}");
        }
    }

    #[test]
    fn without_a_sign_heat_burns_nobody() {
        assert_eq!(with(&[], HOT, Code::Burn), None);
    }
}
