//! Rounds: today's walk past every enclosure: what is due, held and found, in walking order.
//!
//! A [`Brief`] is what Rounds needs of one animal's answer. It is small and can be kept, so that three thousand
//! animals are walked past without assessing each anew; it stays true until [`Brief::valid_until`].

use records::Fault;
use records::choice::Choice;
use records::facts::Prey;
use serde::{Deserialize, Serialize};
use units::{Moment, Zone};

use crate::answer::{Action, Answer, Code, Due, Finding, Hold, Severity, State, Task};
use crate::thaw::{self, Assumed, Lot, Timetable};

/// Changes with every change of the rules that could change an answer; kept beside what was reckoned.
pub const RULES_VERSION: &str = concat!(env!("CARGO_PKG_VERSION"), "-4");

/// What Rounds needs of one animal's answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Brief {
    /// The moment it was reckoned for.
    pub at: Moment,
    /// Until when it stays true if nothing is recorded.
    pub valid_until: Moment,
    /// States, by key.
    pub states: Vec<BriefState>,
    /// What is due.
    pub due: Vec<BriefDue>,
    /// What comes next, the next of each task.
    pub ahead: Vec<BriefDue>,
    /// What must wait.
    pub holds: Vec<BriefHold>,
    /// What is found, the gravest first.
    pub findings: Vec<BriefFinding>,
    /// Mass of one meal in g.
    pub prey_mass_g: Option<(f64, f64)>,
    /// Classes that fit, by key, the best first.
    pub prey_classes: Vec<String>,
}

/// A state.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BriefState {
    /// Key of the state.
    pub state: String,
    /// Why.
    pub why: String,
    /// Until when.
    pub until: Option<Moment>,
}

/// A task.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BriefDue {
    /// Key of the task.
    pub task: String,
    /// From when.
    pub from: Moment,
    /// Until when waiting is fine.
    pub by: Option<Moment>,
    /// Why.
    pub why: String,
}

/// A hold.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BriefHold {
    /// Key of the action.
    pub action: String,
    /// Until when; open until [`BriefHold::ends_with`] when `None`.
    pub until: Option<Moment>,
    /// What ends an open hold.
    pub ends_with: Option<String>,
    /// Why, the strongest reason first.
    pub why: Vec<String>,
}

/// A finding.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BriefFinding {
    /// Key of the finding.
    pub code: String,
    /// Key of the severity.
    pub severity: String,
    /// What it says.
    pub says: String,
    /// What to do.
    pub does: String,
    /// The caution beside it.
    pub caution: Option<String>,
}

impl Brief {
    /// What Rounds needs of an answer.
    pub fn of(answer: &Answer) -> Brief {
        let due =
            |due: &Due| BriefDue { task: due.task.key().to_owned(), from: due.from, by: due.by, why: due.why.clone() };
        let hold = |hold: &Hold| BriefHold {
            action: hold.action.key().to_owned(),
            until: hold.until,
            ends_with: hold.ends_with.map(str::to_owned),
            why: hold.because.iter().map(|one| one.why.clone()).collect(),
        };
        let finding = |one: &Finding| BriefFinding {
            code: one.code.key().to_owned(),
            severity: one.severity.key().to_owned(),
            says: one.says.clone(),
            does: one.does.clone(),
            caution: one.caution.map(str::to_owned),
        };
        Brief {
            at: answer.at,
            valid_until: valid_until(answer),
            states: answer
                .states
                .iter()
                .map(|one| BriefState { state: one.state.key().to_owned(), why: one.why.clone(), until: one.until })
                .collect(),
            due: answer.due.iter().map(due).collect(),
            ahead: answer.ahead.iter().map(due).collect(),
            holds: answer.holds.iter().map(hold).collect(),
            findings: answer.findings.iter().map(finding).collect(),
            prey_mass_g: answer.prey.as_ref().and_then(|prey| prey.mass_g),
            prey_classes: answer
                .prey
                .iter()
                .flat_map(|prey| prey.classes.iter().map(|class| class.key().to_owned()))
                .collect(),
        }
    }

    /// What stands for an animal that cannot be answered about (its species is not known): the faults, and nothing
    /// else.
    pub fn unanswered(faults: &[Fault], at: Moment, zone: &Zone) -> Brief {
        let finding = |fault: &Fault| BriefFinding {
            code: Code::RecordSuspect.key().to_owned(),
            severity: Severity::Act.key().to_owned(),
            says: format!("Nothing can be said about it: {}.", fault.what),
            does: fault.mend.clone(),
            caution: None,
        };
        Brief {
            at,
            valid_until: zone.days_later(zone.day_start(at), 1),
            states: Vec::new(),
            due: Vec::new(),
            ahead: Vec::new(),
            holds: Vec::new(),
            findings: faults.iter().map(finding).collect(),
            prey_mass_g: None,
            prey_classes: Vec::new(),
        }
    }

    /// The gravest severity; `None` when nothing is found.
    pub fn worst(&self) -> Option<Severity> {
        self.findings.iter().filter_map(|one| Severity::from_key(&one.severity)).max()
    }

    /// Is it in this state?
    pub fn is(&self, state: State) -> bool {
        self.states.iter().any(|one| one.state == state.key())
    }

    /// Is this task due?
    pub fn is_due(&self, task: Task) -> bool {
        self.due.iter().any(|one| one.task == task.key())
    }

    /// The hold on an action.
    pub fn hold(&self, action: Action) -> Option<&BriefHold> {
        self.holds.iter().find(|one| one.action == action.key())
    }

    /// Is this found?
    pub fn has(&self, code: Code) -> bool {
        self.findings.iter().any(|one| one.code == code.key())
    }
}

/// An answer stays true until the day ends, a hold ends, a task opens, or a state runs out.
fn valid_until(answer: &Answer) -> Moment {
    let tomorrow = answer.zone.days_later(answer.zone.day_start(answer.at), 1);
    let holds = answer.holds.iter().flat_map(|hold| hold.because.iter()).filter_map(|one| one.until);
    let ahead = answer.ahead.iter().map(|due| due.from);
    let states = answer.states.iter().filter_map(|state| state.until);
    holds.chain(ahead).chain(states).filter(|moment| answer.at < *moment).fold(tomorrow, Moment::min)
}

/// One animal on the walk.
#[derive(Clone, Debug, PartialEq)]
pub struct Passed {
    /// Its id.
    pub id: String,
    /// What it is called; its species where it has no name.
    pub name: String,
    /// Its species, as a keeper says it.
    pub species: String,
    /// Its last mass in g.
    pub mass_g: Option<f64>,
    /// What its answer says.
    pub brief: Brief,
}

/// One enclosure on the walk.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Its id; `None` for animals that no enclosure is recorded for.
    pub id: Option<String>,
    /// The code on its door.
    pub name: String,
    /// The room it stands in.
    pub room: String,
    /// The animals in it.
    pub animals: Vec<Passed>,
}

/// Prey to thaw tonight, of one class.
#[derive(Clone, Debug, PartialEq)]
pub struct Thaw {
    /// Key of the class; empty where no class fits.
    pub class: String,
    /// How many items.
    pub count: u32,
    /// For whom.
    pub animals: Vec<String>,
}

/// The walk.
#[derive(Clone, Debug, PartialEq)]
pub struct Rounds {
    /// The moment asked about.
    pub at: Moment,
    /// The zone of its clock times.
    pub zone: Zone,
    /// The enclosures in walking order.
    pub places: Vec<Place>,
    /// What to thaw tonight, by class and count.
    pub thaw: Vec<Thaw>,
    /// When it leaves the freezer, goes into the bath and is offered, at the usual hour of feeding; `None` where nothing
    /// of a known mass is to thaw.
    pub timetable: Option<Timetable>,
}

impl Rounds {
    /// Puts the walk together; `places` stand in walking order.
    pub fn new(at: Moment, zone: Zone, places: Vec<Place>) -> Rounds {
        let thaw = to_thaw(&places);
        let timetable = evening(&thaw, at, &zone);
        Rounds { at, zone, places, thaw, timetable }
    }

    /// All animals on the walk.
    pub fn animals(&self) -> impl Iterator<Item = &Passed> {
        self.places.iter().flat_map(|place| &place.animals)
    }

    /// How many animals have this task due.
    pub fn count(&self, task: Task) -> usize {
        self.animals().filter(|animal| animal.brief.is_due(task)).count()
    }

    /// How many animals have a finding of this severity as their gravest.
    pub fn count_worst(&self, severity: Severity) -> usize {
        self.animals().filter(|animal| animal.brief.worst() == Some(severity)).count()
    }
}

/// The evening of what is to thaw, with the masses of the trade.
fn evening(thaw: &[Thaw], now: Moment, zone: &Zone) -> Option<Timetable> {
    let lots: Vec<Lot> = thaw.iter().filter_map(|one| Lot::of_class(Prey::from_key(&one.class)?, one.count)).collect();
    let when = thaw::When { now, feed_at: thaw::usual_evening(now, zone), zone };
    thaw::timetable(&lots, &when, &Assumed::usual())
}

fn to_thaw(places: &[Place]) -> Vec<Thaw> {
    let mut list: Vec<Thaw> = Vec::new();
    for animal in places.iter().flat_map(|place| &place.animals).filter(|animal| animal.brief.is_due(Task::OfferMeal)) {
        let class = animal.brief.prey_classes.first().cloned().unwrap_or_default();
        match list.iter_mut().find(|thaw| thaw.class == class) {
            Some(thaw) => {
                thaw.count += 1;
                thaw.animals.push(animal.name.clone());
            }
            None => list.push(Thaw { class, count: 1, animals: vec![animal.name.clone()] }),
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn a_brief_is_true_until_the_next_thing_changes() {
        // a meal at 20:00 is left in peace for 48 h: before midnight nothing changes, on the third day at 20:00 it does
        let fed = |at: &str| {
            answer(&format!(
                "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[meal]]\nat = \"2027-05-01T20:00\"\noutcome = \"taken\"\n"
            ))
        };
        for (at, until) in [("2027-05-02T09:00", "2027-05-03T00:00"), ("2027-05-03T09:00", "2027-05-03T20:00")] {
            let brief = Brief::of(&fed(at));
            assert_eq!(brief.valid_until, crate::testing::moment(until), "{at}");
        }
    }

    #[test]
    fn prey_is_counted_by_class() {
        let passed = |name: &str| {
            let answer = answer(
                "at = \"2027-05-20T18:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[weighing]]\nat = \"2027-05-15\"\nmass_g = 450\n[[meal]]\nat = \"2027-05-01\"\nmass_g = 25\noutcome = \"taken\"\n",
            );
            Passed {
                id: name.to_owned(),
                name: name.to_owned(),
                species: "corn snake".into(),
                mass_g: Some(450.0),
                brief: Brief::of(&answer),
            }
        };
        let places = vec![Place {
            id: None,
            name: "A1".into(),
            room: "study".into(),
            animals: vec![passed("one"), passed("two")],
        }];
        let rounds = Rounds::new(crate::testing::moment("2027-05-20T18:00"), Zone::none(), places);
        assert_eq!(rounds.thaw.len(), 1);
        assert_eq!((rounds.thaw[0].count, rounds.thaw[0].class.as_str()), (2, "mouse-adult"));
        // Two hours before the usual hour there is time for cool water only.
        let timetable = rounds.timetable.unwrap();
        assert_eq!(timetable.feed_at, crate::testing::moment("2027-05-20T20:00"));
        assert_eq!(timetable.way, records::facts::Thawing::CoolWater);
        assert_eq!(timetable.planned[0].lot.count, 2);
        assert!(rounds.at < timetable.planned[0].take_out && timetable.planned[0].take_out < timetable.feed_at);
        assert!(timetable.steps.iter().any(|step| step.at == Some(timetable.planned[0].take_out)));
    }

    #[test]
    fn where_nothing_is_to_thaw_there_is_no_timetable() {
        let rounds = Rounds::new(crate::testing::moment("2027-05-20T18:00"), Zone::none(), Vec::new());
        assert_eq!(rounds.timetable, None);
    }
}
