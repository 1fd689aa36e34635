//! What one species needs.

use serde::Serialize;

use crate::figure::{Alternative, ByStage, Figure, Figures, Provenance, Status};
use crate::overrides::Override;

/// Where the species comes from, for the lines of cold.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Climate {
    /// Bears no cold.
    #[default]
    Tropical,
    /// Bears cool nights, and as an adult with an empty gut a cool day.
    Temperate,
}

impl Climate {
    pub(crate) const ALL: [Climate; 2] = [Climate::Tropical, Climate::Temperate];

    /// The word for it in the data.
    pub fn key(self) -> &'static str {
        match self {
            Climate::Tropical => "tropical",
            Climate::Temperate => "temperate",
        }
    }
}

/// What a species needs, or (with `general`) what serves for a family without a profile of the species.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Profile {
    /// Its key, for example `ball_python`.
    pub key: String,
    /// The current scientific name.
    pub scientific_name: String,
    /// Scientific names, the current first, older ones after it.
    pub names: Vec<String>,
    /// Where the names come from.
    pub names_from: Option<Provenance>,
    /// Common names.
    pub common_names: Vec<String>,
    /// The family; `any` in the profile that serves for all.
    pub family: String,
    /// A family's profile: it serves where a species has none, and the answer says so.
    pub general: bool,
    /// Tropical or temperate.
    pub climate: Climate,
    /// Build in a word or two, for example `heavy`.
    pub shape: Option<String>,
    /// Does it bear live young?
    pub live_bearing: bool,
    /// What a keeper should know.
    pub notes: Vec<String>,
    /// Temperatures.
    pub temperature: Temperature,
    /// Humidity.
    pub humidity: Humidity,
    /// Lengths and masses.
    pub size: Size,
    /// Life history.
    pub life: Life,
    /// Way of life.
    pub habit: Habit,
    /// Meals by stage.
    pub feeding: ByStage<Feeding>,
    /// Where the masses, grams and classes in `feeding` come from.
    pub feeding_from: FeedingFrom,
    /// Other views on meals; none is a default.
    pub feeding_alt: Vec<FeedingAlternative>,
    /// The adult's plan beside its maintenance.
    pub ration: Option<Ration>,
    /// Hard limits of one meal.
    pub prey_limit: PreyLimit,
    /// Fasts that are known.
    pub fasting: Fasting,
    /// Days without a meal, outside a known season, after which to raise an alert.
    pub refusal_alert_d: RefusalAlert,
    /// Sheds.
    pub shed: Shed,
    /// Room.
    pub enclosure: EnclosureNeeds,
    /// Winter rest.
    pub brumation: Brumation,
    /// Trade law.
    pub law: Law,
    /// Water, where it differs from the general rule.
    pub water: Option<WaterNeeds>,
    /// Paths of values that the species lacks and that are its family's.
    pub inherited: Vec<String>,
    /// The household's own values that act here.
    pub overrides: Vec<Override>,
}

/// Temperatures in °C.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Temperature {
    /// Preferred optimum zone.
    pub preferred_zone_c: Figures,
    /// Warmest surface that it should find.
    pub basking_surface_c: Figures,
    /// Air at the warm end.
    pub warm_ambient_c: Figures,
    /// Air at the cool end.
    pub cool_ambient_c: Figures,
    /// Coldest night.
    pub night_min_c: Figures,
    /// No surface that it can touch may pass it.
    pub surface_absolute_max_c: Figures,
    /// Warm side below this within the digestion time: too cold to digest.
    pub digest_min_c: Figures,
    /// The whole enclosure or the retreat above this for half an hour is urgent.
    pub overheat_c: Figures,
    /// Coldest night with food inside, and for the young.
    pub night_min_fed_c: Figures,
    /// Limit of a heated floor into which it burrows.
    pub surface_floor_heat_max_c: Figures,
    /// Hours of basking a day (h).
    pub basking_h: Figures,
    /// Further readings.
    pub alt: Vec<Alternative>,
}

/// Relative humidity in %.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Humidity {
    /// As a rule.
    pub normal_pct: Figures,
    /// During a shed.
    pub shed_pct: Figures,
    /// For newborns.
    pub neonate_pct: Figures,
    /// Further readings.
    pub alt: Vec<Alternative>,
}

/// Lengths in m and masses in g.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Size {
    /// Total length of adult females in m.
    pub adult_length_m_female: Figures,
    /// Total length of adult males in m.
    pub adult_length_m_male: Figures,
    /// Total length of adults in m.
    pub adult_length_m_any: Figures,
    /// Snout-vent length of adult females in m.
    pub adult_svl_m_female: Figures,
    /// Snout-vent length of adult males in m.
    pub adult_svl_m_male: Figures,
    /// Snout-vent length of adults in m.
    pub adult_svl_m_any: Figures,
    /// Snout-vent length of free-living adult females in m.
    pub adult_svl_m_female_wild: Figures,
    /// Mass of adult females in g.
    pub adult_mass_g_female: Figures,
    /// Mass of adult males in g.
    pub adult_mass_g_male: Figures,
    /// Mass of adults in g.
    pub adult_mass_g_any: Figures,
    /// Mass of free-living adult females in g.
    pub adult_mass_g_female_wild: Figures,
    /// Length at birth in m (total, unless the note says snout-vent).
    pub neonate_length_m: Figures,
    /// Mass at birth in g.
    pub neonate_mass_g: Figures,
}

/// Life history.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Life {
    /// How long it usually lives in keeping, in years.
    pub longevity_typical_y: Figures,
    /// The longest life on record, in years.
    pub longevity_max_y: Figures,
    /// Age of females at maturity, in days.
    pub maturity_female_d: Figures,
    /// Eggs in a clutch.
    pub clutch_n: Figures,
    /// Young in a litter.
    pub litter_n: Figures,
    /// Days from laying to hatching.
    pub incubation_d: Figures,
    /// Days from mating to birth.
    pub gestation_d: Figures,
}

/// Way of life.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Habit {
    /// When it is active.
    pub activity: String,
    /// Where it lives.
    pub habit: String,
    /// Zone of ultraviolet index, 1 to 4.
    pub uv_zone: Figures,
    /// What it eats in the wild.
    pub diet_wild: Option<String>,
    /// What it is mostly fed.
    pub prey_staple: String,
}

/// Meals in one stage. The source of interval and share is that of `interval_d`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Feeding {
    /// Days between meals.
    pub interval_d: Figure,
    /// Prey mass of one meal in % of body mass.
    pub prey_pct: (f64, f64),
    /// Body mass in this stage, in g.
    pub stage_mass_g: Option<(f64, f64)>,
    /// Prey mass of one meal in g: the share of the stage's masses.
    pub prey_g: Option<(f64, f64)>,
    /// Keys of prey classes that fit.
    pub prey_classes: Vec<String>,
    /// The same in words: `from N g` is the body mass from which a middling item of the class fits.
    pub prey: String,
}

/// Where the reckoned parts of [`Feeding`] come from.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct FeedingFrom {
    /// Where `stage_mass_g` comes from.
    pub stage_mass: Option<Provenance>,
    /// Where `prey_g`, `prey_classes` and `prey` come from.
    pub prey: Option<Provenance>,
}

/// Another view on meals; no default.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FeedingAlternative {
    /// The stage in words.
    pub stage: String,
    /// Days between meals.
    pub interval_d: Option<(f64, f64)>,
    /// Prey mass of one meal in % of body mass.
    pub prey_pct: Option<(f64, f64)>,
    /// Where it comes from.
    pub from: Provenance,
}

/// The plan for an adult beside its maintenance.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Ration {
    /// Body mass it is reckoned for, in g.
    pub mass_g: f64,
    /// Body temperature it is reckoned for, in °C.
    pub body_c: f64,
    /// Factor on the resting rate: low, middle, high.
    pub k: [f64; 3],
    /// Maintenance in % of body mass a week.
    pub maintenance_pct_week: Figure,
    /// What the plan of the profile amounts to, in % of body mass a week.
    pub plan_pct_week: Figure,
    /// Which of the two stands.
    pub note: Option<String>,
}

/// Hard limits of one meal.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct PreyLimit {
    /// Mass in % of body mass.
    pub mass_pct: Figures,
    /// Mass in % of body mass for adults, where it is another.
    pub mass_pct_adult: Figures,
    /// Diameter as a multiple of the widest part of the body.
    pub girth_x: Figures,
}

/// Fasts that are known.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Fasting {
    /// How strongly it tends to fast, in words.
    pub tendency: String,
    /// When, in words.
    pub season: String,
    /// When, in months.
    pub seasons: Vec<FastingSeason>,
    /// States in which a fast is known: `gravid`, `brooding`.
    pub states: Vec<String>,
    /// How long a fast usually is, in days.
    pub typical_d: Figures,
}

/// Whose season it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Who {
    /// Both sexes.
    Any,
    /// Males.
    Male,
    /// Females.
    Female,
}

impl Who {
    pub(crate) const ALL: [Who; 3] = [Who::Any, Who::Male, Who::Female];

    /// The word for it in the data.
    pub fn key(self) -> &'static str {
        match self {
            Who::Any => "any",
            Who::Male => "male",
            Who::Female => "female",
        }
    }
}

/// A season of fasting.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FastingSeason {
    /// Whose.
    pub who: Who,
    /// Months (1 to 12) in a northern household.
    pub months_north: Vec<u8>,
    /// Months (1 to 12) in a southern household.
    pub months_south: Vec<u8>,
    /// Where it comes from.
    pub from: Provenance,
}

/// Days without a meal after which to raise an alert.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct RefusalAlert {
    /// By stage, in days.
    pub by_stage: ByStage<Figure>,
    /// For adults known to be male, where it is another, in days.
    pub adult_male: Option<Figure>,
}

/// Sheds, in days.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Shed {
    /// From shed to shed.
    pub interval_d: ByStage<Figures>,
    /// How long it is dull.
    pub dull_d: Figures,
    /// How long the eyes are blue.
    pub blue_d: Figures,
    /// From clear eyes to the shed.
    pub clear_to_shed_d: Figures,
    /// From dull to the shed.
    pub total_d: Figures,
    /// Further readings.
    pub alt: Vec<Alternative>,
}

/// Least room, as multiples of the animal's total length.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct EnclosureNeeds {
    /// Length.
    pub length_x: Figures,
    /// Width.
    pub width_x: Figures,
    /// Height.
    pub height_x: Figures,
    /// Depth of the substrate in m.
    pub substrate_depth_m: Figures,
    /// Other views.
    pub alt: Vec<EnclosureAlternative>,
}

/// Another view on room.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EnclosureAlternative {
    /// Length, width and height as multiples of the total length.
    pub factors_lxwxh: Option<[f64; 3]>,
    /// Length as a multiple of the total length.
    pub length_x: Option<f64>,
    /// Length in m.
    pub length_m: Option<f64>,
    /// Width in m.
    pub width_m: Option<f64>,
    /// Height in m.
    pub height_m: Option<f64>,
    /// Floor in m².
    pub floor_m2: Option<f64>,
    /// What exactly it says.
    pub what: Option<String>,
    /// Where it comes from.
    pub from: Provenance,
}

/// Winter rest.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Brumation {
    /// `none`, `optional`, `often`, `needed` and the like.
    pub relevance: String,
    /// Temperature during the rest, in °C.
    pub temp_c: Figures,
    /// How long it is held, in weeks.
    pub hold_weeks: Figures,
    /// What should be known about it.
    pub note: Option<String>,
}

/// Trade law.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Law {
    /// CITES Appendix (`I`, `II`), `none`, or `ask`.
    pub cites: String,
    /// Key of the source.
    pub source: String,
    /// How sure it is.
    pub status: Status,
    /// What else is known.
    pub note: Option<String>,
}

impl Default for Law {
    /// Nothing known: to be asked.
    fn default() -> Law {
        Law { cites: "ask".into(), source: "mem-cites".into(), status: Status::FromMemory, note: None }
    }
}

/// Water, where it differs from the general rule.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WaterNeeds {
    /// Hours until water is due (low) and overdue (high).
    pub change_h: Figure,
}
