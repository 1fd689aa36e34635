//! Mites and ticks, and lying in the water for long.

use records::facts::SignKind;

use super::tell;
use crate::answer::{Code, Severity, Sure};
use crate::draft::Draft;
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, number};

/// Mites: act today; with other signs a veterinarian.
pub const RULE: Rule = Rule {
    key: "mites",
    says: "Mites are dealt with today, in animal, enclosure and room, and looked for until none has been seen for 60 days; with other signs a veterinarian sees the animal.",
    because: "They drink blood, carry illness from one animal to the next, and live in the cracks of a whole room.",
    sources: &["mites"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    let in_shed = view.open_shed().is_some();
    tell_unless(view, draft, in_shed || is_hot(view));
}

fn tell_unless(view: &View<'_>, draft: &mut Draft, soaking_is_explained: bool) {
    let signs = crate::signs::Signs::of(view);
    let seen_some = signs.has(SignKind::MitesSeen) || signs.has(SignKind::TicksSeen);
    if !seen_some && soaking_is_explained {
        return;
    }
    tell(view, draft, RULE.key, Code::Mites, |told, signs| {
        if !seen_some {
            told.sure(Sure::Possible);
            return;
        }
        let ill = signs.iter().find(|one| one.meaning.ill && one.meaning.code != Some(Code::Mites));
        let beside = ill.or_else(|| signs.weak().into_iter().next());
        if let Some(one) = beside {
            let does = "Have it seen by a reptile veterinarian within a day or two, put it on plain paper in its own room today, and do the others last with washed hands.";
            told.raise(Severity::Vet, format!("with it: {}", one.meaning.says), does);
            told.on(one.evidence());
        }
        told.beside(format!("look for them until none has been seen for {} days", number(lines::high("mites").value)));
        told.from(lines::source("mites"));
    });
}

/// Was any place read so hot of late that lying in the water is no riddle?
fn is_hot(view: &View<'_>) -> bool {
    let Some(limit) = view.profile.temperature.overheat_c.first() else { return false };
    let since = view.now.plus_days(-lines::high("reading_stands").value);
    view.line
        .readings
        .iter()
        .rev()
        .take_while(|one| since <= one.at.to)
        .any(|one| one.temperature_c.is_some_and(|degrees| limit.low <= degrees))
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;

    #[test]
    fn mites_alone_are_acted_on_with_other_signs_a_veterinarian_looks() {
        for (signs, severity) in [
            (&[("mites-seen", "")][..], Severity::Act),
            (&[("mites-seen", ""), ("lethargic", "slight")], Severity::Act),
            (&[("mites-seen", ""), ("lethargic", "marked")], Severity::Vet),
            (&[("mites-seen", ""), ("wheezing", "")], Severity::Vet),
            (&[("mites-seen", "severe")], Severity::Vet),
            (&[("ticks-seen", "")], Severity::Act),
        ] {
            assert_eq!(with(signs, "", Code::Mites), Some(severity), "{signs:?}");
        }
    }

    #[test]
    fn lying_in_the_water_asks_for_a_look_unless_heat_or_a_shed_explains_it() {
        let hot = "[[reading]]\nat = \"2027-04-10T12:00\"\nspot = \"warm-air\"\ntemperature_c = 39\n";
        let shed = "[[shed]]\nblue_at = \"2027-04-09\"\n";
        for (rest, told) in [("", Some(Severity::Watch)), (hot, None), (shed, None)] {
            assert_eq!(with(&[("soaking-long", "")], rest, Code::Mites), told, "{rest}");
        }
    }

    #[test]
    fn mites_alone_do_not_stop_a_meal_but_hands_stay_off() {
        use crate::answer::Action;
        use crate::testing::answer;
        let text = "at = \"2027-04-10T18:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[meal]]\nat = \"2027-03-20\"\noutcome = \"taken\"\n\
                    [[sign]]\nat = \"2027-04-10\"\nsign = \"mites-seen\"\n";
        let answer = answer(text);
        assert!(answer.hold(Action::OfferMeal).is_none());
        assert!(answer.hold(Action::Handle).is_some());
    }
}
