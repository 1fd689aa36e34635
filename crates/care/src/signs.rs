//! Signs seen on the animal: what each means and how long it stands, from the one table in the species data.
//!
//! Nothing is judged here: what stands beside a sign and makes it graver is in the rules.

use std::collections::HashMap;
use std::sync::LazyLock;

use records::choice::Choice;
use records::facts::{Grade, Sign, SignKind};
use records::timeline::Entry;
use units::Moment;

use crate::answer::{Code, Evidence, Finding, Severity, SourceRef, Sure};
use crate::draft::seen;
use crate::view::{View, capital};

/// What a sign of one grade means.
#[derive(Clone, Debug)]
pub struct Meaning {
    /// The finding it leads to; `None` when it means nothing by itself.
    pub code: Option<Code>,
    /// How much it matters by itself.
    pub severity: Severity,
    /// How long it stands when it is not seen again; `None` until its end is recorded.
    pub stands_days: Option<f64>,
    /// Every record of it stands for itself.
    pub each: bool,
    /// Others are kept apart.
    pub contagious: bool,
    /// No meal and no handling before a veterinarian has spoken.
    pub ill: bool,
    /// A sign of failing strength.
    pub weak: bool,
    /// The sign in a few words.
    pub says: &'static str,
    /// What to do.
    pub does: &'static str,
    /// The caution that belongs beside it.
    pub caution: Option<&'static str>,
    /// Where it comes from.
    pub source: SourceRef,
}

static TABLE: LazyLock<HashMap<(SignKind, Option<Grade>), Meaning>> =
    LazyLock::new(|| species::library().signs.iter().filter_map(meaning_of).collect());

fn meaning_of(row: &'static species::Sign) -> Option<((SignKind, Option<Grade>), Meaning)> {
    let sign = SignKind::from_key(&row.sign)?;
    let grade = row.grade.as_deref().and_then(Grade::from_key);
    let code = row.code.as_deref().and_then(Code::from_key);
    let severity = row.severity.as_deref().and_then(Severity::from_key).unwrap_or(Severity::Note);
    let meaning = Meaning {
        code,
        severity,
        stands_days: row.stands_days,
        each: row.each,
        contagious: row.contagious,
        ill: row.ill,
        weak: row.weak,
        says: row.says.as_str(),
        does: row.does.as_str(),
        caution: row.caution.as_deref(),
        source: SourceRef { key: row.source.as_str().into(), status: row.status },
    };
    Some(((sign, grade), meaning))
}

/// What a sign means. Without a grade, or without a row for its grade, the row for any grade holds.
pub fn meaning(sign: SignKind, grade: Option<Grade>) -> Option<&'static Meaning> {
    TABLE.get(&(sign, grade)).or_else(|| TABLE.get(&(sign, None)))
}

/// A sign that stands at the moment asked about.
#[derive(Clone, Debug)]
pub struct Standing<'a> {
    /// Which.
    pub sign: SignKind,
    /// How marked.
    pub grade: Option<Grade>,
    /// The records that say so, the latest first.
    pub records: Vec<&'a Entry<Sign>>,
    /// What it means.
    pub meaning: &'static Meaning,
}

impl Standing<'_> {
    /// Since when it has been seen without an end.
    pub fn since(&self) -> Option<Moment> {
        self.records.last().map(|first| first.at.from)
    }

    /// The records as evidence.
    pub fn evidence(&self) -> Vec<Evidence> {
        self.records.iter().map(|one| seen(one)).collect()
    }

    /// «wheezing (marked) on 3 May 2027»
    fn words(&self, view: &View<'_>) -> String {
        let grade = self.grade.map(|grade| format!(" ({grade})")).unwrap_or_default();
        let at = self.records.first().map(|last| format!(" on {}", view.date_of(last.at))).unwrap_or_default();
        format!("{}{grade}{at}", self.meaning.says)
    }
}

/// All signs that stand, the gravest first.
#[derive(Clone, Debug, Default)]
pub struct Signs<'a> {
    list: Vec<Standing<'a>>,
}

impl<'a> Signs<'a> {
    /// Those that stand at the moment of the view. The latest record of a sign says whether it stands and how marked
    /// it is; of wounds every one stands for itself until it is noted as gone.
    pub fn of(view: &'a View<'_>) -> Signs<'a> {
        let mut list: Vec<Standing<'a>> = Vec::new();
        for sign in SignKind::ALL {
            let mut records: Vec<&'a Entry<Sign>> = Vec::new();
            let mut meaning: Option<(Option<Grade>, &'static Meaning)> = None;
            for one in view.line.signs.iter().rev().filter(|one| one.sign == *sign) {
                let Some(means) = self::meaning(*sign, one.grade) else { break };
                let over = means.stands_days.is_some_and(|days| one.at.to.plus_days(days) <= view.now);
                if one.cleared_at.is_some() || over {
                    if means.each {
                        continue;
                    }
                    break;
                }
                match &mut meaning {
                    None => meaning = Some((one.grade, means)),
                    Some((grade, there)) => {
                        let same_day =
                            records.first().is_some_and(|last| view.day_of(last.at.from) == view.day_of(one.at.from));
                        if (means.each || same_day) && there.severity < means.severity {
                            (*grade, *there) = (one.grade, means);
                        }
                    }
                }
                records.push(one);
            }
            if let Some((grade, meaning)) = meaning {
                list.push(Standing { sign: *sign, grade, records, meaning });
            }
        }
        list.sort_by_key(|one| std::cmp::Reverse(one.meaning.severity));
        Signs { list }
    }

    /// All of them.
    pub fn iter(&self) -> impl Iterator<Item = &Standing<'a>> {
        self.list.iter()
    }

    /// This sign, if it stands.
    pub fn get(&self, sign: SignKind) -> Option<&Standing<'a>> {
        self.list.iter().find(|one| one.sign == sign)
    }

    /// Does this sign stand?
    pub fn has(&self, sign: SignKind) -> bool {
        self.get(sign).is_some()
    }

    /// Those that lead to a finding, the gravest first.
    pub fn of_code(&self, code: Code) -> Vec<&Standing<'a>> {
        self.list.iter().filter(|one| one.meaning.code == Some(code)).collect()
    }

    /// Those that show failing strength.
    pub fn weak(&self) -> Vec<&Standing<'a>> {
        self.list.iter().filter(|one| one.meaning.weak).collect()
    }

    /// Is it weak by any sign?
    pub fn is_weak(&self) -> bool {
        self.list.iter().any(|one| one.meaning.weak)
    }
}

/// A finding from signs in the making.
#[derive(Clone, Debug)]
pub struct Told {
    /// Which.
    pub code: Code,
    /// How much it matters, with all that stands beside it.
    pub severity: Severity,
    /// What was seen.
    parts: Vec<String>,
    /// What stands beside it and makes it graver or milder.
    beside: Vec<String>,
    does: String,
    caution: Option<&'static str>,
    records: Vec<Evidence>,
    source: Vec<SourceRef>,
    sure: Sure,
}

impl Told {
    /// From the signs of one code, the gravest first; `None` without any.
    pub fn of(view: &View<'_>, code: Code, signs: &[&Standing<'_>]) -> Option<Told> {
        let gravest = signs.first()?;
        let mut told = Told {
            code,
            severity: gravest.meaning.severity,
            parts: signs.iter().map(|one| one.words(view)).collect(),
            beside: Vec::new(),
            does: gravest.meaning.does.to_owned(),
            caution: gravest.meaning.caution,
            records: Vec::new(),
            source: Vec::new(),
            sure: Sure::Firm,
        };
        for one in signs {
            told.records.extend(one.evidence());
            told.from(one.meaning.source.clone());
        }
        Some(told)
    }

    /// Raises it to at least this severity, with the reason and what to do then. Nothing happens when it is as grave.
    pub fn raise(&mut self, to: Severity, because: impl Into<String>, does: impl Into<String>) {
        if self.severity < to {
            self.severity = to;
            self.does = does.into();
            self.caution = Some("call-veterinarian").filter(|_| Severity::Vet <= to).or(self.caution);
            self.beside.push(because.into());
        }
    }

    /// Lowers it, with the reason and what to do then.
    pub fn lower(&mut self, to: Severity, because: impl Into<String>, does: impl Into<String>) {
        if to < self.severity {
            self.severity = to;
            self.does = does.into();
            self.caution = self.caution.filter(|_| Severity::Act <= to);
            self.beside.push(because.into());
        }
    }

    /// Says what stands beside it.
    pub fn beside(&mut self, what: impl Into<String>) {
        self.beside.push(what.into());
    }

    /// What to do instead.
    pub fn does(&mut self, does: impl Into<String>) {
        self.does = does.into();
    }

    /// The caution that belongs beside it.
    pub fn caution(&mut self, key: &'static str) {
        self.caution = Some(key);
    }

    /// How sure it is.
    pub fn sure(&mut self, sure: Sure) {
        self.sure = sure;
    }

    /// More records that it rests on.
    pub fn on(&mut self, records: impl IntoIterator<Item = Evidence>) {
        for one in records {
            if !self.records.contains(&one) {
                self.records.push(one);
            }
        }
    }

    /// A further source.
    pub fn from(&mut self, source: SourceRef) {
        if !self.source.contains(&source) {
            self.source.push(source);
        }
    }

    /// The finding.
    pub fn finding(self, rule: &'static str) -> Finding {
        let mut says = capital(&self.parts.join(", "));
        for one in &self.beside {
            says.push_str("; ");
            says.push_str(one);
        }
        says.push('.');
        let mut finding =
            Finding::new(self.code, self.severity, rule, says, self.does).on(self.records).sure(self.sure);
        finding.source = self.source;
        match self.caution {
            Some(key) => finding.caution(key),
            None => finding,
        }
    }
}
