//! An animal that is cold: warmed slowly, not fed.

use records::facts::{PlannedWhat, Sign, SignKind};
use records::timeline::Entry;

use super::cold::{Chill, chill_now};
use super::readings::{Climate, capital, is_home};
use crate::answer::{Action, Code, Evidence, Finding, Severity, Sure};
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::signs::Signs;
use crate::view::{View, celsius, number};

/// A chilled animal.
pub const RULE: Rule = Rule {
    key: "chilled",
    says: "A cold or limp animal is warmed slowly over hours and gets no food for 5 days; limp or motionless and cold is urgent, and is not called dead.",
    because: "Fast warming stops the heart, and a meal in a cold gut rots.",
    sources: &["rewarm", "rewarm_first", "chill_no_food"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    // In a winter rest an animal is cold and slow: that is the plan.
    if !is_home(view) || view.is_brumating() {
        return;
    }
    let signs = Signs::of(view);
    let newest = |sign| signs.get(sign).and_then(|standing| standing.records.first().copied());
    let cold = newest(SignKind::ColdToTouch);
    let limp = newest(SignKind::Limp).or_else(|| newest(SignKind::NoMovement));
    let climate = Climate::of(view);
    let measured = chill_now(view, &climate).filter(|chill| Severity::Act <= chill.severity);
    let exposure = limp.and_then(|limp| exposure(view, limp));
    hold_food(view, draft);
    let (severity, sure) = match (cold, limp, &measured, &exposure) {
        (Some(_), Some(_), _, _) | (None, Some(_), Some(_), _) => (Severity::Urgent, Sure::Firm),
        (Some(_), None, _, _) => (Severity::Act, Sure::Firm),
        (None, Some(_), None, Some(_)) => (Severity::Act, Sure::Possible),
        _ => return,
    };
    let says = says(view, cold, limp, measured.as_ref(), exposure.as_ref());
    let (low, high) = (lines::low("rewarm_first").value, lines::high("rewarm_first").value);
    let air = format!("{} to {}", number(low), celsius(high));
    let (from, to) = (lines::low("rewarm").value, lines::high("rewarm").value);
    let hours = format!(" over {} to {} h", number(from), number(to));
    let warm = format!(
        "warm it slowly, in air of {air} first and then to its own range{hours}, with no mat, lamp, bath or bottle against it"
    );
    let does = if severity == Severity::Urgent {
        format!("Call a reptile veterinarian now; meanwhile {warm}.")
    } else {
        format!("{}.", capital(&warm))
    };
    let signs: Vec<Evidence> = [cold, limp].into_iter().flatten().map(seen).collect();
    let places = measured.iter().map(|chill| chill.warmest.record());
    let causes = exposure.iter().flat_map(|exposure| exposure.records.iter().copied());
    let finding = Finding::new(Code::RewarmSlowly, severity, RULE.key, says, does)
        .on(signs.iter().copied())
        .on(places)
        .on(causes)
        .by(&lines::low("rewarm"), "h")
        .caution("chilled")
        .sure(sure);
    let since = [cold, limp].into_iter().flatten().map(|sign| sign.at.from).min().unwrap_or(view.now);
    let why = "It is cold: no more handling than warming it needs.";
    draft.hold_open(Action::Handle, Strength::Emergency, RULE.key, why, since, "it is warm and moves as usual", signs);
    draft.find(finding);
}

/// No food for some days after it was last cold, from when it is warm again where that is noted.
fn hold_food(view: &View<'_>, draft: &mut Draft) {
    let days = lines::low("chill_no_food");
    let last = view.line.signs.iter().rev().find(|sign| sign.sign == SignKind::ColdToTouch);
    let Some(sign) = last else { return };
    let warm_again = sign.cleared_at.map_or(sign.at, |cleared| cleared.max(sign.at));
    let since = if warm_again.has_hour() { warm_again.from } else { warm_again.to };
    let until = since.plus_days(days.value);
    if view.now < until {
        let why =
            format!("It was cold on {}: no meal in the {:.0} days after a chill.", view.date(sign.at.from), days.value);
        draft.hold_until(Action::OfferMeal, Strength::Emergency, RULE.key, why, sign.at.from, until, vec![seen(sign)]);
    }
}

/// What may have chilled it.
struct Exposure {
    what: &'static str,
    records: Vec<Evidence>,
}

/// Was it, shortly before this sign, out of its enclosure, on the road or without power?
fn exposure(view: &View<'_>, sign: &Entry<Sign>) -> Option<Exposure> {
    let days = lines::low("chill_exposure").value;
    let shortly = |ended: units::Moment| sign.at.to.days_since(ended) <= days;
    if let Some((missing, found)) =
        view.last_return().filter(|(_, found)| found.at.from <= sign.at.to && shortly(found.at.to))
    {
        return Some(Exposure { what: "it was out of its enclosure", records: vec![seen(missing), seen(found)] });
    }
    let cut = view
        .line
        .power
        .iter()
        .rev()
        .find(|cut| cut.from.from <= sign.at.to && cut.until.is_none_or(|until| shortly(until.to)));
    if let Some(cut) = cut {
        return Some(Exposure { what: "the power was out", records: vec![seen(cut)] });
    }
    let travel = view.line.planned.iter().rev().find(|plan| {
        let is_travel =
            matches!(plan.what, PlannedWhat::Transport | PlannedWhat::MovingHouse | PlannedWhat::AnimalAway);
        is_travel && plan.from.from <= sign.at.to && shortly(plan.ends())
    });
    travel.map(|plan| Exposure { what: "it was on the road", records: vec![seen(plan)] })
}

fn says(
    view: &View<'_>,
    cold: Option<&Entry<Sign>>,
    limp: Option<&Entry<Sign>>,
    measured: Option<&Chill<'_>>,
    exposure: Option<&Exposure>,
) -> String {
    let still = limp.map(|limp| if limp.sign == SignKind::Limp { "limp" } else { "without movement" });
    let at = cold.or(limp).map(|sign| view.date_of(sign.at)).unwrap_or_default();
    match (cold, still, measured, exposure) {
        (Some(_), Some(still), _, _) => format!(
            "It was cold to the touch and {still} on {at}; it can come back, and it is not to be called dead before it is warm."
        ),
        (Some(_), None, _, _) => format!("It was cold to the touch on {at}."),
        (None, Some(still), Some(chill), _) => {
            format!("It was {still} on {at}, and its warmest place was {}.", celsius(chill.warmest.degrees))
        }
        (None, Some(still), None, Some(exposure)) => {
            format!("It was {still} on {at}, shortly after {}: it may be chilled.", exposure.what)
        }
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{at, read, severity};
    use super::*;
    use crate::answer::Severity::{Act, Urgent};
    use crate::testing::moment;

    fn signs(list: &[&str]) -> String {
        let one = |sign: &&str| format!("[[sign]]\nat = \"2027-04-06T09:00\"\nsign = \"{sign}\"\n");
        list.iter().map(one).collect()
    }

    #[test]
    fn cold_is_warmed_slowly_and_limp_and_cold_is_urgent() {
        let lost = "[[sign]]\nat = \"2027-04-04T20:00\"\nsign = \"missing\"\n[[sign]]\nat = \"2027-04-06T08:00\"\nsign = \"found\"\n";
        let moved = "[[planned]]\nfrom = \"2027-04-05\"\nuntil = \"2027-04-05\"\nwhat = \"transport\"\n";
        let cut = "[[power]]\nfrom = \"2027-04-05T18:00\"\nuntil = \"2027-04-06T02:00\"\n";
        let cold_air = read(&["warm-air 09:00 21"]);
        for (seen, more, expected) in [
            (&[][..], "", None),
            (&["cold-to-touch"], "", Some(Act)),
            (&["cold-to-touch", "limp"], "", Some(Urgent)),
            (&["cold-to-touch", "no-movement"], "", Some(Urgent)),
            (&["limp"], "", None),
            (&["limp"], lost, Some(Act)),
            (&["limp"], moved, Some(Act)),
            (&["limp"], cut, Some(Act)),
            (&["limp"], cold_air.as_str(), Some(Urgent)),
            (&[], cold_air.as_str(), None),
            (&[], lost, None),
        ] {
            let answer = at("2027-04-06T10:00", "ball_python", &format!("{}{more}", signs(seen)));
            assert_eq!(severity(&answer, Code::RewarmSlowly), expected, "{seen:?} {more}");
        }
    }

    #[test]
    fn no_food_for_five_days_after_it_was_cold() {
        let cold = signs(&["cold-to-touch"]);
        let answer = at("2027-04-06T10:00", "ball_python", &cold);
        assert_eq!(answer.hold(Action::OfferMeal).unwrap().until, Some(moment("2027-04-11T09:00")));
        assert_eq!(answer.hold(Action::Handle).unwrap().until, None, "until it is warm");
        assert!(at("2027-04-11T09:00", "ball_python", &cold).hold(Action::OfferMeal).is_none());
        let cleared = format!("{cold}cleared_at = \"2027-04-07T09:00\"\n");
        let warm = at("2027-04-07T12:00", "ball_python", &cleared);
        assert_eq!(
            warm.hold(Action::OfferMeal).unwrap().until,
            Some(moment("2027-04-12T09:00")),
            "from when it was warm"
        );
        assert!(warm.hold(Action::Handle).is_none() && warm.finding(Code::RewarmSlowly).is_none());
    }

    #[test]
    fn in_a_winter_rest_it_is_cold_to_the_touch() {
        let rest = "[[planned]]\nfrom = \"2027-03-01\"\nuntil = \"2027-04-20\"\nwhat = \"brumation\"\n";
        let answer = at("2027-04-06T10:00", "corn_snake", &format!("{rest}{}", signs(&["cold-to-touch"])));
        assert!(answer.findings.iter().all(|one| one.rule != RULE.key));
    }
}
