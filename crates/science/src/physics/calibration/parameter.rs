//! What is fitted.

use units::Seconds;

/// A fitted parameter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Parameter {
    /// Conductance from the warm side to the room.
    WarmToRoom,
    /// Conductance from the cool side to the room.
    CoolToRoom,
    /// Conductance between the sides.
    WarmToCool,
    /// Heat capacity of the warm side.
    WarmCapacity,
    /// Heat capacity of the cool side.
    CoolCapacity,
    /// Share of the heater's power that the warm side gets.
    HeaterShare,
    /// Lag of the sensors.
    SensorLag,
    /// Temperature of the warm side at the start.
    WarmStart,
    /// Temperature of the cool side at the start.
    CoolStart,
}

/// Is the heater's share known?
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Share {
    /// From the kind of heater. The better choice: share and conductances to the room trade off.
    Known(f64),
    /// To be fitted.
    Free,
}

/// Is the lag of the sensors known?
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lag {
    /// None, or short against the step of the log.
    None,
    /// To be fitted, expected around here within a factor of 2. For logs faster than 2 min; 120 s is usual.
    Around(Seconds),
}
