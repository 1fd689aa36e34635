//! Plans of feeding that do not agree, side by side.

use records::choice::Choice;
use records::facts::Stage;

use crate::answer::SourceRef;
use crate::lines;
use crate::view::View;

/// Both ends, where they are told.
type Ends = Option<(f64, f64)>;

/// A plan of feeding.
#[derive(Clone, Debug, PartialEq)]
pub struct School {
    /// For whom it is meant, in its own words.
    pub stage: String,
    /// Days between meals.
    pub every_d: Ends,
    /// Prey of one meal, in % of body mass.
    pub share_pct: Ends,
    /// What that comes to for this animal, in g a week.
    pub g_week: Ends,
    /// Does the tool go by it?
    pub is_used: bool,
    /// What should be known about it.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: SourceRef,
}

/// The plans for the animal's stage: the profile's first, then what other sources say of its kind and of snakes in
/// general.
pub fn schools(view: &View<'_>, body_g: Option<f64>) -> Vec<School> {
    let mut list = Vec::new();
    let stage = match view.stage {
        Some(Stage::Hatchling) => Stage::Hatchling,
        Some(Stage::Juvenile) => Stage::Juvenile,
        Some(Stage::Subadult) => Stage::Subadult,
        Some(Stage::Adult | Stage::Aged) | None => Stage::Adult,
    };
    let week = |every, share| week(body_g, every, share);
    if let Some(own) = view.feeding() {
        let every = Some((own.interval_d.low, own.interval_d.high));
        list.push(School {
            stage: stage.key().to_owned(),
            every_d: every,
            share_pct: Some(own.prey_pct),
            g_week: week(every, Some(own.prey_pct)),
            is_used: true,
            note: None,
            source: SourceRef::of(&own.interval_d),
        });
    }
    let is_for_it = |text: &str| text == "all" || text.split_whitespace().next() == Some(stage.key());
    for other in view.profile.feeding_alt.iter().filter(|other| is_for_it(&other.stage)) {
        list.push(School {
            stage: other.stage.clone(),
            every_d: other.interval_d,
            share_pct: other.prey_pct,
            g_week: week(other.interval_d, other.prey_pct),
            is_used: false,
            note: other.from.note.clone(),
            source: SourceRef { key: other.from.source.clone().into(), status: other.from.status },
        });
    }
    list.extend(of_all_snakes(stage, body_g));
    list
}

/// From the least, seldom, to the most, often: g a week.
fn week(body_g: Option<f64>, every_d: Ends, share_pct: Ends) -> Ends {
    let ((short, long), (least, most), body) = (every_d?, share_pct?, body_g?);
    Some((7.0 * body * least / 100.0 / long, 7.0 * body * most / 100.0 / short))
}

/// What is said of snakes in general.
fn of_all_snakes(stage: Stage, body_g: Option<f64>) -> Option<School> {
    let (every, share) = match stage {
        Stage::Hatchling => ("feed_interval_juvenile_general", "prey_mass_hatchling"),
        Stage::Juvenile => ("feed_interval_juvenile_general", "prey_mass_hatchling"),
        Stage::Subadult => ("feed_interval_adult_general", "prey_mass_subadult"),
        Stage::Adult | Stage::Aged => ("feed_interval_adult_general", "prey_mass_adult"),
    };
    let ends = |id| lines::whole(id).map(|figure| (figure.low, figure.high));
    let (every_d, share_pct) = (ends(every), ends(share));
    Some(School {
        stage: format!("any snake, {}", stage.key()),
        every_d,
        share_pct,
        g_week: week(body_g, every_d, share_pct),
        is_used: false,
        note: None,
        source: SourceRef::of(lines::whole(every)?),
    })
}

/// The rule of thumb that counts kilocalories: 10 × kg^0.75 a day, in g of rodent a week. It is shown because it is
/// often quoted, never gone by.
pub fn rule_of_thumb_g_week(body_g: f64) -> f64 {
    const KJ_PER_KCAL: f64 = 4.184;
    let kcal_day = lines::low("energy_smr").value * (body_g / 1000.0).powf(0.75);
    7.0 * kcal_day * KJ_PER_KCAL / lines::low("energy_metabolisable").value
}
