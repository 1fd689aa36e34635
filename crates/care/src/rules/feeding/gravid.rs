//! Carrying eggs or young, and brooding.

use records::facts::{Breeding, BreedingWhat, Sign, SignKind};
use records::timeline::Entry;

use crate::answer::{Action, State};
use crate::draft::{Draft, Strength, seen};
use crate::rules::Rule;
use crate::view::View;

/// Leave a gravid female in peace.
pub const RULE: Rule = Rule {
    key: "gravid",
    says: "A gravid female is handled only where her care needs it.",
    because: "Handling can harm her and what she carries.",
    sources: &["handling_never"],
    check,
};

/// Leave her with her eggs.
pub const BROODING: Rule = Rule {
    key: "brooding",
    says: "A female of a kind that broods is not handled or lifted off her eggs until they have hatched or were taken from her; a meal taken shows that she no longer broods.",
    because: "She warms and guards them, and leaves them when she is disturbed.",
    sources: &["handling_never"],
    check: brooding,
};

fn brooding(view: &View<'_>, draft: &mut Draft) {
    let Some(laid) = view.brooding() else { return };
    let is_bred = |one: &&Entry<Breeding>| one.what == BreedingWhat::Laid && one.at == laid;
    let is_sign = |one: &&Entry<Sign>| one.sign == SignKind::LaidEggs && one.at == laid;
    let bred = view.line.breedings.iter().find(is_bred).map(seen);
    let records: Vec<_> = bred.or_else(|| view.line.signs.iter().find(is_sign).map(seen)).into_iter().collect();
    let why = format!("She laid on {} and her kind broods.", view.date_of(laid));
    for action in [Action::Handle, Action::Move] {
        let ends = "the eggs have hatched or were taken from her";
        draft.hold_open(action, Strength::Plan, BROODING.key, why.clone(), laid.from, ends, records.clone());
    }
}

fn check(view: &View<'_>, draft: &mut Draft) {
    let Some(gravid) = view.gravid() else { return };
    let why = format!("Recorded as gravid on {}; nothing laid or born since.", view.date_of(gravid.at));
    let ends_with = if view.profile.live_bearing { "the young are born" } else { "the eggs are laid" };
    draft.state(State::Gravid, gravid.at.from, None, why.clone());
    for action in [Action::Handle, Action::Move] {
        draft.hold_open(action, Strength::Plan, RULE.key, why.clone(), gravid.at.from, ends_with, vec![seen(gravid)]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn she_is_gravid_until_she_lays_by_either_record() {
        let laid = "[[breeding]]\nat = \"2027-05-20\"\nwhat = \"laid\"\ncount = 6\n";
        let seen = "[[sign]]\nat = \"2027-05-20\"\nsign = \"laid-eggs\"\n";
        for (later, gravid) in [("", true), (laid, false), (seen, false)] {
            let answer = answer(&format!(
                "at = \"2027-05-21T12:00\"\n[animal]\nspecies = \"ball_python\"\nsex = \"female\"\n\
                 [[breeding]]\nat = \"2027-04-01\"\nwhat = \"gravid\"\n{later}"
            ));
            assert_eq!(answer.is_in(State::Gravid), gravid, "{later}");
            let held =
                answer.hold(Action::Handle).is_some_and(|hold| hold.because.iter().any(|one| one.rule == RULE.key));
            assert_eq!(held, gravid);
        }
    }

    #[test]
    fn she_broods_until_she_eats_or_the_eggs_have_hatched() {
        let laid = |species: &str, at: &str, rest: &str| {
            let text = format!(
                "at = \"{at}\"\n[animal]\nspecies = \"{species}\"\nsex = \"female\"\n[[breeding]]\nat = \"2027-05-20\"\nwhat = \"laid\"\n{rest}"
            );
            answer(&text).hold(Action::Move).is_some_and(|hold| hold.because.iter().any(|one| one.rule == BROODING.key))
        };
        let ate = "[[meal]]\nat = \"2027-06-01\"\noutcome = \"taken\"\n";
        let refused = "[[meal]]\nat = \"2027-06-01\"\noutcome = \"refused\"\n";
        for (species, at, rest, broods) in [
            ("ball_python", "2027-06-10T12:00", "", true),
            ("ball_python", "2027-06-10T12:00", refused, true),
            ("ball_python", "2027-06-10T12:00", ate, false),
            ("ball_python", "2027-08-10T12:00", "", false),
            ("corn_snake", "2027-06-10T12:00", "", false),
        ] {
            assert_eq!(laid(species, at, rest), broods, "{species} at {at} {rest}");
        }
    }
}
