//! The rows of a growth fit.

use super::{Curve, Growth, Sighting};
use crate::statistics::least_squares::Rows;

/// Log sizes against ages; with the age at the first sighting as a last parameter where that is not known.
pub(super) struct Sizes<'a> {
    pub(super) curve: Curve,
    pub(super) ages: &'a [f64],
    pub(super) logs: &'a [f64],
    /// Are ages counted from a day of unknown age?
    pub(super) is_shifted: bool,
}

/// Ages and logs of sizes.
pub(super) fn columns(sightings: &[Sighting]) -> (Vec<f64>, Vec<f64>) {
    sightings.iter().map(|s| (s.age_years, s.size.ln())).unzip()
}

impl Rows for Sizes<'_> {
    fn count(&self) -> usize {
        self.ages.len()
    }

    fn visit(&self, parameters: &[f64], mut each: impl FnMut(f64, &[f64])) {
        let width = self.curve.parameters();
        let shift = if self.is_shifted { parameters.get(width).copied().unwrap_or(f64::NAN) } else { 0.0 };
        let Some(growth) = Growth::from_logs(self.curve, parameters) else { return };
        let at = growth.points();
        for (age, log) in self.ages.iter().zip(self.logs) {
            let point = at(age + shift);
            let slopes = point.slopes_of(self.curve);
            each(point.log - log, slopes.get(..parameters.len()).unwrap_or(&slopes));
        }
    }
}
