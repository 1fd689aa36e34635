//! What the records say of its sheds.

use records::facts::Shed;
use records::timeline::Entry;

use super::{By, Counts, History, Next, Off, Rhythm, before, next};
use crate::answer::{Answer, Code, SourceRef};
use crate::lines;
use crate::study::{Study, source_list, warnings};
use crate::view::{View, days, number, plural};
use crate::what_if::{Amount, Basis, Cell, Dated, Guess, Range, Reckoning, Table, Unit};

/// So many of the last sheds are listed.
const LISTED: usize = 12;

/// The study.
pub fn study(view: &View<'_>, answer: &Answer) -> Reckoning {
    const CODES: [Code; 7] = [
        Code::ShedSoon,
        Code::ShedLate,
        Code::ShedFrequent,
        Code::ShedInPieces,
        Code::RetainedSkin,
        Code::RetainedEyeCap,
        Code::RetainedTailTip,
    ];
    let history = History::of(view);
    let rhythm = Rhythm::of(view, &history);
    let mut to = Reckoning::to(Study::Sheds, Basis::Direct);
    match next(view) {
        Ok(next) => ahead(&mut to, view, &next),
        Err(why) => {
            to.says.push(why.says().to_owned());
            to.untold.push(why.says().to_owned());
        }
    }
    to.says.push(rhythm_in_words(view, &rhythm));
    to.says.extend(left_out(&history));
    to.warnings = warnings(answer, &CODES);
    numbers(&mut to, view, &history, &rhythm);
    to.tables.extend(table(view, &history));
    guesses(&mut to, &rhythm);
    let humidity = view.profile.humidity.shed_pct.first().map(SourceRef::of);
    to.sources = source_list([lines::source("shed_spread"), rhythm.usual.source].into_iter().chain(humidity));
    to
}

fn ahead(to: &mut Reckoning, view: &View<'_>, next: &Next) {
    let range = next.range;
    let from = match next.by {
        By::Rhythm => "by its rhythm",
        By::Dull => "since it is dull",
        By::Blue => "since its eyes are blue",
        By::Cleared => "since its eyes have cleared",
    };
    to.says.push(format!(
        "The next shed is likely between {} and {}, in the middle {}, {from}.",
        view.date(range.low),
        view.date(range.high),
        view.date(range.mid)
    ));
    to.dates.push(Dated { key: "next-shed", says: "the next shed".to_owned(), range });
    for ahead in [7.0, 14.0, 30.0] {
        let Some(chance) = next.within_pct(view.now, ahead) else { continue };
        let key = match ahead as u32 {
            7 => "within-7-days",
            14 => "within-14-days",
            _ => "within-30-days",
        };
        to.amounts.push(Amount::new(
            key,
            format!("chance that it sheds within {ahead} days"),
            Range::exactly(chance),
            Unit::Percent,
        ));
    }
}

fn rhythm_in_words(view: &View<'_>, rhythm: &Rhythm) -> String {
    let usual = match rhythm.usual.range_d {
        Some((low, high)) => format!("{} to {} days are usual for its kind and stage", number(low), number(high)),
        None => format!("about {} are usual at its stage", days(rhythm.usual.days)),
    };
    let stage = if view.stage.is_none() { ", taken as grown, since its stage is not known" } else { "" };
    let own: Vec<String> = rhythm.own_d.iter().map(|days| number(days.round())).collect();
    match own.len() {
        0 => format!("It has no interval of its own yet: {usual}{stage}."),
        1 => format!("Its one interval was {} days; {usual}{stage}.", own.join(", ")),
        _ => {
            let regular = if rhythm.spread_is_own { "; how regular it is counts too" } else { "" };
            format!("Its last intervals were {} days{regular}; {usual}{stage}.", own.join(", "))
        }
    }
}

/// Intervals that do not count, with the reason.
fn left_out(history: &History) -> Option<String> {
    let count = |which: Counts| history.gaps.iter().filter(|gap| gap.counts == which).count();
    let mut parts = Vec::new();
    for (which, why) in [
        (Counts::Doubled, "as if a shed in its middle was not written down"),
        (Counts::TooLong, "too long to hold no shed"),
        (Counts::WinterRest, "with a winter rest in it"),
    ] {
        let count = count(which);
        if 0 < count {
            parts.push(format!("{} {why}", plural(count as f64, "interval")));
        }
    }
    (!parts.is_empty()).then(|| format!("Left out: {}.", parts.join("; ")))
}

fn numbers(to: &mut Reckoning, view: &View<'_>, history: &History, rhythm: &Rhythm) {
    if let Some(last) = history.last() {
        let since = view.now.days_since(last.at.middle()).max(0.0).floor();
        to.amounts.push(Amount::new("since-last-shed", "since the last shed", Range::exactly(since), Unit::Days));
    }
    let law = rhythm.law;
    let interval = Range { low: law.quantile(0.1), mid: law.median(), high: law.quantile(0.9) };
    to.amounts.push(Amount::new("interval", "from one shed to the next, eight of ten", interval, Unit::Days));
}

fn table(view: &View<'_>, history: &History) -> Option<Table> {
    if history.offs.is_empty() {
        return None;
    }
    let rows = history.offs.iter().enumerate().rev().take(LISTED).map(|(place, off)| row(view, history, place, off));
    Some(Table::new(
        "sheds",
        "its sheds, the latest first",
        [
            ("off", "off on"),
            ("after", "after"),
            ("counts", "for the rhythm"),
            ("how", "how"),
            ("humidity", "humidity before it"),
            ("wanted", "wanted"),
        ],
        rows.collect(),
    ))
}

fn row(view: &View<'_>, history: &History, place: usize, off: &Off) -> Vec<Cell> {
    let gap = history.gaps.iter().find(|gap| gap.ended_by == place);
    let counts = match gap.map(|gap| gap.counts) {
        Some(Counts::Yes) => Cell::Says("counts".to_owned()),
        Some(Counts::Doubled) => Cell::Says("left out: was one missed?".to_owned()),
        Some(Counts::TooLong) => Cell::Says("left out: too long".to_owned()),
        Some(Counts::WinterRest) => Cell::Says("left out: winter rest".to_owned()),
        None => Cell::Nothing,
    };
    let shed: Option<&Entry<Shed>> = off.entries.first().and_then(|index| view.line.sheds.get(*index));
    let air = before(view, off.at, shed.and_then(|shed| shed.dull_at));
    let how = match (off.is_bad(), off.pieces, off.stayed_on) {
        (_, Some(pieces), true) if 1 < pieces => format!("in {pieces} pieces, some stayed on"),
        (_, _, true) => "some stayed on".to_owned(),
        (true, Some(pieces), false) => format!("in {pieces} pieces"),
        (_, Some(_), false) => "whole".to_owned(),
        (_, None, false) => "not noted".to_owned(),
    };
    let read = air.damp.as_ref().map(|damp| Range { low: damp.low_pct, mid: damp.mean_pct, high: damp.high_pct });
    let wanted = air.wanted_pct.map(|(low, high)| format!("{} to {} %", number(low), number(high)));
    vec![
        Cell::Says(view.date_of(off.at)),
        gap.map_or(Cell::Nothing, |gap| Cell::Is(Range::exactly(gap.days.round()), Unit::Days)),
        counts,
        Cell::Says(how),
        read.map_or(Cell::Nothing, |range| Cell::Is(range, Unit::Humidity)),
        wanted.filter(|_| read.is_some()).map_or(Cell::Nothing, Cell::Says),
    ]
}

fn guesses(to: &mut Reckoning, rhythm: &Rhythm) {
    let weight = lines::low("shed_prior_weight").value;
    let usual = &rhythm.usual;
    let (low, high) = usual.range_d.unwrap_or((usual.days, usual.days));
    to.guesses.push(Guess {
        key: "usual-interval",
        says: "the interval that is usual for its kind and stage, beside its own".to_owned(),
        range: Range { low, mid: usual.days, high },
        unit: Unit::Days,
        weight: weight / (weight + rhythm.own_d.len() as f64),
        source: usual.source.clone(),
        field: None,
    });
}
