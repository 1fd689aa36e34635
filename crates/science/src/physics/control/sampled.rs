//! A network under control, sampled step by step.

use super::{Curve, Thermostat, ThermostatState};
use crate::physics::network::{Network, NetworkFault, Node, Temperatures};
use nalgebra::DVector;
use units::{Celsius, Seconds, Watts};

/// A way in which control fails.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// The contact is welded: full power from then on.
    StuckOn {
        /// Since when.
        from: Seconds,
    },
    /// No power from then on: a blown element, a power cut.
    Off {
        /// Since when.
        from: Seconds,
        /// Until when.
        to: Seconds,
    },
    /// The probe fell out of the enclosure and reads the room.
    ProbeOut {
        /// Since when.
        from: Seconds,
    },
}

/// A heater with its thermostat and sensor.
#[derive(Clone, Debug, PartialEq)]
pub struct Controlled {
    /// Which heater of the network it is.
    pub heater: usize,
    /// Its power when on.
    pub rated: Watts,
    /// The law.
    pub thermostat: Thermostat,
    /// Where the probe is.
    pub probe: Node,
    /// First-order lag of the probe; zero for none.
    pub lag: Seconds,
    /// The set point over the day.
    pub set: Curve,
    /// What goes wrong.
    pub fault: Option<Fault>,
}

/// How a run is made.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// Step of control; 10 s is usual.
    pub step: Seconds,
    /// How long; a whole number of steps.
    pub duration: Seconds,
    /// How often a [`Sample`] is kept; a whole number of steps.
    pub sample_every: Seconds,
    /// The room over the day.
    pub room: Curve,
}

/// A state that was kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Sample {
    /// Since the start.
    pub time: Seconds,
    /// What each probe reads, °C.
    pub readings_c: Vec<f64>,
    /// All nodes.
    pub temperatures: Temperatures,
}

/// What came of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// From the start to the end, both included.
    pub samples: Vec<Sample>,
    /// Energy of each heater, J.
    pub energy_j: Vec<f64>,
    /// Highest temperature of each node at any step, °C.
    pub highest_c: Vec<f64>,
    /// Lowest temperature of each node at any step, °C.
    pub lowest_c: Vec<f64>,
}

impl Course {
    /// Energy of all heaters, kWh.
    pub fn kwh(&self) -> f64 {
        self.energy_j.iter().sum::<f64>() / crate::physics::energy::JOULES_PER_KWH
    }
}

fn whole(part: Seconds, step: Seconds) -> Result<u64, NetworkFault> {
    let count = part.seconds() / step.seconds();
    let is_whole = count.is_finite() && 0.5 < count && (count - count.round()).abs() < 1e-6;
    if is_whole { Ok(count.round() as u64) } else { Err(NetworkFault::Step) }
}

/// Runs a network under control. Each step the thermostats see their probes as they were at its start; power and room
/// are held over it; probes follow S⁺ = a S + (1 − a) T with a = e^(−Δt/τ) and T of the start of the step. Heaters
/// without a thermostat are off.
pub fn run(
    network: &Network,
    start: &Temperatures,
    controlled: &[Controlled],
    settings: &Settings,
) -> Result<Course, NetworkFault> {
    let step = settings.step;
    let steps = whole(settings.duration, step)?;
    let sample_every = whole(settings.sample_every, step)?;
    let stepper = network.system().stepper(step)?;
    let mut probes = Vec::with_capacity(controlled.len());
    for one in controlled {
        if network.heater_count() <= one.heater {
            return Err(NetworkFault::Heaters { there: network.heater_count(), given: one.heater + 1 });
        }
        if !one.thermostat.accepts(step) || one.lag.seconds() < 0.0 {
            return Err(NetworkFault::Step);
        }
        let keeps = if 0.0 < one.lag.seconds() { (-step.seconds() / one.lag.seconds()).exp() } else { 0.0 };
        let place = network.place(one.probe)?;
        let reading_c = start.0.get(place).copied().unwrap_or(f64::NAN);
        probes.push(Probe { place, keeps, reading_c, state: ThermostatState::default() });
    }
    let none = vec![Watts(0.0); network.heater_count()];
    let room_at = |time: Seconds| settings.room.at_c(time);
    let first_room = Celsius::new(room_at(Seconds(0.0))).ok_or(NetworkFault::Range("room"))?;
    let mut inputs = network.inputs(&none, first_room)?;
    let mut state = start.0.clone();
    let mut spare = DVector::zeros(state.len());
    let mut course = Course {
        samples: Vec::new(),
        energy_j: vec![0.0; network.heater_count()],
        highest_c: state.as_slice().to_vec(),
        lowest_c: state.as_slice().to_vec(),
    };
    for k in 0..=steps {
        let time = Seconds(k as f64 * step.seconds());
        if k % sample_every == 0 || k == steps {
            course.samples.push(Sample {
                time,
                readings_c: probes.iter().map(|probe| probe.reading_c).collect(),
                temperatures: Temperatures(state.clone()),
            });
        }
        if k == steps {
            break;
        }
        let room_c = room_at(time);
        inputs[0] = room_c;
        for (one, probe) in controlled.iter().zip(&mut probes) {
            let share = probe.share(one, time, room_c, step);
            let power = share * one.rated.watts();
            if let Some(input) = inputs.get_mut(one.heater + 1) {
                *input = power;
            }
            if let Some(energy) = course.energy_j.get_mut(one.heater) {
                *energy += power * step.seconds();
            }
            probe.follow(one, &state, time, room_c);
        }
        stepper.step_in_place(&mut state, &inputs, &mut spare);
        for ((t, highest), lowest) in state.iter().zip(&mut course.highest_c).zip(&mut course.lowest_c) {
            *highest = highest.max(*t);
            *lowest = lowest.min(*t);
        }
    }
    Ok(course)
}

struct Probe {
    place: usize,
    keeps: f64,
    reading_c: f64,
    state: ThermostatState,
}

impl Probe {
    fn share(&mut self, one: &Controlled, time: Seconds, room_c: f64, step: Seconds) -> f64 {
        let reading_c = if self.is_unlagged() && one.is_probe_out(time) { room_c } else { self.reading_c };
        let share = one.thermostat.share(&mut self.state, reading_c, one.set.at_c(time), step);
        match one.fault {
            Some(Fault::StuckOn { from }) if from <= time => 1.0,
            Some(Fault::Off { from, to }) if from <= time && time < to => 0.0,
            _ => share,
        }
    }

    fn is_unlagged(&self) -> bool {
        self.keeps == 0.0
    }

    fn follow(&mut self, one: &Controlled, state: &DVector<f64>, time: Seconds, room_c: f64) {
        let around = if one.is_probe_out(time) { room_c } else { state.get(self.place).copied().unwrap_or(f64::NAN) };
        self.reading_c = self.reading_c * self.keeps + (1.0 - self.keeps) * around;
    }
}

impl Controlled {
    fn is_probe_out(&self, time: Seconds) -> bool {
        matches!(self.fault, Some(Fault::ProbeOut { from }) if from <= time)
    }
}
