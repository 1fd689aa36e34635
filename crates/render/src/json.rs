//! The answer as JSON: a contract that others rely on. Keys may be added, none is renamed; every date is ISO 8601,
//! with its offset where a zone is known; every quantity names its unit.

use care::answer::{
    Answer, Because, DateRange, Due, Evidence, Finding, Forecasts, Hold, PreyAdvice, ProfileUsed, SourceRef, Standing,
    ValueRange,
};
use records::choice::Choice;
use serde_json::{Map, Value, json};
use units::{Moment, Zone};

mod reckoning;

pub use reckoning::reckoning;
pub(crate) use reckoning::step;

/// The whole answer.
pub fn answer(answer: &Answer) -> Value {
    let zone = &answer.zone;
    let list = |items: Vec<Value>| Value::Array(items);
    json!({
        "at": zone.write(answer.at),
        "zone": zone.name(),
        "species": answer.species,
        "profile": match answer.profile { ProfileUsed::Own => "own", ProfileUsed::Family => "family" },
        "name_as_given": answer.name_as_given,
        "stage": answer.stage.map(Choice::key),
        "age_days": answer.age_days.map(|age| age.middle().floor()),
        "age_days_range": answer.age_days.map(|age| [age.low.floor(), age.high.floor()]),
        "states": list(answer.states.iter().map(|one| state(one, zone)).collect()),
        "holds": list(answer.holds.iter().map(|one| hold(one, zone)).collect()),
        "due": list(answer.due.iter().map(|one| due(one, zone)).collect()),
        "ahead": list(answer.ahead.iter().map(|one| due(one, zone)).collect()),
        "findings": list(answer.findings.iter().map(|one| finding(one, zone)).collect()),
        "prey": answer.prey.as_ref().map(prey),
        "forecasts": forecasts(&answer.forecasts, zone),
        "missing": answer.missing.iter().map(|what| what.key()).collect::<Vec<_>>(),
        "assumed": answer.assumed,
    })
}

fn moment(at: Option<Moment>, zone: &Zone) -> Option<String> {
    at.map(|at| zone.write(at))
}

fn state(one: &Standing, zone: &Zone) -> Value {
    json!({ "state": one.state.key(), "since": zone.write(one.since), "until": moment(one.until, zone), "why": one.why })
}

fn hold(one: &Hold, zone: &Zone) -> Value {
    json!({
        "action": one.action.key(),
        "from": zone.write(one.from),
        "until": moment(one.until, zone),
        "ends_with": one.ends_with,
        "because": one.because.iter().map(|reason| because(reason, zone)).collect::<Vec<_>>(),
    })
}

fn because(one: &Because, zone: &Zone) -> Value {
    json!({ "rule": one.rule, "why": one.why, "records": records(&one.records, zone), "until": moment(one.until, zone) })
}

fn due(one: &Due, zone: &Zone) -> Value {
    json!({
        "task": one.task.key(),
        "from": zone.write(one.from),
        "by": moment(one.by, zone),
        "rule": one.rule,
        "why": one.why,
        "records": records(&one.records, zone),
    })
}

/// One finding.
pub fn finding(one: &Finding, zone: &Zone) -> Value {
    json!({
        "code": one.code.key(),
        "severity": one.severity.key(),
        "says": one.says,
        "do": one.does,
        "caution": one.caution,
        "records": records(&one.records, zone),
        "rule": one.rule,
        "value": one.value,
        "unit": one.unit,
        "source": one.source.iter().map(source).collect::<Vec<_>>(),
        "sure": one.sure.key(),
    })
}

fn source(one: &SourceRef) -> Value {
    json!({ "key": one.key, "status": one.status.key() })
}

fn records(list: &[Evidence], zone: &Zone) -> Vec<Value> {
    let one = |evidence: &Evidence| {
        json!({
            "kind": evidence.key.kind.key(),
            "index": evidence.key.index,
            "line": evidence.key.line,
            "id": evidence.key.id,
            "at": evidence.at.map(|at| zone.write_when(at)),
        })
    };
    list.iter().map(one).collect()
}

fn prey(one: &PreyAdvice) -> Value {
    json!({
        "mass_g": one.mass_g.map(|(low, high)| [low, high]),
        "classes": one.classes.iter().map(|prey| prey.key()).collect::<Vec<_>>(),
        "diameter_limit_mm": one.diameter_limit_mm.map(|limit| (limit * 10.0).round() / 10.0),
        "why": one.why,
        "source": one.source.iter().map(source).collect::<Vec<_>>(),
    })
}

/// Forecasts that would not be honest are absent, not null.
fn forecasts(all: &Forecasts, zone: &Zone) -> Value {
    let dates = |range: &DateRange| json!({ "low": zone.write(range.low), "mid": zone.write(range.mid), "high": zone.write(range.high) });
    let values = |range: &ValueRange| json!({ "at": zone.write(range.at), "low": range.low, "mid": range.mid, "high": range.high });
    let mut out = Map::new();
    let singles = [
        ("next_meal", &all.next_meal),
        ("next_shed", &all.next_shed),
        ("prey_step_up", &all.prey_step_up),
        ("enclosure_step_up", &all.enclosure_step_up),
    ];
    for (key, range) in singles {
        out.extend(range.as_ref().map(|range| (key.to_owned(), dates(range))));
    }
    for (key, list) in [("mass", &all.mass), ("length", &all.length)] {
        if !list.is_empty() {
            out.insert(key.to_owned(), list.iter().map(values).collect());
        }
    }
    out.extend(all.assumes.as_ref().map(|ration| ("assumes".to_owned(), json!(ration))));
    Value::Object(out)
}
