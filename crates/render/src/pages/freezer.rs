//! The freezer: frozen prey by lots, and what tonight takes from it.

use askama::Template;
use care::rounds::Rounds;
use records::choice::Choice;
use records::facts::FreezerLot;

use super::form::Form;
use super::frame::Frame;
use super::html;
use crate::wording::{self, Clock};

/// A lot with the record that says it.
pub struct LotIn<'a> {
    /// Its record.
    pub id: String,
    /// The lot.
    pub lot: &'a FreezerLot,
}

struct LotLine {
    id: String,
    class: String,
    count: u32,
    mass: String,
    bought: String,
    mass_g: String,
    bought_field: String,
    class_key: &'static str,
}

struct Need {
    says: String,
    there: String,
}

#[derive(Template)]
#[template(path = "freezer.html")]
struct Page<'a> {
    frame: &'a Frame,
    lots: Vec<LotLine>,
    used_up: Vec<LotLine>,
    needs: Vec<Need>,
    restock: Vec<String>,
    form: &'a Form,
    caution: &'static str,
    writable: bool,
}

fn line(lot: &LotIn<'_>, clock: &Clock) -> LotLine {
    LotLine {
        id: lot.id.clone(),
        class: wording::capital(wording::prey(lot.lot.class)),
        count: lot.lot.count,
        mass: lot.lot.mass_g.map_or("–".to_owned(), wording::mass),
        bought: lot.lot.bought.map_or("–".to_owned(), |when| clock.in_table(when)),
        mass_g: lot.lot.mass_g.map_or(String::new(), |grams| grams.to_string()),
        bought_field: lot.lot.bought.map_or(String::new(), |when| clock.zone().write_when(when)),
        class_key: lot.lot.class.key(),
    }
}

/// The page.
pub fn page(frame: &Frame, lots: &[LotIn<'_>], rounds: &Rounds, form: &Form, clock: &Clock, writable: bool) -> String {
    let (there, gone): (Vec<&LotIn<'_>>, Vec<&LotIn<'_>>) = lots.iter().partition(|lot| 0 < lot.lot.count);
    let stock =
        |class: &str| -> u32 { lots.iter().filter(|lot| lot.lot.class.key() == class).map(|lot| lot.lot.count).sum() };
    let needs = rounds
        .thaw
        .iter()
        .map(|thaw| Need {
            says: format!(
                "{} for {}",
                wording::prey_counted(&thaw.class, thaw.count),
                wording::names_or_count(&thaw.animals)
            ),
            there: match stock(&thaw.class) {
                0 => "none in the freezer".to_owned(),
                count => format!("{count} in the freezer"),
            },
        })
        .collect();
    html(&Page {
        frame,
        lots: there.into_iter().map(|lot| line(lot, clock)).collect(),
        used_up: gone.into_iter().map(|lot| line(lot, clock)).collect(),
        needs,
        restock: super::rounds::restock(rounds),
        form,
        caution: species::library().caution("prey-handling").map_or("", |caution| caution.text.as_str()),
        writable,
    })
}
