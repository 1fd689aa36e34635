//! A log of an enclosure: a file or pasted text in, what it says out, and a record of it where that is asked.

use axum::extract::{Multipart, Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use care::twin::calibrate::{self, typed_watts};
use care::what_if::Reckoning;
use records::choice::Choice;
use records::facts::Fitted;
use records::fields::Given;
use records::import::Answers;
use records::{Fact, Fault, Raw, RecordId};
use render::pages::calibrate::{self as view, Sheet, field};
use render::pages::frame::Tab;
use render::wording::Clock;
use store::NewRecord;

use crate::app::{Answer, App, Trouble, frame, html, is_writable};
use crate::asked::Asked;
use crate::desk::{Desk, DeskError};
use crate::log;

/// What was sent: the fields as typed, and the file where one was chosen.
#[derive(Default)]
struct Sent {
    pairs: Vec<(String, String)>,
    file: Option<(String, Vec<u8>)>,
}

impl Sent {
    fn get(&self, key: &str) -> Option<&str> {
        let (_, value) = self.pairs.iter().find(|(name, value)| name == key && !value.trim().is_empty())?;
        Some(value.trim())
    }

    /// The log: its name in messages, and its bytes.
    fn log(&self) -> Result<(&str, &[u8]), Vec<Fault>> {
        if let Some((name, bytes)) = &self.file {
            return Ok((name, bytes));
        }
        let pasted = self.get(field::LOG).map(|text| ("the pasted log", text.as_bytes()));
        pasted.ok_or_else(|| vec![Fault::new("no log was given", "the form", "choose its file, or paste it")])
    }

    fn answers(&self) -> Answers {
        fn word<T: Choice>(text: Option<&str>) -> Option<T> {
            text.and_then(T::from_key)
        }
        Answers {
            date_order: word(self.get(field::DATE_ORDER)),
            decimal: word(self.get(field::DECIMAL)),
            temperature_unit: word(self.get(field::TEMPERATURE_UNIT)),
            ..Answers::default()
        }
    }

    fn watts(&self) -> Result<Option<f64>, Vec<Fault>> {
        let pairs = self.get(field::WATTS).map(|text| (field::WATTS.to_owned(), Raw::Text(text.to_owned())));
        typed_watts(&Given { pairs: pairs.into_iter().collect(), origin: "the form".into() })
    }
}

/// What is kept of a log of an enclosure, in words; and whether it does not hold any more.
pub(crate) fn kept(desk: &Desk, id: RecordId, clock: &Clock) -> Result<Option<(String, bool)>, DeskError> {
    let known = desk.known(Some(id), clock.now())?;
    let row = desk.find_enclosure(&id.to_string())?;
    let Some(fitted) = row.fitted else { return Ok(None) };
    let stored = fitted.key.id.map(|id| desk.store().record(id)).transpose()?.flatten();
    let kept = calibrate::kept(&known);
    let is_outdated = kept.as_ref().is_some_and(|kept| kept.is_outdated);
    let since = stored.map(|stored| stored.head.recorded_at);
    Ok(Some((view::kept(&fitted.it, since, kept.as_ref(), clock), is_outdated)))
}

fn show(
    desk: &Desk,
    asked: &Asked,
    id: RecordId,
    sent: &Sent,
    outcome: Option<Result<&Reckoning, &[Fault]>>,
    became: Option<String>,
) -> Answer {
    let row = desk.find_enclosure(&id.to_string())?;
    let clock = Clock::new(desk.zone(), desk.now());
    let heaters: Vec<_> = row.heaters.iter().map(|heater| heater.it.clone()).collect();
    let status = if matches!(outcome, Some(Err(_))) { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    let sheet = Sheet {
        id: &id.to_string(),
        enclosure: &row.enclosure,
        heaters: &heaters,
        typed: &sent.pairs,
        kept: kept(desk, id, &clock)?.map(|(text, _)| text),
        new_id: desk.new_id().to_string(),
        outcome,
        became,
        writable: is_writable(desk),
    };
    let frame = frame(desk, asked, Tab::Enclosures, "What a log says");
    Ok(html(status, view::page(&frame, &sheet, &clock)))
}

pub(crate) async fn form(State(app): State<App>, asked: Asked, Path(id): Path<String>) -> Response {
    app.run(asked, move |desk, asked| show(desk, asked, log::id(&id)?, &Sent::default(), None, None)).await
}

/// Keeps it under the name that the form brought, so that a form sent twice is kept once.
fn keep(desk: &Desk, asked: &Asked, id: RecordId, sent: &Sent, fitted: Fitted) -> Result<String, DeskError> {
    let record = sent.get(field::ID).and_then(RecordId::read).unwrap_or_else(|| desk.new_id());
    desk.log(&[NewRecord::new(record, Fact::Fitted(fitted)).at(id)], asked.by())?;
    Ok("Kept: answers about this enclosure now rest on it.".to_owned())
}

fn answer(desk: &Desk, asked: &Asked, id: RecordId, sent: &Sent) -> Answer {
    let made = || -> Result<(Reckoning, Option<Fitted>), DeskError> {
        desk.calibrate(id, sent.log()?, &sent.answers(), sent.watts()?)
    };
    let (answer, fitted) = match made() {
        Ok(made) => made,
        Err(DeskError::Faults(faults)) => return show(desk, asked, id, sent, Some(Err(&faults)), None),
        Err(other) => return Err(Trouble::from(other)),
    };
    let wants = sent.get(field::KEEP).is_some();
    let became = match fitted {
        Some(fitted) if wants => keep(desk, asked, id, sent, fitted)?,
        Some(_) => "Nothing was kept. Send it again with «Keep» ticked, and answers rest on it.".to_owned(),
        None if wants => "Nothing was kept: the log does not tell enough.".to_owned(),
        None => "Nothing was kept.".to_owned(),
    };
    show(desk, asked, id, sent, Some(Ok(&answer)), Some(became))
}

/// Reads what was sent; a part that breaks off is left out.
async fn sent(mut parts: Multipart) -> Sent {
    let mut sent = Sent::default();
    while let Ok(Some(part)) = parts.next_field().await {
        let name = part.name().unwrap_or_default().to_owned();
        let file = part.file_name().map(str::to_owned);
        let Ok(bytes) = part.bytes().await else { break };
        if name == field::FILE {
            if !bytes.is_empty() {
                sent.file = Some((file.unwrap_or_else(|| "the file".to_owned()), bytes.to_vec()));
            }
        } else {
            sent.pairs.push((name, String::from_utf8_lossy(&bytes).replace("\r\n", "\n")));
        }
    }
    sent
}

pub(crate) async fn read(State(app): State<App>, asked: Asked, Path(id): Path<String>, parts: Multipart) -> Response {
    let sent = sent(parts).await;
    app.run(asked, move |desk, asked| answer(desk, asked, log::id(&id)?, &sent)).await
}
