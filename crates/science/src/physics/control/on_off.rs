//! On-off control with exact moments of switching.

use crate::physics::network::{Ladder, Network, NetworkFault, Node, Temperatures};
use crate::physics::roots::is_above_zero;
use units::{Celsius, CelsiusDelta, Seconds, Watts};

/// The thermostat of one heater, all else off, in a room of one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnOffRun {
    /// Which heater.
    pub heater: usize,
    /// Its power when on.
    pub rated: Watts,
    /// Where the probe is.
    pub probe: Node,
    /// First-order lag of the probe; above zero.
    pub lag: Seconds,
    /// Set point.
    pub set: Celsius,
    /// Dead band.
    pub band: CelsiusDelta,
    /// The room.
    pub room: Celsius,
}

/// A time without switching.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Its start.
    pub from: Seconds,
    /// Its end.
    pub to: Seconds,
    /// Was the heater on?
    pub is_on: bool,
}

/// Runs on-off control from a state with the heater on and the probe at the temperature of its node. Gives every
/// stretch and the nodes at the end.
pub fn on_off_run(
    network: &Network,
    start: &Temperatures,
    control: &OnOffRun,
    duration: Seconds,
) -> Result<(Vec<Stretch>, Temperatures), NetworkFault> {
    if !is_above_zero(control.band.kelvin()) {
        return Err(NetworkFault::Range("the dead band must be above zero"));
    }
    let place = network.place(control.probe)?;
    let (system, probe) = network.system().with_sensor(control.probe, control.lag)?;
    let step = Seconds((control.lag.seconds() / 4.0).min(duration.seconds()));
    let ladder = Ladder::new(&system, step)?;
    let mut powers = vec![Watts(0.0); network.heater_count()];
    let off = network.inputs(&powers, control.room)?;
    let there = network.heater_count();
    *powers.get_mut(control.heater).ok_or(NetworkFault::Heaters { there, given: control.heater + 1 })? = control.rated;
    let on = network.inputs(&powers, control.room)?;
    let half = control.band.kelvin() / 2.0;
    let (upper, lower) = (control.set.degrees() + half, control.set.degrees() - half);
    let nodes = start.0.len();
    let mut state = start.0.clone().insert_row(nodes, start.0.get(place).copied().unwrap_or(f64::NAN));
    let (mut time, mut is_on) = (0.0, true);
    let mut stretches = Vec::new();
    loop {
        let left = Seconds(duration.seconds() - time);
        let inputs = if is_on { &on } else { &off };
        let switches = |x: &nalgebra::DVector<f64>| {
            let reading = x.get(probe).copied().unwrap_or(f64::NAN);
            if is_on { upper <= reading } else { reading <= lower }
        };
        match ladder.first(&state, inputs, left, switches) {
            Ok(passage) => {
                let to = time + passage.after.seconds();
                stretches.push(Stretch { from: Seconds(time), to: Seconds(to), is_on });
                (time, is_on, state) = (to, !is_on, passage.state);
            }
            Err(end) => {
                stretches.push(Stretch { from: Seconds(time), to: duration, is_on });
                return Ok((stretches, Temperatures(end.rows(0, nodes).into_owned())));
            }
        }
    }
}
