//! Records that cannot be true beside others: they are set aside and asked about.

use std::borrow::Cow;

use records::Case;
use records::facts::Recorded;
use records::timeline::{Entry, Timeline};
use units::Moment;

use crate::answer::Evidence;
use crate::draft::seen;
use crate::view::grams;

/// A record that was set aside.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Which, and which it clashes with.
    pub records: Vec<Evidence>,
    /// Why it cannot be true, in one sentence.
    pub says: String,
}

/// Two skins cannot come off within so few days (physiology notes, E9: shorter intervals are double entries).
const SHEDS_APART_DAYS: f64 = 10.0;

/// Takes out what cannot be true.
pub fn set_aside<'a>(case: &Case, then: Cow<'a, Timeline>, now: Moment) -> (Cow<'a, Timeline>, Vec<Suspect>) {
    let mut suspects = Vec::new();
    let hatched = case.animal.hatched;
    let mut line = then;

    if let Some(hatched) = hatched {
        let zone = &case.zone;
        let born = zone.write_when(hatched);
        let mut before = |what: &str, entries: Vec<Evidence>| {
            for one in entries {
                let at = one.at.map(|at| zone.write_when(at)).unwrap_or_default();
                suspects.push(Suspect { says: format!("{what} of {at} is dated before the animal hatched ({born})."), records: vec![one] });
            }
        };
        let early = |at: Option<units::When>| at.is_some_and(|at| at.to < hatched.from);
        fn found<T: Recorded>(list: &[Entry<T>], early: impl Fn(Option<units::When>) -> bool) -> Vec<Evidence> {
            list.iter().take_while(|one| early(one.it.when())).map(seen).collect()
        }
        let weighings = found(&line.weighings, early);
        let measurements = found(&line.measurements, early);
        let meals = found(&line.meals, early);
        let sheds = found(&line.sheds, early);
        let any = [&weighings, &measurements, &meals, &sheds].iter().any(|list| !list.is_empty());
        if any {
            let owned = line.to_mut();
            owned.weighings.drain(..weighings.len());
            owned.measurements.drain(..measurements.len());
            owned.meals.drain(..meals.len());
            owned.sheds.drain(..sheds.len());
            before("The weighing", weighings);
            before("The measurement", measurements);
            before("The meal", meals);
            before("The shed", sheds);
        }
        if now < hatched.from {
            let key = case.animal.key;
            suspects.push(Suspect { says: format!("The animal is said to hatch on {born}, which lies ahead."), records: vec![Evidence { key, at: Some(hatched) }] });
        }
    }

    let heavier: Vec<(usize, Suspect)> = heavier_than_the_animal(&line);
    if !heavier.is_empty() {
        let owned = line.to_mut();
        for (index, suspect) in heavier.into_iter().rev() {
            owned.meals.remove(index);
            suspects.push(suspect);
        }
    }

    let doubles: Vec<(usize, Suspect)> = sheds_too_close(&line);
    if !doubles.is_empty() {
        let owned = line.to_mut();
        for (index, suspect) in doubles.into_iter().rev() {
            owned.sheds.remove(index);
            suspects.push(suspect);
        }
    }
    (line, suspects)
}

fn heavier_than_the_animal(line: &Timeline) -> Vec<(usize, Suspect)> {
    let mut found = Vec::new();
    for (index, meal) in line.meals.iter().enumerate() {
        let Some(prey_g) = meal.total_g() else { continue };
        let before = line.weighings.partition_point(|one| one.at.from <= meal.at.from);
        let body = before.checked_sub(1).and_then(|at| line.weighings.get(at)).or_else(|| line.weighings.get(before));
        if let Some(body) = body.filter(|body| body.mass_g < prey_g) {
            let says = format!("A meal of {} is heavier than the animal ({}).", grams(prey_g), grams(body.mass_g));
            found.push((index, Suspect { says, records: vec![seen(meal), seen(body)] }));
        }
    }
    found
}

fn sheds_too_close(line: &Timeline) -> Vec<(usize, Suspect)> {
    let off: Vec<(usize, units::When)> = line.sheds.iter().enumerate().filter_map(|(index, shed)| shed.shed_at.map(|at| (index, at))).collect();
    let mut found = Vec::new();
    for pair in off.windows(2) {
        let [(earlier, a), (later, b)] = pair else { continue };
        let apart = b.from.days_since(a.from);
        if apart < SHEDS_APART_DAYS
            && let (Some(one), Some(other)) = (line.sheds.get(*earlier), line.sheds.get(*later))
        {
            let says = format!("Two sheds are noted {apart:.0} days apart; one of the two dates is wrong, and the later one is used.");
            found.push((*earlier, Suspect { says, records: vec![seen(one), seen(other)] }));
        }
    }
    found
}
