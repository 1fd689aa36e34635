//! Weighings made comparable: like with like.
//!
//! An empty weighing is one taken at least D + 2 days after the last meal. Only empty ones serve as reference; others
//! are compared after what is still inside was subtracted. One weighing that stands alone against its neighbours is
//! set aside and asked about.

use records::facts::{BreedingWhat, SignKind, Stage};
use records::timeline::Timeline;
use units::Moment;

use crate::digestion::Meals;
use crate::lines;

/// A weighing made comparable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighed {
    /// Its place in the timeline's weighings.
    pub index: usize,
    /// When (a day without an hour: its beginning, before any meal of that day).
    pub at: Moment,
    /// As read from the scale, in g.
    pub mass_g: f64,
    /// Without what is still inside, in g; `None` when a meal of unknown mass is inside.
    pub empty_g: Option<f64>,
    /// Was the gut empty?
    pub is_empty: bool,
}

/// The weighings of the last year.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Masses {
    /// Those that count, oldest first.
    pub list: Vec<Weighed>,
    /// Weighings that stand alone against their neighbours: places in the timeline.
    pub suspects: Vec<usize>,
    /// The empty weighing that the last one is measured against: the heaviest of the last year.
    pub reference: Option<Weighed>,
    /// How much lighter the last one is than the reference, in % (negative: heavier).
    pub loss_pct: Option<f64>,
    /// The heaviest weighing of the last year, meals inside taken off, whether or not the gut was empty: waste may
    /// still have been in it, so it is worth a look and no more.
    pub heaviest: Option<Weighed>,
    /// How much lighter the last one is than that, in %.
    pub loss_from_heaviest_pct: Option<f64>,
}

const YEAR_D: f64 = 365.0;

impl Masses {
    /// From the timeline, not compared yet ([`Masses::compare`]).
    pub fn of(line: &Timeline, meals: &Meals, now: Moment) -> Masses {
        let since = now.plus_days(-YEAR_D - 60.0);
        let first = line.weighings.partition_point(|one| one.at.to < since);
        let first = first.min(line.weighings.len().saturating_sub(1));
        let mut all = Vec::new();
        let mut eaten = meals.eaten.iter().peekable();
        let mut inside: Vec<&crate::digestion::Eaten> = Vec::new();
        for (index, one) in line.weighings.iter().enumerate().skip(first).filter(|(_, one)| !one.estimated) {
            while let Some(meal) =
                eaten.next_if(|meal| meal.at.from < one.at.from || (meal.at.from == one.at.from && one.at.has_hour()))
            {
                inside.push(meal);
            }
            let days = |meal: &crate::digestion::Eaten| one.at.from.days_since(meal.at.from).max(0.0);
            inside.retain(|meal| days(meal) < meal.gut_d());
            let still = inside.iter().try_fold(0.0, |sum, meal| meal.inside_g(days(meal)).map(|mass| sum + mass));
            all.push(Weighed {
                index,
                at: one.at.from,
                mass_g: one.mass_g,
                empty_g: still.map(|still| (one.mass_g - still).max(one.mass_g * 0.5)),
                is_empty: inside.iter().all(|meal| !meal.stayed),
            });
        }
        let suspects: Vec<usize> = stands_alone(&all);
        let list: Vec<Weighed> = all.into_iter().filter(|one| !suspects.contains(&one.index)).collect();
        Masses { list, suspects, ..Masses::default() }
    }

    /// The last weighing that counts.
    pub fn last(&self) -> Option<&Weighed> {
        self.list.last()
    }

    /// Compares the last weighing with those before it, for an animal of this stage.
    pub fn compare(&mut self, line: &Timeline, stage: Option<Stage>, now: Moment) {
        let Some((last, earlier)) = self.list.split_last() else { return };
        let Some(now_g) = last.empty_g else { return };
        let from = reference_from(line, stage, now);
        let heaviest = |must_be_empty: bool| {
            earlier
                .iter()
                .filter(|one| {
                    (one.is_empty || !must_be_empty) && from <= one.at && last.at.days_since(one.at) <= YEAR_D
                })
                .filter_map(|one| one.empty_g.map(|mass| (mass, *one)))
                .max_by(|a, b| a.0.total_cmp(&b.0))
        };
        let loss = |mass: f64| 100.0 * (mass - now_g) / mass;
        (self.reference, self.loss_pct) = heaviest(true).map(|(mass, one)| (one, loss(mass))).unzip();
        (self.heaviest, self.loss_from_heaviest_pct) = heaviest(false).map(|(mass, one)| (one, loss(mass))).unzip();
    }

    /// Is a mass of the last `days` known?
    pub fn is_known_within(&self, days: f64, now: Moment) -> bool {
        self.last().is_some_and(|last| now.days_since(last.at) <= days)
    }
}

/// From when on a weighing may serve as reference: after eggs or young left her, and in a hatchling after its first
/// shed (before, it lives on its yolk).
fn reference_from(line: &Timeline, stage: Option<Stage>, now: Moment) -> Moment {
    let bred = line
        .breedings
        .iter()
        .filter(|one| matches!(one.what, BreedingWhat::Laid | BreedingWhat::Born))
        .map(|one| one.at);
    let signs =
        line.signs.iter().filter(|one| matches!(one.sign, SignKind::LaidEggs | SignKind::GaveBirth)).map(|one| one.at);
    let laid = bred.chain(signs).map(|when| when.from).max();
    // Gravid, she carries what she will lay: weights since then say nothing of her own body.
    let first_shed = (stage == Some(Stage::Hatchling))
        .then(|| line.sheds.iter().find_map(|shed| shed.shed_at))
        .flatten()
        .map(|off| off.from);
    laid.into_iter().chain(first_shed).max().unwrap_or(now.plus_days(-2.0 * YEAR_D))
}

/// Places of weighings that stand alone: far from both neighbours on the same side while these agree with each other;
/// or, at the end of the list, off by more than twice (or half) within two months: a slip of the unit or the scale.
fn stands_alone(all: &[Weighed]) -> Vec<usize> {
    let off = lines::low("mass_stands_alone").value / 100.0;
    let agree = lines::high("mass_stands_alone").value / 100.0;
    let mass = |one: &Weighed| one.empty_g.unwrap_or(one.mass_g);
    let mut alone = Vec::new();
    for window in all.windows(3) {
        let [before, one, after] = window else { continue };
        let (a, m, b) = (mass(before), mass(one), mass(after));
        let above = a.max(b) * (1.0 + off) < m;
        let below = m < a.min(b) / (1.0 + off);
        let neighbours_agree = (a / b).max(b / a) <= 1.0 + agree;
        if (above || below) && neighbours_agree && after.at.days_since(before.at) <= 200.0 {
            alone.push(one.index);
        }
    }
    if let [.., before, last] = all {
        let (a, m) = (mass(before), mass(last));
        let slip = lines::low("mass_slip_factor").value;
        if slip <= (a / m).max(m / a) && last.at.days_since(before.at) <= 60.0 && !alone.contains(&before.index) {
            alone.push(last.index);
        }
    }
    alone
}
