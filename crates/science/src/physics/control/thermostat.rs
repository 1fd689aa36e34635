//! The laws by which thermostats give power.

use units::{CelsiusDelta, Seconds};

/// A law that turns a reading into a share of the rated power.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Thermostat {
    /// Off above set + band/2, on below set − band/2, in between as before.
    OnOff {
        /// Dead band.
        band: CelsiusDelta,
    },
    /// On for a part of every cycle: duty = clamp(0.5 + (set − reading)/band), taken at the start of the cycle.
    Pulse {
        /// Proportional band: from full to no power.
        band: CelsiusDelta,
        /// Length of a cycle; must be a whole number of steps.
        cycle: Seconds,
    },
    /// Continuous: u = clamp(gain e + I), I += gain e Δt/T only where u is not at its limit or the error leads away
    /// from it.
    Dimming {
        /// Share of the power per kelvin.
        gain_1_k: f64,
        /// Integral time T.
        integral: Seconds,
    },
}

/// What a thermostat remembers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThermostatState {
    is_on: bool,
    integral: f64,
    duty: f64,
    steps_in_cycle: u64,
}

impl Default for ThermostatState {
    /// Switched on, nothing remembered.
    fn default() -> ThermostatState {
        ThermostatState { is_on: true, integral: 0.0, duty: 0.0, steps_in_cycle: 0 }
    }
}

impl Thermostat {
    /// Is a step usable? A pulse cycle must be a whole number of them.
    pub(super) fn accepts(&self, step: Seconds) -> bool {
        match self {
            Thermostat::Pulse { cycle, band } => {
                let steps = cycle.seconds() / step.seconds();
                0.0 < band.kelvin() && 1.0 <= steps && (steps - steps.round()).abs() < 1e-9
            }
            Thermostat::OnOff { band } => 0.0 <= band.kelvin(),
            Thermostat::Dimming { integral, gain_1_k } => 0.0 < integral.seconds() && 0.0 < *gain_1_k,
        }
    }

    /// Share of the rated power for the next step, given reading and set point in °C.
    pub(super) fn share(&self, state: &mut ThermostatState, reading_c: f64, set_c: f64, step: Seconds) -> f64 {
        match self {
            Thermostat::OnOff { band } => {
                if set_c + band.kelvin() / 2.0 < reading_c {
                    state.is_on = false;
                } else if reading_c < set_c - band.kelvin() / 2.0 {
                    state.is_on = true;
                }
                f64::from(state.is_on)
            }
            Thermostat::Pulse { band, cycle } => {
                if state.steps_in_cycle == 0 {
                    state.duty = (0.5 + (set_c - reading_c) / band.kelvin()).clamp(0.0, 1.0);
                }
                let elapsed = state.steps_in_cycle as f64 * step.seconds();
                let steps = (cycle.seconds() / step.seconds()).round() as u64;
                state.steps_in_cycle = (state.steps_in_cycle + 1) % steps.max(1);
                f64::from(elapsed < state.duty * cycle.seconds())
            }
            Thermostat::Dimming { gain_1_k, integral } => {
                let error = set_c - reading_c;
                let wanted = gain_1_k * error + state.integral;
                let share = wanted.clamp(0.0, 1.0);
                let leads_back = (1.0 < wanted && error < 0.0) || (wanted < 0.0 && 0.0 < error);
                if share == wanted || leads_back {
                    state.integral += gain_1_k * error * step.seconds() / integral.seconds();
                }
                share
            }
        }
    }
}

/// By how much a pulse thermostat settles away from its set point: (0.5 − duty) band. Below it where more than half of
/// the power is needed.
pub fn pulse_offset(duty: f64, band: CelsiusDelta) -> CelsiusDelta {
    CelsiusDelta((0.5 - duty) * band.kelvin())
}
