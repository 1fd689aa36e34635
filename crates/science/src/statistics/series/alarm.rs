//! An alarm that neither flickers nor forgets.

use super::Reading;

/// Too high, or too low?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Raised at or above a level, cleared at or below another.
    High,
    /// Raised at or below a level, cleared at or above another.
    Low,
}

/// When to raise and when to clear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Levels {
    /// Which side is bad.
    pub direction: Direction,
    /// Bad from here on.
    pub raise_at: f64,
    /// Good from here on.
    pub clear_at: f64,
    /// Raised when every reading was bad for so long, s.
    pub raise_after: f64,
    /// Cleared when every reading was good for so long, s.
    pub clear_after: f64,
    /// A gap longer than this says nothing: what lasted before it begins anew, s. Silence is an alarm of its own.
    pub longest_gap: f64,
}

/// The alarm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alarm {
    levels: Levels,
    /// Is it raised?
    pub is_raised: bool,
    since: Option<f64>,
    last: Option<f64>,
}

/// What a reading changed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// Raised, or cleared?
    pub is_raised: bool,
    /// Time of that reading, s.
    pub at: f64,
    /// From when on every reading has been so, s.
    pub since: f64,
}

impl Alarm {
    /// Not raised, with nothing seen.
    pub fn new(levels: Levels) -> Alarm {
        Alarm { levels, is_raised: false, since: None, last: None }
    }

    /// One more reading. One on the wrong side restarts the clock.
    pub fn push(&mut self, reading: Reading) -> Option<Change> {
        let Levels { direction, raise_at, clear_at, raise_after, clear_after, longest_gap } = self.levels;
        // Mirrored, so that bad is always high.
        let sign = if direction == Direction::High { 1.0 } else { -1.0 };
        let value = sign * reading.value;
        let (counts, delay) = if self.is_raised {
            (value <= sign * clear_at, clear_after)
        } else {
            (sign * raise_at <= value, raise_after)
        };
        if self.last.is_some_and(|last| longest_gap < reading.time - last) {
            self.since = None;
        }
        self.last = Some(reading.time);
        if !counts {
            self.since = None;
            return None;
        }
        let since = *self.since.get_or_insert(reading.time);
        if reading.time - since < delay {
            return None;
        }
        self.is_raised = !self.is_raised;
        self.since = None;
        Some(Change { is_raised: self.is_raised, at: reading.time, since })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LEVELS: Levels = Levels {
        direction: Direction::Low,
        raise_at: 20.0,
        clear_at: 22.0,
        raise_after: 600.0,
        clear_after: 300.0,
        longest_gap: 1200.0,
    };

    fn read(alarm: &mut Alarm, readings: &[(f64, f64)]) -> Vec<Change> {
        readings.iter().filter_map(|(time, value)| alarm.push(Reading { time: *time, value: *value })).collect()
    }

    #[test]
    fn it_is_raised_on_the_delay_and_not_before() {
        for (last, is_raised) in [(599.0, false), (600.0, true), (601.0, true)] {
            let mut alarm = Alarm::new(LEVELS);
            read(&mut alarm, &[(0.0, 20.0), (300.0, 19.0), (last, 19.5)]);
            assert_eq!(alarm.is_raised, is_raised, "{last}");
        }
    }

    #[test]
    fn a_gap_does_not_count_as_bad() {
        let mut alarm = Alarm::new(LEVELS);
        let changes = read(&mut alarm, &[(0.0, 19.0), (1201.0, 19.0), (1500.0, 19.0), (1801.0, 19.0)]);
        assert_eq!(changes, [Change { is_raised: true, at: 1801.0, since: 1201.0 }]);
    }
}
