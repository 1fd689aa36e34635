//! Somewhere to hide at both ends.

use crate::answer::{Code, Finding, Severity};
use crate::draft::{Draft, undated};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, plural};

/// Two hides.
pub const RULE: Rule = Rule {
    key: "hides",
    says: "Two hides at least, one at the warm and one at the cool end.",
    because: "An animal with one hide must choose between warmth and cover, and stays where it is wrong.",
    sources: &["hides"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() {
        return;
    }
    let Some((enclosure, hides)) = view.enclosure().and_then(|it| Some((it, it.hides?))) else { return };
    let line = lines::low("hides");
    let count = f64::from(hides);
    if line.value <= count {
        return;
    }
    let humid = enclosure.humid_hide == Some(true);
    let severity = match (hides, humid) {
        (0, false) => Severity::Act,
        (0, true) | (1, false) => Severity::Watch,
        _ => Severity::Note,
    };
    let has = match (hides, humid) {
        (0, false) => "There is no hide".to_owned(),
        (0, true) => "There is a humid hide and no other".to_owned(),
        (_, false) => format!("There is {} only", plural(count, "hide")),
        (_, true) => format!("There is {} beside the humid one", plural(count, "hide")),
    };
    let says = format!("{has}; {:.0} are wanted, one at the warm and one at the cool end.", line.value);
    let does = "Add one that is closed, dark and just large enough to touch the coiled animal all round, at the end that lacks it.";
    draft.find(
        Finding::new(Code::HideMissing, severity, RULE.key, says, does).on([undated(enclosure.key)]).by(&line, "hides"),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn two_hides_are_wanted() {
        use Severity::{Act, Note, Watch};
        for (enclosure, expected) in [
            ("hides = 0", Some(Act)),
            ("hides = 1", Some(Watch)),
            ("hides = 1\nhumid_hide = true", Some(Note)),
            ("hides = 0\nhumid_hide = true", Some(Watch)),
            ("hides = 2", None),
            ("hides = 3", None),
            ("length_cm = 120", None),
        ] {
            let text = format!(
                "at = \"2027-05-04T12:00\"\n[animal]\nspecies = \"ball_python\"\nstage = \"adult\"\n[enclosure]\n{enclosure}\n"
            );
            let found = answer(&text).finding(Code::HideMissing).map(|one| one.severity);
            assert_eq!(found, expected, "{enclosure}");
        }
    }
}
