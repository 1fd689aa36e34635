//! What stands on more than one page: a finding, a hold, a task with its buttons, a record in a list.

use care::answer::{
    Action, Answer, Because, Code, Due, Evidence, Finding, Hold, Severity, SourceRef, Standing, State, Task,
};
use care::rounds::{BriefDue, BriefFinding, BriefHold};
use records::choice::Choice;
use records::facts::{CleaningTask, Kind, Prey};
use records::{Fact, Key};
use units::{Moment, When};

use crate::wording::{self, Clock};

/// Words that may lead somewhere.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Link {
    /// The words.
    pub text: String,
    /// Where they lead.
    pub href: Option<String>,
}

impl Link {
    /// Words that lead somewhere.
    pub fn to(text: impl Into<String>, href: impl Into<String>) -> Link {
        Link { text: text.into(), href: Some(href.into()) }
    }
}

/// A source as shown behind a «why».
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceLine {
    /// Its key.
    pub key: String,
    /// What it is.
    pub cite: String,
    /// How it is known, in words.
    pub status: &'static str,
}

/// A rule as shown behind a «why».
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RuleLine {
    /// Its name, with the value where it has one.
    pub name: String,
    /// What it says.
    pub says: &'static str,
    /// Why it is so.
    pub because: &'static str,
}

/// What stands behind a judgement.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Why {
    /// What it is asked of, for those who hear the page: «the meal of Mirri».
    pub about: String,
    /// The reasons.
    pub reasons: Vec<String>,
    /// The records it rests on.
    pub records: Vec<Link>,
    /// The rule with its value.
    pub rule: Option<RuleLine>,
    /// Where the values come from.
    pub sources: Vec<SourceLine>,
    /// How sure it is.
    pub sure: Option<&'static str>,
    /// Where more stands.
    pub more: Option<Link>,
}

impl Why {
    pub(crate) fn is_empty(&self) -> bool {
        self.reasons.is_empty() && self.records.is_empty() && self.rule.is_none() && self.more.is_none()
    }
}

/// A finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FindingView {
    /// Class of the rule at the margin.
    pub class: &'static str,
    /// How much it matters, in words.
    pub label: &'static str,
    /// What it says.
    pub says: String,
    /// What to do.
    pub does: String,
    /// The caution beside it.
    pub caution: Option<String>,
    /// What stands behind it.
    pub why: Why,
}

/// A hold, or several that end together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoldView {
    /// What must wait until when.
    pub says: String,
    /// What stands behind it.
    pub why: Why,
}

/// A button.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Button {
    /// Its words.
    pub text: &'static str,
    /// The field that it sends.
    pub name: &'static str,
    /// The value that it sends.
    pub value: String,
    /// Is it the likely one?
    pub main: bool,
}

/// A number that is typed in place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InPlace {
    /// Its field.
    pub name: &'static str,
    /// Its label.
    pub label: String,
    /// Its unit.
    pub unit: &'static str,
    /// Id of the element.
    pub id: String,
}

/// A form of one or two taps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quick {
    /// Where it is sent.
    pub action: String,
    /// What is sent along.
    pub hidden: Vec<(String, String)>,
    /// A number that is typed in place.
    pub number: Option<InPlace>,
    /// Its buttons.
    pub buttons: Vec<Button>,
    /// The whole form.
    pub more: Option<Link>,
}

/// A task.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DueView {
    /// What is to be done.
    pub title: String,
    /// Until when waiting is fine, and since when it is open.
    pub time: Option<String>,
    /// The form that does it.
    pub quick: Option<Quick>,
    /// What stands behind it.
    pub why: Why,
}

/// A state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StateView {
    /// What it is in, and until when.
    pub says: String,
    /// Why.
    pub why: String,
}

/// A record in a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecordLine {
    /// Its own page.
    pub href: String,
    /// When it happened.
    pub when: String,
    /// Its kind.
    pub kind: &'static str,
    /// What it says.
    pub says: String,
    /// By whom and when it was written down.
    pub written: String,
    /// «corrected» or «removed», where it no longer holds.
    pub gone: Option<String>,
    /// The act that wrote it, where it can be undone.
    pub undo: Option<String>,
}

/// A record as the desk hands it out.
#[derive(Clone, Debug)]
pub struct RecordIn<'a> {
    /// Its id.
    pub id: String,
    /// What it says.
    pub fact: &'a Fact,
    /// When it happened.
    pub happened: Option<When>,
    /// When it was written down.
    pub recorded_at: Moment,
    /// By whom.
    pub by: &'a str,
    /// It stands in the place of an older one.
    pub corrects: Option<String>,
    /// Why it replaces that one.
    pub why: Option<&'a str>,
    /// The one that replaces it.
    pub corrected_by: Option<String>,
    /// Who took it back, when and why.
    pub removed: Option<(&'a str, Moment, Option<&'a str>)>,
    /// The act of entry that wrote it.
    pub act: String,
    /// Whom it is about, in words.
    pub about: Option<String>,
}

impl RecordIn<'_> {
    /// Does it hold now?
    pub fn holds(&self) -> bool {
        self.corrected_by.is_none() && self.removed.is_none()
    }

    /// Its line in a list.
    pub fn line(&self, clock: &Clock) -> RecordLine {
        let gone = match (&self.removed, &self.corrected_by) {
            (Some((by, at, why)), _) => {
                let why = why.map_or(String::new(), |why| format!(": {why}"));
                Some(format!("removed {} by {by}{why}", clock.day(*at)))
            }
            (None, Some(_)) => Some("corrected since".to_owned()),
            (None, None) => None,
        };
        let says = wording::fact(self.fact, clock);
        let about = self.about.as_ref().map_or(String::new(), |about| format!("{about}: "));
        let why = self.why.filter(|why| !why.trim().is_empty()).map_or(String::new(), |why| format!(" ({why})"));
        let corrects = if self.corrects.is_some() { "; a correction" } else { "" };
        RecordLine {
            href: format!("/records/{}", self.id),
            when: self.happened.map_or("–".to_owned(), |when| clock.in_table(when)),
            kind: wording::kind(self.fact.kind()),
            says: format!("{about}{says}"),
            written: format!("by {} {}{corrects}{why}", self.by, clock.day(self.recorded_at)),
            gone,
            undo: self.holds().then(|| self.act.clone()),
        }
    }
}

/// The key of a severity as a class.
fn class(severity: Severity) -> &'static str {
    severity.key()
}

fn status_words(key: &str) -> &'static str {
    match key {
        "verified" => "read in the source",
        "common-practice" => "common practice",
        "from-memory" => "from memory, not checked",
        _ => "set by this household",
    }
}

fn source(reference: &SourceRef) -> SourceLine {
    let cite = species::library().source(&reference.key).map_or_else(String::new, |source| source.cite.clone());
    SourceLine { key: reference.key.to_string(), cite, status: status_words(reference.status.key()) }
}

/// Sources as lines, each once.
pub fn sources(list: &[SourceRef]) -> Vec<SourceLine> {
    let mut lines: Vec<SourceLine> = Vec::new();
    for reference in list {
        let line = source(reference);
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines
}

/// The records behind something, as links where they are kept, by place in the file where they are not.
pub fn records(list: &[Evidence], clock: &Clock) -> Vec<Link> {
    list.iter().map(|one| record(one.key, one.at, clock)).collect()
}

fn record(key: Key, at: Option<When>, clock: &Clock) -> Link {
    let kind = wording::kind(key.kind).to_lowercase();
    let when = at.map_or(String::new(), |at| format!(" of {}", clock.in_table(at)));
    let line = key.line.map_or(String::new(), |line| format!(", line {line}"));
    let href = key.id.map(|id| match key.kind {
        Kind::Animal => format!("/animals/{id}"),
        Kind::Enclosure => format!("/enclosures/{id}"),
        _ => format!("/records/{id}"),
    });
    Link { text: format!("{kind}{when}{line}"), href }
}

/// A rule as shown: its key in words, its value, what it says and why.
fn rule(key: &str, value: Option<f64>, unit: Option<&str>) -> Option<RuleLine> {
    let value = value.map_or(String::new(), |value| {
        format!(", {}", wording::range(value, value, unit_words(unit.unwrap_or_default())))
    });
    let name = format!("{}{value}", key.replace(['-', '_'], " "));
    let known = care::rules::all().find(|rule| rule.key == key);
    Some(RuleLine { name, says: known.map_or("", |rule| rule.says), because: known.map_or("", |rule| rule.because) })
}

/// A unit of the data as it is written beside a number.
pub fn unit_words(unit: &str) -> &str {
    match unit {
        "C" => "°C",
        "d" => "days",
        "pct" => "%",
        other => other,
    }
}

/// The sources of a rule's own values.
fn rule_sources(key: &str) -> Vec<SourceLine> {
    let known = care::rules::all().find(|rule| rule.key == key);
    let references: Vec<SourceRef> =
        known.iter().flat_map(|rule| rule.sources.iter().map(|id| care::lines::source(id))).collect();
    sources(&references)
}

/// A finding with all that stands behind it.
pub fn finding(one: &Finding, clock: &Clock) -> FindingView {
    let sure = match one.sure {
        care::answer::Sure::Firm => "firm",
        care::answer::Sure::Likely => "likely",
        care::answer::Sure::Possible => "possible",
    };
    FindingView {
        class: class(one.severity),
        label: wording::severity(one.severity),
        says: one.says.clone(),
        does: one.does.clone(),
        caution: one.caution.map(str::to_owned),
        why: Why {
            about: one.code.words(),
            reasons: Vec::new(),
            records: records(&one.records, clock),
            rule: rule(one.rule, one.value, one.unit),
            sources: sources(&one.source),
            sure: Some(sure),
            more: None,
        },
    }
}

/// A finding as Rounds knows it; what stands behind it is on the animal's page.
pub fn brief_finding(one: &BriefFinding, animal: &str) -> FindingView {
    let severity = Severity::from_key(&one.severity).unwrap_or(Severity::Note);
    FindingView {
        class: class(severity),
        label: wording::severity(severity),
        says: one.says.clone(),
        does: one.does.clone(),
        caution: one.caution.clone(),
        why: Why {
            about: Code::from_key(&one.code).map_or(one.code.clone(), Choice::words),
            more: Some(Link::to("the records and the rule behind this", format!("/animals/{animal}#{}", one.code))),
            ..Why::default()
        },
    }
}

/// A hold in the form that both an answer and a brief can give.
struct Held {
    action: Action,
    until: Option<Moment>,
    ends_with: Option<String>,
    why: Why,
}

fn hold_views(held: Vec<Held>, clock: &Clock) -> Vec<HoldView> {
    let mut groups: Vec<(Vec<Action>, Held)> = Vec::new();
    for one in held {
        match groups.iter_mut().find(|(_, first)| first.until == one.until && first.ends_with == one.ends_with) {
            Some((actions, first)) => {
                actions.push(one.action);
                for reason in one.why.reasons {
                    if !first.why.reasons.contains(&reason) {
                        first.why.reasons.push(reason);
                    }
                }
                for record in one.why.records {
                    if !first.why.records.contains(&record) {
                        first.why.records.push(record);
                    }
                }
            }
            None => groups.push((vec![one.action], one)),
        }
    }
    let views: Vec<HoldView> = groups
        .into_iter()
        .map(|(actions, held)| {
            let words: Vec<&str> = actions.iter().map(|action| wording::held(*action)).collect();
            let end = match (held.until, &held.ends_with) {
                (Some(until), _) => format!("until {}", clock.moment(until)),
                (None, Some(end)) => format!("until {end}"),
                (None, None) => "for now".to_owned(),
            };
            HoldView { says: format!("{} {end}", wording::listed(&words)), why: held.why }
        })
        .collect();
    joined(views)
}

/// Several holds as one line.
fn joined(views: Vec<HoldView>) -> Vec<HoldView> {
    let mut views = views.into_iter();
    let Some(mut first) = views.next() else { return Vec::new() };
    for view in views {
        first.says = format!("{}; {}", first.says, view.says);
        first.why.reasons.extend(view.why.reasons.into_iter().filter(|one| !one.is_empty()));
        first.why.records.extend(view.why.records);
        first.why.sources.extend(view.why.sources);
        if first.why.rule != view.why.rule {
            first.why.rule = None;
        }
    }
    first.why.reasons.dedup();
    let mut seen = Vec::new();
    first.why.records.retain(|one| {
        !seen.contains(one) && {
            seen.push(one.clone());
            true
        }
    });
    let mut named = Vec::new();
    first.why.sources.retain(|one| {
        !named.contains(one) && {
            named.push(one.clone());
            true
        }
    });
    vec![first]
}

/// Holds of an answer, those that end together as one.
pub fn holds(list: &[Hold], clock: &Clock) -> Vec<HoldView> {
    let reason = |one: &Because| match one.until {
        Some(until) => format!("{} (until {})", one.why, clock.moment(until)),
        None => one.why.clone(),
    };
    let held = |hold: &Hold| {
        let several = 1 < hold.because.len();
        let evidence: Vec<Evidence> = hold.because.iter().flat_map(|one| one.records.iter().copied()).collect();
        Held {
            action: hold.action,
            until: hold.until,
            ends_with: hold.ends_with.map(str::to_owned),
            why: Why {
                about: format!("waiting with {}", wording::free_again(hold.action)),
                reasons: hold.because.iter().map(|one| if several { reason(one) } else { one.why.clone() }).collect(),
                records: records(&evidence, clock),
                rule: hold.because.first().and_then(|one| rule(one.rule, None, None)),
                sources: hold.because.first().map(|one| rule_sources(one.rule)).unwrap_or_default(),
                ..Why::default()
            },
        }
    };
    hold_views(list.iter().map(held).collect(), clock)
}

/// Holds as Rounds knows them.
pub fn brief_holds(list: &[BriefHold], animal: &str, clock: &Clock) -> Vec<HoldView> {
    let held = |hold: &BriefHold| {
        Some(Held {
            action: Action::from_key(&hold.action)?,
            until: hold.until,
            ends_with: hold.ends_with.clone(),
            why: Why {
                about: "waiting".to_owned(),
                reasons: hold.why.clone(),
                more: Some(Link::to("the records behind this", format!("/animals/{animal}#waits"))),
                ..Why::default()
            },
        })
    };
    hold_views(list.iter().filter_map(held).collect(), clock)
}

/// The states of an answer.
pub fn states(list: &[Standing], clock: &Clock) -> Vec<StateView> {
    let view = |one: &Standing| {
        let end = one.until.map_or(String::new(), |until| format!(" until {}", clock.moment(until)));
        let since = if one.state == State::Away { String::new() } else { format!(" since {}", clock.day(one.since)) };
        StateView {
            says: wording::capital(&format!("{}{since}{end}", wording::state(one.state))),
            why: one.why.clone(),
        }
    };
    list.iter().map(view).collect()
}

/// What a meal should be, in words: «one weaned rat, 34–41 g».
pub fn meal_words(classes: &[String], mass_g: Option<(f64, f64)>) -> String {
    let class =
        classes.first().and_then(|key| Prey::from_key(key)).map(|class| format!("one {}", wording::prey(class)));
    let mass = mass_g.map(|(low, high)| wording::masses(low, high));
    match (class, mass) {
        (Some(class), Some(mass)) => format!("{class}, {mass}"),
        (Some(class), None) => class,
        (None, Some(mass)) => mass,
        (None, None) => String::new(),
    }
}

/// What a task's row needs to know of the animal it is about.
pub struct About<'a> {
    /// Its id.
    pub animal: &'a str,
    /// What it is called.
    pub name: &'a str,
    /// Classes of prey that fit.
    pub prey_classes: Vec<String>,
    /// Mass of one meal.
    pub prey_mass_g: Option<(f64, f64)>,
    /// Courses that run.
    pub courses: Vec<String>,
}

/// How rows of tasks are built on a page.
pub struct Rows<'a> {
    /// Dates.
    pub clock: &'a Clock,
    /// Makes a new name for a record.
    pub new_id: &'a mut dyn FnMut() -> String,
    /// The page to come back to.
    pub back: &'a str,
    /// The day that is written for what is done, where it is not today.
    pub on: Option<String>,
    /// Can anything be written down?
    pub writable: bool,
}

impl Rows<'_> {
    fn hidden(&mut self, fields: &[(&str, &str)]) -> Vec<(String, String)> {
        let own = |key: &str, value: &str| (key.to_owned(), value.to_owned());
        let mut hidden = vec![own("id", &(self.new_id)()), own("back", self.back)];
        hidden.extend(self.on.iter().map(|day| own("at", day)));
        hidden.extend(fields.iter().filter(|(_, value)| !value.is_empty()).map(|(key, value)| own(key, value)));
        hidden
    }

    /// The form that does a task, where one or two taps can.
    fn quick(&mut self, task: Task, about: &About<'_>) -> Option<Quick> {
        let log = |kind: Kind| format!("/animals/{}/log/{}", about.animal, kind.key());
        let more = |kind: Kind, query: &str| Some(Link::to("More…", format!("{}?{query}", log(kind))));
        let done = |text: &'static str| vec![Button { text, name: "done", value: "yes".into(), main: true }];
        let back = format!("back={}", crate::address::encoded(self.back));
        let chore = |rows: &mut Self, task: CleaningTask| Quick {
            action: log(Kind::Cleaning),
            hidden: rows.hidden(&[("task", task.key())]),
            number: None,
            buttons: vec![Button { text: wording::chore_done(task), name: "done", value: "yes".into(), main: false }],
            more: None,
        };
        if !self.writable {
            return None;
        }
        Some(match task {
            Task::OfferMeal => {
                let class = about.prey_classes.first().map_or("", String::as_str);
                Quick {
                    action: log(Kind::Meal),
                    hidden: self.hidden(&[("prey", class)]),
                    number: None,
                    buttons: vec![
                        Button { text: "Taken", name: "outcome", value: "taken".into(), main: true },
                        Button { text: "Refused", name: "outcome", value: "refused".into(), main: false },
                    ],
                    more: more(Kind::Meal, &format!("{back}&prey={class}")),
                }
            }
            Task::Weigh => Quick {
                action: log(Kind::Weighing),
                hidden: self.hidden(&[]),
                number: Some(InPlace {
                    name: "mass_g",
                    label: format!("Weight of {} in grams", about.name),
                    unit: "g",
                    id: format!("weigh-{}", about.animal),
                }),
                buttons: done("Note"),
                more: None,
            },
            Task::Measure => Quick {
                action: log(Kind::Measurement),
                hidden: self.hidden(&[]),
                number: Some(InPlace {
                    name: "total_length_cm",
                    label: format!("Length of {} in centimetres", about.name),
                    unit: "cm",
                    id: format!("measure-{}", about.animal),
                }),
                buttons: done("Note"),
                more: more(Kind::Measurement, &back),
            },
            Task::ChangeWater => chore(self, CleaningTask::Water),
            Task::SpotClean => chore(self, CleaningTask::Spot),
            Task::FullClean => chore(self, CleaningTask::Full),
            Task::Handle => Quick {
                action: log(Kind::Handling),
                hidden: self.hidden(&[]),
                number: None,
                buttons: done("Done"),
                more: more(Kind::Handling, &back),
            },
            Task::CheckShed => Quick {
                action: format!("/animals/{}/came-off", about.animal),
                hidden: self.hidden(&[]),
                number: None,
                buttons: vec![Button { text: "Whole", name: "pieces", value: "1".into(), main: true }],
                more: Some(Link::to("Not whole…", format!("/animals/{}/came-off?{back}", about.animal))),
            },
            Task::GiveTreatment => Quick {
                action: log(Kind::Dose),
                hidden: self.hidden(&[]),
                number: None,
                buttons: about
                    .courses
                    .iter()
                    .map(|course| Button {
                        text: if about.courses.len() == 1 { "Given" } else { "" },
                        name: "treatment",
                        value: course.clone(),
                        main: true,
                    })
                    .collect(),
                more: more(Kind::Dose, &back),
            },
            Task::CheckClimate => Quick {
                action: String::new(),
                hidden: Vec::new(),
                number: None,
                buttons: Vec::new(),
                more: Some(Link::to("Enter readings", format!("/animals/{}/readings?{back}", about.animal))),
            },
            Task::QuarantineCheck => Quick {
                action: log(Kind::Weighing),
                hidden: self.hidden(&[]),
                number: Some(InPlace {
                    name: "mass_g",
                    label: format!("Weight of {} in grams", about.name),
                    unit: "g",
                    id: format!("check-{}", about.animal),
                }),
                buttons: done("Note"),
                more: Some(Link::to("Something seen…", format!("{}?{back}", log(Kind::Sign)))),
            },
            Task::VetVisit => Quick {
                action: String::new(),
                hidden: Vec::new(),
                number: None,
                buttons: Vec::new(),
                more: Some(Link::to("Note the visit", format!("{}?{back}&what=vet-visit", log(Kind::Planned)))),
            },
            Task::Restock => Quick {
                action: String::new(),
                hidden: Vec::new(),
                number: None,
                buttons: Vec::new(),
                more: Some(Link::to("Freezer", "/freezer")),
            },
            Task::FaecalTest
            | Task::ThermostatTest
            | Task::LampChange
            | Task::Isolate
            | Task::PreyStepUp
            | Task::EnclosureStepUp
            | Task::LicenceRenewal => return None,
        })
    }

    fn title(task: Task, about: &About<'_>) -> String {
        match task {
            Task::OfferMeal => match meal_words(&about.prey_classes, about.prey_mass_g) {
                words if words.is_empty() => wording::task(task).to_owned(),
                words => format!("Offer {words}"),
            },
            Task::GiveTreatment if about.courses.len() == 1 => format!("Give {}", about.courses.join("")),
            other => wording::task(other).to_owned(),
        }
    }

    fn time(&self, from: Moment, by: Option<Moment>) -> Option<String> {
        let clock = self.clock;
        let open = clock.zone().day_start(clock.now()) > from;
        match (open, by) {
            (true, Some(by)) if clock.now() < by => {
                Some(format!("since {}; waiting is fine until {}", clock.day(from), clock.moment(by)))
            }
            (true, _) => Some(format!("since {}", clock.day(from))),
            (false, Some(by)) if clock.now() < by => Some(format!("by {}", clock.moment(by))),
            (false, _) => None,
        }
    }

    /// A task of an answer.
    pub fn due(&mut self, due: &Due, about: &About<'_>) -> DueView {
        DueView {
            title: Self::title(due.task, about),
            time: self.time(due.from, due.by),
            quick: self.quick(due.task, about),
            why: Why {
                about: wording::task(due.task).to_lowercase(),
                reasons: vec![due.why.clone()],
                records: records(&due.records, self.clock),
                rule: rule(due.rule, None, None),
                sources: rule_sources(due.rule),
                ..Why::default()
            },
        }
    }

    /// A task as Rounds knows it.
    pub fn brief_due(&mut self, due: &BriefDue, about: &About<'_>) -> Option<DueView> {
        let task = Task::from_key(&due.task)?;
        Some(DueView {
            title: Self::title(task, about),
            time: self.time(due.from, due.by),
            quick: self.quick(task, about),
            why: Why {
                about: format!("{}, {}", wording::task(task).to_lowercase(), about.name),
                reasons: vec![due.why.clone()],
                more: Some(Link::to("the records behind this", format!("/animals/{}#due", about.animal))),
                ..Why::default()
            },
        })
    }
}

/// The prey that fits, in words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PreyView {
    /// Mass and classes.
    pub says: String,
    /// Other classes that fit.
    pub also: Option<String>,
    /// The thickest that fits.
    pub thickness: Option<String>,
    /// How it was reckoned.
    pub why: Why,
}

/// Which prey fits.
pub fn prey(answer: &Answer) -> Option<PreyView> {
    let advice = answer.prey.as_ref()?;
    let classes: Vec<String> = advice.classes.iter().map(|class| class.key().to_owned()).collect();
    let says = wording::capital(&meal_words(&classes, advice.mass_g));
    let also: Vec<&str> = advice.classes.iter().skip(1).map(|class| wording::prey(*class)).collect();
    Some(PreyView {
        says: if says.is_empty() { "Not known yet".to_owned() } else { says },
        also: (!also.is_empty()).then(|| wording::listed(&also)),
        thickness: advice
            .diameter_limit_mm
            .map(|limit| format!("not thicker than {}{}mm", wording::number(limit, 0), wording::STAY)),
        why: Why {
            about: "this prey".to_owned(),
            reasons: vec![advice.why.clone()],
            sources: sources(&advice.source),
            ..Why::default()
        },
    })
}
