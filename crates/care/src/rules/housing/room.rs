//! Room to stretch: the enclosure against the length of the animal.

use crate::answer::{Code, Finding, Severity, Sure, Task};
use crate::draft::{Draft, Line, seen, undated};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, number};

/// The enclosure against the animal.
pub const RULE: Rule = Rule {
    key: "room-to-stretch",
    says: "The enclosure is as long as the profile asks for the length of the animal; one that is far too short is changed now.",
    because: "A snake that can never lie straight grows weak, fat and restless.",
    sources: &["enclosure_tolerance", "enclosure_half", "enclosure_soon"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if view.is_dead() {
        return;
    }
    let Some(enclosure) = view.enclosure() else { return };
    let longest = [enclosure.length_cm, enclosure.width_cm].into_iter().flatten().max_by(f64::total_cmp);
    let measured = view.line.measurements.iter().rev().find_map(|one| Some((one, one.total_length_cm?)));
    let (Some(has_cm), Some((measurement, length_cm)), Some(share)) =
        (longest, measured, view.profile.enclosure.length_x.first())
    else {
        return;
    };
    let needs_cm = length_cm * share.middle();
    let records = [undated(enclosure.key), seen(measurement)];
    let line = Line::middle(share);
    let what = format!("The enclosure is {} cm long and the animal {} cm", number(has_cm), number(length_cm));
    if has_cm < needs_cm - length_cm * lines::low("enclosure_tolerance").value {
        let half = has_cm < needs_cm * lines::low("enclosure_half").value;
        let severity = if half { Severity::Act } else { Severity::Watch };
        let says = format!("{what}; {} cm or more is wanted so that it can stretch.", needs_cm.round());
        let does = if half {
            "Set up a larger enclosure this week, let it run warm for two days, and move the animal with an empty gut."
        } else {
            "Plan a larger enclosure, let it run warm for two days, and move the animal with an empty gut."
        };
        let why = format!("{what}: it needs {} cm.", needs_cm.round());
        draft.due(Task::EnclosureStepUp, RULE.key, why, view.today(), None, records.to_vec());
        draft.find(
            Finding::new(Code::EnclosureOutgrown, severity, RULE.key, says, does)
                .on(records)
                .by(&line, "x total length"),
        );
        return;
    }
    let soon = lines::low("enclosure_soon");
    let grows = view.stage.is_some() && !view.is_adult();
    if grows && has_cm < needs_cm * soon.value {
        let says = format!("{what}: it still grows and needs a longer one soon.");
        let does =
            "Look for the next enclosure now, long enough for the grown animal, and measure it every few months.";
        draft.find(
            Finding::new(Code::EnclosureOutgrownSoon, Severity::Note, RULE.key, says, does)
                .on(records)
                .by(&line, "x total length")
                .sure(Sure::Likely),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn housed(length_cm: f64, enclosure: &str, stage: &str) -> crate::Answer {
        answer(&format!(
            "at = \"2027-05-04T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"{stage}\"\n\
             [[measurement]]\nat = \"2027-05-01\"\ntotal_length_cm = {length_cm}\n[enclosure]\n{enclosure}\n"
        ))
    }

    #[test]
    fn the_enclosure_is_as_long_as_the_animal() {
        use Severity::{Act, Watch};
        // cm of animal, cm of enclosure, said, due
        for (animal, has, said) in [
            (120.0, 120.0, None),
            (120.0, 115.0, None),
            (120.0, 113.0, Some(Watch)),
            (120.0, 60.0, Some(Watch)),
            (120.0, 59.0, Some(Act)),
        ] {
            let answer = housed(animal, &format!("length_cm = {has}"), "adult");
            assert_eq!(
                answer.finding(Code::EnclosureOutgrown).map(|one| one.severity),
                said,
                "{animal} cm in {has} cm"
            );
            assert_eq!(answer.due(Task::EnclosureStepUp).is_some(), said.is_some(), "{animal} cm in {has} cm");
        }
    }

    #[test]
    fn the_longer_side_counts() {
        assert!(housed(80.0, "length_cm = 50\nwidth_cm = 90", "adult").finding(Code::EnclosureOutgrown).is_none());
    }

    #[test]
    fn one_that_grows_hears_of_it_before() {
        for (stage, has, said) in [("juvenile", 91.0, true), ("juvenile", 93.0, false), ("adult", 85.0, false)] {
            let answer = housed(80.0, &format!("length_cm = {has}"), stage);
            assert_eq!(answer.finding(Code::EnclosureOutgrownSoon).is_some(), said, "{stage} in {has} cm");
            assert!(answer.due(Task::EnclosureStepUp).is_none(), "{stage} in {has} cm");
        }
    }

    #[test]
    fn nothing_is_said_without_a_length_or_a_size() {
        assert!(housed(150.0, "height_cm = 40", "adult").finding(Code::EnclosureOutgrown).is_none());
        let unmeasured = answer(
            "at = \"2027-05-04T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[enclosure]\nlength_cm = 40\n",
        );
        assert!(unmeasured.finding(Code::EnclosureOutgrown).is_none());
    }
}
