//! How the last skin came off.

use records::facts::{Grade, Retained, Shed, SignKind};
use records::timeline::Entry;
use units::When;

use super::still_on;
use crate::answer::{Action, Code, Finding, Severity, Sure, Task};
use crate::draft::{Draft, all_seen, seen};
use crate::lines;
use crate::rules::arrival::is_gone;
use crate::rules::{Rule, handling};
use crate::sheds;
use crate::signs::{Signs, Standing};
use crate::view::{View, celsius, number};

/// Patches that stayed on, and skins in pieces.
pub const SKIN: Rule = Rule {
    key: "shed-in-pieces",
    says: "A skin in three pieces or more is watched; patches that stayed on are softened, never pulled, and not with a meal inside.",
    because: "Dry air is behind most bad sheds; wet, warm rest lets the skin come off by itself.",
    sources: &["retained_soak", "retained_soak_repeat", "shed_pieces", "good-shed"],
    check: skin,
};

/// Eye caps that stayed on.
pub const EYE_CAP: Rule = Rule {
    key: "eye-cap",
    says: "An eye cap that stayed on waits for the next shed in damp air; still on after that, or with a swollen, sunken or weeping eye, a veterinarian.",
    because: "A cap that is pulled takes the eye with it.",
    sources: &["eye_caps"],
    check: eye_cap,
};

/// A ring or cap on the tail tip.
pub const TAIL_TIP: Rule = Rule {
    key: "tail-tip",
    says: "Old skin on the tail tip is softened today; with a dark or changed tip a veterinarian, when it swells now.",
    because: "A dry ring cuts off the blood, and the tip dies.",
    sources: &["retained_soak_repeat"],
    check: tail_tip,
};

/// Nobody noted how the last skin came off.
pub const LOOK: Rule = Rule {
    key: "look-at-the-skin",
    says: "After a shed the skin is looked at: whole, with both eye caps and the tail tip.",
    because: "What is missing from the skin is still on the animal.",
    sources: &["good-shed", "shed_look"],
    check: look,
};

fn last_off<'a>(view: &'a View<'_>) -> Option<(When, &'a Entry<Shed>)> {
    view.line.sheds.iter().rev().find_map(|shed| shed.shed_at.map(|off| (off, shed)))
}

fn skin(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let patches = still_on(view, Retained::Body);
    if let Some(latest) = patches.first() {
        let off = latest.shed_at.map(|off| view.date_of(off)).unwrap_or_default();
        let pieces = match latest.pieces {
            Some(pieces) if 1 < pieces => format!(" in {pieces} pieces"),
            _ => String::new(),
        };
        let again = if 1 < patches.len() {
            format!(", for the {} time in a row", ordinal(patches.len()))
        } else {
            String::new()
        };
        let air = latest.shed_at.map(|at| sheds::before(view, at, latest.dull_at));
        let says = format!(
            "The skin of {off} came off{pieces}, and patches stayed on the body{again}.{}",
            beside(air.as_ref())
        );
        draft.find(
            Finding::new(Code::RetainedSkin, Severity::Act, SKIN.key, says, softening(view, draft))
                .on(all_seen(patches.iter().copied()))
                .on(air.into_iter().flat_map(|air| air.records()))
                .by(&lines::high("retained_soak"), "min")
                .caution("soaking"),
        );
        return;
    }
    let Some((off, shed)) = last_off(view) else { return };
    let pieces = shed.pieces.unwrap_or(1);
    let kept_elsewhere = !shed.retained.is_empty();
    if pieces < 2 || kept_elsewhere || lines::low("shed_look").value <= view.days_since(off) {
        return;
    }
    let line = lines::low("shed_pieces");
    let severity = if line.value <= f64::from(pieces) { Severity::Watch } else { Severity::Note };
    let air = sheds::before(view, off, shed.dull_at);
    let says = format!("The skin of {} came off in {pieces} pieces.{}", view.date_of(off), beside(Some(&air)));
    let does =
        "Look for both eye caps, the tail tip and patches on the body, and raise the humidity before the next shed.";
    let finding = Finding::new(Code::ShedInPieces, severity, SKIN.key, says, does).on([seen(shed)]).on(air.records());
    draft.find(finding.by(&line, "pieces"));
}

/// How damp it was before it, as a sentence more; nothing where it was not read.
fn beside(air: Option<&sheds::Air>) -> String {
    air.and_then(|air| air.says()).map_or(String::new(), |says| format!(" {says}"))
}

fn ordinal(count: usize) -> String {
    match count {
        2 => "second".to_owned(),
        3 => "third".to_owned(),
        more => format!("{more}th"),
    }
}

/// What may be done about patches today: a soak is handling, and not for one that is weak or has a meal inside.
fn softening(view: &View<'_>, draft: &Draft) -> String {
    let signs = Signs::of(view);
    let breathless = !signs.of_code(Code::Breathing).is_empty();
    let cold = !signs.of_code(Code::RewarmSlowly).is_empty();
    if signs.is_weak() || breathless || cold || signs.iter().any(|one| one.meaning.ill) {
        return "Give it a humid hide and damp air, and show it to the reptile veterinarian with the rest; no soak while it is ill, weak or cold, and nothing is pulled off.".to_owned();
    }
    let meal = view.meals.last_eaten().filter(|eaten| eaten.stayed);
    let digested = meal.map(|eaten| eaten.at.to.plus_hours(handling::peace_h(eaten)));
    if let Some(until) = digested.filter(|until| view.now < *until) {
        let until = view.date(until);
        return format!(
            "Give it a humid hide now; a meal lies inside, so no soak and no lifting out before {until}, and nothing is pulled off."
        );
    }
    let rest = lines::low("handling_after_regurgitation").value;
    let came_up = view.last_regurgitation().map(|(_, up)| up.to.plus_days(rest));
    if let Some(until) = came_up.filter(|until| view.now < *until) {
        let until = view.date(until);
        return format!("Give it a humid hide now, and leave it in peace until {until}; nothing is pulled off.");
    }
    match draft.held_until(Action::Handle) {
        Some(Some(until)) => {
            let until = view.date(until);
            return format!("Give it a humid hide now, and leave it in peace until {until}; nothing is pulled off.");
        }
        Some(None) => {
            return "Give it a humid hide and damp air now; no soak while it is not to be handled, and nothing is pulled off."
                .to_owned();
        }
        None => {}
    }
    let minutes = number(lines::low("retained_soak").value);
    let times = number(lines::high("retained_soak_repeat").value);
    let water = number(lines::group("retained_soak", "bath water").value);
    let water = format!("{water} to {}", celsius(lines::group_high("retained_soak", "bath water").value));
    format!(
        "Give it a damp box or a watched, shallow soak of {minutes} minutes in water of {water}, again on the next days, {times} times at most; pull nothing, and then call a reptile veterinarian."
    )
}

fn eye_cap(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let eyes = [(Retained::LeftEyeCap, "left"), (Retained::RightEyeCap, "right")]
        .map(|(place, word)| (still_on(view, place), word));
    let on: Vec<_> = eyes.into_iter().filter(|(sheds, _)| !sheds.is_empty()).collect();
    let Some((longest, _)) = on.iter().max_by_key(|(sheds, _)| sheds.len()) else { return };
    let Some(off) = longest.first().and_then(|shed| shed.shed_at) else { return };
    let words = on.iter().map(|(_, word)| *word).collect::<Vec<_>>().join(" and ");
    let caps = if on.len() == 1 { "eye cap" } else { "eye caps" };
    let mut says = format!("The {words} {caps} stayed on in the shed of {}", view.date_of(off));
    let mut records = all_seen(on.iter().flat_map(|(sheds, _)| sheds.iter().copied()));

    let signs = Signs::of(view);
    let since =
        |sign: SignKind| signs.get(sign).filter(|one| one.records.first().is_some_and(|last| off.from <= last.at.to));
    let grave = [SignKind::SwollenEye, SignKind::EyeDischarge, SignKind::SunkenEyes].into_iter().find_map(since);
    let cloudy = since(SignKind::CloudyOneEye);
    let (severity, does) = if let Some(sign) = grave {
        says.push_str(&format!(", and since then: {}", sign.meaning.says));
        records.extend(sign.evidence());
        (Severity::Vet, "Have it seen by a reptile veterinarian today or tomorrow, and leave the eye alone until then.")
    } else if 1 < longest.len() {
        says.push_str(&format!(", for the {} time in a row", ordinal(longest.len())));
        (Severity::Vet, "Have it taken off by a reptile veterinarian; do not pull, tape or pick.")
    } else if let Some(sign) = cloudy {
        says.push_str(&format!(", and since then: {}", sign.meaning.says));
        records.extend(sign.evidence());
        (
            Severity::Act,
            "Raise the humidity today, leave the eye alone, and call a reptile veterinarian if it swells or weeps, or if the cap stays on in the next shed.",
        )
    } else {
        (
            Severity::Watch,
            "Look in the skin for two clear discs, raise the humidity, and wait for the next shed; do not pull, tape or pick.",
        )
    };
    says.push('.');
    draft.find(
        Finding::new(Code::RetainedEyeCap, severity, EYE_CAP.key, says, does)
            .on(records)
            .from(lines::source("eye_caps"))
            .caution("eye-caps"),
    );
}

fn tail_tip(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let sheds = still_on(view, Retained::TailTip);
    let Some(off) = sheds.first().and_then(|shed| shed.shed_at) else { return };
    let mut says = format!("Old skin stayed on the tail tip in the shed of {}", view.date_of(off));
    let mut records = all_seen(sheds.iter().copied());
    let signs = Signs::of(view);
    let since =
        |sign: SignKind| signs.get(sign).filter(|one| one.records.first().is_some_and(|last| off.from <= last.at.to));
    let changed: Option<&Standing<'_>> = since(SignKind::ChangedScales)
        .filter(|one| one.grade != Some(Grade::Slight))
        .or_else(|| since(SignKind::CharredScales));
    let swollen = since(SignKind::Lump);
    let (severity, does) = if let Some(sign) = changed.or(swollen) {
        says.push_str(&format!(", and since then: {}", sign.meaning.says));
        records.extend(sign.evidence());
        let now = swollen.is_some() || sign.grade == Some(Grade::Severe);
        if now {
            (Severity::Urgent, "Call a reptile veterinarian now: the tip may be dying; damp air until then, and nothing is pulled off.".to_owned())
        } else {
            (Severity::Vet, "Have it seen by a reptile veterinarian today: the tip may be dying; damp air until then, and nothing is pulled off.".to_owned())
        }
    } else if 1 < sheds.len() {
        says.push_str(&format!(", for the {} time in a row", ordinal(sheds.len())));
        (Severity::Vet, "Have it taken off by a reptile veterinarian within a day or two; damp air until then, and nothing is pulled off.".to_owned())
    } else {
        let soften = softening(view, draft);
        let soften = soften.trim_end_matches('.');
        (Severity::Act, format!("{soften}; a dark or swollen tip is for a reptile veterinarian at once."))
    };
    says.push('.');
    let finding = Finding::new(Code::RetainedTailTip, severity, TAIL_TIP.key, says, does)
        .on(records)
        .from(lines::source("retained_soak_repeat"));
    draft.find(
        finding.caution(if Severity::Vet <= severity { "call-veterinarian" } else { "soaking" }).sure(Sure::Firm),
    );
}

fn look(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let Some((off, shed)) = last_off(view) else { return };
    let window = lines::low("shed_look").value;
    if shed.pieces.is_some() || !shed.retained.is_empty() || window <= view.days_since(off) {
        return;
    }
    let why = format!(
        "The skin came off on {}, and nothing is noted of it: is it whole, with both eye caps and the tail tip?",
        view.date_of(off)
    );
    draft.due(Task::CheckShed, LOOK.key, why, view.day_of(off.from), Some(off.to.plus_days(window)), vec![seen(shed)]);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn at(now: &str, rest: &str) -> crate::Answer {
        answer(&format!("at = \"{now}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{rest}"))
    }

    fn shed(day: &str, outcome: &str) -> String {
        format!("[[shed]]\nshed_at = \"{day}\"\n{outcome}")
    }

    #[test]
    fn pieces_are_noted_then_watched() {
        for (pieces, severity) in
            [(1, None), (2, Some(Severity::Note)), (3, Some(Severity::Watch)), (8, Some(Severity::Watch))]
        {
            let answer = at("2027-05-03T12:00", &shed("2027-05-01", &format!("pieces = {pieces}\n")));
            assert_eq!(answer.finding(Code::ShedInPieces).map(|found| found.severity), severity, "{pieces} pieces");
        }
        let later = at("2027-05-16T00:00", &shed("2027-05-01", "pieces = 5\n"));
        assert!(later.finding(Code::ShedInPieces).is_none(), "after two weeks it is history");
    }

    #[test]
    fn patches_stand_until_a_whole_skin_or_for_sixty_days() {
        let bad = shed("2027-05-01", "pieces = 6\nretained = [\"body\"]\n");
        for (now, next, told) in [
            ("2027-05-03T12:00", String::new(), true),
            ("2027-06-30T23:00", String::new(), true),
            ("2027-07-01T00:00", String::new(), false),
            ("2027-06-20T12:00", shed("2027-06-18", "pieces = 1\n"), false),
            ("2027-06-20T12:00", shed("2027-06-18", ""), true),
        ] {
            let answer = at(now, &format!("{bad}{next}"));
            assert_eq!(
                answer.finding(Code::RetainedSkin).map(|found| found.severity),
                told.then_some(Severity::Act),
                "{now} {next}"
            );
            assert!(answer.finding(Code::ShedInPieces).is_none(), "one cause, one finding");
        }
    }

    #[test]
    fn no_soak_with_a_meal_inside_or_for_a_weak_one() {
        let bad = shed("2027-05-03", "retained = [\"body\"]\n");
        let does = |rest: &str| {
            at("2027-05-03T12:00", &format!("{bad}{rest}")).finding(Code::RetainedSkin).unwrap().does.clone()
        };
        assert!(does("").contains("20 minutes"));
        let fed = does("[[meal]]\nat = \"2027-05-02T20:00\"\noutcome = \"taken\"\n");
        assert!(fed.contains("no soak") && fed.contains("4 May 2027"), "{fed}");
        assert!(does("[[sign]]\nat = \"2027-05-03\"\nsign = \"weak\"\n").contains("no soak"));
    }

    #[test]
    fn an_eye_cap_waits_once() {
        let once = shed("2027-03-01", "retained = [\"left-eye-cap\"]\n");
        let again = shed("2027-04-20", "retained = [\"left-eye-cap\"]\n");
        let other = shed("2027-04-20", "retained = [\"right-eye-cap\"]\n");
        let whole = shed("2027-04-20", "pieces = 1\n");
        for (rest, severity) in [
            (once.clone(), Some(Severity::Watch)),
            (format!("{once}{again}"), Some(Severity::Vet)),
            (format!("{once}{other}"), Some(Severity::Watch)),
            (format!("{once}{whole}"), None),
        ] {
            assert_eq!(
                at("2027-04-22T12:00", &rest).finding(Code::RetainedEyeCap).map(|found| found.severity),
                severity,
                "{rest}"
            );
        }
    }

    #[test]
    fn an_eye_cap_with_a_swollen_eye_does_not_wait() {
        let once = shed("2027-04-20", "retained = [\"left-eye-cap\"]\n");
        for (sign, severity) in [
            ("swollen-eye", Severity::Vet),
            ("eye-discharge", Severity::Vet),
            ("sunken-eyes", Severity::Vet),
            ("cloudy-one-eye", Severity::Act),
            ("rubbed-nose", Severity::Watch),
        ] {
            let answer = at("2027-04-22T12:00", &format!("{once}[[sign]]\nat = \"2027-04-21\"\nsign = \"{sign}\"\n"));
            assert_eq!(answer.finding(Code::RetainedEyeCap).map(|found| found.severity), Some(severity), "{sign}");
        }
    }

    #[test]
    fn a_dark_tail_tip_is_not_soaked_at_home() {
        let ring = shed("2027-04-20", "retained = [\"tail-tip\"]\n");
        for (sign, severity) in [
            ("", Severity::Act),
            ("sign = \"changed-scales\"\ngrade = \"slight\"\n", Severity::Act),
            ("sign = \"changed-scales\"\n", Severity::Vet),
            ("sign = \"changed-scales\"\ngrade = \"severe\"\n", Severity::Urgent),
        ] {
            let sign = if sign.is_empty() { String::new() } else { format!("[[sign]]\nat = \"2027-04-21\"\n{sign}") };
            let answer = at("2027-04-22T12:00", &format!("{ring}{sign}"));
            assert_eq!(answer.finding(Code::RetainedTailTip).map(|found| found.severity), Some(severity), "{sign}");
            assert!(answer.finding(Code::SkinBlister).is_none(), "told with the ring: {sign}");
        }
        let second = format!("{}{ring}", shed("2027-03-01", "retained = [\"tail-tip\"]\n"));
        assert_eq!(
            at("2027-04-22T12:00", &second).finding(Code::RetainedTailTip).map(|found| found.severity),
            Some(Severity::Vet)
        );
    }

    #[test]
    fn the_skin_is_looked_at_when_nothing_is_noted_of_it() {
        for (now, outcome, due) in [
            ("2027-05-03T12:00", "", true),
            ("2027-05-15T23:00", "", true),
            ("2027-05-16T00:00", "", false),
            ("2027-05-03T12:00", "pieces = 1\n", false),
            ("2027-05-03T12:00", "retained = [\"body\"]\n", false),
        ] {
            assert_eq!(at(now, &shed("2027-05-01", outcome)).due(Task::CheckShed).is_some(), due, "{now} {outcome}");
        }
    }
}
