//! Fed while something stood against a meal.

use records::facts::{Meal, PlannedWhat};
use records::timeline::Entry;
use units::Moment;

use super::plans;
use crate::answer::{Code, Evidence, Finding, Severity};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::{beginnings, is_gone, known_end};
use crate::view::{View, small};

/// A meal that was taken although a hold stood against it, for as long as it lies inside.
pub const RULE: Rule = Rule {
    key: "fed-during-hold",
    says: "A meal taken in blue, while it settles, in a power cut or before what is planned is spoken of while it lies inside; before a winter rest or a journey it is for acting on.",
    because: "Such a meal is brought up sooner than others, and in the cold it rots.",
    sources: &[
        "feed_hold_preshed",
        "arrival_no_feeding",
        "hold_before_visit",
        "hold_round_journey",
        "brumation_empty_before",
        "power_no_food",
    ],
    check,
};

/// What stood against the meal.
struct Against {
    words: String,
    does: String,
    severity: Severity,
    record: Evidence,
    line: Line,
    unit: &'static str,
}

const PEACE: &str =
    "Leave it in peace in its warmth, watch whether the meal comes up, and offer nothing more before the hold is over.";

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) || draft.found(Code::FedEarlyAfterRegurgitation).is_some() {
        return;
    }
    let Some(eaten) = view.meals.last_eaten().filter(|eaten| eaten.stayed) else { return };
    let Some(meal) = view.line.meals.get(eaten.index) else { return };
    let inside_until = eaten.at.to.plus_days(eaten.gut_d());
    if inside_until <= view.now {
        return;
    }
    let against = rest(view, meal, inside_until)
        .or_else(|| plan(view, meal, inside_until))
        .or_else(|| power(view, meal))
        .or_else(|| shed(view, meal))
        .or_else(|| settling(view, meal));
    let Some(against) = against else { return };
    let says = format!("It ate on {}, {}.", view.date_of(meal.at), against.words);
    draft.find(
        Finding::new(Code::FedDuringHold, against.severity, RULE.key, says, against.does)
            .on([seen(meal), against.record])
            .by(&against.line, against.unit),
    );
}

/// In a winter rest, or so shortly before one that the gut is not empty in time.
fn rest(view: &View<'_>, meal: &Entry<Meal>, inside_until: Moment) -> Option<Against> {
    let before = lines::low("brumation_empty_before");
    let plan = view.line.planned.iter().find(|plan| {
        let starts = plan.from.from.plus_days(-before.value);
        plan.what == PlannedWhat::Brumation
            && starts <= meal.at.from
            && meal.at.to < plan.ends()
            && view.now < plan.ends()
    });
    let plan = plan.filter(|_| view.profile.brumation.relevance != "none")?;
    let begun = plan.from.from <= view.now;
    let words = format!(
        "{} the winter rest from {}",
        if begun { "in or shortly before" } else { "shortly before" },
        view.date(plan.from.from)
    );
    let does = if begun {
        "Bring it back to its full warmth until the meal is digested, and begin the rest anew with an empty gut; call a reptile veterinarian if the meal comes up or the belly swells.".to_owned()
    } else {
        format!("Put the rest off until it has had {:.0} days at full warmth without a meal.", before.value)
    };
    let severity = if begun || plan.from.from < inside_until { Severity::Act } else { Severity::Watch };
    Some(Against { words, does, severity, record: seen(plan), line: before, unit: "d" })
}

/// Shortly before, or during, what was planned.
fn plan(view: &View<'_>, meal: &Entry<Meal>, inside_until: Moment) -> Option<Against> {
    let planned = view.line.planned.iter().find_map(|plan| {
        let (from, until, why) = plans::hold(view, plan)?;
        // A plan that was over before the meal, or that begins when it is digested, is none of its business.
        let counts = from <= meal.at.from && meal.at.to < until && plan.from.from < inside_until;
        counts.then_some((plan, why))
    });
    let (plan, why) = planned?;
    let is_journey =
        matches!(plan.what, PlannedWhat::Transport | PlannedWhat::MovingHouse | PlannedWhat::EnclosureChange);
    let line = lines::low(if is_journey { "hold_round_journey" } else { "hold_before_visit" });
    let coming = view.now < plan.from.from;
    let (does, severity) = match (coming, is_journey, plan.what) {
        (true, true, _) => ("Put it off until the meal is digested.", Severity::Act),
        (true, false, PlannedWhat::KeeperAway) => {
            ("Ask somebody to look in on the first two days: a meal can come up as late as that.", Severity::Watch)
        }
        (true, false, PlannedWhat::VetVisit) => {
            ("Tell the practice that it has eaten; they may want another day.", Severity::Watch)
        }
        (true, false, _) => ("Put it off until the meal is digested, or leave the animal at home.", Severity::Watch),
        (false, ..) => (PEACE, Severity::Watch),
    };
    let words = format!("when no meal was wanted: {}", small(why.trim_end_matches('.')));
    Some(Against {
        words,
        does: does.to_owned(),
        severity,
        record: seen(plan),
        line,
        unit: if is_journey { "d" } else { "h" },
    })
}

/// While the power was out.
fn power(view: &View<'_>, meal: &Entry<Meal>) -> Option<Against> {
    let cut = view
        .line
        .power
        .iter()
        .find(|cut| cut.from.to <= meal.at.from && cut.until.is_none_or(|until| meal.at.to <= until.from))?;
    let words = format!("while the power was out from {}", view.date_of(cut.from));
    let line = lines::low("power_food_after");
    let does = format!(
        "Warm this animal first, watch whether the meal comes up, and offer nothing more before the heat has been back for {:.0} h.",
        line.value
    );
    Some(Against { words, does, severity: Severity::Watch, record: seen(cut), line, unit: "h" })
}

/// In blue, with the skin still on.
fn shed(view: &View<'_>, meal: &Entry<Meal>) -> Option<Against> {
    let shed = view.line.sheds.iter().rev().find(|shed| {
        let blue = shed.blue_at.or(shed.cleared_at).is_some_and(|blue| blue.to <= meal.at.from);
        let over = shed.shed_at.map(|off| off.from).or_else(|| view.open_shed().is_none().then_some(Moment(i64::MIN)));
        blue && over.is_none_or(|over| meal.at.to <= over)
    })?;
    let words = "in blue, with its skin still on".to_owned();
    let line = lines::low("feed_hold_preshed");
    Some(Against {
        words,
        does: PEACE.to_owned(),
        severity: Severity::Watch,
        record: seen(shed),
        line,
        unit: "d after shed",
    })
}

/// In the first days in a new place.
fn settling(view: &View<'_>, meal: &Entry<Meal>) -> Option<Against> {
    let line = lines::low("arrival_no_feeding");
    let began = beginnings(view)
        .into_iter()
        .rev()
        .find(|began| began.at.to <= meal.at.from && meal.at.to < known_end(view, began.at).plus_days(line.value))?;
    let words = format!("while it settles ({})", small(&began.words));
    Some(Against { words, does: PEACE.to_owned(), severity: Severity::Watch, record: began.evidence, line, unit: "d" })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    /// A grown corn snake that ate on the evening of 5 May 2027, asked two days later.
    fn fed(rest: &str) -> Option<Severity> {
        let text = format!(
            "at = \"2027-05-07T12:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{rest}\n[[weighing]]\nat = \"2027-04-20\"\nmass_g = 450\n\
             [[meal]]\nat = \"2027-05-05T20:00\"\nmass_g = 25\noutcome = \"taken\"\n"
        );
        answer(&text).finding(Code::FedDuringHold).map(|found| found.severity)
    }

    #[test]
    fn each_hold_has_its_word() {
        let plan = |what: &str, from: &str, until: &str| {
            format!("[[planned]]\nwhat = \"{what}\"\nfrom = \"{from}\"\nuntil = \"{until}\"\n")
        };
        for (rest, severity) in [
            (String::new(), None),
            ("[[shed]]\nblue_at = \"2027-05-03\"\n".to_owned(), Some(Severity::Watch)),
            ("[[shed]]\ndull_at = \"2027-05-03\"\n".to_owned(), None),
            ("[[shed]]\nblue_at = \"2027-05-01\"\nshed_at = \"2027-05-05T10:00\"\n".to_owned(), None),
            ("arrived = \"2027-05-01\"".to_owned(), Some(Severity::Watch)),
            ("arrived = \"2027-04-01\"".to_owned(), None),
            (
                "[[power]]\nfrom = \"2027-05-05T18:00\"\nuntil = \"2027-05-05T22:00\"\n".to_owned(),
                Some(Severity::Watch),
            ),
            (plan("brumation", "2027-05-15", "2027-07-15"), Some(Severity::Watch)),
            (plan("brumation", "2027-05-08", "2027-07-15"), Some(Severity::Act)),
            (plan("brumation", "2027-05-06", "2027-07-15"), Some(Severity::Act)),
            (plan("brumation", "2027-05-21", "2027-07-15"), None),
            (plan("transport", "2027-05-08", "2027-05-08"), Some(Severity::Act)),
            (plan("show", "2027-05-07T14:00", "2027-05-07T16:00"), Some(Severity::Watch)),
            (plan("show", "2027-05-08T14:00", "2027-05-08T16:00"), None),
        ] {
            assert_eq!(fed(&rest), severity, "{rest}");
        }
    }

    #[test]
    fn a_meal_that_went_down_well_is_no_longer_spoken_of() {
        for (at, told) in [("2027-05-11T12:00", true), ("2027-05-13T01:00", false)] {
            let text = format!(
                "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\narrived = \"2027-05-01\"\n[[meal]]\nat = \"2027-05-05\"\noutcome = \"taken\"\n"
            );
            assert_eq!(answer(&text).finding(Code::FedDuringHold).is_some(), told, "{at}");
        }
    }
}
