//! From a case to an answer: find the profile, look, run every rule, put in order.

use std::borrow::Cow;

use records::facts::{self, Animal};
use records::{Case, Entry, Fault};
use species::{Found, Library, Override, Profile};
use units::Moment;

use crate::answer::{Answer, Forecasts, Hold, Missing, ProfileUsed, Task};
use crate::draft::{Draft, Reason};
use crate::rules;
use crate::view::View;

/// Assesses one animal at `now`. Fails only where the species cannot be told; the faults say which names are near.
pub fn assess(case: &Case, now: Moment) -> Result<Answer, Vec<Fault>> {
    judge(case, now, rules::forecast::forecasts)
}

/// The same without the forecasts of growth, which take most of the time: what Rounds needs of every animal.
pub fn assess_for_rounds(case: &Case, now: Moment) -> Result<Answer, Vec<Fault>> {
    judge(case, now, rules::forecast::without_growth)
}

fn judge(case: &Case, now: Moment, foretell: fn(&View<'_>, &mut Draft) -> Forecasts) -> Result<Answer, Vec<Fault>> {
    let (profile, used) = profile(&case.animal, &case.overrides)?;
    let view = View::new(case, &profile, now);
    let mut draft = Draft::new();
    for rule in rules::all() {
        let before = draft.findings.len();
        (rule.check)(&view, &mut draft);
        for finding in draft.findings.iter_mut().skip(before).filter(|finding| finding.source.is_empty()) {
            finding.source.extend(rule.sources.iter().map(|id| crate::lines::source(id)));
        }
    }
    Ok(finish(view, draft, used, foretell))
}

/// The profile that serves an animal: the species' own, or its family's general one, with the household's own values.
/// The faults say which names are near, or which value cannot be.
pub fn profile(
    animal: &Entry<Animal>,
    own: &[Entry<facts::Override>],
) -> Result<(Cow<'static, Profile>, ProfileUsed), Vec<Fault>> {
    let library = species::library();
    let (profile, used) = named(library, animal)?;
    if own.is_empty() {
        return Ok((Cow::Borrowed(profile), used));
    }
    let overrides: Vec<Override> = own
        .iter()
        .map(|one| Override {
            path: one.path.clone(),
            low: one.low,
            high: one.high,
            reason: one.reason.clone(),
            by: String::new(),
        })
        .collect();
    match profile.with_overrides(&overrides) {
        Ok(profile) => Ok((Cow::Owned(profile), used)),
        Err(faults) => Err(faults.into_iter().map(|fault| Fault::new(fault.what, "override", fault.mend)).collect()),
    }
}

fn named(library: &'static Library, animal: &Entry<Animal>) -> Result<(&'static Profile, ProfileUsed), Vec<Fault>> {
    let name = animal.species.as_str();
    let family = animal.family.as_deref();
    let place = match animal.key.line {
        Some(line) => format!("[animal], near line {line}, species"),
        None => "species".to_owned(),
    };
    match library.find(name) {
        Found::One(profile) => {
            let used = if profile.general { ProfileUsed::Family } else { ProfileUsed::Own };
            Ok((profile, used))
        }
        Found::Ask { ask, profiles } => {
            let choices: Vec<String> = profiles
                .iter()
                .map(|one| format!("{} ({})", one.common_names.first().map_or("", String::as_str), one.key))
                .collect();
            let what = format!("`{name}` fits more than one profile: {}", ask.why);
            Err(vec![Fault::new(what, place, format!("write one of: {}", choices.join(", ")))])
        }
        Found::None { nearest } => match family.and_then(|family| library.family_profile(family)) {
            Some(profile) => Ok((profile, ProfileUsed::Family)),
            None => {
                let family = match library.family_of(name) {
                    Some(family) => {
                        format!("add its family (by its genus \"{family}\"), whose general profile then serves")
                    }
                    None => "add its family (such as \"Pythonidae\"), whose general profile then serves".to_owned(),
                };
                let mend = if nearest.is_empty() {
                    family
                } else {
                    format!("did you mean {}? Else {family}", nearest.join(", "))
                };
                Err(vec![Fault::new(format!("no profile is called `{name}`"), place, mend)])
            }
        },
    }
}

fn finish(
    view: View<'_>,
    mut draft: Draft,
    used: ProfileUsed,
    foretell: fn(&View<'_>, &mut Draft) -> Forecasts,
) -> Answer {
    let prey = rules::prey::advise(&view, &mut draft);
    let forecasts = foretell(&view, &mut draft);
    let holds = holds(std::mem::take(&mut draft.reasons));
    let name = &view.case.animal.species;
    if used == ProfileUsed::Family {
        draft.assume(format!(
            "There is no profile of its own for {name}: the general profile «{}» serves.",
            view.profile.scientific_name
        ));
    }
    if view.stage.is_none() {
        draft.assume("Its stage is not known: an adult's intervals and a young one's holds serve.");
    }
    let gone = view.is_dead() || view.missing_since().is_some() || view.is_elsewhere();
    // Of a stay the end is known, and what comes after it.
    let back = view.stay().map(|stay| stay.ends()).filter(|_| !view.is_dead() && view.missing_since().is_none());
    if gone {
        draft.due.clear();
        draft.ahead.retain(|ahead| back.is_some_and(|back| back <= ahead.from));
    }
    await_holds(&mut draft, &holds);
    draft.findings.sort_by(|a, b| b.severity.cmp(&a.severity).then(a.code.cmp(&b.code)));
    draft.due.sort_by_key(|due| (due.task != Task::GiveTreatment, due.from));
    draft.ahead.sort_by_key(|due| due.from);
    draft.missing.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let nobody_to_ask_for = view.is_dead() || (view.is_elsewhere() && back.is_none());
    let missing: Vec<Missing> =
        if nobody_to_ask_for { Vec::new() } else { draft.missing.iter().map(|(_, what)| *what).collect() };
    let (at, zone, stage, age_days) = (view.now, view.zone.clone(), view.stage, view.age);
    Answer {
        at,
        zone,
        species: view.profile.key.clone(),
        profile: used,
        name_as_given: name.clone(),
        stage,
        age_days,
        states: draft.states,
        holds,
        due: draft.due,
        ahead: draft.ahead,
        findings: draft.findings,
        prey,
        forecasts: if gone && back.is_none() { Forecasts::default() } else { forecasts },
        missing,
        assumed: draft.assumed,
    }
}

/// What lies ahead does not come before the hold on it ends, and not at all while that end is open; and what is due
/// now comes again only after it was done.
fn await_holds(draft: &mut Draft, holds: &[Hold]) {
    let due: Vec<Task> = draft.due.iter().map(|due| due.task).collect();
    // Another course, another test at the end of a quarantine: each stands for itself.
    let stands_alone = |task| matches!(task, Task::GiveTreatment | Task::FaecalTest);
    draft.ahead.retain(|ahead| stands_alone(ahead.task) || !due.contains(&ahead.task));
    draft.ahead.retain_mut(|ahead| {
        for hold in holds.iter().filter(|hold| ahead.task.needs().contains(&hold.action)) {
            match hold.until {
                Some(until) => {
                    ahead.from = ahead.from.max(until);
                    ahead.by = ahead.by.map(|by| by.max(ahead.from));
                }
                None if ahead.task == Task::Handle => return false,
                None => {}
            }
        }
        true
    });
}

/// One hold per action, its strongest reason first. It ends with the last of its reasons; open, when one is open.
fn holds(mut reasons: Vec<Reason>) -> Vec<Hold> {
    reasons.sort_by_key(|reason| (reason.action, reason.strength));
    let mut holds: Vec<Hold> = Vec::new();
    for reason in reasons {
        match holds.last_mut().filter(|hold| hold.action == reason.action) {
            None => holds.push(Hold {
                action: reason.action,
                from: reason.from,
                until: reason.because.until,
                ends_with: reason.ends_with,
                because: vec![reason.because],
            }),
            Some(hold) => {
                hold.from = hold.from.min(reason.from);
                hold.until = hold.until.zip(reason.because.until).map(|(a, b)| a.max(b));
                hold.ends_with = hold.ends_with.or(reason.ends_with);
                if !hold.because.iter().any(|there| there.rule == reason.because.rule) {
                    hold.because.push(reason.because);
                }
            }
        }
    }
    holds
}
