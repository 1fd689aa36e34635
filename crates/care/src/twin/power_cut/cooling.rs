//! How one way in which an enclosure may be cools.

use science::physics::network::NetworkFault;
use units::{Seconds, Watts};

use crate::draft::Line;
use crate::lines;
use crate::twin::guesses::Unknown;
use crate::twin::model::{Model, SPOTS, drives};
use crate::twin::{Description, State};
use crate::what_if::Resident;

/// How far ahead is looked, h.
pub const HOURS: u32 = 48;
/// The hour that is drawn.
pub const MAIN: u32 = 8;
/// Steps an hour.
const STEPS: usize = 12;

/// The lines of who lives in it.
pub struct Lines {
    /// Under it a meal is not digested.
    pub digest: Option<Line>,
    /// Under it the animal is warmed.
    pub act: Line,
    /// Under it there is danger to life.
    pub urgent: Line,
    /// No animal is known: the cautious lines serve.
    pub is_general: bool,
}

impl Lines {
    /// Of an animal; of a tropical one where none is known.
    pub fn of(resident: Option<&Resident>) -> Lines {
        let is_strict = resident.is_none_or(|one| {
            one.profile.climate == species::Climate::Tropical || one.is_hatchling || one.is_digesting
        });
        let [_, act, urgent] = lines::cold(is_strict);
        let digest = resident.filter(|one| one.is_digesting);
        let digest = digest.and_then(|one| one.profile.temperature.digest_min_c.first()).map(Line::low);
        Lines { digest, act, urgent, is_general: resident.is_none() }
    }
}

/// A cool-down.
pub struct Cooling {
    course: Vec<[f64; 4]>,
}

/// The room without heating, °C, `seconds` after the cut.
pub fn room_after(model: &Model, outdoors_c: Option<f64>, seconds: f64) -> f64 {
    let values = model.values();
    let (room, slow_h) = (values.of(Unknown::Room), values.of(Unknown::House));
    outdoors_c.map_or(room, |outdoors| outdoors + (room - outdoors) * (-seconds / 3600.0 / slow_h).exp())
}

impl Cooling {
    /// Of an enclosure that was held as its thermostats are set, or at what its animal wants.
    pub fn of(described: &Description, model: &Model, outdoors_c: Option<f64>) -> Result<Cooling, NetworkFault> {
        let start = start(described, model)?;
        Cooling::from(model, &start, &start, outdoors_c)
    }

    /// From a state on; `in_wrap` is the state whose conductances hold.
    pub fn from(
        model: &Model,
        start: &State,
        in_wrap: &State,
        outdoors_c: Option<f64>,
    ) -> Result<Cooling, NetworkFault> {
        let off = vec![Watts(0.0); model.heater_count()];
        let room = |seconds| room_after(model, outdoors_c, seconds);
        let steps = STEPS * HOURS as usize;
        let course = model.course(start, in_wrap, &off, room, Seconds(3600.0 / STEPS as f64), steps)?;
        Ok(Cooling { course })
    }

    /// Hours until the warmest place is under a line; infinite where it is not within [`HOURS`].
    pub fn hours_to(&self, line_c: f64) -> f64 {
        let is_under = |now: &[f64; 4]| now.iter().copied().fold(f64::NEG_INFINITY, f64::max) < line_c;
        self.course.iter().position(is_under).map_or(f64::INFINITY, |step| step as f64 / STEPS as f64)
    }

    /// The spots at an hour, in the order of [`SPOTS`].
    pub fn at_hour(&self, hour: u32) -> [f64; 4] {
        self.course.get(hour as usize * STEPS).copied().unwrap_or([f64::NAN; SPOTS.len()])
    }

    /// The warmest place at the end of the time looked at, °C.
    pub fn last_c(&self) -> f64 {
        self.at_hour(HOURS).into_iter().fold(f64::NEG_INFINITY, f64::max)
    }
}

/// The state at the moment of the cut.
pub fn start(described: &Description, model: &Model) -> Result<State, NetworkFault> {
    let target = crate::twin::warmth::wanted(described, None).map(|target| target.c);
    model.settled(&drives(described, model, false, target), model.values().of(Unknown::Room))
}
