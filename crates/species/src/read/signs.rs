//! What signs mean. A row for a grade takes what it leaves out from the row for any grade, which stands first.

use super::{File, Table};
use crate::entries::Sign;
use crate::fault::propose;

const ANY: &str = "any";
const GRADES: [&str; 4] = [ANY, "slight", "marked", "severe"];
const SEVERITIES: [&str; 5] = ["note", "watch", "act", "vet", "urgent"];

/// All rows of a file.
pub(crate) fn signs(file: &File<'_>) -> Vec<Sign> {
    let root = Table::root(file);
    let mut signs: Vec<Sign> = Vec::new();
    for table in root.tables("sign") {
        let sign = table.need_text("sign");
        let grade = table.choice("grade", &GRADES, |grade| grade).filter(|grade| *grade != ANY).map(str::to_owned);
        file.name_once("sign and grade", &format!("{sign}, {}", grade.as_deref().unwrap_or(ANY)), &table.at);
        let any = signs.iter().find(|row| row.sign == sign && row.grade.is_none());
        if grade.is_some() && any.is_none() {
            let what = format!("the sign `{sign}` has a row for a grade before one for any grade");
            file.fault(&table.at, what, "write the row with `grade = \"any\"` first");
        }
        let row = row(&table, sign, grade, any);
        table.done();
        signs.push(row);
    }
    root.done();
    signs
}

fn row(table: &Table<'_>, sign: String, grade: Option<String>, any: Option<&Sign>) -> Sign {
    let flag = |key, of: fn(&Sign) -> bool| table.flag(key).unwrap_or_else(|| any.is_some_and(of));
    let words = |key, of: fn(&Sign) -> &String| match any {
        Some(any) => table.text(key).unwrap_or_else(|| of(any).clone()),
        None => table.need_text(key),
    };
    let severity = table.has("severity").then(|| table.choice("severity", &SEVERITIES, |severity| severity)).flatten();
    let (source, status) = match any {
        Some(any) if !table.has_source() => (any.source.clone(), any.status),
        _ => (table.source(), table.status()),
    };
    Sign {
        code: table.text("code").or_else(|| any?.code.clone()),
        severity: severity.map(str::to_owned).or_else(|| any?.severity.clone()),
        stands_days: table.number("stands_days").or_else(|| any?.stands_days),
        each: flag("each", |any| any.each),
        contagious: flag("contagious", |any| any.contagious),
        ill: flag("ill", |any| any.ill),
        weak: flag("weak", |any| any.weak),
        says: words("says", |any| &any.says),
        does: words("does", |any| &any.does),
        caution: caution(table).or_else(|| any?.caution.clone()),
        sign,
        grade,
        source,
        status,
    }
}

fn caution(table: &Table<'_>) -> Option<String> {
    let (caution, at) = table.spanned_text("caution")?;
    let known = &table.file.known.cautions;
    if !known.contains(&caution) {
        let what = format!("there is no caution `{caution}`");
        table.file.fault(&at, what, propose(&caution, known.iter().map(String::as_str)));
    }
    Some(caution)
}
