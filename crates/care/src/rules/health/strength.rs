//! Weak, listless, limp, motionless, cold.

use records::facts::{Grade, SignKind, Spot};
use species::Climate;
use units::Moment;

use super::tell;
use crate::answer::{Code, Evidence, Severity};
use crate::draft::{Draft, seen};
use crate::lines;
use crate::rules::Rule;
use crate::signs::{Signs, Told};
use crate::view::{View, celsius};

/// Failing strength: a veterinarian; limp, or motionless and cold, now. Nobody is called dead from one look.
pub const RULE: Rule = Rule {
    key: "strength",
    says: "Weak or motionless: a veterinarian; limp, or motionless and cold, or weak after a meal came up: now.",
    because: "A cold snake can look dead and live; a limp one has no time.",
    sources: &["rewarm", "power_alert_tropical", "power_alert_temperate"],
    check,
};

const LOOK_AND_CALL: &str = "Call a reptile veterinarian now and look closely for breath; it is not called dead before it has been warm for hours.";

fn check(view: &View<'_>, draft: &mut Draft) {
    let resting = view.is_brumating();
    tell(view, draft, RULE.key, Code::Lethargy, |told, signs| {
        let still = signs.has(SignKind::Limp) || signs.has(SignKind::NoMovement);
        match cold(view, signs).filter(|_| still && !resting) {
            Some(cold) => {
                told.raise(Severity::Urgent, cold.says, LOOK_AND_CALL);
                told.does(LOOK_AND_CALL);
                told.caution("chilled");
                told.on(cold.records);
            }
            None => after_a_meal_came_up(view, told, signs),
        }
        at_rest(view, told, signs);
    });
}

struct Cold {
    says: String,
    records: Vec<Evidence>,
}

/// Cold by touch, or by a reading of the last hours under the danger line of its kind.
fn cold(view: &View<'_>, signs: &Signs<'_>) -> Option<Cold> {
    if let Some(sign) = signs.get(SignKind::ColdToTouch) {
        return Some(Cold { says: "and cold".to_owned(), records: sign.evidence() });
    }
    let line = match view.profile.climate {
        Climate::Tropical => lines::step("power_alert_tropical", 2),
        Climate::Temperate => lines::step("power_alert_temperate", 1),
    };
    let since = view.now.plus_days(-lines::low("reading_stands").value);
    let inside = |spot| !matches!(spot, Spot::Outdoors | Spot::ControlProbe | Spot::Water);
    let latest = view.line.readings.iter().rev().filter(|one| inside(one.spot)).take_while(|one| since <= one.at.to);
    let (degrees, reading) =
        latest.filter_map(|one| one.temperature_c.map(|degrees| (degrees, one))).max_by(|a, b| a.0.total_cmp(&b.0))?;
    (degrees < line.value).then(|| Cold {
        says: format!("and nowhere warmer than {} around it", celsius(degrees)),
        records: vec![seen(reading)],
    })
}

/// Weak since a meal came up: the red flag.
fn after_a_meal_came_up(view: &View<'_>, told: &mut Told, signs: &Signs<'_>) {
    let Some((meal, up)) = view.last_regurgitation() else { return };
    let rest = lines::group("feed_hold_regurgitation", "default").value;
    let since = |at: Moment| up.from <= at && at.days_since(up.from) <= rest;
    if signs.weak().iter().any(|one| one.records.iter().any(|record| since(record.at.from))) {
        let does = "Call a reptile veterinarian now; water and its own warmth, nothing to eat, and keep what came up cool for the visit.";
        told.raise(Severity::Urgent, format!("since a meal came up on {}", view.date_of(up)), does);
        told.on([seen(meal)]);
    }
}

/// Listless and nothing else, at a time when any snake is: in a shed, with a meal inside, in its winter rest, gravid.
fn at_rest(view: &View<'_>, told: &mut Told, signs: &Signs<'_>) {
    let only_listless = signs
        .of_code(Code::Lethargy)
        .iter()
        .all(|one| one.sign == SignKind::Lethargic && matches!(one.grade, None | Some(Grade::Slight)));
    if !only_listless || Severity::Act < told.severity {
        return;
    }
    let because = if view.is_brumating() {
        "it is in its winter rest"
    } else if view.open_shed().is_some() {
        "it is in a shed"
    } else if has_meal_inside(view) {
        "a meal lies inside"
    } else if view.gravid().is_some() {
        "it is gravid"
    } else {
        return;
    };
    told.lower(Severity::Note, because, "Nothing for now; look again when that is over.");
}

fn has_meal_inside(view: &View<'_>) -> bool {
    let peace = |eaten: &crate::digestion::Eaten| {
        crate::rules::handling::peace_h(eaten).max(eaten.digestion_d.unwrap_or(0.0) * 24.0)
    };
    view.meals.last_eaten().is_some_and(|eaten| eaten.stayed && view.now < eaten.at.to.plus_hours(peace(eaten)))
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;

    const COLD_ROOM: &str = "[[reading]]\nat = \"2027-04-10T12:00\"\nspot = \"warm-air\"\ntemperature_c = 11.9\n";
    const COOL_ROOM: &str = "[[reading]]\nat = \"2027-04-10T12:00\"\nspot = \"warm-air\"\ntemperature_c = 12.0\n";

    #[test]
    fn how_grave_failing_strength_is() {
        for (signs, rest, severity) in [
            (&[("lethargic", "slight")][..], "", Severity::Watch),
            (&[("lethargic", "")], "", Severity::Act),
            (&[("lethargic", "marked")], "", Severity::Vet),
            (&[("weak", "")], "", Severity::Vet),
            (&[("limp", "slight")], "", Severity::Vet),
            (&[("limp", "")], "", Severity::Urgent),
            (&[("no-movement", "severe")], "", Severity::Vet),
            (&[("no-movement", ""), ("cold-to-touch", "")], "", Severity::Urgent),
            (&[("no-movement", "")], COLD_ROOM, Severity::Urgent),
            (&[("no-movement", "")], COOL_ROOM, Severity::Vet),
        ] {
            assert_eq!(with(signs, rest, Code::Lethargy), Some(severity), "{signs:?} {rest}");
        }
    }

    #[test]
    fn a_motionless_animal_is_never_called_dead() {
        assert_eq!(with(&[("no-movement", "severe"), ("cold-to-touch", "severe")], "", Code::Death), None);
    }

    #[test]
    fn weakness_after_a_meal_came_up_is_the_red_flag() {
        let meal = |up: &str| {
            format!("[[meal]]\nat = \"2027-03-26T20:00\"\noutcome = \"regurgitated\"\nregurgitated_at = \"{up}\"\n")
        };
        for (up, severity) in [
            ("2027-04-09T07:00", Severity::Urgent),
            ("2027-03-27T08:00", Severity::Urgent),
            ("2027-03-27T07:59", Severity::Vet),
        ] {
            assert_eq!(with(&[("lethargic", "marked")], &meal(up), Code::Lethargy), Some(severity), "came up on {up}");
        }
    }

    #[test]
    fn listless_in_a_shed_or_after_a_meal_is_a_note() {
        for (grade, rest, severity) in [
            ("slight", "[[shed]]\nblue_at = \"2027-04-09\"\n", Severity::Note),
            ("", "[[meal]]\nat = \"2027-04-09T20:00\"\noutcome = \"taken\"\n", Severity::Note),
            ("", "[[meal]]\nat = \"2027-04-01T20:00\"\noutcome = \"taken\"\n", Severity::Act),
            ("marked", "[[shed]]\nblue_at = \"2027-04-09\"\n", Severity::Vet),
        ] {
            assert_eq!(with(&[("lethargic", grade)], rest, Code::Lethargy), Some(severity), "{grade} {rest}");
        }
    }
}
