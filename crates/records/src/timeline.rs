//! An animal's records laid out in time.
//!
//! Steps of one shed that were noted on different days become one shed, and doses join their course. Nothing else is
//! changed and nothing is judged here.

use std::borrow::Cow;
use std::ops::Deref;

use units::{Moment, When};

use crate::facts::{
    Breeding, Cleaning, Dose, Ending, Fact, Handling, Kind, Meal, Measurement, Note, Planned, Power, Reading, Recorded,
    Seen, Shed, Sign, Treatment, Weighing,
};
use crate::id::RecordId;

/// Which record something rests on: its kind, its place in the list of its kind as given, its line in a file, and
/// its name in the store.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Key {
    /// Kind of record.
    pub kind: Kind,
    /// Place in the list of its kind, as given, from 0.
    pub index: u32,
    /// Line in the file it came from.
    pub line: Option<u32>,
    /// Name in the store.
    pub id: Option<RecordId>,
}

/// A record with the key under which it can be opened.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry<T> {
    /// Which record.
    pub key: Key,
    /// What it says.
    pub it: T,
}

impl<T> Deref for Entry<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.it
    }
}

/// Everything that was written down about one animal and the place it lives in, each kind in order of time.
#[derive(Clone, Debug, Default, PartialEq)]
#[expect(missing_docs, reason = "the names of the fields are those of the kinds of records")]
pub struct Timeline {
    pub weighings: Vec<Entry<Weighing>>,
    pub measurements: Vec<Entry<Measurement>>,
    pub meals: Vec<Entry<Meal>>,
    pub sheds: Vec<Entry<Shed>>,
    pub handlings: Vec<Entry<Handling>>,
    pub cleanings: Vec<Entry<Cleaning>>,
    pub readings: Vec<Entry<Reading>>,
    pub signs: Vec<Entry<Sign>>,
    pub breedings: Vec<Entry<Breeding>>,
    pub power: Vec<Entry<Power>>,
    pub treatments: Vec<Entry<Treatment>>,
    pub planned: Vec<Entry<Planned>>,
    pub seen: Vec<Entry<Seen>>,
    pub notes: Vec<Entry<Note>>,
    pub endings: Vec<Entry<Ending>>,
}

impl Timeline {
    /// Lays facts out in time. Kinds that have no place in an animal's timeline (an enclosure, a freezer lot) are
    /// left out.
    pub fn new(facts: impl IntoIterator<Item = (Key, Fact)>) -> Timeline {
        let mut line = Timeline::default();
        let mut doses: Vec<Dose> = Vec::new();
        for (key, fact) in facts {
            match fact {
                Fact::Weighing(it) => line.weighings.push(Entry { key, it }),
                Fact::Measurement(it) => line.measurements.push(Entry { key, it }),
                Fact::Meal(it) => line.meals.push(Entry { key, it }),
                Fact::Shed(it) => line.sheds.push(Entry { key, it }),
                Fact::Handling(it) => line.handlings.push(Entry { key, it }),
                Fact::Cleaning(it) => line.cleanings.push(Entry { key, it }),
                Fact::Reading(it) => line.readings.push(Entry { key, it }),
                Fact::Sign(it) => line.signs.push(Entry { key, it }),
                Fact::Breeding(it) => line.breedings.push(Entry { key, it }),
                Fact::Power(it) => line.power.push(Entry { key, it }),
                Fact::Treatment(it) => line.treatments.push(Entry { key, it }),
                Fact::Planned(it) => line.planned.push(Entry { key, it }),
                Fact::Seen(it) => line.seen.push(Entry { key, it }),
                Fact::Note(it) => line.notes.push(Entry { key, it }),
                Fact::Ending(it) => line.endings.push(Entry { key, it }),
                Fact::Dose(it) => doses.push(it),
                Fact::Animal(_)
                | Fact::Enclosure(_)
                | Fact::Household(_)
                | Fact::Heater(_)
                | Fact::Stay(_)
                | Fact::FreezerLot(_)
                | Fact::Override(_)
                | Fact::Fitted(_) => {}
            }
        }
        line.sort();
        line.sheds = joined(std::mem::take(&mut line.sheds));
        for dose in doses {
            line.give(dose);
        }
        line
    }

    fn sort(&mut self) {
        fn by_time<T: Recorded>(list: &mut [Entry<T>]) {
            list.sort_by_key(|entry| (entry.it.when().map(|when| (when.from, when.to)), entry.key.index));
        }
        by_time(&mut self.weighings);
        by_time(&mut self.measurements);
        by_time(&mut self.meals);
        self.sheds.sort_by_key(|entry| (entry.steps().next(), entry.key.index));
        by_time(&mut self.handlings);
        by_time(&mut self.cleanings);
        by_time(&mut self.readings);
        by_time(&mut self.signs);
        by_time(&mut self.breedings);
        by_time(&mut self.power);
        by_time(&mut self.treatments);
        by_time(&mut self.planned);
        by_time(&mut self.seen);
        by_time(&mut self.notes);
        by_time(&mut self.endings);
    }

    fn give(&mut self, dose: Dose) {
        let course = self
            .treatments
            .iter_mut()
            .rev()
            .find(|course| course.it.name == dose.treatment && course.it.from.from <= dose.at.to);
        if let Some(course) = course {
            course.it.given.push(dose.at);
            course.it.given.sort();
        }
    }

    /// What was known at `at`: records of later times are left out, and so are later steps of what had begun. Plans
    /// stay, since they are about what lies ahead.
    pub fn as_of(&self, at: Moment) -> Cow<'_, Timeline> {
        if !self.reaches_past(at) {
            return Cow::Borrowed(self);
        }
        let mut then = self.clone();
        let over = |when: When| at < when.from;
        then.weighings.retain(|one| !over(one.at));
        then.measurements.retain(|one| !over(one.at));
        then.meals.retain(|one| !over(one.at));
        then.handlings.retain(|one| !over(one.at));
        then.cleanings.retain(|one| !over(one.at));
        then.readings.retain(|one| !over(one.at));
        then.signs.retain(|one| !over(one.at));
        then.breedings.retain(|one| !over(one.at));
        then.power.retain(|one| !over(one.from));
        then.treatments.retain(|one| !over(one.from) || one.given.is_empty());
        then.seen.retain(|one| !over(one.at));
        then.notes.retain(|one| !over(one.at));
        then.endings.retain(|one| !over(one.at));
        for meal in &mut then.meals {
            if meal.it.regurgitated_at.is_some_and(over) {
                meal.it.regurgitated_at = None;
                meal.it.outcome = crate::facts::Outcome::Taken;
            }
        }
        for shed in &mut then.sheds {
            let it = &mut shed.it;
            for step in [&mut it.dull_at, &mut it.blue_at, &mut it.cleared_at, &mut it.shed_at] {
                if step.is_some_and(over) {
                    *step = None;
                }
            }
            if it.shed_at.is_none() {
                it.pieces = None;
                it.retained.clear();
            }
        }
        then.sheds.retain(|shed| shed.steps().next().is_some());
        for sign in &mut then.signs {
            if sign.it.cleared_at.is_some_and(over) {
                sign.it.cleared_at = None;
            }
        }
        for cut in &mut then.power {
            if cut.it.until.is_some_and(over) {
                cut.it.until = None;
            }
        }
        for course in &mut then.treatments {
            course.it.given.retain(|given| !over(*given));
        }
        Cow::Owned(then)
    }

    fn reaches_past(&self, at: Moment) -> bool {
        fn last<T: Recorded>(list: &[Entry<T>]) -> Option<Moment> {
            list.last().and_then(|entry| entry.it.when()).map(|when| when.from)
        }
        let ends = [
            last(&self.weighings),
            last(&self.measurements),
            last(&self.meals),
            last(&self.handlings),
            last(&self.cleanings),
            last(&self.readings),
            last(&self.signs),
            last(&self.breedings),
            last(&self.power),
            last(&self.treatments),
            last(&self.seen),
            last(&self.notes),
            last(&self.endings),
        ];
        ends.into_iter().flatten().any(|end| at < end)
            || self.meals.iter().rev().take(2).filter_map(|meal| meal.regurgitated_at).any(|up| at < up.from)
            || self.sheds.iter().rev().take(2).flat_map(|shed| shed.steps()).any(|step| at < step.from)
            || self.signs.iter().filter_map(|sign| sign.cleared_at).any(|cleared| at < cleared.from)
            || self.power.iter().filter_map(|cut| cut.until).any(|until| at < until.from)
            || self.treatments.iter().flat_map(|course| course.given.last()).any(|given| at < given.from)
    }
}

/// A cycle takes three weeks at most (E9 of the physiology notes caps it at 25 days); steps further apart than this
/// belong to two sheds.
const ONE_CYCLE_DAYS: f64 = 40.0;

fn joined(sheds: Vec<Entry<Shed>>) -> Vec<Entry<Shed>> {
    let mut out: Vec<Entry<Shed>> = Vec::with_capacity(sheds.len());
    for shed in sheds {
        match out.last_mut() {
            Some(open) if continues(&open.it, &shed.it) => {
                let key = shed.key;
                let (it, next) = (&mut open.it, shed.it);
                it.dull_at = it.dull_at.or(next.dull_at);
                it.blue_at = it.blue_at.or(next.blue_at);
                it.cleared_at = it.cleared_at.or(next.cleared_at);
                it.shed_at = next.shed_at;
                it.pieces = next.pieces;
                it.retained = next.retained;
                open.key = key;
            }
            _ => out.push(shed),
        }
    }
    out
}

fn continues(open: &Shed, next: &Shed) -> bool {
    let (Some(last), Some(first)) = (open.steps().last(), next.steps().next()) else {
        return false;
    };
    let near = first.from.days_since(last.from) <= ONE_CYCLE_DAYS;
    let clash = [(open.dull_at, next.dull_at), (open.blue_at, next.blue_at), (open.cleared_at, next.cleared_at)]
        .into_iter()
        .any(|(a, b)| a.is_some() && b.is_some() && a != b);
    open.shed_at.is_none() && near && !clash
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::Outcome;
    use units::Zone;

    fn key(kind: Kind, index: u32) -> Key {
        Key { kind, index, line: None, id: None }
    }

    fn day(text: &str) -> When {
        Zone::none().read(text).unwrap()
    }

    #[test]
    fn steps_of_one_shed_noted_on_different_days_are_one_shed() {
        let steps = [
            Shed { dull_at: Some(day("2026-03-01")), ..Shed::default() },
            Shed { blue_at: Some(day("2026-03-04")), ..Shed::default() },
            Shed { shed_at: Some(day("2026-03-12")), pieces: Some(1), ..Shed::default() },
            Shed { dull_at: Some(day("2026-05-01")), ..Shed::default() },
        ];
        let line =
            Timeline::new(steps.into_iter().enumerate().map(|(i, shed)| (key(Kind::Shed, i as u32), Fact::Shed(shed))));
        assert_eq!(line.sheds.len(), 2);
        assert_eq!(line.sheds[0].steps().count(), 3);
        assert_eq!(line.sheds[0].pieces, Some(1));
        assert!(line.sheds[1].shed_at.is_none());
    }

    #[test]
    fn a_dose_joins_its_course() {
        let course = Treatment {
            name: "ointment".into(),
            prescribed_by: None,
            from: day("2026-03-01"),
            every_hours: Some(24.0),
            doses: Some(5),
            given: vec![],
        };
        let dose = Dose { at: day("2026-03-02"), treatment: "ointment".into() };
        let line =
            Timeline::new([(key(Kind::Dose, 0), Fact::Dose(dose)), (key(Kind::Treatment, 0), Fact::Treatment(course))]);
        assert_eq!(line.treatments[0].given, vec![day("2026-03-02")]);
    }

    #[test]
    fn what_came_later_was_not_known_then() {
        let meal = Meal {
            at: day("2026-03-01"),
            prey: None,
            mass_g: None,
            count: 1,
            outcome: Outcome::Regurgitated,
            regurgitated_at: Some(day("2026-03-03")),
            state: None,
            surface_c: None,
            minutes_left: None,
            thawed: None,
            frozen_on: None,
            refrozen: false,
        };
        let shed = Shed {
            blue_at: Some(day("2026-02-20")),
            shed_at: Some(day("2026-03-05")),
            pieces: Some(3),
            ..Shed::default()
        };
        let line = Timeline::new([(key(Kind::Meal, 0), Fact::Meal(meal)), (key(Kind::Shed, 0), Fact::Shed(shed))]);
        let at = Zone::none().read("2026-03-02T12:00").unwrap().from;
        let then = line.as_of(at);
        assert_eq!(then.meals[0].outcome, Outcome::Taken);
        assert_eq!((then.sheds[0].shed_at, then.sheds[0].pieces), (None, None));
        let later = Zone::none().read("2026-03-06").unwrap().from;
        assert!(matches!(line.as_of(later), Cow::Borrowed(_)), "nothing lies ahead, nothing is copied");
    }
}
