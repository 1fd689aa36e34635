//! What a species lacks is its family's: the figures that care cannot do without.

use crate::library::Library;
use crate::places;
use crate::profile::Profile;

/// Paths of the figures that care cannot do without. Lengths, masses and breeding are an animal's own and are not here.
const NEEDED: [&str; 20] = [
    "temperature.basking_surface_c",
    "temperature.warm_ambient_c",
    "temperature.cool_ambient_c",
    "temperature.night_min_c",
    "temperature.surface_absolute_max_c",
    "temperature.digest_min_c",
    "temperature.overheat_c",
    "humidity.normal_pct",
    "humidity.shed_pct",
    "life.longevity_typical_y",
    "prey_limit.mass_pct",
    "prey_limit.girth_x",
    "shed.dull_d",
    "shed.blue_d",
    "shed.clear_to_shed_d",
    "shed.total_d",
    "enclosure.length_x",
    "enclosure.width_x",
    "enclosure.height_x",
    "fasting.typical_d",
];

/// The same for each stage.
const NEEDED_BY_STAGE: [&str; 2] = ["refusal_alert_d", "shed.interval_d"];

/// Fills what species lack from their family's profile and notes it in [`Profile::inherited`].
pub(crate) fn from_families(library: &mut Library) {
    let families: Vec<Option<Profile>> = library
        .profiles
        .iter()
        .map(|profile| library.family_profile(&profile.family).filter(|_| !profile.general).cloned())
        .collect();
    for (profile, family) in library.profiles.iter_mut().zip(families) {
        if let Some(family) = family {
            fill(profile, &family);
        }
    }
}

fn fill(profile: &mut Profile, family: &Profile) {
    macro_rules! stages {
        ($($stage:ident)*) => {$(
            if profile.feeding.$stage.is_none() && family.feeding.$stage.is_some() {
                profile.feeding.$stage.clone_from(&family.feeding.$stage);
                profile.inherited.push(concat!("feeding.", stringify!($stage)).into());
            }
        )*};
    }
    stages!(hatchling juvenile subadult adult);
    for place in places::all().filter(|place| is_needed(place.path)) {
        let lacking = (place.get)(profile).is_none();
        if let Some(figure) = (place.get)(family).filter(|_| lacking) {
            (place.set)(profile, figure);
            profile.inherited.push(place.path.into());
        }
    }
}

fn is_needed(path: &str) -> bool {
    let by_stage =
        |whole: &str| path.strip_prefix(whole).is_some_and(|rest| rest.starts_with('.') && rest != ".adult_male");
    NEEDED.contains(&path) || NEEDED_BY_STAGE.into_iter().any(by_stage)
}
