//! How damp it was before a skin came off, set against what is wanted. No more is claimed: how much less a shed goes
//! wrong for so many points of humidity more is not known.

use species::Figure;
use units::{Moment, When};

use crate::answer::Evidence;
use crate::damp::{Damp, at};
use crate::lines;
use crate::view::{View, days, plural};

/// The air while a skin was on its way off.
#[derive(Clone, Debug, PartialEq)]
pub struct Air {
    /// From when on it is looked at: dull, or as long before as a shed takes.
    pub from: Moment,
    /// Until the skin was off.
    pub to: Moment,
    /// What was read.
    pub damp: Option<Damp>,
    /// What is wanted while it sheds, %.
    pub wanted_pct: Option<(f64, f64)>,
}

/// The air before a skin that came off then; `dull` where it is known when that began.
pub fn before(view: &View<'_>, off: When, dull: Option<When>) -> Air {
    let longest = view.profile.shed.total_d.first().map_or_else(|| lines::high("shed_total").value, |total| total.high);
    let from = dull.map_or_else(|| off.from.plus_days(-longest), |dull| dull.from);
    let humidity = &view.profile.humidity;
    let wanted = humidity.shed_pct.first().or_else(|| humidity.normal_pct.first());
    Air {
        from,
        to: off.to,
        damp: Damp::between(view, from, off.to),
        wanted_pct: wanted.map(|figure: &Figure| (figure.low, figure.high)),
    }
}

impl Air {
    /// Was it under what is wanted by the mean of what was read? `None` where nothing was.
    pub fn is_dry(&self) -> Option<bool> {
        self.damp.as_ref().zip(self.wanted_pct).map(|(damp, (low, _))| damp.mean_pct < low)
    }

    /// The readings it rests on.
    pub fn records(&self) -> Vec<Evidence> {
        self.damp.iter().flat_map(|damp| damp.records.iter().copied()).collect()
    }

    /// One sentence with the figures; `None` where nothing was read.
    pub fn says(&self) -> Option<String> {
        let (damp, (low, high)) = self.damp.as_ref().zip(self.wanted_pct)?;
        let span = days(self.to.days_since(self.from).max(1.0));
        let read = if damp.readings == 1 {
            format!("was {:.0} % in the one reading", damp.mean_pct)
        } else {
            format!(
                "was {:.0} to {:.0} %, {:.0} % in the middle of {}",
                damp.low_pct,
                damp.high_pct,
                damp.mean_pct,
                plural(damp.readings as f64, "reading")
            )
        };
        let verdict = if damp.mean_pct < low {
            "too dry"
        } else if high < damp.mean_pct {
            "damper than that"
        } else {
            "in range"
        };
        Some(format!(
            "In the {span} before it the humidity {} {read}; {low:.0} to {high:.0} % is wanted while it sheds: {verdict}.",
            at(damp.spot)
        ))
    }
}
