//! What it ate: grams and meals over recent stretches, and how complete the record looks.

use records::choice::Choice;
use units::Moment;

use crate::lines;
use crate::view::View;

/// A meal that stayed down, with what is left of it for the animal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meal {
    /// When.
    pub at: Moment,
    /// In g.
    pub mass_g: f64,
    /// Net energy, in kJ.
    pub net_kj: f64,
}

/// What it ate over the last 14 months.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Intake {
    /// Meals of known mass, oldest first.
    pub meals: Vec<Meal>,
    /// Meals of unknown mass.
    pub of_unknown_mass: usize,
    /// Of the meals of known mass: those of which the mass is the middle of the class.
    pub of_the_class: usize,
    /// When the record begins: the first offer of any kind that is known.
    pub since: Option<Moment>,
}

/// What it ate over a stretch.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Ration {
    /// Over so many days.
    pub days: f64,
    /// So many meals.
    pub meals: usize,
    /// In all, in g.
    pub total_g: f64,
    /// Net energy in all, in kJ.
    pub net_kj: f64,
}

impl Ration {
    /// In g a day.
    pub fn g_per_day(&self) -> f64 {
        if 0.0 < self.days { self.total_g / self.days } else { 0.0 }
    }

    /// In g a week.
    pub fn g_per_week(&self) -> f64 {
        7.0 * self.g_per_day()
    }
}

impl Intake {
    /// From the meals that stayed down.
    pub fn of(view: &View<'_>) -> Intake {
        let rodent = lines::low("energy_net").value;
        let mut intake = Intake { since: view.line.meals.first().map(|first| first.at.from), ..Intake::default() };
        for eaten in view.meals.eaten.iter().filter(|eaten| eaten.stayed) {
            let Some(mass_g) = eaten.mass_g else {
                intake.of_unknown_mass += 1;
                continue;
            };
            intake.of_the_class += usize::from(eaten.mass_is_assumed);
            let class = view.line.meals.get(eaten.index).and_then(|meal| meal.prey);
            let own = class.and_then(|class| lines::whole_of_group("energy_net", class.key()));
            let net = own.map_or(rodent, species::Figure::middle);
            intake.meals.push(Meal { at: eaten.at.from, mass_g, net_kj: net * mass_g });
        }
        intake
    }

    /// From one moment (with it) to another (without it).
    pub fn between(&self, from: Moment, until: Moment) -> Ration {
        let mut ration = Ration { days: until.days_since(from).max(0.0), ..Ration::default() };
        let first = self.meals.partition_point(|meal| meal.at < from);
        for meal in self.meals.iter().skip(first).take_while(|meal| meal.at < until) {
            ration.meals += 1;
            ration.total_g += meal.mass_g;
            ration.net_kj += meal.net_kj;
        }
        ration
    }

    /// Of the last `days` until a moment, with that day's own.
    pub fn of_last(&self, days: f64, until: Moment) -> Ration {
        Ration { days, ..self.between(until.plus_days(-days), until.plus_days(1e-3)) }
    }

    /// Share of the meals that have a mass; `None` with no meal.
    pub fn share_weighed(&self) -> Option<f64> {
        let all = self.meals.len() + self.of_unknown_mass;
        (0 < all).then(|| self.meals.len() as f64 / all as f64)
    }

    /// Net energy of a gram of what it eats, in kJ; that of a rodent where it has eaten nothing.
    pub fn net_kj_per_g(&self) -> f64 {
        let recent = self.meals.iter().rev().take(10);
        let (kj, g) = recent.fold((0.0, 0.0), |(kj, g), meal| (kj + meal.net_kj, g + meal.mass_g));
        if 0.0 < g { kj / g } else { lines::low("energy_net").value }
    }

    /// Week by week back from `now`, the newest first.
    pub fn weeks(&self, now: Moment, count: usize) -> Vec<Ration> {
        let week = |at: usize| self.between(now.plus_days(-7.0 * (at + 1) as f64), now.plus_days(-7.0 * at as f64));
        (0..count).map(week).collect()
    }

    /// How much one month's ration differs from another's: coefficient of variation of the last six months, shrunk
    /// toward `usual` with the weight of four months.
    pub fn varies(&self, now: Moment, usual: f64) -> f64 {
        const MONTH_D: f64 = 30.0;
        const WEIGHT: f64 = 4.0;
        let since = self.since.unwrap_or(now);
        let months = (now.days_since(since) / MONTH_D).floor().clamp(0.0, 6.0) as usize;
        let of_month = |at: usize| {
            self.between(now.plus_days(-MONTH_D * (at + 1) as f64), now.plus_days(-MONTH_D * at as f64)).total_g
        };
        let rations: Vec<f64> = (0..months).map(of_month).collect();
        let mean = rations.iter().sum::<f64>() / months.max(1) as f64;
        if months < 2 || mean <= 0.0 {
            return usual;
        }
        let squares = rations.iter().map(|one| (one / mean - 1.0).powi(2)).sum::<f64>();
        let freedom = (months - 1) as f64;
        ((WEIGHT * usual * usual + squares) / (WEIGHT + freedom)).sqrt()
    }
}
