//! How likely the next offer is taken, and how that changes with refusals and time.

use science::statistics::least_squares::Gaussian;
use science::statistics::rates::{Beta, Counts, Logistic, Observation, harmonics};
use units::Moment;

use super::run::prior;
use super::{Offer, Offers};
use crate::view::View;

/// From so many days of records on the season is read too.
const A_YEAR_D: f64 = 365.0;
/// Standard deviation of what refusals (as the logarithm of one more than their number) and time are believed to change
/// before its own offers tell, in ln odds: a factor of 1.5 either way. The season may do twice as much.
const SHRUNK: f64 = 0.4;
/// Days in the mean year.
const YEAR_D: f64 = 365.25;

/// How often an offer was taken after so many refusals in a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct After {
    /// Refusals in a row before the offer; the last entry stands for as many and more.
    pub refused: usize,
    /// How many such offers were made.
    pub offers: usize,
    /// How many of them were taken.
    pub taken: usize,
    /// The chance, drawn toward that of all its offers, %.
    pub chance_pct: f64,
    /// It lies between with eight chances in ten, %.
    pub between_pct: [f64; 2],
}

/// How likely offers are taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Chance {
    fit: Option<Logistic>,
    usual_gap_d: f64,
    seasonal: bool,
    prior_taken: f64,
    run: usize,
    last_meal: Option<Moment>,
}

fn day_of_year(view: &View<'_>, at: Moment) -> f64 {
    let day = f64::from(view.zone.date(at).day_of_year());
    if view.is_southern() == Some(true) { day + YEAR_D / 2.0 } else { day }
}

impl Chance {
    /// From its own offers, with a belief to begin with: a logistic regression on refusals in a row, on the time since
    /// the last meal against its usual gap, and, from a year of records on, on the season; each coefficient is drawn
    /// toward nothing, so that few offers say little.
    pub fn of(view: &View<'_>, offers: &Offers) -> Chance {
        let usual_gap_d =
            offers.usual_gap_d().or_else(|| view.feeding().map(|feeding| feeding.interval_d.middle())).unwrap_or(14.0);
        let seasonal = offers.0.first().is_some_and(|first| A_YEAR_D <= view.days_since(first.at));
        let prior = prior();
        let prior_taken = prior.b / (prior.a + prior.b);
        let mut chance = Chance {
            fit: None,
            usual_gap_d,
            seasonal,
            prior_taken,
            run: offers.run().len(),
            last_meal: offers.0.iter().rev().find(|offer| offer.taken).map(|offer| offer.at.from),
        };
        let rows: Vec<Observation> = offers
            .0
            .iter()
            .map(|offer: &Offer| Observation {
                covariates: chance.covariates(view, offer.at.from, offer.refused_before, offer.since_meal_d),
                is_event: offer.taken,
            })
            .collect();
        // ln odds of the prior, as sure as so few offers make it: variance 1/a + 1/b.
        let odds = Gaussian {
            mean: (prior_taken / (1.0 - prior_taken)).ln(),
            deviation: (1.0 / prior.a + 1.0 / prior.b).sqrt(),
        };
        let toward_nothing = |deviation| Gaussian { mean: 0.0, deviation };
        let mut priors = vec![odds, toward_nothing(SHRUNK), toward_nothing(SHRUNK)];
        if seasonal {
            priors.extend([toward_nothing(2.0 * SHRUNK); 2]);
        }
        chance.fit = Logistic::fit(&rows, &priors).ok();
        chance
    }

    fn covariates(&self, view: &View<'_>, at: Moment, refused: usize, since_meal_d: Option<f64>) -> Vec<f64> {
        let late = since_meal_d.map_or(0.0, |days| (days.max(0.5) / self.usual_gap_d).ln().clamp(-1.5, 1.5));
        let mut row = vec![1.0, (1.0 + refused as f64).ln(), late];
        if self.seasonal {
            row.extend(harmonics(day_of_year(view, at)).into_iter().take(2));
        }
        row
    }

    /// The chance, 0 to 1, that an offer at a moment is taken, with so many more refusals before it than there are now.
    pub fn taken(&self, view: &View<'_>, at: Moment, more_refused: usize) -> f64 {
        self.taken_between(view, at, more_refused).0
    }

    /// The same, with what it lies between with eight chances in ten.
    pub fn taken_between(&self, view: &View<'_>, at: Moment, more_refused: usize) -> (f64, [f64; 2]) {
        let since = self.last_meal.map(|last| at.days_since(last));
        let row = self.covariates(view, at, self.run + more_refused, since);
        match &self.fit {
            Some(fit) => fit.chance(&row, 0.8),
            None => (self.prior_taken, [self.prior_taken; 2]),
        }
    }

    /// How often offers were taken after no refusal, one, two, and three or more in a row.
    pub fn after_refusals(offers: &Offers) -> Vec<After> {
        const STEPS: usize = 3;
        let of = |list: &[&Offer]| Counts {
            events: list.iter().filter(|offer| offer.taken).count() as u64,
            trials: list.len() as u64,
        };
        let all: Vec<&Offer> = offers.0.iter().collect();
        let refused = prior();
        let overall = Beta { a: refused.b, b: refused.a }.after(of(&all)).mean();
        let worth = refused.a + refused.b;
        (0..=STEPS)
            .map(|step| {
                let such: Vec<&Offer> =
                    all.iter().copied().filter(|offer| offer.refused_before.min(STEPS) == step).collect();
                let counts = of(&such);
                let belief = Beta { a: worth * overall, b: worth * (1.0 - overall) }.after(counts);
                After {
                    refused: step,
                    offers: such.len(),
                    taken: counts.events as usize,
                    chance_pct: 100.0 * belief.mean(),
                    between_pct: belief.interval(0.8).map(|chance| 100.0 * chance),
                }
            })
            .collect()
    }
}
