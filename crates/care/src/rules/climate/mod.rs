//! Climate: heat, cold, the choice between them, humidity, and the devices that make and measure it.

mod chill;
mod cold;
mod gradient;
mod heat;
mod heaters;
mod humidity;
mod power;
mod readings;
mod sensors;
mod unit;

use super::Rule;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[
    unit::RULE,
    heat::RULE,
    cold::RULE,
    cold::DIGESTION,
    power::RULE,
    chill::RULE,
    gradient::RULE,
    humidity::AIR,
    humidity::IN_SHED,
    humidity::FLOOR,
    humidity::WALLS,
    heaters::THERMOSTAT,
    heaters::GUARD,
    heaters::KIND,
    heaters::PROBE,
    heaters::SET_POINT,
    sensors::AGREE,
    sensors::FLAT,
    sensors::GAP,
];
