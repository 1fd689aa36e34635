//! `warmside undo [RECORD]` and `warmside redo`.

use render::wording::Clock;
use store::{Act, ActWhat};
use web::desk::Desk;

use crate::arguments::Undo;
use crate::exit::Done;
use crate::home::Home;
use crate::out::Out;

/// Takes back what was entered last, or one record.
pub fn run(asked: &Undo, home: &Home, out: &mut Out) -> Done {
    let desk = home.writing()?;
    let by = home.by();
    if let Some(id) = &asked.record {
        let stored = desk.find_record(id)?;
        desk.remove(&[stored.head.id], asked.why.as_deref().unwrap_or_default(), &by)?;
        let clock = Clock::new(desk.zone(), desk.now());
        let what = render::wording::fact(&stored.fact, &clock).replace(render::wording::STAY, " ");
        let kind = render::wording::kind(stored.head.kind).to_lowercase();
        out.line(format!("Taken back: {kind}, {what}. `warmside undo` puts it back."));
        return Ok(());
    }
    let act = desk.undo(None, &by)?;
    out.line(format!("Taken back: {}. `warmside redo` puts it back.", said(&act, &desk)));
    Ok(())
}

/// Puts back what `undo` took.
pub fn again(home: &Home, out: &mut Out) -> Done {
    let desk = home.writing()?;
    let act = desk.redo(None, &home.by())?;
    out.line(format!("Put back: {}.", said(&act, &desk)));
    Ok(())
}

/// An act in words.
fn said(act: &Act, desk: &Desk) -> String {
    let clock = Clock::new(desk.zone(), desk.now());
    let what = match act.what {
        ActWhat::Entry | ActWhat::Undoing => act.words(),
        ActWhat::Removal => format!("the removal of {}", act.words()),
    };
    let count = if 1 < act.ids.len() { format!(" ({} records)", act.ids.len()) } else { String::new() };
    format!("{what}{count}, entered by {} {}", act.by, clock.moment(act.at)).replace(render::wording::STAY, " ")
}
