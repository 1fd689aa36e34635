//! A household may set any value of a profile, with its own reason.

use serde::{Deserialize, Serialize};

use crate::fault::{DataFault, propose};
use crate::figure::{Figure, Status};
use crate::places;
use crate::profile::Profile;
use crate::unit;

/// The household's own value for one path of a profile.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Override {
    /// Path of the value, for example `temperature.night_min_c`; its unit is in the name.
    pub path: String,
    /// Low end.
    pub low: f64,
    /// High end; equal to `low` for a single value.
    pub high: f64,
    /// Why, for example a veterinarian's word.
    pub reason: String,
    /// Who set it.
    pub by: String,
}

/// What stands in the place of a source for a household's own value.
pub const HOUSEHOLD: &str = "household";

impl Override {
    fn figure(&self) -> Figure {
        Figure {
            low: self.low,
            high: self.high,
            mid: None,
            source: HOUSEHOLD.into(),
            status: Status::Household,
            derived: false,
            note: Some(self.reason.clone()),
        }
    }

    fn fault(&self, profile: &Profile) -> Option<(String, String)> {
        let Override { path, low, high, .. } = self;
        let known = profile.value_paths();
        if !known.contains(path) {
            return Some((
                format!("`{path}` is no value of a profile"),
                propose(path, known.iter().map(String::as_str)),
            ));
        }
        if !low.is_finite() || !high.is_finite() {
            return Some((format!("the value for `{path}` is not a finite number"), "give a number".into()));
        }
        if high < low {
            return Some((
                format!("the low end {low} of `{path}` is above its high end {high}"),
                "exchange the two".into(),
            ));
        }
        if let Some(mend) = unit::unlikely(path, *low, *high) {
            return Some((format!("{} is not likely for `{path}`", unit::range(*low, *high)), mend));
        }
        self.reason.trim().is_empty().then(|| {
            (
                format!("the value for `{path}` has no reason"),
                "say why it is set, for example what the veterinarian said".into(),
            )
        })
    }
}

impl Profile {
    /// The profile with the household's own values in place of the defaults. What other sources say stays behind them.
    /// All faults are told at once.
    pub fn with_overrides(&self, overrides: &[Override]) -> Result<Profile, Vec<DataFault>> {
        let mut profile = self.clone();
        let mut faults = Vec::new();
        for one in overrides {
            if let Some((what, mend)) = one.fault(self) {
                faults.push(DataFault { what, file: format!("own values for {}", self.key), line: 0, column: 0, mend });
            } else if let Some(place) = places::find(&one.path) {
                (place.set)(&mut profile, one.figure());
                profile.overrides.retain(|earlier| earlier.path != one.path);
                profile.overrides.push(one.clone());
            }
        }
        if faults.is_empty() { Ok(profile) } else { Err(faults) }
    }

    /// The paths of all values that can be asked for and set, for example `shed.interval_d.adult`.
    pub fn value_paths(&self) -> Vec<String> {
        places::all().filter(|place| self.has_part(place.path)).map(|place| place.path.to_owned()).collect()
    }

    /// The default value at a path, with its source; `None` where the profile has none.
    pub fn value(&self, path: &str) -> Option<Figure> {
        match self.overridden(path) {
            Some(own) => Some(own.figure()),
            None => (places::find(path)?.get)(self),
        }
    }

    /// The household's own value that acts at a path.
    pub fn overridden(&self, path: &str) -> Option<&Override> {
        self.overrides.iter().find(|one| one.path == path)
    }

    /// Values of a meal or a ration can only be set where the profile has that meal or ration.
    fn has_part(&self, path: &str) -> bool {
        let is_part = path.starts_with("feeding.") || path.starts_with("ration.");
        !is_part || places::find(path).is_some_and(|place| (place.get)(self).is_some())
    }
}
