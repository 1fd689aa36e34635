//! Every value of a profile by its path. One list serves overrides, what is inherited, and whoever shows a profile.

use crate::figure::{Figure, Provenance, Status};
use crate::profile::{Feeding, Profile};

/// A value of a profile.
pub(crate) struct Place {
    /// Its path, for example `temperature.night_min_c`.
    pub path: &'static str,
    /// The default figure there.
    pub get: fn(&Profile) -> Option<Figure>,
    /// Puts a figure in the place of the default. Nothing happens where the profile has no such part.
    pub set: fn(&mut Profile, Figure),
}

macro_rules! figures {
    ($($section:ident: $($field:ident)*;)*) => {
        &[$($(Place {
            path: concat!(stringify!($section), ".", stringify!($field)),
            get: |profile| profile.$section.$field.first().cloned(),
            set: |profile, figure| profile.$section.$field.replace_default(figure),
        },)*)*]
    };
}

macro_rules! by_stage {
    ($($stage:ident)*) => {
        &[$(
            Place {
                path: concat!("feeding.", stringify!($stage), ".interval_d"),
                get: |profile| profile.feeding.$stage.as_ref().map(|feeding| feeding.interval_d.clone()),
                set: |profile, figure| {
                    if let Some(feeding) = &mut profile.feeding.$stage {
                        feeding.interval_d = figure;
                    }
                },
            },
            Place {
                path: concat!("feeding.", stringify!($stage), ".prey_pct"),
                get: |profile| profile.feeding.$stage.as_ref().map(share),
                set: |profile, figure| {
                    if let Some(feeding) = &mut profile.feeding.$stage {
                        feeding.prey_pct = (figure.low, figure.high);
                        reckon_prey(feeding);
                    }
                },
            },
            Place {
                path: concat!("feeding.", stringify!($stage), ".stage_mass_g"),
                get: |profile| stage_mass(profile.feeding.$stage.as_ref()?, profile.feeding_from.stage_mass.as_ref()),
                set: |profile, figure| {
                    if let Some(feeding) = &mut profile.feeding.$stage {
                        feeding.stage_mass_g = Some((figure.low, figure.high));
                        reckon_prey(feeding);
                    }
                },
            },
            Place {
                path: concat!("refusal_alert_d.", stringify!($stage)),
                get: |profile| profile.refusal_alert_d.by_stage.$stage.clone(),
                set: |profile, figure| profile.refusal_alert_d.by_stage.$stage = Some(figure),
            },
            Place {
                path: concat!("shed.interval_d.", stringify!($stage)),
                get: |profile| profile.shed.interval_d.$stage.as_ref()?.first().cloned(),
                set: |profile, figure| profile.shed.interval_d.$stage.get_or_insert_default().replace_default(figure),
            },
        )*]
    };
}

const FIGURES: &[Place] = figures! {
    temperature: preferred_zone_c basking_surface_c warm_ambient_c cool_ambient_c night_min_c surface_absolute_max_c
        digest_min_c overheat_c night_min_fed_c surface_floor_heat_max_c basking_h;
    humidity: normal_pct shed_pct neonate_pct;
    size: adult_length_m_female adult_length_m_male adult_length_m_any adult_svl_m_female adult_svl_m_male
        adult_svl_m_any adult_svl_m_female_wild adult_mass_g_female adult_mass_g_male adult_mass_g_any
        adult_mass_g_female_wild neonate_length_m neonate_mass_g;
    life: longevity_typical_y longevity_max_y maturity_female_d clutch_n litter_n incubation_d gestation_d;
    habit: uv_zone;
    prey_limit: mass_pct mass_pct_adult girth_x;
    fasting: typical_d;
    shed: dull_d blue_d clear_to_shed_d total_d;
    enclosure: length_x width_x height_x substrate_depth_m;
    brumation: temp_c hold_weeks;
};

const BY_STAGE: &[Place] = by_stage!(hatchling juvenile subadult adult);

const SINGLE: &[Place] = &[
    Place {
        path: "refusal_alert_d.adult_male",
        get: |profile| profile.refusal_alert_d.adult_male.clone(),
        set: |profile, figure| profile.refusal_alert_d.adult_male = Some(figure),
    },
    Place {
        path: "ration.maintenance_pct_week",
        get: |profile| profile.ration.as_ref().map(|ration| ration.maintenance_pct_week.clone()),
        set: |profile, figure| {
            if let Some(ration) = &mut profile.ration {
                ration.maintenance_pct_week = figure;
            }
        },
    },
    Place {
        path: "ration.plan_pct_week",
        get: |profile| profile.ration.as_ref().map(|ration| ration.plan_pct_week.clone()),
        set: |profile, figure| {
            if let Some(ration) = &mut profile.ration {
                ration.plan_pct_week = figure;
            }
        },
    },
    Place {
        path: "water.change_h",
        get: |profile| profile.water.as_ref().map(|water| water.change_h.clone()),
        set: |profile, figure| profile.water = Some(crate::profile::WaterNeeds { change_h: figure }),
    },
];

/// All places, in the order of the profile.
pub(crate) fn all() -> impl Iterator<Item = &'static Place> {
    FIGURES.iter().chain(BY_STAGE).chain(SINGLE)
}

/// The place of that path.
pub(crate) fn find(path: &str) -> Option<&'static Place> {
    all().find(|place| place.path == path)
}

/// The share of body mass, with the source of the interval.
fn share(feeding: &Feeding) -> Figure {
    let (low, high) = feeding.prey_pct;
    Figure { low, high, mid: None, note: None, ..feeding.interval_d.clone() }
}

fn stage_mass(feeding: &Feeding, from: Option<&Provenance>) -> Option<Figure> {
    let (low, high) = feeding.stage_mass_g?;
    let source = from.map_or_else(|| feeding.interval_d.source.clone(), |from| from.source.clone());
    let status = from.map_or(Status::FromMemory, |from| from.status);
    Some(Figure { low, high, mid: None, source, status, derived: true, note: None })
}

/// The grams of a meal follow the share and the stage's masses.
fn reckon_prey(feeding: &mut Feeding) {
    let ((low_pct, high_pct), Some((low_g, high_g))) = (feeding.prey_pct, feeding.stage_mass_g) else { return };
    feeding.prey_g = Some((low_g * low_pct / 100.0, high_g * high_pct / 100.0));
}
