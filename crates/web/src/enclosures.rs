//! Enclosures: the list, one of them, and a new one.

use axum::Form;
use axum::extract::{Path, State};
use axum::response::Response;
use care::what_if::Question;
use records::{Fact, Fault, Kind, RecordId};
use render::pages::enclosure::{self, EnclosureLine, Model, Sheet, SpotIn};
use render::pages::form::{self, Filling, Form as FormView};
use render::pages::frame::Tab;
use render::pages::parts::Link;
use render::wording::{self, Clock};
use store::NewRecord;

use crate::app::{Answer, App, form_page, frame, is_writable, moment, ok, record_in, see};
use crate::asked::{Asked, with};
use crate::desk::{Desk, DeskError};
use crate::filled::Filled;
use crate::log;
use crate::typed::Typed;

pub(crate) async fn list(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |desk, asked| {
        let animals = desk.store().animals(false)?;
        let lines: Vec<EnclosureLine> = desk
            .store()
            .enclosures()?
            .into_iter()
            .map(|row| EnclosureLine {
                id: row.id.to_string(),
                size: wording::size(row.enclosure.length_cm, row.enclosure.width_cm, row.enclosure.height_cm)
                    .unwrap_or_default(),
                name: row.enclosure.name.unwrap_or_else(|| "without a name".to_owned()),
                room: row.enclosure.room.unwrap_or_default(),
                animals: animals.iter().filter(|animal| animal.enclosure == Some(row.id)).map(link).collect(),
            })
            .collect();
        ok(enclosure::list(&frame(desk, asked, Tab::Enclosures, "Enclosures"), &lines))
    })
    .await
}

fn called(row: &store::AnimalRow) -> String {
    row.animal.name.clone().unwrap_or_else(|| crate::desk::common_name(&row.animal.species))
}

fn link(row: &store::AnimalRow) -> Link {
    Link::to(called(row), format!("/animals/{}", row.id))
}

pub(crate) async fn page(State(app): State<App>, asked: Asked, Path(id): Path<String>) -> Response {
    app.run(asked, move |desk, asked| show(desk, asked, log::id(&id)?)).await
}

/// The length of an animal as last measured, in cm.
fn length(desk: &Desk, id: RecordId) -> Result<Option<f64>, DeskError> {
    let case = desk.store().case_of(id, desk.zone())?;
    Ok(case.and_then(|case| case.timeline.measurements.iter().rev().find_map(|one| one.total_length_cm)))
}

fn show(desk: &Desk, asked: &Asked, id: RecordId) -> Answer {
    let at = moment(desk, asked.query("at"));
    let sheet = desk.enclosure(id, at)?;
    let clock = Clock::new(desk.zone(), at);
    let is_enclosure = |stored: &&store::Stored| matches!(stored.fact, Fact::Enclosure(_)) && stored.head.is_current();
    let about_record = sheet.history.iter().find(is_enclosure).map_or(id, |stored| stored.head.id);
    let mut animals = Vec::new();
    for one in &sheet.animals {
        animals.push((
            one.row.id.to_string(),
            called(&one.row),
            one.row.animal.species.clone(),
            length(desk, one.row.id)?,
        ));
    }
    let spots = sheet
        .readings
        .iter()
        .map(|latest| {
            let temperature =
                latest.temperature.as_ref().and_then(|(_, reading)| Some((reading.temperature_c?, reading.at)));
            let humidity = latest.humidity.as_ref().and_then(|(_, reading)| Some((reading.humidity_pct?, reading.at)));
            (latest.spot, SpotIn { temperature, humidity })
        })
        .collect();
    let heaters =
        sheet.row.heaters.iter().filter_map(|heater| Some((heater.key.id?.to_string(), heater.it.clone()))).collect();
    let mut new_id = || desk.new_id().to_string();
    let title = sheet.row.enclosure.name.clone().unwrap_or_else(|| "Enclosure".to_owned());
    let about = log::About::Enclosure(id);
    let readings = crate::readings::form(desk, about, &Typed::default(), &about.page(), &[], &[]);
    let known = desk.known(Some(id), at)?;
    let nothing = Filled::new(Question::Warmth, Vec::new(), str::to_owned);
    let [warmth, power_cut, runaway] =
        [Question::Warmth, Question::PowerCut, Question::Runaway].map(|question| question.ask(&nothing, &known));
    let said = |answer| Result::as_ref(answer).map_err(Vec::as_slice);
    let view = Sheet {
        model: Model { warmth: said(&warmth), power_cut: said(&power_cut), runaway: said(&runaway) },
        kept: crate::calibrate::kept(desk, id, &clock)?,
        id: id.to_string(),
        readings: &readings,
        about_record: about_record.to_string(),
        enclosure: &sheet.row.enclosure,
        heaters,
        animals,
        spots,
        chores: sheet
            .chores
            .iter()
            .map(|chore| (chore.task, chore.last.as_ref().and_then(|last| last.head.happened)))
            .collect(),
        records: sheet.history.iter().map(record_in).collect(),
        new_id: &mut new_id,
        writable: is_writable(desk),
    };
    ok(enclosure::page(&frame(desk, asked, Tab::Enclosures, &title), view, &clock))
}

fn new_form(desk: &Desk, typed: &[(String, String)], faults: &[Fault]) -> FormView {
    FormView {
        action: "/enclosures/new".to_owned(),
        hidden: vec![("id".into(), desk.new_id().to_string())],
        submit: "Add this enclosure".to_owned(),
        ..form::form(Kind::Enclosure, "f", &Filling { typed, lists: &[], faults })
    }
}

fn new_page(desk: &Desk, asked: &Asked, form: &FormView) -> Answer {
    let back = Link::to("Back to the enclosures", "/enclosures");
    form_page(
        desk,
        asked,
        Tab::Enclosures,
        "Add an enclosure",
        &["Lengths are inside, in centimetres.".to_owned()],
        form,
        &back,
    )
}

pub(crate) async fn new(State(app): State<App>, asked: Asked) -> Response {
    app.run(asked, |desk, asked| new_page(desk, asked, &new_form(desk, asked.pairs(), &[]))).await
}

pub(crate) async fn add(State(app): State<App>, asked: Asked, Form(pairs): Form<Vec<(String, String)>>) -> Response {
    app.run(asked, move |desk, asked| {
        let typed = Typed::new(pairs);
        let again = |faults: &[Fault]| new_page(desk, asked, &new_form(desk, &typed.shown(Kind::Enclosure), faults));
        let fact = match typed.fact(Kind::Enclosure, desk.zone(), &[]) {
            Ok(fact) => fact,
            Err(faults) => return again(&faults),
        };
        let id = typed.id().unwrap_or_else(|| desk.new_id());
        match desk.log(&[NewRecord::new(id, fact)], asked.by()) {
            Ok(_) => see(&with(&format!("/enclosures/{id}"), "noted", &id.to_string())),
            Err(DeskError::Faults(faults)) => again(&faults),
            Err(other) => Err(other.into()),
        }
    })
    .await
}
