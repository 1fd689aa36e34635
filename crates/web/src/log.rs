//! From a form to a record: parse, ask about what is odd, keep, and say what was kept.

use axum::Form;
use axum::extract::{Path, State};
use axum::response::Response;
use records::choice::Choice;
use records::facts::Subject;
use records::{Fault, Kind, RecordId};
use render::pages::form::{self, Choices, Filling, Form as FormView};
use render::pages::frame::Tab;
use render::pages::parts::Link;
use store::NewRecord;

use crate::app::{Answer, App, Trouble, form_page, see};
use crate::asked::{Asked, with};
use crate::desk::{Desk, DeskError};
use crate::typed::Typed;

/// Whom or what a form is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum About {
    Animal(RecordId),
    Enclosure(RecordId),
    Household,
}

impl About {
    /// The page that shows it.
    pub fn page(self) -> String {
        match self {
            About::Animal(id) => format!("/animals/{id}"),
            About::Enclosure(id) => format!("/enclosures/{id}"),
            About::Household => "/household".to_owned(),
        }
    }

    fn action(self, kind: Kind) -> String {
        format!("{}/log/{kind}", self.page())
    }

    fn tab(self, kind: Kind) -> Tab {
        match self {
            About::Animal(_) => Tab::Animals,
            About::Enclosure(_) => Tab::Enclosures,
            About::Household if kind == Kind::FreezerLot => Tab::Freezer,
            About::Household => Tab::Household,
        }
    }

    /// Can this kind of record be about it?
    fn takes(self, kind: Kind) -> bool {
        let itself = matches!(kind, Kind::Animal | Kind::Enclosure);
        match (self, kind.subject()) {
            _ if itself || !form::is_typed(kind) => false,
            (About::Animal(_), Subject::Animal | Subject::Enclosure) => true,
            (About::Enclosure(_), Subject::Enclosure) => true,
            (About::Enclosure(_), _) => matches!(kind, Kind::Note | Kind::Planned | Kind::Seen),
            (About::Household, Subject::Household) => true,
            (About::Household, _) => matches!(kind, Kind::Note | Kind::Planned),
            (About::Animal(_), Subject::Household) => false,
        }
    }

    /// What it is called.
    pub fn name(self, desk: &Desk) -> Result<String, DeskError> {
        match self {
            About::Animal(id) => {
                let row = desk.find_animal(&id.to_string())?;
                Ok(row.animal.name.unwrap_or_else(|| crate::desk::common_name(&row.animal.species)))
            }
            About::Enclosure(id) => {
                let row = desk.find_enclosure(&id.to_string())?;
                Ok(row.enclosure.name.unwrap_or_else(|| "the enclosure".to_owned()))
            }
            About::Household => Ok("the household".to_owned()),
        }
    }
}

/// The minute that it is, as a field holds it.
pub(crate) fn now_field(desk: &Desk) -> String {
    desk.zone().write_when(desk.minute()).chars().take(16).collect()
}

/// Choices that a form of this kind is given: courses of the animal, enclosures, names of species, paths of values.
pub(crate) fn lists(desk: &Desk, about: About, kind: Kind) -> Result<Vec<(&'static str, Choices)>, DeskError> {
    let own = |names: Vec<String>| names.into_iter().map(|name| (name.clone(), name)).collect();
    Ok(match (kind, about) {
        (Kind::Animal, _) => vec![("species", own(render::pages::species::names()))],
        (Kind::Stay, _) => vec![("enclosure", enclosures(desk)?)],
        (Kind::Dose, About::Animal(id)) => {
            vec![("treatment", own(render::pages::animal::courses(&desk.case(id, desk.now())?)))]
        }
        (Kind::Override, About::Animal(id)) => {
            let row = desk.find_animal(&id.to_string())?;
            let paths = match desk.species(&row.animal.species) {
                species::Found::One(profile) => profile.value_paths(),
                _ => Vec::new(),
            };
            vec![("path", own(paths))]
        }
        _ => Vec::new(),
    })
}

/// The enclosures as choices.
pub(crate) fn enclosures(desk: &Desk) -> Result<Vec<(String, String)>, DeskError> {
    let words = |row: store::EnclosureRow| {
        let name = row.enclosure.name.unwrap_or_else(|| "without a name".to_owned());
        let room = row.enclosure.room.map_or(String::new(), |room| format!(", {room}"));
        (row.id.to_string(), format!("{name}{room}"))
    };
    Ok(desk.store().enclosures()?.into_iter().map(words).collect())
}

/// The form of a kind, filled with what was typed.
fn view(
    desk: &Desk,
    about: About,
    kind: Kind,
    typed: &Typed,
    back: &str,
    faults: &[Fault],
    doubts: &[Fault],
) -> Result<FormView, DeskError> {
    let shown = typed.shown(kind);
    let lists = lists(desk, about, kind)?;
    let id = typed.id().unwrap_or_else(|| desk.new_id());
    Ok(FormView {
        action: about.action(kind),
        hidden: vec![("id".into(), id.to_string()), ("back".into(), back.to_owned())],
        doubts: in_sentences(doubts),
        ..form::form(kind, "f", &Filling { typed: &shown, lists: &lists, faults })
    })
}

/// What is odd, each as a sentence.
pub(crate) fn in_sentences(doubts: &[Fault]) -> Vec<String> {
    doubts
        .iter()
        .map(|doubt| format!("{}: {}.", render::wording::capital(&doubt.what), doubt.mend.trim_end_matches('.')))
        .collect()
}

fn show(desk: &Desk, asked: &Asked, about: About, kind: Kind, form: &FormView, back: &str) -> Answer {
    let name = about.name(desk)?;
    let heading = match about {
        About::Household => form::title(kind).to_owned(),
        _ => format!("{}: {name}", form::title(kind)),
    };
    let mut intro = Vec::new();
    if matches!(kind, Kind::Treatment | Kind::Dose) {
        intro.push("Written down as prescribed. Warmside repeats it and never makes or changes one.".to_owned());
    }
    if kind == Kind::Override {
        intro.push("It holds for this animal alone, and is shown wherever it acts.".to_owned());
    }
    form_page(desk, asked, about.tab(kind), &heading, &intro, form, &Link::to(format!("Back to {name}"), back))
}

fn known(about: About, kind: &str) -> Result<Kind, Trouble> {
    Kind::from_key(kind).filter(|kind| about.takes(*kind)).ok_or(Trouble::Nothing)
}

fn form_for(desk: &Desk, asked: &Asked, about: About, kind: &str) -> Answer {
    let kind = known(about, kind)?;
    let mut typed = Typed::new(asked.pairs().to_vec());
    typed.fill(kind, &now_field(desk));
    let back = asked.back(&about.page());
    let form = view(desk, about, kind, &typed, &back, &[], &[])?;
    show(desk, asked, about, kind, &form, &back)
}

fn keep(desk: &Desk, asked: &Asked, about: About, kind: &str, mut typed: Typed) -> Answer {
    let kind = known(about, kind)?;
    typed.fill(kind, &now_field(desk));
    let back = typed.back(&about.page());
    let again = |typed: &Typed, faults: &[Fault], doubts: &[Fault]| {
        let form = view(desk, about, kind, typed, &back, faults, doubts)?;
        show(desk, asked, about, kind, &form, &back)
    };
    let fact = match typed.fact(kind, desk.zone(), &[]) {
        Ok(fact) => fact,
        Err(faults) => return again(&typed, &faults, &[]),
    };
    let id = typed.id().unwrap_or_else(|| desk.new_id());
    let mut new = NewRecord::new(id, fact);
    match about {
        About::Animal(animal) => new.animal = Some(animal),
        About::Enclosure(enclosure) => new.enclosure = Some(enclosure),
        About::Household => {}
    }
    let new = [new];
    let faults = desk.refusals(&new)?;
    if !faults.is_empty() {
        return again(&typed, &faults, &[]);
    }
    if !typed.is_confirmed() {
        let doubts = desk.doubts(&new, desk.now())?;
        if !doubts.is_empty() {
            return again(&typed, &[], &doubts);
        }
    }
    match desk.log(&new, asked.by()) {
        Ok(_) => see(&with(&back, "noted", &id.to_string())),
        Err(DeskError::Faults(_)) if is_there(desk, id) => see(&with(&back, "noted", &id.to_string())),
        Err(DeskError::Faults(faults)) => again(&typed, &faults, &[]),
        Err(other) => Err(other.into()),
    }
}

/// Was a record of this name kept before? Then the same form came twice.
fn is_there(desk: &Desk, id: RecordId) -> bool {
    matches!(desk.store().record(id), Ok(Some(_)))
}

/// The id of an address.
pub(crate) fn id(text: &str) -> Result<RecordId, Trouble> {
    RecordId::read(text).ok_or(Trouble::Nothing)
}

pub(crate) async fn animal_form(
    State(app): State<App>,
    asked: Asked,
    Path((of, kind)): Path<(String, String)>,
) -> Response {
    app.run(asked, move |desk, asked| form_for(desk, asked, About::Animal(id(&of)?), &kind)).await
}

pub(crate) async fn animal(
    State(app): State<App>,
    asked: Asked,
    Path((of, kind)): Path<(String, String)>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Response {
    app.run(asked, move |desk, asked| keep(desk, asked, About::Animal(id(&of)?), &kind, Typed::new(pairs))).await
}

pub(crate) async fn enclosure_form(
    State(app): State<App>,
    asked: Asked,
    Path((of, kind)): Path<(String, String)>,
) -> Response {
    app.run(asked, move |desk, asked| form_for(desk, asked, About::Enclosure(id(&of)?), &kind)).await
}

pub(crate) async fn enclosure(
    State(app): State<App>,
    asked: Asked,
    Path((of, kind)): Path<(String, String)>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Response {
    app.run(asked, move |desk, asked| keep(desk, asked, About::Enclosure(id(&of)?), &kind, Typed::new(pairs))).await
}

pub(crate) async fn household_form(State(app): State<App>, asked: Asked, Path(kind): Path<String>) -> Response {
    app.run(asked, move |desk, asked| form_for(desk, asked, About::Household, &kind)).await
}

pub(crate) async fn household(
    State(app): State<App>,
    asked: Asked,
    Path(kind): Path<String>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Response {
    app.run(asked, move |desk, asked| keep(desk, asked, About::Household, &kind, Typed::new(pairs))).await
}

/// A form with no fields typed yet, for a page that holds it.
pub(crate) fn blank(
    desk: &Desk,
    about: About,
    kind: Kind,
    prefix: &str,
    typed: &[(String, String)],
    back: &str,
) -> Result<FormView, DeskError> {
    let lists = lists(desk, about, kind)?;
    Ok(FormView {
        action: about.action(kind),
        hidden: vec![("id".into(), desk.new_id().to_string()), ("back".into(), back.to_owned())],
        ..form::form(kind, prefix, &Filling { typed, lists: &lists, faults: &[] })
    })
}
