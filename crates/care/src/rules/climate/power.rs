//! Power cuts: while one lasts, and the day after.

use records::facts::Power;
use records::timeline::Entry;

use super::cold::{chill_now, cold_lines, since_the_cut};
use super::readings::{Climate, Felt, is_home, measured};
use crate::answer::{Action, Code, Finding, Severity, Task};
use crate::draft::{Draft, Strength, seen};
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, celsius};

/// A power cut.
pub const RULE: Rule = Rule {
    key: "power-cut",
    says: "While the power is out the temperature is read every few hours and nothing is fed; after a cut that cooled the enclosure, no food for a day.",
    because: "A meal in a cooling animal is not digested; and a short cut that cooled nothing asks for nothing.",
    sources: &["power_no_food", "power_food_after", "power_measure", "power_cools"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if !is_home(view) {
        return;
    }
    match view.power_out() {
        Some(cut) => out(view, draft, cut),
        None => back(view, draft),
    }
}

fn out(view: &View<'_>, draft: &mut Draft, cut: &Entry<Power>) {
    let climate = Climate::of(view);
    let hours = view.now.hours_since(cut.from.from);
    let measure = lines::low("power_measure");
    let last = since_the_cut(&climate).into_iter().max_by_key(|one| one.at);
    let chill = chill_now(view, &climate);
    let unread_h = last.map_or(hours, |last| view.now.hours_since(last.at));
    let cold = chill.as_ref().is_some_and(|chill| Severity::Act <= chill.severity);
    let unknown = last.is_none() && measure.value <= hours && !view.is_brumating();
    let severity = if cold || unknown { Severity::Act } else { Severity::Watch };
    let long = if hours < 1.0 { "less than an hour".to_owned() } else { format!("{hours:.0} h") };
    let lines = cold_lines(view);
    let says = match &last {
        Some(last) => format!("The power has been out for {long}; {}.", lower(&measured(view, last))),
        None => format!("The power has been out for {long}, and nothing was measured since."),
    };
    let does = if unread_h < measure.value && !cold {
        format!(
            "Keep the enclosure closed and read the temperature again within {:.0} h; under {} it needs warming.",
            measure.value,
            celsius(lines.warn.value)
        )
    } else {
        format!(
            "Read the temperature now and every {:.0} h; wrap the enclosure, and under {} warm the air of an insulated box.",
            measure.value,
            celsius(lines.warn.value)
        )
    };
    if measure.value <= unread_h {
        let why = format!("The power is out and nothing was measured for {unread_h:.0} h.");
        draft.due(Task::CheckClimate, RULE.key, why, view.today(), None, vec![seen(cut)]);
    }
    let why = "The power is out: a meal is not digested in a cooling enclosure.";
    let ends = "the power is back and the enclosure warm for a day";
    let records = vec![seen(cut)];
    draft.hold_open(Action::OfferMeal, Strength::Emergency, RULE.key, why, cut.from.from, ends, records);
    draft.find(
        Finding::new(Code::PowerOut, severity, RULE.key, says, does)
            .on([seen(cut)])
            .on(last.iter().map(Felt::record))
            .by(&lines.warn, "°C")
            .caution("power-cut"),
    );
}

/// With a small letter, for the middle of a sentence.
fn lower(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}

fn back(view: &View<'_>, draft: &mut Draft) {
    let Some((cut, until)) = view.line.power.iter().rev().find_map(|cut| Some((cut, cut.until?))) else { return };
    let after = lines::low("power_food_after");
    let free = until.to.plus_hours(after.value);
    if free <= view.now {
        return;
    }
    let climate = Climate::of(view);
    let warn = cold_lines(view).warn;
    let during: Vec<Felt<'_>> = climate
        .felt
        .iter()
        .filter(|one| cut.from.from <= one.entry.at.to && one.entry.at.from <= until.to)
        .copied()
        .collect();
    let warmest = during.iter().max_by(|a, b| a.degrees.total_cmp(&b.degrees));
    let hours = until.to.hours_since(cut.from.from);
    let cooled = match warmest {
        Some(warmest) => warmest.degrees < warn.value,
        None => lines::low("power_cools").value <= hours,
    };
    let long = if hours < 1.0 { format!("{:.0} minutes", hours * 60.0) } else { format!("{hours:.0} h") };
    let back = view.date_of(until);
    let (says, does, severity) = match (cooled, warmest) {
        (true, Some(warmest)) => (
            format!("The power was out for {long} until {back}; {}.", lower(&measured(view, warmest))),
            "See that the warm side is back in its range, and leave the animal in peace until it has been so for a day.",
            Severity::Watch,
        ),
        (true, None) => (
            format!("The power was out for {long} until {back}, and nothing was measured while it was."),
            "Measure the warm side now, and leave the animal in peace until it has been in its range for a day.",
            Severity::Watch,
        ),
        (false, _) => (
            format!("The power was out for {long} until {back}; nothing cooled that matters."),
            "Look whether every thermostat and timer runs again as it was set.",
            Severity::Note,
        ),
    };
    if cooled {
        let why =
            format!("The power was out for {long}: no meal before the heat has been back for {:.0} h.", after.value);
        let from = cut.from.from;
        draft.hold_until(Action::OfferMeal, Strength::Emergency, RULE.key, why, from, free, vec![seen(cut)]);
    }
    let finding = Finding::new(Code::PowerOut, severity, RULE.key, says, does)
        .on([seen(cut)])
        .on(warmest.filter(|_| cooled).map(Felt::record));
    draft.find(if cooled { finding.by(&after, "h") } else { finding });
}
