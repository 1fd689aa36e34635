//! What is taken for the growth of an animal before its own weighings tell.

use records::facts::Sex;
use species::{Figure, Figures};

use crate::answer::SourceRef;
use crate::lines;
use crate::view::View;

/// z of the 90th percentile: the ranges of the data are the 10th to the 90th.
pub(super) const Z: f64 = 1.281_551_565_544_600_4;
/// Days in a year.
pub(super) const YEAR_D: f64 = crate::age::YEAR_D;

/// A normal distribution of a logarithm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Log {
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation.
    pub deviation: f64,
}

impl Log {
    /// From a figure of which the ends are the 10th and the 90th percentile.
    pub(super) fn of(figure: &Figure) -> Log {
        Log { mean: figure.middle().ln(), deviation: (figure.high / figure.low).ln() / (2.0 * Z) }
    }
}

/// One of a few values that are tried beside each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Tried {
    pub(super) value: f64,
    pub(super) weight: f64,
}

/// What is known beforehand of one animal's growth.
#[derive(Clone, Debug, PartialEq)]
pub struct Prior {
    /// Mass toward which it grows, in g.
    pub adult: Log,
    /// Rate constant of the Gompertz curve per year, of a species of which adults weigh [`Prior::at_mass_g`].
    pub rate: Log,
    /// Exponent with which the rate falls with the adult mass.
    pub exponent: f64,
    /// In g.
    pub at_mass_g: f64,
    /// Is the adult mass that of the species (else of its family)?
    pub is_of_the_species: bool,
    pub(super) wanders: Vec<Tried>,
    pub(super) memory_y: f64,
    pub(super) of_the_grown: f64,
    pub(super) noises: Vec<Tried>,
    pub(super) noise_with_a_meal: f64,
    pub(super) slip: Tried,
    pub(super) jump: Tried,
    /// Where it comes from.
    pub sources: Vec<SourceRef>,
}

impl Prior {
    /// For an animal. `None` where the data lack a rule (a test holds that they do not).
    pub fn of(view: &View<'_>) -> Option<Prior> {
        let (adult, adult_from, is_of_the_species) = adult(view)?;
        let rate = lines::whole("growth_rate")?;
        let with_size = lines::low("growth_rate_with_size");
        let mut sources = vec![adult_from, SourceRef::of(rate), with_size.source];
        sources.dedup();
        Some(Prior {
            adult,
            rate: Log::of(rate),
            exponent: with_size.value,
            at_mass_g: lines::group("growth_rate_with_size", "holds at an adult mass of").value,
            is_of_the_species,
            wanders: tried("growth_goes_on"),
            memory_y: lines::low("growth_memory").value / YEAR_D,
            of_the_grown: lines::low("growth_of_the_grown").value,
            noises: tried("growth_scale_noise"),
            noise_with_a_meal: lines::group("growth_scale_noise", "with a meal inside").value,
            slip: Tried {
                weight: lines::low("growth_slip").value,
                value: lines::group("growth_slip", "times further off").value,
            },
            jump: Tried { weight: lines::low("growth_break").value, value: lines::group("growth_break", "by").value },
            sources,
        })
    }

    /// Logarithm of the rate constant, per year, for an animal that grows toward a mass with this logarithm: the middle
    /// of what is known, and how many standard deviations from it.
    pub(super) fn rate_at(&self, ln_adult: f64, z: f64) -> f64 {
        (self.rate.mean + z * self.rate.deviation + self.exponent * (ln_adult - self.at_mass_g.ln())).exp()
    }
}

/// Values of the groups of a rule that have a weight.
fn tried(id: &str) -> Vec<Tried> {
    let groups = lines::rule(id).map(|rule| rule.groups.as_slice()).unwrap_or_default();
    let one = |group: &species::RuleGroup| {
        Some(Tried { value: group.figure.as_ref()?.middle(), weight: *group.numbers.get("weight")? })
    };
    groups.iter().filter_map(one).collect()
}

/// The mass toward which it grows: the adult mass of its sex in the profile, wider than the profile's range by
/// `growth_adult_mass_apart`; for a species without a profile of its own that of its family.
fn adult(view: &View<'_>) -> Option<(Log, SourceRef, bool)> {
    let own = (!view.profile.general).then(|| of_the_profile(view)).flatten();
    if let Some((log, source)) = own {
        return Some((log, source, true));
    }
    let family = view.case.animal.family.as_deref();
    let of = |family: &str| lines::whole_of_group("growth_adult_mass", family);
    let figure = family.and_then(of).or_else(|| of(&view.profile.family)).or_else(|| of("any"))?;
    Some((Log::of(figure), SourceRef::of(figure), false))
}

fn of_the_profile(view: &View<'_>) -> Option<(Log, SourceRef)> {
    let size = &view.profile.size;
    let first = |figures: &'_ Figures| figures.first().cloned();
    let (female, male) = (first(&size.adult_mass_g_female), first(&size.adult_mass_g_male));
    let any = first(&size.adult_mass_g_any);
    let both = |one: Option<Figure>, other: Option<Figure>| match (one, other) {
        (Some(one), Some(other)) => {
            let mid = f64::midpoint(one.middle(), other.middle());
            let (low, high) = (one.low.min(other.low), one.high.max(other.high));
            Some(Figure { low, high, mid: Some(mid), ..one })
        }
        (one, other) => one.or(other),
    };
    let figure = match view.sex() {
        Some(Sex::Female) => female.or(any),
        Some(Sex::Male) => male.or(any),
        _ => {
            any.filter(|any| !any.is_single()).or_else(|| both(female, male)).or_else(|| first(&size.adult_mass_g_any))
        }
    }?;
    let apart = lines::low("growth_adult_mass_apart").value;
    let log = Log::of(&figure);
    Some((Log { deviation: log.deviation.hypot(apart), ..log }, SourceRef::of(&figure)))
}
