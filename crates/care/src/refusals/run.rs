//! Is the run of refusals that goes on unusual: for this animal, this month, this species?

use science::statistics::rates::{Beta, Counts, longest_run_at_least, runs_test};

use super::{Offer, Offers};
use crate::lines;
use crate::season::in_season;
use crate::view::View;

/// A run held against offers of the same animal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged {
    /// Offers it is held against.
    pub offers: usize,
    /// How many of them were refused.
    pub refused: usize,
    /// The chance that the next offers are all refused, as many as this run has, %.
    pub next_pct: f64,
    /// The chance that a year of its offers holds a run as long, %.
    pub in_a_year_pct: f64,
}

/// The run of refusals that goes on.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// So many offers in a row were refused.
    pub length: usize,
    /// Held against all its offers before; `None` with too few.
    pub animal: Option<Judged>,
    /// Held against those of the same season in earlier years; `None` with too few.
    pub month: Option<Judged>,
    /// Its species is known to pause now.
    pub is_season_of_species: bool,
    /// Its longest run before, with the day on which that ended.
    pub longest_before: Option<(usize, units::When)>,
    /// Chance that its refusals would lie so close together by luck, %; small: they come in runs.
    pub clustered_pct: Option<f64>,
}

/// The belief about a refusal before its own records tell.
pub fn prior() -> Beta {
    let (taken, offers) = (lines::low("offer_taken_prior").value, lines::high("offer_taken_prior").value);
    Beta { a: offers - taken, b: taken }
}

impl Run {
    /// The run that goes on; `None` where the last offer was taken.
    pub fn of(view: &View<'_>, offers: &Offers) -> Option<Run> {
        let length = offers.run().len();
        if length == 0 {
            return None;
        }
        let before = offers.before_the_run();
        let a_year = offers.0.iter().filter(|offer| view.days_since(offer.at) <= 365.0).count().max(length);
        let least = lines::group("refusal_unusual", "offers before it, at least").value as usize;
        let animal = (least <= before.len()).then(|| judge(prior(), before, length, a_year));
        let month = season_before(view, offers)
            .map(|(belief, season)| judge(belief, &season, length, a_year.min(season.len().max(length))));
        let events: Vec<bool> = before.iter().map(|offer| !offer.taken).collect();
        Some(Run {
            length,
            animal,
            month,
            is_season_of_species: in_season(view),
            longest_before: offers.longest_run_before(),
            clustered_pct: runs_test(&events).map(|test| 100.0 * test.p_so_few),
        })
    }

    /// Is it unusual for the animal: would a year of its offers hold one as long with a chance under `line_pct`, and is
    /// neither its own season nor that of its species the reason, nor was there a run as long before?
    pub fn is_unusual(&self, line_pct: f64) -> bool {
        let is_rare = |judged: &Judged| judged.in_a_year_pct < line_pct;
        let known_before = self.longest_before.is_some_and(|(longest, _)| self.length <= longest);
        self.animal.as_ref().is_some_and(is_rare)
            && self.month.as_ref().is_none_or(is_rare)
            && !self.is_season_of_species
            && !known_before
    }
}

fn counts(offers: &[Offer]) -> Counts {
    Counts { events: offers.iter().filter(|offer| !offer.taken).count() as u64, trials: offers.len() as u64 }
}

fn judge(prior: Beta, before: &[Offer], length: usize, a_year: usize) -> Judged {
    let seen = counts(before);
    let belief = prior.after(seen);
    Judged {
        offers: before.len(),
        refused: seen.events as usize,
        next_pct: 100.0 * belief.all_of_next(u32::try_from(length).unwrap_or(u32::MAX)),
        in_a_year_pct: 100.0 * longest_run_at_least(length, a_year, belief.mean()),
    }
}

/// The offers of this month and of the one on each side of it in earlier years, with a belief to begin with that is the
/// animal's own over the whole year.
fn season_before(view: &View<'_>, offers: &Offers) -> Option<(Beta, Vec<Offer>)> {
    let before = offers.before_the_run();
    let first = before.first()?;
    let span = lines::group("refusal_season_own", "records over at least").value;
    if view.days_since(first.at) < span {
        return None;
    }
    let month = view.zone.date(view.now).month();
    let is_near = |one: i8| matches!((one - month).rem_euclid(12), 0 | 1 | 11);
    /// Offers of the last months belong to this season, not to one before.
    const THIS_SEASON_D: f64 = 120.0;
    let season: Vec<Offer> = before
        .iter()
        .filter(|offer| is_near(offer.month) && THIS_SEASON_D < view.days_since(offer.at))
        .copied()
        .collect();
    if (season.len() as f64) < lines::low("refusal_season_own").value {
        return None;
    }
    let all = prior().after(counts(before)).mean();
    let worth = lines::high("offer_taken_prior").value;
    Some((Beta { a: worth * all, b: worth * (1.0 - all) }, season))
}
