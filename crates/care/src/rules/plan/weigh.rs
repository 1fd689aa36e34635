//! When to weigh and to measure.

use records::facts::Stage;

use crate::answer::{Action, Code, Severity, State, Task};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::people::is_about_the_animal;
use crate::view::{View, days};

/// When to weigh.
pub const WEIGH: Rule = Rule {
    key: "weigh",
    says: "Weighed every week while young, fasting, ill, gravid or new, every fortnight as a subadult, every month as an adult; not with a meal inside, not in a shed.",
    because: "A course of weights tells early what no single one does.",
    sources: &["weigh_hatchling", "weigh_subadult", "weigh_adult", "weigh_fasting", "weigh_brumation"],
    check: weigh,
};
/// When to measure.
pub const MEASURE: Rule = Rule {
    key: "measure",
    says: "Measured every quarter while growing, once a year as an adult.",
    because: "Length decides about the next enclosure, and about mass for length.",
    sources: &["measure_length"],
    check: measure,
};

/// Is it in such danger now that the scale waits? Loss of mass itself is weighed once more.
fn scale_waits(view: &View<'_>, draft: &Draft) -> bool {
    if draft.is_in_emergency() || view.power_out().is_some() {
        return true;
    }
    let about_mass = |code| matches!(code, Code::MassLossVet | Code::Emaciation);
    draft.findings.iter().any(|found| {
        let danger = found.severity == Severity::Urgent && is_about_the_animal(found.code) && !about_mass(found.code);
        danger || (found.code == Code::RewarmSlowly && Severity::Act <= found.severity)
    })
}

fn weigh(view: &View<'_>, draft: &mut Draft) {
    if scale_waits(view, draft) {
        return;
    }
    let loss = [Code::MassLossWatch, Code::MassLossVet].into_iter().any(|code| draft.found(code).is_some());
    let fasting = draft.is_in(State::Fasting) || draft.found(Code::FastLong).is_some();
    let ill = draft.reasons.iter().any(|reason| reason.because.rule == "ill");
    let judged = fasting || loss || ill || draft.is_in(State::Gravid);
    let is_new = draft.is_in(State::Settling);
    let line = if draft.is_in(State::Brumating) {
        lines::low("weigh_brumation")
    } else if judged {
        lines::low("weigh_fasting")
    } else {
        match view.stage {
            Some(Stage::Hatchling | Stage::Juvenile) => lines::low("weigh_hatchling"),
            Some(Stage::Subadult) => lines::low("weigh_subadult"),
            _ => lines::low("weigh_adult"),
        }
    };
    let last = view.line.weighings.iter().rev().find(|one| !one.estimated);
    // Lifted out only when nothing stands against it: the next moment that is free is named instead.
    let blocked = draft.held_until(Action::Move);
    let (from, why) = match last {
        Some(last) => (
            view.day_of(last.at.from.plus_days(line.value)),
            format!(
                "Last weighed on {} ({} ago); every {:.0} d is right now.",
                view.date_of(last.at),
                days(view.days_since(last.at)),
                line.value
            ),
        ),
        None if fasting => (view.today(), "Never weighed here, and the mass decides.".to_owned()),
        None if is_new && !judged => return,
        None => (view.today(), "Never weighed here: the first weight begins its course.".to_owned()),
    };
    let records: Vec<_> = last.map(seen).into_iter().collect();
    match blocked {
        Some(None) if !judged => {}
        Some(Some(until)) if view.now < until && !draft.is_in(State::Brumating) => {
            draft.ahead(Task::Weigh, WEIGH.key, why, from.max(until), None, records)
        }
        _ if from <= view.now => draft.due(Task::Weigh, WEIGH.key, why, from, None, records),
        _ => draft.ahead(Task::Weigh, WEIGH.key, why, from, None, records),
    }
}

fn measure(view: &View<'_>, draft: &mut Draft) {
    let grown = view.is_adult();
    let line: Line = if grown { lines::high("measure_length") } else { lines::low("measure_length") };
    let Some(last) =
        view.line.measurements.iter().rev().find(|one| one.total_length_cm.is_some() || one.snout_vent_cm.is_some())
    else {
        return;
    };
    let from = view.day_of(last.at.from.plus_days(line.value));
    let why = format!("Last measured on {}; every {:.0} d is right at its stage.", view.date_of(last.at), line.value);
    if draft.held_until(Action::Handle).is_some() {
        return;
    }
    if from <= view.now {
        draft.due(Task::Measure, MEASURE.key, why, from, None, vec![seen(last)]);
    } else {
        draft.ahead(Task::Measure, MEASURE.key, why, from, None, vec![seen(last)]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn each_stage_has_its_rhythm() {
        for (stage, day, due) in [
            ("hatchling", "2027-05-08T00:00", true),
            ("hatchling", "2027-05-07T23:00", false),
            ("subadult", "2027-05-15T00:00", true),
            ("subadult", "2027-05-14T23:00", false),
            ("adult", "2027-05-31T00:00", true),
            ("adult", "2027-05-30T23:00", false),
        ] {
            let answer = answer(&format!(
                "at = \"{day}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"{stage}\"\n[[weighing]]\nat = \"2027-05-01\"\nmass_g = 200\n"
            ));
            assert_eq!(answer.due(Task::Weigh).is_some(), due, "{stage} on {day}");
        }
    }

    #[test]
    fn not_with_a_meal_inside() {
        let answer = answer(
            "at = \"2027-06-15T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[weighing]]\nat = \"2027-05-01\"\nmass_g = 400\n[[meal]]\nat = \"2027-06-14T20:00\"\nmass_g = 20\noutcome = \"taken\"\n",
        );
        assert!(answer.due(Task::Weigh).is_none() && answer.ahead.iter().any(|one| one.task == Task::Weigh));
    }

    #[test]
    fn an_adult_is_measured_once_a_year() {
        for (at, due) in [("2028-04-29T12:00", false), ("2028-05-01T12:00", true)] {
            let answer = answer(&format!(
                "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[measurement]]\nat = \"2027-05-01\"\ntotal_length_cm = 120\n"
            ));
            assert_eq!(answer.due(Task::Measure).is_some(), due, "{at}");
        }
    }

    #[test]
    fn the_scale_waits_for_what_is_urgent() {
        for (sign, due) in [("prolapse", false), ("limp", false), ("wheezing", true), ("rubbed-nose", true)] {
            let answer = answer(&format!(
                "at = \"2027-06-15T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[sign]]\nat = \"2027-06-15\"\nsign = \"{sign}\"\n"
            ));
            assert_eq!(answer.due(Task::Weigh).is_some(), due, "{sign}");
        }
    }
}
