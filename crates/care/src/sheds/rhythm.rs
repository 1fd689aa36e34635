//! The law of its intervals: its own, shrunk toward what is usual for its kind and stage.

use records::facts::Stage;
use science::statistics::intervals::{Belief, Law, Pool};

use super::History;
use crate::answer::SourceRef;
use crate::lines;
use crate::view::View;

/// What is usual for its kind and stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Usual {
    /// The middle in days: the geometric one, where a range is given.
    pub days: f64,
    /// The range in days, where the profile has one.
    pub range_d: Option<(f64, f64)>,
    /// Where it comes from.
    pub source: SourceRef,
}

impl Usual {
    /// The profile's interval for the stage; else that of the general rule.
    pub fn of(view: &View<'_>) -> Usual {
        match view.shed_interval_d() {
            Some(figure) => Usual {
                days: (figure.low * figure.high).sqrt(),
                range_d: Some((figure.low, figure.high)),
                source: SourceRef::of(figure),
            },
            None => {
                let group = match view.stage {
                    Some(Stage::Hatchling) => "hatchling",
                    Some(Stage::Juvenile) => "juvenile",
                    Some(Stage::Subadult) => "subadult",
                    Some(Stage::Adult | Stage::Aged) | None => "adult",
                };
                let line = lines::group("shed_interval_stage", group);
                Usual { days: line.value, range_d: None, source: line.source }
            }
        }
    }
}

/// The rhythm of one animal.
#[derive(Clone, Debug, PartialEq)]
pub struct Rhythm {
    /// What is usual.
    pub usual: Usual,
    /// Its own intervals that were counted, oldest first, in days.
    pub own_d: Vec<f64>,
    /// The law of the next interval, in days.
    pub law: Law,
    /// How regular it is was read from its own intervals too.
    pub spread_is_own: bool,
}

impl Rhythm {
    /// From the intervals that count, the last few of them.
    pub fn of(view: &View<'_>, history: &History) -> Rhythm {
        let recent = lines::low("shed_recent").value as usize;
        let counted: Vec<f64> = history.counted().collect();
        let own = counted.get(counted.len().saturating_sub(recent)..).unwrap_or_default();
        Rhythm::from(Usual::of(view), own.to_vec())
    }

    /// Estimate E9 of the physiology notes: ln of an interval is normal around a middle that is the mean of the own
    /// intervals and the usual one, which weighs as much as two of them; its spread is that of the notes, widened by
    /// how little the middle is known. From four own intervals on, how regular the animal is counts too: Student's law
    /// ([`Belief`]), with the notes' spread worth eight intervals.
    pub fn from(usual: Usual, own_d: Vec<f64>) -> Rhythm {
        let spread = lines::low("shed_spread").value;
        let (weight, spread_weight) = (lines::low("shed_prior_weight").value, lines::high("shed_prior_weight").value);
        let mean = usual.days.ln();
        let spread_is_own = lines::high("shed_own_rhythm").value <= own_d.len() as f64;
        let learned = || {
            let a = 0.5 * spread_weight;
            Belief { mean, strength: weight, a, b: a * spread * spread }.after(&own_d)
        };
        let law = match learned().filter(|_| spread_is_own) {
            Some(belief) => belief.next(),
            None => {
                let pool = Pool { mean, between: spread / weight.sqrt(), within: spread };
                pool.next(pool.subject(&own_d))
            }
        };
        Rhythm { usual, own_d, law, spread_is_own }
    }

    /// Has it so many intervals of its own that a change in them says something?
    pub fn is_its_own(&self) -> bool {
        lines::low("shed_own_rhythm").value <= self.own_d.len() as f64
    }
}
