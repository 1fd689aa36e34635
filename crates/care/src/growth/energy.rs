//! Growth from what it eats: the budget E4 of energy.
//!
//! dm/dt = (N F − k R(m, T)) / E
//!
//! F prey in g a day, N what a gram of it leaves after faeces, urates and digestion (kJ), R the resting rate, k the
//! factor that closes the budget of a kept snake, E what a gram of new body costs (kJ).

use science::statistics::least_squares::{self, Loss, Noise, Parameter, Range, Rows, Settings};

use super::intake::Intake;
use super::prior::{Log, Z};
use super::weighings::Weighings;
use crate::lines;
use crate::view::View;

/// Resting metabolic rate in kJ a day (E1): 0.013 m^0.80 10^(0.038 T) ml of oxygen an hour at 20.1 J a ml.
///
/// `mass_g` in g, `body_c` in °C. Source: Andrews and Pough 1985, Physiol. Zool. 58:214, equation 2, standard rate of
/// squamates; about 1 g to several kg, 10 to 40 °C. One species differs from it by a factor of 1.8 either way (one
/// standard deviation).
pub fn resting_kj_per_day(mass_g: f64, body_c: f64) -> f64 {
    const ML_AN_HOUR: f64 = 0.013;
    const KJ_PER_ML: f64 = 0.0201;
    24.0 * KJ_PER_ML * ML_AN_HOUR * mass_g.powf(0.80) * 10f64.powf(0.038 * body_c)
}

/// Why there is no budget.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoBudget {
    /// Too few meals over too short a time.
    FewMeals,
    /// Too many meals without a mass.
    MealsWithoutMass,
    /// No temperature of the last two weeks.
    NoTemperature,
    /// Too cold or too warm for it.
    Temperature {
        /// Body temperature, °C.
        body_c: f64,
    },
    /// Lighter than the animals it was calibrated on.
    Light,
    /// It gained more than what was written down can give.
    MissingMeals {
        /// Gained, in g.
        gained_g: f64,
        /// Eaten, in g.
        eaten_g: f64,
        /// Over so many days.
        days: f64,
    },
}

/// The budget of one animal.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// ln k: from the profile, shrunk toward the animal's own record.
    pub factor: Log,
    /// ln k before its own record.
    pub factor_before: Log,
    /// How many stretches between weighings told.
    pub stretches: usize,
    /// Body temperature, °C.
    pub body_c: f64,
    /// Net energy of a gram of what it eats, kJ.
    pub net_kj_per_g: f64,
    /// Energy in a gram of new body, kJ.
    pub tissue_kj_per_g: f64,
}

/// Noise of ln mass over a stretch: of two weighings, and of what the budget leaves out, per root of 60 days.
const STRETCH_NOISE: f64 = 0.05;
/// Shortest stretch from which the factor is read, in days: a quarter of the record within these. Over a longer one the
/// noise of the two weighings counts for less.
const SHORTEST_D: (f64, f64) = (14.0, 90.0);

impl Budget {
    /// The budget of an animal with its temperature and prey, the factor as it is usual.
    pub fn usual(view: &View<'_>, body_c: f64, intake: &Intake) -> Budget {
        let factor = usual_factor(view);
        Budget {
            factor,
            factor_before: factor,
            stretches: 0,
            body_c,
            net_kj_per_g: intake.net_kj_per_g(),
            tissue_kj_per_g: lines::low("energy_tissue").value,
        }
    }

    /// The budget fitted to the animal's own meals and weighings, or why there is none.
    pub fn of(view: &View<'_>, weighings: &Weighings, intake: &Intake) -> Result<Budget, NoBudget> {
        let (Some(first), Some(last)) = (weighings.list.first(), weighings.list.last()) else {
            return Err(NoBudget::FewMeals);
        };
        let within = intake.between(first.at, view.now);
        let least = lines::group("energy_serves", "meals at least").value;
        if (within.meals as f64) < least || within.days < lines::group("energy_serves", "over at least").value {
            return Err(NoBudget::FewMeals);
        }
        let weighed = lines::group("energy_serves", "share of meals with a mass").value;
        if intake.share_weighed().is_none_or(|share| share < weighed) {
            return Err(NoBudget::MealsWithoutMass);
        }
        let body_c = view.warmth.body_c(false).ok_or(NoBudget::NoTemperature)?;
        if body_c < lines::low("energy_serves").value || lines::high("energy_serves").value < body_c {
            return Err(NoBudget::Temperature { body_c });
        }
        if last.mass_g < lines::group("energy_serves", "from a body mass of").value {
            return Err(NoBudget::Light);
        }
        missing_meals(weighings, intake).map_or(Ok(()), Err)?;
        Ok(Budget::usual(view, body_c, intake).fitted(weighings, intake))
    }

    /// With the factor that its own weighings and meals show.
    fn fitted(mut self, weighings: &Weighings, intake: &Intake) -> Budget {
        let stretches: Vec<Stretch> = stretches(weighings, intake);
        if stretches.is_empty() {
            return self;
        }
        let rows = Own { budget: &self, stretches: &stretches };
        let (mean, deviation) = (self.factor.mean, self.factor.deviation);
        let parameter =
            Parameter::starting_at(mean).with_prior(mean, deviation).within(Range::Between(mean - 1.5, mean + 1.5));
        let settings = Settings { loss: Loss::Huber(1.5), noise: Noise::Known(1.0), ..Settings::default() };
        if let Ok(fit) = least_squares::fit(&rows, &[parameter], &settings)
            && let Some(mean) = fit.parameters.first().copied()
        {
            let found = fit.deviations().first().copied().filter(|sd| sd.is_finite() && 0.0 < *sd);
            self.factor = Log { mean, deviation: found.unwrap_or(deviation).min(deviation) };
        }
        self.stretches = stretches.len();
        self
    }

    /// Mass after `days` on a ration, in g. Never below a third of the start.
    pub fn mass_after(&self, mass_g: f64, ration_g_per_day: f64, days: f64) -> f64 {
        self.with_factor(self.factor.mean.exp(), mass_g, self.net_kj_per_g * ration_g_per_day, days)
    }

    /// Heun's method, ten days at a time.
    fn with_factor(&self, k: f64, mass_g: f64, net_kj_per_day: f64, days: f64) -> f64 {
        const STEP_D: f64 = 10.0;
        let count = (days / STEP_D).ceil().max(1.0);
        let h = days / count;
        let speed = |mass: f64| (net_kj_per_day - k * resting_kj_per_day(mass, self.body_c)) / self.tissue_kj_per_g;
        let least = mass_g / 3.0;
        let mut mass = mass_g;
        for _ in 0..(count as usize) {
            let first = speed(mass);
            let second = speed((mass + h * first).max(least));
            mass = (mass + h * f64::midpoint(first, second)).max(least);
        }
        mass
    }

    /// The ration that keeps a mass as it is, in g a day.
    pub fn maintenance_g_per_day(&self, mass_g: f64) -> f64 {
        self.factor.mean.exp() * resting_kj_per_day(mass_g, self.body_c) / self.net_kj_per_g
    }

    /// The ration on which an animal of `mass_g` weighs `later_g` after `days`, in g a day; none below zero.
    pub fn ration_for(&self, mass_g: f64, later_g: f64, days: f64) -> f64 {
        let middle = f64::midpoint(mass_g, later_g);
        let gain_kj = (later_g - mass_g) / days.max(1.0) * self.tissue_kj_per_g;
        (gain_kj / self.net_kj_per_g + self.maintenance_g_per_day(middle)).max(0.0)
    }

    /// How unsure the mass after `days` is, part by part; that of the start is not in it. `ration_varies` is a share of
    /// the ration.
    pub fn spread(&self, mass_g: f64, ration_g_per_day: f64, ration_varies: f64, days: f64) -> Unsure {
        let middle = self.mass_after(mass_g, ration_g_per_day, days);
        let off = |k: f64, ration: f64| {
            let mass = self.with_factor(k, mass_g, self.net_kj_per_g * ration, days);
            (mass / middle).ln().abs()
        };
        // A factor read from the animal's own record has the error of the temperature in it already.
        let kelvin = lines::low("energy_body_temperature").value;
        let share_left = self.factor.deviation / self.factor_before.deviation;
        let warmth = 0.038 * 10f64.ln() * kelvin * share_left;
        let (k, more) = (self.factor.mean.exp(), ration_g_per_day * (1.0 + ration_varies));
        Unsure {
            factor: off((self.factor.mean + self.factor.deviation).exp(), ration_g_per_day),
            warmth: off((self.factor.mean + warmth).exp(), ration_g_per_day),
            ration: off(k, more),
            gain: lines::low("energy_gain_spread").value * ration_g_per_day * days / middle,
        }
    }
}

/// Standard deviations of the logarithm of a mass that the budget foretells, by what they come from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unsure {
    /// The factor k.
    pub factor: f64,
    /// The body temperature.
    pub warmth: f64,
    /// The ration of the days ahead.
    pub ration: f64,
    /// What a gram of prey gives.
    pub gain: f64,
}

impl Unsure {
    /// All of it.
    pub fn all(&self) -> f64 {
        self.factor.hypot(self.warmth).hypot(self.ration).hypot(self.gain)
    }
}

/// ln k as the profile has it, else the general one.
fn usual_factor(view: &View<'_>) -> Log {
    if let Some(ration) = &view.profile.ration {
        let [low, mid, high] = ration.k;
        return Log { mean: mid.ln(), deviation: (high / low).ln() / (2.0 * Z) };
    }
    lines::whole("energy_factor").map_or(Log { mean: f64::NAN, deviation: f64::NAN }, Log::of)
}

/// From one weighing to another.
struct Stretch {
    from_g: f64,
    to_g: f64,
    days: f64,
    net_kj_per_day: f64,
}

/// From weighing to weighing, those too near left out; none across eggs.
fn stretches(weighings: &Weighings, intake: &Intake) -> Vec<Stretch> {
    let mut stretches = Vec::new();
    let Some(mut from) = weighings.list.first() else { return stretches };
    let shortest = (weighings.span_d() / 4.0).clamp(SHORTEST_D.0, SHORTEST_D.1);
    for to in weighings.list.iter().skip(1) {
        if to.after_eggs {
            from = to;
            continue;
        }
        let days = to.at.days_since(from.at);
        if days < shortest {
            continue;
        }
        let eaten = intake.between(from.at, to.at);
        stretches.push(Stretch { from_g: from.mass_g, to_g: to.mass_g, days, net_kj_per_day: eaten.net_kj / days });
        from = to;
    }
    stretches
}

/// More gained than what was written down can give, over the last two months or more.
fn missing_meals(weighings: &Weighings, intake: &Intake) -> Option<NoBudget> {
    let over = lines::group("energy_gain_cannot_be", "over at least").value;
    let last = weighings.list.last()?;
    let from = weighings.list.iter().rev().find(|one| over <= last.at.days_since(one.at))?;
    let (gained_g, eaten_g) = (last.mass_g - from.mass_g, intake.between(from.at, last.at).total_g);
    let days = last.at.days_since(from.at);
    let noise_g = 2.0 * STRETCH_NOISE * last.mass_g;
    (lines::low("energy_gain_cannot_be").value * eaten_g + noise_g < gained_g).then_some(NoBudget::MissingMeals {
        gained_g,
        eaten_g,
        days,
    })
}

/// The animal's own stretches as rows of a fit of ln k, each residual in units of its noise.
struct Own<'a> {
    budget: &'a Budget,
    stretches: &'a [Stretch],
}

impl Rows for Own<'_> {
    fn count(&self) -> usize {
        self.stretches.len()
    }

    fn visit(&self, parameters: &[f64], mut each: impl FnMut(f64, &[f64])) {
        for one in self.stretches {
            let noise = STRETCH_NOISE * (1.0 + one.days / 60.0).sqrt();
            let off = |parameters: &[f64]| {
                let k = parameters.first().map_or(f64::NAN, |ln| ln.exp());
                (self.budget.with_factor(k, one.from_g, one.net_kj_per_day, one.days) / one.to_g).ln() / noise
            };
            let mut slopes = [0.0];
            least_squares::slopes_by_differences(off, parameters, &mut slopes);
            each(off(parameters), &slopes);
        }
    }
}
