//! What the rules write into: findings, holds, tasks and what is missing, gathered and put in order at the end.

use std::borrow::Cow;

use records::facts::Recorded;
use records::timeline::{Entry, Key};
use species::{Figure, Rule as GeneralRule};
use units::{Moment, When};

use crate::answer::{
    Action, Because, Code, Due, Evidence, Finding, Missing, Severity, SourceRef, Standing, State, Sure, Task,
};

/// How strong the reason of a hold is: the order when they clash, the strongest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// Life or limb.
    Emergency,
    /// A veterinarian's word, or an animal that needs one.
    Veterinary,
    /// Apart from others.
    Quarantine,
    /// A meal came up.
    Regurgitation,
    /// Skin on its way off.
    PreShed,
    /// A meal inside.
    AfterMeal,
    /// Everything else that was planned.
    Plan,
}

/// One reason to hold one action.
#[derive(Clone, Debug)]
pub struct Reason {
    pub(crate) action: Action,
    pub(crate) strength: Strength,
    pub(crate) from: Moment,
    pub(crate) ends_with: Option<&'static str>,
    pub(crate) because: Because,
}

/// A finding in the making: [`Draft::find`] gives it to the rule to complete.
pub struct Draft {
    pub(crate) states: Vec<Standing>,
    pub(crate) reasons: Vec<Reason>,
    pub(crate) due: Vec<Due>,
    pub(crate) ahead: Vec<Due>,
    pub(crate) findings: Vec<Finding>,
    pub(crate) missing: Vec<(f64, Missing)>,
    pub(crate) assumed: Vec<String>,
}

impl Draft {
    pub(crate) fn new() -> Draft {
        Draft {
            states: Vec::new(),
            reasons: Vec::new(),
            due: Vec::new(),
            ahead: Vec::new(),
            findings: Vec::new(),
            missing: Vec::new(),
            assumed: Vec::new(),
        }
    }

    /// Says what the animal is in. A state has one entry: of two reasons for it the one that lasts longer is told.
    pub fn state(&mut self, state: State, since: Moment, until: Option<Moment>, why: impl Into<String>) {
        let told = Standing { state, since, until, why: why.into() };
        let Some(there) = self.states.iter_mut().find(|there| there.state == state) else {
            self.states.push(told);
            return;
        };
        let since = there.since.min(told.since);
        if there.until.is_some_and(|until| told.until.is_none_or(|later| until < later)) {
            *there = told;
        }
        there.since = since;
    }

    /// Is the animal in this state?
    pub fn is_in(&self, state: State) -> bool {
        self.states.iter().any(|standing| standing.state == state)
    }

    /// Is this finding there already?
    pub fn found(&self, code: Code) -> Option<&Finding> {
        self.findings.iter().find(|finding| finding.code == code)
    }

    /// The gravest severity so far.
    pub fn worst(&self) -> Option<Severity> {
        self.findings.iter().map(|finding| finding.severity).max()
    }

    /// Holds an action until a moment (the first at which it is allowed again).
    #[expect(
        clippy::too_many_arguments,
        reason = "a hold is said in one breath: what, how strong, by which rule, why, from, until, on which records"
    )]
    pub fn hold_until(
        &mut self,
        action: Action,
        strength: Strength,
        rule: &'static str,
        why: impl Into<String>,
        from: Moment,
        until: Moment,
        records: Vec<Evidence>,
    ) {
        let because = Because { rule, why: why.into(), records, until: Some(until) };
        self.reasons.push(Reason { action, strength, from, ends_with: None, because });
    }

    /// Holds an action until something happens whose day nobody knows: «the shed is off».
    #[expect(
        clippy::too_many_arguments,
        reason = "a hold is said in one breath: what, how strong, by which rule, why, from, until, on which records"
    )]
    pub fn hold_open(
        &mut self,
        action: Action,
        strength: Strength,
        rule: &'static str,
        why: impl Into<String>,
        from: Moment,
        ends_with: &'static str,
        records: Vec<Evidence>,
    ) {
        let because = Because { rule, why: why.into(), records, until: None };
        self.reasons.push(Reason { action, strength, from, ends_with: Some(ends_with), because });
    }

    /// Is an action held so far?
    pub fn is_held(&self, action: Action) -> bool {
        self.reasons.iter().any(|reason| reason.action == action)
    }

    /// Does something stand against handling that is a matter of life: cold, heat, being gone?
    pub fn is_in_emergency(&self) -> bool {
        let emergency = |one: &Reason| one.strength == Strength::Emergency && one.action == Action::Handle;
        self.reasons.iter().any(emergency)
    }

    /// Until when an action is held so far: `None` when it is not, `Some(None)` when the end is open.
    pub fn held_until(&self, action: Action) -> Option<Option<Moment>> {
        let mut ends =
            self.reasons.iter().filter(|reason| reason.action == action).map(|reason| reason.because.until).peekable();
        ends.peek()?;
        Some(ends.try_fold(Moment(i64::MIN), |latest, end| end.map(|end| latest.max(end))))
    }

    /// Adds a task that is open now.
    pub fn due(
        &mut self,
        task: Task,
        rule: &'static str,
        why: impl Into<String>,
        from: Moment,
        by: Option<Moment>,
        records: Vec<Evidence>,
    ) {
        if !self.due.iter().any(|due| due.task == task) {
            self.due.push(Due { task, from, by, rule, why: why.into(), records });
        }
    }

    /// Adds a task that comes later.
    pub fn ahead(
        &mut self,
        task: Task,
        rule: &'static str,
        why: impl Into<String>,
        from: Moment,
        by: Option<Moment>,
        records: Vec<Evidence>,
    ) {
        if !self.ahead.iter().any(|due| due.task == task) {
            self.ahead.push(Due { task, from, by, rule, why: why.into(), records });
        }
    }

    /// Adds a finding. Complete it with the methods of [`Finding`]. A finding that is there already is kept once: the
    /// graver severity, and the records of both.
    pub fn find(&mut self, finding: Finding) {
        match self.findings.iter_mut().find(|there| there.code == finding.code) {
            None => self.findings.push(finding),
            Some(there) => {
                let mut both = std::mem::take(&mut there.records);
                both.extend(finding.records.iter().filter(|one| !both.contains(one)).copied().collect::<Vec<_>>());
                if there.severity < finding.severity {
                    *there = finding;
                }
                there.records = both;
            }
        }
    }

    /// Says that something is not known, with how much it would help here (0 to 100).
    pub fn miss(&mut self, what: Missing, weight: f64) {
        match self.missing.iter_mut().find(|(_, there)| *there == what) {
            Some((there, _)) => *there = there.max(weight),
            None => self.missing.push((weight, what)),
        }
    }

    /// Makes something matter more if it turns out to be missing (the last rule sees to that).
    pub fn need(&mut self, what: Missing, more: f64) {
        match self.missing.iter_mut().find(|(_, there)| *there == what) {
            Some((weight, _)) => *weight += more,
            None => self.missing.push((more, what)),
        }
    }

    /// Says what was assumed.
    pub fn assume(&mut self, sentence: impl Into<String>) {
        let sentence = sentence.into();
        if !self.assumed.contains(&sentence) {
            self.assumed.push(sentence);
        }
    }
}

impl Finding {
    /// A finding with its two sentences. Without a line of its own ([`Finding::by`]) it rests on the rule's text.
    pub fn new(
        code: Code,
        severity: Severity,
        rule: &'static str,
        says: impl Into<String>,
        does: impl Into<String>,
    ) -> Finding {
        Finding {
            code,
            severity,
            says: says.into(),
            does: does.into(),
            caution: None,
            records: Vec::new(),
            rule,
            value: None,
            unit: None,
            source: Vec::new(),
            sure: Sure::Firm,
        }
    }

    /// The records it rests on.
    #[must_use]
    pub fn on(mut self, records: impl IntoIterator<Item = Evidence>) -> Finding {
        self.records.extend(records);
        self
    }

    /// The value that decided, its unit and where it comes from.
    #[must_use]
    pub fn by(mut self, line: &Line, unit: &'static str) -> Finding {
        self.value = Some(line.value);
        self.unit = Some(unit);
        self.source.push(line.source.clone());
        self
    }

    /// A source without a value.
    #[must_use]
    pub fn from(mut self, source: SourceRef) -> Finding {
        self.source.push(source);
        self
    }

    /// The caution that belongs beside it, by its key in `cautions.toml`; its source is added.
    #[must_use]
    pub fn caution(mut self, key: &str) -> Finding {
        if let Some(caution) = species::library().caution(key) {
            self.caution = Some(caution.text.as_str());
            if self.source.is_empty() {
                self.source.push(SourceRef { key: Cow::Borrowed(caution.source.as_str()), status: caution.status });
            }
        }
        self
    }

    /// How sure it is.
    #[must_use]
    pub fn sure(mut self, sure: Sure) -> Finding {
        self.sure = sure;
        self
    }
}

/// A threshold with its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The value.
    pub value: f64,
    /// Where it comes from.
    pub source: SourceRef,
}

impl Line {
    /// The low end of a figure.
    pub fn low(figure: &Figure) -> Line {
        Line { value: figure.low, source: SourceRef::of(figure) }
    }

    /// The high end of a figure.
    pub fn high(figure: &Figure) -> Line {
        Line { value: figure.high, source: SourceRef::of(figure) }
    }

    /// The middle of a figure.
    pub fn middle(figure: &Figure) -> Line {
        Line { value: figure.middle(), source: SourceRef::of(figure) }
    }

    /// The same source with another value.
    #[must_use]
    pub fn with(&self, value: f64) -> Line {
        Line { value, source: self.source.clone() }
    }
}

impl SourceRef {
    /// The source of a figure.
    pub fn of(figure: &Figure) -> SourceRef {
        SourceRef { key: Cow::Owned(figure.source.clone()), status: figure.status }
    }

    /// The source of a general rule.
    pub fn rule(rule: &'static GeneralRule) -> SourceRef {
        SourceRef { key: Cow::Borrowed(rule.source.as_str()), status: rule.status }
    }
}

/// The key of a record with its date.
pub fn seen<T: Recorded>(entry: &Entry<T>) -> Evidence {
    Evidence { key: entry.key, at: entry.it.when() }
}

/// The key of a record that has no date.
pub fn undated(key: Key) -> Evidence {
    Evidence { key, at: None }
}

/// The keys of several records.
pub fn all_seen<'a, T: Recorded + 'a>(entries: impl IntoIterator<Item = &'a Entry<T>>) -> Vec<Evidence> {
    entries.into_iter().map(seen).collect()
}

/// A moment as evidence of a key.
pub fn seen_at(key: Key, at: When) -> Evidence {
    Evidence { key, at: Some(at) }
}
