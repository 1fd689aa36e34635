//! The veterinarian: called where a finding about the animal asks for one.

use records::facts::PlannedWhat;

use crate::answer::{Code, Finding, Severity, Task};
use crate::draft::Draft;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::view::View;

/// A finding asks for a veterinarian.
pub const RULE: Rule = Rule {
    key: "vet-visit",
    says: "Where something about the animal is for a veterinarian, the visit is due; it lies ahead when it is planned, and is done when a course was prescribed since.",
    because: "What was seen once is easily put off.",
    sources: &["vet_call"],
    check,
};

/// Findings about a place, prey or a paper: no veterinarian can mend those.
pub fn is_about_the_animal(code: Code) -> bool {
    !matches!(
        code,
        Code::WarmSurfaceHot
            | Code::WarmSurfaceCool
            | Code::WarmAirHot
            | Code::WarmAirCool
            | Code::CoolSideWarm
            | Code::CoolSideCold
            | Code::NightCold
            | Code::NoGradient
            | Code::HumidityLow
            | Code::HumidityHigh
            | Code::HumidityLowInShed
            | Code::WetFloor
            | Code::HeaterWithoutThermostat
            | Code::HeaterUnguarded
            | Code::HeaterWrongKind
            | Code::ProbeMisplaced
            | Code::ProbeDisagreement
            | Code::SensorFlat
            | Code::SensorGap
            | Code::UnitSuspect
            | Code::Condensation
            | Code::TooColdToDigest
            | Code::ThermostatFaultSuspected
            | Code::PowerOut
            | Code::LivePrey
            | Code::PreyTooHot
            | Code::PreyTooCool
            | Code::ThawUnsafe
            | Code::LidInsecure
            | Code::SharedEnclosure
            | Code::Escape
            | Code::NotSeen
            | Code::Unattended
            | Code::TwoPersonHandling
            | Code::QuarantineBreach
            | Code::QuarantineOpen
    )
}

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let asks = |found: &&Finding| Severity::Vet <= found.severity && is_about_the_animal(found.code);
    let Some(gravest) =
        draft.findings.iter().filter(asks).filter(|found| !is_in_hand(view, found)).max_by_key(|found| found.severity)
    else {
        return;
    };
    let urgent = gravest.severity == Severity::Urgent;
    let says = gravest.says.clone();
    let records = gravest.records.clone();
    let since = records
        .iter()
        .filter_map(|one| one.at)
        .map(|at| at.from)
        .filter(|at| *at <= view.now)
        .max()
        .unwrap_or(view.now);
    let planned = view.line.planned.iter().find(|plan| plan.what == PlannedWhat::VetVisit && view.now < plan.ends());
    if let Some(plan) = planned.filter(|_| !urgent) {
        let why = format!("A visit to the veterinarian is planned for {}: {says}", view.date_of(plan.from));
        if view.now < plan.from.from {
            draft.ahead(Task::VetVisit, RULE.key, why, plan.from.from, Some(plan.ends()), records);
        } else {
            draft.due(Task::VetVisit, RULE.key, why, plan.from.from, Some(plan.ends()), records);
        }
        return;
    }
    let when = if urgent { "Now" } else { "Within a day or two" };
    draft.due(
        Task::VetVisit,
        RULE.key,
        format!("{when}: {says}"),
        view.day_of(since),
        urgent.then_some(view.now),
        records,
    );
}

/// A course was prescribed since, or a visit took place: the veterinarian knows of it.
fn is_in_hand(view: &View<'_>, found: &Finding) -> bool {
    if found.severity == Severity::Urgent {
        return false;
    }
    let Some(last) = found.records.iter().filter_map(|one| one.at).map(|at| at.from).filter(|at| *at <= view.now).max()
    else {
        return false;
    };
    let day = view.day_of(last);
    let treated = view
        .line
        .treatments
        .iter()
        .any(|course| course.prescribed_by.is_some() && day <= course.from.from && course.from.from <= view.now);
    let visited = view
        .line
        .planned
        .iter()
        .any(|plan| plan.what == PlannedWhat::VetVisit && day <= plan.from.from && plan.ends() <= view.now);
    treated || visited
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn with(rest: &str) -> crate::Answer {
        answer(&format!("at = \"2027-06-12T20:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{rest}"))
    }

    fn sign(sign: &str) -> String {
        format!("[[sign]]\nat = \"2027-06-11T08:00\"\nsign = \"{sign}\"\n")
    }

    #[test]
    fn due_where_a_finding_asks_for_a_veterinarian() {
        for (rest, due) in [
            (String::new(), false),
            (sign("rubbed-nose"), false),
            (sign("mites-seen"), false),
            (sign("wheezing"), true),
            (sign("prolapse"), true),
            (sign("missing"), false),
            (sign("dead"), false),
        ] {
            assert_eq!(with(&rest).due(Task::VetVisit).is_some(), due, "{rest}");
        }
    }

    #[test]
    fn heat_alone_is_no_visit() {
        let hot = with("[[reading]]\nat = \"2027-06-12T19:00\"\nspot = \"warm-surface\"\ntemperature_c = 55\n");
        assert!(hot.due(Task::VetVisit).is_none());
    }

    #[test]
    fn a_planned_visit_lies_ahead_but_does_not_put_off_what_is_urgent() {
        let plan = "[[planned]]\nfrom = \"2027-06-14T09:00\"\nuntil = \"2027-06-14T10:00\"\nwhat = \"vet-visit\"\n";
        let wheezing = with(&format!("{}{plan}", sign("wheezing")));
        assert!(wheezing.due(Task::VetVisit).is_none());
        assert!(wheezing.ahead.iter().any(|one| one.task == Task::VetVisit));
        assert!(with(&format!("{}{plan}", sign("prolapse"))).due(Task::VetVisit).is_some());
    }

    #[test]
    fn a_course_prescribed_since_means_that_it_was_seen() {
        let course = |from: &str| {
            format!(
                "[[treatment]]\nname = \"drops\"\nprescribed_by = \"the practice\"\nfrom = \"{from}\"\nevery_hours = 24\ndoses = 9\n"
            )
        };
        for (from, due) in [("2027-06-10T18:00", true), ("2027-06-11T18:00", false)] {
            assert_eq!(
                with(&format!("{}{}", sign("wheezing"), course(from))).due(Task::VetVisit).is_some(),
                due,
                "{from}"
            );
        }
    }
}
