//! The whole answer about one animal.

use care::answer::{Answer, Due, Finding, Forecasts, Hold, PreyAdvice, ProfileUsed, SourceRef};
use units::Moment;

use super::Look;
use super::sheet::{Sheet, column};
use crate::wording::{self, Clock, capital};

/// The answer. `name` is what the animal is called, where it has a name; dates are said from `now`, the reader's.
pub fn answer(answer: &Answer, name: Option<&str>, look: Look) -> String {
    let clock = Clock::new(&answer.zone, answer.at);
    let mut sheet = Sheet::new(look.width);
    head(&mut sheet, answer, name, &clock);
    findings(&mut sheet, answer, look);
    states(&mut sheet, answer, &clock, look);
    holds(&mut sheet, answer, &clock, look);
    tasks(&mut sheet, "Due now", &answer.due, &clock, look);
    tasks(&mut sheet, "Ahead", &answer.ahead, &clock, look);
    if let Some(prey) = &answer.prey {
        prey_that_fits(&mut sheet, prey, look);
    }
    forecasts(&mut sheet, &answer.forecasts, &clock);
    unknown(&mut sheet, answer);
    sheet.finish()
}

fn head(sheet: &mut Sheet, answer: &Answer, name: Option<&str>, clock: &Clock) {
    let mut parts: Vec<String> = name.map(str::to_owned).into_iter().collect();
    let species = species_name(answer);
    parts.push(if parts.is_empty() { capital(&species) } else { species });
    parts.extend(answer.stage.map(|stage| wording::stage(stage).to_owned()));
    parts.extend(answer.age_days.map(|age| age_in_words(age.middle())));
    let when = clock.long_date(answer.zone.date(answer.at));
    sheet.say(0, &format!("{}. {when}, {}.", parts.join(", "), clock.time(answer.at)));
}

fn species_name(answer: &Answer) -> String {
    let profile = species::library().profile(&answer.species);
    let own = profile.filter(|_| answer.profile == ProfileUsed::Own);
    own.and_then(|profile| profile.common_names.first().cloned()).unwrap_or_else(|| answer.name_as_given.clone())
}

/// «5 months old», «3 years old».
fn age_in_words(days: f64) -> String {
    const MONTH_D: f64 = 30.44;
    let months = (days / MONTH_D).floor();
    if days < 2.0 * MONTH_D {
        wording::counted(days.floor().max(0.0) as usize, "day old", "days old")
    } else if months < 24.0 {
        format!("{months:.0} months old")
    } else {
        format!("{:.0} years old", (months / 12.0).floor())
    }
}

fn findings(sheet: &mut Sheet, answer: &Answer, look: Look) {
    for finding in &answer.findings {
        sheet.gap();
        finding_of(sheet, finding, look);
    }
}

fn finding_of(sheet: &mut Sheet, finding: &Finding, look: Look) {
    sheet.item(0, &format!("{}: {}", wording::severity(finding.severity), finding.says));
    sheet.say(2, &finding.does);
    if let Some(caution) = finding.caution {
        sheet.say(2, &format!("Caution: {caution}"));
    }
    if look.why {
        let value = finding.value.zip(finding.unit).filter(|(value, _)| value.is_finite());
        let line =
            value.map(|(value, unit)| format!(", line {}", wording::range(value, value, unit))).unwrap_or_default();
        let sure = records::choice::Choice::key(finding.sure);
        sheet.item(2, &format!("[rule {}{line}; {sure}{}]", finding.rule, sources(&finding.source)));
    }
}

fn sources(list: &[SourceRef]) -> String {
    if list.is_empty() {
        return String::new();
    }
    let each: Vec<String> =
        list.iter().map(|one| format!("{} ({})", one.key, one.status.key().replace('-', " "))).collect();
    format!("; source {}", each.join(", "))
}

fn states(sheet: &mut Sheet, answer: &Answer, clock: &Clock, look: Look) {
    if answer.states.is_empty() {
        return;
    }
    sheet.gap();
    let wide = column(answer.states.iter().map(|one| wording::state(one.state)));
    for one in &answer.states {
        let until = one.until.map(|until| format!("until {}", clock.moment(until))).unwrap_or_default();
        let text = if look.why || until.is_empty() { format!("{}{}", one.why, spaced(&until)) } else { until };
        sheet.row(0, &capital(wording::state(one.state)), wide, &text);
    }
}

fn spaced(text: &str) -> String {
    if text.is_empty() { String::new() } else { format!(" ({text})") }
}

/// Until when something is held, in words.
pub(super) fn until(until: Option<Moment>, ends_with: Option<&str>, clock: &Clock) -> String {
    match (until, ends_with) {
        (Some(until), _) => format!("until {}", clock.moment(until)),
        (None, Some(end)) => format!("until {end}"),
        (None, None) => "for now".to_owned(),
    }
}

fn holds(sheet: &mut Sheet, answer: &Answer, clock: &Clock, look: Look) {
    if answer.holds.is_empty() {
        return;
    }
    sheet.gap();
    sheet.say(0, "Must wait");
    let wide = column(answer.holds.iter().map(|hold| wording::held(hold.action)));
    for hold in &answer.holds {
        hold_of(sheet, hold, clock, wide, look);
    }
}

fn hold_of(sheet: &mut Sheet, hold: &Hold, clock: &Clock, wide: usize, look: Look) {
    let shown = if look.why { hold.because.len() } else { 1 };
    let why: Vec<&str> = hold.because.iter().take(shown).map(|one| one.why.as_str()).collect();
    let until = until(hold.until, hold.ends_with, clock);
    sheet.row(2, &capital(wording::held(hold.action)), wide, &format!("{until}. {}", why.join(" ")));
    if look.why {
        let rules: Vec<&str> = hold.because.iter().map(|one| one.rule).collect();
        sheet.item(2 + wide, &format!("[rule {}]", rules.join(", ")));
    }
}

fn tasks(sheet: &mut Sheet, title: &str, list: &[Due], clock: &Clock, look: Look) {
    if list.is_empty() {
        return;
    }
    sheet.gap();
    sheet.say(0, title);
    let wide = column(list.iter().map(|due| wording::task(due.task)));
    for due in list {
        let when = span(due.from, due.by, clock);
        let text =
            if look.why { format!("{when}. {} [rule {}]", due.why, due.rule) } else { format!("{when}. {}", due.why) };
        sheet.row(2, wording::task(due.task), wide, &text);
    }
}

/// From when something is due, and until when waiting is fine.
pub(super) fn span(from: Moment, by: Option<Moment>, clock: &Clock) -> String {
    let day = clock.day(from);
    let begin = match from {
        from if clock.now() < from => format!("from {day}"),
        _ if day == "today" => "today".to_owned(),
        _ => format!("since {day}"),
    };
    match by {
        Some(by) if clock.now() < by => format!("{begin}, waiting is fine until {}", clock.moment(by)),
        _ => begin,
    }
}

fn prey_that_fits(sheet: &mut Sheet, prey: &PreyAdvice, look: Look) {
    let mut parts = Vec::new();
    parts.extend(prey.mass_g.map(|(low, high)| wording::masses(low, high)));
    let classes: Vec<&str> = prey.classes.iter().map(|class| wording::prey(*class)).collect();
    if !classes.is_empty() {
        parts.push(classes.join(" or "));
    }
    parts.extend(prey.diameter_limit_mm.map(|limit| format!("no thicker than {}", wording::range(limit, limit, "mm"))));
    if parts.is_empty() {
        return;
    }
    sheet.gap();
    sheet.item(0, &format!("Prey that fits: {}.", parts.join(", ")));
    if look.why {
        sheet.say(2, &format!("{} [{}]", prey.why, sources(&prey.source).trim_start_matches("; ")));
    }
}

fn forecasts(sheet: &mut Sheet, all: &Forecasts, clock: &Clock) {
    let dates = [
        ("Next meal taken", &all.next_meal),
        ("Next shed", &all.next_shed),
        ("Next class of prey", &all.prey_step_up),
        ("Next enclosure", &all.enclosure_step_up),
    ];
    let mut rows: Vec<(&str, String)> = Vec::new();
    for (label, range) in dates {
        rows.extend(range.map(|range| {
            let (days, likely) = (clock.days(range.low, range.high), clock.day(range.mid));
            (label, if days == likely { days } else { format!("{days}, most likely {likely}") })
        }));
    }
    let last = |list: &[care::answer::ValueRange]| list.last().copied();
    rows.extend(
        last(&all.mass)
            .map(|one| ("Weight", format!("{} on {}", wording::masses(one.low, one.high), clock.day(one.at)))),
    );
    rows.extend(last(&all.length).map(|one| {
        ("Length", format!("{} to {} on {}", wording::length(one.low), wording::length(one.high), clock.day(one.at)))
    }));
    if rows.is_empty() {
        return;
    }
    sheet.gap();
    sheet.say(0, "Likely");
    let wide = column(rows.iter().map(|(label, _)| *label));
    for (label, text) in &rows {
        sheet.row(2, label, wide, text);
    }
    if let Some(ration) = &all.assumes {
        sheet.say(2, ration);
    }
}

fn unknown(sheet: &mut Sheet, answer: &Answer) {
    if !answer.missing.is_empty() {
        const MOST: usize = 5;
        let names: Vec<&str> = answer.missing.iter().take(MOST).map(|what| wording::missing(*what)).collect();
        sheet.gap();
        sheet.item(0, &format!("Would help most to know: {}.", names.join("; ")));
    }
    if !answer.assumed.is_empty() {
        sheet.gap();
        for sentence in &answer.assumed {
            sheet.item(0, sentence);
        }
    }
}
