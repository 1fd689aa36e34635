//! Thermostats, their sensors, and what happens when one of them fails.
//!
//! [`run`] samples like a real thermostat does; [`on_off_run`] switches at the exact moment and gives duty and cycle
//! times without the grain of a step.

mod curve;
mod on_off;
mod sampled;
mod thermostat;

pub use curve::Curve;
pub use on_off::{OnOffRun, Stretch, on_off_run};
pub use sampled::{Controlled, Course, Fault, Sample, Settings, run};
pub use thermostat::{Thermostat, ThermostatState, pulse_offset};
