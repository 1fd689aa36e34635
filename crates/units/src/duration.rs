//! How long something takes, as equations take it. Days of the calendar are another matter: see [`crate::time`].

/// A span of time in seconds. May be negative: earlier.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Seconds(pub f64);

impl Seconds {
    /// From minutes of 60 s.
    pub fn from_minutes(minutes: f64) -> Seconds {
        Seconds(minutes * 60.0)
    }

    /// From hours of 3600 s.
    pub fn from_hours(hours: f64) -> Seconds {
        Seconds(hours * 3600.0)
    }

    /// The value in s.
    pub fn seconds(self) -> f64 {
        self.0
    }

    /// The value in min.
    pub fn minutes(self) -> f64 {
        self.0 / 60.0
    }

    /// The value in h.
    pub fn hours(self) -> f64 {
        self.0 / 3600.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_hour_and_a_half_is_ninety_minutes() {
        assert_eq!(Seconds::from_hours(1.5), Seconds::from_minutes(90.0));
        assert_eq!(Seconds(5400.0).hours(), 1.5);
        assert_eq!(Seconds(5400.0).minutes(), 90.0);
    }
}
