//! What a degree, a gram and a day are.
//!
//! Every other crate stands on this one. It must never know an animal, a rule, a file or the clock:
//! it only makes sure that a number carries its unit and a moment its zone.
//!
//! Start with [`time`]: what is known only to the day, the month or the year stays so.

pub mod duration;
pub mod humidity;
pub mod length;
pub mod mass;
pub mod power;
pub mod pressure;
pub mod temperature;
pub mod time;

pub use duration::Seconds;
pub use humidity::RelativeHumidity;
pub use length::{Centimetres, Metres};
pub use mass::Grams;
pub use power::Watts;
pub use pressure::Pascals;
pub use temperature::{Celsius, CelsiusDelta};
pub use time::{Moment, Precision, When, Zone};
