//! What a log says about an enclosure: conductances, capacities, air exchange, and how surely.
//!
//! Start with [`fit_scaled`] where the box is described: its network keeps its form, and three factors are found. Where
//! nothing is known of it, [`fit`]: two zones (warm, cool) in a room, simulated exactly over each step, against the logged
//! temperatures. Only G/P and C/P are seen: with wrong watts every G and C is wrong by the same factor and the fit as
//! good, temperatures, duty and cool-down right, cost and losses wrong. A cool-down alone gives C/G, a steady state
//! alone G; a thermostat that holds one temperature says little, a night setback or some hours off say much.

mod decay;
mod fit;
mod log;
mod parameter;
mod problem;
mod scaled;
mod two_zone;

pub use decay::{Decay, decay};
pub use fit::{Choices, Doubt, Fit, FitFault, drift, fit};
pub use log::{Log, LogFault, Record};
pub use parameter::{Lag, Parameter, Share};
pub use scaled::{ScaledFit, fit_scaled};
pub use two_zone::TwoZone;
