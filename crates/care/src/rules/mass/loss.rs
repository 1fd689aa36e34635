//! Loss of mass, like with like.

use crate::answer::{Code, Finding, Severity, State};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::mass::Weighed;
use crate::rules::Rule;
use crate::view::{View, days, grams, number};

/// How much lighter is too light.
pub const RULE: Rule = Rule {
    key: "mass-loss",
    says: "5 % lighter than the best empty weighing of the last year: watch; 10 % (hatchlings 8 %): call a veterinarian; 15 %: urgent.",
    because: "Mass is the one sign that no species hides and no season explains for long.",
    sources: &["weight_loss_watch", "weight_loss_vet", "weight_loss_emergency"],
    check,
};

/// A loss older than this says little of today: it is asked for, not judged.
const STALE_D: f64 = 120.0;

fn check(view: &View<'_>, draft: &mut Draft) {
    let masses = &view.masses;
    let Some(last) = masses.last() else { return };
    if STALE_D < view.now.days_since(last.at) || view.is_dead() {
        return;
    }
    let (watch, act) = (lines::low("weight_loss_watch"), lines::low("weight_loss_act"));
    let (Some(reference), Some(loss)) = (masses.reference, masses.loss_pct.filter(|loss| watch.value <= *loss)) else {
        from_a_full_gut(view, draft, &act);
        return;
    };
    // With a meal inside, how much of it is still there is an estimate: only what the scale itself shows is firm.
    let loss = if last.is_empty {
        loss
    } else {
        let from_g = reference.empty_g.unwrap_or(reference.mass_g);
        let shown = 100.0 * (from_g - last.mass_g) / from_g;
        if shown < watch.value {
            with_a_meal_inside(view, draft, loss, &act);
            return;
        }
        shown
    };
    let vet = if view.is_hatchling() { lines::low("weight_loss_hatchling") } else { lines::low("weight_loss_vet") };
    let urgent = lines::low("weight_loss_emergency");
    let gravid_or_brooding = view.gravid().is_some();
    let falls = falls_without_a_break(view);
    let eats = falls && eats(view, &reference);
    let steady = falls && (eats || draft.is_in(State::Fasting));
    let (code, severity, line): (Code, Severity, &Line) = if urgent.value <= loss {
        (Code::MassLossVet, Severity::Urgent, &urgent)
    } else if vet.value <= loss {
        (Code::MassLossVet, Severity::Vet, &vet)
    } else if act.value <= loss && steady && !gravid_or_brooding {
        (Code::MassLossWatch, Severity::Act, &act)
    } else {
        (Code::MassLossWatch, Severity::Watch, &watch)
    };
    let span = last.at.days_since(reference.at);
    let from_g = reference.empty_g.unwrap_or(reference.mass_g);
    let to_g = if last.is_empty { last.empty_g.unwrap_or(last.mass_g) } else { last.mass_g };
    let says = format!(
        "{} % lighter than {} ago: {} then, {} now, the gut empty in the weighing it is measured against.",
        number(loss),
        days(span),
        grams(from_g),
        grams(to_g)
    );
    let does = match (code, draft.is_in(State::Brumating)) {
        (Code::MassLossVet, true) => {
            "End the winter rest: warm it over a week, no meal before it has been warm for a week, and call a reptile veterinarian."
        }
        (Code::MassLossVet, false) => {
            "Weigh it once more to be sure, then call a reptile veterinarian and take the records along."
        }
        _ if severity == Severity::Act && eats => {
            "It eats and still loses: take a fresh stool to a reptile veterinarian, look at heat by day and night, mites and mouth today, and weigh every week."
        }
        _ if severity == Severity::Act => {
            "Look for the cause today: heat by day and night, mites, mouth, waste; weigh every week."
        }
        _ => "Weigh every week, gut empty, and check heat and appetite.",
    };
    let records =
        [reference.index, last.index].into_iter().filter_map(|index| view.line.weighings.get(index)).map(seen);
    let finding = Finding::new(code, severity, RULE.key, says, does).on(records).by(line, "%");
    draft.find(if Severity::Vet <= severity { finding.caution("call-veterinarian") } else { finding });
}

/// Lighter only by what is reckoned to be still inside.
fn with_a_meal_inside(view: &View<'_>, draft: &mut Draft, loss: f64, line: &Line) {
    let Some(last) = view.masses.last().filter(|_| line.value <= loss) else { return };
    let says = format!(
        "{} on {} with a meal inside: what is left of the animal by estimate is {} % lighter than its best of the last year.",
        grams(last.mass_g),
        view.date(last.at),
        number(loss)
    );
    let does = "Weigh it again before the next meal, gut empty: only that tells.";
    let records = view.line.weighings.get(last.index).map(seen);
    let finding = Finding::new(Code::MassLossWatch, Severity::Watch, RULE.key, says, does).on(records);
    draft.find(finding.by(line, "%").sure(crate::answer::Sure::Possible));
}

/// Lighter only against a weighing after which a meal was not two days past digestion: some of the difference is waste.
fn from_a_full_gut(view: &View<'_>, draft: &mut Draft, line: &Line) {
    let masses = &view.masses;
    let (Some(last), Some(heaviest), Some(loss)) = (masses.last(), masses.heaviest, masses.loss_from_heaviest_pct)
    else {
        return;
    };
    if loss < line.value {
        return;
    }
    let (from_g, to_g) = (heaviest.empty_g.unwrap_or(heaviest.mass_g), last.empty_g.unwrap_or(last.mass_g));
    let says = format!(
        "{} % lighter than {} ago ({} then, {} now), but some of the weight then was what a meal leaves behind.",
        number(loss),
        days(last.at.days_since(heaviest.at)),
        grams(from_g),
        grams(to_g)
    );
    let records = [heaviest.index, last.index].into_iter().filter_map(|index| view.line.weighings.get(index)).map(seen);
    let does = "Weigh it before the next meal, gut empty, and compare with that from then on.";
    draft.find(
        Finding::new(Code::MassLossWatch, Severity::Watch, RULE.key, says, does)
            .on(records)
            .by(line, "%")
            .sure(crate::answer::Sure::Possible),
    );
}

/// Has it taken its meals since the weighing it is measured against?
fn eats(view: &View<'_>, reference: &Weighed) -> bool {
    const MEALS: usize = 3;
    let since = view.meals.eaten.iter().filter(|eaten| eaten.stayed && reference.at <= eaten.at.from);
    MEALS <= since.count() && view.meals.refusals.is_empty()
}

/// Are the last four empty weighings each lighter than the one before?
fn falls_without_a_break(view: &View<'_>) -> bool {
    let list = &view.masses.list;
    let last = list.get(list.len().saturating_sub(4)..).unwrap_or_default();
    3 <= last.len()
        && last
            .windows(2)
            .all(|pair| matches!(pair, [a, b] if b.empty_g.unwrap_or(b.mass_g) < a.empty_g.unwrap_or(a.mass_g)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn weighed(masses: &[(&str, f64)], extra: &str) -> crate::Answer {
        let mut text = "at = \"2027-06-15T19:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n".to_owned();
        for (at, mass) in masses {
            text.push_str(&format!("[[weighing]]\nat = \"{at}\"\nmass_g = {mass}\n"));
        }
        text.push_str(extra);
        answer(&text)
    }

    fn severity(answer: &crate::Answer) -> Option<(Code, Severity)> {
        [Code::MassLossWatch, Code::MassLossVet]
            .into_iter()
            .find_map(|code| answer.finding(code).map(|found| (code, found.severity)))
    }

    #[test]
    fn five_ten_and_fifteen_per_cent() {
        for (now_g, expected) in [
            (951.0, None),
            (950.0, Some((Code::MassLossWatch, Severity::Watch))),
            (901.0, Some((Code::MassLossWatch, Severity::Watch))),
            (900.0, Some((Code::MassLossVet, Severity::Vet))),
            (851.0, Some((Code::MassLossVet, Severity::Vet))),
            (850.0, Some((Code::MassLossVet, Severity::Urgent))),
        ] {
            assert_eq!(severity(&weighed(&[("2027-04-01", 1000.0), ("2027-06-14", now_g)], "")), expected, "{now_g} g");
        }
    }

    #[test]
    fn many_small_steps_down_are_seen_too() {
        let steps = [("2027-03-01", 500.0), ("2027-04-01", 480.0), ("2027-05-01", 462.0), ("2027-06-10", 446.0)];
        assert_eq!(severity(&weighed(&steps, "")), Some((Code::MassLossVet, Severity::Vet)));
    }

    #[test]
    fn a_full_belly_is_no_reference_and_no_loss() {
        let fed = "[[meal]]\nat = \"2027-05-30T20:00\"\nmass_g = 60\noutcome = \"taken\"\n[[reading]]\nat = \"2027-06-14\"\nspot = \"warm-air\"\ntemperature_c = 29\n";
        let answer = weighed(&[("2027-05-20", 500.0), ("2027-05-31", 558.0), ("2027-06-14", 503.0)], fed);
        assert_eq!(severity(&answer), None);
    }

    #[test]
    fn with_a_meal_inside_only_the_scale_is_firm() {
        let fed = "[[meal]]\nat = \"2027-06-13T20:00\"\nmass_g = 120\noutcome = \"taken\"\n[[reading]]\nat = \"2027-06-14\"\nspot = \"warm-air\"\ntemperature_c = 29\n";
        //   on the scale a day after 120 g      what is said
        for (now_g, expected) in [
            (1010.0, Some((Code::MassLossWatch, Severity::Watch))),
            (1060.0, None),
            (895.0, Some((Code::MassLossVet, Severity::Vet))),
        ] {
            assert_eq!(
                severity(&weighed(&[("2027-04-01", 1000.0), ("2027-06-14T20:00", now_g)], fed)),
                expected,
                "{now_g} g"
            );
        }
    }

    #[test]
    fn eggs_are_not_lost_weight() {
        let laid = "[[breeding]]\nat = \"2027-06-01\"\nwhat = \"laid\"\ncount = 12\n";
        assert_eq!(severity(&weighed(&[("2027-04-01", 700.0), ("2027-06-02", 520.0)], laid)), None);
    }

    #[test]
    fn a_season_does_not_silence_ten_per_cent() {
        let rest = "[[planned]]\nfrom = \"2027-05-15\"\nuntil = \"2027-07-15\"\nwhat = \"brumation\"\n";
        assert_eq!(
            severity(&weighed(&[("2027-04-01", 500.0), ("2027-06-14", 445.0)], rest)),
            Some((Code::MassLossVet, Severity::Vet))
        );
    }

    #[test]
    fn one_weighing_is_no_course() {
        assert_eq!(severity(&weighed(&[("2027-06-14", 445.0)], "")), None);
    }

    #[test]
    fn one_that_eats_and_still_loses_is_for_acting_on() {
        let meals: String = ["2027-04-10", "2027-04-24", "2027-05-08", "2027-05-22"]
            .iter()
            .map(|day| format!("[[meal]]\nat = \"{day}\"\nmass_g = 25\noutcome = \"taken\"\n"))
            .collect();
        let falling = [("2027-03-20", 500.0), ("2027-05-05", 480.0), ("2027-06-14", 460.0)];
        assert_eq!(
            severity(&weighed(&falling, &meals)),
            Some((Code::MassLossWatch, Severity::Act)),
            "8 % in spite of four meals"
        );
        assert_eq!(
            severity(&weighed(&falling, "")),
            Some((Code::MassLossWatch, Severity::Watch)),
            "nothing is known of its meals"
        );
    }
}
