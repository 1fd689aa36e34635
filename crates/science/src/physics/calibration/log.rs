//! What was logged.

use std::fmt;
use units::{Celsius, Seconds, Watts};

/// One line of a log.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Record {
    /// The room.
    pub room: Celsius,
    /// Power of the heater over the step that begins here.
    pub heater: Watts,
    /// The warm side; `None` where nothing was read.
    pub warm: Option<Celsius>,
    /// The cool side.
    pub cool: Option<Celsius>,
}

/// A log with even steps.
#[derive(Clone, Debug, PartialEq)]
pub struct Log {
    step: Seconds,
    records: Vec<Record>,
}

/// Why a log cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LogFault {
    /// The step is not above zero.
    Step,
    /// Fewer readings than 50: parameters would be noise.
    Short(usize),
    /// The heater never was on: then only C/G is seen.
    NeverHeated,
}

impl fmt::Display for LogFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LogFault::Step => write!(f, "the step of a log must be above zero"),
            LogFault::Short(readings) => write!(f, "{readings} readings are too few to fit anything: 50 are needed"),
            LogFault::NeverHeated => write!(f, "the heater was never on, so no power can be related to a rise"),
        }
    }
}

impl std::error::Error for LogFault {}

impl Log {
    /// The log, or why it cannot be used.
    pub fn new(step: Seconds, records: Vec<Record>) -> Result<Log, LogFault> {
        if !(step.seconds().is_finite() && 0.0 < step.seconds()) {
            return Err(LogFault::Step);
        }
        let readings = records.iter().filter(|record| record.warm.is_some() && record.cool.is_some()).count();
        if readings < 50 {
            return Err(LogFault::Short(readings));
        }
        if records.iter().all(|record| record.heater.watts() <= 0.0) {
            return Err(LogFault::NeverHeated);
        }
        Ok(Log { step, records })
    }

    /// Its step.
    pub fn step(&self) -> Seconds {
        self.step
    }

    /// Its lines.
    pub fn records(&self) -> &[Record] {
        &self.records
    }
}
