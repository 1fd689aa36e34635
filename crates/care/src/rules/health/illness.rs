//! What waits while an animal is ill or hurt.

use crate::answer::{Action, Code, Severity, Task};
use crate::draft::{Draft, Strength};
use crate::rules::Rule;
use crate::rules::arrival::{cohabitants, has_others, is_gone};
use crate::rules::shed::eye_cap_still_on;
use crate::signs::{Signs, Standing};
use crate::view::{View, capital};
use records::facts::SignKind;

/// Ill or hurt: no meal and no handling before a veterinarian has spoken, and apart from others.
pub const RULE: Rule = Rule {
    key: "ill",
    says: "An ill, starved or injured animal gets no meal and is not handled except to help it, until a veterinarian has spoken; and it is kept apart where others live.",
    because: "A meal in a sick gut does harm, and handling spreads what it may have.",
    sources: &["handling_never", "neuro"],
    check,
};

const ENDS_WITH: &str = "a reptile veterinarian has spoken";

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let signs = Signs::of(view);
    // What stands beside a sign may raise it to a veterinarian's line: then it is ill by that.
    let raised = |one: &Standing<'_>| {
        let found = one.meaning.code.and_then(|code| draft.found(code));
        found.is_some_and(|found| Severity::Vet <= found.severity)
    };
    let is_ill = |one: &&Standing<'_>| (one.meaning.ill && !is_plain(view, draft, one)) || raised(one);
    let ill: Vec<&Standing<'_>> = signs.iter().filter(is_ill).collect();
    let catching: Vec<&Standing<'_>> = signs.iter().filter(|one| one.meaning.contagious).collect();
    let overdue_eggs = draft
        .found(Code::EggRetention)
        .filter(|found| Severity::Vet <= found.severity)
        .map(|found| found.records.clone());

    let named = |list: &[&Standing<'_>]| list.iter().map(|one| one.meaning.says).take(3).collect::<Vec<_>>().join(", ");
    let records = |list: &[&Standing<'_>]| list.iter().flat_map(|one| one.evidence()).collect::<Vec<_>>();
    let since = |list: &[&Standing<'_>]| list.iter().filter_map(|one| one.since()).min().unwrap_or(view.now);

    if !ill.is_empty() || overdue_eggs.is_some() {
        let what = if ill.is_empty() { "eggs that do not come".to_owned() } else { named(&ill) };
        let on = if ill.is_empty() { overdue_eggs.unwrap_or_default() } else { records(&ill) };
        let why = format!("Ill or hurt ({what}): no meal until a reptile veterinarian has spoken.");
        draft.hold_open(Action::OfferMeal, Strength::Veterinary, RULE.key, why, since(&ill), ENDS_WITH, on.clone());
        let why = format!("Ill or hurt ({what}): handled only to help it.");
        draft.hold_open(Action::Handle, Strength::Veterinary, RULE.key, why, since(&ill), ENDS_WITH, on);
    } else if !catching.is_empty() {
        let why = format!("{}: what it has travels on hands.", capital(&named(&catching)));
        draft.hold_open(
            Action::Handle,
            Strength::Quarantine,
            RULE.key,
            why,
            since(&catching),
            "it has been clear of it",
            records(&catching),
        );
    }
    let apart: Vec<&Standing<'_>> = if ill.is_empty() { catching } else { ill };
    if !apart.is_empty() && has_others(view) {
        let others =
            if 0 < cohabitants(view) { "others share its enclosure" } else { "other reptiles live in the house" };
        let why = format!("{}, and {others}: its own room, its own tools, last in the round.", capital(&named(&apart)));
        draft.due(Task::Isolate, RULE.key, why, view.day_of(since(&apart)), None, records(&apart));
    }
}

/// Is what stands beside it enough to explain the sign, so that it was told as a note?
fn is_plain(view: &View<'_>, draft: &Draft, one: &Standing<'_>) -> bool {
    let lowered = |code: Code| draft.found(code).is_some_and(|found| found.severity == Severity::Note);
    match one.sign {
        SignKind::MidBodySwelling => lowered(Code::Swelling),
        SignKind::CloudyOneEye => {
            // Under an old cap, or in a shed, an eye is cloudy.
            let explained = view.open_shed().is_some() || eye_cap_still_on(view);
            lowered(Code::Eye) || (explained && draft.found(Code::Eye).is_none())
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn with(signs: &[(&str, &str)], rest: &str) -> crate::Answer {
        let mut text = "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[meal]]\nat = \"2027-03-20\"\noutcome = \"taken\"\n".to_owned();
        for (sign, grade) in signs {
            text.push_str(&format!("[[sign]]\nat = \"2027-04-10T08:00\"\nsign = \"{sign}\"\n"));
            if !grade.is_empty() {
                text.push_str(&format!("grade = \"{grade}\"\n"));
            }
        }
        answer(&format!("{text}{rest}"))
    }

    #[test]
    fn no_meal_for_the_ill_but_a_slight_rub_or_mites_stop_none() {
        for (signs, held) in [
            (&[][..], false),
            (&[("rubbed-nose", "slight")], false),
            (&[("rubbed-nose", "severe")], true),
            (&[("mites-seen", "")], false),
            (&[("wound", "slight")], false),
            (&[("wound", "severe")], true),
            (&[("wheezing", "")], true),
            (&[("sunken-eyes", "marked")], true),
            (&[("laid-eggs", "")], false),
            (&[("other", "severe")], false),
        ] {
            let answer = with(signs, "");
            let hold =
                answer.hold(Action::OfferMeal).filter(|hold| hold.because.iter().any(|one| one.rule == RULE.key));
            assert_eq!(hold.is_some(), held, "{signs:?}");
            if let Some(hold) = hold {
                assert_eq!((hold.until, hold.ends_with), (None, Some(ENDS_WITH)), "{signs:?}");
                assert!(answer.due(Task::OfferMeal).is_none());
                assert!(answer.hold(Action::Handle).is_some(), "{signs:?}");
            }
        }
    }

    #[test]
    fn what_is_raised_to_a_veterinarian_stops_meals_and_what_is_explained_does_not() {
        let cap = "[[shed]]\nshed_at = \"2027-04-01\"\npieces = 2\nretained = [\"left-eye-cap\"]\n";
        for (signs, rest, held) in [
            (&[("straining", "")][..], "", false),
            (&[("straining", ""), ("no-stool", "marked")], "", true),
            (&[("cloudy-one-eye", "")], "", true),
            (&[("cloudy-one-eye", "")], cap, false),
            (&[("swollen-eye", "")], cap, true),
        ] {
            assert_eq!(with(signs, rest).hold(Action::OfferMeal).is_some(), held, "{signs:?} {rest}");
        }
    }

    #[test]
    fn a_retained_patch_of_skin_stops_no_meal() {
        let answer = with(&[], "[[shed]]\nshed_at = \"2027-04-05\"\nretained = [\"body\"]\n");
        assert!(answer.hold(Action::OfferMeal).is_none());
    }

    #[test]
    fn apart_where_others_live() {
        for (signs, rest, apart) in [
            (&[("wheezing", "")][..], "[household]\nother_reptiles = true\n", true),
            (&[("wheezing", "")], "[household]\nother_reptiles = false\n", false),
            (&[("wheezing", "")], "", false),
            (&[("wheezing", "")], "[enclosure]\ncohabitants = 1\n", true),
            (&[("spine-showing", "severe")], "[household]\nother_reptiles = true\n", true),
            (&[("mites-seen", "")], "[household]\nother_reptiles = true\n", true),
            (&[("rubbed-nose", "slight")], "[household]\nother_reptiles = true\n", false),
        ] {
            assert_eq!(with(signs, rest).due(Task::Isolate).is_some(), apart, "{signs:?} {rest}");
        }
    }
}
