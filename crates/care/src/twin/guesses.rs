//! What a description leaves open, and between what it is taken to lie.

use records::facts::{Fitted, HeaterKind, Lid, Stand};
use science::physics::materials::Material;
use science::statistics::normal;
use species::Figure;

use super::Description;
use super::matched::loosened;
use super::material::{self, Floor, Told};
use crate::answer::SourceRef;
use crate::lines;
use crate::what_if::{Guess, Range, Unit};

/// A value that the model needs and nobody knows exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unknown {
    /// Thickness of the walls, mm.
    Thickness,
    /// Resistance of the air film outside of a wall, m²·K/W.
    SurfaceFilm,
    /// Factor of the films inside.
    InnerFilms,
    /// Air changes an hour with a closed lid.
    AirChanges,
    /// Share of the flow that a mesh passes.
    Mesh,
    /// Share of the lid that is open mesh.
    MeshShare,
    /// Factor of the mixing of warm and cool air.
    Mixing,
    /// What the warm floor gets of the power over or under the share of its kind.
    HeaterShare,
    /// Share of the warm half of the floor that the heater warms.
    Spot,
    /// Resistance to the room of what it stands on, m²·K/W.
    Stand,
    /// Depth of the substrate, cm.
    Substrate,
    /// Factor of the power printed on the heater.
    Power,
    /// By how much the place of the probe settles off the set point, K.
    Thermostat,
    /// Diameter of the bowl, cm.
    Bowl,
    /// Depth of the water in it, cm.
    BowlDepth,
    /// Mass transfer of water, mm/s.
    Evaporation,
    /// Stone and the like, kg for a square metre of floor.
    Decor,
    /// Factor of the water that walls and substrate take up.
    Buffer,
    /// The room, °C.
    Room,
    /// Humidity of the room, %.
    RoomHumidity,
    /// How slowly the room follows the outdoors without heating, h.
    House,
    /// Fitted to a log: from the warm side to the room, W/K.
    WarmToRoom,
    /// Fitted to a log: from the cool side to the room, W/K.
    CoolToRoom,
    /// Fitted to a log: from the warm side to the cool side, W/K.
    WarmToCool,
    /// Fitted to a log: heat that the warm side holds, kJ/K.
    WarmHeat,
    /// Fitted to a log: heat that the cool side holds, kJ/K.
    CoolHeat,
    /// Factor of the rise that was fitted.
    FitRise,
    /// Factor of the time of cooling that was fitted.
    FitTime,
    /// Share of a free water surface that the floor gives.
    Wetness,
    /// Air that a hide with damp moss exchanges with the rest, m³/h.
    HideExchange,
    /// Water that a misting leaves on what it wets, kg/m².
    Film,
    /// By how much the room is colder in the coldest week, K.
    RoomWinter,
    /// By how much the room is warmer in the warmest week, K.
    RoomSummer,
    /// By how much the room is colder by night, K.
    RoomNight,
}

/// How many they are.
pub const COUNT: usize = 34;

impl Unknown {
    /// All of them.
    pub const ALL: [Unknown; COUNT] = [
        Unknown::Thickness,
        Unknown::SurfaceFilm,
        Unknown::InnerFilms,
        Unknown::AirChanges,
        Unknown::Mesh,
        Unknown::MeshShare,
        Unknown::Mixing,
        Unknown::HeaterShare,
        Unknown::Spot,
        Unknown::Stand,
        Unknown::Substrate,
        Unknown::Power,
        Unknown::Thermostat,
        Unknown::Bowl,
        Unknown::BowlDepth,
        Unknown::Evaporation,
        Unknown::Decor,
        Unknown::Buffer,
        Unknown::Room,
        Unknown::RoomHumidity,
        Unknown::House,
        Unknown::WarmToRoom,
        Unknown::CoolToRoom,
        Unknown::WarmToCool,
        Unknown::WarmHeat,
        Unknown::CoolHeat,
        Unknown::FitRise,
        Unknown::FitTime,
        Unknown::Wetness,
        Unknown::HideExchange,
        Unknown::Film,
        Unknown::RoomWinter,
        Unknown::RoomSummer,
        Unknown::RoomNight,
    ];

    fn place(self) -> usize {
        self as usize
    }

    /// Does it spread evenly around its middle, not by a factor?
    fn is_even(self) -> bool {
        matches!(
            self,
            Unknown::HeaterShare
                | Unknown::Thermostat
                | Unknown::Room
                | Unknown::RoomHumidity
                | Unknown::RoomWinter
                | Unknown::RoomSummer
                | Unknown::RoomNight
        )
    }

    /// Its name in JSON, what it is in words, its unit, and the field that would put a value in its place.
    fn words(self) -> (&'static str, &'static str, Unit, Option<&'static str>) {
        match self {
            Unknown::Thickness => ("wall-thickness", "thickness of the walls", Unit::Millimetres, Some("thickness_mm")),
            Unknown::SurfaceFilm => ("surface-film", "still air outside of the walls, m² K/W", Unit::Number, None),
            Unknown::InnerFilms => ("inner-films", "how well heat passes to the walls inside", Unit::Number, None),
            Unknown::AirChanges => ("air-changes", "air changes an hour", Unit::PerHour, None),
            Unknown::Mesh => ("mesh", "share of the air that the mesh lets pass", Unit::Number, None),
            Unknown::MeshShare => {
                ("mesh-share", "share of the lid that is open mesh", Unit::Number, Some("lid_covered_pct"))
            }
            Unknown::Mixing => ("mixing", "how well warm and cool air mix", Unit::Number, None),
            Unknown::HeaterShare => {
                ("heater-share", "what the floor gets of the heat, off the usual share", Unit::Number, None)
            }
            Unknown::Spot => ("heated-floor", "share of the warm half that the heater warms", Unit::Number, None),
            Unknown::Stand => ("stand", "what it stands on, m² K/W", Unit::Number, Some("stands_on")),
            Unknown::Substrate => {
                ("substrate-depth", "depth of the substrate", Unit::Centimetres, Some("substrate_cm"))
            }
            Unknown::Power => ("real-power", "what the heater really draws, against its label", Unit::Number, None),
            Unknown::Thermostat => ("thermostat-offset", "how far off the thermostat settles", Unit::Kelvin, None),
            Unknown::Bowl => ("bowl", "diameter of the water bowl", Unit::Centimetres, Some("bowl_cm")),
            Unknown::BowlDepth => ("bowl-depth", "depth of the water", Unit::Centimetres, None),
            Unknown::Evaporation => ("evaporation", "how fast water evaporates, mm/s", Unit::Number, None),
            Unknown::Decor => ("decor", "stone, wood and hides, as kg of stone for a m²", Unit::Number, None),
            Unknown::Buffer => ("buffer", "water that walls and substrate take up", Unit::Number, None),
            Unknown::Room => ("room", "temperature of the room", Unit::Celsius, Some("room_c")),
            Unknown::House => ("house", "how slowly the house cools without heating, h", Unit::Hours, None),
            Unknown::WarmToRoom => {
                ("warm-to-room", "what the log leaves open of the warm side to the room", Unit::WattsPerKelvin, None)
            }
            Unknown::CoolToRoom => {
                ("cool-to-room", "what the log leaves open of the cool side to the room", Unit::WattsPerKelvin, None)
            }
            Unknown::WarmToCool => {
                ("warm-to-cool", "what the log leaves open between the sides", Unit::WattsPerKelvin, None)
            }
            Unknown::WarmHeat => {
                ("warm-heat", "what the log leaves open of the heat in the warm side", Unit::KilojoulesPerKelvin, None)
            }
            Unknown::CoolHeat => {
                ("cool-heat", "what the log leaves open of the heat in the cool side", Unit::KilojoulesPerKelvin, None)
            }
            Unknown::FitRise => {
                ("fitted-rise", "how far other days may differ from those of the log", Unit::Number, None)
            }
            Unknown::FitTime => ("fitted-time", "how far cooling may differ from that of the log", Unit::Number, None),
            Unknown::RoomHumidity => ("room-humidity", "humidity of the room", Unit::Humidity, Some("room_pct")),
            Unknown::Wetness => ("wetness", "how damp the top of the substrate is", Unit::Number, None),
            Unknown::HideExchange => ("hide-exchange", "air that a hide lets through, m³/h", Unit::Number, None),
            Unknown::Film => ("film", "water that a misting leaves, kg/m²", Unit::Number, None),
            Unknown::RoomWinter => {
                ("room-winter", "how much colder the room is in winter", Unit::Kelvin, Some("room_winter_c"))
            }
            Unknown::RoomSummer => {
                ("room-summer", "how much warmer the room is in summer", Unit::Kelvin, Some("room_summer_c"))
            }
            Unknown::RoomNight => {
                ("room-night", "how much colder the room is by night", Unit::Kelvin, Some("room_night_c"))
            }
        }
    }
}

/// One set of values: one way in which the enclosure may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Values([f64; COUNT]);

impl Values {
    /// A value of it.
    pub fn of(&self, unknown: Unknown) -> f64 {
        self.0.get(unknown.place()).copied().unwrap_or(f64::NAN)
    }

    fn set(&mut self, unknown: Unknown, value: f64) {
        if let Some(place) = self.0.get_mut(unknown.place()) {
            *place = value;
        }
    }

    /// The same with another value.
    #[must_use]
    pub fn with(mut self, unknown: Unknown, value: f64) -> Values {
        self.set(unknown, value);
        self
    }
}

/// A guess: a figure in place of a value.
#[derive(Clone, Debug)]
struct Open {
    unknown: Unknown,
    low: f64,
    mid: f64,
    high: f64,
    source: SourceRef,
}

/// Ends of a figure hold 19 of 20 cases: this many standard deviations lie between middle and end.
const ENDS_Z: f64 = 1.959_964;
/// The 10th and the 90th percentile.
const TENTH_Z: f64 = 1.281_552;

impl Open {
    fn new(unknown: Unknown, figure: &Figure) -> Open {
        Open { unknown, low: figure.low, mid: figure.middle(), high: figure.high, source: SourceRef::of(figure) }
    }

    /// The value `z` standard deviations from the middle. Each side has its own spread.
    fn at(&self, z: f64) -> f64 {
        let end = if z < 0.0 { self.low } else { self.high };
        let share = z.abs() / ENDS_Z;
        if self.unknown.is_even() {
            self.mid + (end - self.mid) * share
        } else {
            self.mid * (end / self.mid).powf(share)
        }
    }
}

/// What a description leaves open.
#[derive(Clone, Debug)]
pub struct Guesses {
    told: Values,
    open: Vec<Open>,
}

/// What the walls are made of, where it is told and known.
pub fn wall_of(description: &Description) -> Option<Material> {
    match description.enclosure.material.as_deref().map(material::wall) {
        Some(Told::Is(material)) => Some(material),
        _ => None,
    }
}

/// What lies on the floor. Where nothing is told: something loose and dry.
pub fn floor_of(description: &Description) -> Floor {
    description.enclosure.substrate.as_deref().map_or(Floor::Dry, material::floor)
}

impl Guesses {
    /// Of a description.
    pub fn of(description: &Description) -> Guesses {
        let mut guesses = Guesses { told: Values([f64::NAN; COUNT]), open: Vec::new() };
        let wall = wall_of(description);
        let enclosure = &description.enclosure;
        let group = wall.map_or("unknown", Material::key);
        guesses.take(Unknown::Thickness, enclosure.thickness_mm, lines::whole_of_group("twin_thickness", group));
        guesses.take(Unknown::SurfaceFilm, None, lines::whole("twin_surface_film"));
        guesses.take(Unknown::InnerFilms, None, lines::whole("twin_inner_films"));
        guesses.take(Unknown::Mixing, None, lines::whole("twin_mixing"));
        guesses.lid(description, wall);
        let heater = description.heaters.first();
        if let Some(heater) = heater {
            guesses.take(Unknown::HeaterShare, None, lines::whole("twin_heater_share"));
            let group = match heater.kind {
                HeaterKind::Mat => "mat",
                HeaterKind::Cable => "cable",
                HeaterKind::Ceramic => "ceramic",
                HeaterKind::Panel => "panel",
                HeaterKind::Lamp => "lamp",
                HeaterKind::Rock => "rock",
                HeaterKind::Room | HeaterKind::Other => "other",
            };
            guesses.take(Unknown::Spot, None, lines::whole_of_group("twin_spot", group));
            guesses.take(Unknown::Power, None, lines::whole("twin_power"));
            guesses.take(Unknown::Thermostat, None, lines::whole("twin_thermostat"));
        }
        let stand = match enclosure.stands_on {
            Some(Stand::Shelf) => "shelf",
            Some(Stand::Foam) => "foam",
            Some(Stand::Other) | None => "other",
        };
        guesses.take(Unknown::Stand, None, lines::whole_of_group("twin_stand", stand));
        let floor = floor_of(description);
        let depth = if floor == Floor::Bare { Some(0.0) } else { enclosure.substrate_cm };
        let group = if floor == Floor::Sheet { "sheet" } else { "loose" };
        guesses.take(Unknown::Substrate, depth, lines::whole_of_group("twin_substrate", group));
        guesses.bowl(description);
        guesses.take(Unknown::BowlDepth, None, lines::whole("twin_bowl_depth"));
        guesses.take(Unknown::Evaporation, None, lines::whole("twin_evaporation"));
        guesses.take(Unknown::Decor, None, lines::whole("twin_decor"));
        let group = if matches!(floor, Floor::Bare | Floor::Sheet) { "bare" } else { "substrate" };
        guesses.take(Unknown::Buffer, None, lines::whole_of_group("twin_buffer", group));
        guesses.take(Unknown::Room, description.room_c, lines::whole("twin_room"));
        guesses.take(Unknown::RoomHumidity, description.room_pct, lines::whole("twin_room_humidity"));
        guesses.take(Unknown::House, None, lines::whole("twin_house"));
        let dry = (floor != Floor::Moist).then_some(0.0);
        guesses.take(Unknown::Wetness, dry, lines::whole("twin_wetness"));
        if let Some(fitted) = &description.fitted {
            guesses = guesses.fitted(fitted, heater.and_then(|one| one.watts));
        }
        guesses
    }

    /// With what a log said. What else is open then only moves where in the box the heat goes: each way in which it may be
    /// is brought to the log. Its conductances hold for the power that it was fitted with: what the heater of that power
    /// really draws is in them.
    fn fitted(mut self, fitted: &Fitted, watts: Option<f64>) -> Guesses {
        let source = lines::source("twin_fit");
        for (unknown, value, sd_pct) in [
            (Unknown::WarmToRoom, fitted.warm_to_room_w_k, fitted.warm_to_room_w_k_sd_pct),
            (Unknown::CoolToRoom, fitted.cool_to_room_w_k, fitted.cool_to_room_w_k_sd_pct),
            (Unknown::WarmToCool, fitted.warm_to_cool_w_k, fitted.warm_to_cool_w_k_sd_pct),
            (Unknown::WarmHeat, fitted.warm_kj_k, fitted.warm_kj_k_sd_pct),
            (Unknown::CoolHeat, fitted.cool_kj_k, fitted.cool_kj_k_sd_pct),
        ] {
            let factor = (ENDS_Z * sd_pct / 100.0).exp();
            self.told.set(unknown, value);
            let (low, high) = (value / factor, value * factor);
            self.open.push(Open { unknown, low, mid: value, high, source: source.clone() });
        }
        let wide = loosened(fitted.rms_k);
        for (unknown, id) in [(Unknown::FitRise, "twin_fit_rise"), (Unknown::FitTime, "twin_fit_time")] {
            if let Some(figure) = lines::whole(id) {
                let open = Open::new(unknown, figure);
                let end = |end: f64| open.mid * (end / open.mid).powf(wide);
                self.told.set(unknown, open.mid);
                self.open.push(Open { low: end(open.low), high: end(open.high), ..open });
            }
        }
        let is_that_heater = watts.is_none_or(|watts| (watts / fitted.watts - 1.0).abs() < 0.01);
        if is_that_heater { self.knowing(Unknown::Power, 1.0) } else { self }
    }

    /// Leaves open what only some questions ask for, between the ends of a figure.
    #[must_use]
    pub fn wondering(mut self, unknown: Unknown, figure: Option<&'static Figure>) -> Guesses {
        self.take(unknown, None, figure);
        self
    }

    fn lid(&mut self, description: &Description, wall: Option<Material>) {
        let enclosure = &description.enclosure;
        let closed = lines::whole_of_group("twin_air_changes", if material::is_tub(wall) { "tub" } else { "closed" });
        self.take(Unknown::AirChanges, None, closed);
        let open = match (enclosure.lid, enclosure.lid_covered_pct) {
            (Some(Lid::Solid) | None, _) => Some(0.0),
            (Some(Lid::Mesh | Lid::PartMesh), Some(covered)) => Some(1.0 - covered / 100.0),
            (Some(Lid::Mesh), None) => Some(1.0),
            (Some(Lid::PartMesh), None) => None,
        };
        self.take(Unknown::MeshShare, open, lines::whole("twin_part_mesh"));
        if open != Some(0.0) {
            self.take(Unknown::Mesh, None, lines::whole("twin_mesh"));
        }
    }

    fn bowl(&mut self, description: &Description) {
        let shorter = description.length_cm.min(description.width_cm);
        match description.enclosure.bowl_cm {
            Some(told) => self.told.set(Unknown::Bowl, told),
            None => {
                if let Some(figure) = lines::whole("twin_bowl") {
                    let share = Open::new(Unknown::Bowl, figure);
                    let (low, mid, high) = (share.low * shorter, share.mid * shorter, share.high * shorter);
                    self.told.set(Unknown::Bowl, mid);
                    self.open.push(Open { low, mid, high, ..share });
                }
            }
        }
    }

    fn take(&mut self, unknown: Unknown, told: Option<f64>, figure: Option<&'static Figure>) {
        match (told, figure) {
            (Some(told), _) => self.told.set(unknown, told),
            (None, Some(figure)) => {
                let open = Open::new(unknown, figure);
                self.told.set(unknown, open.mid);
                self.open.push(open);
            }
            (None, None) => {}
        }
    }

    /// What is open.
    pub fn open(&self) -> impl Iterator<Item = Unknown> + '_ {
        self.open.iter().map(|one| one.unknown)
    }

    /// Takes a value as told: what a question varies itself, or what was measured.
    #[must_use]
    pub fn knowing(mut self, unknown: Unknown, value: f64) -> Guesses {
        self.told.set(unknown, value);
        self.open.retain(|one| one.unknown != unknown);
        self
    }

    /// What is told, and the middle of every guess.
    pub fn middle(&self) -> Values {
        self.told
    }

    /// Sets of values that fill the room of what is open evenly, always the same ones.
    ///
    /// Source: additive recurrence by powers of the inverse of the root of x^(d+1) = x + 1 (a generalised golden
    /// ratio), quantiles of the normal distribution.
    pub fn sets(&self, count: usize) -> Vec<Values> {
        let step = steps(self.open.len());
        let set = |number: usize| {
            let mut values = self.told;
            for (open, step) in self.open.iter().zip(&step) {
                values.set(open.unknown, open.at(quantile(number, *step)));
            }
            values
        };
        (0..count).map(set).collect()
    }

    /// Sets of values for two descriptions: what both leave open is taken alike in both, so that their difference does
    /// not hang on it. Only walls of which one is known, or of another material, are taken apart.
    pub fn paired(&self, other: &Guesses, count: usize) -> (Vec<Values>, Vec<Values>) {
        let alike = |one: &Open, two: &Open| {
            let is_one = (one.low, one.mid, one.high) == (two.low, two.mid, two.high);
            one.unknown == two.unknown && (one.unknown != Unknown::Thickness || is_one)
        };
        let mut places = self.open.len();
        let of_other: Vec<(usize, &Open)> = other
            .open
            .iter()
            .map(|two| {
                let place = self.open.iter().position(|one| alike(one, two)).unwrap_or_else(|| {
                    places += 1;
                    places - 1
                });
                (place, two)
            })
            .collect();
        let of_self: Vec<(usize, &Open)> = self.open.iter().enumerate().collect();
        let step = steps(places);
        let sets = |told: &Values, open: &[(usize, &Open)]| {
            let set = |number: usize| {
                let mut values = *told;
                for (place, open) in open {
                    let step = step.get(*place).copied().unwrap_or(0.0);
                    values.set(open.unknown, open.at(quantile(number, step)));
                }
                values
            };
            (0..count).map(set).collect()
        };
        (sets(&self.told, &of_self), sets(&other.told, &of_other))
    }

    /// Everything at its middle but one guess, at its 10th and its 90th percentile: for the weight of that guess.
    pub fn swings(&self) -> Vec<(Unknown, Values, Values)> {
        let swing = |open: &Open| {
            let at = |z: f64| self.told.with(open.unknown, open.at(z));
            (open.unknown, at(-TENTH_Z), at(TENTH_Z))
        };
        self.open.iter().map(swing).collect()
    }

    /// The guesses with their weights; what weighs nothing is left out. The weightiest first.
    pub fn listed(&self, weights: &[(Unknown, f64)]) -> Vec<Guess> {
        let mut listed: Vec<Guess> = self
            .open
            .iter()
            .filter_map(|open| {
                let (_, weight) = weights.iter().find(|(unknown, _)| *unknown == open.unknown)?;
                let (key, says, unit, field) = open.unknown.words();
                let range = Range { low: open.at(-TENTH_Z), mid: open.mid, high: open.at(TENTH_Z) };
                let guess = Guess {
                    key,
                    says: says.to_owned(),
                    range,
                    unit,
                    weight: *weight,
                    source: open.source.clone(),
                    field,
                };
                (0.005 <= *weight).then_some(guess)
            })
            .collect();
        listed.sort_by(|a, b| b.weight.total_cmp(&a.weight));
        listed
    }
}

/// The quantile of the normal distribution of a set, in a dimension of that step.
fn quantile(number: usize, step: f64) -> f64 {
    let share = (0.5 + (number as f64 + 1.0) * step).fract();
    // Not further out than one in a thousand.
    normal::quantile(share.clamp(0.001, 0.999))
}

fn steps(dimensions: usize) -> Vec<f64> {
    let d = dimensions as f64;
    let mut root: f64 = 2.0;
    for _ in 0..40 {
        root = (1.0 + root).powf(1.0 / (d + 1.0));
    }
    (1..=dimensions).map(|power| root.powi(-(power as i32)).fract()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_unknown_stands_at_its_own_place() {
        for (place, unknown) in Unknown::ALL.into_iter().enumerate() {
            assert_eq!(unknown.place(), place);
        }
    }

    #[test]
    fn one_dimension_steps_by_the_golden_ratio() {
        assert!((steps(1)[0] - 0.618_033_988_75).abs() < 1e-9);
        assert!((steps(2)[0] - 0.754_877_666).abs() < 1e-6, "the plastic number");
    }

    #[test]
    fn what_two_descriptions_leave_open_is_taken_alike_in_both() {
        let of = |material: &str, length_cm: f64| {
            let mut described = crate::twin::testing::described(&[("material", material)]);
            described.length_cm = length_cm;
            Guesses::of(&described)
        };
        let (one, same, other) = (of("glass", 100.0), of("glass", 60.0), of("PVC", 100.0));
        let (first, second) = one.paired(&same, 8);
        let all = |sets: &[Values], unknown| sets.iter().map(|set| set.of(unknown)).collect::<Vec<f64>>();
        assert_eq!(all(&first, Unknown::Thickness), all(&second, Unknown::Thickness));
        let (first, second) = one.paired(&other, 8);
        assert_eq!(all(&first, Unknown::Mixing), all(&second, Unknown::Mixing));
        // Twice as thick in the middle is not twice as thick in every set: they are taken apart.
        let ratios: Vec<f64> =
            first.iter().zip(&second).map(|(a, b)| b.of(Unknown::Thickness) / a.of(Unknown::Thickness)).collect();
        assert!(ratios.iter().any(|ratio| (ratio / ratios[0] - 1.0).abs() > 0.1), "{ratios:?}");
    }

    #[test]
    fn a_guess_reaches_its_ends_in_one_case_of_forty_each() {
        let figure = lines::whole("twin_mixing").unwrap();
        let open = Open::new(Unknown::Mixing, figure);
        assert!((open.at(-ENDS_Z) - 0.4).abs() < 1e-9 && (open.at(ENDS_Z) - 2.5).abs() < 1e-9);
        assert!((open.at(0.0) - 1.0).abs() < 1e-12);
        let even = Open::new(Unknown::Thermostat, lines::whole("twin_thermostat").unwrap());
        assert!((even.at(ENDS_Z) - 1.0).abs() < 1e-9 && (even.at(-ENDS_Z) + 1.0).abs() < 1e-9);
    }
}
