//! An answer over many sets of values.

use science::physics::network::NetworkFault;

use super::guesses::{Guesses, Unknown, Values};
use super::{Description, Model};
use crate::what_if::{Guess, Range};

/// How many sets an answer is reckoned over.
pub const SETS: usize = 64;

/// The models of one description: its middle, and the sets around it.
pub struct Spread {
    guesses: Guesses,
    middle: Model,
    models: Vec<Model>,
}

impl Spread {
    /// The models of a description.
    pub fn of(description: &Description) -> Result<Spread, NetworkFault> {
        Spread::with(description, Guesses::of(description))
    }

    /// The models of a description with these guesses.
    pub fn with(description: &Description, guesses: Guesses) -> Result<Spread, NetworkFault> {
        Spread::sized(description, guesses, SETS)
    }

    /// The models of a description with these guesses, of so many sets.
    pub fn sized(description: &Description, guesses: Guesses, sets: usize) -> Result<Spread, NetworkFault> {
        let middle = Model::new(description, &guesses.middle())?;
        let models = guesses.sets(sets).iter().map(|set| Model::new(description, set)).collect::<Result<_, _>>()?;
        Ok(Spread { guesses, middle, models })
    }

    /// The model with every guess at its middle.
    pub fn middle(&self) -> &Model {
        &self.middle
    }

    /// The models of all sets.
    pub fn models(&self) -> &[Model] {
        &self.models
    }

    /// The models of all sets, by themselves.
    pub fn into_models(self) -> Vec<Model> {
        self.models
    }

    /// What is open.
    pub fn guesses(&self) -> &Guesses {
        &self.guesses
    }

    /// A number over all sets; those for which it cannot be reckoned are left out.
    pub fn range(&self, number: impl Fn(&Model) -> Result<f64, NetworkFault>) -> Option<Range> {
        Range::of(self.models.iter().filter_map(|model| number(model).ok()))
    }

    /// Several numbers of each set at once, and their ranges.
    pub fn ranges<const N: usize>(
        &self,
        numbers: impl Fn(&Model) -> Result<[f64; N], NetworkFault>,
    ) -> [Option<Range>; N] {
        let rows: Vec<[f64; N]> = self.models.iter().filter_map(|model| numbers(model).ok()).collect();
        std::array::from_fn(|place| Range::of(rows.iter().filter_map(|row| row.get(place).copied())))
    }

    /// The share of the spread of a number that each guess makes: its swing squared, of the sum of all.
    pub fn weights(
        &self,
        description: &Description,
        number: impl Fn(&Model) -> Result<f64, NetworkFault>,
    ) -> Vec<(Unknown, f64)> {
        let value = |values: &Values| Model::new(description, values).and_then(|model| number(&model)).ok();
        let swings: Vec<(Unknown, f64)> = self
            .guesses
            .swings()
            .into_iter()
            .filter_map(|(unknown, low, high)| {
                let swing = value(&high)? - value(&low)?;
                swing.is_finite().then_some((unknown, swing * swing))
            })
            .collect();
        let all: f64 = swings.iter().map(|(_, square)| square).sum();
        if all <= 0.0 {
            Vec::new()
        } else {
            swings.into_iter().map(|(unknown, square)| (unknown, square / all)).collect()
        }
    }

    /// The guesses, each with its weight in a number.
    pub fn guessed(
        &self,
        description: &Description,
        number: impl Fn(&Model) -> Result<f64, NetworkFault>,
    ) -> Vec<Guess> {
        self.guesses.listed(&self.weights(description, number))
    }
}
