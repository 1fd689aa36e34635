//! Why a network cannot be made or asked.

use super::Node;
use std::fmt;

/// Why a network cannot be made or asked.
#[derive(Clone, Debug, PartialEq)]
pub enum NetworkFault {
    /// It has no nodes.
    Empty,
    /// The node was named twice.
    Twice(Node),
    /// A link, heater or question names a node that is not in the network.
    Missing(Node),
    /// A node has no heat capacity above zero.
    Capacity(Node),
    /// A conductance is negative or not a number, W/K.
    Conductance(f64),
    /// The shares of a heater are negative or add up to more than 1.
    Shares(f64),
    /// Some node has no way for its heat to the room.
    Enclosed,
    /// As many powers are needed as there are heaters.
    Heaters {
        /// In the network.
        there: usize,
        /// Given.
        given: usize,
    },
    /// The step is not above zero, or not a whole part of what it has to divide.
    Step,
    /// A film coefficient or a geometry cannot be had outside the range of its equation.
    Range(&'static str),
}

impl fmt::Display for NetworkFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NetworkFault::Empty => write!(f, "a network needs at least one node"),
            NetworkFault::Twice(node) => write!(f, "{node:?} stands in the network twice"),
            NetworkFault::Missing(node) => write!(f, "{node:?} is not in the network"),
            NetworkFault::Capacity(node) => write!(f, "the heat capacity of {node:?} must be above zero"),
            NetworkFault::Conductance(w_k) => write!(f, "{w_k} W/K is no conductance"),
            NetworkFault::Shares(sum) => {
                write!(f, "the shares of a heater must lie in 0 to 1, and add up to at most 1: {sum}")
            }
            NetworkFault::Enclosed => write!(f, "some node has no way for its heat to the room"),
            NetworkFault::Heaters { there, given } => write!(f, "{there} heaters, but {given} powers"),
            NetworkFault::Step => {
                write!(f, "the step must be above zero and a whole part of the cycle and the duration")
            }
            NetworkFault::Range(what) => write!(f, "outside the range of the equations: {what}"),
        }
    }
}

impl std::error::Error for NetworkFault {}
