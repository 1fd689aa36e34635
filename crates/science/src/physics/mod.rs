//! Heat and moisture: of the air, of an enclosure, of prey that thaws.
//!
//! Every function is pure, takes and gives units, and names its equation, range and source. Where to start:
//! [`psychrometrics`] for humidity, [`enclosure`] for watts, gradients and cool-downs, [`prey`] for thawing,
//! [`calibration`] for what a log says about an enclosure.
//!
//! Unfitted, expect watts within 25 %, the mean rise within 20 %, gradients within a factor of 1.6, steady humidity
//! within 12 points and thawing times within 20 % (30 % in a bag). Give a range, not one number.

pub mod calibration;
pub mod constants;
pub mod control;
pub mod convection;
pub mod enclosure;
pub mod energy;
pub mod fluids;
pub mod infrared;
pub mod materials;
pub mod moisture;
pub mod network;
pub mod prey;
pub mod psychrometrics;
pub mod radiation;
mod roots;
pub mod thermometer;
pub mod transient;
pub mod ventilation;
pub mod walls;
