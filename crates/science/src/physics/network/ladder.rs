//! When a state passes a limit, found exactly: whole steps up to the passage, then halved steps.

use super::{Network, NetworkFault, Node, Stepper, System, Temperatures};
use crate::physics::roots::is_above_zero;
use nalgebra::DVector;
use units::{Celsius, Seconds, Watts};

const RUNGS: usize = 28;

/// Steps of a length and of its halves, quarters and so on, down to a hundred-millionth of it.
#[derive(Clone, Debug)]
pub struct Ladder {
    rungs: Vec<Stepper>,
}

/// A limit being passed.
#[derive(Clone, Debug, PartialEq)]
pub struct Passage {
    /// After how long.
    pub after: Seconds,
    /// The state just after it.
    pub state: DVector<f64>,
}

impl Ladder {
    /// The ladder of a system below a step. A passage there and back within one step is not seen, so the step should be
    /// shorter than the shortest time constant.
    pub fn new(system: &System, step: Seconds) -> Result<Ladder, NetworkFault> {
        if !is_above_zero(step.seconds()) {
            return Err(NetworkFault::Step);
        }
        let lengths = (0..RUNGS).map(|rung| Seconds(step.seconds() / 2f64.powi(rung as i32)));
        Ok(Ladder { rungs: lengths.map(|length| system.stepper(length)).collect::<Result<_, _>>()? })
    }

    /// The first time within `horizon` that `passed` holds, with inputs held constant. Where it holds at the start,
    /// that is after no time. Else `None` and the state at the horizon.
    pub fn first(
        &self,
        start: &DVector<f64>,
        inputs: &DVector<f64>,
        horizon: Seconds,
        passed: impl Fn(&DVector<f64>) -> bool,
    ) -> Result<Passage, DVector<f64>> {
        let mut state = start.clone();
        let mut elapsed = 0.0;
        if passed(&state) {
            return Ok(Passage { after: Seconds(0.0), state });
        }
        let finest = self.rungs.last().map_or(0.0, |s| s.length().seconds());
        // The first rung repeats while it fits; every further one is taken at most once, where it neither passes the
        // limit nor the horizon.
        for (rung, stepper) in self.rungs.iter().enumerate() {
            let length = stepper.length().seconds();
            while elapsed + length <= horizon.seconds() + 0.5 * finest {
                let next = stepper.step(&state, inputs);
                if passed(&next) {
                    break;
                }
                state = next;
                elapsed += length;
                if 0 < rung {
                    break;
                }
            }
        }
        let Some(last) = self.rungs.last() else { return Err(state) };
        if horizon.seconds() < elapsed + 1.5 * finest {
            return Err(state);
        }
        let state = last.step(&state, inputs);
        if passed(&state) { Ok(Passage { after: Seconds(elapsed + finest), state }) } else { Err(state) }
    }
}

impl Network {
    /// How long until a node first reaches a limit from either side, at constant inputs. `None` where it never does.
    pub fn time_to(
        &self,
        start: &Temperatures,
        powers: &[Watts],
        room: Celsius,
        node: Node,
        limit: Celsius,
    ) -> Result<Option<Seconds>, NetworkFault> {
        let place = self.place(node)?;
        let constants = self.time_constants().ok_or(NetworkFault::Range("time constants"))?;
        let (Some(shortest), Some(longest)) = (constants.first(), constants.last()) else {
            return Err(NetworkFault::Empty);
        };
        let value = |state: &DVector<f64>| state.get(place).copied().unwrap_or(f64::NAN) - limit.degrees();
        let from = value(&start.0);
        // Forty of the longest time constants are the end of every transient.
        let ladder = Ladder::new(&self.system(), Seconds(0.5 * shortest.seconds()))?;
        let horizon = Seconds(40.0 * longest.seconds());
        let inputs = self.inputs(powers, room)?;
        let found = ladder.first(&start.0, &inputs, horizon, |state| value(state) * from <= 0.0);
        Ok(found.ok().map(|passage| passage.after))
    }
}
