//! `warmside override ANIMAL PATH LOW [HIGH] --reason TEXT`: a value of the profile that does not hold for an animal.

use render::wording;

use super::entered;
use crate::arguments::Override;
use crate::exit::Done;
use crate::home::{About, Home};
use crate::out::Out;

/// Sets the value.
pub fn run(asked: &Override, home: &Home, out: &mut Out) -> Done {
    let desk = home.writing()?;
    let about = About::animal(&desk, &asked.animal)?;
    // The unit is that of the path: `temperature.night_min_c` takes 20, 20C or 68F.
    let unit = asked.path.rsplit('.').find(|part| part.contains('_')).unwrap_or(&asked.path);
    let value = |text: &str| crate::amount::stored(unit, text);
    let mut fields = vec![("path", asked.path.clone()), ("low", value(&asked.low)?), ("reason", asked.reason.clone())];
    if let Some(high) = &asked.high {
        fields.push(("high", value(high)?));
    }
    let fact = entered::fact(records::Kind::Override, &fields, desk.zone(), desk.now())?;
    entered::keep(&desk, &[about.record(&desk, fact.clone())], &home.by(), true)?;
    let clock = wording::Clock::new(desk.zone(), desk.now());
    out.line(format!("{}, own value: {}.", about.name(), wording::fact(&fact, &clock)).replace(wording::STAY, " "));
    Ok(())
}
