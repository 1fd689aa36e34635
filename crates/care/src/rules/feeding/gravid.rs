//! Carrying eggs or young.

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
}
