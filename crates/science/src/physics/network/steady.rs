//! Where a network settles, and what that answers: watts for a target, the gradient, a thermostat stuck on.

use super::{Network, NetworkFault, Node};
use nalgebra::DVector;
use units::{Celsius, Seconds, Watts};

/// A temperature for every node of a network, in its order.
#[derive(Clone, Debug, PartialEq)]
pub struct Temperatures(pub(crate) DVector<f64>);

impl Temperatures {
    /// All nodes at the same temperature.
    pub fn all(network: &Network, at: Celsius) -> Temperatures {
        Temperatures(DVector::from_element(network.nodes.len(), at.degrees()))
    }

    /// In the order of [`Network::nodes`]. `None` unless there are as many.
    pub fn from_list(network: &Network, list: &[Celsius]) -> Option<Temperatures> {
        let values = DVector::from_iterator(list.len(), list.iter().map(|t| t.degrees()));
        (list.len() == network.nodes.len()).then_some(Temperatures(values))
    }

    /// The value of a node.
    pub fn of(&self, network: &Network, node: Node) -> Result<Celsius, NetworkFault> {
        let place = network.place(node)?;
        self.0.get(place).and_then(|t| Celsius::new(*t)).ok_or(NetworkFault::Missing(node))
    }

    /// The values in °C.
    pub fn degrees(&self) -> &[f64] {
        self.0.as_slice()
    }

    /// Their mean, weighted by heat capacity, °C.
    pub fn mean_c(&self, network: &Network) -> f64 {
        self.0.dot(&network.capacities_j_k) / network.capacities_j_k.sum()
    }
}

impl Network {
    pub(super) fn powers(&self, powers: &[Watts]) -> Result<DVector<f64>, NetworkFault> {
        let there = self.heater_count();
        if powers.len() != there {
            return Err(NetworkFault::Heaters { there, given: powers.len() });
        }
        Ok(DVector::from_iterator(there, powers.iter().map(|p| p.watts())))
    }

    /// Where all nodes settle: T = K⁻¹(g T_room + B P + q).
    pub fn steady(&self, powers: &[Watts], room: Celsius) -> Result<Temperatures, NetworkFault> {
        let load = &self.to_room_w_k * room.degrees() + &self.heaters * self.powers(powers)? + &self.constant_w;
        self.solved.solve(&load).map(Temperatures).ok_or(NetworkFault::Enclosed)
    }

    /// How much a watt of a heater warms a node in the end, K/W: u = (K⁻¹ b)_node.
    pub fn rise_k_w(&self, heater: usize, node: Node) -> Result<f64, NetworkFault> {
        let place = self.place(node)?;
        if self.heater_count() <= heater {
            return Err(NetworkFault::Heaters { there: self.heater_count(), given: heater + 1 });
        }
        let rises = self.solved.solve(&self.heaters.column(heater).into_owned()).ok_or(NetworkFault::Enclosed)?;
        rises.get(place).copied().ok_or(NetworkFault::Missing(node))
    }

    /// How long a node stays warm after a heater that was on for long goes off: the area under its fall to the room over
    /// its height at the start, (K⁻¹ C K⁻¹ b)/(K⁻¹ b). Of one lump it is C/G; of several a mean of their time constants
    /// by the share of the fall that each has.
    pub fn cooling_time(&self, heater: usize, node: Node) -> Result<Seconds, NetworkFault> {
        let place = self.place(node)?;
        if self.heater_count() <= heater {
            return Err(NetworkFault::Heaters { there: self.heater_count(), given: heater + 1 });
        }
        let rises = self.solved.solve(&self.heaters.column(heater).into_owned()).ok_or(NetworkFault::Enclosed)?;
        let areas = self.solved.solve(&self.capacities_j_k.component_mul(&rises)).ok_or(NetworkFault::Enclosed)?;
        match (areas.get(place), rises.get(place)) {
            (Some(area), Some(rise)) if 0.0 < *rise => Ok(Seconds(area / rise)),
            _ => Err(NetworkFault::Range("the heater does not warm that node")),
        }
    }

    /// Power of a heater that holds a node at a target, the others off: P = (T_target − T_without)/u. Negative where
    /// the room alone is too warm.
    pub fn power_for(&self, heater: usize, node: Node, target: Celsius, room: Celsius) -> Result<Watts, NetworkFault> {
        let off = vec![Watts(0.0); self.heater_count()];
        let without = self.steady(&off, room)?.of(self, node)?;
        let rise = self.rise_k_w(heater, node)?;
        if rise <= 0.0 {
            return Err(NetworkFault::Range("the heater does not warm that node"));
        }
        Ok(Watts((target - without).kelvin() / rise))
    }

    /// Difference in the end between two nodes per watt, K/W: the gradient of a watt.
    pub fn gradient_k_w(&self, heater: usize, warm: Node, cool: Node) -> Result<f64, NetworkFault> {
        Ok(self.rise_k_w(heater, warm)? - self.rise_k_w(heater, cool)?)
    }

    /// The largest rating that keeps a node at or below a limit with its thermostat stuck on in the warmest room.
    pub fn safe_rating(
        &self,
        heater: usize,
        node: Node,
        limit: Celsius,
        warmest_room: Celsius,
    ) -> Result<Watts, NetworkFault> {
        self.power_for(heater, node, limit, warmest_room)
    }

    /// Room temperature above which the heater has nothing left to do for a target: beyond it the node follows the room.
    pub fn room_that_needs_no_heat(&self, heater: usize, node: Node, target: Celsius) -> Result<Celsius, NetworkFault> {
        let zero = Celsius::from_fahrenheit(32.0).ok_or(NetworkFault::Range("temperature"))?;
        let at_zero = self.power_for(heater, node, target, zero)?;
        let room = at_zero.watts() * self.rise_k_w(heater, node)?;
        Celsius::new(room).ok_or(NetworkFault::Range("temperature"))
    }

    /// Heat that flows to the room at these temperatures.
    pub fn loss(&self, at: &Temperatures, room: Celsius) -> Watts {
        Watts(at.0.iter().zip(self.to_room_w_k.iter()).map(|(t, g)| g * (t - room.degrees())).sum())
    }

    /// Heat stored above a temperature, J.
    pub fn stored_j(&self, at: &Temperatures, above: Celsius) -> f64 {
        at.0.iter().zip(self.capacities_j_k.iter()).map(|(t, c)| c * (t - above.degrees())).sum()
    }
}

/// What to install for a power needed in the coldest room: 1.3 to 1.5 times as much, so that it recovers.
pub fn power_to_install(needed: Watts) -> (Watts, Watts) {
    (Watts(1.3 * needed.watts()), Watts(1.5 * needed.watts()))
}
