//! A straight line through the logarithms of a decay: a cool-down, or moisture after misting.

use crate::physics::roots::is_above_zero;
use units::Seconds;

/// A decay of one lump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Decay {
    /// τ.
    pub time_constant: Seconds,
    /// Its standard deviation.
    pub deviation: Seconds,
    /// Excess at time zero, in the unit that was given.
    pub start: f64,
}

impl Decay {
    /// Slope of the logarithm, 1/h: −3600/τ.
    pub fn slope_per_h(&self) -> f64 {
        -3600.0 / self.time_constant.seconds()
    }
}

/// Fits excess over the surroundings (K of a cool-down, kg/m³ of moisture) against time: ln y = ln y₀ − t/τ by least
/// squares. Points that are not above zero are left out. Leave out the first half hour of a cool-down: there the air
/// alone cools. `None` with fewer than three points or where nothing decays.
///
/// Source: ordinary least squares; Draper and Smith 1998, Applied Regression Analysis, 1.2 to 1.4.
pub fn decay(points: &[(Seconds, f64)]) -> Option<Decay> {
    let logs: Vec<(f64, f64)> =
        points.iter().filter(|(_, y)| 0.0 < *y && y.is_finite()).map(|(t, y)| (t.seconds(), y.ln())).collect();
    let n = logs.len() as f64;
    if logs.len() < 3 {
        return None;
    }
    let (mean_t, mean_y) = (logs.iter().map(|p| p.0).sum::<f64>() / n, logs.iter().map(|p| p.1).sum::<f64>() / n);
    let spread: f64 = logs.iter().map(|p| (p.0 - mean_t).powi(2)).sum();
    let slope = logs.iter().map(|p| (p.0 - mean_t) * (p.1 - mean_y)).sum::<f64>() / spread;
    if !is_above_zero(-slope) {
        return None;
    }
    let left: f64 = logs.iter().map(|p| (p.1 - mean_y - slope * (p.0 - mean_t)).powi(2)).sum();
    let deviation = (left / (n - 2.0) / spread).sqrt();
    Some(Decay {
        time_constant: Seconds(-1.0 / slope),
        deviation: Seconds(deviation / (slope * slope)),
        start: (mean_y - slope * mean_t).exp(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_decay_has_no_time_constant() {
        let steady: Vec<(Seconds, f64)> = (0..5).map(|k| (Seconds(f64::from(k)), 1.0 + f64::from(k))).collect();
        assert!(decay(&steady).is_none());
        assert!(decay(&[(Seconds(0.0), 1.0), (Seconds(1.0), 0.5)]).is_none());
    }
}
