//! Relative humidity.

/// Vapour pressure over saturation pressure at the same temperature: 0 (dry) to 1 (saturated).
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct RelativeHumidity(f64);

impl RelativeHumidity {
    /// Saturated air.
    pub const SATURATED: RelativeHumidity = RelativeHumidity(1.0);

    /// `None` unless `fraction` lies in 0 to 1.
    pub fn new(fraction: f64) -> Option<RelativeHumidity> {
        (0.0..=1.0).contains(&fraction).then_some(RelativeHumidity(fraction))
    }

    /// `None` unless `percent` lies in 0 to 100.
    pub fn from_percent(percent: f64) -> Option<RelativeHumidity> {
        RelativeHumidity::new(percent / 100.0)
    }

    /// The value as a share of 1.
    pub fn fraction(self) -> f64 {
        self.0
    }

    /// The value in percent.
    pub fn percent(self) -> f64 {
        self.0 * 100.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn air_is_at_most_saturated() {
        for (percent, possible) in [(-0.1, false), (0.0, true), (100.0, true), (100.1, false), (f64::NAN, false)] {
            assert_eq!(RelativeHumidity::from_percent(percent).is_some(), possible, "{percent} %");
        }
        assert_eq!(RelativeHumidity::from_percent(45.0).unwrap().fraction(), 0.45);
    }
}
