//! The water in the air of a model that has settled: one vapour density for the whole box, and so another humidity at
//! every spot.

use records::facts::Spot;
use science::physics::constants::{WATER_VAPOUR_J_KGK, heat_of_vaporisation_j_kg};
use science::physics::enclosure::{BOWL_TO_AIR_W_M2K, BOWL_TO_FLOOR_W_M2K};
use science::physics::moisture::{AirExchange, Balance, Source};
use science::physics::psychrometrics::{dew_point, saturation_vapour_density_kg_m3};
use science::physics::walls::{Layer, film, inner_face, u_value_w_m2k};
use units::{Celsius, Pascals, RelativeHumidity, Seconds};

use super::guesses::Unknown;
use super::{Model, State};

/// Seconds of a day times grams of a kilogram.
const G_DAY: f64 = 86_400.0 * 1000.0;
/// Water that stands in the open and what lies on the floor: to air and floor together, W/(m²·K).
const AROUND_W_M2K: f64 = BOWL_TO_AIR_W_M2K + BOWL_TO_FLOOR_W_M2K;

/// Vapour density of saturated air, kg/m³; no number where it has none.
pub fn saturated_kg_m3(c: f64) -> f64 {
    Celsius::new(c).and_then(saturation_vapour_density_kg_m3).unwrap_or(f64::NAN)
}

/// A wet surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wet {
    /// Its area, m².
    pub area_m2: f64,
    /// Mass transfer, m/s; times its wetness where it is only damp.
    pub transfer_m_s: f64,
    /// How warm it would be if nothing evaporated, °C.
    pub dry_c: f64,
}

impl Wet {
    /// A wet surface on the floor, between the air and the floor there.
    pub fn on_floor(area_m2: f64, transfer_m_s: f64, air_c: f64, floor_c: f64) -> Wet {
        let dry_c = (BOWL_TO_AIR_W_M2K * air_c + BOWL_TO_FLOOR_W_M2K * floor_c) / AROUND_W_M2K;
        Wet { area_m2, transfer_m_s, dry_c }
    }

    /// The same as a source at the temperature that it would have dry. Evaporation cools it, so that it gives less:
    /// with the slope s of the saturation density E = k A (c_s − c)/(1 + k s L/h).
    ///
    /// Source: Penman 1948, Proc. R. Soc. A 193:120, the slope of the saturation curve in place of the temperature of
    /// the water.
    fn source(&self, vapour_kg_m3: f64) -> Option<Source> {
        let surface = Celsius::new(self.dry_c)?;
        let latent = heat_of_vaporisation_j_kg(surface);
        let drop_k = |transfer: f64| {
            (transfer * (saturated_kg_m3(self.dry_c) - vapour_kg_m3) * latent / AROUND_W_M2K).clamp(-10.0, 10.0)
        };
        let given = |slope: f64| self.transfer_m_s / (1.0 + self.transfer_m_s * slope * latent / AROUND_W_M2K);
        // The slope between the dry and the wet temperature: the secant, from a first value of the drop.
        let first = given(slope_kg_m3k(self.dry_c, 0.5));
        let cooled_k = drop_k(first);
        let transfer = given(slope_kg_m3k(self.dry_c, cooled_k));
        Some(Source { area_m2: self.area_m2, mass_transfer_m_s: transfer, surface })
    }
}

/// By how much the saturation density falls with a drop of the temperature, kg/(m³·K).
fn slope_kg_m3k(from_c: f64, drop_k: f64) -> f64 {
    let drop_k = if drop_k.abs() < 0.1 { 0.1 } else { drop_k };
    (saturated_kg_m3(from_c) - saturated_kg_m3(from_c - drop_k)) / drop_k
}

/// The air of a box and what water can do in it.
#[derive(Clone, Copy, Debug)]
pub struct Air {
    /// Its volume, m³.
    pub volume_m3: f64,
    /// How many times more water walls and substrate take up than the air.
    pub buffer: f64,
    /// Air changes an hour.
    pub changes_per_h: f64,
    /// Mean temperature of the air, °C.
    pub mean_c: f64,
    /// The coldest face that the air meets, °C: vapour above its saturation settles there.
    pub coldest_c: f64,
    /// The room, °C.
    pub room_c: f64,
    /// Humidity of the room, %.
    pub room_pct: f64,
}

impl Air {
    /// Of a model that has settled.
    pub fn of(model: &Model, state: &State) -> Air {
        let (warm, cool) = (state.spot(Spot::WarmAir), state.spot(Spot::CoolAir));
        Air {
            volume_m3: model.enclosure().volume_m3(),
            buffer: model.values().of(Unknown::Buffer),
            changes_per_h: model.air_changes_per_h(state),
            mean_c: 0.5 * (warm + cool),
            coldest_c: state.shell_c().min(state.spot(Spot::CoolSurface)).min(cool),
            room_c: state.room_c(),
            room_pct: model.values().of(Unknown::RoomHumidity),
        }
    }

    /// The same with that many times the exchange of air.
    #[must_use]
    pub fn vented(self, times: f64) -> Air {
        Air { changes_per_h: self.changes_per_h * times, ..self }
    }

    fn balance(&self, sources: &[Source]) -> Option<Balance> {
        let exchange = AirExchange {
            air_changes_per_h: self.changes_per_h,
            room: Celsius::new(self.room_c)?,
            room_humidity: RelativeHumidity::from_percent(self.room_pct)?,
        };
        Balance::new(self.volume_m3, self.buffer, Celsius::new(self.mean_c)?, exchange, sources)
    }

    /// Vapour density of the room, kg/m³.
    pub fn room_kg_m3(&self) -> f64 {
        self.room_pct / 100.0 * saturated_kg_m3(self.room_c)
    }

    /// Water that leaves with the air while a vapour density is held, g/day. Negative: the room brings it.
    pub fn loss_g_day(&self, held_kg_m3: f64) -> f64 {
        self.changes_per_h * self.volume_m3 / 3600.0 * (held_kg_m3 - self.room_kg_m3()) * G_DAY
    }

    /// Where it settles with these wet surfaces. `None` where no water can move.
    pub fn settles(&self, wet: &[Wet]) -> Option<Vapour> {
        let mut kg_m3 = self.room_kg_m3();
        let mut balance = None;
        let most = saturated_kg_m3(self.coldest_c);
        for _ in 0..3 {
            let sources: Vec<Source> = wet.iter().filter_map(|one| one.source(kg_m3)).collect();
            let here = self.balance(&sources)?;
            kg_m3 = here.steady_kg_m3().min(most);
            balance = Some((here, given_kg_s(&sources, kg_m3)));
        }
        let (balance, given) = balance?;
        let lost = self.loss_g_day(kg_m3);
        let given_g_day = given * G_DAY;
        Some(Vapour { kg_m3, given_g_day, settles_g_day: (given_g_day - lost).max(0.0), balance })
    }

    /// What wet surfaces give to air that is held at a vapour density, g/day.
    pub fn given_g_day(&self, wet: &[Wet], held_kg_m3: f64) -> f64 {
        let sources: Vec<Source> = wet.iter().filter_map(|one| one.source(held_kg_m3)).collect();
        given_kg_s(&sources, held_kg_m3) * G_DAY
    }
}

fn given_kg_s(sources: &[Source], kg_m3: f64) -> f64 {
    let one = |source: &Source| {
        source.area_m2 * source.mass_transfer_m_s * (saturated_kg_m3(source.surface.degrees()) - kg_m3)
    };
    sources.iter().map(one).sum()
}

/// The vapour to which the air of a box settles.
#[derive(Clone, Debug)]
pub struct Vapour {
    /// Its density, kg/m³.
    pub kg_m3: f64,
    /// What the wet surfaces give, g/day.
    pub given_g_day: f64,
    /// What of it settles as dew on the coldest face, g/day.
    pub settles_g_day: f64,
    balance: Balance,
}

/// Relative humidity that a vapour density has at a temperature, %, at most 100.
pub fn humidity_pct(kg_m3: f64, at_c: f64) -> f64 {
    (100.0 * kg_m3 / saturated_kg_m3(at_c)).min(100.0)
}

impl Vapour {
    /// Relative humidity at a temperature, %.
    pub fn humidity_pct(&self, at_c: f64) -> f64 {
        humidity_pct(self.kg_m3, at_c)
    }

    /// Its dew point where the air has this temperature, °C.
    pub fn dew_point_c(&self, air_c: f64) -> f64 {
        dew_point_c(self.kg_m3, air_c)
    }

    fn share(&self, kg_m3: f64) -> Option<RelativeHumidity> {
        RelativeHumidity::new((kg_m3 / saturated_kg_m3(self.balance.air().degrees())).clamp(0.0, 1.0))
    }

    /// How long from one vapour density to another on the way to where it settles, h. `None` where it never passes.
    pub fn hours(&self, from_kg_m3: f64, to_kg_m3: f64) -> Option<f64> {
        Some(self.balance.time_to(self.share(from_kg_m3)?, self.share(to_kg_m3)?)?.hours())
    }

    /// Vapour density so many hours after another, kg/m³.
    pub fn after_kg_m3(&self, from_kg_m3: f64, hours: f64) -> f64 {
        self.balance.after_kg_m3(from_kg_m3, Seconds::from_hours(hours))
    }
}

/// Dew point of a vapour density in air of a temperature, °C.
pub fn dew_point_c(kg_m3: f64, air_c: f64) -> f64 {
    let pressure = Pascals(kg_m3 * WATER_VAPOUR_J_KGK * (air_c + 273.15));
    dew_point(pressure).map_or(f64::NAN, Celsius::degrees)
}

/// The inner face of a corner at the cool end, °C: the film there is the worst case of ISO 13788.
pub fn corner_c(model: &Model, state: &State) -> f64 {
    let walls = model.enclosure().walls;
    let outside = model.enclosure().wrap_m2k_w + film::SIDEWAYS_M2K_W;
    let layer = [Layer::of(walls.material, walls.thickness)];
    let face = || {
        let u = u_value_w_m2k(&layer, film::CORNER_M2K_W, outside)?;
        let inside = Celsius::new(state.spot(Spot::CoolAir))?;
        inner_face(u, film::CORNER_M2K_W, inside, Celsius::new(state.room_c())?)
    };
    face().map_or(f64::NAN, Celsius::degrees)
}

/// The bowl of a model, where it stands: on the cool side, or on the warm side.
pub fn bowl(model: &Model, state: &State, is_warm: bool, across: f64) -> Option<Wet> {
    let bowl = model.enclosure().bowl?;
    let (air_c, floor_c) = if is_warm { warm_half(state) } else { cool_half(state) };
    Some(Wet::on_floor(bowl.area_m2() * across * across, model.transfer_m_s(), air_c, floor_c))
}

/// Air and floor of the warm half beside its hottest spot, °C.
fn warm_half(state: &State) -> (f64, f64) {
    let air_c = state.spot(Spot::WarmAir);
    (air_c, f64::midpoint(air_c, state.spot(Spot::WarmSurface)))
}

/// Air and floor of the cool half, °C.
fn cool_half(state: &State) -> (f64, f64) {
    (state.spot(Spot::CoolAir), state.spot(Spot::CoolSurface))
}

/// A share of the whole floor, at the cool end, that is damp.
pub fn damp_floor(model: &Model, state: &State, share: f64, wetness: f64) -> Wet {
    let (air_c, floor_c) = cool_half(state);
    let floor_m2 = 2.0 * model.enclosure().half_floor_m2();
    Wet::on_floor(share * floor_m2, model.transfer_m_s() * wetness, air_c, floor_c)
}

/// What is wet in a model as it stands: the bowl, and damp substrate where there is some.
pub fn wet(model: &Model, state: &State) -> Vec<Wet> {
    let mut wet: Vec<Wet> = bowl(model, state, false, 1.0).into_iter().collect();
    let damp = model.values().of(Unknown::Wetness);
    if 0.0 < damp {
        let half_m2 = model.enclosure().half_floor_m2();
        for (air_c, floor_c) in [warm_half(state), cool_half(state)] {
            wet.push(Wet::on_floor(half_m2, model.transfer_m_s() * damp, air_c, floor_c));
        }
    }
    wet
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::twin::Guesses;
    use crate::twin::model::drives;
    use crate::twin::testing::described;

    fn air(changes_per_h: f64, volume_m3: f64, mean_c: f64) -> Air {
        Air { volume_m3, buffer: 1.0, changes_per_h, mean_c, coldest_c: mean_c, room_c: 20.0, room_pct: 45.0 }
    }

    /// Computed with psychrolib 2.5.0 (ASHRAE 2017): 432 L at one air change an hour, 27 °C inside, a room of 20 °C at
    /// 45 %; 121.5 L under mesh at 40 changes, 26 °C inside.
    #[test]
    fn water_a_day_agrees_with_a_calculation_by_psychrolib() {
        for (changes, volume, inside, held_pct, g_day) in [
            (1.0, 0.432, 27.0, 50.0, 52.845_689),
            (1.0, 0.432, 27.0, 60.0, 79.545_438),
            (1.0, 0.432, 27.0, 80.0, 132.944_94),
            (40.0, 0.1215, 26.0, 60.0, 797.412_86),
        ] {
            let lost = air(changes, volume, inside).loss_g_day(held_pct / 100.0 * saturated_kg_m3(inside));
            assert!((lost / g_day - 1.0).abs() < 2e-5, "{lost} against {g_day}");
        }
    }

    /// The same calculation: a bowl of 200 mm at 1.8 mm/s whose water is at 25 °C settles at 49.18 % and gives 50.65 g.
    #[test]
    fn a_bowl_settles_where_its_water_says() {
        let box_of = air(1.0, 0.432, 27.0);
        let area_m2 = std::f64::consts::PI * 0.01;
        // The dry temperature at which the water comes to 25 °C, by the heat that it gives up.
        let kg_m3 = 0.491_785_1 * saturated_kg_m3(27.0);
        let latent = heat_of_vaporisation_j_kg(Celsius::new(25.0).unwrap());
        let dry_c = 25.0 + 1.8e-3 * (saturated_kg_m3(25.0) - kg_m3) * latent / AROUND_W_M2K;
        let settled = box_of.settles(&[Wet { area_m2, transfer_m_s: 1.8e-3, dry_c }]).unwrap();
        assert!((settled.humidity_pct(27.0) - 49.178_51).abs() < 0.1, "{}", settled.humidity_pct(27.0));
        assert!((settled.given_g_day / 50.652_332 - 1.0).abs() < 0.01, "{}", settled.given_g_day);
        assert!((settled.given_g_day - box_of.loss_g_day(settled.kg_m3)).abs() < 0.2);
    }

    #[test]
    fn the_water_of_a_bowl_cools_as_in_the_network() {
        let described = described(&[
            ("material", "PVC"),
            ("heater", "panel"),
            ("set_c", "32"),
            ("probe", "warm-surface"),
            ("thermostat", "dimming"),
        ]);
        let model = Model::new(&described, &Guesses::of(&described).middle()).unwrap();
        let state = model.settled(&drives(&described, &model, false, None), 20.0).unwrap();
        let (balance, _) = model.balance(&state, &[]).unwrap();
        let settled = Air::of(&model, &state).settles(&wet(&model, &state)).unwrap();
        assert!((settled.kg_m3 / balance.steady_kg_m3() - 1.0).abs() < 0.01);
    }

    #[test]
    fn the_air_is_never_above_saturation_at_its_coldest_face() {
        let soaked = Wet { area_m2: 2.0, transfer_m_s: 2e-3, dry_c: 30.0 };
        let cold = Air { coldest_c: 21.0, ..air(0.3, 0.2, 29.0) };
        let settled = cold.settles(&[soaked]).unwrap();
        assert!((settled.dew_point_c(29.0) - 21.0).abs() < 0.5);
        assert!(settled.kg_m3 <= saturated_kg_m3(21.0) && 0.0 < settled.settles_g_day);
        let dry = cold.settles(&[]).unwrap();
        assert!((dry.kg_m3 - cold.room_kg_m3()).abs() < 1e-12 && dry.settles_g_day.abs() < 1e-9);
    }
}
