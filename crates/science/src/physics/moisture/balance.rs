//! The balance of water in well mixed air: V dc/dt = Σ kᵢAᵢ (cs,i − c) − Q (c − c_room) + ṁ.

use crate::physics::psychrometrics::saturation_vapour_density_kg_m3;
use units::{Celsius, RelativeHumidity, Seconds};

/// A wet surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Source {
    /// Its area, m².
    pub area_m2: f64,
    /// Mass transfer, m/s; for damp surfaces times their wetness.
    pub mass_transfer_m_s: f64,
    /// Temperature of its water.
    pub surface: Celsius,
}

impl Source {
    fn conductance_m3_s(&self) -> f64 {
        self.area_m2 * self.mass_transfer_m_s
    }
}

/// Air that comes in from the room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirExchange {
    /// Room air that enters in an hour, as multiples of the volume.
    pub air_changes_per_h: f64,
    /// Temperature of the room.
    pub room: Celsius,
    /// Humidity of the room.
    pub room_humidity: RelativeHumidity,
}

/// The balance of one volume of air. `buffer` says how many times more water than the air itself the walls and the
/// substrate take up and give back with it: 1 for bare glass or plastic, about 5 with wood, coir or paper (an estimate
/// with a factor of 3 either way; fit it).
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    volume_m3: f64,
    buffer: f64,
    air: Celsius,
    flow_m3_s: f64,
    room_kg_m3: f64,
    saturated_kg_m3: f64,
    wet_m3_s: f64,
    wet_kg_s: f64,
}

impl Balance {
    /// `None` unless volume and buffer are above zero, all else not negative, and the temperatures between −100 and
    /// 200 °C; or where no water could ever move.
    pub fn new(
        volume_m3: f64,
        buffer: f64,
        air: Celsius,
        exchange: AirExchange,
        sources: &[Source],
    ) -> Option<Balance> {
        let sound = 0.0 < volume_m3 && 0.0 < buffer && 0.0 <= exchange.air_changes_per_h;
        let wet_ok = sources.iter().all(|s| 0.0 <= s.area_m2 && 0.0 <= s.mass_transfer_m_s);
        if !sound || !wet_ok {
            return None;
        }
        let room_kg_m3 = exchange.room_humidity.fraction() * saturation_vapour_density_kg_m3(exchange.room)?;
        let mut wet_kg_s = 0.0;
        for source in sources {
            wet_kg_s += source.conductance_m3_s() * saturation_vapour_density_kg_m3(source.surface)?;
        }
        let wet_m3_s = sources.iter().map(Source::conductance_m3_s).sum();
        let flow_m3_s = exchange.air_changes_per_h * volume_m3 / 3600.0;
        (0.0 < flow_m3_s + wet_m3_s).then_some(())?;
        let saturated_kg_m3 = saturation_vapour_density_kg_m3(air)?;
        Some(Balance { volume_m3, buffer, air, flow_m3_s, room_kg_m3, saturated_kg_m3, wet_m3_s, wet_kg_s })
    }

    /// τ = B V/(Q + Σ kA).
    pub fn time_constant(&self) -> Seconds {
        Seconds(self.buffer * self.volume_m3 / (self.flow_m3_s + self.wet_m3_s))
    }

    /// Vapour density that it settles to, kg/m³: (Σ kA cs + Q c_room)/(Σ kA + Q), at most saturation.
    pub fn steady_kg_m3(&self) -> f64 {
        self.unlimited_kg_m3().min(self.saturated_kg_m3)
    }

    fn unlimited_kg_m3(&self) -> f64 {
        (self.wet_kg_s + self.flow_m3_s * self.room_kg_m3) / (self.wet_m3_s + self.flow_m3_s)
    }

    /// Relative humidity that it settles to.
    pub fn steady_humidity(&self) -> Option<RelativeHumidity> {
        self.humidity(self.steady_kg_m3())
    }

    /// Relative humidity that room air has in here, with no water added, %. Above 100 dew would settle.
    pub fn humidity_without_sources_percent(&self) -> f64 {
        100.0 * self.room_kg_m3 / self.saturated_kg_m3
    }

    /// Vapour density after a time from another, kg/m³: c∞ + (c₀ − c∞) e^(−t/τ), never above saturation.
    pub fn after_kg_m3(&self, start_kg_m3: f64, elapsed: Seconds) -> f64 {
        let steady = self.unlimited_kg_m3();
        let decay = (-elapsed.seconds() / self.time_constant().seconds()).exp();
        (steady + (start_kg_m3 - steady) * decay).min(self.saturated_kg_m3)
    }

    /// Relative humidity after a time, from another.
    pub fn humidity_after(&self, start: RelativeHumidity, elapsed: Seconds) -> Option<RelativeHumidity> {
        self.humidity(self.after_kg_m3(start.fraction() * self.saturated_kg_m3, elapsed))
    }

    /// How long until the humidity passes `target`; `None` where it never does.
    pub fn time_to(&self, start: RelativeHumidity, target: RelativeHumidity) -> Option<Seconds> {
        let steady = self.unlimited_kg_m3();
        let share =
            (start.fraction() * self.saturated_kg_m3 - steady) / (target.fraction() * self.saturated_kg_m3 - steady);
        (share.is_finite() && 1.0 <= share).then(|| Seconds(self.time_constant().seconds() * share.ln()))
    }

    /// Water that leaves with the air while the humidity is held, kg/s: Q (c − c_room). Negative: the room brings it.
    pub fn loss_kg_s(&self, held: RelativeHumidity) -> f64 {
        self.flow_m3_s * (held.fraction() * self.saturated_kg_m3 - self.room_kg_m3)
    }

    /// Of the [`Balance::loss_kg_s`], what the wet surfaces do not give by themselves, kg/s. Negative: they give more
    /// than is lost, and the humidity rises.
    pub fn to_add_kg_s(&self, held: RelativeHumidity) -> f64 {
        let c = held.fraction() * self.saturated_kg_m3;
        self.loss_kg_s(held) - (self.wet_kg_s - self.wet_m3_s * c)
    }

    /// What the wet surfaces give at the humidity that it settles to, kg/s.
    pub fn evaporation_kg_s(&self) -> f64 {
        self.wet_kg_s - self.wet_m3_s * self.steady_kg_m3()
    }

    /// Water that settles as dew once the air would go above saturation, kg/s. Zero where it does not.
    pub fn condensation_kg_s(&self) -> f64 {
        let supply = self.wet_kg_s + self.flow_m3_s * self.room_kg_m3;
        (supply - (self.wet_m3_s + self.flow_m3_s) * self.saturated_kg_m3).max(0.0)
    }

    fn humidity(&self, vapour_kg_m3: f64) -> Option<RelativeHumidity> {
        RelativeHumidity::new((vapour_kg_m3 / self.saturated_kg_m3).clamp(0.0, 1.0))
    }

    /// The temperature of the air that it was made for.
    pub fn air(&self) -> Celsius {
        self.air
    }
}

/// How long the water of a misting lasts, and the humidity at the end of `elapsed`: the droplets keep the air at
/// `misted` until their film is dry, then it decays. The film is in kg/m² (typically 0.1 to 0.3) and dries at
/// `drying_kg_m2h`. `None` unless both are above zero.
pub fn decay_of_misting(
    balance: &Balance,
    misted: RelativeHumidity,
    film_kg_m2: f64,
    drying_kg_m2h: f64,
    elapsed: Seconds,
) -> Option<RelativeHumidity> {
    if !(0.0 < film_kg_m2 && 0.0 < drying_kg_m2h) {
        return None;
    }
    let dry_after = Seconds::from_hours(film_kg_m2 / drying_kg_m2h);
    let decaying = Seconds((elapsed.seconds() - dry_after.seconds()).max(0.0));
    balance.humidity_after(misted, decaying)
}

/// Air changes an hour from the slope of ln(c − c∞) in a decay, 1/h, with a bowl of kA m³/h in or out: ACH/B =
/// −slope − kA/V. Only the ratio to the buffer is seen. `None` where nothing is left.
pub fn exchange_from_decay(slope_per_h: f64, wet_m3_h: f64, volume_m3: f64) -> Option<f64> {
    let changes = -slope_per_h - wet_m3_h / volume_m3;
    (0.0 < volume_m3 && 0.0 < changes).then_some(changes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn c(degrees: f64) -> Celsius {
        Celsius::new(degrees).unwrap()
    }

    fn percent(value: f64) -> RelativeHumidity {
        RelativeHumidity::from_percent(value).unwrap()
    }

    fn balance(air: f64, ach: f64, area: f64, surface: f64) -> Balance {
        let exchange = AirExchange { air_changes_per_h: ach, room: c(20.0), room_humidity: percent(45.0) };
        let moss = Source { area_m2: area, mass_transfer_m_s: 1.5e-3, surface: c(surface) };
        Balance::new(0.432, 1.0, c(air), exchange, &[moss]).unwrap()
    }

    proptest! {
        #[test]
        fn the_air_is_never_above_saturation(ach in 0.1f64..50.0, area in 0.0f64..2.0, surface in 5.0f64..40.0) {
            let b = balance(27.0, ach, area, surface);
            prop_assert!(b.steady_kg_m3() <= b.saturated_kg_m3);
            prop_assert!(b.after_kg_m3(b.saturated_kg_m3, Seconds(1000.0)) <= b.saturated_kg_m3);
        }

        #[test]
        fn at_rest_as_much_water_comes_as_goes(ach in 0.1f64..50.0, area in 0.001f64..0.2, surface in 5.0f64..27.0) {
            let b = balance(27.0, ach, area, surface);
            let lost = b.loss_kg_s(b.steady_humidity().unwrap());
            prop_assert!((lost + b.condensation_kg_s() - b.evaporation_kg_s()).abs() < 1e-12, "{} {}", lost, b.evaporation_kg_s());
        }

        #[test]
        fn two_short_waits_are_one_long_wait(first in 0.0f64..5000.0, second in 0.0f64..5000.0) {
            let b = balance(27.0, 1.0, 0.03, 24.0);
            let start = 0.9 * b.saturated_kg_m3;
            let twice = b.after_kg_m3(b.after_kg_m3(start, Seconds(first)), Seconds(second));
            prop_assert!((twice - b.after_kg_m3(start, Seconds(first + second))).abs() < 1e-15);
        }
    }

    #[test]
    fn a_film_of_water_holds_the_humidity_until_it_is_dry() {
        let b = balance(27.0, 1.0, 0.0, 24.0);
        let at =
            |hours: f64| decay_of_misting(&b, percent(95.0), 0.1, 0.1, Seconds::from_hours(hours)).unwrap().percent();
        assert!((at(0.5) - 95.0).abs() < 1e-9 && (at(1.0) - 95.0).abs() < 1e-9 && at(1.5) < 80.0);
        assert!(decay_of_misting(&b, percent(95.0), 0.0, 0.1, Seconds(0.0)).is_none());
    }

    #[test]
    fn what_is_impossible_has_no_balance() {
        let exchange = AirExchange { air_changes_per_h: 0.0, room: c(20.0), room_humidity: percent(45.0) };
        assert!(Balance::new(0.4, 1.0, c(27.0), exchange, &[]).is_none(), "sealed and dry: nothing moves");
        assert!(Balance::new(0.0, 1.0, c(27.0), AirExchange { air_changes_per_h: 1.0, ..exchange }, &[]).is_none());
    }
}
