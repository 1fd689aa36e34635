//! Studies: what the records of one animal say about one thing, with everything that it rests on.
//!
//! Where an assessment says what is to be done, a study lays open the figures behind it: the rhythm of the sheds, the
//! run of refusals, the ration, the condition. The answer is a [`Reckoning`], the same that the questions without
//! records have, so that a page, a shell and JSON show it alike.

mod parts;

use records::{Case, Fault};
use units::Moment;

use crate::answer::Answer;
use crate::condition::Kin;
use crate::view::View;
use crate::what_if::Reckoning;
use crate::{assess, condition, ration, refusals, sheds};

pub(crate) use parts::{source_list, warnings};

/// What is looked into.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Study {
    /// The rhythm of its sheds, and the next one.
    Sheds,
    /// The run of refusals.
    Refusals,
    /// What holds its mass, what it eats, what others would feed.
    Ration,
    /// How it stands against itself and others.
    Condition,
}

impl Study {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Study; 4] = [Study::Sheds, Study::Refusals, Study::Ration, Study::Condition];

    /// Its name: as a command and in JSON.
    pub fn key(self) -> &'static str {
        match self {
            Study::Sheds => "sheds",
            Study::Refusals => "refusals",
            Study::Ration => "ration",
            Study::Condition => "condition",
        }
    }

    /// The inverse of [`Study::key`].
    pub fn from_key(key: &str) -> Option<Study> {
        Study::ALL.into_iter().find(|study| study.key() == key)
    }

    /// In a word.
    pub fn title(self) -> &'static str {
        match self {
            Study::Sheds => "Sheds",
            Study::Refusals => "Refusals",
            Study::Ration => "Ration",
            Study::Condition => "Condition",
        }
    }

    /// What it tells, in one sentence.
    pub fn about(self) -> &'static str {
        match self {
            Study::Sheds => {
                "When an animal is likely to shed next, how regular it is, and how damp it was before bad ones"
            }
            Study::Refusals => {
                "Whether a run of refusals is unusual, how likely the next offer is taken, what a fast costs, and six checks"
            }
            Study::Ration => {
                "What holds an animal's mass, what makes it grow or fat, what it was fed, and what the schools say"
            }
            Study::Condition => "How an animal stands against its own best, its length, the eye, and others of its age",
        }
    }

    /// Does it hold the animal against others of its species in the household?
    pub fn looks_at_kin(self) -> bool {
        self == Study::Condition
    }

    /// What the records of an animal say at a moment; `kin` are the others of its species in the household. Fails only where its species cannot be told.
    pub fn of(self, case: &Case, now: Moment, kin: &Kin) -> Result<Reckoning, Vec<Fault>> {
        let answer = assess::assess_for_rounds(case, now)?;
        let (profile, _) = assess::profile(&case.animal, &case.overrides)?;
        let view = View::new(case, &profile, now);
        Ok(self.look(&view, &answer, kin))
    }

    fn look(self, view: &View<'_>, answer: &Answer, kin: &Kin) -> Reckoning {
        match self {
            Study::Sheds => sheds::study(view, answer),
            Study::Refusals => refusals::study(view, answer),
            Study::Ration => ration::study(view, answer),
            Study::Condition => condition::study(view, answer, kin),
        }
    }
}
