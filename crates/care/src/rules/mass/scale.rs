//! Slips of the scale, and guesses.

use crate::answer::{Code, Finding, Severity, Sure};
use crate::draft::{Draft, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, grams};

/// A weighing that stands alone.
pub const SUSPECT: Rule = Rule {
    key: "mass-suspect",
    says: "One weighing that stands alone against its neighbours, or that no animal of its kind can have, is set aside and asked about.",
    because: "A slip of the scale or the unit is more likely than a body that swells and shrinks.",
    sources: &["mass_stands_alone", "mass_slip_factor", "mass_cannot_be"],
    check: suspect,
};
/// A mass that was guessed.
pub const ESTIMATED: Rule = Rule {
    key: "mass-estimated",
    says: "A guessed mass serves for prey size with care, and for no trend.",
    because: "Guesses miss by half and more.",
    sources: &["weigh_adult"],
    check: estimated,
};

fn suspect(view: &View<'_>, draft: &mut Draft) {
    /// A slip of long ago needs no word any more.
    const WORTH_ASKING_D: f64 = 180.0;
    let entries = view.masses.suspects.iter().filter_map(|index| view.line.weighings.get(*index));
    let alone = entries.rev().find(|one| view.days_since(one.at) <= WORTH_ASKING_D);
    if let Some(slip) = view
        .slips
        .iter()
        .rfind(|slip| slip.records.iter().any(|one| one.at.is_some_and(|at| view.days_since(at) <= WORTH_ASKING_D)))
    {
        let does = "Note it in grams (a kilogram is 1000 g, a pound 454 g, an ounce 28 g), or weigh it again; until then nothing rests on it.";
        let records = slip.records.iter().copied().chain(alone.map(seen));
        let line = lines::low("mass_cannot_be");
        draft.find(
            Finding::new(Code::MassSuspect, Severity::Act, SUSPECT.key, slip.says.clone(), does)
                .on(records)
                .by(&line, "x")
                .sure(Sure::Likely),
        );
        return;
    }
    let Some(one) = alone else { return };
    let is_last = view.line.weighings.last().is_some_and(|last| last.key == one.key);
    let says = format!(
        "{} on {} stands alone against the weighings round it and is left out.",
        grams(one.mass_g),
        view.date_of(one.at)
    );
    let (severity, does) = if is_last {
        (
            Severity::Act,
            "Weigh again today, with the tare checked and the unit looked at; if it is true, it is a matter for a reptile veterinarian.",
        )
    } else {
        (Severity::Watch, "Correct the entry if it was a slip, or note what explains it.")
    };
    let line = lines::low("mass_stands_alone");
    draft.find(
        Finding::new(Code::MassSuspect, severity, SUSPECT.key, says, does)
            .on([seen(one)])
            .by(&line, "%")
            .sure(Sure::Likely),
    );
}

fn estimated(view: &View<'_>, draft: &mut Draft) {
    let Some(last) = view.line.weighings.last().filter(|last| last.estimated) else { return };
    let says = format!("The mass of {} ({}) is a guess.", view.date_of(last.at), grams(last.mass_g));
    let does = "Weigh it in a box or a bag: take the weight of the box off, to a gram under a kilogram.";
    draft.find(Finding::new(Code::MassEstimated, Severity::Note, ESTIMATED.key, says, does).on([seen(last)]));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn weighed(masses: &[(&str, f64)]) -> crate::Answer {
        let mut text = "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n".to_owned();
        for (at, mass) in masses {
            text.push_str(&format!("[[weighing]]\nat = \"{at}\"\nmass_g = {mass}\n"));
        }
        answer(&text)
    }

    #[test]
    fn a_single_slip_between_two_that_agree_is_set_aside() {
        // 20 % off both neighbours, which agree within 25 %
        for (slip, said) in [(560.0, false), (606.0, true), (395.0, true), (430.0, false)] {
            let answer = weighed(&[("2027-04-01", 500.0), ("2027-05-01", slip), ("2027-06-01", 503.0)]);
            assert_eq!(answer.finding(Code::MassSuspect).is_some(), said, "{slip} g");
            assert!(!said || answer.finding(Code::MassLossVet).is_none(), "a slip is no loss: {slip} g");
        }
    }

    #[test]
    fn a_last_weighing_of_half_the_mass_is_asked_about() {
        for (last, said) in [(251.0, false), (250.0, true)] {
            let answer = weighed(&[("2027-05-01", 500.0), ("2027-06-10", last)]);
            assert_eq!(answer.finding(Code::MassSuspect).is_some(), said, "{last} g");
            assert!(said || answer.finding(Code::MassLossVet).is_some(), "what is not set aside is judged");
        }
    }

    #[test]
    fn a_guess_is_marked_and_makes_no_trend() {
        let answer = answer(
            "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"corn_snake\"\n[[weighing]]\nat = \"2027-05-01\"\nmass_g = 500\n[[weighing]]\nat = \"2027-06-10\"\nmass_g = 400\nestimated = true\n",
        );
        assert!(answer.finding(Code::MassEstimated).is_some() && answer.finding(Code::MassLossVet).is_none());
    }
}
