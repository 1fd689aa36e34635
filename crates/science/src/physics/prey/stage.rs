//! What prey goes through, and what is looked at meanwhile.

use units::{Celsius, Grams, Seconds};

/// A bath of so little water that it cools.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bath {
    /// Its mass.
    pub water: Grams,
    /// Its temperature at the start of the stage.
    pub start: Celsius,
    /// Heat lost to the room, W/K.
    pub loss_w_k: f64,
    /// The room.
    pub room: Celsius,
    /// Mass of the prey in it.
    pub prey: Grams,
}

/// What is around the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Medium {
    /// Air, or so much water that it keeps its temperature.
    Constant(Celsius),
    /// Less water.
    Bath(Bath),
}

/// Where a temperature is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// The middle.
    Centre,
    /// The surface.
    Surface,
    /// The temperature that the body would even out to.
    Mean,
}

/// A temperature to be noticed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Watch {
    /// Where.
    pub spot: Spot,
    /// From either side.
    pub reaches: Celsius,
}

/// One stage: refrigerator, bath, air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stage {
    /// What is around it.
    pub medium: Medium,
    /// Film coefficient, convection and radiation together, W/(m²·K).
    pub film_w_m2k: f64,
    /// How long.
    pub duration: Seconds,
    /// How often a [`Profile`] is kept.
    pub keep_every: Seconds,
}

/// Temperatures at one time of a stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Profile {
    /// Since the start of the stage.
    pub time: Seconds,
    /// Centre, °C.
    pub centre_c: f64,
    /// Surface, °C.
    pub surface_c: f64,
    /// Mean, °C.
    pub mean_c: f64,
    /// Medium, °C.
    pub medium_c: f64,
}

/// When a watched temperature was first reached, since the start of the stage.
pub type Crossing = Option<Seconds>;

/// What came of a stage.
#[derive(Clone, Debug, PartialEq)]
pub struct StageEnd {
    /// One per watch.
    pub crossings: Vec<Crossing>,
    /// From the start to the end, both included.
    pub profiles: Vec<Profile>,
}

/// When a watched temperature was passed between two profiles, by a straight line.
pub(super) fn passed(watch: &Watch, before: &Profile, now: &Profile) -> Crossing {
    let of = |profile: &Profile| {
        let value = match watch.spot {
            Spot::Centre => profile.centre_c,
            Spot::Surface => profile.surface_c,
            Spot::Mean => profile.mean_c,
        };
        value - watch.reaches.degrees()
    };
    let (a, b) = (of(before), of(now));
    if a == 0.0 {
        return Some(before.time);
    }
    (a * b <= 0.0).then(|| {
        let (t0, t1) = (before.time.seconds(), now.time.seconds());
        Seconds(t0 + (t1 - t0) * a / (a - b))
    })
}
