//! Parts that studies share.

use crate::answer::{Answer, Code, Finding, SourceRef};
use crate::what_if::Warning;
use records::choice::Choice;

/// The findings of an assessment of these codes, as warnings, the gravest first.
pub(crate) fn warnings(answer: &Answer, codes: &[Code]) -> Vec<Warning> {
    answer.findings.iter().filter(|one| codes.contains(&one.code)).map(warning).collect()
}

fn warning(one: &Finding) -> Warning {
    let cautions = &species::library().cautions;
    let caution = one.caution.and_then(|text| cautions.iter().find(|caution| caution.text == text));
    Warning {
        key: one.code.key(),
        severity: one.severity,
        says: one.says.clone(),
        does: one.does.clone(),
        source: one.source.first().cloned(),
        caution: caution.map(|caution| caution.key.as_str()),
    }
}

/// Sources, each once.
pub(crate) fn source_list(sources: impl IntoIterator<Item = SourceRef>) -> Vec<SourceRef> {
    let mut list: Vec<SourceRef> = Vec::new();
    for source in sources {
        if !list.contains(&source) {
            list.push(source);
        }
    }
    list
}
