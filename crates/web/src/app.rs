//! What every handler has: the desk, and what stands around a page.

use std::collections::HashMap;
use std::sync::Arc;

use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use records::{Fact, RecordId};
use render::pages::form::Form;
use render::pages::frame::{Frame, Noted, Tab};
use render::pages::message;
use render::pages::parts::{Link, RecordIn};
use render::wording::{self, Clock};
use store::{Act, ActWhat, Stored};
use units::Moment;

use crate::asked::Asked;
use crate::assets;
use crate::desk::{Desk, DeskError};

/// The desk behind the pages.
#[derive(Clone, Debug)]
pub struct App {
    desk: Arc<Desk>,
}

/// An answer that is no page of its own.
pub(crate) enum Trouble {
    /// The desk refused, found nothing or failed.
    Desk(DeskError),
    /// There is no such page.
    Nothing,
}

impl From<DeskError> for Trouble {
    fn from(error: DeskError) -> Trouble {
        Trouble::Desk(error)
    }
}

impl From<store::StoreError> for Trouble {
    fn from(error: store::StoreError) -> Trouble {
        Trouble::Desk(error.into())
    }
}

pub(crate) type Answer = Result<Response, Trouble>;

impl App {
    /// The pages of a desk.
    pub fn new(desk: Desk) -> App {
        App { desk: Arc::new(desk) }
    }

    /// Does blocking work on a thread for it, and answers with what comes of it.
    pub(crate) async fn run(
        self,
        asked: Asked,
        work: impl FnOnce(&Desk, &Asked) -> Answer + Send + 'static,
    ) -> Response {
        let done = tokio::task::spawn_blocking(move || {
            let desk = &*self.desk;
            match work(desk, &asked) {
                Ok(response) => response,
                Err(trouble) => trouble_page(desk, &asked, &trouble),
            }
        });
        match done.await {
            Ok(response) => response,
            Err(_) => crate::guard::broken(),
        }
    }
}

/// A page as an answer.
pub(crate) fn html(status: StatusCode, text: String) -> Response {
    let headers = [(header::CONTENT_TYPE, "text/html; charset=utf-8"), (header::CACHE_CONTROL, "no-cache, private")];
    (status, headers, text).into_response()
}

/// A page that is there.
pub(crate) fn ok(text: String) -> Answer {
    Ok(html(StatusCode::OK, text))
}

/// To another page.
pub(crate) fn see(address: &str) -> Answer {
    Ok((StatusCode::SEE_OTHER, [(header::LOCATION, address.to_owned())]).into_response())
}

/// Can anything be written down?
pub(crate) fn is_writable(desk: &Desk) -> bool {
    desk.store().is_writable() && desk.store().newer().is_none()
}

/// What stands around a page.
pub(crate) fn frame(desk: &Desk, asked: &Asked, tab: Tab, title: &str) -> Frame {
    let read_only = if desk.store().newer().is_some() {
        Some("these records were written by a newer version; update Warmside to write.".to_owned())
    } else if !desk.store().is_writable() {
        Some("another program holds the records open for writing.".to_owned())
    } else {
        None
    };
    Frame {
        title: title.to_owned(),
        tab,
        style: assets::href("style.css"),
        script: assets::href("page.js"),
        icon: assets::href("icon.svg"),
        writer: asked.writer.clone(),
        here: asked.here(),
        noted: noted(desk, asked),
        read_only,
    }
}

/// What was just written down, removed or undone, as the address tells.
fn noted(desk: &Desk, asked: &Asked) -> Option<Noted> {
    let clock = Clock::new(desk.zone(), desk.now());
    if let Some(id) = asked.query("noted").and_then(RecordId::read) {
        let stored = desk.store().record(id).ok()??;
        if !stored.head.is_current() {
            return None;
        }
        let says = match together(desk, &stored) {
            several if 1 < several => match stored.fact {
                Fact::Reading(_) => format!("Noted: {}.", wording::counted(several, "reading", "readings")),
                _ => format!(
                    "Noted: {} in {}.",
                    wording::fact(&stored.fact, &clock),
                    wording::counted(several, "place", "places")
                ),
            },
            _ => format!("Noted: {}", in_words(desk, &stored, &clock)),
        };
        return Some(Noted { says, undo: Some(stored.head.batch.to_string()), redo: false });
    }
    if let Some(id) = asked.query("removed").and_then(RecordId::read) {
        let stored = desk.store().record(id).ok()??;
        stored.head.removed.as_ref()?;
        let act =
            desk.last_act(Some(asked.by())).ok()?.filter(|act| act.what == ActWhat::Removal && act.ids.contains(&id));
        let says = format!("Removed: {}", in_words(desk, &stored, &clock));
        return Some(Noted { says, undo: act.map(|act| act.batch.to_string()), redo: false });
    }
    if asked.query("undone").is_some() {
        let act: Option<Act> = desk.store().last_undone(Some(asked.by())).ok()?;
        let says = act.as_ref().map_or("Undone.".to_owned(), |act| format!("Undone: {}.", act.words()));
        return Some(Noted { says, undo: None, redo: act.is_some() });
    }
    None
}

/// How many chores or readings were written down at once with this one.
fn together(desk: &Desk, stored: &Stored) -> usize {
    if !matches!(stored.fact.kind(), records::Kind::Cleaning | records::Kind::Reading) {
        return 1;
    }
    let next = Moment(stored.head.recorded_at.0 + 1);
    let at_once = desk.store().done_on(stored.head.recorded_at, next).unwrap_or_default();
    at_once.iter().filter(|one| one.head.batch == stored.head.batch).count()
}

/// What animals and enclosures are called, looked up once for many records.
pub(crate) struct Names {
    animals: HashMap<RecordId, String>,
    enclosures: HashMap<RecordId, String>,
}

impl Names {
    /// The names of everyone and everything.
    pub fn of(desk: &Desk) -> Result<Names, DeskError> {
        let animal = |row: store::AnimalRow| {
            let name = row.animal.name.unwrap_or_else(|| crate::desk::common_name(&row.animal.species));
            (row.id, name)
        };
        let enclosure =
            |row: store::EnclosureRow| (row.id, row.enclosure.name.unwrap_or_else(|| "an enclosure".to_owned()));
        Ok(Names {
            animals: desk.store().animals(true)?.into_iter().map(animal).collect(),
            enclosures: desk.store().enclosures()?.into_iter().map(enclosure).collect(),
        })
    }

    /// Whom a record is about, with the page that shows it.
    pub fn about(&self, stored: &Stored) -> Option<Link> {
        if let Some(id) = stored.head.animal {
            return self.animals.get(&id).map(|name| Link::to(name, format!("/animals/{id}")));
        }
        let id = stored.head.enclosure?;
        self.enclosures.get(&id).map(|name| Link::to(name, format!("/enclosures/{id}")))
    }
}

/// A record in one line: whom it is about, what kind, what it says.
pub(crate) fn in_words(desk: &Desk, stored: &Stored, clock: &Clock) -> String {
    let says = wording::fact(&stored.fact, clock);
    if matches!(stored.fact, Fact::Animal(_) | Fact::Enclosure(_)) {
        return says;
    }
    let about = about(desk, stored).map_or(String::new(), |link| format!("{}, ", link.text));
    format!("{about}{}: {says}", wording::kind(stored.fact.kind()).to_lowercase())
}

/// Whom a record is about, with the page that shows it.
pub(crate) fn about(desk: &Desk, stored: &Stored) -> Option<Link> {
    Names::of(desk).ok()?.about(stored)
}

/// A record as the pages take it.
pub(crate) fn record_in(stored: &Stored) -> RecordIn<'_> {
    let head = &stored.head;
    RecordIn {
        id: head.id.to_string(),
        fact: &stored.fact,
        happened: head.happened,
        recorded_at: head.recorded_at,
        by: &head.by,
        corrects: head.corrects.map(|id| id.to_string()),
        why: head.why.as_deref(),
        corrected_by: head.corrected_by.map(|id| id.to_string()),
        removed: head.removed.as_ref().map(|removed| (removed.by.as_str(), removed.at, removed.why.as_deref())),
        act: head.batch.to_string(),
        about: None,
    }
}

/// The moment that an address asks for: an hour as it stands, a past day at its end, a coming one at its noon.
pub(crate) fn moment(desk: &Desk, text: Option<&str>) -> Moment {
    let now = desk.now();
    let Some(when) = text.and_then(|text| desk.zone().read(text)) else { return now };
    if when.has_hour() {
        when.from
    } else if when.to <= now {
        Moment(when.to.0 - 60)
    } else if when.from <= now {
        now
    } else {
        when.middle()
    }
}

/// An entry form on a page of its own.
pub(crate) fn form_page(
    desk: &Desk,
    asked: &Asked,
    tab: Tab,
    heading: &str,
    intro: &[String],
    form: &Form,
    back: &Link,
) -> Answer {
    let status = if form.faults.is_empty() && form.doubts.is_empty() {
        StatusCode::OK
    } else {
        StatusCode::UNPROCESSABLE_ENTITY
    };
    let frame = frame(desk, asked, tab, heading);
    Ok(html(status, message::form_page(&frame, heading, intro, form, back)))
}

fn trouble_page(desk: &Desk, asked: &Asked, trouble: &Trouble) -> Response {
    let (status, heading, says): (StatusCode, &str, Vec<String>) = match trouble {
        Trouble::Nothing => {
            (StatusCode::NOT_FOUND, "Nothing is here", vec!["There is no page at this address.".to_owned()])
        }
        Trouble::Desk(error) => {
            let says = error
                .faults()
                .iter()
                .map(|fault| format!("{}: {}.", wording::capital(&fault.what), fault.mend))
                .collect();
            match error {
                DeskError::Faults(_) => (StatusCode::UNPROCESSABLE_ENTITY, "Nothing was written down", says),
                DeskError::NotFound(_) => (StatusCode::NOT_FOUND, "Nothing is here", says),
                DeskError::Busy(_) => (StatusCode::SERVICE_UNAVAILABLE, "Somebody else is writing", says),
                DeskError::Failed(_) => (StatusCode::INTERNAL_SERVER_ERROR, "That did not work", says),
            }
        }
    };
    let frame = frame(desk, asked, Tab::Rounds, heading);
    html(
        status,
        message::page(
            &frame,
            heading,
            &says,
            &[Link::to("To the rounds", "/"), Link::to("To the animals", "/animals")],
        ),
    )
}

/// There is no page at this address.
pub(crate) async fn nothing_here(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |_, _| Err(Trouble::Nothing)).await
}
