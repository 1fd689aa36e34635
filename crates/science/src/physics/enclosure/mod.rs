//! A box with a snake in it, from its measures to a thermal network.
//!
//! [`Enclosure`] and [`Heater`] say what is there; [`Films`] how well air and radiation carry heat inside;
//! [`full_network`] builds up to seven nodes and their heaters, [`three_nodes`] and [`two_nodes`] lump them.
//! [`settled`] evaluates the films once more at the solution, which brings the linear network within 0.2 K of the full
//! balance.

mod films;
mod geometry;
mod heater;
mod losses;
mod presets;

pub use films::{Films, Spots};
pub use geometry::{Bowl, Enclosure, Lid, Sheet};
pub use heater::{Heater, HeaterKind, Split, radiant_share};
pub use losses::{Losses, losses};
pub use presets::{BOWL_TO_AIR_W_M2K, BOWL_TO_FLOOR_W_M2K, Settled, full_network, settled, three_nodes, two_nodes};
