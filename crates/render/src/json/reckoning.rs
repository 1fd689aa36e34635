//! The answer to a what-if question as JSON.

use care::what_if::{
    Amount, AtSpot, Basis, Cell, Checked, Curve, Dated, Guess, Limit, Range, Reckoning, Step, Table, Unit, Warning,
};
use records::choice::Choice;
use serde_json::{Map, Value, json};
use units::{Moment, Zone};

use super::source;

/// The whole answer, asked at a moment in a zone. Ranges are 10th, 50th and 90th percentile; an end that is not there
/// is null, with a word that says on which side (`mid_is`: `without-end`).
pub fn reckoning(answer: &Reckoning, at: Moment, zone: &Zone) -> Value {
    let list = |items: Vec<Value>| Value::Array(items);
    json!({
        "question": answer.topic.key(),
        "title": answer.topic.title(),
        "at": zone.write(at),
        "zone": zone.name(),
        "says": answer.says,
        "warnings": list(answer.warnings.iter().map(warning).collect()),
        "dates": list(answer.dates.iter().map(|one| dated(one, zone)).collect()),
        "amounts": list(answer.amounts.iter().map(amount).collect()),
        "checks": list(answer.checks.iter().map(checked).collect()),
        "spots": list(answer.spots.iter().map(spot).collect()),
        "curves": list(answer.curves.iter().map(curve).collect()),
        "limits": list(answer.limits.iter().map(limit).collect()),
        "tables": list(answer.tables.iter().map(table).collect()),
        "steps": list(answer.steps.iter().map(|one| step(one, zone)).collect()),
        "guesses": list(answer.guesses.iter().map(guess).collect()),
        "untold": answer.untold,
        "basis": basis(&answer.basis, zone),
        "cautions": list(answer.cautions.iter().map(|key| caution(key)).collect()),
        "sources": list(answer.sources.iter().map(source).collect()),
    })
}

/// To a ten-thousandth of the unit: finer than anything that is told.
fn number(value: f64) -> Value {
    if value.is_finite() { json!((value * 1e4).round() / 1e4) } else { Value::Null }
}

/// Why a number is not there.
fn word(value: f64) -> Option<&'static str> {
    match value {
        value if value == f64::INFINITY => Some("without-end"),
        value if value == f64::NEG_INFINITY => Some("without-beginning"),
        value if value.is_nan() => Some("not-known"),
        _ => None,
    }
}

fn ends(range: Range) -> Map<String, Value> {
    let mut out = Map::new();
    for (key, value) in [("low", range.low), ("mid", range.mid), ("high", range.high)] {
        out.insert(key.to_owned(), number(value));
        out.extend(word(value).map(|word| (format!("{key}_is"), json!(word))));
    }
    out
}

fn in_unit(range: Range, unit: Unit) -> Value {
    let mut out = ends(range);
    out.insert("unit".to_owned(), json!(unit.key()));
    Value::Object(out)
}

fn caution(key: &str) -> Value {
    json!({ "key": key, "says": species::library().caution(key).map(|one| one.text.as_str()) })
}

fn warning(one: &Warning) -> Value {
    json!({
        "key": one.key,
        "severity": one.severity.key(),
        "says": one.says,
        "do": one.does,
        "source": one.source.as_ref().map(source),
        "caution": one.caution.map(caution),
    })
}

fn dated(one: &Dated, zone: &Zone) -> Value {
    let day = |at: Moment| zone.write(at);
    json!({
        "key": one.key,
        "says": one.says,
        "low": day(one.range.low),
        "mid": day(one.range.mid),
        "high": day(one.range.high),
    })
}

fn checked(one: &Checked) -> Value {
    json!({
        "key": one.key,
        "asks": one.asks,
        "verdict": one.verdict,
        "says": one.says,
        "do": one.does,
        "source": one.source.as_ref().map(source),
    })
}

fn amount(one: &Amount) -> Value {
    json!({
        "key": one.key,
        "says": one.says,
        "range": ends(one.range),
        "unit": one.unit.key(),
        "spot": one.spot.map(Choice::key),
    })
}

fn spot(one: &AtSpot) -> Value {
    json!({
        "spot": one.spot.key(),
        "temperature_c": one.temperature_c.map(ends),
        "humidity_pct": one.humidity_pct.map(ends),
        "measured_c": one.measured_c.map(number),
        "wanted_c": one.wanted_c.map(|(low, high)| json!({ "low": number(low), "high": number(high) })),
    })
}

fn curve(one: &Curve) -> Value {
    let point = |point: &care::what_if::Point| {
        let mut out = ends(point.range);
        out.insert("minutes".to_owned(), number(point.minutes));
        Value::Object(out)
    };
    json!({
        "key": one.key,
        "says": one.says,
        "unit": one.unit.key(),
        "points": one.points.iter().map(point).collect::<Vec<_>>(),
    })
}

fn limit(one: &Limit) -> Value {
    json!({ "says": one.says, "value": number(one.value), "source": source(&one.source) })
}

fn table(one: &Table) -> Value {
    let cell = |cell: &Cell| match cell {
        Cell::Says(text) => json!(text),
        Cell::Is(range, unit) => in_unit(*range, *unit),
        Cell::Nothing => Value::Null,
    };
    json!({
        "key": one.key,
        "says": one.says,
        "columns": one.columns.iter().map(|(key, says)| json!({ "key": key, "says": says })).collect::<Vec<_>>(),
        "rows": one.rows.iter().map(|row| row.iter().map(cell).collect::<Vec<_>>()).collect::<Vec<_>>(),
    })
}

/// One thing to do.
pub(crate) fn step(one: &Step, zone: &Zone) -> Value {
    json!({ "at": one.at.map(|at| zone.write(at)), "do": one.does, "because": one.because })
}

fn guess(one: &Guess) -> Value {
    json!({
        "key": one.key,
        "says": one.says,
        "range": ends(one.range),
        "unit": one.unit.key(),
        "weight": number(one.weight),
        "source": source(&one.source),
        "field": one.field,
    })
}

fn basis(basis: &Basis, zone: &Zone) -> Value {
    match basis {
        Basis::Described => json!({ "is": "described" }),
        Basis::Fitted { from, until, rms_k } => {
            json!({ "is": "fitted", "from": zone.write(*from), "until": zone.write(*until), "rms_k": number(*rms_k) })
        }
        Basis::Direct => json!({ "is": "direct" }),
    }
}
