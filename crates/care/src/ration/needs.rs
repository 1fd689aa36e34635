//! What an animal needs, from the energy budget: E4 of the physiology notes.

use science::statistics::normal;

use crate::growth::{Budget, Intake, Weighings, resting_kj_per_day};
use crate::lines;
use crate::refusals::loss::body_c;
use crate::signs::Signs;
use crate::view::View;
use crate::what_if::Range;

const WEEK_D: f64 = 7.0;

/// What it needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Needs {
    /// Body mass, in g.
    pub body_g: f64,
    /// Body temperature, in °C.
    pub body_c: f64,
    /// Nothing was read: the profile's temperature stands for it.
    pub warmth_is_assumed: bool,
    /// The energy budget.
    pub budget: Budget,
    /// How far the ration that holds the mass lies from the middle: one standard deviation of its logarithm, by the
    /// factor on the resting rate and by the body temperature.
    pub spread: Spread,
}

/// Parts of a spread, each one standard deviation of a logarithm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Of the factor on the resting rate.
    pub factor: f64,
    /// Of the body temperature.
    pub warmth: f64,
}

impl Spread {
    /// Both together.
    pub fn whole(self) -> f64 {
        self.factor.hypot(self.warmth)
    }
}

/// Why nothing can be told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoNeeds {
    /// There is no animal to feed.
    Gone,
    /// In a winter rest it is not fed.
    WinterRest,
    /// She carries or broods.
    Gravid,
    /// It is ill: a veterinarian says what it is fed.
    Ill,
    /// A hatchling that has not eaten yet lives on its yolk.
    NotStarted,
    /// No weighing of the last months.
    NoMass,
    /// Too cold or too warm for the budget, °C.
    Temperature(f64),
}

impl NoNeeds {
    /// One sentence.
    pub fn says(self) -> String {
        match self {
            NoNeeds::Gone => "It is dead or missing: no ration is told.".to_owned(),
            NoNeeds::WinterRest => "In a winter rest nothing is fed.".to_owned(),
            NoNeeds::Gravid => {
                "What a female with eggs or young needs is not told: no figures for it are known.".to_owned()
            }
            NoNeeds::Ill => "It is ill: what it is fed is for a reptile veterinarian to say.".to_owned(),
            NoNeeds::NotStarted => {
                "A hatchling that has not eaten yet lives on its yolk: no ration is told.".to_owned()
            }
            NoNeeds::NoMass => "What it needs cannot be told without a weighing of the last three months.".to_owned(),
            NoNeeds::Temperature(degrees) => {
                format!("At a body temperature of {degrees:.0} °C the figures do not hold: set the heat right first.")
            }
        }
    }
}

/// The 10th, 50th and 90th percentile of what is lognormal.
fn tails(mid: f64, deviation_ln: f64) -> Range {
    let far = (normal::quantile(0.9) * deviation_ln).exp();
    Range { low: mid / far, mid, high: mid * far }
}

impl Needs {
    /// Of an animal as it stands.
    pub fn of(view: &View<'_>, intake: &Intake) -> Result<Needs, NoNeeds> {
        if view.is_dead() || view.missing_since().is_some() {
            return Err(NoNeeds::Gone);
        }
        if view.is_brumating() {
            return Err(NoNeeds::WinterRest);
        }
        if view.gravid().is_some() || view.brooding().is_some() {
            return Err(NoNeeds::Gravid);
        }
        if Signs::of(view).iter().any(|one| one.meaning.ill) {
            return Err(NoNeeds::Ill);
        }
        if view.is_hatchling() && view.meals.last_taken.is_none() {
            return Err(NoNeeds::NotStarted);
        }
        let fresh = view.masses.is_known_within(lines::low("ration_mass_stands").value, view.now);
        let body_g = view.masses.last().filter(|_| fresh).and_then(|last| last.empty_g).ok_or(NoNeeds::NoMass)?;
        let (degrees, assumed) = body_c(view).ok_or(NoNeeds::Temperature(f64::NAN))?;
        let serves = lines::whole("energy_serves");
        if serves.is_some_and(|serves| !(serves.low..=serves.high).contains(&degrees)) {
            return Err(NoNeeds::Temperature(degrees));
        }
        let usual = || Budget::usual(view, degrees, intake);
        let budget = Budget::of(view, &Weighings::of(view), intake).unwrap_or_else(|_| usual());
        Ok(Needs::from(body_g, degrees, assumed, budget))
    }

    /// From a budget.
    pub fn from(body_g: f64, body_c: f64, warmth_is_assumed: bool, mut budget: Budget) -> Needs {
        let kelvin = lines::low("energy_body_temperature").value * if warmth_is_assumed { 2.0 } else { 1.0 };
        // A factor read from the animal's own record has the error of the temperature in it already.
        let left = (budget.factor.deviation / budget.factor_before.deviation).min(1.0);
        let warmth = 0.038 * std::f64::consts::LN_10 * kelvin * left;
        let mut factor = budget.factor.deviation;
        if body_g < lines::group("energy_serves", "from a body mass of").value {
            factor = factor.max(lines::group("ration_small", "spread").value);
            budget.tissue_kj_per_g = lines::low("ration_small").value;
        }
        Needs { body_g, body_c, warmth_is_assumed, budget, spread: Spread { factor, warmth } }
    }

    /// Was the factor read from its own weighings and meals too?
    pub fn is_its_own(&self) -> bool {
        0 < self.budget.stretches
    }

    /// Energy that holds its mass, in kJ a day.
    pub fn kj_day(&self) -> Range {
        let resting = resting_kj_per_day(self.body_g, self.body_c);
        tails(self.budget.factor.mean.exp() * resting, self.spread.whole())
    }

    /// Prey that holds its mass, in g a week.
    pub fn maintenance(&self) -> Range {
        tails(WEEK_D * self.budget.maintenance_g_per_day(self.body_g), self.spread.whole())
    }

    /// Prey on which it gains so many grams a week, in g a week.
    pub fn for_gain(&self, gain_g_week: f64) -> Range {
        let hold = self.maintenance();
        let new = gain_g_week * self.budget.tissue_kj_per_g / self.budget.net_kj_per_g;
        let tissue = lines::low("ration_tissue_spread").value;
        let mid = hold.mid + new;
        // Two parts that add: their spreads add as squares, in grams.
        tails(mid, (hold.mid * self.spread.whole()).hypot(new * tissue) / mid)
    }

    /// What it gains on a ration of so many grams a week, in g a week; negative: it loses.
    pub fn gain_on(&self, g_week: f64) -> Range {
        let net = self.budget.net_kj_per_g / self.budget.tissue_kj_per_g;
        let hold = WEEK_D * self.budget.maintenance_g_per_day(self.body_g);
        let mid = net * (g_week - hold);
        let z = normal::quantile(0.9);
        let off = (net * hold * self.spread.whole()).hypot(lines::low("energy_gain_spread").value * g_week);
        Range { low: mid - z * off, mid, high: mid + z * off }
    }

    /// Days for which prey of so many grams holds its mass.
    pub fn lasts_d(&self, prey_g: f64) -> Range {
        let hold = self.maintenance();
        let days = |g_week: f64| WEEK_D * prey_g / g_week;
        Range { low: days(hold.high), mid: days(hold.mid), high: days(hold.low) }
    }
}
