//! `warmside calibrate ENCLOSURE LOG`: what a log of temperatures says about an enclosure, and with `--keep` a record of
//! it on which later answers rest.

use care::twin::calibrate::typed_watts;
use care::what_if::Warning;
use records::fields::Given;
use records::import::Answers;
use records::{Fault, Raw};
use render::terminal::{self, Look};

use crate::arguments::Calibrate;
use crate::commands::import::{read, word};
use crate::exit::{Done, Ended};
use crate::home::Home;
use crate::out::Out;

/// Reads the log, fits, shows, and keeps where that is asked.
pub fn run(asked: &Calibrate, home: &Home, out: &mut Out) -> Done {
    let desk = if asked.keep { home.writing()? } else { home.reading()? };
    let enclosure = desk.find_enclosure(&asked.enclosure)?.id;
    let name = asked.log.display().to_string();
    let (watts, answers) = (watts(asked)?, answers(asked)?);
    let bytes = read(&asked.log)?;
    let (answer, fitted) = desk.calibrate(enclosure, (&name, &bytes), &answers, watts)?;
    let kept = match &fitted {
        Some(fitted) if asked.keep => Some(desk.keep_fitted(enclosure, fitted.clone(), &home.by())?),
        _ => None,
    };
    if asked.json {
        let mut value = render::json::reckoning(&answer, desk.now(), desk.zone());
        value["kept"] = kept.map(|id| id.to_string()).into();
        out.json(&value);
    } else {
        let look = Look { width: out.width(), why: asked.why };
        out.text(&terminal::reckoning(&answer, desk.now(), desk.zone(), look));
    }
    match (kept, fitted) {
        (Some(_), _) if asked.json => {}
        (Some(_), _) => out.line("Kept: answers about this enclosure now rest on it. `warmside undo` takes it back."),
        (None, Some(_)) if !asked.json => {
            out.line("Nothing was kept. With --keep, answers about this enclosure rest on it.")
        }
        (None, None) if asked.keep => {
            let does = |warning: &Warning| warning.does.clone();
            let mend =
                answer.warnings.first().map_or_else(|| "log the heater too, then give the log again".into(), does);
            return Err(Ended::Faults(vec![Fault::new("nothing was kept: the log does not tell enough", name, mend)]));
        }
        _ => {}
    }
    Ok(())
}

fn watts(asked: &Calibrate) -> Result<Option<f64>, Vec<Fault>> {
    let pairs = asked.watts.iter().map(|text| ("watts".to_owned(), Raw::Text(text.clone()))).collect();
    typed_watts(&Given { pairs, origin: "the command line".into() })
}

fn answers(asked: &Calibrate) -> Result<Answers, Ended> {
    Ok(Answers {
        date_order: word("--date-order", asked.date_order.as_deref())?,
        decimal: word("--decimal", asked.decimal.as_deref())?,
        temperature_unit: word("--temperature-unit", asked.temperature_unit.as_deref())?,
        ..Answers::default()
    })
}
