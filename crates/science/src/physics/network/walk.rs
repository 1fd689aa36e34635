//! A network step by step, with powers that are chosen before each step for where they lead.

use super::system::Stepper;
use super::{Network, NetworkFault, Temperatures};
use nalgebra::DVector;
use units::{Celsius, Seconds, Watts};

/// A network on its way in exact steps of one length; see [`super::System::stepper`].
#[derive(Clone, Debug)]
pub struct Walk<'a> {
    network: &'a Network,
    stepper: Stepper,
    /// What one watt of each heater adds to each node in a step, K.
    responses: Vec<DVector<f64>>,
    state: DVector<f64>,
    /// The state after the step if no heater gave anything.
    unheated: DVector<f64>,
}

impl Network {
    /// A walk from a start in steps of that length. The start must be of a network with the same nodes.
    pub fn walk(&self, start: &Temperatures, step: Seconds) -> Result<Walk<'_>, NetworkFault> {
        if start.0.len() != self.nodes().len() {
            return Err(NetworkFault::Range("a start with a temperature for each node"));
        }
        let stepper = self.system().stepper(step)?;
        let (still, count) = (DVector::zeros(self.nodes().len()), self.heater_count());
        let watt = |heater: usize| {
            let of = |input: usize| f64::from(u8::from(input == heater + 1));
            stepper.step(&still, &DVector::from_iterator(count + 2, (0..count + 2).map(of)))
        };
        let responses = (0..count).map(watt).collect();
        Ok(Walk { network: self, stepper, responses, state: start.0.clone(), unheated: start.0.clone() })
    }
}

impl Walk<'_> {
    /// A node now, °C; its place is that of [`Network::place`].
    pub fn now_c(&self, place: usize) -> f64 {
        self.state.get(place).copied().unwrap_or(f64::NAN)
    }

    /// Sets out on the next step: the room is held at that temperature over it.
    pub fn set_out(&mut self, room: Celsius) -> Result<(), NetworkFault> {
        let none = vec![Watts(0.0); self.responses.len()];
        self.unheated = self.stepper.step(&self.state, &self.network.inputs(&none, room)?);
        Ok(())
    }

    /// To what a node comes at the end of the step with these powers in W, one for each heater, °C.
    pub fn at_end_c(&self, place: usize, powers_w: &[f64]) -> f64 {
        let unheated = self.unheated.get(place).copied().unwrap_or(f64::NAN);
        let of = |(response, power): (&DVector<f64>, &f64)| response.get(place).copied().unwrap_or(f64::NAN) * power;
        unheated + self.responses.iter().zip(powers_w).map(of).sum::<f64>()
    }

    /// Makes the step with these powers in W.
    pub fn go(&mut self, powers_w: &[f64]) {
        self.state.copy_from(&self.unheated);
        for (response, power) in self.responses.iter().zip(powers_w) {
            self.state.axpy(*power, response, 1.0);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::network::Node;

    #[test]
    fn a_walk_leads_where_the_exact_solution_does() {
        let c = |degrees| Celsius::new(degrees).unwrap();
        let network = Network::builder()
            .node(Node::Air, 2_000.0)
            .node(Node::Floor, 9_000.0)
            .link(Node::Air, Node::Floor, 3.0)
            .to_room(Node::Air, 1.5)
            .heater(&[(Node::Floor, 0.8), (Node::Air, 0.1)])
            .build()
            .unwrap();
        let start = Temperatures::all(&network, c(20.0));
        let mut walk = network.walk(&start, Seconds(600.0)).unwrap();
        let floor = network.place(Node::Floor).unwrap();
        for _ in 0..6 {
            walk.set_out(c(18.0)).unwrap();
            let promised = walk.at_end_c(floor, &[25.0]);
            walk.go(&[25.0]);
            assert_eq!(walk.now_c(floor), promised);
        }
        let there = network.after(&start, &[Watts(25.0)], c(18.0), Seconds(3600.0)).unwrap();
        let exact = there.of(&network, Node::Floor).unwrap().degrees();
        assert!((walk.now_c(floor) - exact).abs() < 1e-9, "{} {exact}", walk.now_c(floor));
    }
}
