//! A linear thermal network: nodes with heat capacity, conductances between them and to the room, heaters that give
//! their watts to nodes.
//!
//! C dT/dt = −K T + g T_room + B P + q, stepped exactly by the matrix exponential, so no step is too long and none adds
//! an error. Linear is enough: with film coefficients evaluated once more at the solution a network stays within 0.2 K
//! of the full balance with fourth powers (see [`super::enclosure`]).
//!
//! Start with [`Network::builder`]; [`Stepper`] moves it in time, [`Ladder`] finds when a limit is passed.

mod build;
mod fault;
mod ladder;
mod node;
mod steady;
mod system;
mod walk;

pub use build::{Builder, Network};
pub use fault::NetworkFault;
pub use ladder::{Ladder, Passage};
pub use node::Node;
pub use steady::{Temperatures, power_to_install};
pub use system::{Stepper, System};
pub use walk::Walk;
