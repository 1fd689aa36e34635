//! One record: looking at it, correcting it, removing it.

use axum::Form;
use axum::extract::{Path, State};
use axum::response::Response;
use records::{Fact, Fault, Kind, Raw, RecordId};
use render::pages::form::{self, Ask, Filling, Form as FormView, Spec};
use render::pages::frame::Tab;
use render::pages::parts::Link;
use render::pages::record::{self, Sheet};
use render::wording::{self, Clock};
use store::{NewRecord, StoreError, Stored};

use crate::app::{Answer, App, Trouble, about, form_page, frame, is_writable, ok, record_in, see};
use crate::asked::{Asked, with};
use crate::desk::{Desk, DeskError};
use crate::log::{self, About};
use crate::typed::Typed;

fn stored(desk: &Desk, id: RecordId) -> Result<Stored, Trouble> {
    desk.store().record(id)?.ok_or_else(|| StoreError::NotFound(id).into())
}

fn subject(stored: &Stored) -> About {
    match (stored.head.animal, stored.head.enclosure) {
        (Some(id), _) => About::Animal(id),
        (None, Some(id)) => About::Enclosure(id),
        (None, None) => About::Household,
    }
}

fn home(stored: &Stored) -> String {
    if stored.fact.kind() == Kind::FreezerLot { "/freezer".to_owned() } else { subject(stored).page() }
}

fn tab(stored: &Stored) -> Tab {
    match subject(stored) {
        About::Animal(_) => Tab::Animals,
        About::Enclosure(_) => Tab::Enclosures,
        About::Household if stored.fact.kind() == Kind::FreezerLot => Tab::Freezer,
        About::Household => Tab::Household,
    }
}

pub(crate) async fn page(State(app): State<App>, asked: Asked, Path(id): Path<String>) -> Response {
    app.run(asked, move |desk, asked| show(desk, asked, log::id(&id)?)).await
}

fn show(desk: &Desk, asked: &Asked, id: RecordId) -> Answer {
    let stored = stored(desk, id)?;
    let clock = Clock::new(desk.zone(), desk.now());
    let kind = stored.fact.kind();
    let specs = form::fields(kind);
    let label = |key: &str| specs.iter().find(|spec| spec.key == key).map_or(key, |spec| spec.label).to_owned();
    let fields: Vec<(String, String)> = stored
        .fact
        .fields(&stored.head.zone)
        .into_iter()
        .filter(|(key, _)| *key != "enclosure")
        .map(|(key, value)| (label(key), shown(&value)))
        .collect();
    let about = about(desk, &stored).unwrap_or_else(|| Link::to("the household", home(&stored)));
    let link = |id: Option<RecordId>, words: &str| id.map(|id| Link::to(words, format!("/records/{id}")));
    let replaced = link(stored.head.corrects, "an older record");
    let replaced_by = link(stored.head.corrected_by, "a newer record");
    let is_subject = matches!(kind, Kind::Animal | Kind::Enclosure) && stored.head.corrects.is_none();
    let line = record_in(&stored).line(&clock);
    let can_change = stored.head.is_current() && is_writable(desk);
    let heading =
        format!("{} {}", wording::kind(kind), stored.head.happened.map_or(String::new(), |when| clock.in_table(when)));
    ok(record::page(
        &frame(desk, asked, tab(&stored), wording::kind(kind)),
        &Sheet {
            id: &id.to_string(),
            heading: heading.trim(),
            about: &about,
            line: &line,
            fields: &fields,
            replaced: replaced.as_ref(),
            replaced_by: replaced_by.as_ref(),
            back: &asked.back(&home(&stored)),
            can_change: can_change && form::is_typed(kind),
            can_remove: can_change && (!is_subject || kind == Kind::Enclosure),
        },
    ))
}

/// A value as its record shows it.
fn shown(value: &Raw) -> String {
    match value {
        Raw::Number(number) => wording::number(*number, 3),
        other => other.shown().replace('T', " "),
    }
}

/// A record that can be put right by hand.
fn correctable(desk: &Desk, id: RecordId) -> Result<Stored, Trouble> {
    Some(stored(desk, id)?).filter(|stored| form::is_typed(stored.fact.kind())).ok_or(Trouble::Nothing)
}

const WHY: Spec = Spec {
    key: "why",
    label: "Why it is corrected",
    hint: "kept beside what stood before",
    ask: Ask::Text,
    needed: false,
    extra: false,
};

fn correction(
    desk: &Desk,
    stored: &Stored,
    typed: &[(String, String)],
    back: &str,
    faults: &[Fault],
    doubts: &[Fault],
) -> Result<FormView, DeskError> {
    let kind = stored.fact.kind();
    let lists = log::lists(desk, subject(stored), kind)?;
    let mut specs = form::fields(kind);
    specs.push(WHY);
    Ok(FormView {
        action: format!("/records/{}/correct", stored.head.id),
        hidden: vec![("id".into(), desk.new_id().to_string()), ("back".into(), back.to_owned())],
        doubts: log::in_sentences(doubts),
        submit: "Correct it".to_owned(),
        ..form::from_specs(&specs, "f", &Filling { typed, lists: &lists, faults })
    })
}

fn correction_page(desk: &Desk, asked: &Asked, stored: &Stored, form: &FormView, back: &str) -> Answer {
    let name = about(desk, stored).map_or("the household".to_owned(), |link| link.text);
    let heading = format!("Correct: {}", lower(form::title(stored.fact.kind())));
    let intro = ["What stood before is kept and shown in the history.".to_owned()];
    form_page(desk, asked, tab(stored), &heading, &intro, form, &Link::to(format!("Back to {name}"), back))
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

pub(crate) async fn correct_form(State(app): State<App>, asked: Asked, Path(id): Path<String>) -> Response {
    app.run(asked, move |desk, asked| {
        let stored = correctable(desk, log::id(&id)?)?;
        let typed: Vec<(String, String)> =
            stored.fact.fields(desk.zone()).into_iter().map(|(key, value)| (key.to_owned(), value.shown())).collect();
        let back = asked.back(&home(&stored));
        let form = correction(desk, &stored, &typed, &back, &[], &[])?;
        correction_page(desk, asked, &stored, &form, &back)
    })
    .await
}

pub(crate) async fn correct(
    State(app): State<App>,
    asked: Asked,
    Path(id): Path<String>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Response {
    app.run(asked, move |desk, asked| keep(desk, asked, log::id(&id)?, &Typed::new(pairs))).await
}

fn keep(desk: &Desk, asked: &Asked, id: RecordId, typed: &Typed) -> Answer {
    let old = correctable(desk, id)?;
    let kind = old.fact.kind();
    let back = typed.back(&home(&old));
    let again = |faults: &[Fault], doubts: &[Fault]| {
        let form = correction(desk, &old, &typed.shown(kind), &back, faults, doubts)?;
        correction_page(desk, asked, &old, &form, &back)
    };
    let fact = match typed.fact(kind, desk.zone(), &[]) {
        Ok(fact) => fact,
        Err(faults) => return again(&faults, &[]),
    };
    let new_id = typed.id().unwrap_or_else(|| desk.new_id());
    let mut new = NewRecord::new(new_id, unchanged(fact, &old.fact)).instead_of(id, &typed.why());
    new.animal = old.head.animal;
    new.enclosure = old.head.enclosure;
    let new = [new];
    let faults = desk.refusals(&new)?;
    if !faults.is_empty() {
        return again(&faults, &[]);
    }
    if !typed.is_confirmed() {
        let doubts = desk.doubts(&new, desk.now())?;
        if !doubts.is_empty() {
            return again(&[], &doubts);
        }
    }
    match desk.log(&new, asked.by()) {
        Ok(_) => see(&with(&back, "noted", &new_id.to_string())),
        Err(DeskError::Faults(faults)) => again(&faults, &[]),
        Err(other) => Err(other.into()),
    }
}

/// What a form does not ask for stays as it was: the doses that stand in a course.
fn unchanged(new: Fact, old: &Fact) -> Fact {
    match (new, old) {
        (Fact::Treatment(mut course), Fact::Treatment(before)) => {
            if course.given.is_empty() {
                course.given.clone_from(&before.given);
            }
            Fact::Treatment(course)
        }
        (new, _) => new,
    }
}

pub(crate) async fn remove(
    State(app): State<App>,
    asked: Asked,
    Path(id): Path<String>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Response {
    app.run(asked, move |desk, asked| {
        let typed = Typed::new(pairs);
        let id = log::id(&id)?;
        let stored = stored(desk, id)?;
        desk.remove(&[id], &typed.why(), asked.by())?;
        let itself = matches!(stored.fact, Fact::Enclosure(_));
        let back = if itself { "/enclosures".to_owned() } else { typed.back(&home(&stored)) };
        see(&with(&back, "removed", &id.to_string()))
    })
    .await
}
