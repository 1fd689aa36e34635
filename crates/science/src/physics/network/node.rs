//! What a node stands for.

/// A part of an enclosure that is taken as one temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Node {
    /// Air and shell together.
    Air,
    /// The heated floor of a small tub.
    Floor,
    /// The warm side with its air and floor.
    WarmSide,
    /// The cool side with its air and floor.
    CoolSide,
    /// Walls and lid.
    Shell,
    /// Air of the warm side.
    AirWarm,
    /// Air of the cool side.
    AirCool,
    /// Floor of the warm side.
    FloorWarm,
    /// Floor of the cool side.
    FloorCool,
    /// The water bowl.
    Bowl,
    /// The body of a heater, counted from 0.
    Heater(usize),
}
