//! Power, energy and what they cost.

use units::{CelsiusDelta, Seconds, Watts};

/// Days in a mean month: 365.25/12.
pub const DAYS_PER_MONTH: f64 = 30.4375;

/// Joules in a kilowatt-hour.
pub const JOULES_PER_KWH: f64 = 3.6e6;

/// Energy of a mean power over a mean month, kWh: P · 24 · 30.4375/1000.
pub fn kwh_per_month(mean: Watts) -> f64 {
    mean.watts() * 24.0 * DAYS_PER_MONTH / 1000.0
}

/// Share of the time that a heater is on to give a mean power. `None` unless the rating is above zero; above 1 it is
/// too weak.
pub fn duty(mean: Watts, rated: Watts) -> Option<f64> {
    (0.0 < rated.watts()).then(|| mean.watts() / rated.watts())
}

/// What a resistive heater gives at another voltage: P (V/V_rated)². `None` unless the rated voltage is above zero.
pub fn power_at_voltage(rated: Watts, rated_v: f64, supply_v: f64) -> Option<Watts> {
    (0.0 < rated_v && 0.0 <= supply_v).then(|| Watts(rated.watts() * (supply_v / rated_v).powi(2)))
}

/// How long one lump cools until only `left` of its rise over the room is left of `start`: t = τ ln(start/left).
/// `None` unless both are above zero and `left` is not above `start`.
pub fn cooling_of_one_lump(time_constant: Seconds, start: CelsiusDelta, left: CelsiusDelta) -> Option<Seconds> {
    let possible = 0.0 < left.kelvin() && left.kelvin() <= start.kelvin();
    possible.then(|| Seconds(time_constant.seconds() * (start.kelvin() / left.kelvin()).ln()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ten_percent_more_voltage_is_a_fifth_more_heat() {
        let at = |volts: f64| power_at_voltage(Watts(100.0), 230.0, volts).unwrap().watts();
        assert!((at(253.0) - 121.0).abs() < 1e-9 && (at(207.0) - 81.0).abs() < 1e-9);
        assert!(power_at_voltage(Watts(100.0), 0.0, 230.0).is_none());
    }

    #[test]
    fn one_lump_cools_to_a_third_in_a_bit_more_than_its_time_constant() {
        let t = cooling_of_one_lump(Seconds(7200.0), CelsiusDelta(12.0), CelsiusDelta(4.0)).unwrap();
        assert!((t.seconds() - 7200.0 * 3f64.ln()).abs() < 1e-9);
        assert!(cooling_of_one_lump(Seconds(7200.0), CelsiusDelta(4.0), CelsiusDelta(12.0)).is_none());
    }

    #[test]
    fn duty_is_mean_over_rated() {
        assert_eq!(duty(Watts(30.0), Watts(60.0)), Some(0.5));
        assert_eq!(duty(Watts(30.0), Watts(0.0)), None);
    }
}
